"""What can be read exactly and is hardly meant: slivers of pieces, saws without a kerf, bars for nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from nesting.domain.request import Request
from nesting.errors import Where
from nesting.sheets.findings import Findings
from nesting.takeoff.sections import nose_at, whole_channel
from nesting.units import Length, Unit, inch_text, length_text, mm

# Common practice, no source: no fixture is this short, no blade this wide, no bar end wasted this far.
SHORTEST = mm(20)
MOST = {
    "kerf": mm(10),
    "head_trim": mm(200),
    "tail_loss": mm(200),
    "keep_length": mm(3000),
    "grip": mm(1000),
    "step": mm(10),
}


def check_short(request: Request, raw: Mapping[Where, str], findings: Findings) -> None:
    """
    Warn of pieces too short to be meant, with what else the cell could say.

    Parameters
    ----------
    raw
        What stood in the length cell of each line.
    """
    least = max(SHORTEST, Length(2 * request.saw.kerf))
    for where, length, sawn, room in _sawn(request):
        if sawn >= least and sawn > room:
            continue
        text = raw.get(where, "")
        left = f"{length_text(sawn, Unit.MM)} to saw" if sawn > 0 else "nothing to saw"
        findings.warning(
            "very-short",
            where,
            text,
            f"Read as {length_text(length, Unit.MM)} ({inch_text(length)} in), which leaves {left}."
            f"{_otherwise(text, length)} Check it before anything is cut.",
        )


def check_saw_value(field: str, value: Length, where: Where, found: str, findings: Findings) -> None:
    """Warn of an allowance no saw has; it is taken as given."""
    name = field.replace("_", " ").capitalize()
    if field == "kerf" and value == 0:
        findings.warning(
            "saw-value-unlikely",
            where,
            found,
            "A kerf of 0 takes no metal, so bars come out short; check it.",
        )
    elif value > MOST[field]:
        read, most = (length_text(length, Unit.MM) for length in (value, MOST[field]))
        findings.warning(
            "saw-value-unlikely", where, found, f"{name} is read as {read}, more than {most}; check the unit."
        )


def check_free_bar(price: int | None, where: Where, found: str, findings: Findings) -> None:
    """Warn of a bar that costs nothing: every plan would take as many of it as it can."""
    if price == 0:
        findings.warning(
            "price-zero", where, found, "The bar costs nothing; leave the price out if it is not known."
        )


def _sawn(request: Request) -> Iterator[tuple[Where, Length, Length, Length]]:
    """Give each line's place, its length, what is sawn of it and what the noses of its caps fill."""
    for run in request.runs:
        family = request.family(run.family)
        if family is None or run.mitres:
            yield run.where, run.length, run.length, Length(0)
        else:
            noses = nose_at(family, run.left) + nose_at(family, run.right)
            yield run.where, run.length, whole_channel(run, family), Length(noses)
    for line in request.piece_lines:
        yield line.where, line.length, line.length, Length(0)


def _otherwise(text: str, length: Length) -> str:
    """Say what else a cell could mean; empty when nothing comes to mind."""
    plain = re.sub(r"(?i)\s*(?:mm|in|inch|inches|\")$", "", text.strip())
    if match := re.fullmatch(r"([0-9]{1,3})\.([0-9]{3})", plain):
        return f" If the point parts thousands it is {int(match[1] + match[2])} mm."
    if re.fullmatch(r"[0-9]+ */ *[0-9]+", plain):
        return f" If whole inches are missing it is one such as 36 {plain} in."
    if re.fullmatch(r"[0-9]+(?:\.[0-9]+)?", plain) and Fraction(plain) * Unit.MM.nanometres == length:
        in_inches = Length(int(Fraction(plain) * Unit.INCH.nanometres))
        return f" In inches it would be {length_text(in_inches, Unit.MM)}."
    return ""
