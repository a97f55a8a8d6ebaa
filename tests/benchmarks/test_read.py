"""Readers of published instances."""

import gzip
from decimal import Decimal
from pathlib import Path

import pytest

from benchmarks.cases.plain import TINY_BIN_PACKING, TINY_CUTTING_STOCK
from benchmarks.read import problem, problem_of, read_plain, records


def test_both_plain_forms_give_the_same_problem() -> None:
    """One piece a line and length with demand are two spellings of one instance."""
    assert read_plain(TINY_CUTTING_STOCK, "tiny") == read_plain(TINY_BIN_PACKING, "tiny")
    read = read_plain(TINY_CUTTING_STOCK, "tiny")
    assert (read.lengths, read.counts, read.bars[0].length) == ((6, 5, 4), (1, 2, 1), 10)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("3\n10\n6\n5\n", "3 items announced, 2 found"),
        ("2\n10\n6 1\n5\n", "every item line"),
        ("1\n10\n6 1 1\n", "every item line"),
        ("2 10\n6\n5\n", "first two lines"),
        ("", "first two lines"),
    ],
)
def test_a_damaged_plain_file_is_refused(text: str, why: str) -> None:
    """Copies of the public sets in circulation are cut short; half an instance is another instance."""
    with pytest.raises(ValueError, match=why):
        read_plain(text, "damaged")


def test_a_single_stock_record_is_bars_without_limit() -> None:
    """Bin packing asks for the fewest bars: cost 1 each, none missing, no kerf."""
    read = problem_of({"name": "a", "capacity": 10, "lengths": [6, 4], "demands": [1, 2]})
    assert (read.bars[0].count, read.bars[0].cost, read.kerf) == (None, 1, 0)


def test_several_stock_lengths_keep_supply_and_cost() -> None:
    """The value of those classes is the cost of the stock used, out of a limited supply."""
    read = problem_of(
        {
            "name": "a",
            "stock_lengths": [10, 5],
            "stock_supply": [1, 2],
            "stock_costs": [10, 5],
            "lengths": [6, 4],
            "demands": [1, 1],
        }
    )
    assert [(bar.length, bar.count, bar.cost) for bar in read.bars] == [(10, 1, 10), (5, 2, 5)]


def test_decimals_are_scaled_exactly() -> None:
    """64.5 and 18.76 in hundredths are 6450 and 1876; a float would give 1875 for some of them."""
    read = problem("a", [Decimal("18.76"), Decimal("7.5")], [1, 1], [(Decimal("64.5"), None, 1)])
    assert (read.lengths, read.bars[0].length) == ((1876, 750), 6450)


def test_repeats_are_counted_and_bars_nothing_fits_are_left_out() -> None:
    """A problem lists distinct lengths, and only bars that the shortest piece fits."""
    read = problem("a", [4, 6, 4], [1, 1, 2], [(10, None, 1), (3, 5, 1)])
    assert (read.lengths, read.counts, len(read.bars)) == ((6, 4), (1, 3), 1)


def test_records_come_back_exact_from_the_file(tmp_path: Path) -> None:
    """Numbers with decimals must not pass through a float on the way in."""
    path = tmp_path / "some.jsonl.gz"
    with gzip.open(path, "wt", encoding="utf-8") as file:
        file.write('{"name": "a", "x": 0.1}\n{"name": "b", "x": 2}\n')
    assert [record["x"] for record in records(path)] == [Decimal("0.1"), 2]
