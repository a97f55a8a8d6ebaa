"""The small parts in words: one line for the terminal, one row a part for lists."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.plan import Plan
from nesting.domain.small_parts import CapKind, Hand, SmallParts, StripLine
from nesting.units import NM_PER_MM

NM_PER_M = 1000 * NM_PER_MM


@dataclass(frozen=True, slots=True)
class PartRow:
    """
    One line of a list of small parts.

    Parameters
    ----------
    part
        What it is (``cap``, ``clip``).
    kind
        Which one (``holed, left``).
    count
        How many pieces; None where it is measured.
    amount
        Metres, watts; None where it is counted.
    unit
        Unit of the amount, else ``pieces``.
    """

    part: str
    kind: str
    family: str
    finish: str
    count: int | None
    amount: Fraction | None = None
    unit: str = "pieces"
    note: str = ""


def has_small_parts(plan: Plan) -> bool:
    """Tell whether a list of the plan's small parts would hold anything."""
    return bool(needed_part_rows(plan) or plan.reels)


def needed_part_rows(plan: Plan) -> tuple[PartRow, ...]:
    """Give the small parts of which the plan needs any."""
    rows = small_part_rows(plan.small_parts) if plan.small_parts is not None else ()
    return tuple(row for row in rows if row.count or row.amount)


def small_part_rows(parts: SmallParts) -> tuple[PartRow, ...]:
    """Give every small part with its count: caps first, what needs an electrician last."""
    rows = [
        PartRow("cap", cap_words(cap.kind), cap.kind.family, cap.kind.finish, cap.count) for cap in parts.caps
    ]
    rows += [PartRow("clip", "", one.family, one.finish, one.count) for one in parts.clips]
    rows += [PartRow("joint set", "", one.family, one.finish, one.count) for one in parts.joint_sets]
    rows += [
        PartRow("adhesive", "tape or bead", one.family, one.finish, None, Fraction(one.length, NM_PER_M), "m")
        for one in parts.adhesive
    ]
    for line in parts.connectors:
        rows.append(PartRow("connector", "feed, two leads", line.family, "", line.feeds))
        if line.jumpers:
            rows.append(PartRow("connector", "corner bridge", line.family, "", line.jumpers))
    for strip in parts.strips:
        length = Fraction(strip.length, NM_PER_M)
        pieces = f"{strip.pieces} piece{'s' if strip.pieces != 1 else ''}"
        rows.append(PartRow("strip", pieces, strip.strip, "", None, length, "m"))
        if strip.watts is not None:
            rows.append(PartRow("load", "planning aid", strip.strip, "", None, strip.watts, "W"))
        if strip.driver_watts is not None:
            rows.append(
                PartRow(
                    "driver",
                    "planning aid",
                    strip.strip,
                    "",
                    strip.outputs,
                    strip.driver_watts,
                    "W",
                    driver_words(strip),
                )
            )
    return tuple(rows)


def cap_words(kind: CapKind) -> str:
    """Give a cap's kind: ``holed``, or ``solid, left`` in families with handed caps."""
    hole = "holed" if kind.holed else "solid"
    return hole if kind.hand is Hand.NONE else f"{hole}, {kind.hand.value}"


def driver_words(strip: StripLine) -> str:
    """Say how the drivers' rating was worked out, and that nobody may build from it."""
    said = "least rating in sum, loaded to 80 %"
    if strip.outputs is not None and strip.output_watts is not None:
        outputs = _counted(strip.outputs, "output")
        said += f"; {outputs} of {_figure(strip.output_watts)} W with every unit on its own"
    return f"{said}; a qualified person designs it"


def small_parts_line(parts: SmallParts) -> str:
    """Give all small parts in one line, such as ``Small parts: 84 caps, 9 clips, 4.5 m of strip (43 W).``."""
    caps = sum(cap.count for cap in parts.caps)
    clips = sum(one.count for one in parts.clips)
    sets = sum(one.count for one in parts.joint_sets)
    connectors = sum(line.feeds + line.jumpers for line in parts.connectors)
    said = [
        _counted(count, what)
        for count, what in ((caps, "cap"), (clips, "clip"), (sets, "joint set"), (connectors, "connector"))
        if count
    ]
    for one in parts.adhesive:
        said.append(f"{_figure(Fraction(one.length, NM_PER_M))} m of adhesive for {one.family}")
    length = sum(strip.length for strip in parts.strips)
    if length:
        watts = [strip.watts for strip in parts.strips if strip.watts is not None]
        load = f" ({_figure(sum(watts, Fraction(0)), 0)} W, planning aid)" if watts else ""
        said.append(f"{_figure(Fraction(length, NM_PER_M))} m of strip{load}")
    return f"Small parts: {', '.join(said)}." if said else ""


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _figure(value: Fraction, places: int = 2) -> str:
    """Give a figure rounded half up, trailing zeros dropped."""
    scaled = (value * 10**places + Fraction(1, 2)).__floor__()
    whole, rest = divmod(scaled, 10**places)
    decimals = f".{rest:0{places}d}".rstrip("0").rstrip(".") if places else ""
    return f"{whole}{decimals}"
