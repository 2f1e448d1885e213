"""`advisor plan`: which piece of the stash for which make, and when each step is done."""

from __future__ import annotations

import math
import sys
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import VERDICTS, Paper, emit, knowledge_from
from advisor.errors import Unclear
from advisor.makes import read_make
from advisor.owned import hours_wanted
from advisor.plan import answers
from advisor.plan.building import Held, Terms
from advisor.plan.planning import plan_for
from advisor.plan.tables import plan_table, weights_from
from advisor.stash.measures import day as read_day
from advisor.stash.measures import show_length
from advisor.stash.place import default_path

MOST_HOURS = 5000.0


def command(
    make: Annotated[list[Path], typer.Argument(help="Make files, one or several.", show_default=False)],
    hours_a_week: Annotated[
        float | None, typer.Option("--hours-a-week", help="Hours that you have to sew; else hours_a_week of the settings.", show_default=False)
    ] = None,
    hours: Annotated[float | None, typer.Option("--hours", help="Hours that there are in all.", show_default=False)] = None,
    by: Annotated[str, typer.Option("--by", help="The day wanted, for makes whose file names none: 2026-12-20.", show_default=False)] = "",
    weight: Annotated[
        list[str], typer.Option("--weight", help="What counts how much: fit, stash, gap, tight, late, bought, uneasy; 'gap=40'. Repeatable.", show_default=False)
    ] = [],  # noqa: B006
    today: Annotated[str, typer.Option("--today", help="The day on which the plan is made.", show_default=False)] = "",
    file: Annotated[Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)] = None,
    reserve: Annotated[bool, typer.Option("--reserve", help="Reserve in the stash what the plan allots.")] = False,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:  # fmt: skip
    """Allot the stash to several makes at once, and say when to wash, cut, sew, hang and finish each."""
    known = knowledge_from(knowledge)
    if hours is not None and not 0 < hours <= MOST_HOURS:
        raise Unclear(f"--hours {hours:g}", f"above nought and at most {MOST_HOURS:g}")
    terms = Terms(
        _date(today, "--today") or date.today(), weights_from(plan_table(known), weight), hours_wanted(hours_a_week),
        hours, _date(by, "--by"),
    )  # fmt: skip
    makes = [read_make(path) for path in make]
    path = (file or default_path()).absolute()
    held = _held(path, file is not None)
    if sys.stderr.isatty() and not json:
        from rich.console import Console
        from rich.progress import Progress

        with Progress(console=Console(stderr=True), transient=True) as bar:
            task = bar.add_task("judging", total=None)
            answer = plan_for(
                makes, held, terms, known, stash=str(path),
                progress=lambda done, total: bar.update(task, completed=done, total=total),
            )  # fmt: skip
    else:
        answer = plan_for(makes, held, terms, known, stash=str(path))
    if reserve and any(p.piece for m in answer.makes for p in m.parts):
        _reserve(path, answer)
    if json:
        emit(answer)
    else:
        show(answer, units)


def _reserve(path: Path, answer: answers.PlanReport) -> None:
    """Keeps every allotted length for its make, in place of what was kept of that piece for it; all of it or nothing."""
    from advisor.stash import pieces, store

    with store.changing(path) as db:
        for make in answer.makes:
            for part in (p for p in make.parts if p.piece):
                store.replace_piece(db, part.piece, pieces.reserve(store.find(db, part.piece), make.make, part.reckoned_m))
    answer.reserved = True


def _date(text: str, option: str) -> date | None:
    if not text.strip():
        return None
    found = read_day(text)
    if len(found) != len("2026-12-20"):
        raise Unclear(f"{option} '{text.strip()[:40]}'", "a whole day, such as 2026-12-20")
    return date.fromisoformat(found)


def _held(path: Path, named: bool) -> Held:
    """What the stash holds; nothing where the usual file was never begun."""
    if not named and not path.exists():
        return Held()
    from advisor.log import keeping
    from advisor.stash import store
    from advisor.wardrobe import keep

    with store.reading(path) as db:
        return Held(store.pieces(db), keeping.everything(db), keep.garments(db, "garment"), keep.garments(db, "wish"))


# ---- in words ----


def _said(day: str, year: bool = False) -> str:
    when = date.fromisoformat(day)
    return f"{when:%a} {when.day} {when:%b}" + (f" {when.year}" if year else "")


def _span(first: str, last: str) -> str:
    return _said(first) if first == last else f"{_said(first)} to {_said(last)}"


