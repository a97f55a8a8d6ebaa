"""The saw is walked along each bar by the auditor: strokes, tails, slivers and grip, by hand."""

from __future__ import annotations

import pytest

from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.units import Length, inches, mm
from nesting.verify.walk import walk


def bar(length: Length, head: Length, *pieces: Length) -> PlannedBar:
    """Give a bar whose figures are all left wrong: only lengths matter to the saw."""
    return PlannedBar(
        number=1,
        source="stock:0",
        offcut=False,
        length=length,
        head=head,
        tail_loss=mm(0),
        cuts=tuple(Cut(piece=str(i), length=a, face=mm(0)) for i, a in enumerate(pieces)),
        strokes=0,
        kerf_loss=mm(0),
        tail=mm(0),
        fate=TailFate.NONE,
    )


SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), grip=mm(150))


def test_four_pieces_of_610() -> None:
    """8 + 4 x 610 + 3 x 3 leave 43, the last stroke 40; five strokes with the head trim's."""
    true = walk(bar(mm(2500), mm(8), *[mm(610)] * 4), SAW)
    assert true.faces == (mm(610), mm(1223), mm(1836), mm(2449))
    assert (true.rest, true.tail, true.strokes, true.chips) == (mm(43), mm(40), 5, mm(12))


def test_inch_bar_leaves_its_offcut() -> None:
    """98.425 in, trim 5/16, kerf 1/8, four 24s: 98.425 - 0.3125 - 96 - 4 x 0.125 = 1.6125 in."""
    true = walk(bar(inches("98.425"), inches("5/16"), *[inches(24)] * 4), SawRules(kerf=inches("1/8")))
    assert true.tail == 16125 * 2540


def test_exact_bar_takes_one_stroke_less() -> None:
    """4 x 497.75 + 3 x 3 = 2000: three strokes, nothing left."""
    true = walk(bar(mm(2000), mm(0), *[mm("497.75")] * 4), SAW)
    assert (true.rest, true.tail, true.strokes, true.chips) == (0, 0, 3, mm(9))


def test_sliver_goes_into_chips_whole() -> None:
    """665 + 665 + 662 + 2 x 3 leave 2 of 2000, less than the blade takes."""
    true = walk(bar(mm(2000), mm(0), mm(665), mm(665), mm(662)), SAW)
    assert (true.rest, true.tail, true.strokes, true.chips) == (mm(2), 0, 3, mm(8))


def test_too_short_a_bar_has_a_negative_rest() -> None:
    """3 x 665 + 2 x 3 = 2001 of 2000."""
    assert walk(bar(mm(2000), mm(0), *[mm(665)] * 3), SAW).rest == mm(-1)


@pytest.mark.parametrize(
    ("order", "held"),
    [
        # After 2300 only 189 remain, then 126 and 63 (common practice, no source).
        ((2300, 60, 60), (True, False, False)),
        # 2429 and 2366 are held, then the last piece itself.
        ((60, 60, 2300), (True, True, True)),
    ],
)
def test_grip_depends_on_the_order(order: tuple[int, ...], held: tuple[bool, ...]) -> None:
    """Short pieces first keep the fingers away from the blade."""
    assert walk(bar(mm(2500), mm(8), *map(mm, order)), SAW).held == held


def test_grip_is_met_at_exactly_its_length() -> None:
    """The 150 mm rule means at least 150: 258 - 105 - 3 = 150 left behind the stroke."""
    saw = SawRules(kerf=mm(3), grip=mm(150))
    assert walk(bar(mm(258), mm(0), mm(105)), saw).held == (True,)
    assert walk(bar(mm(257), mm(0), mm(105)), saw).held == (False,)
