"""End caps by family, finish, hand and hole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable

from nesting.domain.electrics import Feed
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


def ends_for_feed(feed: Feed) -> tuple[EndCondition, EndCondition]:
    """
    Give the left and right cap of a run of its own that is fed this way.

    A terminal run has one holed and one solid cap, a through-feed or one fed at both ends two holed
    ones, a back exit two solid ones.
    """
    holed_left = feed in (Feed.LEFT, Feed.BOTH, Feed.THROUGH)
    holed_right = feed in (Feed.RIGHT, Feed.BOTH, Feed.THROUGH)
    return (
        EndCondition.HOLED_CAP if holed_left else EndCondition.SOLID_CAP,
        EndCondition.HOLED_CAP if holed_right else EndCondition.SOLID_CAP,
    )
