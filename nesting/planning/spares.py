"""Spare pieces that the tails give at no extra bar: what is likely to be cut again, cut in advance."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from nesting.domain.buying import Spares
from nesting.domain.plan import PlannedBar, SpareCut, TailFate
from nesting.domain.rules import SawRules
from nesting.units import Length


def spares_from_tails(bars: Sequence[PlannedBar], saw: SawRules, spares: Spares) -> tuple[SpareCut, ...]:
    """
    Give the spare pieces to be cut from tails, bar by bar.

    Of every length one spare is wanted, or the reserve's share of its pieces if that is more; the
    lengths cut most often come first. A spare is taken from the shortest tail that holds it, from
    scrap before offcuts. It needs its length, the bar's tail loss behind it, and nothing else: the
    stroke that frees the last piece is made anyway.
    """
    if not spares.from_tails:
        return ()
    counts = Counter(cut.length for bar in bars for cut in bar.cuts if not bar.state.cut)
    room = {
        bar.number: bar.tail - bar.tail_loss for bar in bars if not bar.state.cut and bar.tail > bar.tail_loss
    }
    scrap = {bar.number for bar in bars if bar.fate is TailFate.SCRAP}
    found: list[SpareCut] = []
    for length, count in sorted(counts.items(), key=lambda item: (-item[1], -item[0])):
        for _ in range(max(1, spares.reserve(count) if spares.share else 1)):
            holds = [number for number, left in room.items() if left >= length]
            if not holds:
                break
            number = min(holds, key=lambda n: (n not in scrap, room[n], n))
            room[number] -= length + saw.kerf
            found.append(SpareCut(number, Length(length)))
    return tuple(sorted(found, key=lambda spare: (spare.bar, -spare.length)))
