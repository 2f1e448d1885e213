"""Why the plan is as it is, in words."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.plan.problem import Problem, Worth

SAYS = {
    "fit": ("the cloths suit less well", "the cloths suit better"),
    "stash": ("less of the stash is used", "more of the stash is used"),
    "gap": ("fewer gaps of the wardrobe are filled", "more gaps of the wardrobe are filled"),
    "reserved": ("less is cut from what was reserved for it", "more is cut from what was reserved for it"),
    "tight": ("a length is tight", "no length is as tight"),
    "late": ("more is late", "less is late"),
    "bought": ("more must be bought", "less must be bought"),
    "uneasy": ("cloths go together less well", "cloths go together better"),
}
"""What a term says of the other allotment where it has (fewer, more) points by it."""
TAKEN_OFF = ("tight", "late", "bought", "uneasy")
LEAST = 0.05
"""Points that are worth a word."""


def compared(best: Worth, other: Worth) -> str:
    """Why one allotment is behind another: what costs it points, the most first, then what it has the better of."""
    less: list[tuple[float, str]] = []
    more: list[tuple[float, str]] = []
    for term, (worse, better) in SAYS.items():
        sign = -1 if term in TAKEN_OFF else 1
        points = sign * (getattr(other, term) - getattr(best, term))
        if points < -LEAST:
            less.append((points, worse + _points(-points)))
        elif points > LEAST:
            more.append((-points, better + _points(points)))
    if not less and not more:
        return "it is worth as much; the first is as good as this one"
    said = "; ".join(text for _, text in sorted(less))
    given = "; ".join(text for _, text in sorted(more))
    if not said:
        return f"{given}, but a shorter length stays whole in the first"
    return f"{said}, though {given}" if given else said


def _points(value: float) -> str:
    """' (3 points)', or nothing for what rounds to none."""
    return "" if value < 0.5 else f" ({value:.0f} point{'' if round(value) == 1 else 's'})"


def differences(problem: Problem, best: Sequence[int], other: Sequence[int]) -> list[str]:
    """What another allotment does otherwise, part by part."""
    mine = {(c.job, c.part): c.cloth for c in (problem.choices[i] for i in best)}
    theirs = {(c.job, c.part): c.cloth for c in (problem.choices[i] for i in other)}
    lines = []
    for number, job in enumerate(problem.jobs):
        here, there = (any(j == number for j, _ in side) for side in (mine, theirs))
        if here and not there:
            lines.append(f"{job.name} is left out")
            continue
        for part, name in enumerate(job.parts):
            one, two = mine.get((number, part)), theirs.get((number, part))
            if two is None or one == two:
                continue
            where = job.name if len(job.parts) == 1 or part == 0 else f"{job.name}, {name}"
            cloth = problem.cloths[two].name if two >= 0 else "bought cloth"
            instead = "" if one is None else f" instead of {problem.cloths[one].name if one >= 0 else 'bought cloth'}"
            lines.append(f"{where}: from {cloth}{instead}")
    return lines
