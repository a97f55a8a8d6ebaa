"""A whole request taken off: pieces with their identity, strip, and what cannot be made."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Material, Part, SplitRule
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Place, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import Severity, Where
from nesting.takeoff import take_off
from nesting.takeoff.in_sections import runs_in_sections
from nesting.units import Length, Unit, inches, mm, mm_text, read_length

CAP, BARE, JOINT = EndCondition.SOLID_CAP, EndCondition.BARE, EndCondition.JOINT
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
TOLV = Family(
    name="TOLV-17N",
    cap_style=CapStyle.NOSE,
    cap_thickness=mm("1.5"),
    nose=mm(8),
    cover_mode=CoverMode.SEPARATE,
    clearance=mm("1.5"),
    strip_pitch=Fraction(mm(50)),
    strip_feed=mm(20),
    strip_tail=mm(3),
)
BRASK = Family(
    name="BRASK-20F",
    cap_style=CapStyle.FLUSH,
    cap_thickness=mm(2),
    cover_mode=CoverMode.FLUSH,
    lot_rule=LotRule.JOB,
)
SARN = Family(name="SARN-12R", cap_style=CapStyle.INNER, nose=mm(5), cover_mode=CoverMode.OFFSET)
IMBO = Family(name="IMBO-45A", cap_style=CapStyle.NOSE, cap_thickness=mm("1.2"), nose=mm(6))
STOCK = (
    StockLine(family="TOLV-17N", finish="natural", length=mm(2000)),
    StockLine(family="TOLV-17N", finish="natural", length=mm(2500)),
    StockLine(family="TOLV-17N", finish="natural", part=Part.COVER, length=mm(3000)),
)
REQUEST = Request(saw=SAW, families=(TOLV, BRASK, SARN, IMBO), stock=STOCK)


def a_run(length: Length, family: str = "TOLV-17N", **changes: object) -> Run:
    """Give an opening in natural finish, changed as asked."""
    kind = LengthKind.OPENING if family == "TOLV-17N" else LengthKind.FINISHED
    run = Run(job="Yard", id="OY-305-2", family=family, finish="natural", length=length, kind=kind)
    return replace(run, **changes)  # type: ignore[arg-type]


def channels(*runs: Run, request: Request = REQUEST) -> list[Length]:
    """Give the channel lengths of some runs in order."""
    pieces = take_off(replace(request, runs=runs)).pieces
    return [piece.length for piece in pieces if piece.part is Part.CHANNEL]


@pytest.mark.parametrize(
    ("family", "length", "channel", "cover"),
    [
        ("TOLV-17N", mm(1806), mm(1800), None),  # 1806 - 2 x 1.5 - 2 x 1.5
        ("BRASK-20F", mm(1180), mm(1176), mm(1176)),  # 1180 - 2 x 2, cover flush
        ("SARN-12R", mm(1460), mm(1460), mm(1450)),  # inner caps: nothing outside, 2 x 5 inside
        ("IMBO-45A", mm(1510), mm("1507.6"), None),  # 1510 - 2 x 1.2, no cover
    ],
)
def test_each_cap_style_gives_its_channel(
    family: str, length: Length, channel: Length, cover: Length | None
) -> None:
    """Nose, flush and inner caps each take off what sits outside, and covers cut along say so."""
    piece = take_off(replace(REQUEST, runs=(a_run(length, family),))).pieces[0]
    assert (piece.length, piece.exact, piece.cover_length) == (channel, channel, cover)


def test_a_separate_cover_is_a_piece_of_its_own() -> None:
    """1800 of channel with two 8 noses takes 1784 of cover, from cover bars."""
    channel, cover = take_off(replace(REQUEST, runs=(a_run(mm(1806)),))).pieces
    assert channel.material == Material("TOLV-17N", "natural", Part.CHANNEL)
    assert cover.material == Material("TOLV-17N", "natural", Part.COVER)
    assert (cover.length, cover.exact) == (mm(1784), mm(1784))
    assert (channel.id, cover.id) == ("OY-305-2", "OY-305-2c")


def test_a_ten_inch_channel_takes_a_nine_and_a_quarter_inch_cover() -> None:
    """Two 3/8 in noses in a 10 in channel (common practice, no source)."""
    family = replace(TOLV, nose=inches("3/8"))
    request = replace(REQUEST, families=(family,), runs=(a_run(inches(10), kind=LengthKind.CHANNEL),))
    assert [piece.length for piece in take_off(request).pieces] == [inches(10), inches("9 1/4")]


def test_a_run_longer_than_a_bar_is_split_equally() -> None:
    """3612 - 3 - 3 = 3606 is more than the 2484 of a 2500 bar: two of 1803, joined inside."""
    takeoff = take_off(replace(REQUEST, runs=(a_run(mm(3612)),)))
    assert [(p.id, p.length) for p in takeoff.pieces] == [
        ("OY-305-2/1", mm(1803)),
        ("OY-305-2/1c", mm(1795)),  # one nose at the outer end
        ("OY-305-2/2", mm(1803)),
        ("OY-305-2/2c", mm(1795)),
    ]
    assert [(p.left, p.right) for p in takeoff.pieces[::2]] == [(CAP, JOINT), (JOINT, CAP)]
    assert [(p.section, p.sections) for p in takeoff.pieces[::2]] == [(1, 2), (2, 2)]


def test_the_run_s_split_rule_goes_before_the_family_s() -> None:
    """Full bars and the rest when the run says so, though its family splits equally."""
    assert channels(a_run(mm(3612), split_rule=SplitRule.FULL)) == [mm(2484), mm(1122)]
    never = replace(REQUEST, families=(replace(TOLV, split_rule=SplitRule.NEVER),))
    assert channels(a_run(mm(3612), split_rule=SplitRule.EQUAL), request=never) == [mm(1803)] * 2


def test_a_run_that_just_fits_a_bar_is_not_split() -> None:
    """2484 of channel comes from a 2500 bar with 8 trimmed at each end; a nanometre more does not."""
    assert channels(a_run(mm(2490))) == [mm(2484)]
    assert len(channels(a_run(Length(mm(2490) + 1)))) == 2


def test_an_offcut_makes_no_longer_run() -> None:
    """A long offcut is a lucky find, not a reason to leave a joint out."""
    offcut = Offcut(tag="T1", family="TOLV-17N", finish="natural", length=mm(4000))
    assert len(channels(a_run(mm(3612)), request=replace(REQUEST, offcuts=(offcut,)))) == 2


def test_a_finish_that_is_not_stocked_stays_whole() -> None:
    """Without a stock line there is no bar to split for; the piece is still listed."""
    assert channels(a_run(mm(3612), finish="umber")) == [mm(3606)]


def test_joints_off_leaves_a_long_run_unplaced() -> None:
    """A run that may not be jointed and is longer than any bar is listed with the reason in words."""
    run = a_run(mm(3612), split_rule=SplitRule.NEVER, where=Where("Runs", "C17"))
    takeoff = take_off(replace(REQUEST, runs=(run,)))
    assert (takeoff.pieces, takeoff.strips) == ((), ())
    (left_out,) = takeoff.unplaced
    assert (left_out.code, left_out.run, left_out.length) == ("too-long", "OY-305-2", mm(3606))
    assert left_out.reason.startswith("too long with joints off")
    assert left_out.where == Where("Runs", "C17")


@pytest.mark.parametrize(
    ("run", "code"),
    [
        (a_run(mm(20)), "caps-meet"),  # 20 - 6 = 14 of channel, 16 of noses
        (a_run(mm(6)), "no-length"),
        (a_run(mm(1000), "NOVAL-9"), "family-unknown"),
    ],
)
def test_runs_that_cannot_be_made_are_listed(run: Run, code: str) -> None:
    """One bad line does not stop the others, and is not silently dropped."""
    takeoff = take_off(replace(REQUEST, runs=(run, a_run(mm(1806), id="good"))))
    assert [(u.run, u.code) for u in takeoff.unplaced] == [("OY-305-2", code)]
    assert all(u.reason and u.length > 0 for u in takeoff.unplaced)
    assert [p.id for p in takeoff.pieces] == ["good", "goodc"]


def test_quantity_gives_copies() -> None:
    """Two like fixtures are two of every piece, each with its own name and place."""
    place = Place(building="Orrelbeck Yard", unit="305")
    run = a_run(mm(3612), quantity=2, place=place)
    pieces = [p for p in take_off(replace(REQUEST, runs=(run,))).pieces if p.part is Part.CHANNEL]
    assert [(p.id, p.copy, p.section) for p in pieces] == [
        ("OY-305-2.1/1", 1, 1),
        ("OY-305-2.1/2", 1, 2),
        ("OY-305-2.2/1", 2, 1),
        ("OY-305-2.2/2", 2, 2),
    ]
    assert {p.place for p in pieces} == {place}


def test_lots_bind_pieces_together() -> None:
    """A named lot goes first, a family dyed in one lot per job gets the job's name, others none."""
    runs = (
        a_run(mm(1180), "BRASK-20F", id="1"),
        a_run(mm(1180), "BRASK-20F", id="2", lot="L7"),
        a_run(mm(1806), id="3"),
    )
    line = PieceLine(job="Rush", id="4", family="BRASK-20F", length=mm(700))
    pieces = take_off(replace(REQUEST, runs=runs, piece_lines=(line,))).pieces
    assert {p.run: p.material.lot for p in pieces} == {"1": "Yard", "2": "L7", "3": "", "4": "Rush"}


