"""Finding offcuts by what is written on them."""

from __future__ import annotations

import pytest

from api.pages.rack.find import (
    Order,
    Standing,
    Wanted,
    choices,
    find_offcuts,
    piece_meant,
    read_wanted,
    tag_meant,
)
from nesting.units import Unit, mm
from tests.pages.live import Site


def tags(site: Site, **query: str) -> list[str]:
    with site.store.read() as session:
        return [row.tag for row in find_offcuts(session, read_wanted(query, Unit.MM)).rows]


def test_everything_on_the_rack_comes_by_tag_with_its_sum(site: Site) -> None:
    """1822 + 1815 + 1236 + 1224 + 1212 + 915 + 910 + 640 + 612 + 604 = 10 990 mm."""
    with site.store.read() as session:
        found = find_offcuts(session, Wanted())
    assert [row.tag for row in found.rows] == sorted(row.tag for row in found.rows)
    assert (found.count, found.length) == (10, mm(10_990))


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ({"tag": "fl-40"}, ["FL-407"]),
        ({"tag": "FL-407 P-1234"}, ["FL-407"]),  # a label's code names the plan behind the tag
        ({"shortest": "1815"}, ["FL-407", "FL-414"]),
        ({"shortest": "71 3/4 in"}, []),  # 1822.45 mm, a hair more than the longest
        ({"shortest": "71 1/2 in"}, ["FL-407"]),  # 1816.1 mm
        ({"place": "B, shelf 1", "order": "longest"}, ["FL-456", "FL-470"]),
        ({"family": "BRASK-20F"}, []),
        ({"family": "TOLV-17N", "finish": "-"}, []),
        ({"state": "reserved"}, []),
        ({"tag": "%"}, []),  # a sign that searches must not find all
    ],
)
def test_each_filter_narrows(site: Site, query: dict[str, str], expected: list[str]) -> None:
    """Any part of a tag, at least so long in either unit, one place, one material, one state."""
    assert tags(site, **query) == expected


def test_what_is_not_a_length_is_told_and_left_out() -> None:
    """A filter that is not understood must not look like an empty rack."""
    wanted = read_wanted({"shortest": "1,250"}, Unit.MM)
    assert wanted.shortest_length == 0
    assert wanted.errors["shortest"]
    assert wanted.shortest == "1,250"


def test_a_reserved_offcut_is_on_the_rack_and_a_scrapped_one_is_gone(site: Site) -> None:
    """The list begins with what can be taken into a hand, whoever has it."""
    site.release()
    site.client.post("/v1/offcuts/FL-470/scrap", json={"reason": "bent"}, headers={"If-Match": "*"})
    assert len(tags(site)) + len(tags(site, state="gone")) == 10
    assert "FL-407" in tags(site, state="reserved")


def test_a_tag_is_met_in_small_letters_and_with_its_plan(site: Site) -> None:
    """A scanner types the label's whole code, a tired hand types small letters."""
    with site.store.read() as session:
        assert tag_meant(session, "FL-407 P-1") == "FL-407"
        assert tag_meant(session, "fl-407") == "FL-407"
        assert tag_meant(session, "FL-4") is None


def test_a_pieces_label_leads_to_its_plan(site: Site) -> None:
    """Scanning a piece at the rack is a mistake that can be answered usefully."""
    plan = site.client.get(f"/v1/plans/{site.plan}").json()
    document = site.client.get(plan["links"]["result"]).json()
    with site.store.read() as session:
        assert piece_meant(session, f"OY-101-2 {document['id']}") == (plan["id"], "OY-101-2")
        assert piece_meant(session, "OY-101-2 nobody") is None
        assert piece_meant(session, "OY-101-2") is None


def test_the_choices_are_what_lies_there(site: Site) -> None:
    """A list of families nobody has on the rack would send people to empty shelves."""
    with site.store.read() as session:
        offered = choices(session)
    assert offered.families == ("TOLV-17N",)
    assert offered.places == ("A, shelf 1", "A, shelf 4", "B, shelf 1", "B, shelf 3")


def test_an_address_says_what_is_looked_for_and_reads_back() -> None:
    """Links keep the filters; another page or order changes nothing else."""
    wanted = read_wanted({"tag": "a&b", "state": "free", "page": "3"}, Unit.MM)
    assert wanted.address(page=4) == "?tag=a%26b&state=free&page=4"
    assert wanted.address(order=Order.OLDEST) == "?tag=a%26b&state=free&order=oldest"
    assert wanted.standing is Standing.FREE
    assert Wanted().address() == ""
    assert wanted.narrows
    assert not Wanted(order=Order.PLACE).narrows
