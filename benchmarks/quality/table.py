"""Markdown of quality rows: one line a series, then every row that was not proved or not the best."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby

from benchmarks.quality.published import SOURCE, PublishedRun
from benchmarks.quality.row import Row

_HEAD = (
    "| class | series | cases | proved | equal to best known | better | worse | mean s | max s | mean CPU s "
    "| max MiB "
    "| published proved | published mean s | published max s |"
)


def markdown(rows: Iterable[Row], published: Mapping[str, PublishedRun]) -> str:
    """
    Give the whole report of some rows of one revision and limit.

    Parameters
    ----------
    published
        Published runs by instance name; the published columns cover exactly the cases that were run here.
    """
    ordered = sorted(rows, key=lambda row: (row.case_class, _natural(row.series), row.name))
    lines = [*_circumstances(ordered), "", _HEAD, "|" + " --- |" * (_HEAD.count("|") - 1)]
    for (case_class, series), group in groupby(ordered, key=lambda row: (row.case_class, row.series)):
        lines.append(_series_line(case_class, series, list(group), published))
    lines += ["", f"Published: {SOURCE}; its columns count the very cases run here.", "", *_losing(ordered)]
    return "\n".join(lines) + "\n"


def _circumstances(rows: list[Row]) -> list[str]:
    def every(values: Iterable[object]) -> str:
        return ", ".join(dict.fromkeys(str(value) for value in values))

    loads = [row.load for row in rows]
    processes = {True: "all cases in one process", False: "a fresh process for each case"}
    return [
        f"Engine revision {every(row.revision for row in rows)}; limit "
        f"{every(f'{row.time_limit:g}' for row in rows)} s a case; seed {every(row.seed for row in rows)}; "
        f"{every(processes[row.warm] for row in rows)}; {every(row.processor for row in rows)}; "
        f"load average {min(loads, default=0)} to {max(loads, default=0)}. "
        "Seconds are wall clock of the solve alone, shared with whatever else the machine did; CPU s are the "
        "solve's own.",
    ]


def _series_line(case_class: str, series: str, rows: list[Row], published: Mapping[str, PublishedRun]) -> str:
    theirs = [published[row.name] for row in rows if row.name in published]
    known = sum(1 for row in rows if row.against != "unknown")
    equal = sum(1 for row in rows if row.against == "equal")
    cells = [
        case_class,
        series or "-",
        len(rows),
        sum(1 for row in rows if row.proved),
        f"{equal} of {known}" if known else "-",
        sum(1 for row in rows if row.against == "better"),
        sum(1 for row in rows if row.against == "worse"),
        _seconds(sum(row.seconds for row in rows) / len(rows)),
        _seconds(max(row.seconds for row in rows)),
        _seconds(sum(row.cpu_seconds for row in rows) / len(rows)),
        max(row.peak_mib for row in rows),
        f"{sum(1 for run in theirs if run.proved)} of {len(theirs)}" if theirs else "-",
        _seconds(sum(run.seconds for run in theirs) / len(theirs)) if theirs else "-",
        _seconds(max(run.seconds for run in theirs)) if theirs else "-",
    ]
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def _losing(rows: list[Row]) -> list[str]:
    lost = [row for row in rows if not row.proved or row.against == "worse"]
    if not lost:
        return ["Every case was proved and none is worse than the best known value."]
    lines = [
        f"Not proved, or worse than the best known value ({len(lost)} of {len(rows)}):",
        "",
        "| class | case | lengths | pieces | bound | value | best known | against | seconds | ended |",
        "|" + " --- |" * 10,
    ]
    for row in lost:
        cells = [row.case_class, row.name, row.lengths, row.pieces, row.bound, row.value, row.best_known]
        cells += [row.against, _seconds(row.seconds), row.ended]
        lines.append("| " + " | ".join("-" if cell is None else str(cell) for cell in cells) + " |")
    return lines


def _seconds(value: float) -> str:
    return f"{value:.3f}" if value < 10 else f"{value:.1f}"


def _natural(text: str) -> tuple[tuple[int, str], ...]:
    """Sort ``n = 60`` before ``n = 120``."""
    return tuple((int(part), "") if part.isdigit() else (-1, part) for part in text.split())
