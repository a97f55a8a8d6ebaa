"""Reports from the saw: where every nanometre of a bar goes."""

import pytest

from nesting.domain.material import Material, Part
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.domain.stock import EndState, Offcut
from nesting.stockroom import rack
from nesting.stockroom.cutting import (
    CutReport,
    ReportNotPossible,
    cut_bar,
    cut_cover,
    given_up,
    keep_spoiled,
    not_made,
    open_again,
    tail_left,
    use_up,
)
from nesting.stockroom.ledger import Account, Entry, balance, held_by_thing
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.states import State, StockConflict
from nesting.units import NO_LENGTH, Length, mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400))
MATERIAL = Material("TOLV-17N", "natural", Part.CHANNEL, "OY")


def planned(tail_loss: Length = SAW.tail_loss) -> PlannedBar:
    """Give 2500 = 8 + 2 x 610 + 2 x 3 + 1266."""
    cuts = (Cut("A", mm(610), mm(610)), Cut("B", mm(610), mm(1223)))
    return PlannedBar(
        number=4,
        source="stock:0",
        offcut=False,
        length=mm(2500),
        head=mm(8),
        tail_loss=tail_loss,
        cuts=cuts,
        strokes=3,
        kerf_loss=mm(6),
        tail=mm(1266),
        fate=TailFate.OFFCUT,
        tail_tag="P1-4",
    )


