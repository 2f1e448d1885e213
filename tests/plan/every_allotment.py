"""Every allotment of a small problem, one after the other: what the solver is held against."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from advisor.plan.days import in_time
from advisor.plan.problem import Allotment, Problem, broken, worth
from advisor.plan.solve import works_of


def allotments(problem: Problem) -> Iterator[Allotment]:
    """All that can be, each with every set of late jobs that leaves the others in time."""
    ways = []
    for job in range(len(problem.jobs)):
        parts = [
            [i for i, c in enumerate(problem.choices) if (c.job, c.part) == (job, part)]
            for part in range(len(problem.jobs[job].parts))
        ]
        ways.append([(), *product(*parts)])
    for chosen in product(*ways):
        taken = tuple(i for way in chosen for i in way)
        if broken(problem, Allotment(taken)):
            continue
        works = works_of(problem, taken)
        dated = [j for j, w in works.items() if w.wanted is not None and problem.per_day is not None]
        for size in range(len(dated) + 1):
            for late in combinations(dated, size):
                on_time = [works[j] for j in dated if j not in late]
                if problem.per_day is None or in_time(on_time, problem.per_day):
                    yield Allotment(taken, frozenset(late))


def best_two(problem: Problem) -> tuple[float, float | None]:
    """The points of the best allotment, and of the best one with other cloths."""
    found: dict[frozenset[tuple[int, int, int]], float] = {}
    for allotment in allotments(problem):
        places = frozenset(problem.choices[i].place for i in allotment.chosen)
        found[places] = max(found.get(places, float("-inf")), worth(problem, allotment).total)
    ranked = sorted(found.values(), reverse=True)
    return ranked[0], ranked[1] if len(ranked) > 1 else None
