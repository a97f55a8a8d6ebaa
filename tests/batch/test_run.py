"""The main job end to end on small requests, each plan audited before anyone sees it."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Part
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, PieceLine, Place, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.money import Money, read_money
from nesting.units import Length, inches, mm
from nesting.verify import violations
from nesting.verify.certificate import check_proofs

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))


def bars_by_part(plan: Plan) -> dict[Part, int]:
    return {group.material.part: len(group.bars) for group in plan.groups}


def covers_separate(saw: SawRules, channel: Length, nose: Length, bar: Length) -> Plan:
    """Thirty runs of one channel length with nose caps, covers cut on their own."""
    family = Family(name="TOLV", cap_style=CapStyle.NOSE, nose=nose, cover_mode=CoverMode.SEPARATE)
    run = Run(job="yard", id="R", family="TOLV", quantity=30, length=channel, kind=LengthKind.CHANNEL)
    stock = tuple(StockLine(family="TOLV", part=part, length=bar) for part in Part)
    return plan_request(Request(runs=(run,), families=(family,), stock=stock, saw=saw))


def test_covers_cut_on_their_own_take_fewer_bars() -> None:
    """Channel 670 gives two a bar of 2000, cover 651 three: 30 runs take 15 and 10 (common practice)."""
    plan = covers_separate(SAW, mm(670), mm("9.5"), mm(2000))
    assert bars_by_part(plan) == {Part.CHANNEL: 15, Part.COVER: 10}


def test_covers_cut_on_their_own_in_inches() -> None:
    """The inch twin: 26 3/8 in channel, 25 5/8 in cover, 78 3/4 in bars, trims 5/16, kerf 1/8."""
    saw = SawRules(kerf=inches("1/8"), head_trim=inches("5/16"), tail_loss=inches("5/16"))
    plan = covers_separate(saw, inches("26 3/8"), inches("3/8"), inches("78 3/4"))
    assert bars_by_part(plan) == {Part.CHANNEL: 15, Part.COVER: 10}


def piece_request(lengths: dict[int, int], bars: tuple[int, ...], **more: object) -> Request:
    """Pieces (mm: count) of one material on unpriced bars."""
    lines = tuple(
        PieceLine(job="yard", id=f"L{length}", family="F", quantity=n, length=mm(length))
        for length, n in lengths.items()
    )
    stock = tuple(StockLine(family="F", length=mm(bar)) for bar in bars)
    return replace(Request(piece_lines=lines, stock=stock, saw=SAW), **more)  # type: ignore[arg-type]


def test_kerf_cliff() -> None:
    """30 x 659 on 2000: kerf 3.5 takes 10 bars, kerf 4 takes 15 (computed by hand: 3 x 659 + 2 k + 16)."""
    request = piece_request({659: 30}, (2000,))
    for kerf, bars in (("3.5", 10), ("4", 15)):
        plan = plan_request(replace(request, saw=replace(SAW, kerf=mm(kerf))))
        assert (plan.totals.bars, plan.groups[0].bound) == (bars, bars)


def test_six_metres_never_go_into_six_metres() -> None:
    """Six 1000 in a 6000 bar are short by 15 at kerf 3 even with clean ends; five fit."""
    bare = SawRules(kerf=mm(3))
    assert plan_request(piece_request({1000: 5}, (6000,), saw=bare)).totals.bars == 1
    assert plan_request(piece_request({1000: 6}, (6000,), saw=bare)).totals.bars == 2


def test_an_offcut_saves_a_bar_and_its_tail_is_told() -> None:
    """800 from the 910 offcut: no bar is bought; 910 - 800 - 3 = 107 is scrap."""
    offcut = Offcut(tag="FL-1", family="F", length=mm(910))
    plan = plan_request(piece_request({800: 1}, (2500,), offcuts=(offcut,)))
    (bar,) = plan.groups[0].bars
    assert (bar.source, bar.tail, plan.order, plan.groups[0].cost) == ("FL-1", mm(107), (), 0)


def test_two_jobs_share_a_bar_by_length() -> None:
    """1500 for one job and 500 for another from a bar of 14.00: three quarters and one quarter."""
    lines = tuple(
        PieceLine(job=job, id=job, family="F", length=mm(length))
        for job, length in (("yard", 1500), ("kiosk", 500))
    )
    stock = (StockLine(family="F", length=mm(2500), price=read_money("14.00")),)
    plan = plan_request(Request(piece_lines=lines, stock=stock, saw=SAW, currency="XTS"))
    # the tail 2500 - 8 - 2000 - 6 = 486 goes back to the rack, so 2014 is used up
    assert [(j.job, j.cost, j.consumed) for j in plan.jobs] == [
        ("kiosk", read_money("3.50"), mm("503.5")),
        ("yard", read_money("10.50"), mm("1510.5")),
    ]


def test_limited_stock_leaves_the_rest_unplaced() -> None:
    """Two bars give two of three long pieces; the third is named, with the reason."""
    request = piece_request({1900: 3}, ())
    request = replace(request, stock=(StockLine(family="F", length=mm(2000), count=2),))
    plan = plan_request(request)
    assert [(u.piece, u.code) for u in plan.unplaced] == [("L1900.3", "stock-used-up")]
    assert plan.totals.bars == 2


def test_bars_that_run_out_finish_whole_fixtures() -> None:
    """
    Four bars of 2000 on hand: a fixture of three sections and two of two sections each.

    Cutting the long fixture would leave both others unfinished; the two short ones use all four bars.
    """
    family = Family(name="F", cover_mode=CoverMode.NONE)
    runs = tuple(
        Run(job="yard", id=name, family="F", length=mm(length), kind=LengthKind.CHANNEL)
        for name, length in (("A", 5400), ("B", 3600), ("C", 3600))
    )
    stock = (StockLine(family="F", length=mm(2000), count=4),)
    plan = plan_request(Request(runs=runs, families=(family,), stock=stock, saw=SAW))
    assert {(u.run, u.code) for u in plan.unplaced} == {("A", "fixture-short")}
    assert len(plan.unplaced) == 3
    assert plan.totals.bars == 4
    assert check_proofs(plan).hold


def test_lots_in_a_chain_share_limited_bars() -> None:
    """Two lots want two bars each of three: no bar is promised twice, one piece is left out."""
    lines = tuple(
        PieceLine(job="yard", id=lot, family="F", quantity=2, length=mm(1900), lot=lot) for lot in ("A", "B")
    )
    stock = (StockLine(family="F", length=mm(2000), count=3),)
    plan = plan_request(Request(piece_lines=lines, stock=stock, saw=SAW))
    assert plan.totals.bars == 3
    assert [u.piece for u in plan.unplaced] == ["B.2"]
    assert [finding.code for finding in plan.findings] == ["shared-supply"]
    assert check_proofs(plan).hold


def test_limited_covers_are_shared_too() -> None:
    """Three covers serve two lots cut together with their covers and a cover asked for alone."""
    family = Family(name="F", cap_style=CapStyle.NOSE, nose=mm(8), cover_mode=CoverMode.OFFSET)
    lines = (
        *(PieceLine(job="yard", id=lot, family="F", length=mm(1900), lot=lot) for lot in ("A", "B")),
        *(PieceLine(job="yard", id=f"C{i}", family="F", part=Part.COVER, length=mm(1900)) for i in (1, 2)),
    )
    stock = (
        StockLine(family="F", length=mm(2000)),
        StockLine(family="F", part=Part.COVER, length=mm(2000), count=3),
    )
    plan = plan_request(Request(piece_lines=lines, families=(family,), stock=stock, saw=SAW))
    assert plan.totals.bars == 3
    assert [u.code for u in plan.unplaced] == ["stock-used-up"]
    assert check_proofs(plan).hold


def test_a_room_of_one_lot_takes_no_offcut() -> None:
    """New bars are one delivery; an offcut of any lot beside them would show."""
    family = Family(name="F", lot_rule=LotRule.ROOM)
    request = piece_request({800: 1}, (2500,), offcuts=(Offcut(tag="FL-1", family="F", length=mm(910)),))
    plan = plan_request(replace(request, families=(family,)))
    assert [bar.offcut for bar in plan.groups[0].bars] == [False]
    assert check_proofs(plan).hold


def test_same_plan_at_any_number_of_processes() -> None:
    """Processes change the speed, not the plan; nor do shuffled rows."""
    lines = tuple(
        PieceLine(job="yard", id=f"{f}{i}", family=f, quantity=3, length=mm(300 + 37 * i))
        for f in ("F", "G", "H")
        for i in range(6)
    )
    stock = tuple(StockLine(family=f, length=mm(2500)) for f in ("F", "G", "H"))
    request = Request(piece_lines=lines, stock=stock, saw=SAW)
    one = plan_request(request, Limits(processes=1))
    two = plan_request(request, Limits(processes=2))
    assert [g.bars for g in one.groups] == [g.bars for g in two.groups]
    shuffled = plan_request(replace(request, piece_lines=lines[::-1]), Limits(processes=1))
    assert (shuffled.id, [g.bars for g in shuffled.groups]) == (one.id, [g.bars for g in one.groups])


def test_inch_and_millimetre_twins_give_the_same_plan() -> None:
    """36 1/4 in is 920.75 mm: the unit a list is written in changes nothing."""
    sizes = [("36 1/4", "920.75"), ("24", "609.6"), ("17 1/2", "444.5")]
    plans = []
    for lengths in ([inches(i) for i, _ in sizes], [mm(m) for _, m in sizes]):
        lines = tuple(
            PieceLine(job="yard", id=f"L{i}", family="F", quantity=5, length=length)
            for i, length in enumerate(lengths)
        )
        stock = (StockLine(family="F", length=mm(2500)),)
        plans.append(plan_request(Request(piece_lines=lines, stock=stock, saw=SAW)))
    assert plans[0].groups[0].bars == plans[1].groups[0].bars
    assert plans[0].id == plans[1].id


@st.composite
def requests(draw: st.DrawFn) -> Request:
    """Small requests: two materials, three floors, priced bars of two lengths, a few offcuts."""
    lines = tuple(
        PieceLine(
            job=draw(st.sampled_from(["yard", "kiosk"])),
            id=f"L{i}",
            family=draw(st.sampled_from(["F", "G"])),
            quantity=draw(st.integers(1, 3)),
            length=mm(draw(st.integers(60, 1900))),
            place=Place(floor=draw(st.sampled_from(["1", "2", "3"]))),
        )
        for i in range(draw(st.integers(1, 6)))
    )
    stock = tuple(
        StockLine(family=f, length=mm(length), price=Money(draw(st.integers(1, 30)) * 10_000))
        for f in ("F", "G")
        for length in (2000, 2500)
    )
    offcuts = tuple(
        Offcut(tag=f"T{i}", family=draw(st.sampled_from(["F", "G"])), length=mm(draw(st.integers(100, 1900))))
        for i in range(draw(st.integers(0, 3)))
    )
    kerf = mm(draw(st.integers(0, 5)))
    return Request(
        piece_lines=lines, stock=stock, offcuts=offcuts, saw=replace(SAW, kerf=kerf), currency="XTS"
    )


@settings(max_examples=60, deadline=None)
@given(requests())
def test_every_plan_passes_its_audit_and_its_bound(request: Request) -> None:
    """No bound exceeds its cost, no piece is lost, and the money of the order is the plan's cost."""
    plan = plan_request(request)
    assert violations(plan) == ()
    assert all(group.bound <= group.cost for group in plan.groups)
    assert sum(line.sum or 0 for line in plan.order) == sum(group.cost for group in plan.groups)
    assert sum(job.cost for job in plan.jobs) == sum(group.cost for group in plan.groups)


