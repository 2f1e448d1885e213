"""`advisor wardrobe`: what is owned to wear, what is wished for, and where there are gaps."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from advisor.cli.options import Folders, Json
from advisor.cli.words import Paper, emit, knowledge_from, label
from advisor.makes import read_make
from advisor.stash import store
from advisor.wardrobe import answers, keep
from advisor.wardrobe.fills import fills_of
from advisor.wardrobe.gaps import Gap, gaps_of, slots_of
from advisor.wardrobe.garments import Garment, WardrobeTable, read_garment, wardrobe_table

if TYPE_CHECKING:
    from collections.abc import Callable

    from advisor.knowledge import Knowledge

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="What you own to wear, by type, season and colour, and where there are gaps. Kept in the stash's file.",
)

File = Annotated[Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)]
Words = Annotated[str, typer.Argument(help="The garment in your own words: 'navy wool coat'.", show_default=False)]
Type = Annotated[str, typer.Option("--type", help="What it is, if the words do not say: 'pencil skirt'.", show_default=False)]
Seasons = Annotated[list[str], typer.Option("--season", help="summer, winter …, or all. Repeatable.", show_default=False)]
Colour = Annotated[str, typer.Option("--colour", "--color", help="Its colour, if the words do not say.", show_default=False)]
Pieces = Annotated[int, typer.Option("--count", help="How many of them.")]
Shelf = Literal["garment", "wish"]


def _path(file: Path | None) -> Path:
    return (file or store.default_path()).absolute()


def _kept(file: Path | None) -> tuple[list[Garment], list[Garment]]:
    """(owned, wishes); none where the usual file was never begun."""
    path = _path(file)
    if file is None and not path.exists():
        return [], []
    with store.reading(path) as db:
        return keep.garments(db, "garment"), keep.garments(db, "wish")


def _change(file: Path | None, change: Callable[[Any], Garment]) -> tuple[Garment, list[Garment], list[Garment]]:
    with store.changing(_path(file), make=True) as db:
        done = change(db)
        return done, keep.garments(db, "garment"), keep.garments(db, "wish")


def _garment(garment: Garment) -> answers.GarmentAnswer:
    return answers.GarmentAnswer(garment.name, garment.type, list(garment.seasons), garment.colour, garment.pieces)


def _gap(gap: Gap, table: WardrobeTable) -> answers.GapAnswer:
    slot = gap.slot
    return answers.GapAnswer(
        slot.id, slot.say, slot.own, list(slot.seasons), slot.colour, slot.pieces, list(gap.held), gap.missing,
        slot.worth, "your own wish" if slot.own else table.source,
    )  # fmt: skip


def _report(
    did: Any, file: Path | None, owned: list[Garment], wishes: list[Garment], table: WardrobeTable,
    changed: Garment | None = None,
) -> answers.WardrobeReport:  # fmt: skip
    def count(keys: Callable[[Garment], tuple[str, ...]]) -> dict[str, int]:
        found: Counter[str] = Counter()
        for garment in owned:
            for key in keys(garment):
                found[key] += garment.pieces
        return dict(found.most_common())

    return answers.WardrobeReport(
        str(_path(file)), did, _garment(changed) if changed else None, [_garment(g) for g in owned],
        [_garment(g) for g in wishes], [_gap(g, table) for g in gaps_of(owned, slots_of(table, wishes))],
        by_type=count(lambda g: (g.type,)), by_season=count(lambda g: g.seasons or ("all year",)),
        by_colour=count(lambda g: (g.colour or "not said",)),
    )  # fmt: skip


def _put(shelf: Shelf, words: str, file: Path | None, json: bool, known: Knowledge, **said: Any) -> None:
    table = wardrobe_table(known)
    garment = read_garment(words, known, table, added=store.today(), **said)
    done, owned, wishes = _change(file, lambda db: keep.add(db, shelf, garment))
    answer = _report("added" if shelf == "garment" else "wished", file, owned, wishes, table, done)
    emit(answer) if json else _show_changed(answer)


@app.command("add")
def add(
    words: Words, type_: Type = "", season: Seasons = [], colour: Colour = "", count: Pieces = 1,  # noqa: B006
    file: File = None, json: Json = False, knowledge: Folders = [],  # noqa: B006
) -> None:  # fmt: skip
    """Put in a garment that you own.

    The same again raises its number.
    """
    _put("garment", words, file, json, knowledge_from(knowledge), type_words=type_, seasons=season, colour=colour, pieces=count)


@app.command("wish")
def wish(
    words: Words, type_: Type = "", season: Seasons = [], colour: Colour = "", count: Pieces = 1,  # noqa: B006
    file: File = None, json: Json = False, knowledge: Folders = [],  # noqa: B006
) -> None:  # fmt: skip
    """Say what you would like to own.

    It counts as a gap, before the usual ones.
    """
    _put("wish", words, file, json, knowledge_from(knowledge), type_words=type_, seasons=season, colour=colour, pieces=count)


@app.command("remove")
def remove(
    name: Annotated[str, typer.Argument(help="Its name, as 'list' shows it.", show_default=False)],
    wished: Annotated[bool, typer.Option("--wish", help="Take back a wish instead.")] = False,
    file: File = None, json: Json = False, knowledge: Folders = [],  # noqa: B006
) -> None:  # fmt: skip
    """Take a garment, or a wish, out of the wardrobe."""
    table = wardrobe_table(knowledge_from(knowledge))
    shelf: Shelf = "wish" if wished else "garment"
    with store.changing(_path(file)) as db:
        done = keep.remove(db, shelf, name)
        owned, wishes = keep.garments(db, "garment"), keep.garments(db, "wish")
    answer = _report("unwished" if wished else "removed", file, owned, wishes, table, done)
    emit(answer) if json else _show_changed(answer)


@app.command("list")
def list_(file: File = None, json: Json = False, knowledge: Folders = []) -> None:  # noqa: B006
    """What you own, by type, season and colour."""
    table = wardrobe_table(knowledge_from(knowledge))
    answer = _report("listed", file, *_kept(file), table)
    emit(answer) if json else _show_list(answer)


@app.command("gaps")
def gaps(
    make: Annotated[list[Path], typer.Option("--make", help="A make file: which gap would it fill? Repeatable.")] = [],  # noqa: B006
    file: File = None, json: Json = False, knowledge: Folders = [],  # noqa: B006
) -> None:  # fmt: skip
    """What is missing, your wishes first.

    What a sensible wardrobe holds and yours does not, your own wishes first; and what each make would fill.
    """
    known = knowledge_from(knowledge)
    table = wardrobe_table(known)
    makes = [read_make(path) for path in make]
    owned, wishes = _kept(file)
    answer = _report("gaps", file, owned, wishes, table)
    found = gaps_of(owned, slots_of(table, wishes))
    for one in makes:
        fills = fills_of(one, found, known, table)
        answer.not_named += [] if fills else [one.make]
        for fill in fills:
            gap = fill.best
            answer.makes.append(
                answers.FillsAnswer(
                    one.make, fill.garment.name, gap.slot.id if gap else "", gap.slot.say if gap else "", fill.share
                )
            )
    emit(answer) if json else _show_gaps(answer)


def _when(seasons: list[str]) -> str:
    return ", ".join(seasons) if seasons else "all year"


def _of(garment: answers.GarmentAnswer) -> str:
    said = [label(garment.type), _when(garment.seasons), garment.colour or "colour not said"]
    return f"{f'{garment.pieces} × ' if garment.pieces > 1 else ''}{garment.name} ({'; '.join(said)})"


def _show_changed(answer: answers.WardrobeReport) -> None:
    paper = Paper()
    words = {"added": "In the wardrobe", "wished": "Wished for", "removed": "Taken out", "unwished": "Wish taken back"}
    assert answer.changed
    paper.item(f"{words[answer.did]}: {_of(answer.changed)}.", bullet="", indent=0)
    paper.show()


def _counts(found: dict[str, int]) -> str:
    return ", ".join(f"{label(name)} {n}" for name, n in found.items())


def _show_list(answer: answers.WardrobeReport) -> None:
    paper = Paper()
    if not answer.owned and not answer.wishes:
        paper.item("Nothing is noted yet. Put a garment in: advisor wardrobe add \"navy wool coat\" --season winter", bullet="", indent=0)  # fmt: skip
        paper.show()
        return
    total = sum(g.pieces for g in answer.owned)
    paper.line(f"{total} garment{'' if total == 1 else 's'}", "bold")
    for garment in sorted(answer.owned, key=lambda g: (g.type, g.seasons, g.colour, g.name)):
        paper.item(_of(garment))
    if answer.owned:
        paper.head("Counted")
        paper.item(f"by type: {_counts(answer.by_type)}")
        paper.item(f"by season: {_counts(answer.by_season)}")
        paper.item(f"by colour: {_counts(answer.by_colour)}")
    if answer.wishes:
        paper.head("Wished for")
        for garment in answer.wishes:
            paper.item(_of(garment))
    paper.show()


def _show_gaps(answer: answers.WardrobeReport) -> None:
    paper = Paper()
    open_, full = [g for g in answer.gaps if g.missing], [g for g in answer.gaps if not g.missing]
    for title, rows in (
        ("Your own wishes", [g for g in open_ if g.own]),
        ("What a sensible wardrobe holds besides (common practice)", [g for g in open_ if not g.own]),
    ):
        if rows:
            paper.head(title) if paper.lines else paper.line(title, "bold")
        for gap in sorted(rows, key=lambda g: -g.worth * g.missing):
            colour = f", {gap.colour}" if gap.colour and not gap.own else ""
            names = Counter(gap.held)
            held = f"; you have {', '.join(f'{n} × {name}' if n > 1 else name for name, n in names.items())}" if names else ""
            paper.item(f"{gap.say}{colour}: {gap.missing} of {gap.wanted} missing{held}")
    if full:
        paper.head("No gap")
        paper.item(", ".join(g.say for g in full), bullet="")
    if answer.makes or answer.not_named:
        paper.head("What the makes would fill")
        for fill in answer.makes:
            share = " in part (its colour decides)" if 0 < fill.share < 1 else ""
            paper.item(f"{fill.make}: {fill.say}{share}" if fill.fills else f"{fill.make}: no gap for {fill.adds}")
        for name in answer.not_named:
            paper.item(f"{name}: its file names no garment to wear; a line 'fills: [blouse]' would say what it adds")
    paper.show()
