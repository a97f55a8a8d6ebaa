"""A comparison as tables."""

from dataclasses import replace

from api.pages.plan.compare import compared_view
from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.domain.material import CoverMode
from nesting.money import read_money
from nesting.reports.lengths import METRIC
from nesting.units import mm
from tests.reports.plans import TOLV


def mix(choice: Choice, cost: str, *bars: tuple[int, int], assumed: str = "") -> Mix:
    return Mix(
        material=TOLV,
        choice=choice,
        lengths=tuple(mm(length) for length, _ in bars),
        bars=tuple((mm(length), count) for length, count in bars),
        cost=read_money(cost),
        proved=True,
        priced=True,
        assumed=read_money(assumed) if assumed else None,
    )


def grouping(level: str, parts: int, cost: str) -> Grouping:
    amount = read_money(cost)
    return Grouping(level=level, parts=parts, bars=79, cost=amount, proved=True, costs=((TOLV, amount),))


COMPARISON = Comparison(
    currency="XTS",
    mixes=(
        mix(Choice.ALL, "1025.40", (2000, 31), (2500, 48)),
        mix(Choice.SINGLE, "1106.00", (2500, 79)),
        mix(Choice.UNLISTED, "984.00", (2000, 10), (3000, 50), assumed="16.60"),
    ),
    groupings=(grouping("whole", 1, "1025.40"), grouping("unit", 48, "1210.80")),
    covers=(
        CoverChoice(
            family="TOLV-17N",
            finish="natural",
            mode=CoverMode.SEPARATE,
            channels=79,
            covers=60,
            cost=read_money("1400"),
            proved=True,
            priced=True,
        ),
    ),
    cut_short=True,
)


def test_parts_are_set_against_the_whole_to_scale() -> None:
    """1025.40 of 1210.80 is 84.69 %; unit by unit costs 185.40 more."""
    whole, unit = compared_view(COMPARISON, METRIC).parts
    assert (whole.name, whole.width, whole.more) == ("all together", "84.69", "-")
    assert (unit.name, unit.width, unit.more) == ("unit by unit, 48 parts", "100.00", "+185.40")


def test_a_mix_that_leaves_pieces_out_is_told_as_one() -> None:
    """Its cost stands beside the number it leaves out, and no sentence sums it up as everything."""
    short = replace(COMPARISON.mixes[0], proved=False, left_out=6)
    parts = (replace(COMPARISON.groupings[0], proved=False, left_out=6), COMPARISON.groupings[1])
    view = compared_view(replace(COMPARISON, mixes=(short, *COMPARISON.mixes[1:]), groupings=parts), METRIC)
    assert [row.left_out for row in view.purchases[0].rows] == ["6 pieces left out", "", ""]
    assert [row.left_out for row in view.parts] == ["6 pieces left out", ""]
    assert (view.whole, len(view.shortage)) == ("", 2)


def test_purchases_stand_under_their_material() -> None:
    """An assumed price is told as one."""
    (one,) = compared_view(COMPARISON, METRIC).purchases
    assert [(row.name, row.bars, row.cost, row.more, row.assumed) for row in one.rows] == [
        ("cheapest mix", "31 x 2000 + 48 x 2500", "1025.40", "-", ""),
        ("2500 mm only", "79 x 2500", "1106.00", "+80.60", ""),
        ("with 3000 mm", "10 x 2000 + 50 x 3000", "984.00", "-41.40", "16.60"),
    ]


def test_what_ran_out_of_time_says_so_without_a_command() -> None:
    """Whoever reads a page has no command line to allow more time with."""
    view = compared_view(COMPARISON, METRIC)
    assert view.cut_short
    assert not any("--" in said for said in (view.whole, *view.savings))


def test_the_sentences_are_told_apart() -> None:
    """What the parts cost is one question, what other lengths would save another."""
    view = compared_view(COMPARISON, METRIC)
    assert view.whole == (
        "Planned unit by unit, 48 parts, everything costs 185.40 XTS more than all together."
    )
    assert view.savings == (
        "TOLV-17N natural channel with 3000 mm would save 41.40 XTS (at 16.60 XTS a bar).",
    )


def test_an_empty_comparison_has_no_tables() -> None:
    """When time ran out at once there is nothing to show."""
    view = compared_view(Comparison(currency="", mixes=(), groupings=(), covers=(), cut_short=True), METRIC)
    assert (view.parts, view.by_material, view.purchases, view.covers) == ((), (), (), ())


def test_the_sentence_on_parts_stays_where_a_row_is_not_proved() -> None:
    """What a command says of its time limit takes no sentence's place on a page, and is not told there."""
    whole, unit = COMPARISON.groupings
    open_part = replace(COMPARISON, cut_short=False, groupings=(whole, replace(unit, proved=False)))
    view = compared_view(open_part, METRIC)
    assert view.whole == "Planned unit by unit, 48 parts, everything costs 185.40 XTS more than all together."
    assert "--" not in " ".join((view.whole, *view.savings))
