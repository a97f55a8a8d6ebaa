"""What a storekeeper does with an offcut, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from api.pages.rack.acts import Act, acts_for, add_offcut, do
from api.pages.rack.answers import Answers
from api.pages.rack.one import show_offcut
from nesting.reports.lengths import BothUnits
from nesting.stockroom.states import State
from nesting.units import Unit
from tests.pages.live import Site

NEW = {"tag": "FL-900", "family": "TOLV-17N", "finish": "natural", "length": "1203", "place": "A, shelf 2"}


def act(site: Site, tag: str, what: Act, **given: str) -> dict[str, str]:
    """Do it with the version that stands there; give what was told."""
    with site.store.write() as session:
        version = str(show_offcut(session, tag, BothUnits(), 0).version)
        answers = Answers({"version": version, **given}, Unit.MM)
        done = do(session, tag, what, answers, "Wim", site.store.now(session))
    assert done == (not answers.errors)
    return answers.errors


def offcut(site: Site, tag: str) -> dict[str, Any]:
    return dict(site.client.get(f"/v1/offcuts/{tag}").json())


def add(site: Site, unit: Unit = Unit.MM, **given: str) -> tuple[str | None, dict[str, str]]:
    answers = Answers({**NEW, **given}, unit)
    with site.store.write() as session:
        return add_offcut(session, answers, "Wim", site.store.now(session)), answers.errors


def test_an_offcut_is_added_in_the_unit_of_the_form(site: Site) -> None:
    """A bare 1203 is millimetres here; 47 3/8 with inches chosen is 1203.325 mm."""
    assert add(site) == ("FL-900", {})
    assert offcut(site, "FL-900")["length"]["nm"] == 1_203_000_000
    assert add(site, Unit.INCH, tag="FL-901", length="47 3/8")[0] == "FL-901"
    assert offcut(site, "FL-901")["length"]["nm"] == 1_203_325_000


def test_an_offcut_brings_its_age_and_a_price_as_people_write_it(site: Site) -> None:
    """What lay elsewhere for years is older than today's tails; a day to come is told beside its field."""
    assert add(site, born="2024-03-02", value="14,90") == ("FL-900", {})
    made = offcut(site, "FL-900")
    assert (made["born_at"][:10], made["value"]) == ("2024-03-02", "14.90")
    assert add(site, tag="FL-901", born="2999-01-01")[1].keys() == {"born"}
    assert add(site, tag="FL-901", born="in May")[1].keys() == {"born"}
    assert add(site, tag="FL-901")[0] == "FL-901"


def test_every_mistake_is_told_at_once_and_nothing_is_added(site: Site) -> None:
    """One round for all of them, each beside its own field."""
    tag, errors = add(site, tag="no blanks", family="", length="1,203", value="cheap")
    assert tag is None
    assert errors.keys() == {"tag", "family", "length", "value"}


def test_a_tag_is_never_used_again(site: Site) -> None:
    """Two offcuts under one tag would be one too few."""
    tag, errors = add(site, tag="FL-407")
    assert tag is None
    assert "used before" in errors["tag"]


def test_a_count_without_a_length_only_says_it_was_seen(site: Site) -> None:
    """Walking by with a list must not need a tape."""
    assert act(site, "FL-407", Act.COUNT) == {}
    assert act(site, "FL-407", Act.COUNT, length="1822") == {}
    assert offcut(site, "FL-407")["length"]["nm"] == 1_822_000_000


def test_a_measured_length_replaces_the_written_one(site: Site) -> None:
    """The ledger says by how much: 1822 - 1820 = 2 mm shorter."""
    assert act(site, "FL-407", Act.COUNT, length="182 cm") == {}
    with site.store.read() as session:
        event = show_offcut(session, "FL-407", BothUnits(), 0).events[0]
    assert event.what.replace("\N{NO-BREAK SPACE}", " ").startswith("measured anew, 2 mm (")
    assert event.what.endswith("shorter")
    assert event.by == "Wim"


@pytest.mark.parametrize("what", [Act.QUARANTINE, Act.SCRAP, Act.LOSE])
def test_taking_it_away_needs_a_reason(site: Site, what: Act) -> None:
    """Somebody will ask where the metal went."""
    assert act(site, "FL-407", what).keys() == {"reason"}
    assert offcut(site, "FL-407")["state"] == "free"
    assert act(site, "FL-407", what, reason="scratched") == {}


def test_set_aside_and_put_back_lost_and_found(site: Site) -> None:
    """There and back again, with the length it has on coming back."""
    act(site, "FL-407", Act.QUARANTINE, reason="scratch")
    assert offcut(site, "FL-407")["state"] == "quarantined"
    assert act(site, "FL-407", Act.RESTORE, reason="only dust") == {}
    act(site, "FL-407", Act.LOSE, reason="not there")
    assert act(site, "FL-407", Act.FIND, reason="behind the rack").keys() == {"length"}
    assert act(site, "FL-407", Act.FIND, reason="behind the rack", length="1800") == {}
    assert offcut(site, "FL-407")["length"]["nm"] == 1_800_000_000


def test_moving_changes_the_place_alone(site: Site) -> None:
    """Even of a reserved one: where it lies is nobody's promise."""
    site.release()
    assert act(site, "FL-407", Act.MOVE, place="C, floor") == {}
    assert (offcut(site, "FL-407")["place"], offcut(site, "FL-407")["state"]) == ("C, floor", "reserved")


def test_correcting_keeps_what_is_said_of_ends_and_value(site: Site) -> None:
    """Ends decide what is trimmed, the value what it costs a job."""
    given = {"place": "B", "lot": "L7", "left": "raw", "right": "raw", "value": "3.50"}
    assert act(site, "FL-407", Act.CORRECT, **given).keys() == {"reason"}
    assert act(site, "FL-407", Act.CORRECT, **given, reason="looked at it") == {}
    stands = offcut(site, "FL-407")
    assert (stands["lot"], stands["left"], stands["right"], stands["value"]) == ("L7", "raw", "raw", "3.50")


def test_what_a_plan_has_is_not_scrapped_here(site: Site) -> None:
    """Its bar would be missing at the saw; it is reported there."""
    site.release()
    assert "reserved" in act(site, "FL-407", Act.SCRAP, reason="bent")["act"]
    assert "reserved" in act(site, "FL-407", Act.COUNT, length="1800")["act"]
    assert act(site, "FL-407", Act.COUNT) == {}


def test_nobody_overwrites_what_they_have_not_seen(site: Site) -> None:
    """Two storekeepers with the same page open: the second is told."""
    assert "Somebody" in act(site, "FL-407", Act.MOVE, version="0", place="X")["act"]
    assert offcut(site, "FL-407")["place"] == "B, shelf 3"


def test_the_buttons_are_those_that_work() -> None:
    """A button that is always refused teaches people not to read."""
    assert acts_for(State.CUT) == ()
    assert acts_for(State.LOST) == (Act.FIND,)
    assert Act.SCRAP not in acts_for(State.RESERVED)
