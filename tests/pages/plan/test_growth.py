"""Growth margins among the other margins."""

from dataclasses import replace

from api.pages.plan.growth import growth_words, with_growth
from api.processes.advisor import Growth
from nesting.domain.plan import Margins
from nesting.reports.lengths import METRIC
from nesting.units import mm
from tests.reports.plans import TOLV, example_plan

FOUND = (Growth(str(TOLV), mm("40.5"), 1_061_600),)


def test_what_was_found_joins_the_other_margins() -> None:
    """The bars' own margin stays; other materials are left as they are."""
    plan = example_plan()
    groups = tuple(replace(group, margins=Margins(kerf=None, bar=mm(6))) for group in plan.groups)
    plan = replace(plan, groups=groups)
    made = {group.material: group.margins for group in with_growth(plan, FOUND).groups}
    assert made.pop(TOLV) == Margins(kerf=None, bar=mm(6), growth=mm("40.5"), growth_cost=1_061_600)
    assert set(made.values()) == {Margins(kerf=None, bar=mm(6))}


def test_a_plan_nothing_was_looked_for_in_stays_the_same() -> None:
    """Most plans are never compared."""
    plan = example_plan()
    assert with_growth(plan, ()) is plan


def test_growth_is_told_in_the_words_of_the_margins() -> None:
    """One wording for one fact."""
    assert list(growth_words(example_plan(), FOUND, METRIC)) == [
        (str(TOLV), "Every run may grow 40.5 mm at no more cost, one step more costs more.")
    ]
