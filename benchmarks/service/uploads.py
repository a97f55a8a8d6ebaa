"""Hostile uploads by the thousand: each is refused with words, and the service stays small and alive."""

from __future__ import annotations

import asyncio
import io
import random
import tempfile
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from benchmarks.service.client import connected
from benchmarks.service.processes import children
from benchmarks.service.requests import FAMILY, FINISH
from benchmarks.service.server import serving
from nesting.sheets.template import write_template

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CSV = "text/csv"
JSON = "application/json"

_TYPES = (
    '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    '<Override PartName="/xl/workbook.xml" ContentType='
    '"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>'
)
_RELATIONS = (
    '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/{kind}" '
    'Target="{target}"/></Relationships>'
)
_BOOK = (
    '<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">'
    '<sheets><sheet name="Runs" sheetId="1" r:id="r1"/></sheets></workbook>'
)
_SHEET = (
    '<?xml version="1.0"?>{before}'
    '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    "<sheetData>{rows}</sheetData></worksheet>"
)


@dataclass(frozen=True, slots=True)
class Upload:
    """What is sent, as what, and the kind of malice."""

    kind: str
    media_type: str
    body: bytes


@dataclass
class Outcome:
    """Answers by kind and status, and the most memory any of our processes had, bytes."""

    statuses: Counter[tuple[str, int]] = field(default_factory=Counter)
    without_words: int = 0
    most_memory: int = 0
    alive: bool = False

    @property
    def holds(self) -> bool:
        """Whether every answer was a 4xx with words, memory stayed below 600 MB, and all still works."""
        refused = all(400 <= status < 500 for _, status in self.statuses)
        return refused and not self.without_words and self.most_memory < 600_000_000 and self.alive


def hostile(count: int, seed: int = 0) -> Iterator[Upload]:
    """Give so many hostile uploads, the kinds in turn, drawn with a seed."""
    draw = random.Random(seed)
    good = honest()
    makers: tuple[Callable[[], Upload], ...] = (
        lambda: Upload("truncated", XLSX, good[: draw.randrange(1, len(good) - 30)]),
        lambda: Upload("flipped bytes", XLSX, _flipped(good, draw)),
        lambda: Upload("noise", draw.choice((XLSX, CSV, JSON)), draw.randbytes(draw.randrange(1, 4_000))),
        lambda: Upload(
            "bomb", XLSX, _book(_sheet("<row/>" + " " * draw.randrange(150_000_000, 160_000_000)))
        ),
        lambda: Upload("entities", XLSX, _book(_entities(draw.randrange(5, 12)))),
        lambda: Upload("far cell", XLSX, _book(_sheet(_far(draw)))),
        lambda: Upload("many rows", XLSX, _book(_sheet("<row/>" * draw.randrange(60_000, 90_000)))),
        lambda: Upload("macros", XLSX, _with(good, "xl/vbaProject.bin", draw.randbytes(2_000), drop=True)),
        lambda: Upload("formula text", CSV, _formulas(draw)),
        lambda: Upload("wrong type", draw.choice((XLSX, CSV, JSON)), _other_kind(draw)),
        lambda: Upload("deep JSON", JSON, b'{"runs":' + b"[" * draw.randrange(10_000, 100_000)),
        lambda: Upload("great numbers", JSON, b'{"schema": ' + b"9" * draw.randrange(5_000, 400_000) + b"}"),
        lambda: Upload("paths", XLSX, _with(good, "../../../../tmp/nesting-evil.xml", b"<x/>", drop=True)),
        lambda: Upload("locked", XLSX, b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + draw.randbytes(3_000)),
        lambda: Upload("many members", XLSX, _members(draw.randrange(1_500, 2_500))),
        lambda: Upload("wide CSV", CSV, b"," * draw.randrange(20_000, 200_000) + b"\n"),
        lambda: Upload("NUL and surrogates", JSON, b'{"schema":1,"title":"\\u0000\\ud800","runs":[{}]}'),
    )
    bombs = 0
    for number in range(count):
        make = makers[number % len(makers)]
        if makers.index(make) == 3 and (bombs := bombs + 1) > 5:
            make = makers[0]  # a few bombs tell as much as sixty, and each takes a second to build
        yield make()


def honest() -> bytes:
    """Give a small workbook that would be planned."""
    run = {"Job": "OY", "Run": "R1", "Quantity": "2", "Length": "610 mm", "Family": FAMILY, "Finish": FINISH}
    rows = {
        "Runs": [run],
        "Families": [{"Family": FAMILY, "Cap style": "flush", "Cover mode": "none"}],
        "Stock": [{"Family": FAMILY, "Finish": FINISH, "Length": "2500 mm"}],
    }
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "list.xlsx"
        write_template(path, rows)
        return path.read_bytes()


