"""Paper."""

from __future__ import annotations

from nesting.paper.page_size import PageSize
from nesting.units import inches, mm


def test_the_sheets_have_their_sizes() -> None:
    """A4 is 210 x 297 mm (ISO 216); Letter is 8 1/2 x 11 in, 215.9 x 279.4 mm."""
    assert (PageSize.A4.width, PageSize.A4.height) == (210, 297)
    assert mm(str(PageSize.LETTER.width)) == inches("8 1/2")
    assert mm(str(PageSize.LETTER.height)) == inches(11)
