"""
Exact lengths: whole nanometres inside, millimetres and inch fractions at the edge.

One inch is 25.4 mm exactly (NIST Handbook 44, Appendix C), so 1/64 in is 396 875 nm exactly.
Floats never carry a length.
"""

from nesting.units.length import NM_PER_INCH, NM_PER_MM, NO_LENGTH, Length, Unit, inches, mm
from nesting.units.printing import inch_text, length_text, mm_text, near_mm_text
from nesting.units.reading import Reading, read_length
from nesting.units.spelling import read_unit

__all__ = [
    "NM_PER_INCH",
    "NM_PER_MM",
    "NO_LENGTH",
    "Length",
    "Reading",
    "Unit",
    "inch_text",
    "inches",
    "length_text",
    "mm",
    "mm_text",
    "near_mm_text",
    "read_length",
    "read_unit",
]
