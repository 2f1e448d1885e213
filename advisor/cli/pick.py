"""`advisor pick`: rank cloths for a make."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.bar import bar
from advisor.cli.measures import in_words
from advisor.cli.options import Folders, Json, Units, WhatIf
from advisor.cli.words import VERDICTS, Paper, emit, knowledge_from, label, left_out, lesson_lines, nearest, score_text
from advisor.errors import Unclear
from advisor.makes import Make, asks_of, read_make
from advisor.picking import cloths_from_list
from advisor.stash.place import there

BOUGHT = 5
"""How many cloths to buy are shown below pieces of the stash that would do."""


def command(
    make: Annotated[Path, typer.Argument(help="A make file.", show_default=False)],
    cloth: Annotated[list[str], typer.Option("--cloth", help="A cloth in words that could be bought. Repeatable.")] = [],  # noqa: B006
    from_file: Annotated[Path | None, typer.Option("--from", help="A list of cloths (CSV, XLSX, Parquet), one a row.")] = None,
    stash: Annotated[
        Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)
    ] = None,
    only_stash: Annotated[bool, typer.Option("--only-stash", help="Only the pieces of the stash.")] = False,
    no_stash: Annotated[bool, typer.Option("--no-stash", help="Only what could be bought.")] = False,
    view: Annotated[str, typer.Option("--view", help="The pattern's view, for the length it takes.")] = "",
    size: Annotated[str, typer.Option("--size", help="The pattern's size, for the length it takes.")] = "",
    top: Annotated[int, typer.Option("--top", min=1, help="How many to show.")] = 15,
    what_if: WhatIf = [],  # noqa: B006
    shop: Annotated[bool, typer.Option("--shop", help="A shopping brief: what to look for, feel and ask.")] = False,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Rank cloths for a make: your stash first, then those given, or all that the advisor knows."""
    known = knowledge_from(knowledge)
    wanted = read_make(make)
    _in_the_table(wanted, view, size)
    if shop:
        from advisor.cli import shop as brief
        from advisor.decide.shop import shop_for

        told = shop_for(wanted, known)
        emit(told) if json else brief.show(told, units)
        return
    path = _stash(stash, only_stash, no_stash)
    if only_stash and (cloth or from_file):
        raise Unclear("--only-stash with --cloth or --from", "one of them")
    cloths = list(cloth) + (cloths_from_list(from_file) if from_file else [])
    part, lessons, unread = None, list[report.LessonReport](), list[str]()
    if path and not what_if:
        from advisor.stash.ranking import rank_stash
        from advisor.stash.store import StashFault

        try:
            with bar("your stash") as progress:
                part, lessons = rank_stash(wanted, path, known, view=view, size=size, progress=progress)
        except StashFault as fault:
            if stash or only_stash:
                raise
            unread = [f"your stash: {fault.line().rstrip('.')}"]
    elif path and (only_stash or stash):
        raise Unclear("--if with the stash", "--if with what could be bought (--no-stash), or 'advisor check piece:NAME --if …'")
    if only_stash:
        answer = report.PickReport(wanted.make, [a.feature for a in asks_of(wanted, known)], [], [], 0)
    else:
        with bar("what could be bought") as progress:
            answer = advise.pick(wanted, cloths, what_if=what_if, knowledge=known, progress=progress)
    answer.stash, answer.lessons = part, lessons if part else answer.lessons
    answer.not_read += unread
    if cloths and not answer.ranking and answer.not_read and not answer.stash:
        raise Unclear("no cloth that could be read", "a cloth in words after --cloth, or one a row of the list", "--cloth 'cotton poplin, 120 gsm'")
    if json:
        emit(answer)
        return
    if answer.stash:
        show_stash(answer.stash, answer, top, units)
    if not only_stash:
        show(answer, BOUGHT if answer.stash and answer.stash.ranking and not cloths else top, units)


def _in_the_table(make: Make, view: str, size: str) -> None:
    """Raises `Unclear` for a view or a size that the make's table of cloth does not have."""
    for given, name in ((view, "view"), (size, "size")):
        known = sorted({str(getattr(row, name)) for row in make.cloth_needed if getattr(row, name)})
        if given and given not in known:
            raise Unclear(f"{name} '{given[:40]}'", f"one of {', '.join(known)}" if known else f"no --{name}: the make's table of cloth names none", nearest(given, known).removeprefix("; nearest: ") or (known[0] if known else ""))


def _stash(named: Path | None, only: bool, none: bool) -> Path | None:
    """The stash to rank: the one named, else the usual one where there is one."""
    if none and (only or named):
        raise Unclear(f"--no-stash with {'--only-stash' if only else '--stash'}", "one of them")
    if none:
        return None
    path = named.absolute() if named else there()
    if path is None and only:
        raise Unclear("--only-stash without a stash", "a stash; 'advisor stash add' begins one, or --stash names its file")
    return path


