"""Whether every bar of a plan exists, may be cut for its material, and is taken only once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.domain.material import Material, Part
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.units import NO_LENGTH
from nesting.verify.replanned import born_tags
from nesting.verify.violation import Violation, in_mm
from nesting.verify.walk import name_of


@dataclass(frozen=True, slots=True)
class Source:
    """
    Where a bar comes from.

    Parameters
    ----------
    bar
        Line of the new bar, or the offcut.
    cover
        Line of the cover bar that is cut together with a new bar, when covers are bought separately.
    """

    bar: StockLine | Offcut
    cover: StockLine | None = None

    @property
    def cost(self) -> int | None:
        """What it costs in ten-thousandths of the currency; None when a price is unknown."""
        if isinstance(self.bar, Offcut):
            return int(self.bar.value or 0)
        prices = [self.bar.price] + ([self.cover.price] if self.cover else [])
        return None if None in prices else sum(int(price or 0) for price in prices)


def saw_of(request: Request, part: Part) -> SawRules:
    """Give the saw that has to cut a part: covers have their own when the request names one."""
    if part is Part.COVER and request.cover_saw is not None:
        return request.cover_saw
    return request.saw


def family_follows(request: Request, material: Material) -> bool:
    """Tell whether the material's bars are cut together with their cover bars."""
    if material.part is not Part.CHANNEL:
        return False
    return any(f.name == material.family and f.cover_mode.together for f in request.families)


def covers_on_offer(request: Request, material: Material) -> list[StockLine]:
    """Give the cover bars sold separately for a channel material."""
    return [
        line
        for line in request.stock
        if line.part is Part.COVER and line.family == material.family and line.finish == material.finish
    ]


def source_of(request: Request, material: Material, key: str) -> Source | None:
    """Find the stock line (``stock:<index from 0>``) or the offcut (its tag) that a key names."""
    prefix, colon, digits = key.partition(":")
    if prefix == "stock" and colon:
        if not (digits.isascii() and digits.isdecimal()) or len(digits) > 9 or str(int(digits)) != digits:
            return None
        if int(digits) >= len(request.stock):
            return None
        line = request.stock[int(digits)]
        if not family_follows(request, material):
            return Source(line)
        same = [cover for cover in covers_on_offer(request, material) if cover.length == line.length]
        return Source(line, same[0] if same else None)
    tagged = [offcut for offcut in request.offcuts if offcut.tag == key]
    return Source(tagged[0]) if tagged else None


def supply_violations(plan: Plan) -> Iterator[Violation]:
    """Give the bars that do not exist as planned, are taken too often, or share a number or a tag."""
    used: Counter[str] = Counter()
    covers: Counter[int] = Counter()
    numbers: Counter[int] = Counter()
    # An offcut that a cut bar of this plan gave is the tag's owner, not a second one.
    born = set(born_tags(plan))
    tags: Counter[str] = Counter(o.tag for o in plan.request.offcuts if o.tag not in born)
    for group in plan.groups:
        for bar in group.bars:
            numbers[bar.number] += 1
            if numbers[bar.number] == 2:
                yield Violation(
                    "bar-number", f"bar {bar.number}", f"{name_of(group, bar)}: its number is used twice."
                )
            for tag in filter(
                None, (bar.tail_tag, *(s.tag for s in bar.spoiled), *(z.tag for z in bar.zones))
            ):
                tags[tag] += 1
                if tags[tag] > 1:
                    yield Violation(
                        "tail-tag",
                        f"bar {bar.number}",
                        f"{name_of(group, bar)}: tag {tag} is already taken.",
                    )
            source = source_of(plan.request, group.material, bar.source)
            yield from _bar(plan.request, group, bar, source)
            if source:
                used[bar.source] += 1
                if source.cover:
                    covers[plan.request.stock.index(source.cover)] += 1
    yield from _limits(plan.request, used, covers)


def _bar(request: Request, group: GroupPlan, bar: PlannedBar, source: Source | None) -> Iterator[Violation]:
    name, where = name_of(group, bar), f"bar {bar.number}"
    if source is None:
        yield Violation("unknown-source", where, f"{name}: nothing on offer or on the rack is {bar.source}.")
        return
    is_offcut = isinstance(source.bar, Offcut)
    if bar.offcut != is_offcut:
        yield Violation(
            "offcut-flag",
            where,
            f"{name}: {bar.source} is {'an offcut' if is_offcut else 'a new bar'}, the plan says otherwise.",
        )
    if bar.length != source.bar.length:
        yield Violation(
            "bar-length",
            where,
            f"{name}: planned as {in_mm(bar.length)}, {bar.source} is {in_mm(source.bar.length)} long.",
        )
    material = group.material
    given = (source.bar.family, source.bar.finish, source.bar.part)
    if given != (material.family, material.finish, material.part):
        yield Violation(
            "bar-material",
            where,
            f"{name}: {bar.source} is {' '.join(filter(None, (*given[:2], given[2].value)))}.",
        )
    if isinstance(source.bar, Offcut):
        if material.lot and source.bar.lot != material.lot:
            yield Violation(
                "lot",
                where,
                f"{name}: offcut {bar.source} is of lot {source.bar.lot or 'unknown'}, "
                f"the pieces are bound to lot {material.lot}.",
            )
        raw_ends = sum(end is EndState.RAW for end in (source.bar.left, source.bar.right))
        trims = {0: (0, 0), 1: (0, group.saw.tail_loss), 2: (group.saw.head_trim, group.saw.tail_loss)}
        head, tail_loss = trims[raw_ends]
    else:
        head, tail_loss = group.saw.head_trim, group.saw.tail_loss
        if family_follows(request, material) and covers_on_offer(request, material) and not source.cover:
            yield Violation(
                "no-cover-bar",
                where,
                f"{name}: no cover bar of {in_mm(bar.length)} is on offer to go with it.",
            )
    if bar.state is BarState.STOPPED and not bar.cuts:
        head = NO_LENGTH  # given up before its first stroke
    for code, planned, due in (("head-trim", bar.head, head), ("tail-loss", bar.tail_loss, tail_loss)):
        if planned != due:
            words = code.replace("-", " ")
            yield Violation(
                code, where, f"{name}: {words} planned as {in_mm(planned)}, {bar.source} needs {in_mm(due)}."
            )


def _limits(request: Request, used: Counter[str], covers: Counter[int]) -> Iterator[Violation]:
    for offcut in request.offcuts:
        if used[offcut.tag] > 1:
            yield Violation(
                "offcut-twice",
                f"offcut {offcut.tag}",
                f"Offcut {offcut.tag} is cut {used[offcut.tag]} times; there is one.",
            )
    for index, line in enumerate(request.stock):
        taken = used[f"stock:{index}"] + covers[index]
        if line.count is not None and taken > line.count:
            stock = f"{line.family} {line.finish} {line.part.value} of {in_mm(line.length)}"
            yield Violation(
                "stock-count",
                f"stock line {index + 1}",
                f"Stock line {index + 1} ({stock}): {taken} bars are taken, {line.count} can be had.",
            )
