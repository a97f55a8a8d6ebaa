"""What to do about a finding, in the words of the way in: a command's options help nobody else."""

from __future__ import annotations

Words = tuple[tuple[str, str], ...]
"""What the reader of lists says to whoever typed a command, and what is said instead."""

HTTP: Words = (
    ("or give --unit mm", "or say list_unit=mm in the query"),
    ("or give --unit in", "or say list_unit=in in the query"),
    (
        "Name one with --bar '6000 mm=18.60', add a Stock sheet to the list, or give a workbook that has one "
        "with --catalogue.",
        "Add a Stock sheet to the list, send a workbook that has one in the form's field named catalogue, or "
        "keep lengths here (POST /v1/stock).",
    ),
)
PAGES: Words = (
    ("or give --unit mm", "or choose the unit of bare numbers below"),
    ("or give --unit in", "or choose the unit of bare numbers below"),
    ("Name one with --bar '6000 mm=18.60', add", "Name one below under Bars on offer, add"),
    ("name it in the Saw sheet, such as", "name it in the Saw sheet or under Currency below, such as"),
    ("or give a workbook that has one with --catalogue", "or keep lengths in the service's own stock"),
)


def worded(message: str, words: Words) -> str:
    """Give a finding's message in the words of another way in."""
    for theirs, ours in words:
        message = message.replace(theirs, ours)
    return message
