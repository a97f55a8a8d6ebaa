"""What the store keeps of a finished plan: its document, and the figures people ask for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from nesting.domain.plan import Plan
from nesting.errors import Finding

FINDINGS_KEPT = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class JobPart:
    """What one job takes from the plan; lengths in nanometres, cost in ten-thousandths."""

    job: str
    pieces: int
    unplaced: int
    good: int
    consumed: int
    cost: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan on its way from the solver to the store; ``summary`` holds JSON values only."""

    digest: str
    document: str
    summary: dict[str, Any]
    jobs: tuple[JobPart, ...]
    currency: str


def planned(plan: Plan) -> Planned:
    """Set out a plan for the store."""
    from nesting.exchange import write_plan

    left_out = Counter(one.job for one in plan.unplaced)
    shares = {share.job: share for share in plan.jobs}
    jobs = []
    for job in sorted(shares.keys() | left_out.keys()):
        share = shares.get(job)
        jobs.append(
            JobPart(
                job=job,
                pieces=share.pieces if share else 0,
                unplaced=left_out[job],
                good=share.good if share else 0,
                consumed=share.consumed if share else 0,
                cost=int(share.cost) if share else 0,
            )
        )
    currency = plan.request.currency
    return Planned(
        digest=plan.id, document=write_plan(plan), summary=_summary(plan), jobs=tuple(jobs), currency=currency
    )


def _summary(plan: Plan) -> dict[str, Any]:
    totals = plan.totals
    priced = bool(plan.groups) and all(group.priced for group in plan.groups)
    return {
        "bars": totals.bars,
        "offcuts_used": sum(bar.offcut for group in plan.groups for bar in group.bars),
        "pieces": sum(len(bar.cuts) for group in plan.groups for bar in group.bars),
        "unplaced": len(plan.unplaced),
        "used": totals.used,
        "good": totals.good,
        "kerf": totals.kerf,
        "trim": totals.trim,
        "returned": totals.returned,
        "scrap": totals.scrap,
        "priced": priced,
        "cost": sum(group.cost for group in plan.groups) if priced else None,
        "bound": sum(group.bound for group in plan.groups) if priced else None,
        "currency": plan.request.currency,
        "proved": all(group.proved for group in plan.groups),
        "findings": [finding_record(finding) for finding in plan.findings[:FINDINGS_KEPT]],
        "jobs": [share.job for share in plan.jobs],
    }


def finding_record(finding: Finding) -> dict[str, str]:
    """Give a finding as JSON values."""
    return {
        "severity": finding.severity.value,
        "code": finding.code,
        "source": finding.where.source,
        "at": finding.where.at,
        "found": finding.found,
        "message": finding.message,
    }
