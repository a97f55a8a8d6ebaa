"""What the shipped typefaces can print."""

from __future__ import annotations

from importlib.resources import files

import pytest

from nesting.paper.faces import Face, font_of, printable, width_of


@pytest.mark.parametrize("face", Face)
@pytest.mark.parametrize("text", ["ÀÉÎÕÜßæøþ £§±²³µ¶·½¼¾", "⅛⅜⅝⅞ × – … ▶ ~", "Łódź, Ναι, Ванная"])
def test_the_faces_hold_the_letters_of_europe_and_the_fractions(face: Face, text: str) -> None:
    """Latin-1, fractions, Greek and Cyrillic are printed as they are."""
    assert printable(text, face) == (text, face)


def test_names_in_letters_no_face_has_stay_apart() -> None:
    """Two rooms whose names no face has are not printed as the same empty boxes."""
    window, door = printable("窓-1", Face.CODE)[0], printable("扉-1", Face.CODE)[0]
    assert window == "{7A93}-1"
    assert window != door


def test_an_id_in_hebrew_is_printed_in_the_loud_face() -> None:
    """The identifiers' face has no Hebrew; the text stays in the order in which it is read."""
    assert printable("אב ג-17", Face.CODE) == ("אב ג-17", Face.BOLD)


def test_arabic_letters_are_printed_joined() -> None:
    """Meem at the beginning of a word, feh and teh marbuta at its end: three forms, no braces."""
    assert printable("غرفة", Face.PLAIN)[0] == "\ufecf\ufeae\ufed3\ufe94"


def test_a_joined_letter_that_no_face_has_is_told_by_its_own_code_point() -> None:
    """Heh goal has one code point as a letter and four as a form; a name has the letter."""
    assert printable("\u06c1\u06c1", Face.PLAIN)[0] == "{06C1}{06C1}"


def test_what_has_no_look_of_its_own_is_not_printed() -> None:
    """A soft hyphen is no hyphen in the middle of a line; a mark for programs is no code point in braces."""
    assert printable("Fenster\N{SOFT HYPHEN}brüstung", Face.PLAIN)[0] == "Fensterbrüstung"
    assert printable("\N{RIGHT-TO-LEFT MARK}OY-1\N{ZERO WIDTH JOINER}", Face.CODE) == ("OY-1", Face.CODE)


def test_controls_and_spaces_become_one_space() -> None:
    """Tabs and line ends in a cell cannot upset a line; a no-break space keeps its words together."""
    assert printable(" a\t\r\n b ", Face.PLAIN)[0] == "a b"
    assert printable("36\N{NO-BREAK SPACE}1/4", Face.PLAIN)[0] == "36\N{NO-BREAK SPACE}1/4"


def test_zero_and_capital_o_are_told_apart_by_width_too() -> None:
    """The identifiers' face gives every sign the same room, so columns of tags line up."""
    assert width_of("0", Face.CODE) == width_of("O", Face.CODE) == width_of("i", Face.CODE) > 0


@pytest.mark.parametrize("face", Face)
def test_a_face_is_loaded_once(face: Face) -> None:
    """Seven documents of a plan read each font file once."""
    assert font_of(face) is font_of(face)
    assert font_of(face).fontName == face.value


def test_the_licence_lies_beside_the_faces() -> None:
    """The faces may be shipped as long as their notice is."""
    notice = files("nesting.paper").joinpath("fonts/LICENSE.txt").read_text("utf-8")
    assert "Bitstream Vera Fonts Copyright" in notice
    assert "Arev Fonts Copyright" in notice
