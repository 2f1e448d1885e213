"""A make that will not be ready on its day: what would bring it back, each thing tried on the calendar itself."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from advisor.owned import HOURS_A_WEEK
from advisor.plan.days import Dates, Work, calendar, in_time

MOST_DROPPED = 8
MOST_TRIED = 500
STEP = 0.5
"""Hours a week are asked for in halves."""


@dataclass(frozen=True)
class WayOut:
    """Features to leave off (the fewest hours first), makes one of which could wait, and the hours a week that serve."""

    drop: tuple[str, ...]
    leave: tuple[int, ...]
    hours_a_week: float | None


def shorter(work: Work, hours: float) -> Work:
    """The work with hours less, taken from each step alike."""
    total = sum(work.steps)
    share = max(0.0, 1 - hours / total) if total else 0.0
    return replace(work, cut_h=work.cut_h * share, sew_h=work.sew_h * share, finish_h=work.finish_h * share)


def way_out(work: Work, on_time: Sequence[Work], can_drop: Mapping[str, float], per_day: float) -> WayOut:
    """What would let a late work be in time beside those that are."""
    return WayOut(
        _drop(work, on_time, can_drop, per_day),
        tuple(w.job for w in on_time if in_time([*(o for o in on_time if o.job != w.job), work], per_day)),
        hours_for_all([*on_time, work], per_day),
    )


def days_late(dates: Mapping[int, Dates], works: Iterable[Work]) -> int:
    """The days by which all works together are late."""
    return sum(max(0, dates[w.job].finish[1] + 1 - w.wanted) for w in works if w.wanted is not None)


def gentlest(works: Sequence[Work], late: frozenset[int], per_day: float) -> frozenset[int]:
    """As many late works as these, but those that make the fewest days late in all; each late one counts the same points."""
    dated = [w for w in works if w.wanted is not None]
    best, fewest = late, math.inf
    for number, chosen in enumerate(combinations([w.job for w in dated], len(late))):
        if number == MOST_TRIED:
            break
        on_time = [w for w in dated if w.job not in chosen]
        if in_time(on_time, per_day):
            behind = sorted((w for w in dated if w.job in chosen), key=lambda w: w.wanted or 0)
            days = days_late(calendar(on_time, behind, per_day), dated)
            if days < fewest:
                best, fewest = frozenset(chosen), days
    return best


def _drop(work: Work, on_time: Sequence[Work], can_drop: Mapping[str, float], per_day: float) -> tuple[str, ...]:
    names = sorted(can_drop, key=lambda n: -can_drop[n])[:MOST_DROPPED]
    sets = [s for size in range(1, len(names) + 1) for s in combinations(names, size)]
    sets.sort(key=lambda s: (sum(can_drop[n] for n in s), len(s)))
    for chosen in sets:
        if in_time([*on_time, shorter(work, sum(can_drop[n] for n in chosen))], per_day):
            return chosen
    return ()


def hours_for_all(works: Sequence[Work], per_day: float) -> float | None:
    """The fewest hours a week, in halves, with which all that have a day are in time; None where no hours would do,
    since drying and hanging alone take too long."""
    dated = [w for w in works if w.wanted is not None]
    low, high = math.ceil(per_day * 7 / STEP), math.floor(HOURS_A_WEEK[1] / STEP)
    if not in_time(dated, high * STEP / 7):
        return None
    while low < high:
        middle = (low + high) // 2
        if in_time(dated, middle * STEP / 7):
            high = middle
        else:
            low = middle + 1
    return high * STEP
