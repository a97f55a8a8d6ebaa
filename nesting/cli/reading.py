"""Reading the input of a command: workbook, list or JSON request, with the options that stand above it."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.shell import fault, text_of
from nesting.errors import Finding, InputRefused, LengthNotUnderstood, MoneyNotUnderstood, Where

if TYPE_CHECKING:
    from nesting.domain.plan import Plan
    from nesting.domain.request import Request
    from nesting.sheets.read_options import ReadOptions


def read_input(source: Path, catalogue: Path | None, options: ReadOptions) -> Request:
    """
    Read a workbook, a CSV list or a JSON request.

    Raises
    ------
    InputRefused
        When anything must be settled first.
    """
    if source.suffix.lower() == ".json":
        from nesting.exchange import read_request as read_document

        return read_document(text_of(source), source=source.name)
    from nesting.sheets.read_request import read_request

    return read_request(source, catalogue=catalogue, options=options)


def read_plan_file(path: Path) -> Plan:
    """
    Read a plan document.

    Raises
    ------
    InputRefused
        When the file holds no plan, or one with faults; each names the file and the place in it.
    """
    from nesting.exchange import read_plan

    text = text_of(path)
    if not _holds_plan(text):
        raise InputRefused(
            (fault(path.name, "", "", "The file holds no plan; give one that --json has written."),)
        )
    try:
        return read_plan(text)
    except InputRefused as refused:
        raise InputRefused(
            tuple(
                replace(finding, where=replace(finding.where, source=path.name))
                if finding.where.source == "plan"
                else finding
                for finding in refused.findings
            )
        ) from refused


def _holds_plan(text: str) -> bool:
    """Tell whether a text is a plan at all; what is no JSON is left to the reader of plans to say."""
    try:
        tree = json.loads(text)
    except (ValueError, RecursionError):
        return True
    return isinstance(tree, dict) and "groups" in tree


def only_jobs(request: Request, jobs: list[str]) -> Request:
    """
    Keep some jobs of a request; all of it when none is named.

    Raises
    ------
    InputRefused
        When a job is not in the list.
    """
    if not jobs:
        return request
    known = sorted({run.job for run in request.runs} | {line.job for line in request.piece_lines})
    missing = [job for job in jobs if job not in known]
    if missing:
        listed = ", ".join(known)
        raise InputRefused(
            tuple(fault("--job", "", job, f"No such job in the list; it has: {listed}.") for job in missing)
        )
    return replace(
        request,
        runs=tuple(run for run in request.runs if run.job in jobs),
        piece_lines=tuple(line for line in request.piece_lines if line.job in jobs),
    )


def expected_of(why: LengthNotUnderstood) -> str:
    """Say what an option that holds a length would accept."""
    could = f" It could be {' or '.join(why.readings)}." if why.readings else ""
    if why.code == "no-unit":
        such = f", such as '{why.readings[0]}'," if why.readings else ""
        return f"Add a unit{such} or give --unit.{could}"
    return f"{why.expected[:1].upper()}{why.expected[1:]}.{could}"


def options_of(unit: str | None, bars: list[str], lengths: dict[str, str | None]) -> ReadOptions:
    """
    Read the options that hold lengths and prices.

    Raises
    ------
    InputRefused
        When any is not understood; every fault at once.
    """
    from nesting.sheets.quick_bar import read_quick_bar
    from nesting.sheets.read_currency import Named
    from nesting.sheets.read_options import ReadOptions
    from nesting.units import Unit, read_length

    faults: list[Finding] = []
    known_unit = None
    if unit is not None:
        known_unit = next((u for u in Unit if u.value == unit.strip().lower()), None)
        if known_unit is None:
            faults.append(fault("--unit", "", unit, "One of mm, cm, m, in, ft is expected."))
    values = {}
    for name, text in lengths.items():
        if text is not None:
            try:
                values[name] = read_length(text, known_unit, may_be_zero=True).length
            except LengthNotUnderstood as why:
                faults.append(fault("--" + name.replace("_", "-"), "", text, expected_of(why)))
    offered = []
    named = []
    for text in bars:
        try:
            bar = read_quick_bar(text, known_unit)
            offered.append((bar.length, bar.price))
            if bar.currencies:
                named.append(Named(currencies=bar.currencies, where=Where("request", "--bar"), text=text))
        except LengthNotUnderstood as why:
            faults.append(fault("--bar", "", text, expected_of(why)))
        except MoneyNotUnderstood as why:
            faults.append(fault("--bar", "", text, f"The price is expected as {why.expected}."))
    if faults:
        raise InputRefused(tuple(faults))
    return ReadOptions(
        unit=known_unit,
        bars=tuple(offered),
        named=tuple(named),
        kerf=values.get("kerf"),
        head_trim=values.get("head_trim"),
        tail_loss=values.get("tail_loss"),
        keep_length=values.get("keep_length"),
    )
