"""Stocktaking: what was found goes into the books in one stroke."""

from __future__ import annotations

from api.pages.rack.answers import Answers
from api.pages.rack.stocktake import Taken, rack_by_place, take_stock
from nesting.reports.lengths import BothUnits
from nesting.units import Unit
from tests.pages.live import Site


def take(site: Site, **found: str) -> tuple[Taken | None, dict[str, str]]:
    """Send the whole form; ``FL_407="here"`` or a length."""
    with site.store.read() as session:
        places = rack_by_place(session, BothUnits(), 0)
    given = {f"found {line.tag}": "" for place in places for line in place.lines}
    for tag, said in found.items():
        field = "found" if said in ("here", "not here", "") else "length"
        given[f"{field} {tag.replace('_', '-')}"] = said
    answers = Answers(given, Unit.MM)
    with site.store.write() as session:
        return take_stock(session, answers, "Wim", site.store.now(session)), answers.errors


def state(site: Site, tag: str) -> tuple[str, int]:
    stands = site.client.get(f"/v1/offcuts/{tag}").json()
    return stands["state"], stands["length"]["nm"] // 1_000_000


def test_the_rack_is_walked_place_by_place(site: Site) -> None:
    """Four places in the demo; one place alone can be asked for."""
    with site.store.read() as session:
        places = rack_by_place(session, BothUnits(), 0)
        one = rack_by_place(session, BothUnits(), 0, place="B, shelf 1")
    assert [place.name for place in places] == ["A, shelf 1", "A, shelf 4", "B, shelf 1", "B, shelf 3"]
    assert [[line.tag for line in place.lines] for place in one] == [["FL-456", "FL-470"]]


def test_what_was_found_is_written_down(site: Site) -> None:
    """Seen, measured a millimetre shorter, and gone; what nobody looked at stays as it is."""
    taken, errors = take(site, FL_407="here", FL_414="1814", FL_421="not here", FL_428="1224")
    assert errors == {}
    assert taken == Taken(seen=2, measured=1, missing=1)
    assert state(site, "FL-414") == ("free", 1814)
    assert state(site, "FL-421") == ("lost", 1236)
    assert state(site, "FL-435") == ("free", 1212)


def test_one_mistake_leaves_everything_as_it_was(site: Site) -> None:
    """Half a stocktake in the books is worse than none; all mistakes come at once."""
    site.release()
    taken, errors = take(site, FL_407="not here", FL_414="18x4", FL_470="not here")
    assert taken is None
    assert "found FL-407" in errors
    assert "length FL-414" in errors
    assert state(site, "FL-470")[0] != "lost"


def test_a_reserved_offcut_can_be_seen_but_not_measured_anew(site: Site) -> None:
    """Its plan counts on the length; a difference is reported at the saw."""
    site.release()
    assert take(site, FL_407="here")[1] == {}
    assert take(site, FL_407="1822")[1] == {}
    assert "reserved" in take(site, FL_407="1820")[1]["length FL-407"]


def test_a_length_and_not_here_contradict_each_other(site: Site) -> None:
    """One of the two is a slip, and only a person knows which."""
    answers = Answers({"found FL-407": "not here", "length FL-407": "1822"}, Unit.MM)
    with site.store.write() as session:
        assert take_stock(session, answers, "Wim", 0) is None
    assert answers.errors.keys() == {"length FL-407"}
