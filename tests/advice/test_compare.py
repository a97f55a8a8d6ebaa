"""The buy advisor on the demo building, and on the case where covers cut apart save a third."""

from __future__ import annotations

import threading
from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.advice.compare import _no_dearer, compare
from nesting.advice.comparison import Choice, Comparison, Grouping, Mix
from nesting.advice.solving import OutOfTime, Solver
from nesting.batch.run import plan_request
from nesting.batch.split import split
from nesting.demo import tables
from nesting.domain.material import CapStyle, CoverMode, Family, Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, PieceLine, Run
from nesting.domain.stock import StockLine
from nesting.money import money_text, read_money
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template
from nesting.takeoff.take_off import take_off
from nesting.units import mm

FOUR = ("TOLV-17N", "BRASK-20F", "SARN-12R", "IMBO-45A")
TOLV = Material("TOLV-17N", "natural", Part.CHANNEL)


@pytest.fixture(scope="module")
def building(tmp_path_factory: pytest.TempPathFactory) -> Request:
    """Give the demo building's four straight families, rack and all."""
    path = tmp_path_factory.mktemp("demo") / "runs.xlsx"
    write_template(path, tables())
    request = read_request(path)
    runs = tuple(r for r in request.runs if r.job == "Orrelbeck Yard" and r.family in FOUR)
    return replace(request, runs=runs)


@pytest.fixture(scope="module")
def compared(building: Request) -> Comparison:
    return compare(replace(building, offcuts=()), unlisted=[mm(3500)])


def test_whole_building_against_floors_against_flats(building: Request) -> None:
    """2581.80 whole, 2583.00 floor by floor, 3177.60 flat by flat, though the rack is there: all new bars."""
    found = compare(building, unlisted=()).groupings
    assert [(g.level, g.parts, money_text(g.cost), g.proved) for g in found] == [
        ("whole", 1, "2581.80", True),
        ("floor", 6, "2583.00", True),
        ("unit", 48, "3177.60", True),
    ]


def test_parts_never_cost_less_than_the_whole(compared: Comparison) -> None:
    """Any plan of the parts is one of the whole, material by material."""
    whole, *parts = (dict(g.costs) for g in compared.groupings)
    assert all(part[material] >= cost for part in parts for material, cost in whole.items())


def test_the_cheapest_mix_is_what_the_plan_orders(building: Request, compared: Comparison) -> None:
    """The advice and the plan say the same: 31 x 2000 + 48 x 2500 = 1025.40."""
    best = compared.best_of(TOLV)
    assert best is not None
    assert (money_text(best.cost), best.bars) == ("1025.40", ((mm(2000), 31), (mm(2500), 48)))
    plan = plan_request(replace(building, offcuts=()))
    for group in plan.groups:
        mix = compared.best_of(group.material)
        assert mix is not None
        assert mix.cost == group.cost


def test_each_length_alone_costs_no_less(compared: Comparison) -> None:
    """79 x 2500 = 1106.00; 2000 alone is no choice, since a 2404 does not fit."""
    singles = [m for m in compared.mixes if m.material == TOLV and m.choice is Choice.SINGLE]
    assert [(m.lengths, money_text(m.cost)) for m in singles] == [((mm(2500),), "1106.00")]
    for mix in compared.mixes:
        best = compared.best_of(mix.material)
        assert best is not None
        assert mix.cost >= best.cost or mix.choice is Choice.UNLISTED


def test_an_unlisted_length_is_tried_at_a_price_in_line(compared: Comparison) -> None:
    """2500 at 14.00 is 5.60 a metre, so 3500 would be 19.60: 24 x 2000 + 13 x 2500 + 28 x 3500 = 1004.40."""
    (mix,) = (m for m in compared.mixes if m.material == TOLV and m.choice is Choice.UNLISTED)
    assert mix.assumed == read_money("19.60")
    assert money_text(mix.cost) == "1004.40"


def covered(length: int, nose: str) -> Request:
    """Give 30 runs of one channel length, nose caps, covers sold apart in bars of 2000."""
    family = Family(name="ELM-4", cap_style=CapStyle.NOSE, nose=mm(nose), cover_mode=CoverMode.OFFSET)
    run = Run(job="J", id="A", family="ELM-4", quantity=30, length=mm(length), kind=LengthKind.CHANNEL)
    bars = tuple(
        StockLine(family="ELM-4", part=part, length=mm(2000), price=price)
        for part, price in ((Part.CHANNEL, read_money("10.00")), (Part.COVER, read_money("4.00")))
    )
    saw = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
    return Request(runs=(run,), families=(family,), stock=bars, saw=saw)


def test_covers_cut_apart_may_take_fewer_bars() -> None:
    """Channel 670, cover 651: two channels but three covers a bar, so 15 cover bars become 10."""
    choices = {choice.mode: choice for choice in compare(covered(670, "9.5")).covers}
    together, apart = choices[CoverMode.OFFSET], choices[CoverMode.SEPARATE]
    assert (together.channels, together.covers, money_text(together.cost)) == (15, 15, "210.00")
    assert (apart.channels, apart.covers, money_text(apart.cost)) == (15, 10, "190.00")
    assert CoverMode.FLUSH not in choices  # a nose rules it out


