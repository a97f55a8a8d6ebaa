"""What is typed beside a list is understood, or a fault beside its field; never silently dropped."""

from __future__ import annotations

import pytest

from api.pages.new.choices import FIELDS, SAW_FIELDS, typed_choices, understood
from nesting.domain.rules import DEFAULT_SAW
from nesting.errors import Where
from nesting.money import Money
from nesting.sheets.corrections import Correction
from nesting.units import Unit, mm


def test_what_is_typed_reaches_the_reader() -> None:
    """18.60 is 186 000 ten-thousandths; a bare 4 takes the unit that was chosen."""
    typed = {
        "kerf": "4",
        "head_trim": "1 cm",
        "unit": "mm",
        "job": "OY",
        "currency": "xts",
        "bars": "6000 = 18.60\n\n3 m\n",
        "title": "Porch",
        "seconds": "30",
        "stock": "list",
    }
    chosen = understood(typed, (Correction(Where("list.csv", "C3"), "1200"),))
    assert chosen.faults == {}
    assert (chosen.alone, chosen.seconds, chosen.title) == (True, 30.0, "Porch")
    options = chosen.options
    assert (options.kerf, options.head_trim, options.tail_loss) == (mm(4), mm(10), None)
    assert (options.unit, options.job, options.currency) == (Unit.MM, "OY", "XTS")
    assert options.bars == ((mm(6000), Money(186_000)), (mm(3000), None))
    assert options.corrections == (Correction(Where("list.csv", "C3"), "1200"),)


def test_a_currency_named_with_a_bar_is_remembered() -> None:
    """So that a second one in the list is asked about."""
    (named,) = understood({"bars": "6 m = 18,60 EUR"}).options.named
    assert (named.currencies, named.text) == (("EUR",), "6 m = 18,60 EUR")


def test_nothing_typed_changes_nothing() -> None:
    """Blank means: as the list says."""
    chosen = understood({})
    assert (chosen.options.kerf, chosen.options.bars, chosen.alone, chosen.seconds) == (None, (), False, None)


def test_every_fault_is_told_at_once() -> None:
    """Each at its field, in words of this page and not of the command line."""
    faults = understood(
        {"kerf": "4", "grip": "wide", "bars": "6000 = 18.60\n6 m = cheap\n3 m", "seconds": "soon"}
    ).faults
    assert set(faults) == {"kerf", "grip", "bars", "seconds"}
    assert "4 mm" in faults["kerf"]
    assert "'6000 = 18.60'" in faults["bars"]
    assert "'6 m = cheap'" in faults["bars"]
    assert "--" not in " ".join(faults.values())


@pytest.mark.parametrize("text", ["0", "-1", "nan", "inf", "1e9", "1 s"])
def test_a_search_time_that_is_none_is_a_fault(text: str) -> None:
    """Also what a computer takes for a number."""
    assert "seconds" in understood({"seconds": text}).faults


def test_only_known_fields_are_kept_and_none_without_bounds() -> None:
    """A form can hold anything."""
    kept = typed_choices(
        {"kerf": " 4 mm ", "evil": "x", "title": "t" * 5_000, "job": "", "bars": "b" * 9_000}
    )
    assert set(kept) == {"kerf", "title", "bars"}
    assert (kept["kerf"], len(kept["title"]), len(kept["bars"])) == ("4 mm", 200, 4_000)
    assert set(kept) < set(FIELDS)


def test_every_allowance_of_the_saw_has_a_field_with_its_default() -> None:
    """The page names what common practice takes (common practice, no source)."""
    assert {one.name: one.usual for one in SAW_FIELDS} == {
        name: getattr(DEFAULT_SAW, name)
        for name in ("kerf", "head_trim", "tail_loss", "keep_length", "grip", "step")
    }
    assert all(one.words and one.meaning for one in SAW_FIELDS)
