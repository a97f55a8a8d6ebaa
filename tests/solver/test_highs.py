"""HiGHS, which greets whoever makes an engine."""

from __future__ import annotations

import pytest

from nesting.solver.highs import silent


def test_nothing_is_written(capfd: pytest.CaptureFixture[str]) -> None:
    """Standard output belongs to the command: a plan may be written there."""
    engine = silent()
    engine.run()
    assert capfd.readouterr() == ("", "")
