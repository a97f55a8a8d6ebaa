"""The ``audit`` command: any plan checked again, also one edited by hand."""

from __future__ import annotations

from pathlib import Path

from nesting.cli.reading import read_plan_file
from nesting.cli.shell import LEFT_OUT, PLANNED, console_of, refuse
from nesting.errors import InputRefused


def audit_plan(source: Path) -> int:
    """
    Check a plan document without the solver and say what is wrong with it.

    Checked are the bars, pieces, stock, money and demand; the texts beside the numbers; that the
    request is the one the plan's id was made from; and the proof of each bound.

    Returns
    -------
    The exit code.
    """
    from nesting.verify import violations
    from nesting.verify.certificate import check_proofs
    from nesting.verify.origin import origin_violations

    try:
        checked = read_plan_file(source)
    except InputRefused as refused:
        refuse(refused, nothing="Nothing was audited.")
    console = console_of()
    wrong = [str(violation) for violation in (*violations(checked), *origin_violations(checked))]
    wrong += [str(finding) for finding in checked.findings if finding.code == "text-disagrees"]
    for line in wrong:
        console.print(line, highlight=False, markup=False)
    proofs = check_proofs(checked)
    for line in proofs.lines:
        console.print(line, highlight=False, markup=False)
    wrong += [str(violation) for violation in proofs.violations]
    if wrong:
        console.print(f"Audit failed: {len(wrong)} violation(s).")
        return LEFT_OUT
    bars = sum(len(group.bars) for group in checked.groups)
    console.print(f"Audit passed: plan {checked.id}, {bars} bars, {len(checked.pieces)} pieces.")
    return PLANNED
