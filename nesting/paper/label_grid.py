"""Where the labels of a sheet lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.errors import ProblemError
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelGrid:
    """
    A sheet of like labels, all in millimetres.

    Parameters
    ----------
    columns, rows
        Labels across and down.
    width, height
        Size of one label.
    left, top
        From the sheet's corner to the first label's.
    gap_across, gap_down
        Between labels.
    """

    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    gap_across: float = 0.0
    gap_down: float = 0.0

    def __post_init__(self) -> None:
        """Refuse grids without a label, and labels too small to be read."""
        if self.columns < 1 or self.rows < 1:
            raise ProblemError("A sheet of labels needs at least one column and one row.")
        if self.width < 40 or self.height < 25:
            raise ProblemError(
                f"A label of {self.width} x {self.height} mm is too small; 40 x 25 mm is least."
            )
        if min(self.left, self.top, self.gap_across, self.gap_down) < 0:
            raise ProblemError("Margins and gaps of a sheet of labels must not be negative.")

    @classmethod
    def filling(cls, page: PageSize, width: float = 70.0, height: float = 37.0) -> LabelGrid:
        """
        Give as many labels of one size as a page holds, in its middle.

        Raises
        ------
        ProblemError
            When not even one label fits.
        """
        columns, rows = int(page.width // width), int(page.height // height)
        return cls(
            columns=columns,
            rows=rows,
            width=width,
            height=height,
            left=(page.width - columns * width) / 2,
            top=(page.height - rows * height) / 2,
        )

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.columns * self.rows

    def boxes(self) -> Iterator[Box]:
        """Give the labels' places, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield Box(
                    self.left + column * (self.width + self.gap_across),
                    self.top + row * (self.height + self.gap_down),
                    self.width,
                    self.height,
                )

    def check(self, page: PageSize) -> None:
        """
        Make sure the grid lies on the page.

        Raises
        ------
        ProblemError
            When a label would leave the page.
        """
        last = list(self.boxes())[-1]
        if last.right > page.width + 1e-6 or last.bottom > page.height + 1e-6:
            raise ProblemError(
                f"The labels reach to {last.right:g} x {last.bottom:g} mm; {page.value} has "
                f"{page.width:g} x {page.height:g} mm."
            )
