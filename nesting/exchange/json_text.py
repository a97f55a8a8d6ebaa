"""JSON read so that no digit and no key is lost (RFC 8259)."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import NoReturn

from nesting.errors import Finding, InputRefused, Severity, Where

# Longest run of digits before and behind the point; a float's own digits end before the latter.
_MOST_WHOLE, _MOST_DECIMALS = 40, 400


class _Repeated(dict[str, object]):
    """An object some of whose keys were given twice; ``keys_twice`` names them."""

    keys_twice: tuple[str, ...] = ()


def read_tree(text: str, source: str) -> tuple[object, list[Finding]]:
    """
    Read a JSON text into plain values; numbers with a fraction become decimals, never floats.

    Returns
    -------
    The values, and one finding for each key given twice and each text that is no Unicode.

    Raises
    ------
    InputRefused
        When the text is no JSON.
    """
    try:
        tree = json.loads(
            text, parse_float=_number, parse_int=_number, parse_constant=_constant, object_pairs_hook=_object
        )
    except json.JSONDecodeError as why:
        raise _refused(source, f"line {why.lineno}, column {why.colno}", why.msg) from why
    except RecursionError as why:
        raise _refused(source, "", "lists and objects are nested too deeply") from why
    except _NoJson as why:
        raise _refused(source, "", str(why)) from why
    return tree, list(_faults(tree, source, ""))


def write_tree(tree: object) -> str:
    """Write plain values as JSON text (RFC 8259): UTF-8 letters as they are, keys in the given order."""
    return json.dumps(tree, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def pointer(*steps: str | int) -> str:
    """Give the JSON pointer of a place, e.g. ``/runs/3/length`` (RFC 6901)."""
    return "".join("/" + str(step).replace("~", "~0").replace("/", "~1") for step in steps)


class _NoJson(ValueError):
    """A number or name that JSON text may not hold, or that nobody could have meant."""


def _number(literal: str) -> int | Decimal:
    try:
        value = Decimal(literal)
    except InvalidOperation as why:
        raise _NoJson(f"the number {literal[:60]} is out of all range") from why
    if value and not -_MOST_DECIMALS < value.adjusted() < _MOST_WHOLE:
        raise _NoJson(f"the number {literal[:60]} is out of all range")
    whole = int(value)
    return whole if value == whole else value


def _constant(name: str) -> NoReturn:
    raise _NoJson(f"{name} is no JSON number")


def _object(pairs: list[tuple[str, object]]) -> dict[str, object]:
    made = dict(pairs)
    if len(made) == len(pairs):
        return made
    repeated = _Repeated(made)
    keys = [key for key, _ in pairs]
    repeated.keys_twice = tuple(dict.fromkeys(key for key in keys if keys.count(key) > 1))
    return repeated


def _faults(value: object, source: str, place: str) -> Iterator[Finding]:
    if isinstance(value, str) and not _writable(value):
        yield _fault(
            "not-a-text", source, place, ascii(value)[:60], "Half a pair of surrogates is no letter."
        )
    elif isinstance(value, list):
        for position, inner in enumerate(value):
            yield from _faults(inner, source, place + pointer(position))
    elif isinstance(value, dict):
        for key in value.keys_twice if isinstance(value, _Repeated) else ():
            message = "This key is given twice; only one can be meant."
            yield _fault("key-twice", source, place + pointer(key), key, message)
        for key, inner in value.items():
            if not _writable(key):
                yield _fault("not-a-text", source, place, ascii(key)[:60], "This key is no Unicode text.")
            else:
                yield from _faults(inner, source, place + pointer(key))


def _writable(text: str) -> bool:
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)


def _refused(source: str, at: str, message: str) -> InputRefused:
    return InputRefused((_fault("not-json", source, at, "", f"This is no JSON text: {message}."),))


def _fault(code: str, source: str, at: str, found: str, message: str) -> Finding:
    return Finding(severity=Severity.ERROR, code=code, where=Where(source, at), found=found, message=message)
