"""What the sheets say of one another: families known, bars stocked, ids unique, prices whole."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from nesting.domain.material import CoverMode, Family, Part, SplitRule
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import StockLine
from nesting.errors import Where
from nesting.money import Money
from nesting.sheets.column_types import SheetKind
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_plausible import check_free_bar
from nesting.sheets.read_spelling import Spelling
from nesting.takeoff.joints import longest_section
from nesting.takeoff.sections import whole_channel
from nesting.units import Length, Unit, inch_text, length_text

MOST_PIECES = 200_000
PLAIN_FAMILY = "channel"
_BARS = Where("request", "--bar")

UnreadId = tuple[SheetKind, str, str, Where]  # of a line without a length: its list, job, id and place
Places = dict[tuple[Where, str], Where]  # cells of a line's id, family and finish, by the line's place
Made = TypeVar("Made", Run, PieceLine)


def with_families(
    lines: Sequence[Made],
    known: Sequence[str],
    *,
    plain: bool,
    findings: Findings,
) -> list[Made]:
    """
    Give lines that name no family the only one known; ask where there are several.

    Parameters
    ----------
    known
        Names of the families in the catalogue and the stock; without any, those the list names itself.
    plain
        Whether a list without any catalogue takes one plain family.
    """
    blank = [line for line in lines if not line.family]
    if not blank:
        return list(lines)
    only = known[0] if len(known) == 1 else PLAIN_FAMILY if plain and not known else ""
    at = listed([str(line.where) for line in blank])
    if not only:
        choice = f"; known are {listed(known)}" if known else ""
        findings.ask(
            "family-missing",
            blank[0].where,
            "",
            f"{len(blank)} line(s) name no channel family{choice}. Write it into each line. Rows: {at}.",
        )
        return list(lines)
    findings.note(
        "default-family",
        blank[0].where,
        "",
        f"No family is given; {only!r} is taken. Rows: {len(blank)} ({at}).",
    )
    return [line if line.family else replace(line, family=only) for line in lines]


def with_finishes(lines: Sequence[Made], stock: Sequence[StockLine], findings: Findings) -> list[Made]:
    """Give lines that name no finish the only one their family is stocked in."""
    finishes: dict[str, set[str]] = {}
    for bar in stock:
        finishes.setdefault(bar.family, set()).add(bar.finish)
    out: list[Made] = []
    taken: dict[tuple[str, str], list[Where]] = {}
    for line in lines:
        stocked = finishes.get(line.family, set())
        if not line.finish and len(stocked) == 1 and (only := next(iter(stocked))):
            taken.setdefault((line.family, only), []).append(line.where)
            line = replace(line, finish=only)
        out.append(line)
    for (_, finish), places in taken.items():
        findings.note(
            "default-finish",
            places[0],
            "",
            f"No finish is given; {finish!r}, the only one in stock, is taken. Rows: {len(places)}.",
        )
    return out


def plain_families(runs: Iterable[Run], findings: Findings, *, tell: bool = True) -> tuple[Family, ...]:
    """Give a plain family for each name of a run list that comes without any catalogue, and tell of it."""
    names = tuple(dict.fromkeys(run.family for run in runs if run.family))
    if names and tell:
        findings.warning(
            "plain-families",
            Where("Families"),
            listed(names),
            "There is no Families sheet: caps count as taking no length, no cover and no strip is planned.",
        )
    return tuple(Family(name=name) for name in names)


def quick_stock(request: Request, options: ReadOptions) -> tuple[StockLine, ...]:
    """Give the bars named on the command line for every material that has no stock line of its own."""
    stocked = {(bar.family, bar.finish, bar.part) for bar in request.stock}
    return tuple(
        StockLine(family=family, finish=finish, part=part, length=length, price=price, where=_BARS)
        for family, finish, part in _materials(request, {})
        if (family, finish, part) not in stocked
        for length, price in options.bars
    )


def check_request(
    request: Request,
    spelling: Spelling,
    findings: Findings,
    places: Places,
    *,
    unread: Sequence[UnreadId] = (),
    stocked: bool = True,
    doubtful: Collection[str] = (),
) -> None:
    """
    Note everything the sheets contradict each other in.

    Parameters
    ----------
    places
        Cells that findings name; a line without one is named by its length.
    unread
        Ids of lines that could not be read; they must be unique all the same.
    stocked
        Whether there is any stock; without it nothing is said of each material.
    doubtful
        Families with refused lines in the stock, an empty name for any: nothing is said of their stock.
    """
    unsure = {name.casefold() for name in doubtful}
    sure = request if not unsure else _without_families(request, unsure)
    _check_families(request, spelling, findings, places)
    _check_ids(request, unread, findings, places)
    if stocked:
        _check_stock(sure, findings, places)
    _check_prices(sure, findings)
    _check_lengths(sure, findings)
    pieces = sum(run.quantity for run in request.runs) + sum(line.quantity for line in request.piece_lines)
    if pieces > MOST_PIECES:
        findings.error(
            "too-many-pieces",
            Where("request"),
            str(pieces),
            f"At most {MOST_PIECES} are planned at once; split the list.",
        )


def _without_families(request: Request, unsure: set[str]) -> Request:
    """Give a request without the lines and bars of some families; without any where one is not named."""

    def sure(line: Run | PieceLine | StockLine) -> bool:
        return "" not in unsure and line.family.casefold() not in unsure

    return replace(
        request,
        runs=tuple(filter(sure, request.runs)),
        piece_lines=tuple(filter(sure, request.piece_lines)),
        stock=tuple(filter(sure, request.stock)),
    )


def _materials(request: Request, places: Places) -> dict[tuple[str, str, Part], list[Where]]:
    """Give the materials bars are needed of, with the lines that need them, in the list's order."""
    needed: dict[tuple[str, str, Part], list[Where]] = {}
    for run in request.runs:
        family = request.family(run.family)
        parts = [Part.CHANNEL]
        if family is not None and family.cover_mode is CoverMode.SEPARATE:
            parts.append(Part.COVER)
        for part in parts:
            at = _cell(places, run.where, "finish", "family")
            needed.setdefault((run.family, run.finish, part), []).append(at)
    for line in request.piece_lines:
        at = _cell(places, line.where, "finish", "family")
        needed.setdefault((line.family, line.finish, line.part), []).append(at)
    return needed


