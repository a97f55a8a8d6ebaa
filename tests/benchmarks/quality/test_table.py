"""The Markdown report."""

import dataclasses

from benchmarks.quality.published import PublishedRun
from benchmarks.quality.table import markdown
from tests.benchmarks.quality.test_row import ROW

PROVED = dataclasses.replace(ROW, name="BPP14", bound=62, value=62, best_known=62, proved=True, seconds=0.25)


def test_a_series_is_one_line_with_the_published_figures_of_the_same_cases() -> None:
    """Mean of 1.25 and 0.25 s is 0.75; the published mean covers the two cases run, not the class."""
    published = {
        "BPP13": PublishedRun(False, 600.0),
        "BPP14": PublishedRun(True, 2.0),
        "BPP15": PublishedRun(True, 9.0),
    }
    text = markdown([ROW, PROVED], published)
    line = next(line for line in text.splitlines() if line.startswith("| hard28 | - |"))
    assert line == (
        "| hard28 | - | 2 | 1 | 2 of 2 | 0 | 0 | 0.750 | 1.250 | 1.000 | 120 | 1 of 2 | 301.0 | 600.0 |"
    )


def test_losing_rows_are_listed() -> None:
    """A case that was not proved must not hide in an average."""
    text = markdown([ROW, PROVED], {})
    assert "(1 of 2)" in text
    assert "| hard28 | BPP13 | 100 | 180 | 66 | 67 | 67 | equal | 1.250 | time limit |" in text
    assert "| hard28 | BPP14 |" not in text


def test_without_losing_rows_it_says_so() -> None:
    """Nothing listed should not look like a list that was forgotten."""
    assert "Every case was proved" in markdown([PROVED], {})


def test_series_are_ordered_by_number() -> None:
    """60 comes before 120 in a table people read from the top."""
    rows = [dataclasses.replace(PROVED, series=f"n = {n}") for n in (120, 60)]
    text = markdown(rows, {})
    assert text.index("n = 60") < text.index("n = 120")
