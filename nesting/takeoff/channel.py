"""From the size somebody measured to the channel's cut length."""

from __future__ import annotations

from nesting.domain.runs import LengthKind
from nesting.units import Length


def finished_length(
    measured: Length, kind: LengthKind, *, clearance_left: Length, clearance_right: Length
) -> Length:
    """
    Give the finished overall length F = W - c_L - c_R of an opening W, or F = W of any other size.

    Lengths in nanometres; not positive when the clearances leave nothing.
    """
    if kind is LengthKind.OPENING:
        return Length(measured - clearance_left - clearance_right)
    return measured


def channel_length(finished: Length, *, cap_left: Length, cap_right: Length) -> Length:
    """
    Give the channel's cut length A = F - t_L - t_R.

    Parameters
    ----------
    finished
        Finished overall length, nanometres.
    cap_left, cap_right
        Cap thickness outside each end; 0 at a joint, a bare end or an inner cap.
    """
    return Length(finished - cap_left - cap_right)
