"""What the store keeps of a finished plan: its document, and the figures people ask for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from nesting.domain.plan import Plan
from nesting.errors import Finding
from nesting.planning.offers import SpoiledOffer

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


def planned(plan: Plan, *, offers: Sequence[SpoiledOffer] = (), alternative: Plan | None = None) -> Planned:
    """
    Set out a plan for the store.

    Parameters
    ----------
    offers, alternative
        Of a plan that follows another one: what its spoiled pieces can become, and the plan of
        everything open afresh where that would be better.
    """
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
        digest=plan.id,
        document=write_plan(plan),
        summary=_summary(plan) | _following(plan, offers, alternative),
        jobs=tuple(jobs),
        currency=currency,
    )


def _summary(plan: Plan) -> dict[str, Any]:
    totals = plan.totals
    priced = _priced(plan)
    bars = [bar for group in plan.groups for bar in group.bars]
    return {
        "bars": totals.bars,
        "offcuts_used": sum(bar.offcut for bar in bars),
        "pieces": sum(len(bar.good_cuts) for bar in bars),
        "pieces_done": sum(len(bar.good_cuts) for bar in bars if bar.state.cut),
        "unplaced": len(plan.unplaced),
        "used": totals.used,
        "good": totals.good,
        "kerf": totals.kerf,
        "trim": totals.trim,
        "returned": totals.returned,
        "scrap": totals.scrap,
        "priced": priced,
        "cost": _cost(plan),
        "bound": sum(group.bound for group in plan.groups) if priced else None,
        "currency": plan.request.currency,
        "proved": all(group.proved for group in plan.groups),
        "findings": [finding_record(finding) for finding in plan.findings[:FINDINGS_KEPT]],
        "jobs": [share.job for share in plan.jobs],
    }


def _following(plan: Plan, offers: Sequence[SpoiledOffer], alternative: Plan | None) -> dict[str, Any]:
    return {
        "revision": plan.revision,
        "offers": [asdict(offer) for offer in offers],
        "alternative": None
        if alternative is None
        else {
            "bars": alternative.totals.bars,
            "unplaced": len(alternative.unplaced),
            "cost": _cost(alternative),
        },
    }


def _priced(plan: Plan) -> bool:
    return bool(plan.groups) and all(group.priced for group in plan.groups)


def _cost(plan: Plan) -> int | None:
    return sum(group.cost for group in plan.groups) if _priced(plan) else None


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
