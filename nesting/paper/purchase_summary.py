"""What to buy, how good that provably is, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from nesting.domain.plan import OrderLine, Plan, Totals
from nesting.money import money_text
from nesting.paper.faces import Face
from nesting.paper.flow import Block, Line, Section, Space, Stack, content_width, paragraph, print_pages
from nesting.paper.page_size import PageSize
from nesting.paper.saw_table import saw_table
from nesting.paper.surface import Align
from nesting.paper.tables import Column, Title, row_of, rows_of
from nesting.reports.answer import (
    amount,
    answer_of,
    bars_words,
    loud_words,
    material_of,
    materials_of,
    more_cost_words,
    share_text,
    sum_words,
    trust_words,
    unpriced_words,
)
from nesting.reports.completion import incomplete_words, units_words
from nesting.reports.lengths import BothUnits
from nesting.reports.placed_words import placed_words
from nesting.reports.purchase_words import (
    alternative_words,
    break_words,
    budget_words,
    is_over,
    line_note,
    margin_words,
    order_by,
    order_words,
    spares_words,
)
from nesting.reports.small_part_words import small_parts_line
from nesting.reports.tables import WASTE_WORDS, account_rows
from nesting.units import Length

_RIGHT = Align.RIGHT
_ORDER = (
    Column("bars", 0.09, 17, Face.BOLD),
    Column("of length", 0.17, 11, Face.BOLD),
    Column("material", 0.28, 10, Face.BOLD),
    Column("lot", 0.13, 9),
    Column("price a bar", 0.1, 10, align=_RIGHT, lines=1),
    Column("sum", 0.12, 11, Face.BOLD, _RIGHT, 1),
    Column("note", 0.11, 8.5),
)
_ORDER_AGAIN = (
    Column("still to order", 0.1, 17, Face.BOLD),
    Column("in all", 0.06, 10, align=_RIGHT),
    Column("ordered before", 0.08, 10, align=_RIGHT),
    Column("of length", 0.15, 11, Face.BOLD),
    Column("material", 0.22, 10, Face.BOLD),
    Column("lot", 0.1, 9),
    Column("price a bar", 0.09, 10, align=_RIGHT, lines=1),
    Column("still to pay", 0.11, 11, Face.BOLD, _RIGHT, 1),
    Column("note", 0.09, 8.5),
)
_COUNTS = (
    Column("material and length", 0.25, 9, Face.BOLD),
    Column("needed", 0.065, 10, align=_RIGHT),
    Column("on hand", 0.065, 10, align=_RIGHT),
    Column("reserve", 0.065, 10, align=_RIGHT),
    Column("spare", 0.06, 10, align=_RIGHT),
    Column("to order", 0.07, 11, Face.BOLD, _RIGHT),
    Column("list price", 0.08, 9, align=_RIGHT),
    Column("break", 0.09, 8.5),
    Column("order by", 0.095, 8.5),
    Column("note", 0.16, 8),
)
_LEFT_OUT = (
    Column("job", 0.1, 10),
    Column("piece", 0.2, 10.5, Face.CODE),
    Column("length", 0.2, 10),
    Column("why it is not in the plan", 0.5, 9.5),
)
_JOBS = (
    Column("job", 0.4, 10.5, Face.BOLD),
    Column("pieces", 0.2, 10, align=_RIGHT),
    Column("their length", 0.2, 10, align=_RIGHT),
    Column("share of the sum", 0.2, 10, align=_RIGHT),
)
_METAL = (
    Column("material", 0.24, 9, Face.BOLD),
    Column("bars", 0.06, 9, align=_RIGHT),
    *(Column(name, 0.0875, 9, align=_RIGHT, lines=1) for name, _ in WASTE_WORDS),
)


def write_purchase_summary(path: Path, plan: Plan, lengths: BothUnits, page: PageSize) -> int:
    """Write order, proof, jobs' shares, account of the metal and assumptions; gives the number of pages."""
    width = content_width(page)
    blocks = (
        *_order(plan, lengths, width),
        *rows_of(
            Title("How the counts come about"),
            _counts(plan),
            tuple(_count_rows(plan, lengths)),
            height=9.0,
        ),
        *_proof(plan, lengths, width),
        *_left_out(plan, lengths, width),
        *rows_of(Title("Shares of the jobs"), _JOBS, tuple(_share_rows(plan, lengths)), height=8.0),
        *_metal(plan),
        *saw_table(plan, lengths),
    )
    return print_pages(
        path,
        page,
        (Section((), blocks, one_list=True),),
        name="Purchase summary",
        plan_id=plan.id,
        title=plan.request.title,
        note=_note(plan),
    )


