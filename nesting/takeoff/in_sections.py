"""Runs longer than a bar, told before their joints are met at the bench; one zero too many makes one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from nesting.domain.material import Part
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.errors import Finding, Severity
from nesting.takeoff.rounding import sawn_channel
from nesting.takeoff.sections import NotMade, longest_sections, sections_of, whole_channel
from nesting.units import Length, Unit, length_text, mm_text

IN_SECTIONS = "run-in-sections"
"""Code of the findings."""
# One joint is often meant, as long as the list asks for it more than once; more joints deserve a look.
_USUAL = 2
_SECTIONS_SHOWN = 6


def runs_in_sections(request: Request) -> Iterator[Finding]:
    """Give a finding for each run of a request that is longer than a bar, as a reader of lists needs them."""
    longest = longest_sections(request, Part.CHANNEL)
    divided = []
    for run in request.runs:
        family = request.family(run.family)
        most = longest.get((run.family, run.finish))
        if family is None or run.mitres or most is None:
            continue
        whole = whole_channel(run, family)
        sawn = sawn_channel(whole, run.kind, request.saw.step)
        if sawn <= most:
            continue
        try:
            sections = tuple(sections_of(run, family, request, whole, sawn, most))
        except NotMade:
            continue  # the take-off lists it among what cannot be made
        divided.append((run, tuple(section.length for section in sections)))
    yield from told(request, divided)


def told(request: Request, divided: Sequence[tuple[Run, tuple[Length, ...]]]) -> Iterator[Finding]:
    """
    Say of each run that is made with joints how long it is and in how many sections.

    A note where joints are plainly meant: the run names its own rule, or it has one joint and another run
    of its family is as long. A warning else.

    Parameters
    ----------
    divided
        Runs with the lengths of their sections, at least two, nanometres.
    """
    alike = Counter((run.family, run.length) for run in request.runs)
    for run, lengths in divided:
        repeated = alike[run.family, run.length] > 1
        meant = run.split_rule is not None or (repeated and len(lengths) <= _USUAL)
        shown = [mm_text(length) for length in lengths[:_SECTIONS_SHOWN]]
        said = " + ".join([*shown, *["..."] * (len(lengths) > len(shown))])
        yield Finding(
            severity=Severity.NOTE if meant else Severity.WARNING,
            code=IN_SECTIONS,
            where=run.where,
            found=f"{run.job} {run.id}",
            message=f"The run of {length_text(run.length, Unit.MM)} is longer than a bar yields and is made "
            f"in {len(lengths)} sections with joints: {said} mm. Check the length; write never into Split "
            "where there must be no joint.",
        )