def _cell(places: Places, where: Where, *fields: str) -> Where:
    """Give the first of some fields' cells that a line has filled, else the line's own place."""
    return next((places[where, field] for field in fields if (where, field) in places), where)


def _check_families(request: Request, spelling: Spelling, findings: Findings, places: Places) -> None:
    known = {family.name for family in request.families}
    unknown: dict[str, list[Where]] = {}
    for run in request.runs:
        if run.family and run.family not in known:
            unknown.setdefault(run.family, []).append(_cell(places, run.where, "family"))
    for name, met in unknown.items():
        said = (
            f"The family is not in Families. Known are {listed(sorted(known))}.{spelling.near(name)}"
            if known
            else "Runs are taken off by their family, and there is no Families sheet. Add one that has it, "
            "or give the lengths to be sawn as a Pieces sheet."
        )
        findings.error("family-unknown", met[0], name, f"{said} Rows: {_places(met)}.")
    everywhere = known | {bar.family for bar in request.stock}
    for offcut in request.offcuts:
        if offcut.family not in everywhere:
            findings.warning(
                "offcut-family-unknown",
                offcut.where,
                offcut.family,
                f"Nobody else names the family of offcut {offcut.tag}; it will not be used."
                f"{spelling.near(offcut.family)}",
            )


def _check_ids(request: Request, unread: Sequence[UnreadId], findings: Findings, places: Places) -> None:
    seen: dict[tuple[str, ...], Where] = {}
    lines: list[tuple[tuple[str, ...], Where]] = [
        (("run", run.job, run.id), _cell(places, run.where, "id")) for run in request.runs
    ]
    lines += [
        (("piece", p.job, p.id, p.part.value), _cell(places, p.where, "id")) for p in request.piece_lines
    ]
    # A piece may be unread as channel or cover, so only runs can be told twice with certainty.
    lines += [(("run", job, name), where) for kind, job, name, where in unread if kind is SheetKind.RUNS]
    for key, where in lines:
        if key in seen:
            findings.error(
                f"duplicate-{key[0]}-id",
                where,
                key[2],
                f"Job {key[1]!r} has this {key[0]} at {seen[key]} already; ids are unique within a job.",
            )
        seen.setdefault(key, where)


