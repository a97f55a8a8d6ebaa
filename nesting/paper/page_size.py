"""The paper in the printer."""

from __future__ import annotations

from enum import StrEnum


class PageSize(StrEnum):
    """Sheets that office printers take, upright."""

    A4 = "A4"
    LETTER = "Letter"

    @property
    def width(self) -> float:
        """Width in millimetres."""
        return 210.0 if self is PageSize.A4 else 215.9

    @property
    def height(self) -> float:
        """Height in millimetres."""
        return 297.0 if self is PageSize.A4 else 279.4
