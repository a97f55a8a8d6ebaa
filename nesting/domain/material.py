"""What a bar is made of and how a family of fixtures is put together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length


class Part(StrEnum):
    """The kinds of part that are sawn from a bar."""

    CHANNEL = "channel"
    COVER = "cover"


class CapStyle(StrEnum):
    """
    How an end cap sits.

    A *nose* cap has thickness outside and a nose inside the channel, a *flush* cap thickness only,
    an *inner* cap sits wholly inside: no thickness outside, but a nose.
    """

    NOSE = "nose"
    FLUSH = "flush"
    INNER = "inner"


class CoverMode(StrEnum):
    """How the cover is cut: in one stroke with the channel (flush or offset), or on its own."""

    FLUSH = "flush"
    OFFSET = "offset"
    SEPARATE = "separate"
    NONE = "none"

    @property
    def together(self) -> bool:
        """Whether the cover bar follows the channel bar's pattern."""
        return self in (CoverMode.FLUSH, CoverMode.OFFSET)


class LotRule(StrEnum):
    """Which pieces must come from one finish lot."""

    ANY = "any"
    ROOM = "room"
    JOB = "job"


class SplitRule(StrEnum):
    """How a run longer than a bar is divided, or that it may not be."""

    EQUAL = "equal"
    FULL = "full"
    NEVER = "never"


