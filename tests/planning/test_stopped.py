"""A bar given up half cut keeps its pieces, and only its clear metal is counted on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.made import BarState, Span, Zone
from nesting.domain.material import Material, Part
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.domain.stock import EndState
from nesting.planning.stopped import clear_offcuts, clear_zones, stopped_bar
from nesting.units import Length, mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
# 8 + 659 + 3 + 659 + 3 + 659 = 1991, rest 9, stroke 3, tail 6.
BAR = PlannedBar(
    number=4,
    source="stock:0",
    offcut=False,
    length=mm(2000),
    head=mm(8),
    tail_loss=mm(8),
    cuts=tuple(Cut(piece=f"A.{n}", length=mm(659), face=mm(659 * n + 3 * (n - 1))) for n in (1, 2, 3)),
    strokes=4,
    kerf_loss=mm(9),
    tail=mm(6),
    fate=TailFate.SCRAP,
)


def spans(*pairs: tuple[int, int]) -> tuple[Span, ...]:
    return tuple(Span(mm(start), mm(end)) for start, end in pairs)


@pytest.mark.parametrize(
    ("defects", "zones"),
    [
        ((), [(0, 2000)]),
        # each edge costs a stroke of 3
        (((1000, 1010),), [(0, 997), (1013, 2000)]),
        (((1500, 1510), (500, 520)), [(0, 497), (523, 1497), (1513, 2000)]),
        # damage at the ends leaves one edge
        (((0, 20),), [(23, 2000)]),
        (((1990, 2000),), [(0, 1987)]),
        (((1990, 2003),), [(0, 1987)]),
        # what lies between two strokes is chips
        (((100, 200), (206, 300)), [(0, 97), (303, 2000)]),
        (((0, 2000),), []),
    ],
)
def test_clear_zones(defects: tuple[tuple[int, int], ...], zones: list[tuple[int, int]]) -> None:
    """A forbidden span splits the bar into clear zones, every edge at the cost of a cut."""
    found = clear_zones(Length(0), mm(2000), spans(*defects), mm(3))
    assert [(z.start, z.start + z.length) for z in found] == [(mm(a), mm(b)) for a, b in zones]


def test_the_cuts_made_stay_and_the_rest_is_clear() -> None:
    """After one cut of 659 the blade stands at 8 + 659 + 3 = 670; damage before that is cut away already."""
    bar = stopped_bar(BAR, SAW, 1, spans((300, 310), (1500, 1510)), None)
    assert bar.state is BarState.STOPPED
    assert bar.cuts == BAR.cuts[:1]
    assert bar.zones == (Zone(mm(670), mm(827)), Zone(mm(1513), mm(487)))
    # head trim, the cut, and two edges
    assert (bar.strokes, bar.kerf_loss, bar.tail, bar.fate) == (4, mm(9), 0, TailFate.NONE)
    assert bar.scrap == mm(2000) - mm(8) - mm(659) - mm(9)


def test_nothing_cut_wastes_no_head_trim() -> None:
    """A bar that was only looked at has lost nothing yet."""
    bar = stopped_bar(BAR, SAW, 0, (), None)
    assert (bar.head, bar.strokes, bar.kerf_loss, bar.zones) == (0, 0, 0, (Zone(Length(0), mm(2000)),))


def test_only_the_bars_own_ends_are_raw() -> None:
    """Every edge is cut clean; a raw end costs its loss when it is used."""
    bar = stopped_bar(BAR, SAW, 0, spans((500, 520), (1500, 1510)), None)
    ends = [(o.left, o.right) for o in (clear_offcuts(_tagged(bar), Material("F", "", Part.CHANNEL), "L"))]
    raw, clean = EndState.RAW, EndState.CLEAN
    assert ends == [(raw, clean), (clean, clean), (clean, raw)]


def test_a_measured_rest_is_the_offcuts_length() -> None:
    """What the tape says counts, not what was calculated."""
    bar = stopped_bar(BAR, SAW, 1, (), mm(1334))
    (offcut,) = clear_offcuts(_tagged(bar), Material("F", "", Part.CHANNEL), "L")
    assert (offcut.length, offcut.lot, offcut.left) == (mm(1334), "L", EndState.CLEAN)


def _tagged(bar: PlannedBar) -> PlannedBar:
    zones = tuple(replace(zone, tag=f"Z{n}") for n, zone in enumerate(bar.zones))
    return replace(bar, zones=zones)
