"""How sure a size is, as lists say it."""

from __future__ import annotations

from nesting.domain.status import Status
from nesting.errors import Where
from nesting.sheets.cells import Cell
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings

_DRAWN = ("drawing", "drawings", "from drawing", "estimated")
_TO_VERIFY = ("verify", "verify in field", "vif", "to be verified", "tbc")
_SETTLED = ("", "measured", "verified", "ok", "yes", "checked", "site measured", "confirmed", "final")
_ON_HOLD = ("hold", "on hold", "no", "wait", "pending")


def status_of(cell: Cell, where: Where, findings: Findings) -> Status:
    """Give how sure the size is; anything but a settled size is warned of."""
    said = plain_words(cell.text)
    if said in _ON_HOLD:
        findings.warning(
            "on-hold",
            where,
            cell.raw,
            "The line is on hold: no plan orders or cuts it until it is settled.",
        )
        return Status.HOLD
    if said in _DRAWN or said in _TO_VERIFY:
        findings.warning(
            "size-not-verified",
            where,
            cell.raw,
            "The size is not measured yet: plan with it, do not cut from it.",
        )
        return Status.DRAWING if said in _DRAWN else Status.VERIFY
    if said not in _SETTLED:
        findings.warning(
            "status-not-understood",
            where,
            cell.raw,
            "Known states: measured, drawing, verify, hold, cancelled. It is read as verify.",
        )
        return Status.VERIFY
    return Status.MEASURED
