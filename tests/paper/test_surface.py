"""The printed page."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

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