@settings(max_examples=40, deadline=None)
@given(requests())
def test_the_whole_building_costs_no_more_than_its_floors(request: Request) -> None:
    """Planning floor by floor can only cost more (offcuts apart, which floors would fight for)."""
    request = replace(request, offcuts=())
    whole = sum(group.cost for group in plan_request(request).groups)
    floors = {line.place.floor for line in request.piece_lines}
    parts = 0
    for floor in floors:
        lines = tuple(line for line in request.piece_lines if line.place.floor == floor)
        parts += sum(group.cost for group in plan_request(replace(request, piece_lines=lines)).groups)
    assert whole <= parts


def cost_of(plan: Plan) -> int:
    """Give the money of every group together."""
    return sum(group.cost for group in plan.groups)


@settings(max_examples=30, deadline=None)
@given(requests(), st.integers(100, 3000), st.integers(1, 30), st.integers(100, 1900))
def test_more_stock_never_costs_more(request: Request, bar: int, price: int, offcut: int) -> None:
    """Nobody is forced to buy another length on offer, nor to fetch another offcut."""
    more = replace(
        request,
        stock=(*request.stock, StockLine(family="F", length=mm(bar), price=Money(price * 10_000))),
        offcuts=(*request.offcuts, Offcut(tag="one more", family="F", length=mm(offcut))),
    )
    assert cost_of(plan_request(more)) <= cost_of(plan_request(request))


