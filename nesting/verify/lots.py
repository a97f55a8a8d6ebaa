"""Whether what has to match is cut from one finish lot."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from nesting.domain.material import LotRule
from nesting.domain.plan import Plan
from nesting.verify.demand import rows_of
from nesting.verify.violation import Violation
from nesting.verify.walk import name_of


def lot_violations(plan: Plan) -> Iterator[Violation]:
    """Give the pieces whose lot is not the one asked for, or that mix lots where they must not."""
    rows = {(row.job, row.id): row for row in rows_of(plan.request)}
    rules = {family.name: family.lot_rule for family in plan.request.families}
    of_job: dict[tuple[object, ...], str] = {}
    for piece in plan.pieces:
        found = rows.get((piece.job, piece.run))
        if found is None:
            continue
        lot, where = piece.material.lot, f"piece {piece.id}"
        rule = rules.get(found.family, LotRule.ANY)
        if found.lot and lot != found.lot:
            said = lot or "any"
            yield Violation(
                "lot", where, f"Piece {piece.id} is planned in lot {said}, {found.lot} is asked for."
            )
        elif not found.lot and rule is LotRule.ANY and lot:
            yield Violation("lot", where, f"Piece {piece.id} is bound to lot {lot}, but any lot will do.")
        elif not found.lot and rule is LotRule.JOB:
            first = of_job.setdefault((found.family, found.finish, piece.material.part, found.job), lot)
            if not lot or lot != first:
                yield Violation(
                    "lot",
                    where,
                    f"Piece {piece.id} is planned in lot {lot or 'any'}; the job's pieces need one lot"
                    f"{f', others are in {first}' if first and first != lot else ''}.",
                )
    yield from _rooms(plan, rules)


def _rooms(plan: Plan, rules: Mapping[str, LotRule]) -> Iterator[Violation]:
    """Look at the bars each room's pieces really come from: one lot, or it will show."""
    pieces = {piece.id: piece for piece in plan.pieces}
    offcuts = {offcut.tag: offcut for offcut in plan.request.offcuts}
    lot_of: dict[tuple[object, ...], str] = {}
    for group in plan.groups:
        if rules.get(group.material.family) is not LotRule.ROOM:
            continue
        for bar in group.bars:
            offcut = offcuts.get(bar.source)
            # New bars of one order are one lot; an offcut whose lot nobody knows matches nothing.
            ordered = group.material.lot or "of this order"
            lot = (offcut.lot or f"unknown, offcut {offcut.tag}") if offcut else ordered
            for cut in bar.cuts:
                piece = pieces.get(cut.piece)
                if piece is None:
                    continue
                place = piece.place
                room = (place.building, place.floor, place.unit, place.room)
                first = lot_of.setdefault((group.material, piece.job, *room), lot)
                if first != lot:
                    yield Violation(
                        "lot-mixed",
                        f"piece {piece.id}",
                        f"{name_of(group, bar)}: {piece.id} comes from the lot {lot}, its room "
                        f"has the lot {first}.",
                    )
