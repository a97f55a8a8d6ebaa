"""Bars of mitred pieces as they are sawn: spans, strokes and metal, each audited by other geometry."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.plan import GroupPlan
from nesting.planning.mitred_bar import laid_slivers
from nesting.planning.settle import settle
from nesting.units import mm
from tests.planning.mitred_shop import F45, FAMILY, SAW, group_of, leg, planned


def span(group: GroupPlan) -> list[int]:
    """Give tip to tip of each bar: what lies between the first clean face and the last tip."""
    return [
        bar.length - bar.head - bar.tail - 3_000_000  # the last face of every such bar is square
        for bar in group.bars
    ]


def test_a_pair_of_one_unit_does_not_share_its_cut() -> None:
    """2839 and 1959 with the two faces of one corner: 4802.24, two strokes between them."""
    _, group = planned(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", left=Mitre(F45)))
    (bar,) = group.bars
    assert span(group) == [4_802_242_641]
    # Trim, two between the slopes, one behind the last.
    assert bar.strokes == 4
    assert {cut.long_point for cut in bar.cuts} == {mm(2839), mm(1959)}


def test_a_pair_of_mirrored_units_does() -> None:
    """The long leg of one hand and the short leg of the other share a stroke: 4772.24."""
    _, group = planned(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)))
    (bar,) = group.bars
    assert span(group) == [4_772_242_641]
    assert bar.strokes == 3
    first, second = bar.cuts
    assert first.slope_end == second.slope_start != 0
    assert [first.turned, second.turned].count(True) == 1
    # Metal on the centre line: 2824 + 1944, the stroke between them 3 sqrt 2.
    assert group.totals.good == mm(4768)
    assert group.totals.used == sum(
        (group.totals.good, group.totals.kerf, group.totals.trim, group.totals.returned, group.totals.scrap)
    )


def test_an_asymmetric_section_is_never_turned() -> None:
    """The same pair on a handed section cannot share: turned, it would be the other hand."""
    handed = replace(FAMILY, symmetric=False)
    _, group = planned(
        leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)), family=handed
    )
    assert not any(cut.turned for bar in group.bars for cut in bar.cuts)
    # Unturned, "| \\" before "| \\": a square start behind a slope leaves a wedge of w/2 = 15.
    assert span(group)[0] > 4_772_242_641


def test_three_trapezoids_save_sixty_millimetres() -> None:
    """3 x 600, w 30, k 3: 1748.49 end to end, every second one turned; 1808.49 the same way round."""
    trapezoid = leg("t", "600", left=Mitre(F45), right=Mitre(F45), n=3)
    _, group = planned(trapezoid, bar="1772")
    # 8 + 1.242641 + 1748.485282 + 1.242641 + 8 = 1766.97: one bar of 1772 holds what 1808 would not.
    (bar,) = group.bars
    # Trim, two shared, one behind the last.
    assert bar.strokes == 4
    _, handed = planned(trapezoid, bar="1772", family=replace(FAMILY, symmetric=False))
    assert len(handed.bars) == 2


def test_standing_mitres_share_inside_with_outside() -> None:
    """Turning a standing piece negates its slope, so equal pieces never share, but opposite corners do."""
    inside = Mitre(F45, plane=MitrePlane.STANDING)
    outside = Mitre(F45, outside=True, plane=MitrePlane.STANDING)
    _, equal = planned(leg("a", "1000", right=inside), leg("b", "1000", right=inside))
    _, mixed = planned(leg("a", "1000", right=inside), leg("b", "1000", right=outside))
    assert mixed.bars[0].strokes == equal.bars[0].strokes - 1


def test_slivers_are_counted_as_the_bars_are_laid() -> None:
    """The count that the ban on slivers asks for is the one of the finished bars, none or one here."""
    runs = [leg(f"R{n}", "240", right=Mitre(F45)) for n in range(2)]
    saw = replace(SAW, tail_loss=mm(0), head_trim=mm(0))
    seen = set()
    for bar in range(455, 475):
        _, made = planned(*runs, bar=str(bar), saw=saw)
        group = group_of(*runs, bar=str(bar), saw=saw)
        answer = settle(group)
        count = laid_slivers(answer.group, answer.result.best)
        assert count == sum(one.sliver for one in made.bars)
        seen.add(count)
    assert seen == {0, 1}
