"""``python -m benchmarks.service load | kill | crowd | uploads``; ``-h`` after each lists its options."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from benchmarks.service.databases import MISSING, fresh_database, postgres_server

Suite = Callable[[str, argparse.Namespace], int]


def main(arguments: list[str] | None = None) -> int:
    """Run one suite on one database; gives 0 when everything held, 1 when a promise was broken."""
    parser = argparse.ArgumentParser(prog="benchmarks.service", description=__doc__)
    suites = parser.add_subparsers(required=True, metavar="SUITE")
    load = suites.add_parser("load", help="latency of small plans and of reading, draining a queue")
    load.add_argument("--seconds", type=float, default=30.0, help="length of each measurement")
    load.add_argument("--plans", type=int, default=500, help="plans to queue")
    load.set_defaults(run=_load)
    killing = suites.add_parser("kill", help="kill -9 at many points, then check every promise")
    killing.add_argument("--kills", type=int, default=50)
    killing.add_argument("--seed", type=int, default=0)
    killing.set_defaults(run=_kill)
    for suite in (load, killing):
        suite.add_argument("--database", default="sqlite", help="sqlite, postgresql (a private one) or a URL")
    options = parser.parse_args(arguments)
    run: Suite = options.run
    with _database(options.database) as url:
        return run(url, options)


def _load(url: str, options: argparse.Namespace) -> int:
    from benchmarks.service.load import run

    _say(*run(url, seconds=options.seconds, plans=options.plans))
    return 0


def _kill(url: str, options: argparse.Namespace) -> int:
    from benchmarks.service.kill import run

    outcome = run(url, kills=options.kills, seed=options.seed)
    _say(
        f"{sum(outcome.kills.values())} kills: "
        + ", ".join(f"{count} x {name}" for name, count in sorted(outcome.kills.items())),
        f"{len(outcome.accepted)} plans accepted: "
        + ", ".join(f"{count} {state}" for state, count in sorted(outcome.states.items())),
        f"{outcome.bars} bars reported, {outcome.refused} releases refused for conflicts",
        *(f"BROKEN: {one}" for one in outcome.broken),
        "every promise held" if not outcome.broken else f"{len(outcome.broken)} promise(s) broken",
    )
    return 1 if outcome.broken else 0


@contextmanager
def _database(wanted: str) -> Iterator[str]:
    if wanted == "sqlite":
        with tempfile.TemporaryDirectory() as folder:
            yield f"sqlite:///{Path(folder) / 'nesting.sqlite3'}"
    elif wanted == "postgresql":
        with postgres_server() as server:
            if server is None:
                raise SystemExit(MISSING)
            with fresh_database(server) as url:
                yield url
    else:
        yield wanted


def _say(*lines: str) -> None:
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    raise SystemExit(main())
