"""What every benchmark reports in: one figure, what was aimed at, and the machine and versions that it was measured on."""

from __future__ import annotations

import os
import platform
import resource
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

PACKAGES = (
    "fabric-advisor", "durable-rules", "clipspy", "msgspec", "PyYAML", "rapidfuzz", "typer", "rich", "pydantic", "numpy", "polars",
    "python-calamine",
)  # fmt: skip


@dataclass(frozen=True)
class Figure:
    """One measured figure with its unit; `aim` is the most (or, for a unit of speed, the least) that it should be."""

    what: str
    value: float
    unit: str
    aim: float | None = None
    note: str = ""

    @property
    def met(self) -> bool | None:
        if self.aim is None:
            return None
        return self.value >= self.aim if self.unit.endswith("/s") else self.value <= self.aim

    def line(self) -> str:
        """The figure as a line of the table."""
        aim = "" if self.aim is None else f"{'≥' if self.unit.endswith('/s') else '≤'} {self.aim:,g}"
        mark = {None: " ", True: "+", False: "-"}[self.met]
        value = f"{self.value:,.0f}" if self.value >= 1000 else f"{self.value:.3g}"
        return f"{mark} {self.what:<44}{value:>10} {self.unit:<7}{aim:>9}  {self.note}"


def machine() -> dict[str, object]:
    """Where and with what it was measured; a busy machine is told by its load."""
    found: dict[str, object] = {
        "python": platform.python_version(), "system": platform.platform(), "processor": _processor(),
        "cores": len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count(),
        "load": [round(v, 1) for v in os.getloadavg()] if hasattr(os, "getloadavg") else [],
    }  # fmt: skip
    for package in PACKAGES:
        try:
            found[package] = version(package)
        except PackageNotFoundError:
            found[package] = "not installed"
    return found


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        return next(line.partition(":")[2].strip() for line in lines if line.startswith("model name"))
    except (OSError, StopIteration):
        return platform.processor()


def megabytes() -> float:
    """What this process holds in memory now."""
    try:
        pages = int(Path("/proc/self/statm").read_text().split()[1])
        return pages * resource.getpagesize() / 1e6
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
