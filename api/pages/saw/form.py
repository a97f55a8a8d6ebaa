"""What the form at the saw says of a bar: read, or refused with every reason beside its field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from pydantic import ValidationError

from api.pages.saw.tail import DOUBTS, Tail, tail_doubt
from api.plans.bar_schemas import BarReport, MiscutReport
from api.plans.cutting import Outcome
from api.web.lengths import read_measure
from nesting.errors import LengthNotUnderstood
from nesting.units import Length, Unit

_FIELDS = ("tail", "rest", "spoiled", "place", "note", "made")
MOST_DIGITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """
    The form as it was sent; all texts, so that it can be shown again as it was.

    Parameters
    ----------
    key
        Idempotency key of the report.
    unit
        Unit of a tail without one: the unit the form was shown in.
    spoiled, came
        Pieces that came out wrong or were not made; each piece and what came out of it, mostly nothing.
    sure
        Whether a tail that gives cause for doubt was measured again.
    made, rest
        Of a damaged bar: cuts made before it was given up, and what is good of the rest.
    final
        Whether somebody has said that giving the bar up is meant.
    """

    key: str = ""
    outcome: str = ""
    tail: str = ""
    unit: str = Unit.MM.value
    spoiled: tuple[str, ...] = ()
    came: tuple[tuple[str, str], ...] = ()
    place: str = ""
    note: str = ""
    sure: bool = False
    made: str = ""
    rest: str = ""
    final: bool = False

    @property
    def wrong(self) -> tuple[str, ...]:
        """Give the pieces that came out wrong: those marked, and those with what came out of them."""
        measured = (piece for piece, text in self.came if text.strip())
        return tuple(dict.fromkeys((*self.spoiled, *measured)))

    def came_out(self, piece: str) -> str:
        """Give what was typed for what came out of a piece."""
        return dict(self.came).get(piece, "")


@dataclass(frozen=True, slots=True)
class Shown:
    """
    A form as a page shows it: empty at first, later with what was typed and why it was not taken.

    Parameters
    ----------
    faults
        What is wrong, by the field's name.
    refusal
        Why the service refused a report that was understood.
    """

    typed: Typed = Typed()
    faults: Mapping[str, str] = field(default_factory=dict)
    refusal: str = ""

    def of(self, outcome: str) -> Shown:
        """Give what one of the bar's forms shows: what was sent of it, else an empty one."""
        return self if self.typed.outcome == outcome else Shown()


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """
    The form that takes a report back, as a page shows it: closed and empty, or with why it was not taken.

    Parameters
    ----------
    key
        Idempotency key it was sent under.
    fault
        What is wrong with the reason.
    refusal
        What stands in the way.
    """

    key: str = ""
    reason: str = ""
    fault: str = ""
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Read:
    """
    A report, or why it is none.

    Parameters
    ----------
    faults
        What is wrong, by the field's name; ``sure`` asks to measure again.
    """

    report: BarReport | None = None
    faults: dict[str, str] = field(default_factory=dict)


def read_form(typed: Typed, tail: Tail) -> Read:
    """
    Read a form.

    Parameters
    ----------
    tail
        What the bar should leave: a measured tail that no right set of pieces leaves is asked back once.
    """
    faults: dict[str, str] = {}
    measured: Length | None = None
    miscuts: list[tuple[str, Length]] = []
    if typed.outcome not in set(Outcome):
        faults["outcome"] = "Say what became of the bar: cut, set aside for a defect, or not found."
    cut = typed.outcome == Outcome.CUT
    damaged = typed.outcome == Outcome.DEFECT
    name, text = ("tail", typed.tail) if cut else ("rest", typed.rest if damaged else "")
    if text.strip():
        try:
            measured = read_measure(text, _unit(typed.unit), may_be_zero=True)
        except LengthNotUnderstood as why:
            faults[name] = f"Not understood: {why.expected}."
    if damaged and not (typed.made.isdecimal() and len(typed.made) <= MOST_DIGITS):
        faults["made"] = "Say how many cuts were made before; when all are, go to the tail."
    if typed.outcome in (Outcome.DEFECT, Outcome.MISSING) and not typed.final:
        faults["final"] = "Tick this too: the bar is given up by it."
    if cut:
        try:
            miscuts = list(_miscuts(typed))
        except LengthNotUnderstood as why:
            faults["spoiled"] = f"What came out is not understood: {why.expected}."
    # Where a piece came out wrong the tail is whatever it is.
    checked = None if typed.wrong or typed.sure or not cut else measured
    if checked is not None and (doubt := tail_doubt(checked, tail)):
        faults["sure"] = DOUBTS[doubt]
    if faults:
        return Read(faults=faults)
    try:
        report = BarReport(
            outcome=Outcome(typed.outcome),
            made=int(typed.made) if damaged else 0,
            tail_nm=measured,
            spoiled=[piece for piece in typed.wrong if not typed.came_out(piece).strip()] if cut else [],
            miscuts=[MiscutReport(piece=piece, length_nm=length) for piece, length in miscuts],
            place=typed.place if cut or measured else "",
            note=typed.note,
        )
    except ValidationError as why:
        return Read(faults=dict(_refused(why)))
    return Read(report)


def _miscuts(typed: Typed) -> Iterator[tuple[str, Length]]:
    for piece in typed.wrong:
        if text := typed.came_out(piece).strip():
            yield piece, read_measure(text, _unit(typed.unit))


def _unit(text: str) -> Unit:
    return Unit.INCH if text == Unit.INCH.value else Unit.MM


def _refused(why: ValidationError) -> Iterator[tuple[str, str]]:
    for error in why.errors():
        name = str(error["loc"][0]) if error["loc"] else "outcome"
        yield (name if name in _FIELDS else "outcome"), str(error["msg"]).removeprefix("Value error, ")
