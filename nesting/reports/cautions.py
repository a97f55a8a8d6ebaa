"""Short cautions for screen and paper; those the plan itself gives cause for come first."""

from __future__ import annotations

from nesting.domain.material import Part
from nesting.domain.plan import Plan
from nesting.reports.whereabouts import bars_in_order, numbers_words
from nesting.units import Length, mm

# Common practice, no source: above this a bar is carried by two people.
TWO_PEOPLE = mm(3000)

MEASURE = (
    "A cut plan is arithmetic: measure the first piece after every change of stop and the tail of every "
    "bar. If they differ from the list, stop and find out why. Do not cut from drawing sizes."
)
SAW = (
    "Saw: guards on, channel clamped in shaped blocks, hands at least 150 mm (6 in) off the blade path, "
    "eye and hearing protection, no gloves or loose sleeves at the blade. Never hold a short end by hand."
)
BLADE = (
    "Blade: a non-ferrous one, at full speed before it cuts and at rest before it is raised or a piece is "
    "taken from the stop; lubricant that suits the finish; keep aluminium chips away from grinding sparks."
)
LIFT = "This bar is over 3 m long: two people carry it."
COVER = "Covers: support and tape the cutting line, feed slowly, deburr; chips are sharp."
STRIP = "Strip: cut on marks only, power off; mind polarity and voltage; test before closing."
HEAT = "Heat: leave the expansion gap; keep to the maximum run and ambient of the strip's data sheet."
FINISH = "Finish: shades vary between lots; keep the film on until fixed; never mix lots in one room."
ELECTRICAL = (
    "Electrical figures are planning aids; a qualified person designs and connects to the local code."
)


def plan_cautions(plan: Plan) -> tuple[str, ...]:
    """Give the cautions this very plan gives cause for: unheld cuts, slivers, long bars."""
    bars = bars_in_order(plan)
    unheld = tuple(sorted(bar.number for _, bar in bars if not all(cut.held for cut in bar.cuts)))
    slivers = tuple(sorted(bar.number for _, bar in bars if bar.sliver))
    long = tuple(sorted(bar.number for _, bar in bars if bar.length > TWO_PEOPLE))
    said = []
    if unheld:
        said.append(
            f"Too little left to hold: {_bars(unheld)}. Clamp with a shaped block and a stop, or "
            "leave the cut to a saw that can."
        )
    if slivers:
        said.append(
            f"Less than a kerf of metal at the last stroke: {_bars(slivers)}. The blade is half "
            "in air: clamp both sides, feed slowly."
        )
    if long:
        said.append(f"Bars over 3 m, carried by two people: {_bars(long)}.")
    return tuple(said)


def standing_cautions(plan: Plan) -> tuple[str, ...]:
    """Give the cautions that hold for every plan of this kind."""
    covers = any(g.cover_follows or g.material.part is Part.COVER for g in plan.groups)
    return (
        MEASURE,
        SAW,
        *((COVER,) if covers else ()),
        *((STRIP, HEAT, ELECTRICAL) if plan.strips else ()),
        FINISH,
    )


def saw_cautions(part: Part, length: Length, *, cover_follows: bool = False) -> tuple[str, ...]:
    """
    Give the cautions for whoever stands at the saw with one bar.

    Parameters
    ----------
    part, length
        What the bar is, and its length.
    cover_follows
        Whether a cover is cut together with it.
    """
    covers = cover_follows or part is Part.COVER
    return (
        *((LIFT,) if length > TWO_PEOPLE else ()),
        MEASURE,
        SAW,
        BLADE,
        *((COVER,) if covers else ()),
        FINISH,
    )


def _bars(numbers: tuple[int, ...]) -> str:
    return f"{'bar' if len(numbers) == 1 else 'bars'} {numbers_words(numbers)}"
