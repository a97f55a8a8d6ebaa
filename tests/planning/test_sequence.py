"""Order of the cuts inside one bar."""

from nesting.domain.rules import SawRules
from nesting.planning.sequence import cut_order, held_cuts
from nesting.units import mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))


def test_short_pieces_come_first_where_longest_first_cannot_be_held() -> None:
    """Bar 2500, pieces 2300, 60, 60: long first is unsafe (common practice, no source)."""
    lengths = [mm(2300), mm(60), mm(60)]
    # 2500 - 8 - 2303 = 189, - 63 = 126, - 63 = 63: the second and third cut leave too little
    assert held_cuts(lengths, mm(2500), mm(8), SAW) == (True, False, False)
    order = cut_order(lengths, mm(2500), mm(8), SAW)
    assert [lengths[i] for i in order] == [mm(60), mm(60), mm(2300)]
    # 2429 and 2366 are left behind the short ones, the long one is held itself
    assert held_cuts([lengths[i] for i in order], mm(2500), mm(8), SAW) == (True, True, True)


def test_longest_first_where_every_cut_can_be_held() -> None:
    """A spoiled long piece can still become a short one, so long ones come first when that is safe."""
    lengths = [mm(400), mm(900), mm(400), mm(600)]
    assert cut_order(lengths, mm(2500), mm(8), SAW) == (1, 3, 0, 2)


def test_an_order_that_cannot_be_safe_is_told() -> None:
    """Two 60 mm pieces on a 200 mm offcut leave less than the grip whatever the order."""
    assert held_cuts([mm(60), mm(60)], mm(200), mm(0), SAW) == (False, False)
