"""Names for new rows."""

from __future__ import annotations

import secrets

from api.store.engine import microseconds


def new_id() -> str:
    """Give 32 hexadecimal digits that no other row has, sorting by the time they were given."""
    return f"{microseconds() // 1000:012x}{secrets.token_hex(10)}"
