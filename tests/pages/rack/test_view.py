"""The rack as rows of words."""

from __future__ import annotations

from api.pages.rack.find import Wanted, read_wanted
from api.pages.rack.one import show_offcut
from api.pages.rack.view import RackView, show_rack
from nesting.reports.lengths import BothUnits
from nesting.units import Unit
from tests.pages.live import Site

INCHES = BothUnits(Unit.INCH)


def rack(site: Site, lengths: BothUnits | None = None, **query: str) -> RackView:
    with site.store.read() as session:
        wanted = read_wanted(query, Unit.MM) if query else Wanted()
        return show_rack(session, wanted, lengths or BothUnits(), site.store.now(session))


def test_a_row_says_length_ends_place_age_and_worth(site: Site) -> None:
    """FL-407, 1822 mm: 14.00 x 1822 / 2500 = 10.2032 and 11.40 x 1822 / 2000 = 10.3854, so 10.20."""
    line = rack(site).lines[0]
    assert (line.tag, line.place, line.ends, line.age) == ("FL-407", "B, shelf 3", "one end raw", "today")
    assert line.length == "1822\N{NO-BREAK SPACE}mm"
    assert line.worth == "10.20"
    assert line.holder is None


def test_inches_lead_where_they_are_wanted(site: Site) -> None:
    """The other unit still stands beside."""
    line = rack(site, INCHES).lines[0]
    assert line.length.endswith("in")
    assert line.other_length == "1822\N{NO-BREAK SPACE}mm"


def test_the_sum_is_said_only_for_what_is_listed(site: Site) -> None:
    """1822 + 1815 = 3637 mm = 3.637 m; 10.20 + 10.16 (14.00 x 1815 / 2500 = 10.164) = 20.36."""
    said = rack(site, shortest="1815").said.replace("\N{NO-BREAK SPACE}", " ")
    assert said.startswith("2 offcuts, 3.64 m (11.93 ft) in all")
    assert said.endswith("worth 20.36 as new metal")
    assert rack(site, tag="nothing").said == "0 offcuts"


def test_who_has_an_offcut_is_named_with_the_bar(site: Site) -> None:
    """The storekeeper must know for whom a reserved offcut waits, and where its report belongs."""
    plan = site.release()
    line = next(line for line in rack(site).lines if line.tag == "FL-407")
    assert line.state == "reserved"
    assert line.holder is not None
    assert line.holder.plan == plan
    bars = site.client.get(f"/v1/plans/{plan}/bars", params={"limit": 500}).json()
    assert line.holder.bar == next(bar["number"] for bar in bars if bar["offcut"] == "FL-407")


def test_an_offcut_born_of_a_bar_names_it(site: Site) -> None:
    """Where metal is from can be looked up years later."""
    plan = site.release()
    bars = site.client.get(f"/v1/plans/{plan}/bars", params={"limit": 500}).json()
    bar = next(bar for bar in bars if bar["tail_tag"])
    born = site.post(f"/v1/plans/{plan}/bars/{bar['number']}/report", {"outcome": "cut"}).json()["born"]
    with site.store.read() as session:
        view = show_offcut(session, born, BothUnits(), site.store.now(session))
    assert view.born is not None
    assert (view.born.plan, view.born_bar) == (plan, bar["number"])
    assert [event.what for event in view.events] == ["left over and put on the rack"]
