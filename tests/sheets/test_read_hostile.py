"""Files made to hurt, or merely broken: each is refused with a finding, and nothing else happens."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from nesting.errors import InputRefused
from nesting.sheets.read_request import read_list, read_request
from tests.sheets.messy import A1, HEAD, runs


def _codes(path: Path) -> set[str]:
    outcome = read_list(path)
    assert outcome.request is None
    return {finding.code for finding in outcome.findings if finding.severity.refuses}


def _changed(folder: Path, member: str, change: Callable[[bytes], bytes]) -> Path:
    """Give a tidy workbook with one of its parts changed."""
    source = runs([HEAD, A1])(folder)
    path = folder / "changed.xlsx"
    with zipfile.ZipFile(source) as before, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as after:
        for name in before.namelist():
            content = before.read(name)
            after.writestr(name, change(content) if name == member else content)
    return path


SHEET = "xl/worksheets/sheet1.xml"


def test_bomb(tmp_path: Path) -> None:
    """Protects the memory: 30 MB of blanks packed into a few kilobytes is never unpacked."""
    path = _changed(
        tmp_path, SHEET, lambda xml: xml.replace(b"<sheetData>", b"<sheetData>" + b" " * 30_000_000)
    )
    assert path.stat().st_size < 100_000
    assert _codes(path) == {"archive-too-large"}


def test_far_cell(tmp_path: Path) -> None:
    """Protects against one cell in the last corner, which a reader would fill a million rows to reach."""
    cell = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    path = _changed(tmp_path, SHEET, lambda xml: xml.replace(b"</sheetData>", cell))
    assert _codes(path) == {"sheet-too-large"}


def test_declared_size_is_not_believed(tmp_path: Path) -> None:
    """Protects the reading: a sheet that lies about its size is read by its cells."""
    path = _changed(tmp_path, SHEET, lambda xml: xml.replace(b'ref="A1:E2"', b'ref="A1:XFD1048576"'))
    outcome = read_list(path)
    assert outcome.request is not None
    assert len(outcome.request.runs) == 1


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_entities(tmp_path: Path, encoding: str) -> None:
    """Protects against entities that unfold without end, in any encoding."""
    bomb = (
        f'<?xml version="1.0" encoding="{encoding}"?><!DOCTYPE s [<!ENTITY a "aaaaaaaaaa">'
        '<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><s>&b;</s>'
    )
    path = _changed(tmp_path, SHEET, lambda _: bomb.encode(encoding))
    assert _codes(path) == {"document-type"}


def test_merged_blocks_without_end(tmp_path: Path) -> None:
    """Protects the time: overlapping blocks over the whole sheet are refused before they are spread."""
    blocks = b'<mergeCells count="9">' + b'<mergeCell ref="A1:E1048576"/>' * 9 + b"</mergeCells>"
    path = _changed(tmp_path, SHEET, lambda xml: xml.replace(b"</sheetData>", b"</sheetData>" + blocks))
    assert _codes(path) == {"sheet-too-large"}


@pytest.mark.parametrize("kept", [0.2, 0.6, 0.98])
def test_truncated(tmp_path: Path, kept: float) -> None:
    """Protects against a download cut short."""
    path = runs([HEAD, A1])(tmp_path)
    content = path.read_bytes()
    path.write_bytes(content[: int(len(content) * kept)])
    assert _codes(path) == {"damaged-file"}


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("empty.xlsx", b"", "empty-file"),
        ("old.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "old-or-locked-workbook"),
        ("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "file-kind"),
        ("macros.xlsm", b"PK\x03\x04", "file-kind"),
        ("open.ods", b"PK\x03\x04", "file-kind"),
        ("picture.xlsx", b"\x89PNG\r\n\x1a\n" + b"\0" * 100, "damaged-file"),
        ("book.csv", b"PK\x03\x04" + b"\0" * 100, "file-kind"),
        ("noise.csv", bytes(range(256)) * 8, "not-a-text"),
        ("wide.csv", b"a," * 300 + b"b\n", "sheet-too-large"),
        ("open-quote.csv", b'Run,Length (mm)\n"A-1,1806\n' + b"A-2,598\n" * 500, "text-too-long"),
        ("huge-cell.csv", b"Run,Length (mm)\nA-1," + b"9" * 200_000 + b"\n", "damaged-file"),
        ("long.csv", b"Run,Length (mm)\n" + b"A,1\n" * 60_000, "sheet-too-large"),
    ],
)
def test_not_a_list(tmp_path: Path, name: str, content: bytes, code: str) -> None:
    """Protects the person who picked the wrong file: one finding says what would be accepted."""
    path = tmp_path / name
    path.write_bytes(content)
    assert code in _codes(path)


def test_missing_file(tmp_path: Path) -> None:
    """Protects against a mistyped name."""
    assert "file-not-read" in _codes(tmp_path / "nowhere.xlsx")


def test_zip_that_is_no_workbook(tmp_path: Path) -> None:
    """Protects against an archive renamed."""
    path = tmp_path / "list.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("readme.txt", "hello")
    assert _codes(path) == {"not-a-workbook"}


def test_locked_archive(tmp_path: Path) -> None:
    """Protects against an archive with a password: its first member's flag says so."""
    path = runs([HEAD, A1])(tmp_path)
    content = bytearray(path.read_bytes())
    directory = content.rindex(b"PK\x01\x02")
    content[directory + 8] |= 1
    path.write_bytes(bytes(content))
    assert _codes(path) == {"locked-archive"}


