"""Two plans told apart in words: what is asked for, what is ordered, which bars and pieces differ."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from nesting.domain.digest import plan_id
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.errors import NOWHERE
from nesting.money import money_text
from nesting.reports.answer import amount, bars_words
from nesting.reports.bar_changes import bar_changes, placed_bars
from nesting.reports.lengths import BothUnits
from nesting.reports.purchase_words import alternative_words, margin_words
from nesting.reports.request_changes import request_changes

_BESIDE = {
    "ended": "why the search ended",
    "totals": "the account of the metal",
    "saw": "the saw's allowances",
    "cover_follows": "how covers are cut",
    "mitre": "the section at the mitres",
    "spares": "the spares from tails",
    "goals": "the second goals",
    "open_units": "the units half finished at once",
}
"""What a group tells beside bars and cost, by field."""


def plan_diff(before: Plan, after: Plan) -> tuple[str, ...]:
    """
    Tell two plans apart; nothing is said when they are the same.

    Runs and parameters first, then the order and its cost, then bars and pieces, then what is left
    out. Where the lists stood, and how long a search took, makes no difference.
    """
    said = [
        *_names(before, after),
        *request_changes(before.request, after.request),
        *_pieces(before, after),
        *_order(before, after),
        *_costs(before, after),
        *bar_changes(before, after),
        *_unplaced(before, after),
    ]
    # Whatever has no words of its own must not pass for equal.
    differing = _parts_that_differ(before, after)
    if not said and differing:
        said = [*_beside_the_bars(before, after)]
        rest = [name for name in differing if name != "groups" or not said]
        said += [f"The plans differ in: {', '.join(rest)}."] if rest else []
    return tuple(said)


def _beside_the_bars(before: Plan, after: Plan) -> Iterator[str]:
    """Say what two plans of the same bars at the same cost tell of them that is not the same."""
    old, new, lengths = _groups(before), _groups(after), BothUnits.of(after)
    currency = after.request.currency
    for material in sorted(old.keys() & new.keys()):
        a, b = old[material], new[material]
        if a.alternative != b.alternative:
            now, was = (_told(alternative_words(one, currency, lengths), "Next best: ") for one in (b, a))
            yield f"{material}: next best now: {now}; before: {was}."
        if a.margins != b.margins:
            now, was = (_told(margin_words(one, lengths), "Margins: ") for one in (b, a))
            yield f"{material}: margins now: {now}; before: {was}."
        named = [words for name, words in _BESIDE.items() if getattr(a, name) != getattr(b, name)]
        if named:
            yield f"{material} differs in {', '.join(named)}."


def _told(sentence: str, opening: str) -> str:
    """Give what a sentence says behind its opening words; that it is not told when there is none."""
    return sentence.removeprefix(opening).removesuffix(".") or "not told"


def _names(before: Plan, after: Plan) -> Iterator[str]:
    if after.follows == before.id and after.revision == before.revision + 1:
        yield f"Plan {after.id}, revision {after.revision}, follows plan {before.id}."
    elif (before.id, before.revision) != (after.id, after.revision):
        yield f"Plan {before.id} is compared with plan {after.id}."
    if before.seed != after.seed:
        yield f"Seed {after.seed} instead of {before.seed}."


def _pieces(before: Plan, after: Plan) -> Iterator[str]:
    old = {piece.id: piece for piece in before.pieces}
    new = {piece.id: piece for piece in after.pieces}
    lengths = BothUnits.of(after)
    longer = [n for n in old if n in new and old[n].length != new[n].length]
    for name in longer:
        now, was = lengths.said(new[name].length), lengths.said(old[name].length)
        yield f"Piece {name} is {now} instead of {was}."
    gone, come = [n for n in old if n not in new], [n for n in new if n not in old]
    if gone:
        yield f"{_pieces_words(len(gone))} no longer asked for: {listed(gone)}."
    if come:
        yield f"{_pieces_words(len(come))} asked for now: {listed(come)}."


def _order(before: Plan, after: Plan) -> Iterator[str]:
    old, new, said = ordered_bars(before), ordered_bars(after), BothUnits.of(after).said
    for key in sorted(old.keys() | new.keys(), key=repr):
        was, now = old[key], new[key]
        material, length = key
        if was != now:
            more = f"{now - was} more" if now > was else f"{was - now} fewer"
            yield f"Order {bars_words(now)} of {said(length)} {material} instead of {was}: {more}."
    for line in after.order:
        match = next((one for one in before.order if _line(one) == _line(line)), None)
        if match is not None and match.price != line.price:
            was_price, price = _price(match, before), _price(line, after)
            material, length = _line(line)
            yield f"A bar of {said(length)} {material} costs {price} instead of {was_price}."


def _line(line: OrderLine) -> tuple[str, int]:
    named = " ".join(word for word in (line.family, line.finish, line.part) if word)
    return (f"{named}, lot {line.lot}" if line.lot else named), int(line.length)


def _price(line: OrderLine, plan: Plan) -> str:
    return "an unknown price" if line.price is None else amount(line.price, plan.request.currency)


def ordered_bars(plan: Plan) -> Counter[tuple[str, int]]:
    """Give how many bars are ordered of each material, as it is named, and length."""
    bars: Counter[tuple[str, int]] = Counter()
    for line in plan.order:
        bars[_line(line)] += line.bars
    return bars


def cost_of_plan(plan: Plan) -> int:
    """Give what the plan's priced materials cost together, in ten-thousandths of the currency."""
    return sum(group.cost for group in plan.groups if group.priced)


