"""Certificates for a plan that follows another one, so that an audit can check its bounds again."""

from __future__ import annotations

import threading
from collections.abc import Iterable
from dataclasses import replace

from nesting.batch.pool import Limits
from nesting.batch.split import split
from nesting.batch.watch import Flag
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.stock import Offcut
from nesting.planning.group import Group
from nesting.planning.ordered import holds_reserve, ordered_by, with_ordered
from nesting.planning.settle import settle
from nesting.stop import AnyOf, Cancelled, MaxRuntime, Stop

WHAT_IS_OPEN = "the plan of everything open, with the cut and the frozen bars as they are"


def with_certificates(plan: Plan, before: Plan, limits: Limits, cancel: Flag | None = None) -> Plan:
    """
    Give a plan again, its groups with certificates wherever an audit can check one.

    Bars that are cut, and what came from them, are one way among others to cut all pieces from all bars
    and offcuts there ever were, so what is proved for that whole problem holds for the plan too. The
    bound of what is still open may be higher, since what is spoiled cannot be undone; the certificate
    then says that this part has to be trusted. A material whose offcuts are the same as before keeps its
    certificate. One that shares limited bars with others is bounded as if all of them were its own: each
    such bound holds whatever the others take, and so does their sum. What the first plan proved for it
    holds only for what the ones before it left, and is not kept. Where bars were ordered as a reserve, a
    plan may cut them at no more cost, so it is bounded by what a plan with that reserve can cost. Materials
    that leave pieces out have none.

    Parameters
    ----------
    before
        The plan that it follows.
    """
    stop = _stop(limits, cancel if cancel is not None else threading.Event())
    chains = split(plan.request, plan.pieces).chains
    wholes = {group.material: group for chain in chains for group in chain}
    sharing = {group.material for chain in chains if len(chain) > 1 for group in chain}
    materials = {piece.id: piece.material for piece in plan.pieces}
    short = {materials[one.piece] for one in plan.unplaced if one.piece}
    earlier = {group.material: group for group in before.groups}
    ordered = ordered_by(before)
    groups = []
    for group in plan.groups:
        whole = wholes.get(group.material)
        if whole is None or group.material in short:
            groups.append(group)
            continue
        same = _rack(plan.request.offcuts, group.material) == _rack(before.request.offcuts, group.material)
        holds = same and (group.material not in sharing or before.revision > 0)
        holds = holds and not holds_reserve(whole, ordered)
        known = earlier[group.material].certificate if holds and group.material in earlier else None
        groups.append(_certified(group, known or _solved(with_ordered(whole, ordered), limits, stop)))
    return replace(plan, groups=tuple(groups))


def _certified(group: GroupPlan, certificate: Certificate | None) -> GroupPlan:
    if certificate is None or certificate.bound > group.cost:
        return group
    bound = max(group.bound, certificate.bound)
    if bound > certificate.bound:
        certificate = replace(certificate, bound=bound, closed_by=WHAT_IS_OPEN)
    ended = StopReason.PROVED if bound == group.cost else group.ended
    return replace(group, bound=bound, certificate=certificate, ended=ended)


def _solved(whole: Group, limits: Limits, stop: Stop) -> Certificate | None:
    result = settle(whole, seed=limits.seed, stop=stop).result
    return None if result.short else result.certificate


def _rack(offcuts: Iterable[Offcut], material: Material) -> list[Offcut]:
    kind = (material.family, material.finish, material.part)
    return [one for one in offcuts if (one.family, one.finish, one.part) == kind]


def _stop(limits: Limits, cancel: Flag) -> Stop:
    stops: list[Stop] = [Cancelled(cancel)]
    return AnyOf(*stops, MaxRuntime(limits.seconds)) if limits.seconds is not None else AnyOf(*stops)
