"""Whether the bars a list needs are in stock, priced alike and long enough."""

from __future__ import annotations

from nesting.domain.material import Material, Part, SplitRule
from nesting.domain.request import Request
from nesting.errors import Where
from nesting.money import Money
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_defaults import BARS_OPTION
from nesting.sheets.read_needs import Places, cell_of, materials_needed, rows_text, stock_by_material
from nesting.sheets.read_plausible import check_free_bar
from nesting.takeoff.sections import longest_sections, whole_channel
from nesting.units import Length, Unit, inch_text, length_text


def check_stock(request: Request, findings: Findings, places: Places) -> None:
    """Refuse what no bar is stocked for; warn where only offcuts can serve."""
    stocked = stock_by_material(request.stock)
    racked = {(offcut.family, offcut.finish, offcut.part) for offcut in request.offcuts}
    known = {family.name for family in request.families} | {bar.family for bar in request.stock}
    for (family, finish, part), met in materials_needed(request, places).items():
        if (family, finish, part) in stocked or family not in known or not family:
            continue
        others = sorted(
            {bar.finish or "no finish" for bar in request.stock if (bar.family, bar.part) == (family, part)}
        )
        have = f" {family} {part.value} is stocked in: {listed(others)}." if others else ""
        what = Material(family, finish, part).name
        rows = f"Rows: {len(met)} ({rows_text(met)})."
        if (family, finish, part) in racked:
            findings.warning(
                "only-offcuts", met[0], what, f"No bar is stocked, only offcuts can serve. {rows}"
            )
        else:
            findings.error(
                "not-stocked",
                met[0],
                what,
                f"No bar of this is in Stock; add its lengths there.{have} {rows}",
            )


def check_prices(request: Request, findings: Findings, places: Places) -> None:
    """Ask where only some lengths of a kind are priced; warn of free bars, and of prices in no currency."""
    for (family, finish, part), lines in stock_by_material(request.stock).items():
        blank = [bar for bar in lines if bar.price is None]
        if blank and len(blank) < len(lines):
            findings.ask(
                "some-prices-missing",
                cell_of(places, blank[0].where, "price"),
                Material(family, finish, part).name,
                "Other lengths have a price, this one has none; they cannot be compared. Give all or none.",
            )
    for bar in request.stock:
        if bar.where == BARS_OPTION:
            check_free_bar(bar.price, BARS_OPTION, length_text(bar.length, Unit.MM), findings)
    priced: list[Money] = [bar.price for bar in request.stock if bar.price is not None]
    if priced and not request.currency:
        findings.warning(
            "no-currency",
            Where("Saw"),
            "",
            "Prices are given but no currency; name it in the Saw sheet, such as XTS.",
        )


def check_lengths(request: Request, findings: Findings) -> None:
    """Warn of runs longer than any bar gives while joints are off, and of pieces that fit no bar."""
    longest = {part: longest_sections(request, part) for part in Part}
    for run in request.runs:
        family = request.family(run.family)
        most = longest[Part.CHANNEL].get((run.family, run.finish))
        if family is None or most is None:
            continue
        if (run.split_rule or family.split_rule) is SplitRule.NEVER:
            _warn_too_long(run.where, whole_channel(run, family), most, findings)
    for line in request.piece_lines:
        most = longest[line.part].get((line.family, line.finish))
        if most is not None:
            _warn_too_long(line.where, line.length, most, findings)


def _warn_too_long(where: Where, length: Length, most: Length, findings: Findings) -> None:
    if length > most:
        findings.warning(
            "longer-than-any-bar",
            where,
            f"{length_text(length, Unit.MM)} ({inch_text(length)} in)",
            f"The longest bar gives {length_text(most, Unit.MM)} and the line may not be split, "
            "so it is left out of the plan; allow joints, stock a longer bar, or check the unit.",
        )
