"""Rows for the tables of screen and paper: where the metal goes, what was assumed, which bars are alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.material import Part
from nesting.domain.plan import GroupPlan, Plan, PlannedBar, Totals
from nesting.domain.rules import SawRules
from nesting.errors import Finding
from nesting.units import Length

# One meaning each, printed beside the numbers; used = good + kerf + trim + returned + scrap.
WASTE_WORDS = (
    ("used", "length of all bars opened"),
    ("good", "length of the pieces"),
    ("kerf", "turned into chips by the strokes after the head trim"),
    ("trim", "head trims"),
    ("returned", "tails that go back to the rack as offcuts"),
    ("scrap", "tails too short to keep"),
    ("yield", "good / (used - returned)"),
    ("waste", "(kerf + trim + scrap) / used"),
)


# Of the saw's rules, in the order in which they are printed.
_FIELDS = ("kerf", "head_trim", "tail_loss", "keep_length", "grip", "step")


@dataclass(frozen=True, slots=True)
class AccountRow:
    """Where the metal of one material group goes, or of all of them together."""

    name: str
    totals: Totals


@dataclass(frozen=True, slots=True)
class Alike:
    """
    Bars with one source, the same cuts in one order and the same end; ``bar`` stands for all.

    What the shop has done to them is the same too.
    """

    group: GroupPlan
    bar: PlannedBar
    numbers: tuple[int, ...]


def account_rows(plan: Plan) -> tuple[AccountRow, ...]:
    """Give the account of every group, and of all together when there are several."""
    rows = tuple(AccountRow(str(group.material), group.totals) for group in plan.groups)
    return (*rows, AccountRow("all", plan.totals)) if len(rows) > 1 else rows


def assumption_rows(plan: Plan) -> tuple[tuple[str, SawRules], ...]:
    """Give the saws the plan is made for: ``saw``, or one each for channels and covers."""
    request = plan.request
    if request.cover_saw is None or request.cover_saw == request.saw:
        return (("saw", request.saw),)
    return (("channel saw", request.saw), ("cover saw", request.cover_saw))


def allowances(saw: SawRules) -> tuple[tuple[str, str, Length], ...]:
    """Give a saw's allowances as (name, what it means, length)."""
    return (
        ("kerf (k)", "what the blade takes at each stroke", saw.kerf),
        ("head trim (h)", "raw end to first clean face, its stroke included", saw.head_trim),
        ("tail loss (e)", "last good face to the raw far end, the last stroke included", saw.tail_loss),
        ("keep length", "a tail at least this long goes back to the rack", saw.keep_length),
        ("grip (g)", "shortest length that can be held safely", saw.grip),
        ("saw step", "pieces are rounded to it; 0 cuts any length", saw.step),
    )


def given_words(plan: Plan, saw: SawRules) -> tuple[str, ...]:
    """
    Say of each allowance, in the order of `allowances`, whether it was given or is common practice.

    A reader leaves a finding ``default-...`` for every value that it had to take from common practice.
    """
    cover = saw is plan.request.cover_saw and saw is not plan.request.saw
    taken = {name for finding in plan.request.findings for name in _taken(finding, cover=cover)}
    return tuple("common value" if name in taken else "given" for name in _FIELDS)


def _taken(finding: Finding, *, cover: bool) -> Iterator[str]:
    """Give the saw's value that a finding says was taken from common practice."""
    if finding.code == "default-used":
        saw, _, name = finding.where.at.strip("/").partition("/")
        if saw == ("cover_saw" if cover else "saw"):
            yield name
    elif finding.code.startswith("default-"):
        yield finding.code.removeprefix("default-").replace("-", "_")


def alike_bars(group: GroupPlan) -> tuple[Alike, ...]:
    """Give the distinct bars of a group, in order of first appearance."""
    numbers: dict[tuple[object, ...], list[int]] = {}
    first: dict[tuple[object, ...], PlannedBar] = {}
    for bar in group.bars:
        cuts = tuple((cut.length, cut.slope_start, cut.slope_end) for cut in bar.cuts)
        done = (bar.state, bar.true_tail, tuple(one.piece for one in bar.spoiled), bar.zones)
        key = (bar.source, bar.length, cuts, bar.tail, bar.fate, *done)
        first.setdefault(key, bar)
        numbers.setdefault(key, []).append(bar.number)
    return tuple(Alike(group, bar, tuple(sorted(numbers[key]))) for key, bar in first.items())


def part_words(group: GroupPlan) -> str:
    """Say what is laid under the blade: the channel, the cover, or both in one stroke."""
    if group.cover_follows:
        return "channel and cover together, one cover bar per channel bar"
    return "cover" if group.material.part is Part.COVER else "channel"