def test_piece_lines_go_straight_to_the_saw() -> None:
    """A length somebody took off is sawn to the nearest step, whether its family is known or not."""
    request = replace(
        REQUEST,
        saw=replace(SAW, step=mm(1)),
        piece_lines=(
            PieceLine(job="Yard", id="P", family="NOVAL-9", length=mm("700.5"), quantity=2),
            PieceLine(job="Yard", id="C", family="TOLV-17N", part=Part.COVER, length=mm(9000)),
            PieceLine(job="Yard", id="tiny", family="TOLV-17N", length=mm("0.4")),
        ),
    )
    takeoff = take_off(request)
    assert [(p.id, p.length, p.exact) for p in takeoff.pieces] == [
        ("P.1", mm(701), mm("700.5")),
        ("P.2", mm(701), mm("700.5")),
        ("C", mm(9000), mm(9000)),
    ]
    assert [(u.run, u.code) for u in takeoff.unplaced] == [("tiny", "no-length")]


@pytest.mark.parametrize(
    ("kind", "length", "sawn", "exact"),
    [
        (LengthKind.OPENING, mm("1806.7"), mm(1800), mm("1800.7")),
        (LengthKind.FINISHED, mm("1803.5"), mm(1801), mm("1800.5")),
        (LengthKind.CHANNEL, mm("1800.4"), mm(1800), mm("1800.4")),
    ],
)
def test_lengths_go_to_the_saw_s_step(kind: LengthKind, length: Length, sawn: Length, exact: Length) -> None:
    """Openings round down, other sizes to the nearest step; the exact length stays beside it."""
    request = replace(REQUEST, saw=replace(SAW, step=mm(1)), runs=(a_run(length, kind=kind),))
    piece = take_off(request).pieces[0]
    assert (piece.length, piece.exact) == (sawn, exact)


