"""What a tail should come to and when it is doubted."""

from __future__ import annotations

import pytest

from api.pages.saw.tail import tail_doubt
from nesting.units import mm
from tests.pages.saw.sheets import TRIMMED, plan_of, sheet_of


def test_a_tail_is_kept_scrap_or_none() -> None:
    """1879 of 2500 go back to the rack, 40 do not, and 2 mm are taken by the blade."""
    kept = sheet_of(plan_of(("610",), 2500, TRIMMED)).tail
    # 2500 - 8 - 610 - 3 = 1879.
    assert (kept.kept, kept.expected and kept.expected.first) == (True, "1879\N{NO-BREAK SPACE}mm")
    scrap = sheet_of(plan_of(("610",) * 4, 2500, TRIMMED)).tail
    assert (scrap.kept, scrap.expected and scrap.expected.figure) == (False, "40")
    none = sheet_of(plan_of(("665", "665", "662"), 2000)).tail
    assert (none.expected, none.words) == (None, "None: the blade takes the rest.")


@pytest.mark.parametrize(("measured", "doubt"), [(38, "short"), (39, ""), (40, ""), (48, ""), (49, "long")])
def test_a_tail_outside_what_right_pieces_leave_is_doubted(measured: int, doubt: str) -> None:
    """40 expected: a tape reads to 1 mm, and bars up to 5 m come up to 7 mm longer: 39 to 48."""
    assert tail_doubt(mm(measured), sheet_of(plan_of(("610",) * 4, 2500, TRIMMED)).tail) == doubt
