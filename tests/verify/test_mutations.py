"""One number changed, and the auditor has to name it."""

from __future__ import annotations

from dataclasses import fields, replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.material import LotRule
from nesting.domain.plan import Cut, PlannedBar, TailFate, Unplaced
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.runs import Place
from nesting.domain.stock import EndState
from nesting.units import Length, mm
from nesting.verify import violations
from tests.verify.change import change, found
from tests.verify.small_plan import TOLV, plan

PLAN = plan()
# Positions in the plan: groups in the order of their names, bars in the group.
BRASK, SARN, COVER, TOLVS, UMBO = range(5)


def test_a_valid_plan_has_no_violations() -> None:
    """An auditor that cries at a good plan is soon switched off."""
    assert violations(PLAN) == ()


MUTATIONS: list[tuple[str, dict[str, Any], str, str]] = [
    # Figures of a bar.
    ("groups.3.bars.0.cuts.1", {"face": mm(1186)}, "face-position", "bar 1"),
    ("groups.3.bars.1.cuts.0", {"face": mm(1802)}, "face-position", "bar 2"),
    ("groups.3.bars.1.cuts.0", {"length": mm(1804)}, "cut-length", "piece B"),
    ("groups.3.bars.1.cuts.1", {"held": False}, "held", "bar 2"),
    ("groups.3.bars.1.cuts.1", {"piece": "A.2"}, "piece-lost", "piece A.3"),
    ("groups.3.bars.1.cuts.1", {"piece": "A.2"}, "cut-twice", "piece A.2"),
    ("groups.3.bars.1.cuts.1", {"piece": "Z"}, "unknown-piece", "piece Z"),
    ("groups.3.bars.1", {"number": 3}, "bar-number", "bar 3"),
    ("groups.3.bars.1", {"strokes": 4}, "strokes", "bar 2"),
    ("groups.3.bars.0", {"strokes": 3}, "strokes", "bar 1"),
    ("groups.3.bars.1", {"kerf_loss": mm(9)}, "kerf-loss", "bar 2"),
    ("groups.3.bars.1", {"kerf_loss": mm(9)}, "bar-identity", "bar 2"),
    ("groups.3.bars.1", {"tail": mm(94)}, "tail", "bar 2"),
    ("groups.3.bars.1", {"fate": TailFate.NONE}, "tail-fate", "bar 2"),
    ("groups.3.bars.1", {"sliver": True}, "sliver", "bar 2"),
    ("groups.3.bars.1", {"length": mm(2501)}, "bar-length", "bar 2"),
    ("groups.3.bars.1", {"head": mm(9)}, "head-trim", "bar 2"),
    ("groups.3.bars.0", {"head": mm(8)}, "head-trim", "bar 1"),
    ("groups.3.bars.1", {"tail_loss": mm(0)}, "tail-loss", "bar 2"),
    ("groups.3.bars.1", {"cuts": ()}, "empty-bar", "bar 2"),
    ("groups.1.bars.0", {"fate": TailFate.SCRAP, "tail_tag": ""}, "tail-fate", "bar 6"),
    ("groups.1.bars.0", {"tail_tag": ""}, "tail-tag", "bar 6"),
    ("groups.1.bars.0", {"tail_tag": "R-17"}, "tail-tag", "bar 6"),
    ("groups.2.bars.0", {"tail_tag": "T-6"}, "tail-tag", "bar 7"),
    ("groups.3.bars.1", {"tail_tag": "T-2"}, "tail-tag", "bar 2"),
    # Where bars come from.
    ("groups.3.bars.1", {"source": "stock:7"}, "unknown-source", "bar 2"),
    ("groups.3.bars.1", {"source": "stock:01"}, "unknown-source", "bar 2"),
    ("groups.3.bars.0", {"source": "R-99"}, "unknown-source", "bar 1"),
    ("groups.3.bars.1", {"source": "stock:4"}, "bar-material", "bar 2"),
    ("groups.3.bars.1", {"source": "R-17"}, "offcut-twice", "offcut R-17"),
    ("groups.3.bars.1", {"offcut": True}, "offcut-flag", "bar 2"),
    ("request.stock.0", {"count": 1}, "stock-count", "stock line 1"),
    ("request.stock.3", {"count": 0}, "stock-count", "stock line 4"),
    ("request.stock.3", {"length": mm(1999)}, "no-cover-bar", "bar 5"),
    ("request.offcuts.0", {"left": EndState.RAW}, "head-trim", "bar 1"),
    ("request.offcuts.0", {"right": EndState.CLEAN}, "tail-loss", "bar 1"),
    ("request.offcuts.0", {"finish": "umber"}, "bar-material", "bar 1"),
    ("groups.4.bars.0", {"source": "R-18"}, "lot", "bar 8"),
    # Identity.
    ("pieces.0", {"id": "A.2"}, "piece-listed-twice", "piece A.2"),
    ("pieces.3", {"material": replace(TOLV, finish="umber")}, "piece-material", "piece B"),
    ("unplaced.1", {"piece": "D"}, "cut-and-unplaced", "piece D"),
    ("unplaced.1", {"piece": "D"}, "piece-lost", "piece P"),
    ("unplaced.1", {"length": mm(2201)}, "unplaced-differs", "piece P"),
    ("unplaced.1", {"reason": ""}, "no-reason", "piece P"),
    ("unplaced.1", {"piece": "Q"}, "unknown-piece", "piece Q"),
    ("unplaced.0", {"run": "D"}, "cut-and-unplaced", "run D"),
    ("unplaced.0", {"run": "X"}, "unknown-run", "run X"),
    # Lots.
    ("request.families.3", {"lot_rule": LotRule.ANY}, "lot", "piece H"),
    ("request.families.0", {"lot_rule": LotRule.JOB}, "lot", "piece A.1"),
    ("request.families.0", {"lot_rule": LotRule.ROOM}, "lot-mixed", "piece A.3"),
    ("request.runs.7", {"lot": "77"}, "lot", "piece H"),
    # Metal, money, order, jobs.
    ("groups.1", {"saw": replace(PLAN.request.saw, grip=mm(100))}, "saw", "material SARN-12R channel"),
    ("request", {"cover_saw": replace(PLAN.request.saw, kerf=mm(2))}, "saw", "material SARN-12R cover"),
    ("groups.0", {"cover_follows": False}, "cover-follows", "material BRASK-20F channel"),
    ("groups.3.totals", {"bars": 5}, "totals", "material TOLV-17N natural channel"),
    ("groups.3.totals", {"used": mm(7751)}, "totals", "material TOLV-17N natural channel"),
    ("groups.3.totals", {"good": mm(7184)}, "totals", "material TOLV-17N natural channel"),
    ("groups.3.totals", {"kerf": mm(17)}, "totals", "material TOLV-17N natural channel"),
    ("groups.3.totals", {"trim": mm(32)}, "totals", "material TOLV-17N natural channel"),
    ("groups.3.totals", {"scrap": mm(522)}, "totals", "material TOLV-17N natural channel"),
    ("groups.1.totals", {"returned": mm(0)}, "totals", "material SARN-12R channel"),
    ("groups.3", {"cost": 388_001}, "cost", "material TOLV-17N natural channel"),
    ("groups.3", {"priced": False}, "cost", "material TOLV-17N natural channel"),
    ("groups.4", {"cost": 2}, "cost", "material UMBO-9 umber channel, lot J2"),
    ("groups.4", {"priced": True}, "no-price", "bar 8"),
    ("groups.3", {"bound": 388_001}, "bound-above-cost", "material TOLV-17N natural channel"),
    ("groups.3", {"bound": 387_000}, "not-proved", "material TOLV-17N natural channel"),
    ("groups.2", {"ended": StopReason.PROVED}, "not-proved", "material SARN-12R cover"),
    ("groups.1.certificate", {"bound": 95_999}, "bound-not-certified", "material SARN-12R channel"),
    ("request.stock.3", {"price": 28_001}, "cost", "material BRASK-20F channel"),
    ("request.offcuts.0", {"value": 1}, "cost", "material TOLV-17N natural channel"),
    ("order.4", {"bars": 3}, "order-count", "order TOLV-17N natural channel, 2000.0 mm"),
    ("order.1", {"length": mm(2100)}, "order-count", "order BRASK-20F cover, 2000.0 mm"),
    ("order.6", {"lot": ""}, "order-count", "order UMBO-9 umber channel, lot J2, 2000.0 mm"),
    ("order.4", {"sum": 228_001}, "order-sum", "order TOLV-17N natural channel, 2000.0 mm"),
    ("jobs.0", {"pieces": 11}, "job-share", "job J1"),
    ("jobs.0", {"good": mm(1)}, "job-share", "job J1"),
    ("jobs.1", {"consumed": PLAN.jobs[1].consumed - 9}, "job-share", "job J2"),
    ("jobs.1", {"consumed": PLAN.jobs[1].consumed + 1}, "job-sum", "jobs"),
    ("jobs.1", {"cost": PLAN.jobs[1].cost + 9}, "job-share", "job J2"),
    ("jobs.1", {"cost": PLAN.jobs[1].cost + 9}, "job-sum", "jobs"),
    ("jobs.1", {"job": "J3"}, "job-share", "job J2"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("path", "changes", "code", "where"),
    MUTATIONS,
    ids=[f"{m[0]}-{m[2]}-{i}" for i, m in enumerate(MUTATIONS)],
)
def test_one_change_is_named(path: str, changes: dict[str, Any], code: str, where: str) -> None:
    """Whoever slipped is told which bar, piece, order or job, not just that something is off."""
    assert (code, where) in found(change(PLAN, path, **changes))


def test_message_gives_the_figures_in_the_shop_s_words() -> None:
    """The shop lead reads the message, not the code."""
    wrong = change(PLAN, "groups.3.bars.1.cuts.0", face=mm("1802.5"))
    (only,) = violations(wrong)
    assert str(only) == (
        "bar 2 (TOLV-17N natural channel): B ends at 1803.0 mm, the next starts at 1806.0 mm; "
        "the plan puts its face at 1802.5 mm. [face-position]"
    )


def test_pieces_that_do_not_fit_are_named() -> None:
    """1803 + 592 need 8 + 1803 + 3 + 592 + 8 = 2414; a bar of 2410 is too short by 4."""
    short = change(PLAN, "groups.3.bars.1", length=mm(2410))
    assert "2414.0" in next(v.message for v in violations(short) if v.code == "does-not-fit")


def test_a_sold_out_run_may_be_left_out_only_once() -> None:
    """A piece listed twice as left out would be counted twice by the office."""
    twice = replace(PLAN, unplaced=(*PLAN.unplaced, *PLAN.unplaced))
    assert {("unplaced-twice", "piece P"), ("unplaced-twice", "run G")} <= found(twice)


def test_a_group_planned_twice_is_named() -> None:
    """Two groups of one material could each claim the same bound."""
    twice = replace(PLAN, groups=(*PLAN.groups, PLAN.groups[SARN]))
    assert ("group-twice", "material SARN-12R channel") in found(twice)


def test_an_unplaced_piece_needs_no_bar() -> None:
    """Leaving a piece out openly, with a reason, is no violation of the bars that remain."""
    left = change(PLAN, "groups.3", bars=PLAN.groups[TOLVS].bars[:3])
    left = replace(
        left,
        unplaced=(
            *left.unplaced,
            Unplaced(job="J1", run="C", piece="C/2", length=mm(1803), reason="used up", code="stock-used-up"),
        ),
    )
    assert not [v for v in violations(left) if v.where == "piece C/2"]


def test_rooms_are_told_apart() -> None:
    """Another lot in another room is allowed where the rule is one lot per room."""
    rooms = change(PLAN, "request.families.0", lot_rule=LotRule.ROOM)
    # A.1 and A.2 come from the offcut, everything else from this order.
    for index in (0, 1):
        rooms = change(rooms, f"pieces.{index}", place=Place(room="bath"))
    assert violations(rooms) == ()


def test_same_plan_same_violations() -> None:
    """Reports can be compared line by line."""
    wrong = change(change(PLAN, "groups.3", cost=7), "groups.0.bars.0", tail=mm(1))
    assert violations(wrong) == violations(wrong)


_BARS = [(g, b) for g, group in enumerate(PLAN.groups) for b in range(len(group.bars))]
_WHOLE = [
    f.name
    for f in fields(PlannedBar)
    if f.name in ("number", "length", "head", "tail_loss", "strokes", "kerf_loss", "tail")
]


@given(
    st.sampled_from(_BARS),
    st.sampled_from(_WHOLE),
    st.integers(min_value=-(10**10), max_value=10**10).filter(bool),
)
def test_any_other_number_in_a_bar_is_noticed(place: tuple[int, int], name: str, off: int) -> None:
    """No figure on a cut sheet is decoration: each one is checked against the others."""
    group, bar = place
    was = getattr(PLAN.groups[group].bars[bar], name)
    changed = change(PLAN, f"groups.{group}.bars.{bar}", **{name: was + off})
    if name == "number" and was + off not in range(1, 9):
        # A bar may have any number that no other bar has.
        assert violations(changed) == ()
    else:
        assert violations(changed)


@given(
    st.sampled_from(_BARS),
    st.integers(min_value=0, max_value=1),
    st.sampled_from([f.name for f in fields(Cut) if f.name in ("length", "face")]),
    st.integers(min_value=-(10**10), max_value=10**10).filter(bool),
)
def test_any_other_number_in_a_cut_is_noticed(place: tuple[int, int], cut: int, name: str, off: int) -> None:
    """A stop setting or a face position that is off by a nanometre is off."""
    group, bar = place
    cuts = PLAN.groups[group].bars[bar].cuts
    cut = min(cut, len(cuts) - 1)
    was = getattr(cuts[cut], name)
    changed = change(PLAN, f"groups.{group}.bars.{bar}.cuts.{cut}", **{name: Length(was + off)})
    assert any(str(PLAN.groups[group].bars[bar].number) in v.where or cuts[cut].piece in v.where
               for v in violations(changed))  # fmt: skip


def test_the_audit_needs_no_strip() -> None:
    """Strip is not sawn; a family with strip passes like one without."""
    assert violations(change(PLAN, "request.families.3", strip_pitch=Fraction(mm(50)))) == ()


def test_certificates_are_not_part_of_the_audit() -> None:
    """The audit is quick; proofs are checked on demand."""
    odd = Certificate(bound=96_000, duals=(), scale=0)
    assert violations(change(PLAN, "groups.1", certificate=odd)) == ()
