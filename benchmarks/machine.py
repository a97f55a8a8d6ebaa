"""The circumstances of a measurement: revision, processor, load, memory."""

from __future__ import annotations

import os
import platform
import resource
import subprocess
from pathlib import Path

_ROOT = Path(__file__).resolve().parents[1]
_MEASURED = ("nesting/solver", "nesting/domain", "nesting/stop", "nesting/bounds.py")


def revision(paths: tuple[str, ...] = _MEASURED) -> str:
    """
    Give the last commit that changed the measured code, with ``+`` when it has been edited since.

    The head of the branch would make every unrelated commit look like a new engine.
    """
    try:
        commit = _git("log", "-1", "--format=%h", "--", *paths)
        edited = _git("status", "--porcelain", "--", *paths)
    except (OSError, subprocess.CalledProcessError):
        return "unknown"
    return (commit or "unknown") + ("+" if edited else "")


def processor() -> str:
    """Give the processor's model name and the number of cores seen."""
    model = platform.processor() or platform.machine()
    listing = Path("/proc/cpuinfo")
    if listing.exists():
        for line in listing.read_text("utf-8").splitlines():
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
                break
    return f"{model} x{os.cpu_count() or 1}"


def load() -> float:
    """Give the one-minute load average, two decimals."""
    return round(os.getloadavg()[0], 2)


def forget_peak_memory() -> None:
    """Start the peak of this process's memory anew, where the kernel lets us."""
    switch = Path("/proc/self/clear_refs")
    if switch.exists() and os.access(switch, os.W_OK):
        switch.write_text("5", "ascii")  # 5 resets the high-water mark: Linux, Documentation/filesystems/proc


def peak_memory() -> int:
    """Give the most memory this process held since the last :func:`forget_peak_memory`, MiB."""
    status = Path("/proc/self/status")
    if status.exists():
        for line in status.read_text("ascii").splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) // 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def _git(*arguments: str) -> str:
    done = subprocess.run(["git", *arguments], cwd=_ROOT, check=True, capture_output=True, text=True)
    return done.stdout.strip()