@dataclass(frozen=True, slots=True, order=True)
class Material:
    """
    What must not be mixed in one group.

    Parameters
    ----------
    family, finish
        Names as the catalogue spells them.
    part
        Channel or cover.
    lot
        Empty when any finish lot will do, else the lot or the job that binds the pieces together.
    """

    family: str
    finish: str
    part: Part
    lot: str = ""

    def __str__(self) -> str:
        """Give the name for screens and sheets."""
        return f"{self.name}, lot {self.lot}" if self.lot else self.name

    @property
    def name(self) -> str:
        """Give family, finish and part, without the lot; what has neither family nor finish is unnamed."""
        # A family that is called like the part would be said twice.
        named = "" if self.family.strip().lower() == self.part.value else self.family
        words = " ".join(f"{named} {self.finish}".split()) or "unnamed"
        return f"{words} {self.part.value}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """
    One channel family of the catalogue, with everything the take-off needs.

    Parameters
    ----------
    name
        Unique in the catalogue.
    cap_style, cap_thickness, nose
        End cap: style, thickness outside the channel end (t), length of the nose inside (n).
    cover_mode
        How the cover is cut.
    cover_play
        Length taken off each cover for fit and heat (g).
    clearance
        Default clearance at each end of a run measured as an opening (c).
    lot_rule
        Which pieces must come from one finish lot.
    split_rule, joint_gap, shortest_section
        Runs longer than a bar: how divided, gap at each joint (j), shortest section wanted (r_min).
    strip_pitch
        Distance between cut marks of the strip in nanometres, a rational (p); None when no strip.
    strip_feed, strip_tail
        Clearances for the leads and at the far end of the strip (a_feed, a_tail).
    strip_name, strip_width
        Article of the strip, for reels shared by families; its width, 0 when unknown: at a mitre it
        then stops at the short point of the channel.
    strip_watts, strip_volts
        Load of the strip in watts per metre and its supply voltage; None when unknown.
    wire, wire_length
        Feed wire (``0.75 mm2``, ``18 AWG``) and its length one way, for the drop; empty when unknown.
    strip_longest, strip_longest_both
        Longest circuit fed from one end and from both; None when the data sheet says nothing.
    strip_reel, strip_solder, strip_reach
        Full reel; distance of the factory's solder joints; what a solderless connector covers.
    width, height
        Of the section; 0 when unknown. Flat mitres need the width, standing ones the height.
    symmetric
        Whether the section is left-right symmetric, so that a mitred piece may be turned.
    handed_caps
        Whether the left cap does not fit the right end.
    clip_edge, clip_spacing, clip_single_below
        Clips: distance from the ends (d), largest spacing (s), length below which one clip will do;
        a spacing of 0 counts no clips.
    adhesive_rows
        Rows of tape or beads of adhesive under the channel.
    cover_stagger, cover_coil
        Jointed runs: distance of a separate cover's joints from the channel's (s), 0 puts them
        together; whether the cover comes from a coil and has no joint.
    channel_expansion, cover_expansion
        Growth with heat, per kelvin; None takes aluminium and polycarbonate.
    weight
        Kilograms a metre of channel, with its cover where that is cut together; None when unknown.
    heat_above, heat_below
        Kelvin above and below the temperature at cutting the fixture will see; None when unknown.
    """

    name: str
    cap_style: CapStyle = CapStyle.FLUSH
    cap_thickness: Length = NO_LENGTH
    nose: Length = NO_LENGTH
    cover_mode: CoverMode = CoverMode.NONE
    cover_play: Length = NO_LENGTH
    clearance: Length = NO_LENGTH
    lot_rule: LotRule = LotRule.ANY
    split_rule: SplitRule = SplitRule.EQUAL
    joint_gap: Length = NO_LENGTH
    shortest_section: Length = NO_LENGTH
    strip_pitch: Fraction | None = None
    strip_feed: Length = NO_LENGTH
    strip_tail: Length = NO_LENGTH
    strip_name: str = ""
    strip_width: Length = NO_LENGTH
    strip_watts: Fraction | None = None
    strip_volts: Fraction | None = None
    strip_longest: Length | None = None
    strip_longest_both: Length | None = None
    strip_reel: Length | None = None
    strip_solder: Length | None = None
    strip_reach: Length = NO_LENGTH
    wire: str = ""
    wire_length: Length = NO_LENGTH
    width: Length = NO_LENGTH
    height: Length = NO_LENGTH
    symmetric: bool = True
    handed_caps: bool = False
    clip_edge: Length = NO_LENGTH
    clip_spacing: Length = NO_LENGTH
    clip_single_below: Length = NO_LENGTH
    adhesive_rows: int = 0
    cover_stagger: Length = NO_LENGTH
    cover_coil: bool = False
    channel_expansion: Fraction | None = None
    cover_expansion: Fraction | None = None
    weight: Fraction | None = None
    heat_above: Fraction | None = None
    heat_below: Fraction | None = None

    def __post_init__(self) -> None:
        """Refuse what no family can be."""
        allowances = {
            "cap thickness": self.cap_thickness,
            "nose": self.nose,
            "cover play": self.cover_play,
            "clearance": self.clearance,
            "joint gap": self.joint_gap,
            "shortest section": self.shortest_section,
            "strip feed clearance": self.strip_feed,
            "strip tail clearance": self.strip_tail,
            "connector's reach": self.strip_reach,
            "strip width": self.strip_width,
            "wire length": self.wire_length,
            "width": self.width,
            "height": self.height,
            "clip edge distance": self.clip_edge,
            "clip spacing": self.clip_spacing,
            "length for a single clip": self.clip_single_below,
            "number of adhesive rows": self.adhesive_rows,
            "cover stagger": self.cover_stagger,
            "expansion of the channel": self.channel_expansion or 0,
            "expansion of the cover": self.cover_expansion or 0,
            "heat above": self.heat_above or 0,
            "heat below": self.heat_below or 0,
        }
        for name, value in allowances.items():
            if value < 0:
                raise ProblemError(f"Family {self.name!r}: the {name} is negative.")
        if self.strip_pitch is not None and self.strip_pitch <= 0:
            raise ProblemError(f"Family {self.name!r}: the strip pitch must be more than zero.")
        wanted = {
            "watts of the strip": self.strip_watts,
            "volts of the strip": self.strip_volts,
            "longest circuit": self.strip_longest,
            "longest circuit fed from both ends": self.strip_longest_both,
            "strip reel": self.strip_reel,
            "distance of solder joints": self.strip_solder,
            "weight": self.weight,
        }
        for name, size in wanted.items():
            if size is not None and size <= 0:
                raise ProblemError(f"Family {self.name!r}: the {name} must be more than zero, or left out.")
        for name in ("longest circuit", "longest circuit fed from both ends", "strip reel"):
            size = wanted[name]
            if self.strip_pitch is not None and size is not None and size < self.strip_pitch:
                raise ProblemError(f"Family {self.name!r}: the {name} is shorter than one cut mark.")
        if self.cap_style is CapStyle.FLUSH and self.nose:
            raise ProblemError(f"Family {self.name!r}: a flush cap has no nose.")
        if self.cap_style is CapStyle.INNER and self.cap_thickness:
            raise ProblemError(f"Family {self.name!r}: an inner cap has no thickness outside.")
        if self.cover_mode is CoverMode.FLUSH and (self.nose or self.cover_play):
            raise ProblemError(
                f"Family {self.name!r}: a cover cut flush together cannot be shorter than its "
                "channel; use offset or separate for a nose, separate for play."
            )
        if self.cover_mode is CoverMode.OFFSET and self.cover_play:
            raise ProblemError(f"Family {self.name!r}: play needs the cover cut separately.")
