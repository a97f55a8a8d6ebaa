"""Bars on hand: counted, delivered, set aside."""

from __future__ import annotations

from api.pages.rack.answers import Answers
from api.pages.rack.bars import BarAct, BarsLine, add_bars, do_with_bars, list_bars, show_bars
from nesting.reports.lengths import BothUnits
from nesting.units import Unit
from tests.pages.live import Site


def line(site: Site, family: str = "TOLV-17N", number: int = 0) -> BarsLine:
    with site.store.read() as session:
        return list_bars(session, BothUnits(), family=family)[number]


def act(site: Site, what: BarAct, bars: str, **given: str) -> dict[str, str]:
    stands = line(site)
    answers = Answers({"version": str(stands.version), "bars": bars, **given}, Unit.MM)
    with site.store.write() as session:
        done = do_with_bars(session, stands.id, what, answers, "Wim", site.store.now(session))
    assert done == (not answers.errors)
    return answers.errors


def test_stock_lengths_are_listed_by_material_and_length(site: Site) -> None:
    """The demo lists twelve; two of TOLV-17N at 11.40 and 14.00."""
    with site.store.read() as session:
        assert len(list_bars(session, BothUnits())) == 12
        assert [one.price for one in list_bars(session, BothUnits(), family="TOLV-17N")] == ["11.40", "14.00"]
        assert list_bars(session, BothUnits(), finish="-") == ()


def test_deliveries_add_and_counts_set(site: Site) -> None:
    """12 come, 11 are counted, 2 of them are set aside, 1 is put back, 1 scrapped."""
    assert act(site, BarAct.RECEIVE, "12") == {}
    assert act(site, BarAct.COUNT, "11") == {}
    assert act(site, BarAct.QUARANTINE, "2", reason="dented") == {}
    stands = line(site)
    assert (stands.free, stands.set_aside, stands.on_hand) == (9, 2, 11)
    assert act(site, BarAct.RESTORE, "1", reason="looked again") == {}
    assert act(site, BarAct.SCRAP, "1", reason="bent") == {}
    assert line(site).on_hand == 10
    with site.store.read() as session:
        view = show_bars(session, line(site).id, BothUnits())
    assert [event.what for event in view.events][-2:] == [
        "counted, 1 bar fewer than written",
        "12 bars came in",
    ]
    assert view.may("quarantine")
    assert not view.may("scrap")


def test_what_is_no_number_of_bars_is_told(site: Site) -> None:
    """Half a bar, none delivered, more than stand there, no reason: each beside its field."""
    assert act(site, BarAct.RECEIVE, "1.5").keys() == {"bars"}
    assert act(site, BarAct.RECEIVE, "0").keys() == {"bars"}
    assert act(site, BarAct.COUNT, "0") == {}
    assert act(site, BarAct.QUARANTINE, "3").keys() == {"reason"}
    assert act(site, BarAct.QUARANTINE, "3", reason="dented") == {"bars": "Only 0 are free."}
    assert act(site, BarAct.SCRAP, "1", reason="bent") == {"bars": "Only 0 are set aside."}


def test_a_count_never_takes_bars_from_a_plan(site: Site) -> None:
    """50 bars, some of them kept for a released plan: fewer than those cannot have been counted."""
    act(site, BarAct.RECEIVE, "50")
    site.release()
    stands = line(site)
    assert stands.reserved > 0
    assert stands.kept[0].bars == stands.reserved
    assert act(site, BarAct.COUNT, str(stands.reserved - 1))["bars"].startswith(f"{stands.reserved} of the")


def test_only_a_delivery_may_be_told_from_an_old_page(site: Site) -> None:
    """It adds and cannot overwrite; a count would."""
    act(site, BarAct.RECEIVE, "5")
    assert act(site, BarAct.RECEIVE, "5", version="1") == {}
    assert act(site, BarAct.COUNT, "9", version="1").keys() == {"act"}


def test_how_bars_are_sold_is_said_where_it_is_not_bar_by_bar(site: Site) -> None:
    """Whoever counts sees what the next order comes in."""
    assert line(site).terms == ""
    terms = {"pack": 10, "minimum": 20, "supplier": "Ashgrove", "lead_days": 1, "currency": "XTS"}
    stands = f"/v1/stock/{line(site).id}"
    changed = site.client.patch(stands, json=terms, headers={"If-Match": "*"})
    assert changed.status_code == 200, changed.text
    assert line(site).terms == "in packs of 10, 20 at least, from Ashgrove, 1 day"
    assert line(site).price == "11.40 XTS"


def test_a_stock_length_is_added_once(site: Site) -> None:
    """With the bars that stand there; the same length twice would be two counts of one shelf."""
    given = {"family": "TOLV-17N", "finish": "natural", "length": "3 m", "price": "17.10", "bars": "4"}
    with site.store.write() as session:
        made = add_bars(session, Answers(given, Unit.MM), "Wim", site.store.now(session))
        assert made is not None
        assert show_bars(session, made, BothUnits()).line.free == 4
        again = Answers({**given, "bars": "many", "family": ""}, Unit.MM)
        assert add_bars(session, again, "Wim", 0) is None
        assert again.errors.keys() == {"bars", "family"}
        twice = Answers(given, Unit.MM)
        assert add_bars(session, twice, "Wim", 0) is None
        assert twice.errors.keys() == {"length"}
