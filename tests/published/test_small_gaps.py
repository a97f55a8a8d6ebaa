"""
Small published cases whose optimum lies above the rounded-up bound of material or of the linear programme.

They are the classic traps for wrong proofs: a solver that takes the rounded-up bound for the truth claims one
bar too few. Data as distributed with the test data of the Dresden cutting and packing group.
"""

import pytest

from tests.published.solved import example, solved

GAPS = {
    # M. Fieldhouse (1990): LP 59/30 without and 2.2 with demand caps in the patterns.
    "Fieldhouse": ("30", "15x1 10x2 6x4", 3),
    # The same enlarged: LP 4.9667, a gap of 31/30.
    "Fieldhouse, enlarged": ("30", "15x3 10x5 6x9", 6),
    # T. Gau & G. Waescher: 1.9 by volume, LP 2.2.
    "Gau and Waescher": ("10000", "5000x1 3750x1 3250x1 3001x1 2000x2", 3),
    # The same scaled down to whole sixtieths.
    "Gau and Waescher, scaled": ("60", "30x1 22x1 20x1 19x1 12x2", 3),
    # 13 pieces after A. Caprara et al. (2015): LP 3, optimum 4.
    "13 pieces": ("160", "65x2 63x1 54x1 47x1 46x1 34x3 12x1 10x1 8x1 6x1", 4),
    # Bin-packing instance 02015007_0918 of 20 pieces: LP 9, optimum 10.
    "20 pieces": (
        "1000",
        "697x1 679x1 667x1 643x1 569x1 520x1 496x1 492x1 484x1 442x1 368x1 351x1 339x1 "
        "335x1 332x1 331x1 310x1 "
        "213x1 197x1 190x1",
        10,
    ),
    # HART1CSP_1 to _3: 26 lengths, 32 pieces; LP 9.912, 9.912 and 9.909, optimum 11.
    "HART 1": (
        "1305",
        "793x1 789x1 787x1 673x1 669x1 667x1 441x1 437x2 435x2 434x1 433x1 432x1 431x1 "
        "321x1 319x1 318x1 317x1 "
        "316x1 315x1 261x5 259x1 258x1 257x1 256x1 255x1 127x1",
        11,
    ),
    "HART 2": (
        "1305",
        "793x1 789x1 787x1 673x1 669x1 667x1 441x1 437x2 435x2 434x1 433x1 432x1 431x1 "
        "321x1 319x1 318x1 317x1 "
        "316x1 315x1 261x5 259x1 258x1 257x1 256x1 255x1 126x1",
        11,
    ),
    "HART 3": (
        "1350",
        "820x1 816x1 814x1 696x1 692x1 690x1 456x1 452x2 450x2 449x1 448x1 447x1 446x1 "
        "332x1 330x1 329x1 328x1 "
        "327x1 326x1 270x5 268x1 267x1 266x1 265x1 264x1 130x1",
        11,
    ),
}


@pytest.mark.parametrize("name", GAPS)
def test_a_gap_is_found_and_proved(name: str) -> None:
    """One bar fewer is impossible although the material would do: the proof must say so, not guess."""
    stock, table, optimum = GAPS[name]
    result = solved(example(stock, table))
    assert (result.cost, result.bound) == (optimum, optimum)
