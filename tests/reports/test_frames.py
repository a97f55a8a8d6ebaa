from __future__ import annotations

from dataclasses import replace

import pandas as pd

from nesting.reports.frames import bars_frame, cuts_frame, pieces_frame
from tests.reports.plans import empty_plan, example_plan

PLAN = example_plan()


def test_bars_frame_keeps_the_account() -> None:
    """Every bar's length is its head, pieces, kerf and tail, in exact integers."""
    frame = bars_frame(PLAN)
    parts = frame["head_nm"] + frame["good_nm"] + frame["kerf_nm"] + frame["tail_nm"]
    assert (frame["length_nm"] == parts).all()
    assert frame["length_nm"].sum() == PLAN.totals.used
    assert frame.loc[frame["bar"] == 10, "length_mm"].item() == 1815.0


def test_cuts_frame_is_in_saw_order() -> None:
    """Faces grow along each bar, and each cut leads back to its job."""
    frame = cuts_frame(PLAN)
    assert (frame.groupby("bar")["face_nm"].diff().dropna() > 0).all()
    assert frame.groupby("job").size().to_dict() == {"OY": 35, "RUSH": 3}


def test_pieces_frame_marks_what_is_not_placed() -> None:
    """A piece without a bar is a missing value, never bar 0."""
    stray = PLAN.groups[0].bars[0].cuts[0].piece
    # The first group's seven pieces lose their bars.
    frame = pieces_frame(replace(PLAN, groups=PLAN.groups[1:]))
    assert frame.loc[frame["piece"] == stray, "bar"].isna().all()
    assert frame["bar"].notna().sum() == 38 - 7


def test_frames_of_nothing_have_their_columns() -> None:
    """Code that analyses runs on an empty plan too."""
    for make in (bars_frame, cuts_frame, pieces_frame):
        frame = make(empty_plan())
        assert isinstance(frame, pd.DataFrame)
        assert list(frame.columns) == list(make(PLAN).columns)
        assert frame.empty