def _order(plan: Plan, lengths: BothUnits, width: float) -> tuple[Block, ...]:
    blocks: list[Block] = list(paragraph("To order", width, size=20, face=Face.BOLD))
    placed = placed_words(plan)
    for loud in filter(None, (placed, *loud_words(plan))):
        blocks += paragraph(loud, width, size=11, face=Face.BOLD, loud=True)
    if placed:
        rows = tuple(_order_again_cells(line, lengths) for line in plan.order)
        blocks += rows_of(Space(1), _ORDER_AGAIN, rows, height=10.5)
    else:
        rows = tuple(_order_cells(line, lengths) for line in plan.order)
        blocks += rows_of(Space(1), _ORDER, rows, height=10.5)
    sums = [line.sum for line in plan.order if line.sum is not None]
    unpriced = len(plan.order) - len(sums)
    if not plan.order:
        blocks += paragraph("Nothing to order.", width, size=12, face=Face.BOLD)
    elif sums:
        total = f"{sum(line.bars for line in plan.order)} bars, {amount(sum(sums), plan.request.currency)}"
        rest = (
            f", {unpriced} line{'s' if unpriced > 1 else ''} without a price not counted" if unpriced else ""
        )
        if placed:
            more = bars_words(sum(line.more for line in plan.order))
            still = f"Still to order {more}{more_cost_words(plan.order, plan.request.currency)}"
            blocks.append(Stack((Space(1.5), Line(still, 13, Face.BOLD, below=1))))
            blocks += paragraph(f"With what plans before have ordered, in all {total}{rest}.", width, size=10)
        else:
            blocks.append(Stack((Space(1.5), Line(f"In all {total}{rest}", 13, Face.BOLD, below=1))))
    rack = sum(bar.offcut for group in plan.groups for bar in group.bars)
    if rack:
        words = (
            f"{rack} offcut{'s' if rack > 1 else ''} from the rack {'are' if rack > 1 else 'is'} cut besides."
        )
        blocks += paragraph(words, width, size=10)
    for words in order_words(plan):
        over = is_over(plan) and words == budget_words(plan)
        blocks += paragraph(words, width, size=10, face=Face.BOLD if over else Face.PLAIN, loud=over)
    if plan.small_parts is not None and (words := small_parts_line(plan.small_parts)):
        blocks += paragraph(f"{words} They stand in the list of small parts.", width, size=10)
    return tuple(blocks)


def _note(plan: Plan) -> str:
    reserve = sum(line.reserve for line in plan.order)
    if reserve:
        return f"{bars_words(reserve)} in reserve included. Ask for one lot per finish."
    if any(line.reserve_used for line in plan.order):
        return "The reserve is used up. Ask for one lot per finish."
    return "No reserve is included: ask for one lot per finish, and order spares with it."


def _counts(plan: Plan) -> tuple[Column, ...]:
    """Give the columns of the counts; where plans before have ordered, they end in all the bars."""
    if not placed_words(plan):
        return _COUNTS
    return tuple(replace(one, title="bars in all") if one.title == "to order" else one for one in _COUNTS)


