"""Every list of the registry reads as it must, or is refused with the findings it must get."""

from __future__ import annotations

from pathlib import Path

import pytest

from nesting.domain.runs import PieceLine, Run
from nesting.sheets.read_report import Verdict
from nesting.sheets.read_request import read_list
from nesting.units import mm_text
from tests.sheets.messy import ALL, Messy


@pytest.mark.parametrize("messy", ALL, ids=lambda messy: messy.name)
def test_reads_or_refuses_as_registered(messy: Messy, tmp_path: Path) -> None:
    """Protects every habit at once: the same reading, no finding more, no finding less, no row lost."""
    outcome = read_list(messy.build(tmp_path), options=messy.options)

    met = sorted(f"{f.code} @ {f.where}" for f in outcome.findings if not f.code.startswith("default-"))
    assert met == sorted(messy.findings), "\n".join(map(str, outcome.findings))
    if messy.reads is None:
        assert outcome.request is None
        assert any(finding.severity.refuses for finding in outcome.findings)
    else:
        assert outcome.request is not None
        lines: tuple[Run | PieceLine, ...] = (*outcome.request.runs, *outcome.request.piece_lines)
        assert tuple(f"{line.quantity} x {mm_text(line.length)}" for line in lines) == messy.reads
        assert outcome.request.findings == outcome.findings
        assert outcome.echo.skipped == messy.skipped
        read = [row for row in outcome.echo.rows if row.verdict is not Verdict.SKIP]
        assert [f"{row.quantity} x {row.mm}" for row in read] == list(messy.reads)
    assert all(finding.message for finding in outcome.findings)


def test_the_registry_is_large_and_its_names_are_unique() -> None:
    """Protects the registry itself: a name used twice would hide a case."""
    assert len(ALL) >= 40
    assert len({messy.name for messy in ALL}) == len(ALL)
