"""The catalogue as JSON objects: what the take-off needs to know of a channel family."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field, StrictBool

from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, SplitRule
from nesting.exchange.json_lengths import Allowance, MaybeAllowance, MaybePitch
from nesting.exchange.json_numbers import Count, MaybeNumber
from nesting.exchange.request_part import RequestPart
from nesting.units import NO_LENGTH


class FamilyPart(RequestPart):
    """One channel family, with what the take-off needs."""

    domain: ClassVar[type] = Family

    name: str = Field(min_length=1)
    """Unique in the catalogue."""
    cap_style: CapStyle = CapStyle.FLUSH
    """nose: thickness outside and a nose inside; flush: thickness only; inner: nose only."""
    cap_thickness: Allowance = NO_LENGTH
    """Cap thickness outside the channel end."""
    nose: Allowance = NO_LENGTH
    """Length of the cap's nose inside the channel."""
    cover_mode: CoverMode = CoverMode.NONE
    """flush or offset: cut in one stroke with the channel; separate: cut on its own; none."""
    cover_play: Allowance = NO_LENGTH
    """Length taken off each cover for fit and heat."""
    clearance: Allowance = NO_LENGTH
    """Default clearance at each end of a run measured as an opening."""
    lot_rule: LotRule = LotRule.ANY
    """Which pieces of the family must come from one finish lot."""
    split_rule: SplitRule = SplitRule.EQUAL
    """How a run longer than a bar is divided."""
    joint_gap: Allowance = NO_LENGTH
    """Gap at each joint."""
    shortest_section: Allowance = NO_LENGTH
    """Shortest section wanted when a run is divided."""
    strip_pitch: MaybePitch = None
    """Distance between cut marks of the strip, also as '5000 mm per 300 marks'; null when no strip."""
    strip_feed: Allowance = NO_LENGTH
    """Clearance for the leads."""
    strip_tail: Allowance = NO_LENGTH
    """Clearance at the far end of the strip."""
    strip_name: str = ""
    """Article of the strip; families that name the same share its reels."""
    strip_width: Allowance = NO_LENGTH
    """Width of the strip; 0 when unknown: it then stops at the short point of a mitred channel."""
    strip_watts: MaybeNumber = None
    """Load of the strip, watts per metre."""
    strip_volts: MaybeNumber = None
    """Supply voltage of the strip."""
    strip_longest: MaybeAllowance = None
    """Longest circuit fed from one end; null when the data sheet says nothing."""
    strip_longest_both: MaybeAllowance = None
    """Longest circuit fed from both ends; null when the data sheet says nothing."""
    strip_reel: MaybeAllowance = None
    """Length of a full reel; without it no reels are planned."""
    strip_solder: MaybeAllowance = None
    """Distance of the factory's solder joints on the reel; null when there are none."""
    strip_reach: Allowance = NO_LENGTH
    """What a solderless connector covers at a strip end; 0 for soldered leads."""
    wire: str = ""
    """Feed wire, such as '0.75 mm2' or '18 AWG'; its drop is worked out as advice."""
    wire_length: Allowance = NO_LENGTH
    """Length of the feed wire one way."""
    width: Allowance = NO_LENGTH
    """Width of the section; flat mitres need it."""
    height: Allowance = NO_LENGTH
    """Height of the section; standing mitres need it."""
    symmetric: StrictBool = True
    """Whether the section is left-right symmetric, so that a mitred piece may be turned end for end."""
    handed_caps: StrictBool = False
    """Whether the left cap does not fit the right end."""
    clip_edge: Allowance = NO_LENGTH
    """First and last clip's distance from the channel's ends."""
    clip_spacing: Allowance = NO_LENGTH
    """Largest distance between clips; 0 counts no clips."""
    clip_single_below: Allowance = NO_LENGTH
    """A channel shorter than this takes one clip."""
    adhesive_rows: Count = 0
    """Rows of tape or beads of adhesive under the channel."""
    cover_stagger: Allowance = NO_LENGTH
    """Least distance of a separate cover's joints from the channel's; 0 puts them together."""
    cover_coil: StrictBool = False
    """Whether the cover comes from a coil, so that it has no joint."""
    weight: MaybeNumber = None
    """Kilograms a metre of channel, with its cover where that is cut together."""
    channel_expansion: MaybeNumber = None
    """Growth of the channel per kelvin, such as '23.4e-6'."""
    cover_expansion: MaybeNumber = None
    """Growth of the cover per kelvin, such as '65e-6'; take it from its data sheet."""
    heat_above: MaybeNumber = None
    """Kelvin that it will get warmer than when it was cut."""
    heat_below: MaybeNumber = None
    """Kelvin that it will get colder than when it was cut."""
