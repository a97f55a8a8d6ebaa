"""``python -m benchmarks quality | peers | speed | anytime | patterns | stacks | smoke``; ``-h``: options."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from benchmarks.registry import case_classes, named

_HERE = Path(__file__).resolve().parent
_INSTANCES = Path(os.environ.get("NESTING_INSTANCES") or _HERE.parent.parent / "shared" / "instances")
_RESULTS = _HERE / "results"


def main(arguments: list[str] | None = None) -> int:
    """Run one suite; gives 0 when it ran through, 1 when a smoke test failed, 2 when misused."""
    parser = _parser()
    options = parser.parse_args(arguments)
    try:
        code: int = options.run(options)
    except (ValueError, FileNotFoundError) as why:
        parser.error(str(why))
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="benchmarks", description=sys.modules["benchmarks"].__doc__)
    suites = parser.add_subparsers(required=True, metavar="SUITE")

    quality = suites.add_parser("quality", help="value, bound and proof on published classes")
    quality.add_argument("--classes", default="all", help=f"comma-separated: {', '.join(case_classes())}")
    quality.add_argument("--instances", type=Path, default=_INSTANCES, help="folder of instance files")
    quality.add_argument("--time-limit", type=float, default=60.0, help="seconds a case")
    quality.add_argument("--sample", type=int, help="about so many cases of each class, evenly spread")
    quality.add_argument("--seed", type=int, default=1)
    quality.add_argument("--revision", help="name of what is measured, where git cannot tell")
    quality.add_argument("--resume", action="store_true", help="skip cases done at this revision and limit")
    quality.add_argument("--fresh", action="store_true", help="a process of its own for each case")
    quality.add_argument("--out", type=Path, default=_RESULTS, help="folder for CSV and Markdown")
    quality.set_defaults(run=_quality)

    peers = suites.add_parser("peers", help="other general methods beside ours")
    peers.add_argument("--classes", default="shop,demo", help="classes of unlimited bars")
    peers.add_argument("--methods", default="all", help="comma-separated; others keep their rows")
    peers.add_argument("--time-limit", type=float, default=60.0, help="seconds a run")
    peers.add_argument("--instances", type=Path, default=_INSTANCES, help="folder of instance files")
    peers.add_argument("--sample", type=int, help="about so many cases of each class")
    peers.add_argument("--out", type=Path, default=_RESULTS, help="folder for the Markdown table")
    peers.set_defaults(run=_peers)

    speed = suites.add_parser("speed", help="whole tasks and growth with size")
    speed.add_argument(
        "--tasks",
        default="workbook,paper,group,book,book-one-process,large-book,large-book-one-process,scale",
        help="comma-separated",
    )
    speed.add_argument("--time-limit", type=float, default=120.0, help="seconds a solve or a batch")
    speed.add_argument("--out", type=Path, default=_RESULTS, help="folder for Markdown, CSV and SVG")
    speed.set_defaults(run=_speed)

    anytime = suites.add_parser("anytime", help="early answers, limits kept, stops heard, one plan a seed")
    anytime.add_argument("--classes", default="gi,ani,vscsp_hemmelmayr,vscsp_crainic", help="hard classes")
    anytime.add_argument("--instances", type=Path, default=_INSTANCES, help="folder of instance files")
    anytime.add_argument("--sample", type=int, default=2, help="about so many cases of each class")
    anytime.add_argument("--out", type=Path, default=_RESULTS, help="folder for the Markdown table")
    anytime.set_defaults(run=_anytime)

    patterns = suites.add_parser("patterns", help="fewer patterns on published plans")
    patterns.add_argument("--instances", type=Path, default=_INSTANCES, help="folder of instance files")
    patterns.add_argument("--rounds", type=int, default=45, help="parts laid out anew for each plan")
    patterns.add_argument("--sample", type=int, help="about so many plans, evenly spread")
    patterns.add_argument("--known", action="store_true", help="only plans with a known value")
    patterns.add_argument("--seed", type=int, default=0)
    patterns.add_argument("--out", type=Path, default=_RESULTS, help="folder for the Markdown table")
    patterns.set_defaults(run=_patterns)

    stacks = suites.add_parser("stacks", help="fewest open stacks on published instances")
    stacks.add_argument("--instances", type=Path, default=_INSTANCES, help="folder of instance files")
    stacks.add_argument("--max-nodes", type=int, default=200_000, help="steps of the search")
    stacks.add_argument("--out", type=Path, default=_RESULTS, help="folder for the Markdown table")
    stacks.set_defaults(run=_stacks)

    smoke = suites.add_parser("smoke", help="one tiny case of every class")
    smoke.set_defaults(run=_smoke)
    return parser


def _quality(options: argparse.Namespace) -> int:
    from benchmarks.quality.suite import run_quality

    run_quality(
        named(options.classes),
        instances=options.instances,
        out=options.out,
        time_limit=options.time_limit,
        sample=options.sample,
        resume=options.resume,
        fresh=options.fresh,
        seed=options.seed,
        revision=options.revision,
        say=_say,
    )
    return 0


def _peers(options: argparse.Namespace) -> int:
    from benchmarks.case import evenly
    from benchmarks.peers.compare import chosen, run_peers

    cases = tuple(
        case
        for case_class in named(options.classes)
        for case in evenly(case_class.load(options.instances), options.sample)
    )
    run_peers(cases, time_limit=options.time_limit, out=options.out, peers=chosen(options.methods), say=_say)
    return 0


def _speed(options: argparse.Namespace) -> int:
    from benchmarks.speed.suite import run_speed

    run_speed(tuple(options.tasks.split(",")), time_limit=options.time_limit, out=options.out, say=_say)
    return 0


def _anytime(options: argparse.Namespace) -> int:
    from benchmarks.anytime.suite import run_anytime
    from benchmarks.case import evenly

    problems = tuple(
        case.problem
        for case_class in (named(options.classes) if options.classes else ())
        for case in evenly(case_class.load(options.instances), options.sample)
    )
    findings = run_anytime(problems, out=options.out, say=_say)
    return 0 if all(finding.kept for finding in findings) else 1


def _patterns(options: argparse.Namespace) -> int:
    from benchmarks.second_goals.patterns import run_patterns
    from benchmarks.second_goals.read import pattern_cases

    cases = pattern_cases(options.instances)
    if options.known:
        cases = tuple(case for case in cases if case.best_known is not None)
    if options.sample is not None:
        cases = tuple(cases[i * len(cases) // options.sample] for i in range(options.sample))
    rows = run_patterns(cases, rounds=options.rounds, seed=options.seed, out=options.out, say=_say)
    return 1 if any(row.faults for row in rows) else 0


def _stacks(options: argparse.Namespace) -> int:
    from benchmarks.second_goals.read import stacks_cases
    from benchmarks.second_goals.stacks import run_stacks

    cases = stacks_cases(options.instances)
    rows = run_stacks(cases, max_nodes=options.max_nodes, out=options.out, say=_say)
    return 1 if any(row.value != row.best_known for row in rows) else 0


def _smoke(options: argparse.Namespace) -> int:
    from benchmarks.smoke import run_smoke

    failed = run_smoke(say=_say)
    _say(f"{len(case_classes())} classes, {len(failed)} failed")
    return 1 if failed else 0


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
