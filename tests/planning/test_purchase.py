"""Order lines and what each job pays."""

from hypothesis import given
from hypothesis import strategies as st

from nesting.planning.purchase import share_out


@given(
    st.integers(0, 10**15),
    st.dictionaries(st.text(max_size=3), st.integers(1, 10**12), min_size=1, max_size=8),
)
def test_shares_add_up_and_stay_within_one_of_the_exact_share(amount: int, weights: dict[str, int]) -> None:
    """Nothing is lost to rounding, and no job is more than one unit off its exact share."""
    shares = share_out(amount, weights)
    total = sum(weights.values())
    assert sum(shares.values()) == amount
    assert all(abs(shares[name] * total - amount * weights[name]) < total for name in weights)


def test_the_odd_unit_goes_to_the_largest_remainder() -> None:
    """100 among weights 1, 1, 1: 33 each, the odd one to the first name; among 2 and 1: 67 and 33."""
    assert share_out(100, {"b": 1, "a": 1, "c": 1}) == {"a": 34, "b": 33, "c": 33}
    assert share_out(100, {"x": 2, "y": 1}) == {"x": 67, "y": 33}
