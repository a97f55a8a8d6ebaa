"""Which runs come first."""

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import PieceLine, Run
from nesting.planning.urgency import NO_RANKS, rank_of, ranks_of
from nesting.units import mm


def test_priority_goes_before_the_day_and_the_day_before_none() -> None:
    """A rush without a day beats tomorrow's ordinary run; of one priority the earlier day is first."""
    lines = tuple(
        PieceLine(job="J", id=name, family="F", length=mm(500), priority=priority, due=due)
        for name, priority, due in (
            ("PLAIN", 0, ""),
            ("MAY", 0, "2027-05-01"),
            ("APRIL", 0, "2027-04-01"),
            ("RUSH", 1, ""),
        )
    )
    runs = (Run(job="J", id="LATER", family="F", length=mm(900), priority=-1, due="2027-01-01"),)
    ranks = ranks_of(Request(runs=runs, piece_lines=lines, saw=DEFAULT_SAW))
    assert sorted(ranks, key=lambda key: ranks[key]) == [
        ("J", "RUSH"),
        ("J", "APRIL"),
        ("J", "MAY"),
        ("J", "PLAIN"),
        ("J", "LATER"),
    ]


def test_equals_share_a_rank_and_strangers_are_urgent_to_nobody() -> None:
    """Without any priority everything has rank 0, so nothing changes its place."""
    lines = tuple(PieceLine(job="J", id=name, family="F", length=mm(500)) for name in "AB")
    assert set(ranks_of(Request(piece_lines=lines, saw=DEFAULT_SAW)).values()) == {0}
    material = Material("F", "", Part.CHANNEL)
    piece = Piece(id="A", job="J", run="A", material=material, length=mm(500), exact=mm(500))
    assert rank_of(piece, NO_RANKS) == 0
    assert rank_of(piece, {("J", "A"): 3}) == 3
