"""Planning requests for load: small ones as a fitter sends them, large ones that keep a solver busy."""

from __future__ import annotations

import random

from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.exchange import write_request
from nesting.units import mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
FAMILY, FINISH = "TOLV-17N", "natural"
BARS = (2000, 2500, 3000)


def pieces_request(
    pieces: int, lengths: int, seed: int, *, job: str = "", bars: tuple[int, ...] = BARS, shortest: int = 250
) -> str:
    """Give a request for so many pieces of so many lengths, drawn with a seed."""
    draw = random.Random(seed)
    chosen = draw.sample(range(shortest, 1_900), lengths)
    counts = [1] * lengths
    for _ in range(pieces - lengths):
        counts[draw.randrange(lengths)] += 1
    lines = tuple(
        PieceLine(
            job=job or f"J{seed}", id=f"L{i}", family=FAMILY, finish=FINISH, quantity=n, length=mm(length)
        )
        for i, (length, n) in enumerate(zip(chosen, counts, strict=True), 1)
    )
    stock = tuple(StockLine(family=FAMILY, finish=FINISH, length=mm(bar)) for bar in bars)
    return write_request(Request(title=f"load {seed}", piece_lines=lines, stock=stock, saw=SAW))
