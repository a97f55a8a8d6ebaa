"""Order lines and what each job pays."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from nesting.planning.purchase import HUNDREDTH, round_shares, share_out


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


def test_hundredths_are_shared_in_hundredths() -> None:
    """10.00 for three jobs alike is 3.34, 3.33 and 3.33, never 3.3333."""
    third = Fraction(100_000, 3)
    assert round_shares({"a": third, "b": third, "c": third}) == {"a": 33_400, "b": 33_300, "c": 33_300}


def test_finer_prices_are_shared_as_fine_as_they_come() -> None:
    """A sum of 0.0101 has no hundredths to share: 101 ten-thousandths among two are 51 and 50."""
    half = Fraction(101, 2)
    assert round_shares({"a": half, "b": half}) == {"a": 51, "b": 50}
    assert round_shares({}) == {}


@given(
    st.dictionaries(st.text(max_size=3), st.integers(1, 10**12), min_size=1, max_size=8),
    st.integers(0, 10**9),
    st.booleans(),
)
def test_rounded_money_adds_up_and_stays_within_a_hundredth(
    weights: dict[str, int], amount: int, coarse: bool
) -> None:
    """The bill comes to what the supplier is paid, and no job is a whole unit off its exact share."""
    amount *= HUNDREDTH if coarse else 1
    total = sum(weights.values())
    exact = {name: Fraction(amount * weight, total) for name, weight in weights.items()}
    shares = round_shares(exact)
    unit = HUNDREDTH if amount % HUNDREDTH == 0 else 1
    assert sum(shares.values()) == amount
    assert all(share % unit == 0 and abs(share - exact[name]) < unit for name, share in shares.items())
