"""The days on which work falls: back from the day wanted, or as soon as may be. Pure arithmetic.

Days are counted from today (0); the hours of a week are spread evenly over its days. Cloth dries and garments hang
without taking hours. A garment is ready on the evening before the day it is wanted.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

Days = tuple[int, int]
"""First and last, both included."""
TINY = 1e-9
WAITS = 14
"""Days that a make of no wanted day may end later so that its work lies closer together."""


@dataclass(frozen=True)
class Work:
    """One job as the days see it: hours by step, days of drying before and of hanging before the finish."""

    job: int
    cut_h: float
    sew_h: float
    finish_h: float
    wash_days: int = 0
    hang_days: int = 0
    wanted: int | None = None

    @property
    def steps(self) -> tuple[float, float, float]:
        return self.cut_h, self.sew_h, self.finish_h


@dataclass(frozen=True)
class Dates:
    """When each step is done; `wash` and `hang` are None where there is none."""

    wash: Days | None
    cut: Days
    sew: Days
    hang: Days | None
    finish: Days

    @property
    def start(self) -> int:
        return self.wash[0] if self.wash else self.cut[0]


class _Hours:
    """What is left of the hours of each day."""

    def __init__(self, per_day: float) -> None:
        self.left: dict[int, float] = defaultdict(lambda: per_day)

    def take_back(self, hours: float, last: int, first: int | None) -> Days | None:
        """Hours from a last day backwards, not before `first`; None where there are not enough."""
        day, end = last, last
        started = hours <= TINY
        while True:
            if first is not None and day < first:
                return None
            took = min(self.left[day], hours)
            if took > TINY and not started:
                started, end = True, day
            self.left[day] -= took
            hours -= took
            if hours <= TINY:
                return day, end
            day -= 1


def _back(works: Iterable[Work], per_day: float, first: int | None) -> dict[int, Dates] | None:
    """Dates of works that all have a day wanted, each step as late as may be; the step due latest is placed first."""
    hours = _Hours(per_day)
    heap: list[tuple[int, int, int]] = []
    by_job = {w.job: w for w in works}
    placed: dict[int, dict[int, Days]] = {job: {} for job in by_job}
    for work in by_job.values():
        assert work.wanted is not None
        heapq.heappush(heap, (-(work.wanted - 1), work.job, 2))
    while heap:
        due, job, step = heapq.heappop(heap)
        work = by_job[job]
        days = hours.take_back(work.steps[step], -due, first)
        if days is None:
            return None
        placed[job][step] = days
        if step:
            gap = work.hang_days + 1 if step == 2 and work.hang_days else 0
            heapq.heappush(heap, (-(days[0] - gap), job, step - 1))
        elif first is not None and days[0] - work.wash_days < first:
            return None
    return {job: _dates(by_job[job], steps) for job, steps in placed.items()}


def _dates(work: Work, steps: dict[int, Days]) -> Dates:
    cut, sew, finish = steps[0], steps[1], steps[2]
    wash = (cut[0] - work.wash_days, cut[0] - 1) if work.wash_days else None
    hang = (sew[1] + 1, finish[0] - 1) if work.hang_days else None
    return Dates(wash, cut, sew, hang, finish)


def in_time(works: Sequence[Work], per_day: float) -> bool:
    """Whether all these works can be ready on their days if nothing else is sewn."""
    return _back(works, per_day, 0) is not None


def should_begin(work: Work, others: Sequence[Work], per_day: float) -> int:
    """The day on which a work should begin beside others; before today where it is negative."""
    found = _back([*others, work], per_day, None)
    assert found is not None
    return found[work.job].start


def calendar(on_time: Sequence[Work], after: Sequence[Work], per_day: float) -> dict[int, Dates]:
    """Dates of all: those on time stay in time, the others follow in their order, each as soon as that allows.

    Of each of those others the soonest day is found on which it could be wanted, and it is then placed as if it were:
    every step as late as may be. One of no wanted day may end a little later where that keeps its work closer together,
    so that nothing lies about half cut for weeks. Raises `ValueError` where those on time are not.
    """
    placed = list(on_time)
    dates = _back(placed, per_day, 0)
    if dates is None:
        raise ValueError("these works cannot all be in time")
    for work in after:
        soonest = _soonest(work, placed, per_day)
        best: tuple[int, Work, dict[int, Dates]] | None = None
        for end in range(soonest, soonest + (1 if work.wanted is not None else WAITS + 1)):
            here = replace(work, wanted=end)
            found = _back([*placed, here], per_day, 0)
            if found is not None and (best is None or 2 * end - found[work.job].cut[0] < best[0]):
                best = (2 * end - found[work.job].cut[0], here, found)
        assert best is not None
        placed.append(best[1])
        dates = best[2]
    return dates


def _soonest(work: Work, placed: Sequence[Work], per_day: float) -> int:
    """The soonest day on which a work could be wanted while all that is placed stays in time."""
    low = 0
    high = max([w.wanted or 0 for w in placed], default=0) + work.wash_days + work.hang_days + 4
    high += math.ceil(sum(work.steps) / per_day)  # all of it after all the others
    while low < high:
        middle = (low + high) // 2
        if in_time([*placed, replace(work, wanted=middle)], per_day):
            high = middle
        else:
            low = middle + 1
    return high