def test_a_way_of_which_there_are_too_few_covers_is_no_choice() -> None:
    """One cover bar serves two of thirty runs; what these two cost is no price for all."""
    request = covered(670, "0")
    few = tuple(replace(bar, count=1) if bar.part is Part.COVER else bar for bar in request.stock)
    assert compare(request, unlisted=()).covers
    assert compare(replace(request, stock=few), unlisted=()).covers == ()


def test_a_gap_is_not_told_of_parts_that_leave_pieces_out() -> None:
    """One bar of each cannot cost less, and that says nothing of what all thirty runs cost."""
    request = covered(670, "0")
    few = tuple(replace(bar, count=1) for bar in request.stock)
    (whole,) = compare(replace(request, stock=few), unlisted=()).groupings
    assert (whole.proved, whole.bound) == (False, None)


def test_covers_that_come_with_the_channel_are_not_compared(compared: Comparison) -> None:
    """The demo's covers are not sold apart."""
    assert compared.covers == ()


def test_without_time_every_material_and_every_part_still_has_its_answer(building: Request) -> None:
    """A table of one material and nothing of the floors helped nobody; gaps say how far to trust these."""
    found = compare(building, seconds=0.0)
    assert [g.level for g in found.groupings] == ["whole", "floor", "unit"]
    assert {mix.material for mix in found.mixes} == {material for material, _ in found.groupings[0].costs}
    assert all(mix.choice is Choice.ALL for mix in found.mixes)
    assert found.cut_short
    rows: list[Mix | Grouping] = [*found.mixes, *found.groupings]
    assert not all(row.proved for row in rows)
    assert all(row.proved or (row.bound is not None and row.bound < row.cost) for row in rows)


def test_the_cheapest_mix_is_no_dearer_than_one_length_alone() -> None:
    """A search cut short may find one length sooner than the mix of all; buying that alone is a mix too."""
    dear = Mix(
        material=TOLV,
        choice=Choice.ALL,
        lengths=(mm(2000), mm(2500)),
        bars=((mm(2000), 9),),
        cost=9,
        bound=5,
        proved=False,
        priced=True,
    )
    one = replace(dear, choice=Choice.SINGLE, lengths=(mm(2500),), bars=((mm(2500), 7),), cost=7)
    other = replace(one, material=replace(TOLV, finish="umber"), cost=6)
    cheaper = _no_dearer(dear, [other, one])
    assert (cheaper.choice, cheaper.cost, cheaper.bars, cheaper.bound) == (Choice.ALL, 7, one.bars, 5)


def test_a_length_of_which_there_are_too_few_bars_is_no_choice() -> None:
    """Two bars of 3000 cost 20.00, but give four of ten pieces; one of them and two of 6000 cost 70.00."""
    line = PieceLine(job="J", id="A", family="PLAIN", length=mm(1400), quantity=10)
    few = StockLine(family="PLAIN", length=mm(3000), price=read_money("10.00"), count=2)
    more = StockLine(family="PLAIN", length=mm(6000), price=read_money("30.00"))
    request = Request(
        piece_lines=(line,),
        families=(Family(name="PLAIN"),),
        stock=(few, more),
        saw=SawRules(kerf=mm(3)),
    )
    found = compare(request, unlisted=()).mixes
    assert [(mix.choice, mix.lengths, money_text(mix.cost)) for mix in found] == [
        (Choice.ALL, (mm(3000), mm(6000)), "70.00"),
        (Choice.SINGLE, (mm(6000),), "90.00"),
    ]


def test_where_bars_run_out_nothing_is_called_the_least() -> None:
    """Two bars of 3000 give four of ten pieces: that cost is no least cost of ten, together or not."""
    line = PieceLine(job="J", id="A", family="PLAIN", length=mm(1400), quantity=10)
    few = StockLine(family="PLAIN", length=mm(3000), price=read_money("10.00"), count=2)
    request = Request(
        piece_lines=(line,), families=(Family(name="PLAIN"),), stock=(few,), saw=SawRules(kerf=mm(3))
    )
    found = compare(request, unlisted=())
    (mix,), (whole,) = found.mixes, found.groupings
    assert (money_text(mix.cost), mix.left_out, mix.proved, mix.bound) == ("20.00", 6, False, None)
    assert (whole.left_out, whole.proved, whole.bound) == (6, False, None)


def test_time_is_shared_and_handed_on() -> None:
    """Three questions have a third each of their share; who is asked when all is spent is left out."""
    solver = Solver(0, 60.0, threading.Event())
    solver.begin(Fraction(1, 2), 3, needed=True)
    group = next(g for chain in split(covered(670, "9.5"), pieces_of(670)).chains for g in chain)
    assert solver.settle(group).result.proved
    spent = Solver(0, 0.0, threading.Event())
    spent.begin(Fraction(1), 1, needed=False)
    with pytest.raises(OutOfTime):
        spent.settle(group)
    spent.begin(Fraction(1), 1, needed=True)
    assert not any(spent.settle(group).result.best.short)


def pieces_of(length: int) -> tuple[Piece, ...]:
    return take_off(covered(length, "9.5")).pieces


def test_a_cancelled_comparison_says_that_rows_are_missing(building: Request) -> None:
    """Half a table must not be taken for a whole one."""
    flag = threading.Event()
    flag.set()
    found = compare(building, cancel=flag)
    assert found.cut_short
    assert found.groupings == ()
