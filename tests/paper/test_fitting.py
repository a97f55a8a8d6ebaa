"""Text in boxes."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.paper.faces import Face, printable
from nesting.paper.fitting import fit, wrap

ANY_TEXT = st.text(max_size=120)
WIDTHS = st.floats(3, 80)
HEIGHTS = st.floats(2, 20)


@settings(max_examples=150, deadline=None)
@given(ANY_TEXT, st.sampled_from(Face), st.floats(5, 30), WIDTHS, HEIGHTS, st.integers(1, 4))
def test_no_text_leaves_its_box(
    text: str, face: Face, size: float, width: float, height: float, lines: int
) -> None:
    """Whatever a list holds, its print is never wider, higher or on more lines than its box allows."""
    fitted = fit(text, face, size, width, height, lines=lines)
    assert fitted.width <= width + 1e-6
    assert fitted.height <= height + 1e-6
    assert len(fitted.lines) <= lines
    assert fitted.size <= size


@settings(max_examples=150, deadline=None)
@given(ANY_TEXT, st.sampled_from(Face), st.floats(3, 60))
def test_wrapping_loses_nothing_but_spaces(text: str, face: Face, width: float) -> None:
    """Lines put together again are the text; spaces at a break may go."""
    shown, used = printable(text, face)
    lines = wrap(shown, used, 9, width)
    assert "".join(lines).replace(" ", "") == shown.replace(" ", "")


def test_a_text_with_room_keeps_its_size() -> None:
    """Big type stays big where it can."""
    fitted = fit("1803.5 mm", Face.BOLD, 20, 43, 9)
    assert fitted.lines == ("1803.5 mm",)
    assert fitted.size == 20


def test_one_line_is_kept_while_its_type_is_bigger() -> None:
    """An id shrinks a little before it is broken in two."""
    assert fit("OY-305-8.1", Face.CODE, 13, 18, 6, lines=2).lines == ("OY-305-8.1",)


def test_a_long_text_takes_the_lines_it_may() -> None:
    """Two lines at a readable size beat one that nobody reads."""
    text = "left holed cap, right solid cap"
    one, two = fit(text, Face.PLAIN, 8, 22, 10), fit(text, Face.PLAIN, 8, 22, 10, lines=2)
    assert len(two.lines) == 2
    assert two.size > one.size


def test_what_cannot_fit_keeps_both_ends() -> None:
    """Two long names that differ at an end stay two names."""
    long = "north-west-corner-above-the-stair-" * 20
    (line,) = fit(f"A{long}-17", Face.PLAIN, 9, 40, 4).lines
    assert line.startswith("A")
    assert "…" in line
    assert line.endswith("-17")


def test_lines_break_behind_hyphens_and_slashes() -> None:
    """Ids break where a reader expects it."""
    assert wrap("OY-305/winter-garden", Face.PLAIN, 10, 26) == ("OY-305/winter-", "garden")


def test_nothing_prints_nothing() -> None:
    """An empty cell has no lines."""
    assert fit("  ", Face.PLAIN, 9, 10, 5).lines == ()
    assert fit("\u0301", Face.PLAIN, 9, 10, 5).lines == ()


def test_a_number_is_never_broken() -> None:
    """2438.4 mm broken behind its point, or 1/64 in behind its stroke, is read as another length."""
    text = "2438.4\N{NO-BREAK SPACE}mm (~95\N{NO-BREAK SPACE}63/64\N{NO-BREAK SPACE}in)"
    assert wrap(text, Face.PLAIN, 10, 25) == (
        "2438.4\N{NO-BREAK SPACE}mm",
        "(~95\N{NO-BREAK SPACE}63/64\N{NO-BREAK SPACE}in)",
    )
    assert wrap("kerf.Saw", Face.PLAIN, 10, 10) == ("kerf.", "Saw")


def test_a_length_shrinks_before_it_is_broken() -> None:
    """1819.275 m over m (71 5/8 in), as a pick list printed it, is read as metres."""
    length = "1819.275\N{NO-BREAK SPACE}mm"
    fitted = fit(f"{length} (71\N{NO-BREAK SPACE}5/8\N{NO-BREAK SPACE}in)", Face.BOLD, 11, 24, 11, lines=2)
    assert fitted.lines == (length, "(71\N{NO-BREAK SPACE}5/8\N{NO-BREAK SPACE}in)")
    assert fitted.size > 8
