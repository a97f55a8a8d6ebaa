"""Requests and plans of every shape a document can hold, sensible or not."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import strategies as st

from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.domain.electrics import Feed
from nesting.domain.goals import GoalPrice, Goals, Slivers
from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Material, Part, SplitRule
from nesting.domain.mitre import Mitre, MitrePlane, MitreSection
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import (
    Alternative,
    Cut,
    GroupPlan,
    JobShare,
    Margins,
    OrderLine,
    Plan,
    PlannedBar,
    SpareCut,
    TailFate,
    Totals,
    Unplaced,
)
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.reels import PlannedReel, ReelCut, ReelPlan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Place, Run
from nesting.domain.small_parts import (
    AdhesiveLine,
    CapCount,
    CapKind,
    ConnectorLine,
    Hand,
    PartCount,
    SmallParts,
    StripLine,
)
from nesting.domain.status import Purpose, Status
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import Finding, Severity, Where
from nesting.money import Money
from nesting.units import Length

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=6)
NAMES = TEXTS.filter(bool)
ALLOWANCES = st.integers(0, 10**10).map(Length)
SIZES = st.integers(1, 10**10).map(Length)
LENGTHS = st.integers(-(10**10), 10**11).map(Length)
WHOLE = st.integers(-(10**12), 10**12)
MONEY = st.integers(0, 10**12).map(Money)
MAYBE_MONEY = st.none() | MONEY
WHERES = st.builds(Where, NAMES, TEXTS)
SPANS = st.tuples(ALLOWANCES, SIZES).map(lambda at: Span(at[0], Length(at[0] + at[1])))
PLACES = st.builds(Place, TEXTS, TEXTS, TEXTS, TEXTS, TEXTS)
NUMBERS = st.fractions(Fraction(1, 10**6), 10**6, max_denominator=10**6)
REELS = st.integers(10**9, 10**11).map(Length)  # never shorter than a strip pitch
EXTRA = st.lists(st.tuples(TEXTS, TEXTS), max_size=2).map(tuple)
FINDINGS = st.builds(
    Finding, severity=st.sampled_from(Severity), code=NAMES, where=WHERES, found=TEXTS, message=TEXTS
)
SAWS = st.builds(
    SawRules,
    kerf=ALLOWANCES,
    head_trim=ALLOWANCES,
    tail_loss=ALLOWANCES,
    keep_length=ALLOWANCES,
    grip=ALLOWANCES,
    step=ALLOWANCES,
)
FAMILIES = st.builds(
    Family,
    name=NAMES,
    cap_style=st.just(CapStyle.NOSE),
    cap_thickness=ALLOWANCES,
    nose=ALLOWANCES,
    cover_mode=st.sampled_from([CoverMode.SEPARATE, CoverMode.NONE]),
    cover_play=ALLOWANCES,
    clearance=ALLOWANCES,
    lot_rule=st.sampled_from(LotRule),
    split_rule=st.sampled_from(SplitRule),
    joint_gap=ALLOWANCES,
    shortest_section=ALLOWANCES,
    strip_pitch=st.none() | st.fractions(Fraction(1, 9), 10**9, max_denominator=999),
    strip_feed=ALLOWANCES,
    strip_tail=ALLOWANCES,
    strip_name=TEXTS,
    strip_width=ALLOWANCES,
    weight=st.none() | NUMBERS,
    strip_watts=st.none() | NUMBERS,
    strip_volts=st.none() | NUMBERS,
    strip_longest=st.none() | REELS,
    strip_longest_both=st.none() | REELS,
    strip_reel=st.none() | REELS,
    strip_solder=st.none() | SIZES,
    strip_reach=ALLOWANCES,
    wire=TEXTS,
    wire_length=ALLOWANCES,
    width=ALLOWANCES,
    height=ALLOWANCES,
    symmetric=st.booleans(),
    handed_caps=st.booleans(),
    clip_edge=ALLOWANCES,
    clip_spacing=ALLOWANCES,
    clip_single_below=ALLOWANCES,
    adhesive_rows=st.integers(0, 4),
    cover_stagger=ALLOWANCES,
    cover_coil=st.booleans(),
    channel_expansion=st.none() | NUMBERS,
    cover_expansion=st.none() | NUMBERS,
    heat_above=st.none() | NUMBERS,
    heat_below=st.none() | NUMBERS,
)
MITRES = st.builds(
    Mitre,
    angle=st.fractions(0, 80, max_denominator=999),
    outside=st.booleans(),
    plane=st.just(MitrePlane.STANDING),
)
STOCK = st.builds(
    StockLine,
    family=TEXTS,
    finish=TEXTS,
    part=st.sampled_from(Part),
    length=SIZES,
    price=MAYBE_MONEY,
    count=st.none() | st.integers(9, 999),
    pack=st.integers(1, 12),
    minimum=st.integers(0, 40),
    on_hand=st.integers(0, 9),
    hand_value=MAYBE_MONEY,
    supplier=TEXTS,
    lead_days=st.none() | st.integers(0, 90),
    where=WHERES,
)
BREAKS = st.one_of(
    st.builds(
        PriceBreak, bars=st.integers(1, 99), off=st.integers(1, 10_000), scope=st.sampled_from(BreakScope)
    ),
    st.builds(
        PriceBreak, bars=st.integers(1, 99), price=st.just(Money(0)), scope=st.sampled_from(BreakScope)
    ),
)
STOCK_WITH_BREAKS = st.builds(
    replace, STOCK, price=MONEY, breaks=st.lists(BREAKS, min_size=1, max_size=3).map(tuple)
)
BUYING = st.builds(
    BuyingRules,
    fetch=MONEY,
    offcut_value=st.none()
    | st.builds(OffcutValue, low=st.integers(0, 4_000), high=st.integers(4_000, 9_999)),
    spares=st.builds(Spares, bars=st.integers(0, 9), share=st.integers(0, 10_000), from_tails=st.booleans()),
    least_order=MONEY,
    budget=MAYBE_MONEY,
    needed_by=st.just("") | st.dates().map(str),
)
GOALS = st.builds(
    Goals,
    fewer_patterns=st.booleans(),
    long_tail=st.booleans(),
    gang=st.integers(1, 99),
    open_units=st.booleans(),
    slivers=st.sampled_from(Slivers),
)
OFFCUTS = st.builds(
    Offcut,
    tag=NAMES.filter(lambda tag: not tag.startswith("stock:")),
    family=TEXTS,
    finish=TEXTS,
    part=st.sampled_from(Part),
    length=SIZES,
    left=st.sampled_from(EndState),
    right=st.sampled_from(EndState),
    lot=TEXTS,
    place=TEXTS,
    value=MAYBE_MONEY,
    born=st.just("") | st.dates().map(str),
    where=WHERES,
)
STRAIGHT_ENDS = st.sampled_from([end for end in EndCondition if end is not EndCondition.MITRE])


@st.composite
def requests(draw: st.DrawFn) -> Request:
    """Give a request whose ids are unique and whose runs name families it has."""
    families = draw(st.lists(FAMILIES, max_size=2, unique_by=lambda f: f.name))
    run = st.builds(
        Run,
        job=TEXTS,
        id=NAMES,
        status=st.sampled_from(Status),
        priority=st.integers(-9, 9),
        due=st.just("") | st.dates().map(str),
        family=st.sampled_from([f.name for f in families]) if families else NAMES,
        finish=TEXTS,
        quantity=st.integers(1, 99),
        length=SIZES,
        kind=st.sampled_from(LengthKind),
        left=STRAIGHT_ENDS,
        right=STRAIGHT_ENDS,
        clearance_left=st.none() | ALLOWANCES,
        clearance_right=st.none() | ALLOWANCES,
        split_rule=st.none() | st.sampled_from(SplitRule),
        lot=TEXTS,
        feed=st.none() | st.sampled_from(Feed),
        place=PLACES,
        note=TEXTS,
        where=WHERES,
        extra=EXTRA,
    )
    cornered = st.builds(
        replace,
        run,
        left=st.just(EndCondition.MITRE),
        mitre_left=MITRES,
        partner_left=TEXTS,
        feed=st.just(Feed.BACK),
        feed_at=st.none() | ALLOWANCES,
    )
    line = st.builds(
        PieceLine,
        job=TEXTS,
        id=NAMES,
        status=st.sampled_from(Status),
        priority=st.integers(-9, 9),
        due=st.just("") | st.dates().map(str),
        family=TEXTS,
        finish=TEXTS,
        part=st.sampled_from(Part),
        quantity=st.integers(1, 99),
        length=SIZES,
        lot=TEXTS,
        place=PLACES,
        note=TEXTS,
        where=WHERES,
        extra=EXTRA,
    )
    rows = draw(
        st.lists(
            st.one_of(run, cornered, line) if families else line,
            max_size=3,
            unique_by=lambda row: (row.job, row.id),
        )
    )
    return Request(
        title=draw(TEXTS),
        runs=tuple(row for row in rows if isinstance(row, Run)),
        piece_lines=tuple(row for row in rows if isinstance(row, PieceLine)),
        families=tuple(families),
        stock=tuple(draw(st.lists(STOCK | STOCK_WITH_BREAKS, max_size=2))),
        buying=draw(BUYING),
        purpose=draw(st.sampled_from(Purpose)),
        goals=draw(GOALS),
        offcuts=tuple(draw(st.lists(OFFCUTS, max_size=2, unique_by=lambda o: o.tag))),
        saw=draw(SAWS),
        cover_saw=draw(st.none() | SAWS),
        currency=draw(TEXTS),
        findings=tuple(draw(st.lists(FINDINGS, max_size=1))),
    )


MATERIALS = st.builds(Material, TEXTS, TEXTS, st.sampled_from(Part), TEXTS)
SLOPES = st.fractions(-80, 80, max_denominator=99)
CUTS = st.builds(
    Cut,
    piece=TEXTS,
    length=LENGTHS,
    face=LENGTHS,
    held=st.booleans(),
    long_point=st.none() | LENGTHS,
    slope_start=SLOPES,
    slope_end=SLOPES,
    turned=st.booleans(),
)
BARS = st.builds(
    PlannedBar,
    number=WHOLE,
    source=TEXTS,
    offcut=st.booleans(),
    length=LENGTHS,
    head=LENGTHS,
    tail_loss=LENGTHS,
    cuts=st.lists(CUTS, max_size=2).map(tuple),
    strokes=WHOLE,
    kerf_loss=LENGTHS,
    tail=LENGTHS,
    fate=st.sampled_from(TailFate),
    tail_tag=TEXTS,
    sliver=st.booleans(),
    state=st.sampled_from(BarState),
    true_tail=st.none() | LENGTHS,
    spoiled=st.lists(st.builds(Spoiled, TEXTS, st.none() | SIZES, TEXTS), max_size=2).map(tuple),
    defects=st.lists(SPANS, max_size=2).map(tuple),
    zones=st.lists(st.builds(Zone, ALLOWANCES, SIZES, TEXTS), max_size=2).map(tuple),
)
TOTALS = st.builds(
    Totals,
    bars=st.integers(0, 99),
    used=ALLOWANCES,
    good=ALLOWANCES,
    kerf=ALLOWANCES,
    trim=ALLOWANCES,
    returned=ALLOWANCES,
    scrap=ALLOWANCES,
)
CERTIFICATES = st.builds(
    Certificate,
    bound=WHOLE,
    duals=st.lists(st.integers(0, 2**70), max_size=2).map(tuple),
    scale=st.integers(1, 2**70),
    supply_duals=st.lists(st.integers(0, 2**70), max_size=2).map(tuple),
    closed_by=TEXTS,
    dual_bound=WHOLE,
    short_dual=st.integers(0, 2**70),
)
GROUPS = st.builds(
    GroupPlan,
    material=MATERIALS,
    saw=SAWS,
    bars=st.lists(BARS, max_size=2).map(tuple),
    priced=st.booleans(),
    cost=st.integers(0, 10**12),
    bound=st.integers(0, 10**12),
    ended=st.sampled_from(StopReason),
    seconds=st.floats(0, 10**6),
    totals=TOTALS,
    cover_follows=st.booleans(),
    mitre=st.none()
    | st.builds(MitreSection, width=SIZES, symmetric=st.booleans(), plane=st.sampled_from(MitrePlane)),
    certificate=st.none() | CERTIFICATES,
    alternative=st.none()
    | st.builds(
        Alternative,
        bars=st.lists(st.tuples(LENGTHS, WHOLE), max_size=2).map(tuple),
        cost=WHOLE,
        proved=st.booleans(),
    ),
    margins=st.none()
    | st.builds(
        Margins,
        kerf=st.none() | LENGTHS,
        bar=st.none() | LENGTHS,
        growth=st.none() | LENGTHS,
        growth_cost=st.none() | WHOLE,
    ),
    spares=st.lists(st.builds(SpareCut, WHOLE, LENGTHS), max_size=2).map(tuple),
    goals=st.lists(
        st.builds(
            GoalPrice,
            goal=TEXTS,
            cost_before=WHOLE,
            cost_after=WHOLE,
            value_before=WHOLE,
            value_after=WHOLE,
            lower_bound=st.none() | WHOLE,
        ),
        max_size=2,
    ).map(tuple),
    open_units=st.none() | WHOLE,
)
PIECES = st.builds(
    Piece,
    id=TEXTS,
    job=TEXTS,
    run=TEXTS,
    copy=WHOLE,
    section=WHOLE,
    sections=WHOLE,
    material=MATERIALS,
    length=LENGTHS,
    exact=LENGTHS,
    cover_length=st.none() | LENGTHS,
    long_point=st.none() | LENGTHS,
    slope_left=SLOPES,
    slope_right=SLOPES,
    left=st.sampled_from(EndCondition),
    right=st.sampled_from(EndCondition),
    place=PLACES,
    where=WHERES,
)
STRIPS = st.builds(
    StripCut,
    job=TEXTS,
    run=TEXTS,
    quantity=WHOLE,
    marks=WHOLE,
    length=LENGTHS,
    dark=LENGTHS,
    for_next_mark=LENGTHS,
    channel=LENGTHS,
    circuits=WHOLE,
    parts=st.lists(st.integers(1, 999), max_size=3).map(tuple),
)
PART_COUNTS = st.builds(PartCount, TEXTS, TEXTS, WHOLE)
SMALL_PARTS = st.builds(
    SmallParts,
    caps=st.lists(
        st.builds(CapCount, st.builds(CapKind, TEXTS, TEXTS, st.sampled_from(Hand), st.booleans()), WHOLE),
        max_size=2,
    ).map(tuple),
    clips=st.lists(PART_COUNTS, max_size=2).map(tuple),
    joint_sets=st.lists(PART_COUNTS, max_size=1).map(tuple),
    connectors=st.lists(st.builds(ConnectorLine, family=TEXTS, feeds=WHOLE, jumpers=WHOLE), max_size=1).map(
        tuple
    ),
    adhesive=st.lists(st.builds(AdhesiveLine, TEXTS, TEXTS, WHOLE), max_size=1).map(tuple),
    strips=st.lists(
        st.builds(
            StripLine,
            strip=TEXTS,
            pieces=WHOLE,
            length=WHOLE,
            watts=st.none() | NUMBERS,
            driver_watts=st.none() | NUMBERS,
            outputs=st.none() | WHOLE,
            output_watts=st.none() | NUMBERS,
        ),
        max_size=1,
    ).map(tuple),
)
ORDER = st.builds(
    OrderLine,
    family=TEXTS,
    finish=TEXTS,
    part=TEXTS,
    lot=TEXTS,
    length=LENGTHS,
    bars=WHOLE,
    price=MAYBE_MONEY,
    sum=MAYBE_MONEY,
    note=TEXTS,
    stock=st.none() | WHOLE,
    on_hand=WHOLE,
    reserve=WHOLE,
    spare=WHOLE,
    listed=MAYBE_MONEY,
)
JOBS = st.builds(JobShare, job=TEXTS, pieces=WHOLE, good=WHOLE, consumed=WHOLE, cost=MONEY)
UNPLACED = st.builds(
    Unplaced, job=TEXTS, run=TEXTS, piece=TEXTS, length=LENGTHS, reason=TEXTS, code=TEXTS, where=WHERES
)
REEL_CUTS = st.builds(ReelCut, job=TEXTS, run=TEXTS, copy=WHOLE, part=WHOLE, marks=WHOLE)
REEL_PLANS = st.builds(
    ReelPlan,
    strip=TEXTS,
    pitch=NUMBERS,
    reel=SIZES,
    marks=WHOLE,
    solder_every=st.none() | SIZES,
    reach=ALLOWANCES,
    reels=st.lists(
        st.builds(PlannedReel, number=WHOLE, cuts=st.lists(REEL_CUTS, max_size=2).map(tuple), rest=WHOLE),
        max_size=2,
    ).map(tuple),
    bound=WHOLE,
    ended=st.sampled_from(StopReason),
    certificate=st.none() | CERTIFICATES,
)


def plans() -> st.SearchStrategy[Plan]:
    """Give plans; nothing in them fits together, which is not the document's business."""
    return st.builds(
        Plan,
        id=TEXTS,
        request=requests(),
        pieces=st.lists(PIECES, max_size=2).map(tuple),
        strips=st.lists(STRIPS, max_size=1).map(tuple),
        groups=st.lists(GROUPS, max_size=2).map(tuple),
        order=st.lists(ORDER, max_size=2).map(tuple),
        jobs=st.lists(JOBS, max_size=2).map(tuple),
        unplaced=st.lists(UNPLACED, max_size=2).map(tuple),
        findings=st.lists(FINDINGS, max_size=1).map(tuple),
        seed=WHOLE,
        small_parts=st.none() | SMALL_PARTS,
        reels=st.lists(REEL_PLANS, max_size=1).map(tuple),
        follows=TEXTS,
        revision=st.integers(0, 9),
    )
