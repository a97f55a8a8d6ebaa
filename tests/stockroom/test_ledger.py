"""The books: whatever the shop does, no metre is made or lost, and the ledger alone tells what is there."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.material import Material, Part
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.domain.stock import Offcut
from nesting.errors import ProblemError
from nesting.stockroom import rack, shelves
from nesting.stockroom.cutting import CutReport, cut_bar, use_up
from nesting.stockroom.ledger import Account, Entry, Kind, Posting, balance, countered, held_by_thing
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.shelves import Shelf, ShelfMove, Taken
from nesting.stockroom.states import StockConflict
from nesting.units import NO_LENGTH, Length, mm

SAW = SawRules(kerf=mm(3), keep_length=mm(400))
MATERIAL = Material("TOLV-17N", "", Part.CHANNEL)
BAR = mm(2500)


def test_an_entry_that_does_not_sum_to_zero_cannot_be_built() -> None:
    """Length never comes from nowhere."""
    with pytest.raises(ProblemError, match="sum to zero"):
        Entry(kind=Kind.CUT, thing="x", postings=(Posting(Account.STORE, 1),))


def test_a_counter_entry_puts_all_of_another_back() -> None:
    """A bar cut and its report taken back: both stand in the ledger, and every account is at zero."""
    cut_of_it = Entry(
        kind=Kind.CUT,
        thing="shelf",
        bars=1,
        plan="p",
        bar=7,
        postings=(Posting(Account.STORE, -BAR), Posting(Account.GOOD, BAR)),
    )
    (back,) = countered([cut_of_it], reason="it was bar 8")
    assert (back.kind, back.thing, back.plan, back.bar) == (Kind.WITHDRAW, "shelf", "p", 7)
    assert (back.bars, back.reason) == (1, "it was bar 8")
    assert set(balance([cut_of_it, back]).values()) == {0}


@dataclass
class Shop:
    """A shop that does anything at any time, and writes down what the stockroom tells it to."""

    shelf: Shelf = field(default_factory=lambda: Shelf(key="shelf", family="TOLV-17N", length=BAR))
    rack: dict[str, Tagged] = field(default_factory=dict)
    ledger: list[Entry] = field(default_factory=list)
    cut: tuple[str, Taken, tuple[Entry, ...]] | None = None

    def keep(self, move: Move) -> None:
        self.rack[move.after.offcut.tag] = move.after
        self.ledger.append(move.entry)

    def keep_shelf(self, move: ShelfMove) -> None:
        self.shelf = move.after
        self.ledger.extend(move.entries)

    def held(self) -> dict[str, int]:
        on_rack = {tag: int(one.offcut.length) for tag, one in self.rack.items() if one.state.held}
        return {**on_rack, **({"shelf": self.shelf.on_hand * BAR} if self.shelf.on_hand else {})}


def do(shop: Shop, act: str, number: int, length: Length, plan: str) -> None:
    """Do one thing; what the stockroom refuses must leave everything as it was."""
    tags = sorted(shop.rack)
    one = shop.rack[tags[number % len(tags)]] if tags else None
    if act == "receive":
        shop.keep(rack.receive(Offcut(tag=f"T{len(shop.ledger)}", family="TOLV-17N", length=length)))
    elif act == "bars":
        shop.keep_shelf(shelves.receive_bars(shop.shelf, number % 4 + 1))
    elif act == "count":
        shop.keep_shelf(shelves.count_bars(shop.shelf, number % 6, reason="count"))
    elif act == "reserve bars":
        shop.keep_shelf(shelves.reserve_bars(shop.shelf, plan, number % 3 + 1))
    elif act == "free bars":
        shop.keep_shelf(shelves.free_bars(shop.shelf, plan))
    elif act == "dent":
        shop.keep_shelf(shelves.quarantine_plans_bar(shop.shelf, plan, number, reason="dent"))
    elif act == "lose bar":
        shop.keep_shelf(shelves.lose_plans_bar(shop.shelf, plan, number, reason="gone"))
    elif act == "set aside":
        shop.keep_shelf(shelves.quarantine_bars(shop.shelf, 1, reason="dent"))
    elif act == "restore bar":
        shop.keep_shelf(shelves.restore_bars(shop.shelf, 1, reason="fine"))
    elif act == "scrap bar":
        shop.keep_shelf(shelves.scrap_bars(shop.shelf, 1, reason="bent"))
    elif act == "cut bar":
        which = shelves.next_taken(shop.shelf, plan)
        shop.keep_shelf(shelves.take_bar(shop.shelf, plan))
        shop.cut = (plan, which, cut(shop, "shelf", BAR, number, length, offcut=False))
    elif act == "take back":
        if shop.cut:
            take_back(shop, *shop.cut)
    elif one is not None:
        do_offcut(shop, act, one, number, length, plan)


def take_back(shop: Shop, plan: str, which: Taken, entries: tuple[Entry, ...]) -> None:
    """Take the last report on a new bar back, as long as its tail is on the rack as it was."""
    born = [entry.thing for entry in entries if entry.kind is Kind.TAIL]
    for tag in born:
        if any(entry.thing == tag and entry.kind is Kind.MEASURE for entry in shop.ledger):
            return
        shop.rack[tag] = rack.withdraw(shop.rack[tag])
    shop.keep_shelf(shelves.give_bar_back(shop.shelf, plan, 1, which, reason="mistake"))
    shop.ledger.extend(countered(entries, reason="mistake"))
    shop.cut = None


def do_offcut(shop: Shop, act: str, one: Tagged, number: int, length: Length, plan: str) -> None:
    if act == "cut":
        used = use_up(one, plan)
        shop.rack[one.offcut.tag] = used
        cut(shop, one.offcut.tag, one.offcut.length, number, length, offcut=True)
        return
    acts = {
        "reserve": lambda: rack.reserve(one, plan),
        "free": lambda: rack.free(one, plan),
        "quarantine": lambda: rack.quarantine(one, reason="scratch", plan=plan),
        "restore": lambda: rack.restore(one, reason="fine"),
        "scrap": lambda: rack.scrap(one, reason="bent"),
        "lose": lambda: rack.lose(one, reason="gone", plan=plan),
        "find": lambda: rack.find(one, length, reason="there"),
        "measure": lambda: rack.measure(one, length, reason="tape"),
    }
    shop.keep(acts[act]())


def cut(
    shop: Shop, thing: str, whole: Length, number: int, tail: Length, *, offcut: bool
) -> tuple[Entry, ...]:
    """Cut a third of the bar off; the tape reads what it reads. Give what the ledger says of it."""
    piece = Length(whole // 3)
    kerf = min(SAW.kerf, Length(whole - piece))
    bar = PlannedBar(
        number=number + 1,
        source=thing,
        offcut=offcut,
        length=whole,
        head=NO_LENGTH,
        tail_loss=NO_LENGTH,
        cuts=(Cut("A", piece, piece),),
        strokes=1,
        kerf_loss=kerf,
        tail=Length(whole - piece - kerf),
        fate=TailFate.SCRAP,
    )
    measured = tail if tail < whole else None
    report = CutReport(tail=measured, spoiled=("A",) if number % 3 == 0 else ())
    done = cut_bar(bar, MATERIAL, SAW, report, thing=thing, plan="p", tag=f"N{len(shop.ledger)}")
    shop.ledger.extend(done.entries)
    if done.born:
        shop.rack[done.born.tag] = Tagged(offcut=done.born)
    return done.entries


ACTS = (
    *("receive", "reserve", "free", "quarantine", "restore", "scrap", "lose", "find", "measure", "cut"),
    *("bars", "count", "reserve bars", "free bars", "dent", "lose bar", "set aside", "restore bar"),
    *("scrap bar", "cut bar", "take back"),
)
STEPS = st.tuples(
    st.sampled_from(ACTS),
    st.integers(0, 30),
    st.integers(1, BAR).map(Length),
    st.sampled_from(("p1", "p2", "p3")),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(STEPS, max_size=40))
def test_metres_are_conserved_and_the_ledger_replays_to_what_is_there(
    steps: list[tuple[str, int, Length, str]],
) -> None:
    """After any history: all accounts sum to zero, and replaying the entries gives every held length."""
    shop = Shop()
    for act, number, length, plan in steps:
        before = (shop.shelf, dict(shop.rack), len(shop.ledger))
        try:
            do(shop, act, number, length, plan)
        except StockConflict:
            assert (shop.shelf, shop.rack, len(shop.ledger)) == before
    sums = balance(shop.ledger)
    assert sum(sums.values()) == 0
    assert sums[Account.STORE] == sum(shop.held().values())
    assert held_by_thing(shop.ledger) == shop.held()
