"""Any plan checked again by code that shares nothing with the planning."""

from nesting.verify.check import violations
from nesting.verify.violation import Violation

__all__ = ["Violation", "violations"]
