"""Order books made from a seed."""

from benchmarks.speed.orders import order_book


def test_a_book_holds_the_pieces_and_materials_asked_for() -> None:
    """103 pieces over 4 materials: 26, 26, 26 and 25."""
    book = order_book(materials=4, pieces=103, lengths=5)
    shares = [
        sum(line.quantity for line in book.piece_lines if line.family == family.name)
        for family in book.families
    ]
    assert shares == [26, 26, 26, 25]
    assert len({(line.family, line.length) for line in book.piece_lines}) == 20
    assert len({line.id for line in book.piece_lines}) == len(book.piece_lines)
    assert len(book.stock) == 4


def test_the_same_seed_gives_the_same_book() -> None:
    """Anybody can time the very same book."""
    assert order_book(materials=2, pieces=20, lengths=3) == order_book(materials=2, pieces=20, lengths=3)