def sums(report: CutReport) -> dict[str, int]:
    done = cut_bar(planned(), MATERIAL, SAW, report, thing="shelf", plan="p", tag="P1-4")
    return {account.value: length // mm(1) for account, length in balance(done.entries).items() if length}


def test_a_bar_cut_as_planned() -> None:
    """The bar leaves the shelf, its tail comes back under its own tag."""
    done = cut_bar(planned(), MATERIAL, SAW, CutReport(place="B3"), thing="shelf", plan="p", tag="P1-4")
    assert held_by_thing(done.entries) == {"shelf": -mm(2500), "P1-4": mm(1266)}
    born = done.born
    assert born is not None
    assert (born.length, born.lot, born.place) == (mm(1266), "OY", "B3")
    assert (born.left, born.right) == (EndState.CLEAN, EndState.RAW)
    assert sums(CutReport()) == {"store": -1234, "good": 1220, "kerf": 6, "trim": 8}


def test_a_tail_of_a_bar_without_raw_ends_is_clean_on_both() -> None:
    """An offcut with two saw faces leaves one with two saw faces."""
    done = cut_bar(planned(NO_LENGTH), MATERIAL, SAW, CutReport(), thing="s", plan="p", tag="P1-4")
    assert done.born is not None
    assert done.born.right is EndState.CLEAN


def test_the_measured_tail_counts() -> None:
    """Two millimetres more than planned: the bar was over-measure, and the books say so."""
    assert sums(CutReport(tail=mm(1268)))["measure"] == -2
    assert sums(CutReport(tail=mm(1268)))["store"] == -1232


def test_a_tail_below_the_keep_length_is_scrap() -> None:
    """399 of 400: no tag is given out."""
    done = cut_bar(planned(), MATERIAL, SAW, CutReport(tail=mm(399)), thing="s", plan="p", tag="P1-4")
    assert done.born is None
    assert sums(CutReport(tail=mm(399)))["scrap"] == 399


def test_spoiled_pieces_are_scrap_not_good() -> None:
    """One of two spoiled: 610 each way."""
    wrong = sums(CutReport(spoiled=("B",)))
    assert (wrong["good"], wrong["scrap"]) == (610, 610)


def test_what_came_out_too_long_is_missing_from_the_tail() -> None:
    """625 instead of 610 leaves 1266 - 15 = 1251, unless the tape says otherwise."""
    said = CutReport(spoiled=("B",), came_out=(("B", mm(625)),))
    assert tail_left(planned(), said) == mm(1251)
    assert tail_left(planned(), CutReport(tail=mm(1250), spoiled=("B",), came_out=said.came_out)) == mm(1250)


def spoiled_to(millimetres: int) -> tuple[Move, tuple[Entry, ...]]:
    """Give what came out of piece B, with all entries of its bar."""
    said = CutReport(spoiled=("B",), came_out=(("B", mm(millimetres)),))
    cut = cut_bar(planned(), MATERIAL, SAW, said, thing="shelf", plan="p", tag="P1-4")
    ends = (EndState.CLEAN, EndState.RAW)
    move = keep_spoiled(planned(), MATERIAL, "B", mm(millimetres), saw=SAW, ends=ends, plan="p", tag="P1-4S1")
    return move, (*cut.entries, move.entry)


def test_a_piece_that_came_out_short_goes_on_the_rack() -> None:
    """As long as the keep length it is an offcut, and no metal is lost."""
    move, entries = spoiled_to(400)
    kept = move.after.offcut
    assert (kept.length, kept.right, kept.lot, move.after.state) == (mm(400), EndState.RAW, "OY", State.FREE)
    assert sum(balance(entries).values()) == 0
    # The tail is 210 longer than planned: 1476 on the rack beside the 400.
    assert held_by_thing(entries) == {"shelf": -mm(2500), "P1-4": mm(1476), "P1-4S1": mm(400)}


def test_a_piece_shorter_than_the_keep_length_is_scrap() -> None:
    """399 lies on no rack: its length is counted as scrap, with its tag and why."""
    move, entries = spoiled_to(399)
    assert move.after.state is State.SCRAPPED
    # 2500 = 8 + 610 + 6 + 1477 on the rack + 399.
    assert held_by_thing(entries) == {"shelf": -mm(2500), "P1-4": mm(1477)}
    assert balance(entries)[Account.SCRAP] == mm(399)
    assert move.entry.reason == "came out of B, shorter than 400 mm"


def test_a_bar_given_up_after_its_first_cut() -> None:
    """What is sawn stays good, and of the rest only what is damaged is lost.

    2500 - 8 - 610 - 3 = 1879 are left behind the first cut; 1500 of them are good, 379 are not.
    """
    said = CutReport(made=1, tail=mm(1500), place="B3")
    assert sums(said) == {"store": -1000, "good": 610, "kerf": 3, "trim": 8, "scrap": 379}
    done = cut_bar(planned(), MATERIAL, SAW, said, thing="shelf", plan="p", tag="P1-4")
    assert done.born is not None
    assert (done.born.tag, done.born.length, done.born.place) == ("P1-4", mm(1500), "B3")
    assert not_made(planned(), said) == ("B",)


def test_a_bar_given_up_before_any_cut_was_not_trimmed() -> None:
    """A dent at one end leaves the rest to the rack; nothing is called good, trim or kerf."""
    assert sums(CutReport(made=0, tail=mm(2100))) == {"store": -400, "scrap": 400}
    assert sums(CutReport(made=0)) == {"store": -2500, "scrap": 2500}
    assert not_made(planned(), CutReport(made=0)) == ("A", "B")
    assert not_made(planned(), CutReport()) == ()


def test_a_rest_that_measures_more_is_a_measuring_difference() -> None:
    """Protects the account: bars are a little longer than they say, and nothing of that is scrap.

    1879 are left by the drawing, 1882 by the tape.
    """
    assert sums(CutReport(made=1, tail=mm(1882)))["measure"] == -3
    assert "scrap" not in sums(CutReport(made=1, tail=mm(1882)))


def test_a_bar_is_given_up_before_its_last_cut_only() -> None:
    """With every cut made there is nothing to give up: the bar is cut, and its tail is what it is."""
    for made in (2, 3):
        with pytest.raises(ReportNotPossible):
            given_up(planned(), CutReport(made=made))
    with pytest.raises(ReportNotPossible):
        sums(CutReport(made=1, tail=mm(1960)))  # 1879 lie behind the first cut
    assert given_up(planned(), CutReport()) == planned()
    assert given_up(planned(), CutReport(made=1)).tail == mm(1879)


def test_the_cover_of_a_bar_given_up() -> None:
    """The cover was sawn with it: what was made is good, what is not good of the rest is scrap."""
    covers = {"A": mm(606), "B": mm(606)}
    said = CutReport(made=1, tail=mm(1500))
    given = balance([cut_cover(planned(), said, covers, thing="c", plan="p", kept=True)])
    # 4 of the cover are cut off its first piece, 379 lie behind the damage.
    assert (given[Account.GOOD], given[Account.PAIRED], given[Account.SCRAP]) == (mm(606), mm(1500), mm(383))
    assert not given.get(Account.MEASURE, 0)


def test_what_the_bar_contradicts_is_refused() -> None:
    """A piece of another bar, or more tail than bar."""
    for report in (CutReport(spoiled=("Z",)), CutReport(tail=mm(2500)), CutReport(tail=Length(-1))):
        with pytest.raises(ReportNotPossible):
            cut_bar(planned(), MATERIAL, SAW, report, thing="s", plan="p", tag="P1-4")


def test_the_cover_cut_along() -> None:
    """Covers 19 shorter than their channels leave 38 more scrap; the tail stays with its channel."""
    covers = {"A": mm(591), "B": mm(591)}
    kept = balance([cut_cover(planned(), CutReport(), covers, thing="c", plan="p", kept=True)])
    assert (kept[Account.GOOD], kept[Account.SCRAP], kept[Account.PAIRED]) == (mm(1182), mm(38), mm(1266))
    thrown = balance([cut_cover(planned(), CutReport(), covers, thing="c", plan="p", kept=False)])
    assert (thrown[Account.SCRAP], thrown[Account.PAIRED]) == (mm(38 + 1266), 0)


def test_the_cover_of_a_piece_that_came_out_short() -> None:
    """It was sawn as short as its channel: the longer tail is planned metal, no measuring difference."""
    covers = {"A": mm(606), "B": mm(606)}
    said = CutReport(spoiled=("B",), came_out=(("B", mm(400)),))
    sawn = balance([cut_cover(planned(), said, covers, thing="c", plan="p", kept=True)])
    # 4 of the cover are cut off its first piece, 400 are its second one.
    assert (sawn[Account.GOOD], sawn[Account.PAIRED], sawn[Account.SCRAP]) == (mm(606), mm(1476), mm(404))
    assert not sawn.get(Account.MEASURE, 0)


def test_only_the_plan_that_has_an_offcut_may_cut_it() -> None:
    """A report for an offcut that was freed meanwhile is refused."""
    free = Tagged(offcut=Offcut(tag="FL-1", family="TOLV-17N", length=mm(1300)))
    with pytest.raises(StockConflict):
        use_up(free, "p")
    cut = use_up(rack.reserve(free, "p").after, "p")
    assert (cut.state, cut.plan) == (State.CUT, "p")


def test_what_must_be_made_again() -> None:
    """The spoiled pieces of a cut bar, all of one that was not cut."""
    assert open_again(planned(), ("B",), cut=True) == ("B",)
    assert open_again(planned(), (), cut=False) == ("A", "B")
