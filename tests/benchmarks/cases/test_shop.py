"""Groups made from a seed."""

import pytest

from benchmarks.cases.shop import SIXTY_FOURTH, SIZES, TENTH, shop_group


@pytest.mark.parametrize(("lengths", "pieces"), SIZES)
def test_a_group_has_the_size_asked_for(lengths: int, pieces: int) -> None:
    """The comparison is stated in distinct lengths and pieces."""
    group = shop_group(lengths, pieces)
    assert (len(group.lengths), sum(group.counts)) == (lengths, pieces)


def test_the_seed_alone_decides_the_group() -> None:
    """Anybody can build the measured group again."""
    assert shop_group(8, 25, seed=3) == shop_group(8, 25, seed=3)
    assert shop_group(8, 25, seed=3) != shop_group(8, 25, seed=4)


def test_mixed_rulers_give_lengths_of_both() -> None:
    """Millimetre and inch runs on one order have hardly any common divisor, which is the hard case."""
    group = shop_group(10, 10, steps=(TENTH, SIXTY_FOURTH))
    assert sum(1 for length in group.lengths if length % TENTH == 0) >= 5
    assert sum(1 for length in group.lengths if length % SIXTY_FOURTH == 0) >= 5


def test_fewer_pieces_than_lengths_cannot_be() -> None:
    """Every length is wanted at least once."""
    with pytest.raises(ValueError, match="at least as many"):
        shop_group(8, 7)
