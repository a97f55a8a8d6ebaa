"""Words that read from the right."""

from __future__ import annotations

import pytest

from nesting.paper.faces import Face, printable
from nesting.paper.fitting import wrap
from nesting.paper.right_to_left import joined, turned

# Forms by the Unicode Standard's names, so that the expected texts can be checked without reading Arabic.
SEEN_INITIAL, LAM_ALEF_FINAL, MEEM, MEEM_FINAL = "\ufeb3", "\ufefc", "\u0645", "\ufee2"
BEH, BEH_INITIAL, BEH_MEDIAL, BEH_FINAL = "\u0628", "\ufe91", "\ufe92", "\ufe90"
ALEF, ALEF_FINAL, LAM_ALEF = "\u0627", "\ufe8e", "\ufefb"
SHADDA, TATWEEL = "\u0651", "\u0640"


@pytest.mark.parametrize(
    ("letters", "shown"),
    [
        (BEH, BEH),
        (BEH * 2, BEH_INITIAL + BEH_FINAL),
        (BEH * 3, BEH_INITIAL + BEH_MEDIAL + BEH_FINAL),
        # alef joins what is before it only
        (BEH + ALEF + BEH, BEH_INITIAL + ALEF_FINAL + BEH),
        # words are joined each by itself
        (f"{BEH} {BEH * 2}", f"{BEH} {BEH_INITIAL}{BEH_FINAL}"),
        # lam and alef are one letter, which joins what is before it only
        ("\u0633\u0644\u0627\u0645", SEEN_INITIAL + LAM_ALEF_FINAL + MEEM),
        ("\u0644\u0627", LAM_ALEF),
        # a mark does not part letters
        (BEH + SHADDA + BEH, BEH_INITIAL + SHADDA + BEH_FINAL),
        (TATWEEL + MEEM, TATWEEL + MEEM_FINAL),
        ("BRASK-20F", "BRASK-20F"),
    ],
)
def test_letters_take_the_form_that_their_neighbours_ask_for(letters: str, shown: str) -> None:
    """A word is read as a word, not as a row of letters."""
    assert joined(letters) == shown
    assert joined(shown) == shown


def test_words_are_turned_and_everything_else_stays() -> None:
    """Alef bet, space, gimel: printed from the left gimel, space, bet alef; the number stays in its place."""
    assert turned("אב ג-17") == "ג בא-17"
    assert turned("floor 3 · OY-301") == "floor 3 · OY-301"


def test_marks_stay_behind_the_letter_they_belong_to() -> None:
    """A point of Hebrew that changed its letter would change the word."""
    assert turned("ב\u05bcא") == "אב\u05bc"


def test_a_long_name_begins_on_its_first_line() -> None:
    """Lines are broken in reading order and turned afterwards."""
    shown, face = printable("אא בב גג דד", Face.PLAIN)
    first, *_, last = (turned(line) for line in wrap(shown, face, 10, 9.0))
    assert "א" in first
    assert "ד" in last
