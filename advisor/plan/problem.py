"""The allotment as a plain problem: jobs, cloths, choices and gaps, and what an allotment is worth in points.

Nothing here knows makes, knowledge or a solver; the solver and the brute force of the tests both answer to `worth`.
Lengths in m, work in hours, days counted from today (0).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from advisor.plan.tables import Weights

SLACK_M = 0.00005
Place = tuple[int, int, int]
"""Job, part, cloth."""
Pair = tuple[Place, Place]
BOUGHT = -1
"""The place of a cloth that is bought."""


@dataclass(frozen=True)
class Job:
    """One make: hours by step, the day it is wanted (None: any), its parts with their share of the length, main first."""

    name: str
    cut_h: float
    sew_h: float
    finish_h: float
    wanted: int | None
    parts: tuple[str, ...]

    @property
    def hours(self) -> float:
        return self.cut_h + self.sew_h + self.finish_h


@dataclass(frozen=True)
class Cloth:
    """One piece: its lengths, what is kept for makes outside the plan, and for jobs of the plan (by place)."""

    name: str
    lengths_m: tuple[float, ...]
    kept_m: float = 0.0
    kept_for: Mapping[int, float] = field(default_factory=dict, hash=False)


@dataclass(frozen=True)
class Choice:
    """One way to cut one part of one job: from which length of which cloth, how much of it, and what comes of it.

    `asked_m` is what the pattern's table asks, the same for every cloth, so that no cloth gains by being wasteful.
    `reserved` says that the cloth was set aside for this job.
    `share` is the part's share of the job's length, `fit` its score (0 to 100). `fills` says for each garment that the
    job adds which share of which gap it would fill; only a main part's choice fills any.
    """

    job: int
    part: int
    cloth: int
    length: int
    metres: float
    asked_m: float
    fit: float
    share: float = 1.0
    tight: bool = False
    wash_days: int = 0
    hang_days: int = 0
    fills: tuple[tuple[tuple[int, float], ...], ...] = ()
    reserved: bool = False

    @property
    def bought(self) -> bool:
        return self.cloth == BOUGHT

    @property
    def place(self) -> Place:
        """What an allotment says of it."""
        return self.job, self.part, self.cloth

    def points(self, weights: Weights) -> float:
        """What the choice is worth by itself, without gaps and dates."""
        if self.bought:
            return -weights.bought * self.asked_m
        kept = weights.reserved if self.reserved else 0.0
        tight = weights.tight if self.tight else 0.0
        return weights.fit * self.fit * self.share + weights.stash * self.asked_m + kept - tight


@dataclass(frozen=True)
class Gap:
    """One gap of the wardrobe: how much one missing garment is worth, and how many are missing."""

    worth: float
    missing: int


@dataclass(frozen=True)
class Problem:
    """All of it. `hours` is all that there is (None: no limit), `per_day` the hours of a day (None: no dates reckoned).

    `clashes` are pairs of places that do not go together in one job, `uneasy` pairs that may not.
    """

    jobs: tuple[Job, ...]
    cloths: tuple[Cloth, ...]
    choices: tuple[Choice, ...]
    gaps: tuple[Gap, ...]
    weights: Weights
    hours: float | None = None
    per_day: float | None = None
    clashes: frozenset[Pair] = frozenset()
    uneasy: frozenset[Pair] = frozenset()


@dataclass(frozen=True)
class Allotment:
    """Choices by their place in the problem, and the jobs among them that will be late."""

    chosen: tuple[int, ...]
    late: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Worth:
    """Points by what they are for; `tight` and those after it are taken off."""

    fit: float
    stash: float
    gap: float
    reserved: float
    tight: float
    late: float
    bought: float
    uneasy: float

    @property
    def total(self) -> float:
        return self.fit + self.stash + self.gap + self.reserved - self.tight - self.late - self.bought - self.uneasy


def worth(problem: Problem, allotment: Allotment) -> Worth:
    """What an allotment is worth."""
    w = problem.weights
    chosen = [problem.choices[i] for i in allotment.chosen]
    own = [c for c in chosen if not c.bought]
    places = {c.place for c in chosen}
    filled = sum(problem.gaps[g].worth * share for _, g, share in fills(problem, allotment.chosen))
    return Worth(
        fit=w.fit * sum(c.fit * c.share for c in own),
        stash=w.stash * sum(c.asked_m for c in own),
        gap=w.gap * filled,
        reserved=w.reserved * sum(c.reserved for c in own),
        tight=w.tight * sum(c.tight for c in own),
        late=w.late * len(allotment.late),
        bought=w.bought * sum(c.asked_m for c in chosen if c.bought),
        uneasy=w.uneasy * sum(one in places and two in places for one, two in problem.uneasy),
    )


def fills(problem: Problem, chosen: Collection[int]) -> list[tuple[tuple[int, int], int, float]]:
    """Which garment (job, number) fills which gap by what share, so that the sum of worths is greatest."""
    garments = [
        ((c.job, number), options)
        for i in sorted(chosen)
        for c in [problem.choices[i]]
        for number, options in enumerate(c.fills)
        if options
    ]

    @cache
    def best(at: int, left: tuple[int, ...]) -> tuple[float, tuple[tuple[int, int, float], ...]]:
        if at == len(garments):
            return 0.0, ()
        found = best(at + 1, left)
        for gap, share in garments[at][1]:
            if left[gap]:
                rest = best(at + 1, (*left[:gap], left[gap] - 1, *left[gap + 1 :]))
                value = rest[0] + problem.gaps[gap].worth * share
                if value > found[0] + 1e-12:
                    found = (value, ((at, gap, share), *rest[1]))
        return found

    wanted = {gap for _, options in garments for gap, _ in options}
    left = tuple(min(g.missing, len(garments)) if i in wanted else 0 for i, g in enumerate(problem.gaps))
    return [(garments[at][0], gap, share) for at, gap, share in best(0, left)[1]]


def broken(problem: Problem, allotment: Allotment) -> str:
    """Why an allotment cannot be, without its dates; '' where it can."""
    chosen = [problem.choices[i] for i in allotment.chosen]
    jobs = {c.job for c in chosen}
    for job in jobs:
        if sorted(c.part for c in chosen if c.job == job) != list(range(len(problem.jobs[job].parts))):
            return "a job has a part without a cloth, or with two"
    if problem.hours is not None and sum(problem.jobs[j].hours for j in jobs) > problem.hours + 1e-9:
        return "more hours than there are"
    places = [c.place for c in chosen]
    if any((a, b) in problem.clashes or (b, a) in problem.clashes for a in places for b in places):
        return "two cloths that do not go together"
    if any(a != b and not a.bought and (a.job, a.cloth) == (b.job, b.cloth) for a in chosen for b in chosen):
        return "one cloth for two parts of a job"
    return next((why for n in range(len(problem.cloths)) if (why := _overdrawn(problem, n, chosen))), "")


def _overdrawn(problem: Problem, number: int, chosen: Sequence[Choice]) -> str:
    cloth = problem.cloths[number]
    here = [c for c in chosen if c.cloth == number]
    for length, metres in enumerate(cloth.lengths_m):
        if sum(c.metres for c in here if c.length == length) > metres + SLACK_M:
            return "a length is cut twice"
    used = dict.fromkeys(range(len(problem.jobs)), 0.0)
    for choice in here:
        used[choice.job] += choice.metres
    held = sum(max(used[job], cloth.kept_for.get(job, 0.0)) for job in used)
    return "what is reserved is cut" if held + cloth.kept_m > sum(cloth.lengths_m) + SLACK_M else ""