def run(database: str, *, uploads: int, seed: int = 0) -> Outcome:
    """Send hostile uploads to a running service, then see whether it still does its work."""
    with serving(database, solvers=1, rate=0) as server:
        assert server.process is not None
        return asyncio.run(_send(server.port, server.process.pid, uploads, seed))


async def _send(port: int, process: int, uploads: int, seed: int) -> Outcome:
    outcome = Outcome()
    async with connected(port) as connections:
        for upload in hostile(uploads, seed):
            headers = {"Content-Type": upload.media_type}
            answer = await connections.ask("POST", "/v1/plans?seconds=1", upload.body, headers)
            outcome.statuses[upload.kind, answer.status] += 1
            words = (
                answer.headers.get("content-type") == "application/problem+json" and answer.json()["detail"]
            )
            outcome.without_words += not words
            outcome.most_memory = max(outcome.most_memory, most_memory(process))
        answer = await connections.ask(
            "POST", "/v1/plans", honest(), {"Content-Type": XLSX, "Prefer": "wait=30"}
        )
        outcome.alive = answer.status == 201
    return outcome


def most_memory(process: int) -> int:
    """Give the peak resident memory of a process or of any below it, whichever is most, bytes."""
    most = 0
    for one in (process, *children(process), *(c for child in children(process) for c in children(child))):
        try:
            status = Path(f"/proc/{one}/status").read_text()
        except OSError:
            continue
        for line in status.splitlines():
            if line.startswith("VmHWM:"):
                most = max(most, int(line.split()[1]) * 1024)
    return most


def _book(sheet: str) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", _TYPES)
        archive.writestr("_rels/.rels", _RELATIONS.format(kind="officeDocument", target="xl/workbook.xml"))
        archive.writestr("xl/workbook.xml", _BOOK)
        archive.writestr(
            "xl/_rels/workbook.xml.rels", _RELATIONS.format(kind="worksheet", target="worksheets/sheet1.xml")
        )
        archive.writestr("xl/worksheets/sheet1.xml", sheet)
    return target.getvalue()


def _sheet(rows: str, before: str = "") -> str:
    return _SHEET.format(rows=rows, before=before)


def _far(draw: random.Random) -> str:
    row, column = draw.randrange(900_000, 1_048_576), draw.choice(("XFD", "ZZZ", "AMJ"))
    return f'<row r="{row}"><c r="{column}{row}" t="inlineStr"><is><t>far</t></is></c></row>'


def _entities(depth: int) -> str:
    lines = ['<!ENTITY e0 "lol">']
    lines += [f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, depth)]
    rows = f'<row r="1"><c r="A1" t="inlineStr"><is><t>&e{depth - 1};</t></is></c></row>'
    return _sheet(rows, before=f"<!DOCTYPE worksheet [{''.join(lines)}]>")


def _flipped(body: bytes, draw: random.Random) -> bytes:
    """Spoil the archive's directory and a good part of the rest, so that nothing of it can be read."""
    spoiled = bytearray(body)
    for _ in range(len(body) // 20):
        spoiled[draw.randrange(len(body))] ^= 1 << draw.randrange(8)
    spoiled[-22:-18] = draw.randbytes(4)
    return bytes(spoiled)


def _with(body: bytes, name: str, data: bytes, *, drop: bool) -> bytes:
    """Add a member to a workbook, and take its run list away so that it is refused for good reason too."""
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(body)) as old, zipfile.ZipFile(target, "w") as new:
        for member in old.infolist():
            if not (drop and member.filename.startswith("xl/worksheets/sheet")):
                new.writestr(member, old.read(member))
        new.writestr(name, data)
    return target.getvalue()


def _formulas(draw: random.Random) -> bytes:
    said = draw.choice(("=cmd|'/c calc'!A0", "@SUM(1)", "+1+1", '=HYPERLINK("x")', "-2+3"))
    return f'Run,Quantity,Length,Family,Finish\n{said},1,"{said}",{FAMILY},{FINISH}\n'.encode()


def _other_kind(draw: random.Random) -> bytes:
    heads = (b"%PDF-1.7\n", b"\x89PNG\r\n\x1a\n", b"GIF89a", b"<html><script>", b"\x7fELF", b"\x1f\x8b\x08")
    return draw.choice(heads) + draw.randbytes(draw.randrange(10, 2_000))


def _members(count: int) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for number in range(count):
            archive.writestr(f"xl/{number}.xml", "<x/>")
    return target.getvalue()
