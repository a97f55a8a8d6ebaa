"""
Text-book examples: the same optimum, and proved.

Data, linear-programming value and optimum of each are stated; "from memory" marks figures that could not be
read again in the book itself. Every optimum was proved a second time with a plain arc-flow model.
"""

import pytest

from nesting.units import inches
from tests.published.solved import example, several, solved

PAPER_ROLLS = (
    "1380x22 1520x25 1560x12 1710x14 1820x18 1880x18 1930x20 2000x10 2050x12 2100x14 2140x16 2150x18 2200x20"
)

SINGLE = {
    # V. Chvatal, Linear Programming (1983), chapter 13, pp. 195-200; LP 452.25.
    "Chvatal": ("100", "45x97 36x610 31x395 14x211", 453),
    # V. Chvatal (1983), second example, as cited in a modelling language's example set; LP 163.4921.
    "Chvatal, second": (
        "90",
        "60x3 30x21 25.5x94 20x50 17.25x288 15x178 12.75x112 10x144",
        164,
    ),
    # Fourer, Gay & Kernighan, AMPL: A Modeling Language for Mathematical Programming; LP 46.25.
    "Fourer, Gay and Kernighan": ("110", "75x8 55x10 50x24 45x35 20x48", 47),
    # W. Winston, Operations Research: Applications and Algorithms, Woodco; LP 18.333.
    "Winston": ("17", "9x15 5x20 3x25", 19),
    # Encyclopedia article "Cutting stock problem", paper machine of 5600 mm; LP 72.9167, optimum 73.
    # Widths and demands from memory; they reproduce every figure the article publishes.
    "paper rolls": ("5600", PAPER_ROLLS, 73),
    # Classic example of 100 sets of 2.9, 2.1 and 1.5 m from 7.4 m bars, from memory; LP 90.
    "sets from 7.4 m bars": ("7400", "2900x100 2100x100 1500x100", 90),
    # H. Taha, Operations Research: An Introduction, trim loss, from memory; LP 262.5.
    "Taha": ("20", "9x300 7x200 5x150", 263),
    # R. Hinterding & L. Khan (1995), problem 1, also in Liang et al. (2002), from memory; LP 9.
    "Hinterding and Khan": ("14", "10x3 9x1 8x2 7x4 6x2 5x1 4x2 3x5", 9),
    # Documentation of a numerical computing environment, logs of 40 ft; LP 88.3.
    "logs": ("40", "20x30 16x55 12x111 8x90", 89),
    # B. Taylor, Introduction to Management Science, boards of 25 ft; LP 775.
    "Taylor": ("25", "10x300 9x1200 7x700", 775),
    # The same exercise with 500 boards of 10 ft; LP 875.
    "Taylor, variant": ("25", "10x500 9x1200 7x700", 875),
    # Management-science text-book exercise, lumber yard with six patterns; LP 2166.67.
    "lumber yard": ("25", "11x300 9x1200 7x5000", 2167),
    # Text-book exercise, lumber company with boards of 20 ft; LP 53.5.
    "boards of 20 ft": ("20", "10x70 8x15 4x25 3x50", 54),
    # L. Schrage, exercise 19, as cited in a modelling language's example set; LP 33.2072.
    "Schrage": (
        "349",
        "33.75x23 34.75x23 37.75x31 38.75x10 39.75x39 40.75x58 41.75x47 42.25x19 44.75x13 45.75x26",
        34,
    ),
    # Unnamed example of a modelling language's example set; LP 17.9412.
    "64.5": ("64.5", "18.76x10 17.46x33 7.56x40 6.77x10", 18),
}


@pytest.mark.parametrize("name", SINGLE)
def test_a_textbook_example_comes_out_as_published(name: str) -> None:
    """Anybody can look these up; one bar more than the book would end all trust."""
    stock, table, optimum = SINGLE[name]
    result = solved(example(stock, table))
    assert (result.cost, result.bound) == (optimum, optimum)


def test_the_first_published_example_of_several_stock_lengths() -> None:
    """
    P. Gilmore & R. Gomory, Operations Research 9 (1961) 849-859: least cost 170 (data from memory).

    Stock of 5, 6 and 9 ft at 6, 7 and 10; 20 pieces of 4 ft, 10 of 3 ft, 20 of 2 ft.
    """
    result = solved(several([("5", 6), ("6", 7), ("9", 10)], "4x20 3x10 2x20"))
    assert (result.cost, result.bound) == (170, 170)


def test_paper_rolls_waste_the_published_share() -> None:
    """73 rolls of 5600 are 408 800; 407 160 is wanted; 1 640 / 408 800 = 0.401 % is the published waste."""
    group = example("5600", PAPER_ROLLS)
    wanted = sum(length * count for length, count in zip(group.lengths, group.counts, strict=True))
    assert wanted == 407_160
    assert round(100 * (1 - wanted / (solved(group).cost * 5600)), 3) == 0.401


def test_chvatal_with_a_kerf_still_needs_453() -> None:
    """
    The same 100 in rolls with a kerf of 1/8 in between pieces, no trims: still 453.

    Derived from V. Chvatal (1983), not printed there.
    """
    inch = example("100", "45x97 36x610 31x395 14x211")
    sawn = type(inch)(
        lengths=tuple(inches(length) for length in inch.lengths),
        counts=inch.counts,
        bars=tuple(type(bar)(key=bar.key, length=inches(bar.length)) for bar in inch.bars),
        kerf=inches("1/8"),
    )
    result = solved(sawn)
    assert (result.cost, result.bound) == (453, 453)


OPEN = {
    # R. Haessler, Management Science 34 (1988) 1460-1471, table 2, without the paper's slitter limits.
    # LP 32.7965; 34 found and 33 not excluded by a plain restricted model.
    "Haessler": (
        "172",
        "25.0x5 24.75x73 18.0x14 17.5x4 15.5x23 15.375x5 13.875x29 12.5x87 12.25x9 12.0x31 10.25x6 10.125x14 "
        "10.0x43 8.75x15 8.5x21 7.75x5",
        33,
        34,
    ),
    # Example set of a modelling language: 49 lengths, 7216 pieces, 6 m bars. LP 1026.837; 1028 found there.
    "6 m bars": (
        "6000",
        "1630x172 1625x714 1620x110 1617x262 1540x32 1529x100 1528x76 1505x110 "
        "1504x20 1484x58 1466x15 1450x10 "
        "1283x40 1017x50 970x70 930x8 916x210 898x395 894x49 881x17 855x20 844x10 "
        "805x718 787x17 786x710 780x150 "
        "754x34 746x15 707x122 698x7 651x10 644x15 638x10 605x10 477x4 473x34 471x25 468x10 460x908 458x161 "
        "453x765 447x21 441x20 422x318 421x22 419x382 396x22 309x123 266x35",
        1027,
        1028,
    ),
}


@pytest.mark.parametrize("name", OPEN)
def test_an_example_without_a_known_optimum_stays_in_its_interval(name: str) -> None:
    """The bound reaches the known one, and the plan is no worse than the best one known."""
    stock, table, least, known = OPEN[name]
    result = solved(example(stock, table))
    assert result.bound >= least
    assert result.cost <= known
