"""A form's fields as they were sent."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

MOST_FIELDS = 4000
"""A stocktake of a thousand offcuts has two fields each."""


async def read_form(request: Request) -> dict[str, str]:
    """Give the texts of a form by the names of their fields; files are not asked for here."""
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
        return {name: value for name, value in form.items() if isinstance(value, str)}


Filled = Annotated[dict[str, str], Depends(read_form)]
