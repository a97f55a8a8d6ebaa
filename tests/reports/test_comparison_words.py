"""A comparison in rows and sentences."""

from __future__ import annotations

import io
from dataclasses import replace

from rich.console import Console

from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.domain.material import CoverMode, Material, Part
from nesting.reports.comparison_terminal import print_comparison
from nesting.reports.comparison_words import (
    advice_words,
    cost_words,
    cover_words,
    gap_words,
    level_words,
    mix_rows,
    more_words,
)
from nesting.units import Length, mm

TOLV = Material("TOLV-17N", "natural", Part.CHANNEL)


def mix(choice: Choice, bars: dict[int, int], cost: int, assumed: int | None = None) -> Mix:
    pairs = tuple((mm(length), count) for length, count in bars.items())
    lengths: tuple[Length, ...] = tuple(length for length, _ in pairs)
    return Mix(
        material=TOLV,
        choice=choice,
        lengths=lengths,
        bars=tuple(pair for pair in pairs if pair[1]),
        cost=cost,
        proved=True,
        priced=True,
        assumed=assumed,
    )


def grouping(level: str, parts: int, cost: int) -> Grouping:
    return Grouping(level=level, parts=parts, bars=79, cost=cost, proved=True, costs=((TOLV, cost),))


COMPARISON = Comparison(
    currency="XTS",
    mixes=(
        mix(Choice.ALL, {2000: 31, 2500: 48}, 10_254_000),
        mix(Choice.SINGLE, {2500: 79}, 11_060_000),
        mix(Choice.UNLISTED, {1000: 0, 2000: 31, 2500: 48}, 10_254_000, 62_000),
        mix(Choice.UNLISTED, {2000: 24, 2500: 13, 3500: 28}, 9_932_000, 192_000),
        mix(Choice.UNLISTED, {2000: 0, 2500: 41, 4000: 19}, 9_882_000, 218_000),
    ),
    groupings=(grouping("whole", 1, 10_254_000), grouping("unit", 48, 12_108_000)),
    covers=(
        CoverChoice(
            family="ELM-4",
            finish="",
            mode=CoverMode.SEPARATE,
            channels=15,
            covers=10,
            cost=1_900_000,
            proved=True,
            priced=True,
        ),
    ),
)


def test_rows_are_measured_against_the_cheapest_mix() -> None:
    """79 x 2500 cost 80.60 more; a length of 1000 that saves nothing is not listed at all."""
    assert [(row.name, row.bars, row.more) for row in mix_rows(COMPARISON)] == [
        ("cheapest mix", "31 x 2000 + 48 x 2500", 0),
        ("2500 mm only", "79 x 2500", 806_000),
        ("with 3500 mm", "24 x 2000 + 13 x 2500 + 28 x 3500", -322_000),
        ("with 4000 mm", "41 x 2500 + 19 x 4000", -372_000),
    ]


def test_the_advice_names_the_length_that_saves_most() -> None:
    """37.20 by 4000 mm, at the price that was assumed; flat by flat costs 185.40 more."""
    assert advice_words(COMPARISON) == (
        "TOLV-17N natural channel with 4000 mm would save 37.20 XTS (at 21.80 XTS a bar).",
        "Planned unit by unit, 48 parts, everything costs 185.40 XTS more than all together.",
    )


def test_a_comparison_cut_short_says_so() -> None:
    """Missing rows are no answer."""
    short = Comparison(currency="", mixes=(), groupings=(), covers=(), cut_short=True)
    assert advice_words(short) == ("Time ran out: rows are missing. Allow more with --time-limit.",)


def test_a_cost_that_is_not_proved_says_how_much_less_it_might_be() -> None:
    """Of 1025.40 found, 1015.146 proved: one per cent is open, in the row and in what the rows come to."""
    open_mix = replace(COMPARISON.mixes[0], proved=False, bound=10_151_460)
    assert gap_words(open_mix) == " (gap 1.0 %)"
    assert gap_words(replace(open_mix, bound=None)) == " (not proved)"
    assert gap_words(COMPARISON.mixes[0]) == ""
    said = advice_words(replace(COMPARISON, mixes=(open_mix, *COMPARISON.mixes[1:])))
    assert said[0] == (
        "TOLV-17N natural channel with 4000 mm would save 37.20 XTS against the best mix found in the time "
        "(at 21.80 XTS a bar)."
    )
    assert said[-1] == "Rows that are not proved may come cheaper with more time: --time-limit."


def test_a_cost_that_leaves_pieces_out_is_told_with_their_number() -> None:
    """Neither proved nor open to more time: there are no more bars, and one piece is not called pieces."""
    short = replace(COMPARISON.mixes[0], proved=False, left_out=1)
    parts = tuple(replace(one, proved=False, left_out=6) for one in COMPARISON.groupings)
    comparison = replace(COMPARISON, mixes=(short, *COMPARISON.mixes[1:]), groupings=parts)
    assert gap_words(short) == " (1 piece left out)"
    assert advice_words(comparison) == (
        "TOLV-17N natural channel: the bars on offer run out; 1 piece left out, whose cost is not counted.",
        "Planned all together, bars run out: 6 pieces left out, whose cost is not counted.",
        "Planned unit by unit, 48 parts, bars run out: 6 pieces left out, whose cost is not counted.",
        "TOLV-17N natural channel with 4000 mm would save 37.20 XTS against a mix with 1 piece left out "
        "(at 21.80 XTS a bar).",
    )


def test_a_length_that_leaves_more_out_is_no_saving() -> None:
    """What is cheaper because it makes less is not listed beside the mix that makes all."""
    fewer = replace(COMPARISON.mixes[3], left_out=2)
    rows = mix_rows(replace(COMPARISON, mixes=(COMPARISON.mixes[0], fewer)))
    assert [row.mix.choice for row in rows] == [Choice.ALL]


def test_costs_are_bars_where_there_are_no_prices() -> None:
    """A difference keeps its sign either way, and none is a dash."""
    assert (cost_words(3, "XTS", priced=False), cost_words(30_000, "XTS", priced=True)) == (
        "3 bars",
        "3.00 XTS",
    )
    assert [more_words(n, "", priced=False) for n in (2, 0, -1)] == ["+2 bars", "-", "-1 bar"]


def test_levels_and_covers_are_told_in_the_trades_words() -> None:
    """The reader need not know the program's names."""
    assert [level_words(g) for g in COMPARISON.groupings] == ["all together", "unit by unit, 48 parts"]
    assert cover_words(COMPARISON.covers[0]) == "on their own"


def test_the_terminal_shows_all_three_tables() -> None:
    """Plain text, so that it can be piped into a file."""
    stream = io.StringIO()
    print_comparison(COMPARISON, Console(file=stream, width=100))
    shown = stream.getvalue()
    for said in (
        "79 x 2500",
        "+80.60",
        "with 4000 mm at 21.80",
        "unit by unit, 48 parts",
        "ELM-4, on their own",
    ):
        assert said in shown
    assert "\x1b" not in shown
