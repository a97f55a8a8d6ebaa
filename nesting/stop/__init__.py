"""When a search ends, as values that say why."""

from nesting.stop.any_of import AnyOf
from nesting.stop.cancelled import Cancelled
from nesting.stop.cost_reached import CostReached
from nesting.stop.criterion import NEVER, Stop
from nesting.stop.max_rounds import MaxRounds
from nesting.stop.max_runtime import MaxRuntime

__all__ = ["NEVER", "AnyOf", "Cancelled", "CostReached", "MaxRounds", "MaxRuntime", "Stop"]
