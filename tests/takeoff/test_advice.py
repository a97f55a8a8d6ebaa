"""Heat, voltage drop and solder joints are warned of where they matter, never changed in silence."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.electrics import PLANNING_AID
from nesting.domain.material import CapStyle, CoverMode, Family
from nesting.domain.progress import StopReason
from nesting.domain.reels import PlannedReel, ReelCut, ReelPlan
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.errors import Severity
from nesting.takeoff.advice import electric_findings, heat_findings, solder_findings, strip_kind
from nesting.takeoff.take_off import take_off
from nesting.units import mm

FAMILY = Family(
    name="F",
    cap_style=CapStyle.NOSE,
    nose=mm(8),
    cover_mode=CoverMode.SEPARATE,
    heat_above=Fraction(30),
    heat_below=Fraction(20),
    strip_pitch=Fraction(mm(50)),
    strip_watts=Fraction(20),
    strip_volts=Fraction(24),
)


def request(*lengths: int, family: Family = FAMILY) -> Request:
    runs = tuple(Run(job="J", id=str(n), family="F", length=mm(n)) for n in lengths)
    return Request(
        runs=runs,
        families=(family,),
        stock=(StockLine(family="F", length=mm(6000)),),
        saw=DEFAULT_SAW,
    )


def heat(asked: Request) -> list[tuple[Severity, str]]:
    return [(f.severity, f.message) for f in heat_findings(asked, take_off(asked).pieces)]


def test_three_metres_want_more_than_two_millimetres() -> None:
    """(65 - 23.4)e-6 x 3000 x 30 = 3.744 mm; 900 wants 1.12 and is not counted."""
    ((severity, message),) = heat(request(3000, 900))
    assert severity is Severity.WARNING
    assert "(3000, channel 3000 mm) wants 3.74 mm of play when hot; the family gives 0 mm" in message
    assert "1 cover wants more than 2 mm of it" in message
    assert "No length is changed" in message


def test_play_that_is_given_counts() -> None:
    """With 2 mm of play 1.744 is missing: shown, not warned of."""
    ((severity, message),) = heat(request(3000, family=replace(FAMILY, cover_play=mm(2))))
    assert severity is Severity.NOTE
    assert "the family gives 2 mm" in message


def test_a_cold_gap_wider_than_the_nose_leaks() -> None:
    """3.744 + 2.496 = 6.24 mm open in the cold, more than a nose of 6."""
    ((_, message),) = heat(request(3000, family=replace(FAMILY, nose=mm(6))))
    assert "When cold it stands 6.24 mm open" in message
    ((_, message),) = heat(request(3000))
    assert "When cold" not in message


def test_nothing_is_said_without_temperatures_or_cover() -> None:
    """No temperature is invented."""
    assert heat(request(3000, family=replace(FAMILY, heat_above=None))) == []
    assert heat(request(3000, family=replace(FAMILY, cover_mode=CoverMode.NONE))) == []


def electric(asked: Request) -> list[str]:
    return [f.code for f in electric_findings(asked, take_off(asked).strips)]


def test_a_circuit_past_the_limited_source_is_warned_of() -> None:
    """5 m at 20 W/m are 100 W, 125 W of driver; 96 W is the limit at 24 V. 3 m are 60 W, 75 W."""
    assert electric(request(5000)) == ["class-2-exceeded"]
    assert electric(request(3000)) == []
    divided = replace(FAMILY, strip_longest=mm(3000))
    assert electric(request(5000, family=divided)) == []


def test_the_drop_is_given_for_the_heaviest_circuit_with_its_caution() -> None:
    """2000 mm hold 39 marks: 39 W at 24 V, 1.625 A; 2 x 10 m x 0.026 x 1.625 = 0.845 V, 3.5 %."""
    wired = replace(FAMILY, wire="0.75 mm2", wire_length=mm(10_000))
    asked = request(2000, 900, family=wired)
    (finding,) = electric_findings(asked, take_off(asked).strips)
    assert (finding.code, finding.found) == ("feed-wire-drop", "2000")
    assert "drop 0.85 V, 3.5 %" in finding.message
    assert finding.message.endswith(PLANNING_AID)
    assert electric(request(2000, family=replace(wired, wire="string"))) == ["wire-unknown"]


def test_the_kind_of_strip_needs_its_data_sheet() -> None:
    """Without watts or volts there is nothing electrical to say."""
    kind = strip_kind(FAMILY)
    assert kind is not None
    assert (kind.name, kind.watts_per_metre) == ("F", Fraction(20))
    assert strip_kind(replace(FAMILY, strip_watts=None)) is None


def reels(*cuts: int) -> ReelPlan:
    taken = tuple(ReelCut(job="J", run="r", copy=1, part=n, marks=m) for n, m in enumerate(cuts, 1))
    return ReelPlan(
        strip="W-24",
        pitch=Fraction(mm(50)),
        reel=mm(5000),
        marks=100,
        solder_every=mm(500),
        reach=mm(12),
        reels=(PlannedReel(number=1, cuts=taken, rest=100 - sum(cuts)),),
        bound=1,
        ended=StopReason.PROVED,
    )


def test_solder_joints_are_named_once_an_article() -> None:
    """A cut after 30 marks is at 1500 mm, on a joint; the reel's own end is no cut."""
    (finding,) = solder_findings((reels(30, 33),))
    assert finding.message.startswith("1 cut falls on a factory solder joint")
    assert "reel 1 at 1500 mm" in finding.message
    assert tuple(solder_findings((reels(33, 67),))) == ()
    assert tuple(solder_findings((replace(reels(30, 33), reach=mm(0)),))) == ()
