"""Why a part is cut from this piece and not from one that suits it better; and why a make gets none."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.plan.building import Plan
from advisor.plan.options import Option
from advisor.plan.problem import Choice

CLEARLY = 0.5
"""Points of score by which a piece is told to suit better."""


def why_part(plan: Plan, choice: Choice, taken: Sequence[Choice]) -> str:
    """Why a part is cut from its piece, against the one that suits it best; `taken` is the whole allotment."""
    serving = [o for o in plan.options[choice.job][choice.part] if not o.why_not]
    name = plan.problem.cloths[choice.cloth].name
    better = next((o for o in serving if o.shelf.piece.name != name and o.fit > choice.fit + CLEARLY), None)
    if better is not None:
        return f"'{better.shelf.piece.name}' would score {better.fit:.0f}, but {_against(plan, choice, better, taken)}"
    return "none of the others suits better" if len(serving) > 1 else "the only piece that serves"


def _against(plan: Plan, choice: Choice, other: Option, taken: Sequence[Choice]) -> str:
    """What keeps a part from the piece that suits it best."""
    cloth = next(n for n, s in enumerate(plan.shelves) if s is other.shelf)
    takers = [c for c in taken if c.cloth == cloth]
    if takers:
        names = (plan.wanted[c.job].make.make if c.job != choice.job else f"its {plan.wanted[c.job].parts[c.part].name}" for c in takers)
        return f"goes to {' and '.join(dict.fromkeys(names))}"
    if other.enough.serves != "yes":
        return "is tight in length"
    place = (choice.job, choice.part, cloth)
    beside = [c.place for c in taken if c.job == choice.job and c.part != choice.part]
    pairs = {*plan.uneasy, *plan.problem.clashes}
    if any((place, b) in pairs or (b, place) in pairs for b in beside):
        return "goes less well with the other cloth of the make"
    longer = other.wash_days + other.hang_days - choice.wash_days - choice.hang_days
    if longer > 0 and plan.problem.jobs[choice.job].wanted is not None and plan.problem.per_day is not None:
        return f"takes {longer} day{'' if longer == 1 else 's'} longer to dry and hang"
    return "serves the whole plan better uncut"


def why_left_out(plan: Plan, number: int) -> str:
    """Why a make gets no cloth."""
    if all(o.why_not for o in plan.options[number][0]):
        main = plan.wanted[number].parts[0].name
        return "nothing in the stash serves" + ("" if main == "main" else f" for its {main}")
    if plan.problem.hours is not None and sum(j.hours for j in plan.problem.jobs) > plan.problem.hours:
        return f"the {plan.problem.hours:g} hours go to makes that are worth more points"
    return "the cloths that would serve are worth more points in the other makes"
