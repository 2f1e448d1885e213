"""What `advisor plan` answers: the JSON contract, always metric. More fields may be added, none taken away.

Days are dates as year-month-day; lengths in m; hours in h; points as the weights give them.
"""

from __future__ import annotations

from typing import Literal

import msgspec

VerdictWord = Literal["suits", "care", "avoid"]


class Metres(msgspec.Struct):
    """A length that the description leaves open: at best, usual, and on the safe side."""

    low: float
    expected: float
    high: float


class Learnt(msgspec.Struct):
    """A line of the maker's own log that bears on a part: what was seen, in which make and cloth, when, and why it bears."""

    line: str
    make: str
    cloth: str
    day: str
    because: str


class PartPlan(msgspec.Struct):
    """The cloth of one part of a make; `piece` is '' where it is to be bought."""

    part: str
    piece: str
    cloth: str
    length: int | None
    needs_m: Metres
    reckoned_m: float
    tight: bool
    left_m: float | None
    score: float | None
    verdict: VerdictWord | None
    wash: str
    wash_days: int
    because: list[str]
    notes: list[str]
    why: str = ""
    lessons: list[Learnt] = []


class StepPlan(msgspec.Struct):
    """One step of the work: the days from the first to the last, both included, and its hours."""

    step: Literal["pre-wash", "cut", "sew", "hang", "finish"]
    first: str
    last: str
    hours: float
    say: str


class GapPlan(msgspec.Struct):
    """A gap of the wardrobe that a make fills, by which share."""

    garment: str
    gap: str
    say: str
    share: float


class LatePlan(msgspec.Struct):
    """A make that will not be ready on its day: when it should have begun, and what would bring it back."""

    days: int
    should_begin: str
    could_drop: list[str]
    could_leave: list[str]
    hours_a_week: float | None
    could_be_by: str


class Rejected(msgspec.Struct):
    """A piece that a part is not cut from, and why not."""

    part: str
    piece: str
    why: str


class MakePlan(msgspec.Struct):
    """One make in the plan, or left out of it with the reason."""

    make: str
    allotted: bool
    why: str
    parts: list[PartPlan]
    fills: list[GapPlan]
    hours: float
    wanted_by: str | None
    ready: str | None
    steps: list[StepPlan]
    late: LatePlan | None
    to_buy: list[str]
    rejected: list[Rejected]
    notes: list[str]


class PointsPlan(msgspec.Struct):
    """What an allotment is worth, by what the points are for; tight, late, bought and uneasy are taken off."""

    total: float
    fit: float
    stash: float
    gap: float
    tight: float
    late: float
    bought: float
    uneasy: float = 0.0
    reserved: float = 0.0


class RunnerUp(msgspec.Struct):
    """The next best allotment: what it does otherwise, its points, and why it is behind."""

    differs: list[str]
    points: PointsPlan
    behind: float
    why: str


class PlanReport(msgspec.Struct):
    """The whole plan, in the order in which it is sewn."""

    stash: str
    today: str
    hours_a_week: float | None
    hours: float | None
    makes: list[MakePlan]
    points: PointsPlan
    weights: dict[str, float]
    runner_up: RunnerUp | None
    used_m: float
    stash_m: float
    pieces: int
    not_read: list[str]
    notes: list[str]
    sources: list[str]
    hours_for_all: float | None = None
    """Hours a week with which none of the makes would be late; None where none is, or no hours would do."""
    reserved: bool = False
    """Whether what is allotted was reserved in the stash."""
