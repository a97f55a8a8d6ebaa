"""Lists a page at a time, with links to the next one (RFC 8288)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, TypeVar

from fastapi import Query, Request, Response

Item = TypeVar("Item")

PageSize = Annotated[int, Query(alias="limit", ge=1, le=500, description="Most items of one page.")]


def one_page(
    items: Sequence[Item], limit: int, last: str | None, request: Request, response: Response
) -> list[Item]:
    """
    Cut a list that was fetched one item too long, and link to what follows.

    Parameters
    ----------
    last
        Where the next page begins: the cursor of the last item that is shown; None when there is none.
    """
    if len(items) > limit and last is not None:
        following = request.url.include_query_params(after=last)
        target = f"{following.path}?{following.query}"
        response.headers["Link"] = f'<{target}>; rel="next"'
    return list(items[:limit])
