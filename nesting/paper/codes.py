"""The machine-readable code of a label; its plain text always stands beside it."""

from __future__ import annotations

from functools import lru_cache

import segno

from nesting.paper.masks import best_masked

# Modules a side beyond which a label's code is too fine for an office printer and a hand scanner.
_FINEST = 45


@lru_cache(maxsize=1 << 12)
def code_rows(content: str) -> tuple[bytes, ...] | None:
    """
    Give the dark and light modules of a QR code (ISO/IEC 18004), error correction M, without quiet zone.

    Returns
    -------
    Square of rows, 1 for dark; None when the content is too long to be printed legibly on a label.
    """
    try:
        code = segno.make_qr(content, error="m", boost_error=False, mask=0)
    except segno.DataOverflowError:
        return None
    rows = tuple(bytes(row) for row in code.matrix)
    return best_masked(rows, int(code.version)) if len(rows) <= _FINEST else None


def code_text(identity: str, plan_id: str) -> str:
    """Give what a label's code says: what it is, one space, and the plan it belongs to."""
    return f"{identity} {plan_id}"
