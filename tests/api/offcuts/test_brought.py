"""What a list's offcuts are to the rack, and what is put there of them."""

from api.offcuts.brought import Brought, brought, put_on_rack
from nesting.domain.stock import EndState, Offcut
from nesting.units import mm
from tests.api.service import FAMILY, FINISH, Running
from tests.api.shelving import act, add_offcut, offcut


def listed(tag: str, length: int) -> Offcut:
    return Offcut(tag=tag, family=FAMILY, finish=FINISH, length=mm(length), right=EndState.CLEAN)


def test_what_lies_there_as_the_list_says_is_no_news(service: Running) -> None:
    """Only what stands in the way of a release is told: new ones, strange tags, other lengths, gone ones."""
    for tag in ("FL-1", "FL-2", "FL-3"):
        add_offcut(service, tag, 1300)
    act(service, "/v1/offcuts/FL-3/scrap", {"reason": "bent"})
    offcuts = [listed("FL-1", 1300), listed("FL-2", 1310), listed("FL-3", 1300)]
    offcuts += [listed("R-1", 1500), listed("left of door", 900)]
    with service.store.read() as session:
        found = brought(session, offcuts)
        assert not brought(session, offcuts[:1]).anything
    assert [one.tag for one in found.new] == ["R-1"]
    assert [one.tag for one in found.unnamed] == ["left of door"]
    told = [(one.offcut.tag, one.here, one.state, one.measured) for one in found.otherwise]
    assert told == [("FL-2", mm(1300), "free", True), ("FL-3", mm(1300), "scrapped", False)]
    assert found.anything
    assert not Brought().anything


def test_a_long_list_is_looked_up_whole(service: Running) -> None:
    """More tags than one query takes; the first and the last of them lie on the rack."""
    for tag in ("FL-1", "FL-2"):
        add_offcut(service, tag, 1300)
    new = [listed(f"R-{number}", 900) for number in range(2_500)]
    with service.store.read() as session:
        found = brought(session, [listed("FL-1", 1310), *new, listed("FL-2", 1310)])
    assert found.new == tuple(new)
    assert [one.offcut.tag for one in found.otherwise] == ["FL-1", "FL-2"]


def test_only_what_is_new_is_put_on_the_rack(service: Running) -> None:
    """A tag that is known keeps its length: whoever is right, somebody has to measure."""
    add_offcut(service, "FL-1", 1300)
    offcuts = [listed("FL-1", 1310), listed("R-1", 1500), listed("left of door", 900)]
    for count in (1, 0):
        with service.store.write() as session:
            assert put_on_rack(session, offcuts, "from list.xlsx", "Ada", service.store.now(session)) == count
    assert offcut(service, "R-1")["state"] == "free"
    assert [offcut(service, tag)["length"]["nm"] for tag in ("FL-1", "R-1")] == [mm(1300), mm(1500)]