def show_stash(part: report.StashPart, answer: report.PickReport, top: int, units: str) -> None:
    """The pieces that would do, each with what speaks for it; then those turned down, a line each."""
    from advisor.stash.measures import show_length

    paper = Paper()
    paper.line(f"From your stash for {answer.make}: {len(part.ranking)} of {part.held} pieces would do", "bold")
    for note in part.notes:
        paper.item(f"{note[0].upper()}{note[1:]}.", bullet="", indent=0, style="dim")
    for number, row in enumerate(part.ranking[:top], 1):
        assert row.verdict is not None
        assert row.score is not None
        paper.line()
        paper.item(f"{row.piece}: {VERDICTS[row.verdict].lower()}, {score_text(row.score)}", bullet=f"{number}. ", indent=0, style=row.verdict)
        if row.needed_m:
            paper.item(f"takes {_three(row.needed_m, units)} of {show_length(row.free_m, units)}", bullet="", indent=3)
        facts = [*row.because, *([f"{', '.join(row.reserved)} reserved"] if row.reserved else []), *([f"kept in {row.kept}"] if row.kept else [])]
        if row.prewashed is False:
            facts.append("not pre-washed")
        if facts:
            paper.item("; ".join(facts), bullet="", indent=3)
        for note in row.notes:
            paper.item(in_words(note, units), bullet="", indent=3, style="dim")
        if row.watch_say:
            paper.item(f"Watch: {in_words(row.watch_say, units)}", bullet="", indent=3)
        for lesson in row.lessons[:2]:
            paper.item(f"Your log: {lesson.line} ({lesson.make}{'' if lesson.because == 'this piece' else f', in {lesson.cloth}, a like cloth'})", bullet="", indent=3)
    if len(part.ranking) > top:
        paper.line()
        paper.item(f"{len(part.ranking) - top} more would do; --top {len(part.ranking)} shows them.", bullet="", indent=0)
    if part.rejected:
        paper.head(f"Turned down ({len(part.rejected)}), the nearest first")
        for row in part.rejected[: max(5, top // 2)]:
            paper.item(in_words(f"{row.piece}: {row.why_not}.", units))
        rest = len(part.rejected) - max(5, top // 2)
        if rest > 0:
            paper.item(f"{rest} more with --json.", bullet="", style="dim")
    for line in part.not_read:
        paper.item(f"Not read: {line}", bullet="", indent=0)
    lesson_lines(paper, answer.lessons)
    paper.line()
    paper.show()


def _three(amount: report.Three, units: str) -> str:
    """A length with its range, the unit said once."""
    from advisor.stash.measures import METRES

    scale, unit = (METRES["yd"], "yd") if units == "imperial" else (1.0, "m")
    low, high = f"{amount.low / scale:.2f}", f"{amount.high / scale:.2f}"
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


def show(answer: report.PickReport, top: int, units: str = "metric") -> None:
    """The cloths in order, each with what limits it and what to watch first."""
    paper = Paper(units)
    of = "What could be bought" if answer.stash else "Cloths"
    paper.item(f"{of} for {answer.make}" + (f", supposing {'; '.join(answer.what_if)}" if answer.what_if else ""), bullet="", indent=0, style="bold")
    paper.line()
    wide, said = len(str(min(top, len(answer.ranking)))), dict[str, int]()
    for number, row in enumerate(answer.ranking[:top], 1):
        weakest = f"; weakest: {label(row.limited_by)}" if row.limited_by else ""
        paper.item(
            f"{row.cloth}: {VERDICTS[row.verdict].lower()}, {score_text(row.score)}{weakest}",
            bullet=f"{number:>{wide}}. ", indent=0, style=row.verdict,
        )  # fmt: skip
        if row.not_understood:
            paper.item(left_out(row.not_understood), bullet="", indent=wide + 2)
        if row.watch_say:
            first = said.setdefault(row.watch_say, number)
            paper.item(f"Watch: {row.watch_say}" if first == number else f"Watch: as with {first}.", bullet="", indent=wide + 2)
    if len(answer.ranking) > top:
        paper.line()
        paper.item(f"{len(answer.ranking) - top} more with --top {len(answer.ranking)}.", bullet="", indent=0, style="dim")
    for line in answer.not_read:
        paper.item(f"Not read: {line}", bullet="", indent=0)
    paper.show()
    _lessons_of(answer, top)


def _lessons_of(answer: report.PickReport, top: int) -> None:
    """What the log says of cloth like those shown, and, where no stash was ranked, of the make's features."""
    paper, said = Paper(), set[tuple[int, str]]()
    of_cloth = []
    for row in answer.ranking[:top]:
        new = [one for one in row.lessons if (one.entry, one.line) not in said]
        of_cloth += [f"{row.cloth}: {one.line} ({one.make}, {one.day}, in {one.cloth})" for one in new]
        said |= {(one.entry, one.line) for one in new}
    if of_cloth:
        paper.head("From your own log, of cloth like these")
        for text in of_cloth[:5]:
            paper.item(text)
    if answer.stash is None:
        lesson_lines(paper, answer.lessons)
    if paper.lines:
        paper.show()
