"""End caps by family, finish, hand and hole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable

from nesting.domain.runs import EndCondition, Run
from nesting.domain.small_parts import CapCount, CapKind, Hand


def caps_of(runs: Iterable[Run], *, handed: Collection[str] = ()) -> tuple[CapCount, ...]:
    """
    Count the caps of runs, all copies, sorted by kind.

    Ends with a joint, a mitre or bare to the wall take none.

    Parameters
    ----------
    handed
        Names of the families whose left cap does not fit the right end.
    """
    counts: Counter[CapKind] = Counter()
    for run in runs:
        for end, hand in ((run.left, Hand.LEFT), (run.right, Hand.RIGHT)):
            if end.capped:
                kind = CapKind(
                    run.family,
                    run.finish,
                    hand if run.family in handed else Hand.NONE,
                    end is EndCondition.HOLED_CAP,
                )
                counts[kind] += run.quantity
    return tuple(CapCount(kind, count) for kind, count in sorted(counts.items()))
