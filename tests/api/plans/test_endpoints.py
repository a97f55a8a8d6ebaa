"""Plans over HTTP, from the request to the result."""

import io
import json
import tempfile
import zipfile
from pathlib import Path

import pytest

from api.worker.queue import claim
from nesting.exchange import read_plan
from nesting.sheets.template import write_template
from nesting.units import mm
from nesting.verify import violations
from tests.api.problems import problem
from tests.api.service import FAMILY, FINISH, TERMS, Running, pieces_request

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def test_a_plan_from_request_to_result(either: Running) -> None:
    """What is asked for comes back planned, and an independent check finds nothing wrong with it."""
    sent = either.send(pieces_request({610: 8}))
    assert sent.status_code == 202
    assert sent.json()["state"] == "queued"
    assert either.make_plans() == 1
    shown = either.client.get(sent.headers["Location"]).json()
    # 4 x 610 + 3 x 3 + 8 + 8 = 2465 fits 2500, a fifth does not: two bars.
    assert (shown["state"], shown["summary"]["bars"], shown["summary"]["pieces"]) == ("proposed", 2, 8)
    result = either.client.get(shown["links"]["result"])
    assert list(violations(read_plan(result.text))) == []


def test_lengths_are_exact_and_in_the_unit_asked_for(service: Running) -> None:
    """A program reads nanometres, a person the unit of the tape."""
    plan = service.proposed(pieces_request({914: 1}, bars=(2540,)))
    shown = service.client.get(f"/v1/plans/{plan}?unit=in").json()
    assert shown["summary"]["used"] == {"nm": 2_540_000_000, "text": "100 in"}


def test_the_result_as_workbook_paper_and_drawing(service: Running) -> None:
    """The same plan in the form the caller accepts, named after the plan."""
    plan = service.proposed(pieces_request({610: 8}))
    book = service.client.get(f"/v1/plans/{plan}/result", headers={"Accept": XLSX})
    assert book.headers["Content-Type"] == XLSX
    assert 'filename="plan-1.xlsx"' in book.headers["Content-Disposition"]
    assert "xl/workbook.xml" in zipfile.ZipFile(io.BytesIO(book.content)).namelist()
    paper = service.client.get(f"/v1/plans/{plan}/result", headers={"Accept": "application/pdf"})
    assert paper.content.startswith(b"%PDF-")
    assert 'filename="plan-1-cut-sheets.pdf"' in paper.headers["Content-Disposition"]
    fetched = service.client.get(
        f"/v1/plans/{plan}/result?paper=pick-list", headers={"Accept": "application/pdf"}
    )
    assert problem(fetched, 404) == "nothing-to-print"  # no offcut is taken, so there is nothing to fetch
    drawing = service.client.get(f"/v1/plans/{plan}/result", headers={"Accept": "image/svg+xml"})
    # Two bars of four pieces each.
    assert drawing.text.count('<rect class="piece"') == 8


def test_an_etag_names_what_was_sent(service: Running) -> None:
    """Another paper, another unit or another type is another thing, so a cache must not mix them up."""
    plan = service.proposed(pieces_request({610: 4}))

    def tag(accept: str, query: str = "") -> str:
        answer = service.client.get(f"/v1/plans/{plan}/result{query}", headers={"Accept": accept})
        assert answer.status_code == 200, answer.text
        return str(answer.headers["ETag"])

    drawing = "image/svg+xml"
    assert tag("application/json") == tag("application/json")
    assert len({tag("application/json"), tag(drawing), tag(drawing, "?unit=in")}) == 3


def test_a_type_that_is_not_offered_is_refused(service: Running) -> None:
    """Better no answer than one the caller cannot read."""
    plan = service.proposed(pieces_request({610: 1}))
    answer = service.client.get(f"/v1/plans/{plan}/result", headers={"Accept": "text/html"})
    assert problem(answer, 406) == "not-acceptable"


