"""Loops in machine code that is kept on disk, and made anew when a loop that they call has changed."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import numba

Loop = Callable[..., Any]


def machine_code(*calls: Loop) -> Callable[[Loop], Loop]:
    """
    Give a decorator that has a loop run as machine code, kept beside its source for the next process.

    The compiler tells from a loop's own file whether what it kept still holds, but keeps a copy of the
    loops that it calls with it; a change to one of those in another file would go unseen. So what they
    read becomes part of the name under which the machine code is kept.

    Parameters
    ----------
    calls
        Loops of other modules that the decorated one calls; what these call in turn is seen to.
    """

    def translate(loop: Loop) -> Loop:
        try:
            if calls:
                loop.__qualname__ = f"{loop.__qualname__}_{_fingerprint(calls)}"
            return numba.njit(cache=True)(loop)  # type: ignore[no-any-return]
        except (RuntimeError, OSError):  # nowhere to keep it, or no source: an installation as it came
            return numba.njit(loop)  # type: ignore[no-any-return]

    return translate


def _fingerprint(calls: tuple[Loop, ...]) -> str:
    """Give a short checksum of the files of some loops, and of the names that tell what those call."""
    told = sha256()
    for call in calls:
        source = inspect.unwrap(getattr(call, "py_func", call))
        told.update(source.__qualname__.encode())
        told.update(Path(inspect.getfile(source)).read_bytes())
    return told.hexdigest()[:12]
