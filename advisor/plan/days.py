"""The days on which work falls: back from the day wanted, or as soon as may be. Pure arithmetic.

Days are counted from today (0); the hours of a week are spread evenly over its days. Cloth dries and garments hang
without taking hours. A garment is ready on the evening before the day it is wanted.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

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
        self.per_day = per_day
        self.left: dict[int, float] = defaultdict(lambda: per_day)

    def copy(self) -> _Hours:
        """The same hours, to try something on."""
        other = _Hours(self.per_day)
        other.left.update(self.left)
        return other

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

    def take_on(self, hours: float, first: int) -> Days:
        """Hours from a first day onwards."""
        day, begin = first, first
        started = hours <= TINY
        while True:
            took = min(self.left[day], hours)
            if took > TINY and not started:
                started, begin = True, day
            self.left[day] -= took
            hours -= took
            if hours <= TINY:
                return begin, day
            day += 1


def _back(works: Iterable[Work], per_day: float, first: int | None) -> tuple[dict[int, Dates], _Hours] | None:
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
    return {job: _dates(by_job[job], steps) for job, steps in placed.items()}, hours


def _place(work: Work, last: int, hours: _Hours, first: int) -> dict[int, Days] | None:
    """One work, its last step ending on `last` and each step as late as may be; None where it does not fit."""
    steps: dict[int, Days] = {}
    for step in (2, 1, 0):
        days = hours.take_back(work.steps[step], last, first)
        if days is None:
            return None
        steps[step] = days
        last = days[0] - (work.hang_days + 1 if step == 2 and work.hang_days else 0)
    return steps if steps[0][0] - work.wash_days >= first else None


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
    return found[0][work.job].start


def calendar(on_time: Sequence[Work], after: Sequence[Work], per_day: float) -> dict[int, Dates]:
    """Dates of all: those on time as late as may be, then the others, in their order, as soon as hours are left.

    Of those others the earliest end is found first, and the steps are then put as near to it as they go; one of no wanted
    day may end a little later where that keeps its work closer together, so that nothing lies about half cut for weeks.
    """
    found = _back(on_time, per_day, 0)
    if found is None:
        raise ValueError("these works cannot all be in time")
    dates, hours = found
    for work in after:
        trial = hours.copy()
        cut = trial.take_on(work.cut_h, work.wash_days)
        sew = trial.take_on(work.sew_h, cut[1])
        ready = trial.take_on(work.finish_h, sew[1] + (work.hang_days + 1 if work.hang_days else 0))[1]
        placed: dict[int, Dates] = {}
        for end in range(ready, ready + (1 if work.wanted is not None else WAITS + 1)):
            steps = _place(work, end, hours.copy(), 0)
            assert steps is not None  # what can be done forwards by an end can be done backwards from it
            placed[end] = _dates(work, steps)
        chosen = min(placed, key=lambda end: 2 * end - placed[end].cut[0])
        _place(work, chosen, hours, 0)
        dates[work.job] = placed[chosen]
    return dates
