"""From a run to its pieces: the formulas of the trade, one each."""

from nesting.takeoff.take_off import Takeoff, take_off

__all__ = ["Takeoff", "take_off"]
