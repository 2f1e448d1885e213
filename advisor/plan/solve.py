"""The allotment of most points, and the next best one, as a mixed-integer programme in HiGHS.

Variables: each choice taken or not, each job late or not, how far each garment fills each gap, and what each job holds of
a piece of which some is reserved. Hours until each day wanted are rows of the programme; whether the steps with their
days of drying and hanging really fit is asked of `days.in_time` for each answer, and an answer that does not fit is
cut off, with all that dry and hang as long, until one fits (combinatorial Benders cuts; Codato and Fischetti 2006).
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from advisor.errors import Unclear
from advisor.plan.days import Work, in_time
from advisor.plan.problem import SLACK_M, Allotment, Choice, Place, Problem

TIE = 1e-6
"""Points a metre by which, of equals, the shorter length is cut, so that long ones stay whole; and nothing is late in vain."""
MOST_CUTS = 500
SECONDS = 60.0
"""How long the solver may take before the plan is refused as too large."""


@dataclass(frozen=True)
class Solved:
    """The best allotment, and the next best one that puts other cloths to the jobs (None: there is no other)."""

    best: Allotment
    runner_up: Allotment | None
    rounds: int


def solve(problem: Problem) -> Solved:
    """Solves the problem; raises `Unclear` where the solver is not installed or does not come to an end."""
    try:
        import highspy
    except ImportError:
        raise Unclear("a plan without its solver", "the extra 'plan': pip install \"fabric-advisor[plan]\"") from None
    if not problem.choices:
        return Solved(Allotment(()), None, 0)
    with _quiet():
        made: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        made.setOptionValue("output_flag", False)
    model = _Model(problem, highspy, made)
    best = model.answer()
    assert best is not None  # nothing allotted is always an answer
    places = frozenset(problem.choices[i].place for i in best.chosen)
    model.forbid(places)
    return Solved(best, model.answer(), model.rounds)


_ONE_AT_A_TIME = threading.Lock()
"""The page answers from several threads, and there is one standard output."""


@contextmanager
def _quiet() -> Iterator[None]:
    """Keeps the solver's greeting, which it prints before it can be asked not to, off the standard output."""
    with _ONE_AT_A_TIME:
        try:
            sys.stdout.flush()
            kept = os.dup(1)
        except (OSError, ValueError, AttributeError):  # no standard output, so nothing to keep clean
            yield
            return
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, 1)
            yield
        finally:
            os.dup2(kept, 1)
            os.close(kept)
            os.close(nowhere)


def works_of(problem: Problem, chosen: Iterable[int]) -> dict[int, Work]:
    """Each job with something chosen as the days see it: the longest drying of its cloths, the longest hanging."""
    found: dict[int, list[Choice]] = {}
    for i in chosen:
        found.setdefault(problem.choices[i].job, []).append(problem.choices[i])
    works = {}
    for number, choices in found.items():
        job = problem.jobs[number]
        works[number] = Work(
            number, job.cut_h, job.sew_h, job.finish_h, max(c.wash_days for c in choices),
            max(c.hang_days for c in choices), job.wanted,
        )  # fmt: skip
    return works


