"""Strip nested on reels, one group an article."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from nesting.domain.material import Family
from nesting.domain.pieces import StripCut
from nesting.domain.reels import PlannedReel, ReelCut, ReelPlan
from nesting.domain.request import Request
from nesting.solver.solve import solve
from nesting.stop import NEVER, Stop
from nesting.takeoff.reels import cuts_at_solder_joints, marks_on, reel_problem
from nesting.takeoff.small_parts import strip_article
from nesting.units import Length

_MOST_ORDERED = 12  # 2^12 sets of pieces; a reel with more is cut in the order of its lengths


@dataclass(frozen=True, slots=True)
class Article:
    """What makes two families' strips the same article."""

    strip: str
    pitch: Fraction
    reel: Length
    solder_every: Length | None
    reach: Length


def plan_reels(
    request: Request, strips: Sequence[StripCut], *, seed: int = 0, stop: Stop = NEVER
) -> tuple[ReelPlan, ...]:
    """
    Cut every article's strip from the fewest reels; families that name no reel are left out.

    Parameters
    ----------
    strips
        The request's take-off; each fixture's pieces are those of ``parts``.
    """
    families = {(run.job, run.id): request.family(run.family) for run in request.runs}
    articles: defaultdict[Article, list[ReelCut]] = defaultdict(list)
    for strip in strips:
        article = article_of(families.get((strip.job, strip.run)))
        if article is not None:
            articles[article].extend(pieces_of(strip))
    return tuple(
        _planned(article, cuts, seed, stop)
        for article, cuts in sorted(articles.items(), key=lambda item: (item[0].strip, item[0].pitch))
    )


def article_of(family: Family | None) -> Article | None:
    """Give the article of a family's strip; None when it has none, or nothing is said of its reel."""
    if family is None or family.strip_pitch is None or family.strip_reel is None:
        return None
    return Article(
        strip_article(family), family.strip_pitch, family.strip_reel, family.strip_solder, family.strip_reach
    )


def pieces_of(strip: StripCut) -> Iterator[ReelCut]:
    """Give every piece of a run's strip, fixture by fixture, from the left."""
    for copy in range(1, strip.quantity + 1):
        for part, marks in enumerate(strip.parts or (strip.marks,), 1):
            yield ReelCut(job=strip.job, run=strip.run, copy=copy, part=part, marks=marks)


def clear_order(
    marks: Sequence[int], pitch: Fraction, solder_every: Length | None, reach: Length
) -> tuple[int, ...]:
    """
    Order the pieces of one reel so that the fewest cuts meet a factory solder joint.

    Where every cut is soldered anyway (no reach), and on reels of many pieces, the order stays.

    Returns
    -------
    Indices into ``marks``.
    """
    if solder_every is None or not reach or not 1 < len(marks) <= _MOST_ORDERED:
        return tuple(range(len(marks)))
    return _clear_order(tuple(marks), pitch, solder_every, reach)


@lru_cache(maxsize=4096)
def _clear_order(
    marks: tuple[int, ...], pitch: Fraction, solder_every: Length, reach: Length
) -> tuple[int, ...]:
    # Set of pieces already off -> (cuts at joints so far, their order); where the next cut falls
    # depends on the set alone.
    best: dict[int, tuple[int, tuple[int, ...]]] = {0: (0, ())}
    for _ in marks:
        longer: dict[int, tuple[int, tuple[int, ...]]] = {}
        for off, (met, order) in best.items():
            at = sum(marks[i] for i in order)
            for following, piece in enumerate(marks):
                if off >> following & 1:
                    continue
                hits = len(cuts_at_solder_joints((at + piece,), pitch, solder_every, reach))
                candidate = (met + hits, (*order, following))
                known = longer.get(off | 1 << following)
                if known is None or candidate < known:
                    longer[off | 1 << following] = candidate
        best = longer
    ((_, order),) = best.values()
    return order


def _planned(article: Article, cuts: Sequence[ReelCut], seed: int, stop: Stop) -> ReelPlan:
    marks = marks_on(article.reel, article.pitch)
    problem = reel_problem((cut.marks for cut in cuts), marks, name=f"{article.strip} strip")
    result = solve(problem, seed=seed, stop=stop)
    waiting: dict[int, deque[ReelCut]] = {length: deque() for length in problem.lengths}
    for cut in cuts:
        waiting[cut.marks].append(cut)
    reels: list[PlannedReel] = []
    for use in sorted(result.best.uses, key=lambda use: use.pieces):
        lengths = [int(problem.lengths[i]) for i, count in use.pieces for _ in range(count)]
        order = clear_order(lengths, article.pitch, article.solder_every, article.reach)
        for _ in range(use.times):
            taken = tuple(waiting[lengths[i]].popleft() for i in order)
            reels.append(PlannedReel(number=len(reels) + 1, cuts=taken, rest=marks - sum(lengths)))
    return ReelPlan(
        strip=article.strip,
        pitch=article.pitch,
        reel=article.reel,
        marks=marks,
        solder_every=article.solder_every,
        reach=article.reach,
        reels=tuple(reels),
        bound=result.bound,
        ended=result.ended,
        certificate=result.certificate,
    )
