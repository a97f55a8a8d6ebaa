"""What a plan changes of the one before."""

from dataclasses import replace

from api.pages.plan.since import since_view
from nesting.domain.plan import Plan
from tests.reports.plans import example_plan

BEFORE = example_plan()
OFFER = {
    "piece": "OY-305-1",
    "bar": 12,
    "tag": "P1-12-1",
    "length": 700_000_000,
    "choices": [{"piece": "OY-305-3", "length": 592_000_000, "left": 105_000_000}],
    "becomes": [],
}


def following() -> Plan:
    """Give a plan of the same pieces that goes on from it."""
    return replace(BEFORE, id="81b2c3", follows=BEFORE.id, revision=1)


def test_a_plan_that_goes_on_says_first_what_stands() -> None:
    """The balance and what came out wrong come before what differs in the lists."""
    since = since_view(BEFORE, following(), ("P1", "P2"), {"offers": [OFFER]})
    assert "are ordered:" in since.said[0]
    assert since.said[1] == ("This 700 mm (P1-12-1, from OY-305-1 of bar 12) can become OY-305-3 (592 mm).")
    assert "Plan P2, revision 1, follows plan P1." in since.more


def test_plans_are_called_as_the_shop_calls_them() -> None:
    """A digest is for programs."""
    since = since_view(BEFORE, following(), ("P1", "P2"), {})
    assert not any(BEFORE.id in said or "81b2c3" in said for said in (*since.said, *since.more))


def test_a_fresh_plan_of_the_same_runs_is_told_apart_plainly() -> None:
    """Planned anew on other stock: the differences, and nothing of what the shop has done."""
    after = replace(following(), follows="", revision=0)
    since = since_view(BEFORE, after, ("P1", "P2"), {})
    assert not any("are ordered:" in said for said in since.said)
    assert since.said


def test_the_same_plan_again_changes_nothing() -> None:
    """Nothing is made up to say something."""
    since = since_view(BEFORE, BEFORE, ("P1", "P1"), {})
    assert (since.said, since.more, since.afresh) == ((), (), "")


def test_planning_afresh_is_offered_where_it_is_better() -> None:
    """165.20 stands; a fresh plan would cost 151.00 and leave nothing out."""
    better = {"bars": 18, "unplaced": 0, "cost": 1_510_000}
    since = since_view(BEFORE, following(), ("P1", "P2"), {"alternative": better})
    assert since.afresh == (
        "Planning all open bars afresh would leave out 1 piece fewer and cost 151.00 XTS instead of "
        "165.20 XTS; it would change more of them."
    )
    unpriced = {"bars": 18, "unplaced": 1, "cost": None}
    since = since_view(BEFORE, following(), ("P1", "P2"), {"alternative": unpriced})
    assert since.afresh.startswith("Planning all open bars afresh would come out better;")
