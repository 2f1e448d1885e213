"""What was set aside for a make draws the plan to it."""

from __future__ import annotations

from advisor.plan.problem import Choice, Cloth, Job, Problem
from advisor.plan.solve import solve
from advisor.plan.tables import Weights


def problem(reserved: float) -> Problem:
    """One job; the second cloth suits a little less, and was set aside for it."""
    job = Job("make", 1, 1, 1, None, ("main",))
    cloths = (Cloth("better", (3.0,)), Cloth("kept", (3.0,), 0.0, {0: 2.0}))
    choices = (Choice(0, 0, 0, 0, 2.0, 2.0, 90), Choice(0, 0, 1, 0, 2.0, 2.0, 80, reserved=True))
    weights = Weights(fit=1, stash=0, gap=0, tight=0, late=0, bought=0, uneasy=0, reserved=reserved)
    return Problem((job,), cloths, choices, (), weights)


def test_a_piece_set_aside_for_a_make_is_passed_over_for_one_that_is_hardly_better() -> None:
    assert solve(problem(20.0)).best.chosen == (1,)


def test_setting_aside_outweighs_how_well_the_cloth_suits_whatever_it_is_worth() -> None:
    assert solve(problem(5.0)).best.chosen == (0,)
