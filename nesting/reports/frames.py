"""
A plan as data frames, for people who analyse.

Lengths are whole nanometres (``*_nm``, exact) and millimetres (``*_mm``, floats for reading).
Import this module by name; it is the only one here that needs pandas.
"""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from nesting.domain.plan import Plan
from nesting.reports.whereabouts import bars_in_order, pieces_by_id, spots
from nesting.units import NM_PER_MM

_MATERIAL = ("family", "finish", "part", "lot")
_BAR = ("bar", *_MATERIAL, "source", "offcut", "pieces", "strokes", "tail_fate", "tail_tag", "sliver")
_BAR_NM = ("length_nm", "head_nm", "good_nm", "kerf_nm", "tail_nm")
_CUT = ("bar", "order", "piece", "job", "run", "held")
_CUT_NM = ("length_nm", "face_nm")
_PIECE = ("piece", "job", "run", "copy", "section", "sections", *_MATERIAL)
_PLACE = ("building", "floor", "unit", "room", "spot", "bar", "order")
_PIECE_NM = ("length_nm", "exact_nm")


def bars_frame(plan: Plan) -> pd.DataFrame:
    """Give one row per bar: source, metal account, tail."""
    rows = []
    for group, bar in bars_in_order(plan):
        material = group.material
        rows.append(
            (
                bar.number,
                *(material.family, material.finish, material.part.value, material.lot),
                *(
                    bar.source,
                    bar.offcut,
                    len(bar.cuts),
                    bar.strokes,
                    bar.fate.value,
                    bar.tail_tag,
                    bar.sliver,
                ),
                int(bar.length),
                int(bar.head),
                sum(int(cut.length) for cut in bar.cuts),
                int(bar.kerf_loss),
                int(bar.tail),
            )
        )
    return _frame(rows, (*_BAR, *_BAR_NM))


def cuts_frame(plan: Plan) -> pd.DataFrame:
    """Give one row per cut, in saw order."""
    pieces = pieces_by_id(plan)
    rows = []
    for _, bar in bars_in_order(plan):
        for order, cut in enumerate(bar.cuts, start=1):
            piece = pieces[cut.piece]
            lengths = (int(cut.length), int(cut.face))
            rows.append((bar.number, order, cut.piece, piece.job, piece.run, cut.held, *lengths))
    return _frame(rows, (*_CUT, *_CUT_NM))


def pieces_frame(plan: Plan) -> pd.DataFrame:
    """Give one row per piece; ``bar`` and ``order`` are missing where it is not placed."""
    where = spots(plan)
    rows = []
    for piece in plan.pieces:
        spot, material, place = where.get(piece.id), piece.material, piece.place
        rows.append(
            (
                *(piece.id, piece.job, piece.run, piece.copy, piece.section, piece.sections),
                *(material.family, material.finish, material.part.value, material.lot),
                *(place.building, place.floor, place.unit, place.room, place.spot),
                *((spot.bar.number, spot.order) if spot else (None, None)),
                *(int(piece.length), int(piece.exact)),
            )
        )
    frame = _frame(rows, (*_PIECE, *_PLACE, *_PIECE_NM))
    return frame.astype({"bar": "Int64", "order": "Int64"})


def _frame(rows: Sequence[tuple[object, ...]], columns: tuple[str, ...]) -> pd.DataFrame:
    frame = pd.DataFrame(rows, columns=list(columns))
    for name in columns:
        if name.endswith("_nm"):
            frame[name] = frame[name].astype("int64")
            frame[name.replace("_nm", "_mm")] = frame[name] / NM_PER_MM
    return frame
