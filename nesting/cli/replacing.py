"""Which files a command may replace without being told to: plans of ours that hold nothing else."""

from __future__ import annotations

import json
from pathlib import Path


def exists_already(path: Path) -> str:
    """Say of any file that it exists, for what is filled in by hand and never made a second time."""
    return "The file exists already"


def workbook_kept(path: Path) -> str:
    """
    Say why a workbook must not be replaced; empty when nothing is lost with it.

    Nothing is lost with an empty file, and with a plan or a comparison that can be made once more.
    """
    from nesting.sheets.filled_in import Holds, holds

    if not path.stat().st_size:
        return ""
    found = holds(path)
    if found is Holds.REPORT:
        return "Its Shop report is filled in, which would be lost"
    return "The file exists and is no plan or comparison" if found is Holds.OTHER else ""


def document_kept(path: Path, *, follows: str = "") -> str:
    """
    Say why a JSON file must not be replaced; empty when nothing is lost with it.

    A plan made after a report from the shop is what is known of the bars already cut.

    Parameters
    ----------
    follows
        Id of the plan that the new one continues; what continues it too is the same step, made before.
    """
    if not path.stat().st_size:
        return ""
    try:
        tree = json.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        tree = None
    if not isinstance(tree, dict) or "groups" not in tree:
        return "The file exists and is no plan"
    if tree.get("revision") and not (follows and tree.get("follows") == follows):
        return "It is a plan made after a report from the shop, which would be lost"
    return ""
