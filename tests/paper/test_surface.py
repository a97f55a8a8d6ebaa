"""The printed page."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from nesting.paper.codes import code_rows
from nesting.paper.faces import Face
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Align, Surface

needs_pdftotext = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="pdftotext (poppler) is not installed"
)


def _one(path: Path) -> None:
    surface = Surface(path, PageSize.A4, "one")
    surface.text(Box(20, 30, 60, 8), "Łazienka 36 1/4 in", size=12)
    surface.text(Box(20, 50, 60, 8), "right", size=12, face=Face.BOLD, align=Align.RIGHT)
    surface.frame(Box(20, 70, 40, 10), fill=0.9)
    surface.strokes(((20, 90, 60, 90), (20, 95, 60, 95)))
    surface.modules(Box(20, 100, 10, 10), (b"\x01\x00", b"\x00\x01"))
    surface.next_page()
    surface.save()


def test_the_same_calls_give_the_same_bytes(tmp_path: Path) -> None:
    """No dates and no random names get into a file, so two prints of one plan can be compared."""
    _one(tmp_path / "a.pdf")
    _one(tmp_path / "b.pdf")
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


@needs_pdftotext
def test_texts_are_where_they_were_put(tmp_path: Path) -> None:
    """Millimetres count from the top left corner, and what is printed can be searched for."""
    _one(tmp_path / "a.pdf")
    found = subprocess.run(
        ["pdftotext", "-bbox", str(tmp_path / "a.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    words = {}
    for line in found.splitlines():
        if "<word" in line:
            values = line.split('"')
            words[values[8].split(">")[1].split("<")[0]] = [float(v) * 25.4 / 72 for v in values[1:8:2]]
    assert "Łazienka" in words
    left, top, _, bottom = words["Łazienka"]
    assert left == pytest.approx(20, abs=0.6)
    assert top < 34 < bottom  # the middle of the box from 30 to 38 mm
    assert words["right"][2] == pytest.approx(80, abs=0.6)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler) is not installed")
def test_a_printed_code_has_the_modules_it_was_given(tmp_path: Path) -> None:
    """At the middle of every module the page is dark where the symbol is, right way up and not mirrored."""
    rows = code_rows("OY-305-2 7c1f2e90ab34")
    assert rows is not None
    surface = Surface(tmp_path / "code.pdf", PageSize.A4, "code")
    box = Box(30, 40, 20, 20)
    surface.modules(box, rows)
    surface.next_page()
    surface.save()
    dots_a_mm = 300 / 25.4
    command = ["pdftoppm", "-gray", "-r", "300", str(tmp_path / "code.pdf"), str(tmp_path / "page")]
    subprocess.run(command, check=True)
    (picture,) = tmp_path.glob("page*.pgm")
    _, size, _, dots = picture.read_bytes().split(b"\n", 3)
    across = int(size.split()[0])
    module = box.width / len(rows)
    for i, row in enumerate(rows):
        for j, dark in enumerate(row):
            x, y = (
                int((box.x + (j + 0.5) * module) * dots_a_mm),
                int((box.y + (i + 0.5) * module) * dots_a_mm),
            )
            assert (dots[y * across + x] < 128) == bool(dark)


@needs_pdftotext
def test_letters_that_upset_a_file_are_printed_and_found(tmp_path: Path) -> None:
    """Brackets and backslashes end or change a text of the file when they are written as they are."""
    said = r"a) (b \n %c <d> [e]"
    surface = Surface(tmp_path / "a.pdf", PageSize.A4, "one")
    surface.text(Box(20, 30, 160, 8), said, size=12)
    surface.next_page()
    surface.save()
    found = subprocess.run(
        ["pdftotext", str(tmp_path / "a.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert said in found


@needs_pdftotext
def test_more_letters_than_a_font_of_the_file_holds_are_printed(tmp_path: Path) -> None:
    """A file's font has at most 256 letters; a text over several of them stays one line."""
    letters = "".join(chr(code) for code in (*range(0x100, 0x180), *range(0x410, 0x482)))
    surface = Surface(tmp_path / "a.pdf", PageSize.A4, "one")
    surface.text(Box(10, 30, 190, 20), letters, size=12, lines=4)
    surface.text(Box(10, 60, 190, 5), "Łódź Ω ½", size=12)
    surface.next_page()
    surface.save()
    found = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "a.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert letters in found.replace("\n", "")
    assert "Łódź Ω ½" in found
