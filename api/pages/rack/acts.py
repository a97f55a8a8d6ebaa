"""What a storekeeper does with an offcut: the stockroom's moves behind the buttons."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum

from sqlalchemy.orm import Session

from api.offcuts.schemas import TAG_PATTERN
from api.offcuts.service import change, get_offcut, receive, tagged_of
from api.pages.rack.answers import Answers
from api.pages.rack.words import state_words
from api.store.models import OffcutRow
from api.web.problems import Problem
from nesting.domain.material import Part
from nesting.domain.stock import EndState, Offcut
from nesting.errors import ProblemError
from nesting.stockroom import rack
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.states import State, StockConflict

WHY = "Say why; it stands in the history."


class Act(StrEnum):
    """A button on an offcut's page."""

    COUNT = "count"
    MOVE = "move"
    CORRECT = "correct"
    QUARANTINE = "quarantine"
    RESTORE = "restore"
    SCRAP = "scrap"
    LOSE = "lose"
    FIND = "find"


def acts_for(state: State) -> tuple[Act, ...]:
    """Give what can be done with an offcut that stands so; what a plan has is reported at its bar."""
    return {
        State.FREE: (Act.COUNT, Act.MOVE, Act.CORRECT, Act.QUARANTINE, Act.SCRAP, Act.LOSE),
        State.RESERVED: (Act.COUNT, Act.MOVE),
        State.QUARANTINED: (Act.COUNT, Act.MOVE, Act.CORRECT, Act.RESTORE, Act.SCRAP, Act.LOSE),
        State.LOST: (Act.FIND,),
    }.get(state, ())


def add_offcut(session: Session, answers: Answers, by: str, now: int) -> str | None:
    """
    Put a measured offcut on the rack; give its tag.

    Returns
    -------
    None when something is not understood; then nothing has happened and ``answers.errors`` says why.
    """
    tag = answers.text("tag")
    if not re.fullmatch(TAG_PATTERN, tag):
        said = "up to 64 letters, digits, dots, dashes or underscores, beginning with a letter or digit"
        answers.errors["tag"] = f"A tag is needed: {said}."
    family = answers.word("family", "Say of which family the channel is.")
    length = answers.length("length", "Measure it; a length is needed.")
    words = {name: answers.word(name) for name in ("finish", "lot", "place", "reason")}
    value, born = answers.money("value"), answers.day("born")
    if answers.errors or length is None:
        return None
    offcut = Offcut(
        tag=tag,
        family=family,
        finish=words["finish"],
        part=answers.choice("part", Part, Part.CHANNEL),
        length=length,
        left=answers.choice("left", EndState, EndState.CLEAN),
        right=answers.choice("right", EndState, EndState.RAW),
        lot=words["lot"],
        place=words["place"],
        value=value,
        born=born,
    )
    try:
        receive(session, offcut, words["reason"], by, now)
    except Problem as why:
        answers.errors["born" if why.name == "born-later" else "tag"] = why.detail
        return None
    return tag


def do(session: Session, tag: str, act: Act, answers: Answers, by: str, now: int) -> bool:
    """
    Do one thing with an offcut.

    Returns
    -------
    Whether it was done; if not, nothing has happened and ``answers.errors`` says why, under ``act``
    where no field is to blame.

    Raises
    ------
    Problem
        When there is no such tag.
    """
    row = get_offcut(session, tag, lock=True)
    if answers.text("version") != str(row.version):
        answers.errors["act"] = "Somebody has changed it since you looked; this is how it stands now."
        return False
    if act not in acts_for(State(row.state)):
        answers.errors["act"] = f"{tag} is {state_words(State(row.state))}; that cannot be done with it."
        return False
    move = _move(act, row, answers)
    if answers.errors or move is None:
        return False
    try:
        change(session, row, move, by, now)
    except (StockConflict, ProblemError) as why:
        answers.errors["act"] = str(why)
        return False
    return True


def _move(act: Act, row: OffcutRow, answers: Answers) -> Callable[[Tagged], Move] | None:
    """Give the stockroom's move for an act; None where the form is not complete."""
    if act is Act.COUNT:
        return _counting(answers)
    if act is Act.FIND:
        found = answers.length("length", "Measure it; a length is needed.")
        why = answers.word("reason", WHY)
        return None if found is None else lambda tagged: rack.find(tagged, found, reason=why)
    if act in (Act.MOVE, Act.CORRECT):
        return _correcting(act, row, answers)
    reason = answers.word("reason", WHY)
    plain = {
        Act.QUARANTINE: rack.quarantine,
        Act.RESTORE: rack.restore,
        Act.SCRAP: rack.scrap,
        Act.LOSE: rack.lose,
    }
    return lambda tagged: plain[act](tagged, reason=reason)


def _counting(answers: Answers) -> Callable[[Tagged], Move]:
    measured = answers.length("length")
    reason = answers.word("reason") or "count"

    def count(tagged: Tagged) -> Move:
        if measured is None or (measured == tagged.offcut.length and tagged.state.held):
            return rack.seen(tagged, reason=reason)
        return rack.measure(tagged, measured, reason=reason)

    return count


def _correcting(act: Act, row: OffcutRow, answers: Answers) -> Callable[[Tagged], Move]:
    offcut = tagged_of(row).offcut
    place = answers.word("place")
    if act is Act.MOVE:
        moved, reason = replace(offcut, place=place), answers.word("reason") or "moved"
    else:
        moved = replace(
            offcut,
            place=place,
            lot=answers.word("lot"),
            left=answers.choice("left", EndState, offcut.left),
            right=answers.choice("right", EndState, offcut.right),
            value=answers.money("value"),
        )
        reason = answers.word("reason", WHY)
    return lambda tagged: rack.correct(tagged, moved, reason=reason)
