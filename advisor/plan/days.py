"""The days on which work falls: back from the day wanted, or as soon as may be. Pure arithmetic.

Days are counted from today (0); the hours of a week are spread evenly over its days. Cloth dries and garments hang
without taking hours. A garment is ready on the evening before the day it is wanted.
"""

from __future__ import annotations

import math
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


class _Run:
    """One job on its way back in time: the step that comes next, what is left of it, and the last day that it may take."""

    def __init__(self, work: Work) -> None:
        assert work.wanted is not None
        self.work, self.step, self.last = work, 2, work.wanted - 1
        self.left = work.steps[2]
        self.ends: dict[int, int] = {}
        self.placed: dict[int, Days] = {}

    def before(self, per_day: float) -> float:
        """The days that must still lie before it: hours of this step and those before, hanging and drying."""
        hours = self.left + sum(self.work.steps[: self.step])
        return hours / per_day + (self.work.hang_days if self.step == 2 else 0) + self.work.wash_days

    def take(self, hours: float, day: int) -> None:
        self.left -= hours
        self.ends.setdefault(self.step, day)

    def next(self, day: int) -> bool:
        """On to the steps before, past those that take no hours, from the day on which this one begins; False at the end."""
        while True:
            self.placed[self.step] = (day, self.ends.get(self.step, day))
            if self.step == 0:
                return False
            day -= self.work.hang_days + 1 if self.step == 2 and self.work.hang_days else 0
            self.step, self.last = self.step - 1, day
            self.left = self.work.steps[self.step]
            if self.left > TINY:
                return True


def _back(works: Iterable[Work], per_day: float, first: int | None) -> dict[int, Dates] | None:
    """Dates of works that all have a day wanted, going back from the last of these days; None where one does not fit.

    Going back, a step may begin when the one after it is placed. Of the steps that may, the one goes first whose job must
    still be given the most days before it; it keeps the hours until it is done or another step may begin. Without the
    waits between steps this is the rule of the longest tail, which is exact (Jackson 1955); with them it is a good one.
    """
    runs = [_Run(w) for w in works]
    done: dict[int, Dates] = {}
    active: list[_Run] = []

    def over(run: _Run) -> bool:
        """Its dates are whole; whether it began before the first day."""
        dates = done[run.work.job] = _dates(run.work, run.placed)
        return first is not None and dates.start < first

    for run in runs:
        if run.left > TINY or run.next(run.last):
            active.append(run)
        elif over(run):
            return None
    day = max((r.last for r in active), default=0)
    current: _Run | None = None
    while active:
        if first is not None and day < first:
            return None
        hours = per_day
        if any(r.last == day for r in active):
            current = None
        while hours > TINY:
            ready = [r for r in active if r.last >= day]
            if not ready:
                break
            if current not in ready:
                current = max(ready, key=lambda r: (r.before(per_day), -r.work.job))
            assert current is not None
            took = min(hours, current.left)
            current.take(took, day)
            hours -= took
            if current.left <= TINY:
                if not current.next(day):
                    active.remove(current)
                    if over(current):
                        return None
                current = None
        day = min(day - 1, max((r.last for r in active), default=0))
    return done


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
