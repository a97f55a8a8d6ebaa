"""The bags of small parts, unit by unit."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.demo import tables
from nesting.domain.plan import Plan
from nesting.domain.runs import Place
from nesting.reports.bags import bag_rows, unit_bags, unit_key
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Plan two flats of the demo building: one with a mitred cove, one without."""
    path = tmp_path_factory.mktemp("demo") / "runs.xlsx"
    write_template(path, tables())
    whole = read_request(path)
    runs = tuple(
        run for run in whole.runs if run.job == "Orrelbeck Yard" and run.place.unit in ("101", "102")
    )
    return plan_request(replace(whole, runs=runs), Limits(processes=1))


def test_the_bags_add_up_to_the_plan(plan: Plan) -> None:
    """Nothing is laid out that goes into no bag, and nothing twice."""
    assert plan.small_parts is not None
    caps: Counter[object] = Counter()
    clips: Counter[object] = Counter()
    strip = 0
    for bag in unit_bags(plan).values():
        caps.update({cap.kind: cap.count for cap in bag.caps})
        clips.update({(one.family, one.finish): one.count for one in bag.clips})
        strip += sum(line.length for line in bag.strips)
    assert caps == Counter({cap.kind: cap.count for cap in plan.small_parts.caps})
    assert clips == Counter({(one.family, one.finish): one.count for one in plan.small_parts.clips})
    assert strip == sum(line.length for line in plan.small_parts.strips)


def test_a_bag_holds_its_own_unit_only(plan: Plan) -> None:
    """Every end with a cap puts one cap into its own flat's bag."""
    bags = unit_bags(plan)
    for key, bag in bags.items():
        runs = [run for run in plan.request.runs if unit_key(run.job, run.place) == key]
        ends = sum(run.quantity * end.value.endswith("cap") for run in runs for end in (run.left, run.right))
        assert sum(cap.count for cap in bag.caps) == ends
    assert len(bags) == 2


def test_electrical_advice_goes_into_no_bag(plan: Plan) -> None:
    """A packer who reads watts looks for something to pack."""
    rows = [row for bag in unit_bags(plan).values() for row in bag_rows(bag)]
    assert {"cap", "clip", "connector", "strip"} <= {row.part for row in rows}
    assert not {"load", "driver"} & {row.part for row in rows}
    assert all(row.count or row.amount for row in rows)


def test_plans_that_count_no_small_parts_have_no_bags(plan: Plan) -> None:
    """An older plan still prints its pack lists."""
    assert unit_bags(replace(plan, small_parts=None)) == {}
    assert unit_key("J", Place(building="B", floor="3", unit="305")) == ("J", "B", "3", "305")
