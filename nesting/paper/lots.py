"""The finish lot a bar must have or has, in words for labels and lists."""

from __future__ import annotations

from nesting.domain.material import Material
from nesting.domain.plan import Plan, PlannedBar


def lot_of(plan: Plan, bar: PlannedBar, material: Material) -> str:
    """Give the lot of a bar: the offcut's own, else the one the material is bound to, else empty."""
    if bar.offcut:
        for offcut in plan.request.offcuts:
            if offcut.tag == bar.source and offcut.lot:
                return offcut.lot
    return material.lot


def lot_words(plan: Plan, bar: PlannedBar, material: Material) -> str:
    """Give the lot, or room to write it by hand when it is known at the saw only."""
    lot = lot_of(plan, bar, material)
    return f"lot {lot}" if lot else "lot ________"
