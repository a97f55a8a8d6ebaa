from __future__ import annotations

from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from nesting.domain.plan import Plan
from nesting.reports.terminal import LEGEND, bar_line, print_plan
from nesting.units import inches, mm
from tests.reports.plans import empty_plan, example_plan

WHOLE = Path(__file__).parent / "data"
PLAN = example_plan()


def printed(plan: Plan, width: int, files: tuple[Path, ...] = ()) -> str:
    """Print to a text as a pipe would receive it."""
    stream = StringIO()
    print_plan(plan, Console(file=stream, width=width, color_system=None), files=files)
    return stream.getvalue()


@pytest.mark.parametrize("width", [80, 120])
def test_the_whole_report_at_a_fixed_width(width: int) -> None:
    """The report is compared whole: wording, table and bars are what people rely on."""
    expected = (WHOLE / f"terminal_{width}.txt").read_text(encoding="utf-8")
    found = printed(PLAN, width, files=(Path("plan.xlsx"),))
    assert "\n".join(line.rstrip() for line in found.splitlines()) + "\n" == expected


@pytest.mark.parametrize("width", [40, 80, 120])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    """Lines that wrap by themselves would break the bars' pictures."""
    assert max(len(line) for line in printed(PLAN, width).splitlines()) <= width


def test_a_pipe_receives_plain_characters() -> None:
    """A log file or an old terminal shows every character."""
    text = printed(PLAN, 80)
    assert text.isascii()
    assert "\x1b" not in text


def test_bars_share_one_scale() -> None:
    """The 2000 mm bar of a group is drawn at 2000/2500 of the longest one's width."""
    bars = {bar.number: bar for bar in PLAN.groups[3].bars}
    assert len(bar_line(bars[18], mm(2500), 100)) == 100
    assert len(bar_line(bars[19], mm(2500), 100)) == 80


def test_a_bar_shows_trim_strokes_lengths_and_tail() -> None:
    """Bar 17 reads from left to right as it is sawn."""
    bar = next(b for b in PLAN.groups[3].bars if b.number == 17)
    # 50 characters less two strokes; 48/2494 of 920.5 is 17.7 (one 18, one 17), of 645 is 12.4.
    assert bar_line(bar, mm(2500), 50) == "#----- 920.5 ------|----- 920.5 -----|... 645 ...."


def test_alike_bars_with_kept_tails_do_not_share_a_tag() -> None:
    """Three alike bars give three offcuts: naming one tag for all would be wrong."""
    group = PLAN.groups[1]
    kept = group.bars[0]
    three = tuple(replace(kept, number=n, tail_tag=f"7C1F-{n}") for n in (4, 5, 6))
    text = printed(replace(PLAN, groups=(replace(group, bars=three),)), 120)
    assert "bars 4-6, alike: new bar 3500 mm; tail 566 mm, each back to the rack" in text
    assert "more, in the cut list" not in text


def test_many_materials_are_summed_up() -> None:
    """A hundred finish lots do not scroll the answer away."""
    plan = replace(PLAN, groups=PLAN.groups * 3)
    assert "4 more material groups, in the cut list" in printed(plan, 80)
    assert "more material groups" not in printed(PLAN, 80)


def test_an_empty_plan_prints_one_line() -> None:
    """Nothing to do is said once, without an empty table or legend."""
    assert printed(empty_plan(), 80) == "Nothing to cut, nothing to order.\n"
    assert len(LEGEND) <= 80


def test_a_narrow_window_gets_lines_instead_of_a_table() -> None:
    """At 40 columns a table of eight columns has no room for a name; the same figures stand in lines."""
    text = " ".join(printed(PLAN, 40).split())
    assert "+--" not in text
    assert "TOLV-17N natural channel: 10 bars, 2 from the rack; 109.40, at least 106.20; gap 2.9 %;" in text
    assert "SARN-12R natural channel: 3 bars; proved; waste 0.5 %, yield 99.3 %" in text
    assert "all: 19 bars; waste 2.2 %, yield 97.5 %" in text


def test_an_inch_plan_is_drawn_in_inches() -> None:
    """Sentences, bars and legend have one unit; 36 1/4 in is 920.75 mm."""
    group = PLAN.groups[3]
    cut = replace(group.bars[6].cuts[0], length=inches("36 1/4"), face=inches("36 1/4"))
    bar = replace(group.bars[6], cuts=(cut,))
    runs = tuple(replace(run, length=inches("36 1/4")) for run in PLAN.request.runs)
    stock = tuple(replace(line, length=inches(96)) for line in PLAN.request.stock)
    request = replace(PLAN.request, runs=runs, stock=stock)
    text = printed(replace(PLAN, request=request, groups=(replace(group, bars=(bar,)),)), 120)
    assert "-- 36 1/4 --" in text
    assert "piece, length in inches " in text
    assert "(5400 mm): Longer than any bar" in text


def test_paths_are_never_broken() -> None:
    """A path is there to be copied."""
    path = Path("a" * 90) / "plan.xlsx"
    assert f"Written: {path}\n" in printed(empty_plan(), 80, files=(path,))