@settings(max_examples=30, deadline=None)
@given(requests(), st.integers(0, 40))
def test_a_wider_kerf_never_costs_less(request: Request, wider: int) -> None:
    """A plan for the wider blade can be cut with the thinner one; trims stay, slivers are only warned of."""
    wide = replace(request, saw=replace(request.saw, kerf=Length(request.saw.kerf + mm(wider))))
    assert cost_of(plan_request(wide)) >= cost_of(plan_request(request))


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.integers(4, 70 * 16), st.integers(1, 4)), min_size=1, max_size=6))
def test_any_list_typed_in_inches_plans_as_its_millimetre_twin(sizes: list[tuple[int, int]]) -> None:
    """Sixteenths of an inch, typed as such and as their exact millimetres (1/16 in = 1.5875 mm)."""
    typed = (
        [inches(f"{n // 16} {n % 16}/16" if n % 16 else str(n // 16)) for n, _ in sizes],
        [mm(f"{n * 15_875 // 10_000}.{n * 15_875 % 10_000:04d}") for n, _ in sizes],
    )
    twins = []
    for lengths in typed:
        lines = tuple(
            PieceLine(job="yard", id=f"L{i}", family="F", quantity=count, length=length)
            for i, (length, (_, count)) in enumerate(zip(lengths, sizes, strict=True))
        )
        stock = (StockLine(family="F", length=mm(2500)),)
        twins.append(plan_request(Request(piece_lines=lines, stock=stock, saw=SAW)))
    assert (twins[0].id, twins[0].groups[0].bars) == (twins[1].id, twins[1].groups[0].bars)
