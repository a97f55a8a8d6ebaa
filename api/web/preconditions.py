"""``ETag`` and ``If-Match`` (RFC 9110): nobody overwrites what they have not seen."""

from __future__ import annotations

from typing import Annotated

from fastapi import Header

from api.web.problems import Problem

IfMatch = Annotated[
    str | None, Header(alias="If-Match", description="The ETag you have seen, or * for any version.")
]


def etag(version: int) -> str:
    """Give the tag of a version."""
    return f'"v{version}"'


def require_match(if_match: str | None, version: int, *, needed: bool = True) -> None:
    """
    Make sure the caller has seen this version.

    Raises
    ------
    Problem
        When no tag is given where one is needed (428), or another version's (412).
    """
    if if_match is None:
        if needed:
            raise Problem(428, "precondition-needed", "Send If-Match with the ETag of what you have seen.")
        return
    tags = {tag.strip() for tag in if_match.split(",")}
    if "*" not in tags and etag(version) not in tags:
        raise Problem(412, "changed-meanwhile", "It has been changed since you looked; look again.")
