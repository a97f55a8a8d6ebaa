"""Which bars each group may use, and which groups share them."""

from dataclasses import replace

from nesting.batch.split import Split, building_order, split, take_from
from nesting.domain.material import CapStyle, CoverMode, Family, Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import Place
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.money import Money, read_money
from nesting.units import Length, mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400))
CHANNEL = Material("TOLV-17N", "natural", Part.CHANNEL)


def a_piece(number: int, length: Length, material: Material = CHANNEL, place: Place | None = None) -> Piece:
    return Piece(
        id=f"P{number}",
        job="yard",
        run=f"P{number}",
        material=material,
        length=length,
        exact=length,
        place=place or Place(),
    )


def bars_of(done: Split) -> list[tuple[str, int, int, int, int | None]]:
    """Key, head, tail, cost and count of the first group's bars."""
    problem = done.chains[0][0].problem
    return [(bar.key, bar.head, bar.tail, bar.cost, bar.count) for bar in problem.bars]


def stock(length: int, price: str | None = None, **more: object) -> StockLine:
    line = StockLine(
        family="TOLV-17N",
        finish="natural",
        length=mm(length),
        price=None if price is None else read_money(price),
    )
    return replace(line, **more)  # type: ignore[arg-type]


def test_offcut_ends_decide_its_losses() -> None:
    """A clean end needs no trim; one raw end costs the tail loss only, two raw ends cost both."""
    ends = {"FL-1": ("clean", "raw"), "FL-2": ("raw", "raw"), "FL-3": ("clean", "clean")}
    offcuts = tuple(
        Offcut(
            tag=tag,
            family="TOLV-17N",
            finish="natural",
            length=mm(900),
            left=EndState(left),
            right=EndState(right),
        )
        for tag, (left, right) in ends.items()
    )
    request = Request(stock=(stock(2500, "14.00"),), offcuts=offcuts, saw=SAW)
    assert bars_of(split(request, [a_piece(1, mm(800))])) == [
        ("stock:0", mm(8), mm(8), read_money("14.00"), None),
        ("FL-1", 0, mm(8), 0, 1),
        ("FL-2", mm(8), mm(8), 0, 1),
        ("FL-3", 0, 0, 0, 1),
    ]


def test_bars_count_one_each_when_no_price_is_known() -> None:
    """Without prices the least number of new bars is sought, and offcuts are free."""
    offcut = Offcut(tag="FL-1", family="TOLV-17N", finish="natural", length=mm(900), value=Money(5))
    done = split(Request(stock=(stock(2500),), offcuts=(offcut,), saw=SAW), [a_piece(1, mm(800))])
    assert not done.chains[0][0].priced
    assert [cost for _, _, _, cost, _ in bars_of(done)] == [1, 0]


def test_a_cover_cut_together_is_paid_with_its_channel() -> None:
    """Channel 14.00 and its cover 3.00 make a bar of 17.00; a length without a cover is not on offer."""
    family = Family(name="TOLV-17N", cap_style=CapStyle.NOSE, nose=mm(8), cover_mode=CoverMode.OFFSET)
    cover = stock(2500, "3.00", part=Part.COVER, count=7)
    request = Request(families=(family,), stock=(stock(2000, "11.40"), stock(2500, "14.00"), cover), saw=SAW)
    done = split(request, [a_piece(1, mm(800))])
    assert bars_of(done) == [("stock:1", mm(8), mm(8), read_money("17.00"), 7)]
    assert done.chains[0][0].cover_follows


def test_a_lot_takes_offcuts_of_its_own_lot_only() -> None:
    """Two lots of one finish never meet in one bound group."""
    bound = Material("TOLV-17N", "natural", Part.CHANNEL, "lot 7")
    other = Offcut(tag="FL-1", family="TOLV-17N", finish="natural", length=mm(900), lot="lot 6")
    own = replace(other, tag="FL-2", lot="lot 7")
    done = split(Request(stock=(stock(2500),), offcuts=(other, own), saw=SAW), [a_piece(1, mm(800), bound)])
    assert [key for key, *_ in bars_of(done)] == ["stock:0", "FL-2"]


def test_what_fits_no_bar_is_left_out_with_the_reason() -> None:
    """A piece longer than any bar, and a material nobody stocks, are told apart; the rest is planned."""
    unstocked = Material("QUEN-30M", "natural", Part.CHANNEL)
    pieces = [a_piece(1, mm(2485)), a_piece(2, mm(2484)), a_piece(3, mm(100), unstocked)]
    done = split(Request(stock=(stock(2500),), saw=SAW), pieces)
    assert [(u.piece, u.code) for u in done.unplaced] == [("P3", "not-stocked"), ("P1", "too-long")]
    assert "2484 mm after trims" in done.unplaced[1].reason
    assert [piece.id for piece in done.chains[0][0].pieces] == ["P2"]


def test_groups_that_share_limited_bars_form_a_chain() -> None:
    """Two lots drawing on 12 bars are planned in turn; with unlimited bars they are independent."""
    lots = [Material("TOLV-17N", "natural", Part.CHANNEL, lot) for lot in ("lot 6", "lot 7")]
    pieces = [a_piece(i, mm(800), lot) for i, lot in enumerate(lots)]
    assert [len(c) for c in split(Request(stock=(stock(2500, count=12),), saw=SAW), pieces).chains] == [2]
    assert [len(c) for c in split(Request(stock=(stock(2500),), saw=SAW), pieces).chains] == [1, 1]


def test_what_the_chain_has_used_is_gone() -> None:
    """The next group of a chain sees the bars that are left; unlimited ones stay unlimited."""
    request = Request(stock=(stock(2500, count=12), stock(2000)), saw=SAW)
    group = split(request, [a_piece(1, mm(800))]).chains[0][0]
    left = take_from(group, {0: 5, 1: 9}, set())
    assert [bar.count for bar in left.problem.bars] == [7, None]


def test_numbers_in_names_count_as_numbers() -> None:
    """Floor 10 comes after floor 9, unit 9 before unit 10."""
    places = [Place(floor="10"), Place(floor="9", unit="10"), Place(floor="9", unit="9")]
    pieces = [a_piece(i, mm(500), place=place) for i, place in enumerate(places)]
    assert [piece.id for piece in sorted(pieces, key=building_order)] == ["P2", "P1", "P0"]
