"""The solver finds what trying every allotment finds: the best, the runner-up, and nothing that cannot be."""

from __future__ import annotations

import pytest
from every_allotment import best_two
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.plan.days import in_time
from advisor.plan.problem import BOUGHT, Choice, Cloth, Gap, Job, Problem, broken, worth
from advisor.plan.solve import solve, works_of
from advisor.plan.tables import Weights

pytest.importorskip("highspy")
CLOSE = 1e-3
"""Points: far more than equals are parted by, far less than any two allotments drawn here differ."""


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Up to three jobs of one or two parts, three cloths of one or two lengths, reservations, gaps, dates and clashes."""
    number = draw(st.integers(1, 3))
    whole = st.integers(0, 6)
    jobs = tuple(
        Job(f"make {j}", draw(whole) / 2, draw(whole), draw(whole) / 2, draw(st.none() | st.integers(0, 12)),
            ("main", "contrast")[: draw(st.integers(1, 2))])
        for j in range(number)
    )  # fmt: skip
    cloths = []
    for c in range(draw(st.integers(1, 3))):
        lengths = tuple(m / 4 for m in draw(st.lists(st.integers(2, 16), min_size=1, max_size=2)))
        free, kept_for = sum(lengths), {}
        if draw(st.booleans()):
            kept_for[draw(st.integers(0, number - 1))] = free / 2
            free /= 2
        cloths.append(Cloth(f"piece {c}", lengths, draw(st.sampled_from([0.0, free / 2])), kept_for))
    gaps = tuple(Gap(draw(st.sampled_from([0.5, 1.0, 1.5])), draw(st.integers(1, 2))) for _ in range(draw(st.integers(0, 2))))
    fills = st.lists(st.tuples(st.integers(0, len(gaps) - 1), st.sampled_from([0.5, 1.0])), max_size=2, unique_by=lambda f: f[0]) if gaps else st.just([])  # fmt: skip
    choices = []
    for j, job in enumerate(jobs):
        for part in range(len(job.parts)):
            for c, cloth in enumerate(cloths):
                if draw(st.booleans()):
                    continue
                metres, asked = draw(st.integers(1, 12)) / 4, draw(st.integers(1, 8)) / 4
                for length, there in enumerate(cloth.lengths_m):
                    if metres <= there:
                        choices.append(
                            Choice(j, part, c, length, metres, asked, draw(st.integers(36, 100)), 1.0 if len(job.parts) == 1 else 0.5,
                                   draw(st.booleans()), draw(st.integers(0, 3)), draw(st.integers(0, 3)) if part == 0 else 0,
                                   (tuple(draw(fills)),) if part == 0 else (), draw(st.booleans()))
                        )  # fmt: skip
            if part and draw(st.booleans()):
                choices.append(Choice(j, part, BOUGHT, 0, 0.75, 0.75, 0, 0.5, wash_days=7))
    places = sorted({c.place for c in choices})
    clashes = frozenset(
        (a, b) for a in places for b in places if a[0] == b[0] and a[1] < b[1] and draw(st.integers(0, 3)) == 0
    )
    uneasy = frozenset(
        (a, b) for a in places for b in places if a[0] == b[0] and a[1] < b[1] and draw(st.integers(0, 2)) == 0
    )
    return Problem(
        jobs, tuple(cloths), tuple(choices[:14]), gaps, Weights(fit=1, stash=draw(st.sampled_from([0, 5])), gap=25, tight=15, late=draw(st.sampled_from([10, 40, 200])), bought=8, uneasy=9, reserved=12),
        draw(st.none() | st.integers(3, 20)), draw(st.none() | st.sampled_from([0.5, 1.0, 2.0])), clashes, uneasy,
    )  # fmt: skip


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(problems())
def test_the_solver_misses_the_best_allotment_or_the_runner_up(problem: Problem) -> None:
    best, second = best_two(problem)
    found = solve(problem)
    assert broken(problem, found.best) == ""
    works = works_of(problem, found.best.chosen)
    if problem.per_day is not None:
        assert in_time([w for j, w in works.items() if w.wanted is not None and j not in found.best.late], problem.per_day)
    assert worth(problem, found.best).total == pytest.approx(best, abs=CLOSE)
    if second is None:
        assert found.runner_up is None
    else:
        assert found.runner_up is not None
        assert broken(problem, found.runner_up) == ""
        assert worth(problem, found.runner_up).total == pytest.approx(second, abs=CLOSE)
