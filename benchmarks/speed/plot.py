"""The growth of time with size as one SVG, drawn with text alone."""

from __future__ import annotations

import math
from html import escape

from benchmarks.speed.scale import AXES, Point

_WIDE, _HIGH = 300, 290
_LEFT, _RIGHT, _TOP, _BOTTOM = 52, 18, 34, 86


def scale_plot(points: tuple[Point, ...]) -> str:
    """
    Give an SVG with one panel an axis; seconds upwards in powers of ten.

    A filled mark is a proved plan, a hollow one was still open at the limit.
    """
    low = math.floor(min((math.log10(max(point.seconds, 1e-4)) for point in points), default=-3))
    high = math.ceil(max((math.log10(max(point.seconds, 1e-4)) for point in points), default=2))
    high = max(high, low + 1)
    panels = "".join(
        f'<g class="panel" transform="translate({_WIDE * number},0)">{_panel(axis, points, low, high)}</g>'
        for number, axis in enumerate(AXES)
    )
    width = _WIDE * len(AXES)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {_HIGH}" width="{width}" '
        f'height="{_HIGH}" font-family="sans-serif" font-size="11" role="img">'
        "<title>Seconds to solve one group on 6 m bars</title>"
        f'<rect width="{width}" height="{_HIGH}" fill="white"/>{panels}'
        f'<text x="{width - _RIGHT}" y="{_HIGH - 8}" text-anchor="end">filled: proved least, hollow: open at '
        "the limit; 6 m bars, kerf 3 mm</text></svg>\n"
    )


def _panel(axis: str, points: tuple[Point, ...], low: int, high: int) -> str:
    own = [point for point in points if point.axis == axis]
    places = _places(axis, own)

    def up(seconds: float) -> float:
        share = (math.log10(max(seconds, 1e-4)) - low) / (high - low)
        return _HIGH - _BOTTOM - share * (_HIGH - _TOP - _BOTTOM)

    parts = [f'<text x="{_LEFT}" y="18" font-weight="bold">seconds against {escape(axis)}</text>']
    for power in range(low, high + 1):
        y = up(10.0**power)
        parts.append(
            f'<line x1="{_LEFT}" x2="{_WIDE - _RIGHT}" y1="{y:.1f}" y2="{y:.1f}" stroke="#ddd"/>'
            f'<text x="{_LEFT - 6}" y="{y + 4:.1f}" text-anchor="end">{10.0**power:g}</text>'
        )
    trace = " ".join(f"{x:.1f},{up(point.seconds):.1f}" for x, point in zip(places, own, strict=True))
    parts.append(f'<polyline points="{trace}" fill="none" stroke="#345"/>')
    for x, point in zip(places, own, strict=True):
        fill = "#345" if point.cost == point.bound else "white"
        tip = f"{point.label}: {point.seconds:g} s, {point.cost} bars, bound {point.bound}, {point.ended}"
        parts.append(
            f'<circle cx="{x:.1f}" cy="{up(point.seconds):.1f}" r="4" fill="{fill}" stroke="#345">'
            f"<title>{escape(tip)}</title></circle>"
            f'<text x="{x:.1f}" y="{_HIGH - _BOTTOM + 14}" text-anchor="end" '
            f'transform="rotate(-30 {x:.1f} {_HIGH - _BOTTOM + 14})">{escape(point.label)}</text>'
        )
    return "".join(parts)


def _places(axis: str, points: list[Point]) -> list[float]:
    """Give places across a panel: counts on a logarithmic axis, rulers side by side."""
    sizes = [point.size if axis == "ruler" else math.log10(point.size) for point in points]
    if not sizes:
        return []
    span = (max(sizes) - min(sizes)) or 1.0
    return [_LEFT + 20 + (size - min(sizes)) / span * (_WIDE - _RIGHT - _LEFT - 40) for size in sizes]
