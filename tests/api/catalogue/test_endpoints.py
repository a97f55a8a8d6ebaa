"""Families, stock and rack as a workbook, and what they lend to a request."""

from pathlib import Path

from nesting.sheets.template import write_template
from tests.api.problems import problem
from tests.api.service import FAMILY, FINISH, Running, running
from tests.api.shelving import add_offcut, add_shelf, balance, offcut

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
NOSE = {"cap_style": "nose", "cap_thickness": "1.5 mm", "nose": "8 mm", "cover_mode": "offset"}


def put_in(service: Running, body: bytes | str, kind: str = XLSX) -> dict[str, object]:
    answer = service.client.post("/v1/catalogue", content=body, headers={"Content-Type": kind})
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def test_what_is_exported_reads_back_as_the_same(service: Running, tmp_path: Path) -> None:
    """One shop's workbook makes another shop's catalogue, exactly."""
    service.client.put(f"/v1/families/{FAMILY}", json=NOSE)
    add_shelf(service, 2500, price="14.00")
    add_shelf(service, 3000, on_hand=4, orderable=False)
    add_offcut(service, "FL-1", 1300, lot="L7", place="B, shelf 3", value="4.20", born="2025-11-30")
    book = service.client.get("/v1/catalogue")
    assert book.headers["Content-Type"] == XLSX
    with running(f"sqlite:///{tmp_path / 'other.sqlite3'}") as other:
        assert put_in(other, book.content) == {
            "families": 1,
            "stock": 2,
            "offcuts": 1,
            "known": [],
            "notes": [],
        }
        assert other.client.get("/v1/families").json() == service.client.get("/v1/families").json()
        theirs, ours = (
            {name: value for name, value in offcut(one, "FL-1").items() if name != "seen_at"}
            for one in (other, service)
        )
        assert theirs == ours
        assert balance(other)["store"] == 13_300
        # The same workbook again adds nothing.
        assert put_in(other, book.content)["known"] == ["FL-1"]
        assert balance(other)["store"] == 13_300


def test_what_a_catalogue_does_not_keep_is_said(service: Running, tmp_path: Path) -> None:
    """A shop's own trims and its list of runs are in the workbook: neither is lost without a word."""
    path = tmp_path / "in.xlsx"
    run = {"Job": "OY", "Run": "R1", "Length": "900 mm", "Family": FAMILY, "Finish": FINISH}
    bars = [{"Family": FAMILY, "Finish": FINISH, "Length": "2500 mm"}]
    saw = [{"Setting": "Head trim", "Value": "10 mm"}]
    write_template(path, {"Runs": [run], "Stock": bars, "Saw": saw})
    taken = put_in(service, path.read_bytes())
    notes = {note["code"]: note["source"] for note in taken["notes"]}  # type: ignore[attr-defined]
    assert notes == {"saw-not-kept": "Saw", "list-not-planned": "Runs"}
    write_template(path, {"Stock": bars})
    assert put_in(service, path.read_bytes())["notes"] == []


def test_all_of_an_import_or_nothing(service: Running, tmp_path: Path) -> None:
    """One bad cell, and the good rows stay out too."""
    path = tmp_path / "in.xlsx"
    rack = [
        {"Tag": "FL-1", "Family": FAMILY, "Finish": FINISH, "Length": "1300 mm"},
        {"Tag": "FL-2", "Family": FAMILY, "Finish": FINISH, "Length": "long"},
    ]
    write_template(path, {"Offcuts": rack})
    answer = service.client.post("/v1/catalogue", content=path.read_bytes(), headers={"Content-Type": XLSX})
    assert problem(answer, 422) == "input-refused"
    assert answer.json()["findings"][0]["source"] == "Offcuts"
    assert service.client.get("/v1/offcuts").json() == []


def test_a_csv_file_that_is_one_sheet(service: Running) -> None:
    """A rack list as it comes from a hand-held reader."""
    listed = f"Tag,Family,Finish,Length,Rack place\nFL-1,{FAMILY},{FINISH},1300 mm,B3\n"
    assert put_in(service, listed, "text/csv")["offcuts"] == 1
    strange = f"Tag,Family,Finish,Length,Rack place\nF/1,{FAMILY},{FINISH},1300 mm,B3\n"
    answer = service.client.post("/v1/catalogue", content=strange, headers={"Content-Type": "text/csv"})
    assert problem(answer, 422) == "input-refused"


def test_the_catalogue_is_lent_to_whoever_brings_none(service: Running) -> None:
    """A bare list, as CSV and as JSON, is planned on the service's families, bars and offcuts."""
    service.client.put(f"/v1/families/{FAMILY}", json={"cap_style": "flush"})
    add_shelf(service, 2500)
    add_offcut(service, "FL-1", 1300)
    listed = f"Run,Quantity,Length (mm),Length kind,Family,Finish\nR1,6,610,channel,{FAMILY},{FINISH}\n"
    sent = service.client.post("/v1/plans", content=listed, headers={"Content-Type": "text/csv"})
    assert sent.status_code == 202, sent.text
    run = {"job": "OY", "id": "R1", "family": FAMILY, "finish": FINISH, "quantity": 6, "length": "610 mm"}
    document = {"schema": 1, "saw": {"kerf": "3 mm"}, "runs": [{**run, "kind": "channel"}]}
    plan = service.client.post("/v1/plans", json=document).json()["id"]
    assert service.make_plans() == 2
    for one in (sent.json()["id"], plan):
        summary = service.plan(one)["summary"]
        assert (summary["pieces"], summary["offcuts_used"], summary["unplaced"]) == (6, 1, 0)
    alone = service.client.post("/v1/plans?alone=true", json=document)
    assert problem(alone, 422) == "input-refused"