def _count_rows(plan: Plan, lengths: BothUnits) -> Iterator[tuple[str, ...]]:
    """Give every order line's way from what the plan needs to what is ordered, then the rack's bars."""
    for line in plan.order:
        counts = (line.needed, line.on_hand, line.reserve, line.spare, line.bars)
        listed = line.price if line.listed is None else line.listed
        yield (
            f"{material_of(line)}, {lengths.said(line.length)}",
            *(str(count or "") for count in counts),
            "" if listed is None else money_text(listed),
            break_words(plan, line),
            order_by(plan, line),
            line_note(plan, line),
        )
    for group in plan.groups:
        if rack := sum(bar.offcut for bar in group.bars):
            name = f"{group.material}, offcuts"
            yield (name, str(rack), "", "", "", "", "", "", "", "from the rack, see the pick list")


def _order_cells(line: OrderLine, lengths: BothUnits) -> tuple[str, ...]:
    material = material_of(line).name
    price = "" if line.price is None else money_text(line.price)
    total = "no price" if line.sum is None else money_text(line.sum)
    lot = f"one lot, for {line.lot}" if line.lot else "any lot"
    return str(line.bars), lengths.both(line.length), material, lot, price, total, line.note


def _order_again_cells(line: OrderLine, lengths: BothUnits) -> tuple[str, ...]:
    _, length, material, lot, price, _, note = _order_cells(line, lengths)
    still = "no price" if line.more_sum is None else money_text(line.more_sum)
    return str(line.more), str(line.bars), str(line.ordered), length, material, lot, price, still, note


def _proof(plan: Plan, lengths: BothUnits, width: float) -> tuple[Block, ...]:
    materials = materials_of(plan)
    said: list[Block] = []
    groups = {group.material: group for group in plan.groups}
    for material in materials:
        said += paragraph(answer_of(plan, material), width, size=9.5)
        if (group := groups.get(material)) is None:
            continue
        for words in (
            alternative_words(group, plan.request.currency, lengths),
            margin_words(group, lengths),
            spares_words(group, lengths),
        ):
            said += paragraph(words, width, size=8.5) if words else ()
    for words in filter(None, (unpriced_words(plan), trust_words(plan), units_words(plan))):
        said += paragraph(words, width, size=9.5)
    if len(materials) > 1:
        said += paragraph(sum_words(plan), width, size=9.5, face=Face.BOLD)
    return (Stack((Title("How good this is"), said[0])), *said[1:]) if said else ()


def _left_out(plan: Plan, lengths: BothUnits, width: float) -> tuple[Block, ...]:
    rows = tuple(
        (left.job, left.piece or left.run, lengths.both(left.length), left.reason) for left in plan.unplaced
    )
    table = rows_of(Title("Not in this plan"), _LEFT_OUT, rows, height=9.0)
    return (*table, *paragraph(incomplete_words(plan), width, size=9.5)) if table else ()


def _share_rows(plan: Plan, lengths: BothUnits) -> tuple[tuple[str, ...], ...]:
    priced = any(group.priced for group in plan.groups)
    return tuple(
        (
            share.job,
            str(share.pieces),
            lengths.first(Length(share.good)),
            amount(share.cost, plan.request.currency) if priced else "no price",
        )
        for share in plan.jobs
    )


def _metal(plan: Plan) -> tuple[Block, ...]:
    rows = tuple((row.name, *_metal_cells(row.totals)) for row in account_rows(plan))
    words = ";  ".join(f"{name}: {meaning}" for name, meaning in WASTE_WORDS)
    meaning = row_of((Column("", 1.0, 8, lines=3),), (words,), 11.0)
    title = Title("Where the metal goes, in metres")
    return rows_of(title, _METAL, rows, height=8.0, below=meaning)


def _metal_cells(totals: Totals) -> tuple[str, ...]:
    lengths = (totals.used, totals.good, totals.kerf, totals.trim, totals.returned, totals.scrap)
    metres = tuple(f"{nanometres / 1e9:.2f}" for nanometres in lengths)
    return str(totals.bars), *metres, share_text(totals.yield_share), share_text(totals.waste_share)
