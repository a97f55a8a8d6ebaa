"""The auditor derives each run's pieces itself; rounding to the saw's step is no fault."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.material import SplitRule
from nesting.domain.runs import EndCondition
from nesting.units import mm
from nesting.verify import violations
from tests.verify.change import change, found
from tests.verify.small_plan import plan

PLAN = plan()


@pytest.mark.parametrize(
    ("path", "changes", "code", "where"),
    [
        ("request.runs.1", {"length": mm(1810)}, "piece-length", "piece B"),
        ("request.runs.2", {"clearance_left": mm(2)}, "piece-length", "run C"),
        ("request.runs.0", {"quantity": 4}, "piece-missing", "run A"),
        ("request.runs.0", {"quantity": 2}, "piece-unasked", "run A"),
        ("request.runs.3", {"left": EndCondition.HOLED_CAP}, "end-condition", "piece D"),
        ("request.runs.2", {"split_rule": SplitRule.NEVER}, "split-forbidden", "run C"),
        ("request.families.0", {"joint_gap": mm(1)}, "piece-length", "run C"),
        ("pieces.3", {"exact": mm(1804)}, "piece-length", "piece B"),
        ("pieces.4", {"exact": mm(1804)}, "piece-length", "run C"),
        ("pieces.4", {"sections": 3}, "sections", "run C"),
        ("pieces.4", {"section": 3}, "sections", "run C"),
        ("pieces.3", {"copy": 2}, "piece-missing", "run B"),
    ],
)
def test_one_change_is_named(path: str, changes: dict[str, Any], code: str, where: str) -> None:
    """The run decides what has to be there, whatever the list of pieces says."""
    assert (code, where) in found(change(PLAN, path, **changes))


@pytest.mark.parametrize("step", ["0.5", "1"])
def test_rounding_to_the_saw_s_step_is_no_violation(step: str) -> None:
    """An opening may come out up to one step short, never long."""
    saw = replace(PLAN.request.saw, step=mm(step))
    stepped = change(PLAN, "request", saw=saw)
    stepped = replace(stepped, groups=tuple(replace(group, saw=saw) for group in stepped.groups))
    # The opening grows by 0.25: exact 1803.25, sawn 1803 either way.
    stepped = change(stepped, "request.runs.1", length=mm("1809.25"))
    stepped = change(stepped, "pieces.3", exact=mm("1803.25"))
    assert violations(stepped) == ()
    # Half a millimetre the other way is too long for the opening.
    stepped = change(stepped, "request.runs.1", length=mm("1808.75"))
    stepped = change(stepped, "pieces.3", exact=mm("1802.75"))
    assert ("piece-length", "piece B") in found(stepped)