class _Model:
    """The programme, and the cuts that were added to it."""

    def __init__(self, problem: Problem, highspy_: Any, solver: Any) -> None:
        self.problem, self.solver = problem, solver
        self.integer = highspy_.HighsVarType.kInteger
        self.optimal = highspy_.HighsModelStatus.kOptimal
        self.none = (
            highspy_.HighsModelStatus.kInfeasible,
            highspy_.HighsModelStatus.kUnboundedOrInfeasible,
        )
        self.infinity: float = highspy_.kHighsInf
        for name, value in (
            ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-7), ("mip_feasibility_tolerance", 1e-7),
            ("primal_feasibility_tolerance", 1e-8), ("time_limit", SECONDS), ("threads", 1),
        ):  # fmt: skip
            self.solver.setOptionValue(name, value)
        self.solver.setMaximize()
        self.count = 0
        self.rounds = 0
        self._build()

    # ---- building ----

    def _variable(self, points: float, high: float, *, low: float = 0.0, whole: bool = True) -> int:
        self.solver.addVar(low, high)
        self.solver.changeColCost(self.count, points)
        if whole:
            self.solver.changeColIntegrality(self.count, self.integer)
        self.count += 1
        return self.count - 1

    def _row(self, low: float, terms: Mapping[int, float], high: float) -> None:
        self.solver.addRow(low, high, len(terms), list(terms), list(terms.values()))

    def _build(self) -> None:
        problem, weights = self.problem, self.problem.weights
        self.take = [
            self._variable(c.points(weights) - (0.0 if c.bought else TIE * problem.cloths[c.cloth].lengths_m[c.length]), 1)
            for c in problem.choices
        ]
        self.by_part: dict[tuple[int, int], list[int]] = {}
        for i, choice in enumerate(problem.choices):
            self.by_part.setdefault((choice.job, choice.part), []).append(i)
        self.dated = {j for j, job in enumerate(problem.jobs) if job.wanted is not None and problem.per_day is not None}
        self.late = {j: self._variable(-weights.late - TIE, 1) for j in sorted(self.dated)}
        self._parts()
        self._lengths()
        self._gaps()
        self._hours()

    def _main(self, job: int) -> list[int]:
        return self.by_part.get((job, 0), [])

    def _parts(self) -> None:
        """Every part of a job or none, from different cloths that go together; late only what is sewn."""
        for number, job in enumerate(self.problem.jobs):
            for part in range(1, len(job.parts)):
                terms = {self.take[i]: 1.0 for i in self._main(number)}
                terms |= {self.take[i]: -1.0 for i in self.by_part.get((number, part), [])}
                self._row(0, terms, 0)
            self._row(-self.infinity, {self.take[i]: 1.0 for i in self._main(number)}, 1)
            if number in self.late:
                terms = {self.late[number]: 1.0} | {self.take[i]: -1.0 for i in self._main(number)}
                self._row(-self.infinity, terms, 0)
        same: dict[tuple[int, int], list[int]] = {}
        by_place: dict[tuple[int, int, int], list[int]] = {}
        for i, choice in enumerate(self.problem.choices):
            by_place.setdefault(choice.place, []).append(i)
            if not choice.bought:
                same.setdefault((choice.job, choice.cloth), []).append(i)
        for choices in same.values():
            if len({self.problem.choices[i].part for i in choices}) > 1:
                self._row(-self.infinity, {self.take[i]: 1.0 for i in choices}, 1)
        for pairs, points in ((self.problem.clashes, None), (self.problem.uneasy, self.problem.weights.uneasy)):
            beside: dict[tuple[Place, int], list[int]] = {}
            for one, two in sorted(pairs):
                beside.setdefault((one, two[1]), []).extend(by_place.get(two, []))
            for (one, _), others in beside.items():  # of one part at most one cloth is taken, so one row holds all pairs
                both = {self.take[i]: 1.0 for i in (*by_place.get(one, []), *others)}
                if points is not None:  # both of them, or not: paid for only where both are taken
                    both[self._variable(-points, 1, whole=False)] = -1.0
                self._row(-self.infinity, both, 1)

    def _lengths(self) -> None:
        """No length is cut twice, and what is reserved stays."""
        by_cloth: dict[int, list[int]] = {}
        for i, choice in enumerate(self.problem.choices):
            if not choice.bought:
                by_cloth.setdefault(choice.cloth, []).append(i)
        for number, choices in by_cloth.items():
            cloth = self.problem.cloths[number]
            for length, metres in enumerate(cloth.lengths_m):
                here = {self.take[i]: self.problem.choices[i].metres for i in choices if self.problem.choices[i].length == length}
                self._row(-self.infinity, here, metres + SLACK_M)
            held: dict[int, float] = {self.take[i]: self.problem.choices[i].metres for i in choices}
            for job, kept in cloth.kept_for.items():
                own = [i for i in choices if self.problem.choices[i].job == job]
                holds = self._variable(0.0, self.infinity, low=kept, whole=False)
                terms = {holds: 1.0} | {self.take[i]: -self.problem.choices[i].metres for i in own}
                self._row(0, terms, self.infinity)
                for i in own:
                    del held[self.take[i]]
                held[holds] = 1.0
            self._row(-self.infinity, held, sum(cloth.lengths_m) - cloth.kept_m + SLACK_M)

    def _gaps(self) -> None:
        """A garment fills one gap, in the colour of the cloth that is taken; a gap is filled no more often than it is open."""
        filled: dict[int, list[int]] = {}
        for job in range(len(self.problem.jobs)):
            kinds: dict[tuple[int, tuple[tuple[int, float], ...]], list[int]] = {}
            for i in self._main(job):
                for garment, options in enumerate(self.problem.choices[i].fills):
                    if options:
                        kinds.setdefault((garment, options), []).append(i)
            for (_, options), choices in kinds.items():
                fills = {
                    self._variable(self.problem.weights.gap * self.problem.gaps[gap].worth * share, 1, whole=False): gap
                    for gap, share in options
                }
                self._row(-self.infinity, dict.fromkeys(fills, 1.0) | {self.take[i]: -1.0 for i in choices}, 0)
                for variable, gap in fills.items():
                    filled.setdefault(gap, []).append(variable)
        for gap, variables in filled.items():
            self._row(-self.infinity, dict.fromkeys(variables, 1.0), self.problem.gaps[gap].missing)

    def _hours(self) -> None:
        """All hours together; and until each day, the hours of what must be done by then."""
        problem = self.problem
        if problem.hours is not None:
            terms = {self.take[i]: job.hours for n, job in enumerate(problem.jobs) for i in self._main(n)}
            self._row(-self.infinity, terms, problem.hours)
        if problem.per_day is None:
            return
        due: list[tuple[int, int, float]] = []
        for number in sorted(self.dated):
            job = problem.jobs[number]
            choices = [problem.choices[i] for i in self._main(number)]
            if job.wanted is None or not choices:
                continue
            hang = min(c.hang_days for c in choices)
            due += [(job.wanted, number, job.finish_h), (job.wanted - hang, number, job.cut_h + job.sew_h)]
        for day in sorted({d for d, _, _ in due}):
            terms = {}
            for d, number, hours in due:
                if d <= day:
                    for i in self._main(number):
                        terms[self.take[i]] = terms.get(self.take[i], 0.0) + hours
                    terms[self.late[number]] = terms.get(self.late[number], 0.0) - hours
            self._row(-self.infinity, terms, max(0, day) * problem.per_day + 1e-6)

    # ---- answering ----

    def answer(self) -> Allotment | None:
        """The best allotment that the cuts leave and whose days fit; None where nothing is left."""
        for _ in range(MOST_CUTS):
            self.rounds += 1
            self.solver.run()
            status = self.solver.getModelStatus()
            if status in self.none:
                return None
            if status != self.optimal:
                break
            values = self.solver.getSolution().col_value
            chosen = tuple(i for i, v in enumerate(self.take) if values[v] > 0.5)
            late = frozenset(j for j, v in self.late.items() if values[v] > 0.5)
            works = works_of(self.problem, chosen)
            on_time = [w for j, w in works.items() if j in self.dated and j not in late]
            if self.problem.per_day is None or in_time(on_time, self.problem.per_day):
                return Allotment(chosen, late)
            self._too_late(on_time, chosen)
        raise Unclear("a plan of this size", f"fewer makes at once: the solver did not come to an end in {SECONDS:.0f} s")

    def _too_late(self, on_time: Iterable[Work], chosen: Iterable[int]) -> None:
        """Not all of these on time with cloths that dry and hang at least as long."""
        jobs = {w.job: w for w in on_time}
        terms: dict[int, float] = {self.late[j]: -1.0 for j in jobs}
        parts = 0
        for i in chosen:
            taken = self.problem.choices[i]
            if taken.job not in jobs:
                continue
            parts += 1
            for k in self.by_part[taken.job, taken.part]:
                other = self.problem.choices[k]
                if other.wash_days >= taken.wash_days and other.hang_days >= taken.hang_days:
                    terms[self.take[k]] = 1.0
        self._row(-self.infinity, terms, parts - 1)

    def forbid(self, places: frozenset[tuple[int, int, int]]) -> None:
        """Cuts off every allotment that puts just these cloths to just these parts."""
        terms = {
            self.take[i]: -1.0 if choice.place in places else 1.0 for i, choice in enumerate(self.problem.choices)
        }
        self._row(1 - len(places), terms, self.infinity)
