"""A plan as one drawing: every bar to scale, readable in black and white."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments
from nesting.units import Unit, length_text

_WIDTH = 1000
_LEFT = 190
_ROW = 34
_HEIGHT = 18
_HEADING = 30
_CHARACTER = 6.2  # average width of a figure at the size of the labels

_STYLE = (
    "text{font:11px sans-serif;fill:#111}.h{font-size:14px;font-weight:bold}.n{text-anchor:end}"
    ".piece{fill:#fff;stroke:#111}.offcut{fill:url(#keep);stroke:#111;stroke-width:2}"
    ".scrap{fill:#bbb;stroke:#111}.trim{fill:#555}.kerf{fill:#111}"
)
_KEEP = (
    '<pattern id="keep" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<path d="M0 6L6 0" stroke="#777" stroke-width="1"/></pattern>'
)


def draw_plan(plan: Plan, unit: Unit = Unit.MM) -> str:
    """
    Draw every bar of a plan, one scale for all, as SVG 1.1.

    Pieces are white with their length, offcuts that go back are hatched with a heavy rim and their
    tag, scrap is grey; each part says in its title what it is.
    """
    longest = max((bar.length for group in plan.groups for bar in group.bars), default=1)
    parts: list[str] = []
    top = 10
    for group in plan.groups:
        parts.append(f'<text class="h" x="10" y="{top + 16}">{escape(str(group.material))}</text>')
        top += _HEADING
        for bar in group.bars:
            parts.extend(_bar(group, bar, top, longest, unit))
            top += _ROW
    height = top + 10
    whole = _LEFT + _WIDTH + 20
    title = escape(f"Plan {plan.id} {plan.request.title}".rstrip())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {whole} {height}" width="{whole}" '
        f'height="{height}" role="img"><title>{title}</title><style>{_STYLE}</style><defs>{_KEEP}</defs>'
        + "".join(parts)
        + "</svg>\n"
    )


def _bar(group: GroupPlan, bar: PlannedBar, top: int, longest: int, unit: Unit) -> Iterator[str]:
    source = f"offcut {bar.source}" if bar.offcut else length_text(bar.length, unit)
    yield f'<text class="n" x="{_LEFT - 8}" y="{top + 13}">{bar.number}: {escape(source)}</text>'
    yield f'<g id="bar-{bar.number}">'
    for segment in bar_segments(bar):
        yield from _segment(segment, top, longest, unit)
    yield "</g>"


def _segment(segment: Segment, top: int, longest: int, unit: Unit) -> Iterator[str]:
    x = _LEFT + segment.start * _WIDTH / longest
    width = segment.length * _WIDTH / longest
    length = length_text(segment.length, unit)
    said = f"{segment.kind.value} {segment.label} {length}".replace("  ", " ")
    yield (
        f'<rect class="{segment.kind.value}" x="{x:.2f}" y="{top}" width="{width:.2f}" height="{_HEIGHT}">'
        f"<title>{escape(said)}</title></rect>"
    )
    label = segment.label if segment.kind is SegmentKind.OFFCUT else length
    shown = segment.kind in (SegmentKind.PIECE, SegmentKind.OFFCUT)
    if shown and len(label) * _CHARACTER < width:
        yield f'<text x="{x + 3:.2f}" y="{top + 13}">{escape(label)}</text>'
