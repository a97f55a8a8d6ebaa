"""Drafts are kept as they came, corrected cell by cell, and never without bounds."""

from __future__ import annotations

import pytest

from api.access.keys import LOCAL
from api.pages.new import drafts
from api.pages.new.drafts import (
    Corrected,
    Draft,
    choose,
    correct_cells,
    draft_row,
    keep_draft,
    list_drafts,
    read_draft,
)
from api.web.problems import Problem
from nesting.errors import Where
from nesting.sheets.corrections import Correction
from tests.api.service import Running


@pytest.fixture
def service(either: Running) -> Running:
    """Keep drafts in either database."""
    return either


C3 = Where("list.csv", "C3")
D3 = Where("list.csv", "D3")


def keep(service: Running, name: str = "list.csv", body: bytes = b"a;b\n", at: int = 1) -> str:
    with service.store.write() as session:
        return keep_draft(session, name, body, LOCAL, at)


def read(service: Running, draft: str) -> Draft:
    with service.store.read() as session:
        return read_draft(session, draft)


def correct(service: Running, draft: str, typed: dict[Where, str], standing: dict[Where, str]) -> Draft:
    with service.store.write() as session:
        correct_cells(session, draft, typed, standing, 5)
    return read(service, draft)


def test_a_draft_comes_back_as_it_was_given(service: Running) -> None:
    """Byte for byte: the file is never written anew."""
    body = bytes(range(256)) * 40
    kept = read(service, keep(service, "runs.xlsx", body))
    assert (kept.name, kept.body, kept.corrections, kept.choices) == ("runs.xlsx", body, (), {})
    assert (kept.made_by, kept.version, kept.plan_id, kept.planned) == ("this machine", 1, None, False)


def test_a_correction_remembers_what_stood_there(service: Running) -> None:
    """However often a cell is corrected, what the file says stays in sight."""
    draft = keep(service)
    correct(service, draft, {C3: "1200"}, {C3: "12oo"})
    kept = correct(service, draft, {C3: " 1300 "}, {C3: "1200"})
    assert kept.corrections == (Corrected(C3, "1300", "12oo"),)
    assert kept.typed == (Correction(C3, "1300"),)
    assert kept.version == 3


def test_typing_what_the_file_says_takes_a_correction_back(service: Running) -> None:
    """So does a form that sends every cell it shows: only what differs is a correction."""
    draft = keep(service)
    untouched = correct(service, draft, {C3: "12oo", D3: ""}, {C3: "12oo"})
    assert (untouched.corrections, untouched.version) == ((), 1)
    correct(service, draft, {C3: "1200", D3: "2"}, {C3: "12oo"})
    assert correct(service, draft, {C3: "12oo"}, {C3: "1200"}).corrections == (Corrected(D3, "2", ""),)


def test_what_is_typed_is_bounded(service: Running, monkeypatch: pytest.MonkeyPatch) -> None:
    """A form cannot fill the database: 500 characters a cell, and only the latest corrections."""
    monkeypatch.setattr(drafts, "MOST_CORRECTIONS", 2)
    draft = keep(service)
    typed = {Where("list.csv", f"A{row}"): "x" * 600 for row in range(1, 4)}
    kept = correct(service, draft, typed, {})
    assert [one.where.at for one in kept.corrections] == ["A2", "A3"]
    assert {len(one.text) for one in kept.corrections} == {drafts.LONGEST_CELL}


def test_choices_make_a_new_version_only_when_they_differ(service: Running) -> None:
    """A plan of the draft stays its plan when a form is sent without a change."""
    draft = keep(service)
    for _ in range(2):
        with service.store.write() as session:
            choose(session, draft, {"kerf": "4 mm"}, 7)
    kept = read(service, draft)
    assert (kept.choices, kept.version) == ({"kerf": "4 mm"}, 2)


def test_the_one_left_alone_longest_makes_room(service: Running, monkeypatch: pytest.MonkeyPatch) -> None:
    """By number and by size; what was looked at last stays."""
    monkeypatch.setattr(drafts, "MOST", 2)
    old, used = keep(service, "old.csv", at=1), keep(service, "used.csv", at=2)
    correct(service, old, {C3: "1"}, {})  # changed at 5, later than the other
    new = keep(service, "new.csv", at=6)
    with service.store.read() as session:
        assert [row.id for row in list_drafts(session, 9)] == [new, old]
    monkeypatch.setattr(drafts, "MOST_BYTES", 40)
    last = keep(service, "last.csv", at=7)
    with service.store.read() as session:
        assert last in [row.id for row in list_drafts(session, 9)]
        with pytest.raises(Problem, match="no such list"):
            draft_row(session, used)


def test_planned_drafts_are_not_listed_until_they_change(service: Running) -> None:
    """The list of lists shows what is still to be done."""
    draft = keep(service)
    with service.store.write() as session:
        row = draft_row(session, draft, lock=True)
        row.plan_id, row.planned_version = "0" * 32, row.version
    assert read(service, draft).planned
    with service.store.read() as session:
        assert list_drafts(session, 9) == []
    changed = correct(service, draft, {C3: "1"}, {})
    assert not changed.planned
    with service.store.read() as session:
        assert [row.id for row in list_drafts(session, 9)] == [draft]


def test_a_draft_that_is_not_there_is_a_problem(service: Running) -> None:
    """Not an exception of the database."""
    with service.store.read() as session, pytest.raises(Problem) as caught:
        read_draft(session, "0" * 32)
    assert caught.value.status == 404
