"""A run that needs joints is told with its length, and a likely slip of a zero louder than what is meant."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.material import Family, SplitRule
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.errors import Severity
from nesting.takeoff.in_sections import runs_in_sections
from nesting.units import Length, mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))


def a_run(name: str, length: Length, rule: SplitRule | None = None) -> Run:
    """Give one run of channel."""
    return Run(
        job="J", id=name, family="F", finish="A", length=length, kind=LengthKind.CHANNEL, split_rule=rule
    )


def request(*runs: Run) -> Request:
    """Give runs of one family on 2000 bars, which yield 2000 - 8 - 8 = 1984."""
    stock = (StockLine(family="F", finish="A", length=mm(2000)),)
    return Request(runs=runs, families=(Family(name="F"),), stock=stock, saw=SAW)


def severities(*runs: Run) -> list[Severity]:
    """Give how loud each run is told."""
    return [finding.severity for finding in runs_in_sections(request(*runs))]


def test_one_zero_too_many_is_a_warning() -> None:
    """Protects from 9040 for 904: 9040 / 1984 = 4.6, five sections of 1808."""
    (finding,) = runs_in_sections(request(a_run("r1", mm(904)), a_run("r2", mm(9040))))
    assert (finding.severity, finding.found) == (Severity.WARNING, "J r2")
    assert "9040 mm" in finding.message
    assert "in 5 sections with joints: 1808 + 1808 + 1808 + 1808 + 1808 mm" in finding.message


def test_what_is_plainly_meant_is_a_note() -> None:
    """Protects the warnings that count: one joint in run after run, or a rule of the run's own, is meant."""
    assert severities(a_run("r1", mm(3606)), a_run("r2", mm(3606))) == [Severity.NOTE, Severity.NOTE]
    assert severities(a_run("r1", mm(9040), SplitRule.EQUAL)) == [Severity.NOTE]
    assert severities(a_run("r1", mm(3606))) == [Severity.WARNING]
    assert severities(a_run("r1", mm(9040)), a_run("r2", mm(9040))) == [Severity.WARNING, Severity.WARNING]


def test_what_is_made_whole_or_not_at_all_is_not_told() -> None:
    """Protects from telling joints where there are none: short runs, runs that may not be split, no bars."""
    assert severities(a_run("r1", mm(1984)), a_run("r2", mm(9040), SplitRule.NEVER)) == []
    assert list(runs_in_sections(replace(request(a_run("r1", mm(9040))), stock=()))) == []
    long_list = a_run("r1", mm(100_000_000))  # 50 404 sections are listed as not made
    assert severities(long_list) == []


def test_many_sections_are_shortened() -> None:
    """Protects the line: six lengths and then dots, the number stands before them."""
    (finding,) = runs_in_sections(request(a_run("r1", mm(18_060))))
    # 18060 / 1984 = 9.1, ten of 1806
    assert "in 10 sections" in finding.message
    assert finding.message.count("1806 +") == 6
    assert " + ... mm" in finding.message