@pytest.mark.parametrize(
    ("member", "damage"),
    [
        (SHEET, lambda xml: xml[:200]),
        (SHEET, lambda xml: xml.replace(b'r="A2"', b'r="2A"')),
        ("xl/styles.xml", lambda xml: xml[: len(xml) // 2]),
        (SHEET, lambda xml: xml.replace(b'r="A2"', b's="999" r="A2"')),
        ("xl/workbook.xml", lambda xml: xml.replace(b"<sheet ", b"<shoe ")),
        ("xl/_rels/workbook.xml.rels", lambda xml: xml.replace(b"sheet1.xml", b"sheet9.xml")),
        ("_rels/.rels", lambda xml: b""),
    ],
)
def test_damaged_parts(
    tmp_path: Path, member: str, damage: Callable[[bytes], bytes], capsys: pytest.CaptureFixture[str]
) -> None:
    """Protects the promise that no file content raises anything but `InputRefused`, or prints anything."""
    path = _changed(tmp_path, member, damage)
    with pytest.raises(InputRefused) as refused:
        read_request(path)
    assert refused.value.findings
    assert capsys.readouterr() == ("", "")


def test_text_longer_than_any_cell_should_be(tmp_path: Path) -> None:
    """Protects findings and labels from a novel in a cell."""
    path = runs([[*HEAD, "Note"], [*A1, "x" * 5000]])(tmp_path)
    outcome = read_list(path)
    assert [str(f.where) for f in outcome.findings if f.code == "text-too-long"] == ["Runs!F2"]
    assert all(len(finding.found) <= 120 for finding in outcome.findings)


def test_more_pieces_than_can_be_planned(tmp_path: Path) -> None:
    """Protects the planning from a list of 30 x 10 000 pieces, each line of which is allowed."""
    path = runs([HEAD, *([f"A-{n}", 10_000, 1806, "TOLV-17N", "natural"] for n in range(30))])(tmp_path)
    assert _codes(path) == {"too-many-pieces"}


def test_empty_workbook(tmp_path: Path) -> None:
    """Protects against silence: a workbook without a list says so."""
    path = tmp_path / "list.xlsx"
    openpyxl.Workbook().save(path)
    assert _codes(path) == {"no-run-list"}
