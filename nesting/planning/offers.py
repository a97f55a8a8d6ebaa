"""What a spoiled piece can still become: "this 612 can become piece X"."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.domain.stock import Offcut
from nesting.planning.standing import KeptBar, Standing
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class Choice:
    """An open piece that a spoiled one can become, and what would be left after its stroke."""

    piece: str
    length: Length
    left: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoiledOffer:
    """
    One spoiled piece.

    Parameters
    ----------
    piece, bar
        What it should have been, and the bar it came from.
    tag, length
        What it is called now and what came out.
    choices
        Every open piece it can still become, longest first.
    becomes
        The pieces that the new plan cuts from it; empty when it is kept, or thrown away.
    """

    piece: str
    bar: int
    tag: str
    length: Length
    choices: tuple[Choice, ...]
    becomes: tuple[str, ...]


def spoiled_offers(
    standing: Standing, pieces: Mapping[str, Piece], bars: Sequence[KeptBar]
) -> Iterator[SpoiledOffer]:
    """
    Offer every spoiled piece to every open piece: same family, finish, part and lot, and no longer.

    A shorter piece costs a stroke; a mitred end has to be cut square first.

    Parameters
    ----------
    pieces
        Every piece of the plan by its id.
    bars
        Every bar of the new plan.
    """
    rack = {offcut.tag: offcut for offcut in standing.request.offcuts}
    open_ids = [cut.piece for one in standing.open for cut in one.bar.cuts]
    wanted = [*(pieces[name] for name in open_ids), *standing.back]
    cut_from = {one.bar.source: one.bar for one in bars}
    for kept in standing.kept:
        for one in kept.bar.spoiled:
            if one.tag not in standing.spoiled or one.length is None:
                continue
            offcut = rack[one.tag]
            saw = standing.request.saw_for(kept.material.part)
            head, tail = offcut.losses(saw)
            choices = {}
            for piece in wanted:
                rest = offcut.length - head - piece.length
                if _may_become(offcut, piece.material) and rest >= tail and not piece.mitred:
                    left = Length(max(rest - saw.kerf, NO_LENGTH))
                    choices[piece.id] = Choice(piece.id, piece.length, left)
            bar = cut_from.get(one.tag)
            yield SpoiledOffer(
                piece=one.piece,
                bar=kept.bar.number,
                tag=one.tag,
                length=one.length,
                choices=tuple(sorted(choices.values(), key=lambda c: (-c.length, c.piece))),
                becomes=tuple(cut.piece for cut in bar.cuts) if bar else (),
            )


def _may_become(offcut: Offcut, material: Material) -> bool:
    same = (offcut.family, offcut.finish, offcut.part) == (material.family, material.finish, material.part)
    return same and (not material.lot or offcut.lot == material.lot)