def test_no_result_before_there_is_one(service: Running) -> None:
    """A plan in the queue says so instead of giving half an answer."""
    sent = service.send(pieces_request({610: 1})).json()
    assert problem(service.client.get(sent["links"]["result"]), 409) == "no-result"


def test_findings_point_into_the_request(service: Running) -> None:
    """Every fault at once, each with its JSON pointer, and nothing is queued."""
    body = json.loads(pieces_request({610: 1, 700: 1}))
    body["piece_lines"][0]["quantity"] = 0
    body["piece_lines"][1]["part"] = "handle"
    answer = service.send(json.dumps(body))
    assert problem(answer, 422) == "input-refused"
    places = {finding["at"] for finding in answer.json()["findings"]}
    assert places >= {"/piece_lines/0/quantity", "/piece_lines/1/part"}
    assert service.client.get("/v1/plans").json() == []


def test_a_workbook_is_planned_and_its_findings_name_cells(service: Running) -> None:
    """A list as people keep it; a fault is told in the cell's own name."""
    good = workbook(length="610 mm")
    sent = service.client.post("/v1/plans", content=good, headers={"Content-Type": XLSX})
    assert sent.status_code == 202, sent.text
    assert service.make_plans() == 1
    answer = service.client.post(
        "/v1/plans", files={"file": ("kitchen.xlsx", workbook(length="six hundred"), XLSX)}
    )
    assert problem(answer, 422) == "input-refused"
    finding = answer.json()["findings"][0]
    assert finding["source"] == "Runs"
    assert finding["at"].rstrip("0123456789").isalpha()
    assert finding["found"] == "six hundred"


def test_a_csv_file_needs_the_services_catalogue_or_its_own(service: Running) -> None:
    """Without a catalogue anywhere a bare list is refused with the reason, not guessed at."""
    listed = f"Run,Quantity,Length (mm),Family,Finish\nR1,2,610,{FAMILY},{FINISH}\n"
    answer = service.client.post("/v1/plans", content=listed, headers={"Content-Type": "text/csv"})
    assert problem(answer, 422) == "input-refused"


def test_a_bare_list_is_pieces_whatever_the_service_holds(service: Running) -> None:
    """A family that happens to be in the catalogue takes no cap off a length and divides none."""
    taken = service.client.post(
        "/v1/catalogue", content=workbook(length="610 mm"), headers={"Content-Type": XLSX}
    )
    assert (taken.status_code, taken.json()["families"]) == (200, 1), taken.text
    listed = "length mm,quantity\n1806,12\n904,7\n5200,1\n"
    sent = service.client.post("/v1/plans", content=listed, headers={"Content-Type": "text/csv"})
    assert sent.status_code == 202, sent.text
    service.make_plans()
    plan = read_plan(service.client.get(sent.json()["links"]["result"]).text)
    assert ([*map(str, plan.request.runs)], [line.length for line in plan.request.piece_lines]) == (
        [],
        [mm(1806), mm(904), mm(5200)],
    )
    assert [piece.run for piece in plan.unplaced] == ["P4"]  # line 4 of the file: longer than the bar


def test_what_to_do_is_said_to_a_caller_not_to_a_command(service: Running) -> None:
    """A program has no options of a command line; it has fields, parameters and other addresses."""
    answer = service.client.post(
        "/v1/plans", content="Run,Length\nR1,610\n", headers={"Content-Type": "text/csv"}
    )
    assert problem(answer, 422) == "input-refused"
    said = {finding["code"]: finding["message"] for finding in answer.json()["findings"]}
    assert "list_unit=mm" in said["no-unit"]
    assert "POST /v1/stock" in said["no-stock"]
    assert not [message for message in said.values() if "--" in message]