def test_strip_is_cut_for_the_whole_fixture() -> None:
    """Opening 921 has 915 of channel, 899 inside, 876 for strip: 17 marks; 18 need 939."""
    (strip,) = take_off(replace(REQUEST, runs=(a_run(mm(921), quantity=3),))).strips
    assert (strip.quantity, strip.marks, strip.length, strip.dark) == (3, 17, mm(850), mm(49))
    assert strip.for_next_mark == mm(939)  # 18 x 50 + 2 x 8 + 20 + 3


def test_strip_runs_through_joints() -> None:
    """3606 over two sections is one lit length: (3606 - 16 - 23) / 50 = 71.3."""
    (strip,) = take_off(replace(REQUEST, runs=(a_run(mm(3612)),))).strips
    assert (strip.marks, strip.length) == (71, mm(3550))


def test_a_run_in_sections_is_told() -> None:
    """Nobody finds out at the bench that a run has joints: 3612 - 3 - 3 = 3606 is two of 1803."""
    (finding,) = take_off(replace(REQUEST, runs=(a_run(mm(3612), where=Where("Runs", "C9")),))).findings
    assert (finding.severity, finding.code, finding.where) == (
        Severity.WARNING,
        "run-in-sections",
        Where("Runs", "C9"),
    )
    assert "3612 mm" in finding.message
    assert "2 sections with joints: 1803 + 1803 mm" in finding.message
    assert take_off(replace(REQUEST, runs=(a_run(mm(1806)),))).findings == ()