def _costs(before: Plan, after: Plan) -> Iterator[str]:
    was, now = cost_of_plan(before), cost_of_plan(after)
    if was != now:
        apart = f"{money_text(abs(now - was))} {'more' if now > was else 'less'}"
        currency = after.request.currency
        yield f"The plan costs {amount(now, currency)} instead of {amount(was, currency)}: {apart}."
    old, new = _groups(before), _groups(after)
    for material in sorted(old.keys() & new.keys()):
        a, b = old[material], new[material]
        if a.cost == b.cost and a.bound != b.bound:
            words = [amount(g.bound, after.request.currency) if g.priced else str(g.bound) for g in (b, a)]
            yield f"{material}: nothing below {words[0]} is possible, by the other plan {words[1]}."


def _groups(plan: Plan) -> dict[Material, GroupPlan]:
    return {group.material: group for group in plan.groups}


def _unplaced(before: Plan, after: Plan) -> Iterator[str]:
    old = {(one.job, one.run, one.piece): one for one in before.unplaced}
    new = {(one.job, one.run, one.piece): one for one in after.unplaced}
    for key, one in new.items():
        if key not in old:
            yield f"{one.piece or f'Run {one.run}'} is left out now: {one.reason}."
    for key, one in old.items():
        if key not in new:
            yield f"{one.piece or f'Run {one.run}'} is no longer left out."


def listed(names: list[str], most: int = 8) -> str:
    """Give names in a row, the first few when there are many."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def _pieces_words(count: int) -> str:
    return "1 piece is" if count == 1 else f"{count} pieces are"


def _bare(plan: Plan) -> dict[str, object]:
    """Give all that makes a plan, without the places where its lists stood and the time its search took."""
    bars = placed_bars(plan)
    return {
        "request": plan_id(plan.request, plan.seed),
        "pieces": {piece.id: replace(piece, where=NOWHERE) for piece in plan.pieces},
        "groups": [replace(group, bars=(), seconds=0.0, certificate=None) for group in plan.groups],
        "bars": [(one.material, one.source, replace(one.bar, source="")) for one in bars],
        "order": sorted(repr(replace(line, stock=None)) for line in plan.order),
        "left out": sorted(repr(replace(one, where=NOWHERE)) for one in plan.unplaced),
        "jobs": plan.jobs,
        "strips": sorted(map(repr, plan.strips)),
        "small parts": plan.small_parts,
        "id": (plan.id, plan.follows, plan.revision),
    }


def _parts_that_differ(before: Plan, after: Plan) -> list[str]:
    a, b = _bare(before), _bare(after)
    return [name for name in a if a[name] != b[name]]
