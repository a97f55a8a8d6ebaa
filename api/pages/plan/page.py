"""The page of one plan in any state, as every endpoint of this screen shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from fastapi.responses import HTMLResponse
from sqlalchemy import select

from api.pages.plan.bars import bars_page
from api.pages.plan.choice import Choice, choice_words, filters
from api.pages.plan.drawing import Stretch
from api.pages.plan.figures import answer_view, money_view
from api.pages.plan.files import file_links
from api.pages.plan.growth import with_growth
from api.pages.plan.head import Head, head_of
from api.pages.plan.metal import metal_view
from api.pages.plan.piece import piece_view
from api.pages.plan.since import Since, since_view
from api.pages.results import result_of
from api.pages.visit import Visit
from api.plans.comparing import growth_of
from api.plans.release import NOT_HERE
from api.plans.schemas import PlanRead
from api.plans.service import get_plan
from api.store.engine import Store
from api.store.models import PlanRow
from api.web.problems import Problem
from nesting.domain.plan import Plan
from nesting.reports.completion import incomplete_words
from nesting.reports.lengths import BothUnits
from nesting.reports.tables import allowances, assumption_rows, given_words
from nesting.units import Unit

MOST_LEFT_OUT = 200


@dataclass(frozen=True, slots=True)
class Held:
    """Something that a refused release needs: what it is instead of free, and whose it is."""

    thing: str
    state: str
    plan: str
    number: int
    holder: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """
    Why something was not done.

    Parameters
    ----------
    act
        Name of the form that was sent.
    title
        What did not happen, for people.
    field
        Name of the field that is to blame; empty when none is.
    """

    act: str
    title: str
    detail: str
    field: str = ""
    held: tuple[Held, ...] = ()

    @property
    def absent(self) -> tuple[str, ...]:
        """Give the tags of offcuts that came with the list and lie on no rack of this service."""
        return tuple(one.thing for one in self.held if one.state == NOT_HERE)

    @property
    def things(self) -> str:
        """Say how many of the things that the plan needs are not free."""
        count = len(self.held)
        return f"{count} things it needs are not free." if count != 1 else "1 thing it needs is not free."


@dataclass(frozen=True, slots=True)
class SawRow:
    """One allowance of a saw: name, meaning, length, and whether it was given or is a common value."""

    saw: str
    name: str
    meaning: str
    length: int
    given: str


def refusal_of(store: Store, why: Problem, act: str, title: str) -> Refusal:
    """Set out a problem for the page, with the plans that have what was asked for by their numbers."""
    plans = {one["plan"] for one in why.conflicts if one.get("plan")}
    with store.read() as session:
        found = session.execute(select(PlanRow.id, PlanRow.number).where(PlanRow.id.in_(plans))).all()
    numbers = {str(identity): int(number) for identity, number in found}
    held = tuple(
        Held(one["thing"], one["state"], one["plan"], numbers.get(one["plan"], 0), one.get("holder", ""))
        for one in why.conflicts
    )
    return Refusal(act=act, title=title, detail=why.detail, held=held)


def reader_lengths(visit: Visit, plan: Plan) -> BothUnits:
    """Give the printer of lengths: the reader's unit, or the plan's own where none was chosen."""
    return visit.lengths if visit.preferences.unit else BothUnits.of(plan)


def plan_page(
    visit: Visit,
    plan_id: str,
    choice: Choice | None = None,
    *,
    status: int = 200,
    refusal: Refusal | None = None,
    typed: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """
    Give the page of a plan.

    Parameters
    ----------
    refusal, typed
        Why what was asked for was not done, and what had been filled in.

    Raises
    ------
    Problem
        When there is no such plan.
    """
    store = visit.service.store
    with store.read() as session:
        head = head_of(session, plan_id)
        read = PlanRead.of(session, get_plan(session, plan_id), visit.preferences.unit or Unit.MM)
    known: dict[str, object] = {
        "head": head,
        "plan": read,
        "refusal": refusal,
        "typed": typed or {},
        "tab": "plan",
    }
    plan = result_of(store, plan_id)
    if plan is None:
        return visit.page("plan/waiting.html", status, **known)
    plan = with_growth(plan, growth_of(store, plan_id))
    lengths = reader_lengths(visit, plan)
    shown = choice or Choice()
    bars = bars_page(plan, shown, lengths, head.states)
    return visit.page(
        "plan/plan.html",
        status,
        **known,
        lengths=lengths,
        answer=answer_view(plan, lengths),
        money=money_view(plan, lengths),
        metal=metal_view(plan),
        files=file_links(plan),
        saws=tuple(_saws(plan)),
        left_out=plan.unplaced[:MOST_LEFT_OUT],
        more_left_out=len(plan.unplaced[MOST_LEFT_OUT:]),
        incomplete=incomplete_words(plan),
        findings=plan.findings,
        findings_count=len(plan.findings),
        choice=shown,
        chosen=choice_words(shown),
        filters=filters(plan, shown),
        bars=bars,
        piece=piece_view(plan, shown.piece, lengths) if shown.piece else None,
        address_of=_address_of(shown),
        pages=page_numbers(bars.page, bars.pages),
        needs=_needs(plan),
        since=_since(store, head, plan),
    )


def page_numbers(page: int, pages: int) -> tuple[int, ...]:
    """Give the pages a list links to: the first, the last and those around this one; 0 stands for a gap."""
    near = sorted({1, pages, *range(max(page - 2, 1), min(page + 2, pages) + 1)})
    shown: list[int] = []
    for number in near:
        if shown and number > shown[-1] + 1:
            shown.append(0)
        shown.append(number)
    return tuple(shown)


def _address_of(choice: Choice) -> Callable[[int], Callable[[Stretch], str]]:
    """Give, for the number of a card, the address of each piece drawn on it."""

    def card(number: int) -> Callable[[Stretch], str]:
        return lambda part: f"{choice.address(piece=part.piece)}#card-{number}"

    return card


def _since(store: Store, head: Head, plan: Plan) -> Since | None:
    before = result_of(store, head.parent.id) if head.parent else None
    if head.parent is None or before is None:
        return None
    return since_view(before, plan, (f"P{head.parent.number}", head.name), head.summary)


def _needs(plan: Plan) -> str:
    """Say what releasing a plan reserves."""
    bars = [bar for group in plan.groups for bar in group.bars if not bar.state.cut]
    rack = sum(1 for bar in bars if bar.offcut)
    new = len(bars) - rack
    parts = [f"{new} new bar{'s' if new != 1 else ''}"] if new else []
    if rack:
        parts.append(f"{rack} offcut{'s' if rack != 1 else ''} from the rack")
    return " and ".join(parts) or "nothing"


def _saws(plan: Plan) -> Iterator[SawRow]:
    for saw, rules in assumption_rows(plan):
        for (name, meaning, length), given in zip(allowances(rules), given_words(plan, rules), strict=True):
            yield SawRow(saw, name, meaning, length, given)
