"""The story of a plan: makes and stash in, the allotment, its days and its reasons out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import timedelta

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.log.lessons import OF_CLOTH, Asked, with_parts
from advisor.log.likeness import snapshot
from advisor.makes import Make
from advisor.plan import answers
from advisor.plan.building import Held, Plan, Terms, prepare
from advisor.plan.days import Dates, Work, calendar, should_begin
from advisor.plan.late import gentlest, hours_for_all, way_out
from advisor.plan.options import Option, Part, Wanted
from advisor.plan.problem import Allotment, Problem, Worth, fills, worth
from advisor.plan.reasons import compared, differences
from advisor.plan.solve import Solved, solve, works_of
from advisor.plan.tables import Weights
from advisor.plan.why import why_left_out, why_part

MOST_MAKES = 30
MOST_REJECTED = 10
MOST_LESSONS = 3


def plan_for(
    makes: Sequence[Make],
    held: Held,
    terms: Terms,
    knowledge: Knowledge,
    *,
    stash: str = "",
    progress: Callable[[int, int], None] | None = None,
) -> answers.PlanReport:
    """The plan for several makes; raises `Unclear` for makes that cannot be planned or a solver that is not there."""
    if not 1 <= len(makes) <= MOST_MAKES:
        raise Unclear(f"{len(makes)} makes", f"1 to {MOST_MAKES} at once")
    names = [m.make.casefold() for m in makes]
    twice = next((m.make for m in makes if names.count(m.make.casefold()) > 1), "")
    if twice:
        raise Unclear(f"the make '{twice}' twice", "each make once; give the second one a name of its own")
    plan = prepare(makes, held, terms, knowledge, progress)
    return _answer(plan, solve(plan.problem), stash, held)


def _answer(plan: Plan, solved: Solved, stash: str, held: Held) -> answers.PlanReport:
    problem, best = plan.problem, solved.best
    works = works_of(problem, best.chosen)
    if best.late and problem.per_day:
        best = Allotment(best.chosen, gentlest(list(works.values()), best.late, problem.per_day))
    dates, on_time = _dates(plan, best, works)
    filled = fills(problem, best.chosen)
    points = worth(problem, best)
    makes = []
    for number in range(len(plan.wanted)):
        taken = [i for i in best.chosen if problem.choices[i].job == number]
        makes.append(_make(plan, number, taken, best, dates.get(number), works.get(number), on_time, filled))
    order = sorted(range(len(makes)), key=lambda n: (not makes[n].allotted, dates[n].start if n in dates else 0, n))
    weights = {k: v for k, v in ((f, getattr(problem.weights, f)) for f in Weights.__struct_fields__) if isinstance(v, float | int)}
    return answers.PlanReport(
        stash, plan.terms.today.isoformat(), plan.terms.hours_a_week, plan.terms.hours, [makes[n] for n in order],
        _points(points), weights, _runner_up(problem, best, points, solved.runner_up),
        round(sum(c.metres for c in (problem.choices[i] for i in best.chosen) if not c.bought), 2),
        round(sum(p.left_m for p in held.pieces), 2), len(plan.shelves), plan.not_read, _notes(plan),
        list(dict.fromkeys([plan.table.weights.source, plan.table.shares.source, plan.table.wash_days_source])),
        hours_for_all(list(works.values()), problem.per_day) if best.late and problem.per_day else None,
    )  # fmt: skip


def _points(value: Worth) -> answers.PointsPlan:
    return answers.PointsPlan(
        round(value.total, 1), round(value.fit, 1), round(value.stash, 1), round(value.gap, 1), round(value.tight, 1),
        round(value.late, 1), round(value.bought, 1), round(value.uneasy, 1), round(value.reserved, 1),
    )  # fmt: skip


def _dates(plan: Plan, best: Allotment, works: Mapping[int, Work]) -> tuple[dict[int, Dates], list[Work]]:
    """The days of every make that is sewn, and the works that are in time: late ones follow, then those of no day."""
    per_day = plan.problem.per_day
    on_time = [w for j, w in works.items() if w.wanted is not None and j not in best.late]
    if per_day is None:
        return {}, on_time
    late = sorted((w for w in works.values() if w.job in best.late), key=lambda w: w.wanted or 0)
    free = [w for w in works.values() if w.wanted is None]
    return calendar(on_time, [*late, *free], per_day), on_time


def _runner_up(problem: Problem, best: Allotment, points: Worth, other: Allotment | None) -> answers.RunnerUp | None:
    if other is None:
        return None
    theirs = worth(problem, other)
    differs = differences(problem, best.chosen, other.chosen)
    return answers.RunnerUp(differs, _points(theirs), round(points.total - theirs.total, 1), compared(points, theirs))


def _day(plan: Plan, number: int) -> str:
    return (plan.terms.today + timedelta(days=number)).isoformat()


def _make(
    plan: Plan, number: int, taken: Sequence[int], best: Allotment, dates: Dates | None, work: Work | None,
    on_time: Sequence[Work], filled: Iterable[tuple[tuple[int, int], int, float]],
) -> answers.MakePlan:  # fmt: skip
    wanted, job = plan.wanted[number], plan.problem.jobs[number]
    parts = [_part(plan, i, best) for i in sorted(taken, key=lambda i: plan.problem.choices[i].part)]
    gaps = [
        answers.GapPlan(
            plan.garments[number][garment].name, plan.gaps[gap].slot.id, plan.gaps[gap].slot.say, share
        )
        for (j, garment), gap, share in filled if j == number
    ]  # fmt: skip
    by = wanted.make.wanted_by or plan.terms.by
    notes = []
    if wanted.hours_taken:
        notes.append(f"its hours are not noted: {wanted.hours:g} taken; a line 'hours:' in its file says better")
    if by and by < plan.terms.today:
        notes.append(f"the day wanted, {by.isoformat()}, is past")
    ready = _day(plan, dates.finish[1] + 1) if dates else None
    late = _late(plan, number, work, dates, on_time) if number in best.late and work and dates else None
    return answers.MakePlan(
        job.name, bool(taken), _why(parts, gaps) if taken else why_left_out(plan, number), parts, gaps,
        round(wanted.hours, 2), by.isoformat() if by else None, ready, _steps(plan, dates, work, parts) if dates and work else [],
        late, _to_buy(wanted, parts, bool(taken)), _rejected(plan, number, parts), notes,
    )  # fmt: skip


def _part(plan: Plan, place: int, best: Allotment) -> answers.PartPlan:
    choice = plan.problem.choices[place]
    told = plan.wanted[choice.job].parts[choice.part]
    if choice.bought:
        metres = answers.Metres(told.table_m, told.table_m, told.table_m)
        return answers.PartPlan(told.name, "", told.layer, None, metres, told.table_m, False, None, None, None, "", choice.wash_days, [], [])
    option = plan.origin[place]
    cloth = plan.problem.cloths[choice.cloth]
    used = sum(c.metres for c in (plan.problem.choices[i] for i in best.chosen) if c.cloth == choice.cloth)
    need = option.enough.needed_m
    notes = list(option.notes)
    if choice.tight:
        over = need.high - choice.metres
        notes.append(f"tight: it may take {over:.2f} m more; wash it, measure it, and lay every piece out before you cut")
    notes += [
        said for (a, b), said in plan.uneasy.items()
        if choice.place == b and any(plan.problem.choices[i].place == a for i in best.chosen)
    ]  # fmt: skip
    length = choice.length + 1 if len(cloth.lengths_m) > 1 else None
    return answers.PartPlan(
        told.name, cloth.name, option.shelf.piece.description, length,
        answers.Metres(*(round(v, 2) for v in (need.low, need.expected, need.high))), round(choice.metres, 4), choice.tight,
        round(sum(cloth.lengths_m) - used, 4), round(option.fit, 1), option.verdict,  # type: ignore[arg-type]
        option.wash_how, option.wash_days, list(option.enough.because), notes,
        why_part(plan, choice, [plan.problem.choices[i] for i in best.chosen]), _lessons(plan, told, option),
    )  # fmt: skip


def _lessons(plan: Plan, told: Part, option: Option) -> list[answers.Learnt]:
    """What the log says of this piece or of a like cloth; what it says of the features comes with `advisor check`."""
    asked = Asked(with_parts([a.feature for a in told.asks], plan.knowledge))
    found = plan.memory.recall(snapshot(option.shelf.profile), option.shelf.piece.name, asked)
    found = [one for one in found if one.because in OF_CLOTH][:MOST_LESSONS]
    return [answers.Learnt(one.line, one.make, one.cloth, one.day, one.because) for one in found]


def _why(parts: Sequence[answers.PartPlan], gaps: Sequence[answers.GapPlan]) -> str:
    """Why this cloth for this make: its score, what would suit better, the gap that is filled."""
    said = [f"scores {parts[0].score:.0f} of 100", parts[0].why]
    said += [f"fills a gap: {', '.join(g.say for g in gaps)}"] if gaps else []
    return "; ".join(said)


def _to_buy(wanted: Wanted, parts: Sequence[answers.PartPlan], taken: bool) -> list[str]:
    """The lines of the table for what is not in the stash."""
    bought = {p.part for p in parts if not p.piece} if taken else {wanted.parts[0].name}

    def line(part: Part) -> str:
        row = max(part.rows, key=lambda r: r.width_cm)
        name = "" if part.name == "main" else f"{part.name}: "
        return f"{name}{part.layer + ', ' if part.layer else ''}{row.length_m:g} m at {row.width_cm:g} cm wide, before shrinkage"

    return [line(p) for p in wanted.parts if p.name in bought]


def _rejected(plan: Plan, number: int, parts: Sequence[answers.PartPlan]) -> list[answers.Rejected]:
    """Pieces that do not serve, part by part: the least short first, then the best of those that are avoided."""
    found = []
    for part, told in enumerate(plan.wanted[number].parts):
        if any(p.part == told.name and p.piece for p in parts):
            continue
        rest = [o for o in plan.options[number][part] if o.why_not]
        found += [answers.Rejected(told.name, o.shelf.piece.name, o.why_not) for o in rest[:MOST_REJECTED]]
    return found


def _steps(plan: Plan, dates: Dates, work: Work, parts: Sequence[answers.PartPlan]) -> list[answers.StepPlan]:
    found = []

    def add(step: str, days: tuple[int, int] | None, hours: float, say: str) -> None:
        if days:
            found.append(answers.StepPlan(step, _day(plan, days[0]), _day(plan, days[1]), round(hours, 1), say))  # type: ignore[arg-type]

    washed = [f"{p.piece or f'bought {p.part}'} ({p.wash or 'once it is there'})" for p in parts if p.wash_days]
    add("pre-wash", dates.wash, 0.0, f"{', '.join(washed)}; dry and rested before it is cut")
    add("cut", dates.cut, work.cut_h, "")
    add("sew", dates.sew, work.sew_h, "all but what comes after hanging" if dates.hang else "")
    add("hang", dates.hang, 0.0, f"at least {work.hang_days} day{'' if work.hang_days == 1 else 's'}, then level the edges")
    add("finish", dates.finish, work.finish_h, "")
    return found


def _late(plan: Plan, number: int, work: Work, dates: Dates, on_time: Sequence[Work]) -> answers.LatePlan:
    assert plan.problem.per_day is not None
    assert work.wanted is not None
    out = way_out(work, on_time, plan.wanted[number].make.can_drop, plan.problem.per_day)
    ready = dates.finish[1] + 1
    return answers.LatePlan(
        ready - work.wanted, _day(plan, should_begin(work, on_time, plan.problem.per_day)), list(out.drop),
        [plan.problem.jobs[j].name for j in out.leave], out.hours_a_week, _day(plan, ready),
    )  # fmt: skip


def _notes(plan: Plan) -> list[str]:
    notes = []
    if plan.terms.hours_a_week is None:
        notes.append("no days were reckoned: say how much time you have with --hours-a-week 6, or keep hours_a_week = 6 in the settings")
    if not plan.shelves:
        notes.append("the stash is empty: 'advisor stash add' puts cloth in")
    unnamed = [w.make.make for w, g in zip(plan.wanted, plan.garments, strict=True) if not g]
    if unnamed:
        notes.append(f"no garment to wear is named by {', '.join(unnamed)}; a line 'fills: [blouse]' in the file would count towards the wardrobe")
    return notes