def _up(metres: float) -> float:
    """Up to the next centimetre: what is cut is never told short."""
    return math.ceil(metres * 100 - 1e-6) / 100


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def show(answer: answers.PlanReport, units: str) -> None:
    paper = Paper()
    sewn = [m for m in answer.makes if m.allotted]
    late = sum(m.late is not None for m in sewn)
    title = f"{len(sewn)} OF {_count(len(answer.makes), 'MAKE').upper()} FROM THE STASH"
    paper.line(title + (f", {late} LATE" if late else ""), "bold")
    there = f"{show_length(answer.stash_m, units)} in {_count(answer.pieces, 'piece')}"
    used = f"{show_length(_up(answer.used_m), units)} of {there} would be cut" if answer.used_m else f"Nothing of {there} would be cut"
    if not answer.pieces:
        used = "There is no cloth in the stash"
    week = f"; {answer.hours_a_week:g} hours a week from {_said(answer.today, year=True)}" if answer.hours_a_week else ""
    paper.item(f"{used}{week}.", bullet="", indent=0)
    if answer.hours_for_all:
        paper.item(f"With {answer.hours_for_all:g} hours a week nothing would be late.", bullet="", indent=0)
    for number, make in enumerate(sewn, 1):
        paper.head(f"{number}. {make.make}")
        _show_make(paper, make, units)
    for make in (m for m in answer.makes if not m.allotted):
        paper.head(f"Left out: {make.make}")
        paper.item(f"{make.why[0].upper()}{make.why[1:]}.", bullet="")
        for row in make.rejected[:3]:
            paper.item(f"{row.piece}: {row.why}", indent=4)
        for line in make.to_buy:
            paper.item(f"To buy: {line}. 'advisor pick … --shop' says what to look for.", bullet="")
    if answer.runner_up:
        other = answer.runner_up
        paper.head("The next best" + (f", {_count(round(other.behind), 'point')} behind" if other.behind >= 0.5 else ", nearly as good" if other.behind > 0 else ", as good"))
        for line in other.differs:
            paper.item(line)
        paper.item(f"{other.why[0].upper()}{other.why[1:]}.", bullet="")
    if sewn:
        _show_points(paper, answer.points)
    if answer.reserved:
        paper.item("What is allotted is now reserved in the stash; 'advisor stash edit PIECE --release MAKE' frees it.", bullet="", indent=0)
    if answer.not_read or answer.notes:
        paper.head("To know")
        for note in [*answer.notes, *(f"not read: {line}" for line in answer.not_read)]:
            paper.item(f"{note[0].upper()}{note[1:]}{'' if note.endswith('.') else '.'}")
    paper.show()


def _show_points(paper: Paper, points: answers.PointsPlan) -> None:
    paper.head("Points")
    terms = [("fit", points.fit), ("stash used", points.stash), ("gaps filled", points.gap), ("cut from what was reserved", points.reserved)]
    less = [("tight", points.tight), ("late", points.late), ("bought", points.bought), ("cloths ill at ease together", points.uneasy)]
    said = " + ".join(f"{name} {value:.0f}" for name, value in terms if value) + "".join(f" - {name} {value:.0f}" for name, value in less if value)
    paper.item(f"{points.total:.0f}{f' = {said}' if said else ''}. Other weights: --weight gap=40.", bullet="")


def _show_make(paper: Paper, make: answers.MakePlan, units: str) -> None:
    for part in make.parts:
        name = "" if part.part == "main" else f"{part.part}: "
        if not part.piece:
            continue
        which = f", length {part.length}" if part.length else ""
        fit = "" if part.part == make.parts[0].part else f"; {VERDICTS[part.verdict or 'suits'].lower()}, {part.score:.0f} of 100"
        left = f"leaves {show_length(part.left_m, units)}" if part.left_m and part.left_m >= 0.01 else "uses it up"
        paper.item(f"{name}{show_length(_up(part.reckoned_m), units)} of '{part.piece}'{which}{fit}; the plan {left}.", bullet="")
        better = [part.why] if part.part != make.parts[0].part and part.why.startswith("'") else []
        for note in [*better, *part.notes]:
            paper.item(f"{note[0].upper()}{note[1:]}{'' if note.endswith('.') else '.'}", indent=4)
        for one in part.lessons:
            paper.item(f"Your log, {one.because}: \"{one.line}\" ({one.make}, {one.day}).", indent=4)
    for line in make.to_buy:
        paper.item(f"To buy: {line}.", bullet="")
    verdict = VERDICTS[make.parts[0].verdict or "suits"].lower()
    paper.item(f"Why: {verdict}; {make.why}.", bullet="")
    for note in make.notes:
        paper.item(f"{note[0].upper()}{note[1:]}.", bullet="")
    if make.late:
        _show_late(paper, make)
    elif make.wanted_by:
        ready = f"; ready for {_said(make.ready)} if begun by {_said(make.steps[0].first)}" if make.ready and make.steps else ""
        paper.item(f"Wanted {_said(make.wanted_by, year=True)}{ready}.", bullet="")
    elif make.ready:
        paper.item(f"No day wanted; ready for {_said(make.ready, year=True)}.", bullet="")
    for step in make.steps:
        hours = f", {step.hours:g} h" if step.hours else ""
        say = f": {step.say}" if step.say else ""
        paper.item(f"{_span(step.first, step.last)}{hours}{say}", bullet=f"{step.step:<9}", indent=4)


def _show_late(paper: Paper, make: answers.MakePlan) -> None:
    late = make.late
    assert late
    assert make.wanted_by
    begin = date.fromisoformat(late.should_begin)
    paper.item(
        f"LATE: wanted {_said(make.wanted_by, year=True)}, ready {_said(late.could_be_by, year=True)}, {_count(late.days, 'day')} late. "
        f"It should have been begun by {_said(begin.isoformat(), year=True)}.", bullet="", style="stop",
    )  # fmt: skip
    ways = []
    if late.could_drop:
        ways.append(f"drop {' and '.join(late.could_drop)}")
    if late.could_leave:
        ways.append(f"let {' or '.join(late.could_leave)} wait")
    if late.hours_a_week:
        ways.append(f"find {late.hours_a_week:g} hours a week")
    ways.append(f"have it for {_said(late.could_be_by)}")
    paper.item(f"What would help: {'; or '.join(ways)}.", bullet="")