@pytest.mark.parametrize(
    ("name", "status"), [("list.json", 202), ("LIST.JSON", 202), ("listjson", 422), ("json", 422)]
)
def test_a_files_kind_is_what_stands_behind_its_point(service: Running, name: str, status: int) -> None:
    """A name that happens to end in the letters of a kind is no file of that kind."""
    body = pieces_request({610: 1}).encode()
    sent = service.client.post("/v1/plans", files={"file": (name, body, "application/octet-stream")})
    assert sent.status_code == status, sent.text


def test_the_same_idempotency_key_plans_once(either: Running) -> None:
    """A client that lost the answer may ask again; another request under the same key is refused."""
    first = either.send(pieces_request({610: 1}), **{"Idempotency-Key": "order-7"})
    again = either.send(pieces_request({610: 1}), **{"Idempotency-Key": "order-7"})
    assert first.json()["id"] == again.json()["id"]
    assert len(either.client.get("/v1/plans").json()) == 1
    other = either.send(pieces_request({611: 1}), **{"Idempotency-Key": "order-7"})
    assert problem(other, 422) == "idempotency-key-reused"


def test_urgent_plans_first(service: Running) -> None:
    """Priority decides before the order of arrival."""
    service.send(pieces_request({610: 1}))
    urgent = service.client.post("/v1/plans?priority=5", content=pieces_request({610: 1}), headers=JSON)
    claimed = claim(service.store, "test", TERMS)
    assert claimed is not None
    assert claimed.plan_id == urgent.json()["id"]


def test_cancelling_a_queued_plan_still_gives_a_plan(service: Running) -> None:
    """Cancel means the best so far, and there always is one."""
    sent = service.send(pieces_request({610: 8})).json()
    answer = service.client.post(f"/v1/plans/{sent['id']}/cancel")
    assert answer.status_code == 200
    claimed = claim(service.store, "test", TERMS)
    assert claimed is not None
    assert claimed.cancelled


def test_lists_come_in_pages(service: Running) -> None:
    """Following the links shows every plan once, latest first."""
    for count in (1, 2, 3):
        service.send(pieces_request({610: count}))
    first = service.client.get("/v1/plans?limit=2")
    second = service.client.get(first.links["next"]["url"])
    assert [plan["number"] for plan in first.json() + second.json()] == [3, 2, 1]
    assert "next" not in second.links


def test_progress_as_a_stream_ends_with_the_plan(service: Running) -> None:
    """A page that listens hears of the end and is let go."""
    plan = service.proposed(pieces_request({610: 1}))
    headers = {"Accept": "text/event-stream"}
    with service.client.stream("GET", f"/v1/plans/{plan}/progress", headers=headers) as answer:
        lines = list(answer.iter_lines())
    assert lines[0] == "event: plan"
    assert json.loads(lines[1].removeprefix("data: "))["state"] == "proposed"


@pytest.mark.parametrize(
    ("body", "kind", "status", "name"),
    [
        (b"{}", "application/x-unknown", 415, "unsupported-media-type"),
        (b"\xff\xfe", "application/json", 400, "not-utf-8"),
        (b"[1, 2", "application/json", 422, "input-refused"),
        (b"not a workbook", XLSX, 422, "input-refused"),
    ],
)
def test_what_is_no_request_is_refused(
    service: Running, body: bytes, kind: str, status: int, name: str
) -> None:
    """Each way of not being a request has its own problem type."""
    answer = service.client.post("/v1/plans", content=body, headers={"Content-Type": kind})
    assert problem(answer, status) == name


JSON = {"Content-Type": "application/json"}


def workbook(length: str) -> bytes:
    run = {"Job": "OY", "Run": "R1", "Quantity": "2", "Length": length, "Family": FAMILY, "Finish": FINISH}
    rows = {
        "Runs": [run],
        "Families": [{"Family": FAMILY, "Cap style": "flush", "Cover mode": "none"}],
        "Stock": [{"Family": FAMILY, "Finish": FINISH, "Length": "2500 mm"}],
    }
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "list.xlsx"
        write_template(path, rows)
        return path.read_bytes()