def _check_stock(request: Request, findings: Findings, places: Places) -> None:
    stocked = {(bar.family, bar.finish, bar.part) for bar in request.stock}
    racked = {(offcut.family, offcut.finish, offcut.part) for offcut in request.offcuts}
    known = {family.name for family in request.families} | {bar.family for bar in request.stock}
    for (family, finish, part), met in _materials(request, places).items():
        if (family, finish, part) in stocked or family not in known or not family:
            continue
        others = sorted(
            {bar.finish or "no finish" for bar in request.stock if (bar.family, bar.part) == (family, part)}
        )
        have = f" {family} {part.value} is stocked in: {listed(others)}." if others else ""
        what = " ".join(filter(None, (family, finish, part.value)))
        rows = f"Rows: {len(places)} ({_places(met)})."
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


def _check_prices(request: Request, findings: Findings) -> None:
    bars: dict[tuple[str, str, Part], list[StockLine]] = {}
    for bar in request.stock:
        bars.setdefault((bar.family, bar.finish, bar.part), []).append(bar)
    for (family, finish, part), lines in bars.items():
        blank = [bar for bar in lines if bar.price is None]
        if blank and len(blank) < len(lines):
            findings.ask(
                "some-prices-missing",
                blank[0].where,
                f"{family} {finish} {part.value}",
                "Other lengths have a price, this one has none; they cannot be compared. Give all or none.",
            )
    for bar in request.stock:
        if bar.where == _BARS:
            check_free_bar(bar.price, _BARS, length_text(bar.length, Unit.MM), findings)
    priced: list[Money] = [bar.price for bar in request.stock if bar.price is not None]
    if priced and not request.currency:
        findings.warning(
            "no-currency",
            Where("Saw"),
            "",
            "Prices are given but no currency; name it in the Saw sheet, such as XTS.",
        )


def _check_lengths(request: Request, findings: Findings) -> None:
    """Warn of runs longer than any bar gives while joints are off, and of pieces that fit no bar."""
    bars: dict[tuple[str, str, Part], list[StockLine]] = {}
    for bar in request.stock:
        bars.setdefault((bar.family, bar.finish, bar.part), []).append(bar)
    slivers = request.goals.slivers
    longest = {
        key: longest_section(lines, request.saw_for(key[2]), slivers=slivers) for key, lines in bars.items()
    }
    for run in request.runs:
        family = request.family(run.family)
        most = longest.get((run.family, run.finish, Part.CHANNEL))
        if family is None or most is None:
            continue
        if (run.split_rule or family.split_rule) is SplitRule.NEVER:
            _warn_too_long(run.where, whole_channel(run, family), most, findings)
    for line in request.piece_lines:
        most = longest.get((line.family, line.finish, line.part))
        if most is not None:
            _warn_too_long(line.where, line.length, most, findings)


def _places(places: Sequence[Where]) -> str:
    return listed([str(place) for place in places])


def _warn_too_long(where: Where, length: Length, most: Length, findings: Findings) -> None:
    if length > most:
        findings.warning(
            "longer-than-any-bar",
            where,
            f"{length_text(length, Unit.MM)} ({inch_text(length)} in)",
            f"The longest bar gives {length_text(most, Unit.MM)} and the line may not be split, "
            "so it is left out of the plan; allow joints, stock a longer bar, or check the unit.",
        )
