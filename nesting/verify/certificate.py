"""
The bound checked again in whole numbers, without the solver.

A certificate gives each length a price (dual) in 1/scale of the unit of cost. When no pattern that
fits a bar is worth more than ``scale * cost`` of that bar plus the bar's supply dual, then by weak
duality (G. B. Dantzig, Linear Programming and Extensions, 1963, ch. 6; from memory) every plan that
cuts ``counts`` from ``supply`` bars costs at least
``(sum(duals * counts) - sum(supply_duals * supply) - short_dual * short) / scale``, where a plan may
leave ``short`` nanometres uncut as long as no dual exceeds ``short_dual`` times its length.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import gcd

from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.problem import BarKind, Problem
from nesting.domain.progress import Certificate
from nesting.errors import ProblemError
from nesting.verify.group_problem import length_left_out, problem_of
from nesting.verify.pattern_worth import TooLarge, Work, worth_above
from nesting.verify.room import capacity_of, has_room_below, sizes_of
from nesting.verify.strips import reel_problem_of
from nesting.verify.violation import Violation, in_mm, in_money

NOT_RECHECKED = "certificate-not-rechecked"
MOST_WORK = 2_000_000


def check_certificate(
    problem: Problem, certificate: Certificate, *, short: int = 0, most_work: int = MOST_WORK
) -> tuple[Violation, ...]:
    """
    Check that a certificate's duals really give its dual bound.

    Parameters
    ----------
    short
        Length of pieces, nanometres, that a plan may leave uncut.
    most_work
        Partial patterns to look at before giving up.

    Returns
    -------
    Nothing when the bound holds. One violation with code ``certificate-not-rechecked`` when nothing
    wrong was found but the pricing is too large to finish. What rests on a search
    (``closed_by``) is not checked; `check_proofs` says so.
    """
    where = f"material {problem.name}" if problem.name else "certificate"
    wrong = tuple(_shape(problem, certificate, where))
    if wrong:
        return wrong
    return (
        *_bound(problem, certificate, short, where),
        *_patterns(problem, certificate, where, most_work),
        *_room(problem, certificate, short, where, most_work),
    )


@dataclass(frozen=True, slots=True)
class Proofs:
    """
    What became of every group's bound.

    Parameters
    ----------
    lines
        One line for each group, in plain words.
    violations
        Certificates that are wrong.
    """

    lines: tuple[str, ...]
    violations: tuple[Violation, ...]

    @property
    def hold(self) -> bool:
        """Whether no certificate was found wrong; some may not have been checked, the lines say."""
        return not self.violations


def check_proofs(plan: Plan, *, most_work: int = MOST_WORK) -> Proofs:
    """Check the certificate of every group of a plan against the pieces and bars of the plan."""
    lines: list[str] = []
    wrong: list[Violation] = []
    for group in plan.groups:
        line, found = _proof(plan, group, most_work)
        lines.append(f"{group.material}: {line}")
        wrong.extend(found)
    for reels in plan.reels:
        if reels.certificate is not None:
            line, found = _said(
                reel_problem_of(reels), reels.certificate, reels.bound, len(reels.reels), most_work
            )
            lines.append(f"{reels.strip} strip on reels: {line}")
            wrong.extend(found)
    return Proofs(tuple(lines), tuple(wrong))


def _proof(plan: Plan, group: GroupPlan, most_work: int) -> tuple[str, tuple[Violation, ...]]:
    certificate = group.certificate
    said = in_money if group.priced else str
    if certificate is None:
        return f"the bound of {said(group.bound)} comes without a certificate and was not checked.", ()
    try:
        problem = problem_of(plan, group, shelf_apart=True)
        merged = problem_of(plan, group)
        if certificate.supply_duals and len(certificate.supply_duals) == len(merged.bars):
            problem = merged  # a plan written before bars on hand stood apart
        short = length_left_out(plan, group)
    except ProblemError as why:
        violation = Violation("certificate-problem", f"material {group.material}", str(why))
        return f"the bound of {said(group.bound)} cannot be checked: {why}", (violation,)
    return _said(problem, certificate, group.bound, group.cost, most_work, said=said, short=short)


def _said(
    problem: Problem,
    certificate: Certificate,
    bound: int,
    cost: int,
    most_work: int,
    *,
    said: Callable[[int], str] = str,
    short: int = 0,
) -> tuple[str, tuple[Violation, ...]]:
    """Check a certificate and put the outcome into words."""
    found = (
        *_above(problem, certificate, cost, said),
        *check_certificate(problem, certificate, short=short, most_work=most_work),
    )
    wrong = tuple(violation for violation in found if violation.code != NOT_RECHECKED)
    if wrong:
        return f"the bound of {said(bound)} is not proved: {wrong[0].message}", wrong
    if found:
        return found[0].message, ()
    if certificate.closed_by:
        return (
            f"checked again, nothing below {said(certificate.checkable)} is possible; that nothing below "
            f"{said(bound)} is rests on {certificate.closed_by}, which is trusted, not checked.",
            (),
        )
    least = ", so the plan is the least" if bound >= cost else ""
    return f"checked again, nothing below {said(bound)} is possible{least}.", ()


def _above(
    problem: Problem, certificate: Certificate, cost: int, said: Callable[[int], str]
) -> Iterator[Violation]:
    """Refute a bound by the plan itself, whatever is said to have proved it: here is one that costs less."""
    claimed = max(certificate.bound, certificate.checkable)
    if claimed > cost:
        yield Violation(
            "certificate-above-cost",
            f"material {problem.name}" if problem.name else "certificate",
            f"{problem.name or 'Certificate'}: nothing below {said(claimed)} is said to be possible, "
            f"the plan comes to {said(cost)}.",
        )


def _shape(problem: Problem, certificate: Certificate, where: str) -> Iterator[Violation]:
    def wrong(message: str) -> Violation:
        return Violation("certificate-shape", where, f"{problem.name or 'Certificate'}: {message}")

    if len(certificate.duals) != len(problem.lengths):
        yield wrong(f"{len(certificate.duals)} duals are given for {len(problem.lengths)} lengths.")
    if certificate.supply_duals and len(certificate.supply_duals) != len(problem.bars):
        yield wrong(
            f"{len(certificate.supply_duals)} supply duals are given for {len(problem.bars)} kinds of bar."
        )
    if certificate.scale < 1:
        yield wrong(f"the scale is {certificate.scale}; at least 1 is needed.")
    if any(d < 0 for d in (*certificate.duals, *certificate.supply_duals, certificate.short_dual)):
        yield wrong("a dual is negative.")
    for bar, dual in zip(problem.bars, certificate.supply_duals, strict=False):
        if dual and bar.count is None:
            yield wrong(f"{bar.key} is unlimited, yet its supply has a dual.")


def _bound(problem: Problem, certificate: Certificate, short: int, where: str) -> Iterator[Violation]:
    total = sum(d * n for d, n in zip(certificate.duals, problem.counts, strict=True))
    for bar, dual in zip(problem.bars, certificate.supply_duals, strict=False):
        total -= dual * (bar.count or 0)
    total -= certificate.short_dual * short
    # Any plan's cost is a multiple of what the bars' costs have in common.
    unit = gcd(*(bar.cost for bar in problem.bars)) or 1
    proved = max(-(-total // (certificate.scale * unit)) * unit, 0)
    name = problem.name or "Certificate"
    if certificate.dual_bound > proved:
        yield Violation(
            "certificate-bound",
            where,
            f"{name}: the duals are said to prove {certificate.dual_bound}, they give {proved}.",
        )
    if certificate.bound > certificate.checkable and not certificate.closed_by:
        yield Violation(
            "certificate-bound",
            where,
            f"{name}: the bound is {certificate.bound}, the duals and the room of the bars give "
            f"{certificate.checkable} and no search is named that closed the rest.",
        )
    if short:
        for length, dual in zip(problem.lengths, certificate.duals, strict=True):
            if dual > certificate.short_dual * length:
                yield Violation(
                    "certificate-short",
                    where,
                    f"{name}: leaving out a piece of {in_mm(length)} would save more than it is charged.",
                )


def _patterns(problem: Problem, certificate: Certificate, where: str, most_work: int) -> Iterator[Violation]:
    supply_duals = certificate.supply_duals or (0,) * len(problem.bars)
    # Bars of one capacity share their patterns; the strictest limit speaks for all of them.
    strictest: dict[int, tuple[int, BarKind]] = {}
    sizes, unit = sizes_of(problem)
    for bar, dual in zip(problem.bars, supply_duals, strict=True):
        if bar.count == 0 or not sizes:
            continue
        capacity = capacity_of(problem, bar, unit)
        limit = certificate.scale * bar.cost + dual
        if capacity not in strictest or limit < strictest[capacity][0]:
            strictest[capacity] = (limit, bar)
    work = Work(most_work)
    name = problem.name or "Certificate"
    for capacity, (limit, bar) in sorted(strictest.items(), key=lambda item: item[0]):
        try:
            worth = worth_above(sizes, certificate.duals, problem.counts, capacity, limit, work)
        except TooLarge:
            yield Violation(
                NOT_RECHECKED,
                where,
                f"{name}: the bound of {certificate.bound} was not re-checked, too large: "
                f"{most_work} partial patterns were not enough.",
            )
            return
        if worth is not None:
            yield Violation(
                "certificate-pattern",
                where,
                f"{name}: a pattern on {bar.key} ({in_mm(bar.length)}) is worth {worth}, "
                f"the bar only {limit}; the duals prove nothing.",
            )


def _room(
    problem: Problem, certificate: Certificate, short: int, where: str, most_work: int
) -> Iterator[Violation]:
    if not certificate.room_bound:
        return
    name = problem.name or "Certificate"
    if short:
        yield Violation(
            "certificate-room", where, f"{name}: room for all pieces bounds no plan that leaves some out."
        )
        return
    try:
        below = has_room_below(problem, certificate.room_bound, Work(most_work))
    except TooLarge:
        yield Violation(
            NOT_RECHECKED,
            where,
            f"{name}: the bound of {certificate.room_bound} by the room of the bars was not re-checked, too "
            f"large: {most_work} choices of bars were not enough.",
        )
        return
    if below:
        yield Violation(
            "certificate-room",
            where,
            f"{name}: bars that cost less than {certificate.room_bound} have room for all the pieces.",
        )