def test_a_run_that_a_reader_has_told_is_not_told_twice() -> None:
    """Protects the list of findings from saying the same thing at two severities."""
    request = replace(REQUEST, runs=(a_run(mm(3612)),))
    told = tuple(runs_in_sections(request))
    assert len(told) == 1
    assert take_off(replace(request, findings=told)).findings == ()


def test_a_run_too_short_for_strip_is_a_warning() -> None:
    """The channel is still made: 60 inside is less than one mark and its clearances."""
    run = a_run(mm(82), where=Where("Runs", "C9"))
    takeoff = take_off(replace(REQUEST, runs=(run,)))
    (finding,) = takeoff.findings
    assert (finding.severity, finding.code, finding.where) == (
        Severity.WARNING,
        "strip-too-short",
        Where("Runs", "C9"),
    )
    assert takeoff.strips == ()
    assert takeoff.pieces[0].length == mm(76)


def test_ids_are_unique_over_jobs_and_copies() -> None:
    """Jobs that share ids, copies, and ids that look like copies still give different names."""
    runs = (
        a_run(mm(1806), id="A", quantity=2),
        a_run(mm(1806), id="A.2"),
        a_run(mm(1806), id="B"),
        a_run(mm(1806), id="B", job="Rush"),
    )
    ids = [p.id for p in take_off(replace(REQUEST, runs=runs)).pieces if p.part is Part.CHANNEL]
    assert ids == ["A.1", "A.2", "A.2#2", "Yard:B", "Rush:B"]


run_lengths = st.lists(st.integers(30 * 64, 400 * 64), min_size=1, max_size=4)


@given(
    run_lengths,
    st.sampled_from([SplitRule.EQUAL, SplitRule.FULL]),
    st.sampled_from(list(LengthKind)),
    st.sampled_from([CAP, BARE, JOINT]),
    st.sampled_from([0, 396_875, 1_587_500, 500_000, 1_000_000]),
    st.integers(0, 2 * 10**6),
)
def test_sections_and_gaps_make_up_each_run(
    marks: list[int], rule: SplitRule, kind: LengthKind, end: EndCondition, step: int, gap: int
) -> None:
    """Sawn and exact sections each add up with their gaps; every section comes out of a bar."""
    family = replace(TOLV, joint_gap=Length(gap), split_rule=rule, shortest_section=mm(150))
    saw = replace(SAW, step=Length(step))
    runs = tuple(a_run(Length(n * 396_875), id=str(i), kind=kind, right=end) for i, n in enumerate(marks))
    takeoff = take_off(replace(REQUEST, saw=saw, families=(family,), runs=runs))
    assert takeoff.unplaced == ()
    for run in runs:
        pieces = [p for p in takeoff.pieces if p.run == run.id and p.part is Part.CHANNEL]
        gaps = (len(pieces) - 1) * gap
        outside = 0 if kind is LengthKind.CHANNEL else mm("1.5") * (1 + end.capped)
        clear = 2 * mm("1.5") if kind is LengthKind.OPENING else 0
        whole = run.length - outside - clear
        assert sum(p.exact for p in pieces) + gaps == whole
        sawn = sum(p.length for p in pieces) + gaps
        assert abs(sawn - whole) < max(step, 1)
        assert kind is not LengthKind.OPENING or sawn <= whole
        assert all(0 < p.length <= mm(2484) for p in pieces)


@given(st.lists(st.integers(2 * 64, 300 * 64), min_size=1, max_size=5))
def test_inch_and_millimetre_lists_give_the_same_pieces(marks: list[int]) -> None:
    """A list typed in inches and its twin in millimetres are one list after reading."""
    typed = [(f"{n // 64} {n % 64}/64", mm_text(n * 396_875)) for n in marks]
    inch = tuple(a_run(read_length(text, Unit.INCH).length, id=str(i)) for i, (text, _) in enumerate(typed))
    metric = tuple(a_run(read_length(text, Unit.MM).length, id=str(i)) for i, (_, text) in enumerate(typed))
    assert take_off(replace(REQUEST, runs=inch)) == take_off(replace(REQUEST, runs=metric))
