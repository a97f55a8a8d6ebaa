"""Every material that the lists need is looked for in stock, and a lack points at its cell."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.material import CoverMode, Family, Part
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import StockLine
from nesting.errors import Where
from nesting.sheets.read_needs import cell_of, materials_needed, rows_text, stock_by_material
from nesting.units import mm

RUN = Run(job="J1", id="A", family="SEP", finish="natural", length=mm(900), where=Where("Runs", "C2"))
LINE = PieceLine(job="J1", id="P", family="SEP", length=mm(900), part=Part.COVER, where=Where("Pieces", "C2"))
FINISH = Where("Runs", "E2")


def test_a_cover_cut_on_its_own_needs_bars_of_its_own() -> None:
    """One that is cut with its channel comes with the channel's bar."""
    separate = Family(name="SEP", cover_mode=CoverMode.SEPARATE)
    request = Request(runs=(RUN,), piece_lines=(LINE,), families=(separate,), saw=DEFAULT_SAW)
    places = {(RUN.where, "finish"): FINISH}
    assert materials_needed(request, places) == {
        ("SEP", "natural", Part.CHANNEL): [FINISH],
        ("SEP", "natural", Part.COVER): [FINISH],
        ("SEP", "", Part.COVER): [LINE.where],
    }
    together = replace(request, families=(Family(name="SEP"),), piece_lines=())
    assert list(materials_needed(together, {})) == [("SEP", "natural", Part.CHANNEL)]


def test_a_line_is_pointed_at_by_the_cell_that_says_it() -> None:
    """The finish is mended in its own cell; a blank one is found by the line's length."""
    places = {(RUN.where, "finish"): FINISH}
    assert cell_of(places, RUN.where, "family", "finish") == FINISH
    assert cell_of(places, RUN.where, "family") == RUN.where


def test_stock_is_sorted_by_material() -> None:
    """Lengths are compared within one material only."""
    short = StockLine(family="F", length=mm(2000))
    long, other = replace(short, length=mm(2500)), replace(short, finish="umber")
    assert stock_by_material([short, other, long]) == {
        ("F", "", Part.CHANNEL): [short, long],
        ("F", "umber", Part.CHANNEL): [other],
    }


def test_many_rows_are_cut_short() -> None:
    """A finding of four hundred cells is read by nobody."""
    assert rows_text([Where("Runs", "C2"), Where("Runs", "C3")]) == "Runs!C2, Runs!C3"
    assert " more" in rows_text([Where("Runs", f"C{row}") for row in range(2, 400)])
