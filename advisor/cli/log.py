"""`advisor log`: the makes that are done, and what they taught."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from, label
from advisor.errors import Unclear
from advisor.log import answers
from advisor.log.done import Done, Observation

if TYPE_CHECKING:
    from advisor.knowledge import Knowledge

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="The makes that are done, of which cloth, and what you saw. Kept in the stash's file; a lesson comes back by\n"
    "itself when the same piece, a like cloth or the same feature is checked, picked or sewn.",
)

File = Annotated[Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)]
Number = Annotated[int, typer.Argument(help="The entry's number, as 'advisor log list' shows it.", show_default=False)]
Saw = Annotated[
    list[str],
    typer.Option("--saw", help="What you saw, in short words: 'frayed 4 of 5', 'hem: waved'. Repeatable.", show_default=False),
]
Well = Annotated[list[str], typer.Option("--well", help="The same, of something that went well.", show_default=False)]
Badly = Annotated[list[str], typer.Option("--badly", help="The same, of something that went wrong.", show_default=False)]


def _path(file: Path | None) -> Path:
    from advisor.stash.place import default_path

    return (file or default_path()).absolute()


def _seen(saw: list[str], well: list[str], badly: list[str], known: Knowledge) -> tuple[Observation, ...]:
    from advisor.log.grammar import split

    return tuple(
        one
        for lines, went in ((saw, ""), (well, "well"), (badly, "badly"))
        for line in lines
        for one in split(line, went, known)  # type: ignore[arg-type]
    )


def _entry(done: Done, known: Knowledge) -> answers.EntryAnswer:
    from advisor.log.grammar import read

    return answers.EntryAnswer(
        done.number, done.make, done.day, done.cloth, done.piece or None, done.gone, list(done.features), done.metres,
        [answers.line_answer(read(one, known)) for one in done.observations],
    )  # fmt: skip


def _make(given: str, known: Knowledge) -> tuple[str, list[str]]:
    """(the make's name, its features in words): of a make file, or the words themselves."""
    path = Path(given)
    if path.suffix.lower() not in (".yaml", ".yml"):
        return given, []
    from advisor.makes import asks_of, read_make

    make = read_make(path)
    return make.make, [ask.given for ask in asks_of(make, known)]


@app.command("add")
def add(
    make: Annotated[str, typer.Argument(help="What you made: a name, or its make file.", show_default=False)],
    piece: Annotated[str, typer.Option("--piece", help="The piece of the stash it was made of.", show_default=False)] = "",
    cloth: Annotated[str, typer.Option("--cloth", help="Or its cloth in your own words.", show_default=False)] = "",
    features: Annotated[
        list[str], typer.Option("--for", help="A feature that it has. Repeatable; a make file brings its own.")
    ] = [],  # noqa: B006
    saw: Saw = [],  # noqa: B006
    well: Well = [],  # noqa: B006
    badly: Badly = [],  # noqa: B006
    on: Annotated[str, typer.Option("--on", help="When it was done: 2025-03-01, 2025-03 or 2025; today if not said.")] = "",
    used: Annotated[str, typer.Option("--used", help="What it took; of a piece, it is cut off: '1.8 m'.")] = "",
    units: Units = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Write down a make that is done, and what you saw."""
    from advisor import advise
    from advisor.asks import read_ask
    from advisor.log import keeping
    from advisor.log.likeness import snapshot
    from advisor.stash import measures, pieces, shelf, store
    from advisor.stash.pieces import words_for

    if bool(piece) == bool(cloth):
        raise Unclear(f"'{make[:60]}' with {'both --piece and' if piece else 'neither --piece nor'} --cloth", "one of them")
    known, path = knowledge_from(knowledge), _path(stash)
    name, own = _make(make, known)
    asked = [*own, *features]
    for feature in asked:
        read_ask(feature, known)
    seen = _seen(saw, well, badly, known)
    metres = measures.length_m(used, units, what="length used") if used else None
    day = measures.day(on) if on.strip() else store.today()
    if piece:
        with store.reading(path) as db:
            held = store.find(db, piece)
        words, profile = words_for(held), shelf.named(piece, known, path)
    else:
        words, profile = cloth, advise.profile_of(cloth, known)
    entry = Done(name, day, words, snapshot(profile), piece, tuple(asked), metres, seen, store.today())
    left: float | None = None
    with store.changing(path, make=True) as db:
        entry = keeping.add(db, entry)
        if piece and metres:
            left = store.replace_piece(db, piece, pieces.cut(store.find(db, piece), metres, day=day, make=name)).left_m
    notes = [] if seen else ["no observations yet; 'advisor log note' adds them"]
    _show(answers.LogAnswer(str(path), "added", _entry(entry, known), notes, left), json, units, known)


@app.command("note")
def note(
    number: Number,
    words: Annotated[str, typer.Argument(help="What you saw, as with --saw.", show_default=False)] = "",
    saw: Saw = [],  # noqa: B006
    well: Well = [],  # noqa: B006
    badly: Badly = [],  # noqa: B006
    units: Units = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Add what you saw since, in wear or in the wash."""
    from advisor.log import keeping
    from advisor.stash import store

    known, path = knowledge_from(knowledge), _path(stash)
    seen = _seen([words, *saw] if words.strip() else saw, well, badly, known)
    if not seen:
        raise Unclear(f"a note on entry {number} without words", "--saw, --well or --badly", "--saw 'shrank 3 % in the wash'")
    with store.changing(path) as db:
        entry = keeping.note(db, number, seen)
    _show(answers.LogAnswer(str(path), "noted", _entry(entry, known)), json, units, known)


@app.command("list")
def list_(
    word: Annotated[str, typer.Argument(help="Only entries that hold these words.", show_default=False)] = "",
    units: Units = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """The makes that are done, the newest first."""
    from advisor.log import keeping
    from advisor.stash import store

    known, path = knowledge_from(knowledge), _path(stash)
    log: list[Done] = []
    if stash is not None or path.exists():
        with store.reading(path) as db:
            log = keeping.everything(db)
    wanted = [w.casefold() for w in word.split()]
    found = [
        d for d in log
        if all(w in " ".join((d.make, d.day, d.piece, d.cloth, *d.features, *(o.line for o in d.observations))).casefold() for w in wanted)
    ]  # fmt: skip
    answer = answers.LogListAnswer(str(path), [_entry(d, known) for d in found], len(log))
    if json:
        emit(answer)
        return
    paper = Paper()
    for entry in answer.entries:
        _lines(paper, entry, known)
        paper.line()
    if not log:
        paper.line("The log is empty. Write a make down with, for example:")
        paper.line('  advisor log add "tea dress" --piece "blue challis" --saw "frayed 4 of 5"')
    else:
        paper.item(f"{len(found)} of {len(log)} makes.", bullet="", indent=0)
    paper.show()


@app.command("show")
def show(
    number: Number, units: Units = "", stash: File = None, json: Json = False, knowledge: Folders = []  # noqa: B006
) -> None:
    """One entry, and how each of its lines was read."""
    from advisor.log import keeping
    from advisor.stash import store

    known, path = knowledge_from(knowledge), _path(stash)
    with store.reading(path) as db:
        entry = keeping.find(db, number)
    _show(answers.LogAnswer(str(path), "shown", _entry(entry, known)), json, units, known)


@app.command("remove")
def remove(
    number: Number, units: Units = "", stash: File = None, json: Json = False, knowledge: Folders = []  # noqa: B006
) -> None:
    """Take an entry out of the log, after a backup."""
    from advisor.log import keeping
    from advisor.stash import store
    from advisor.stash.backup import back_up

    known, path = knowledge_from(knowledge), _path(stash)
    with store.changing(path) as db:
        keeping.find(db, number)
        copy = back_up(path, "before-removal")
        entry = keeping.remove(db, number)
    _show(answers.LogAnswer(str(path), "removed", _entry(entry, known), backup=str(copy)), json, units, known)


@app.command("export")
def export(
    file: Annotated[Path, typer.Argument(help="Where to: a name ending in .json.", show_default=False)],
    over: Annotated[bool, typer.Option("--replace", help="Write over a file that exists.")] = False,
    stash: File = None,
    json: Json = False,
) -> None:
    """Write the whole log out; 'log import' reads it back."""
    from advisor.log import exporting, keeping
    from advisor.stash import store
    from advisor.stash.exporting import write

    with store.reading(_path(stash)) as db:
        log = keeping.everything(db)
    write(exporting.to_json(log), file, over=over)
    answer = answers.LogFileAnswer(str(_path(stash)), str(file.absolute()), "exported", len(log), 0)
    emit(answer) if json else print(f"{len(log)} makes written to {file}.")


@app.command("import")
def import_(
    file: Annotated[Path, typer.Argument(help="What 'log export' wrote.", show_default=False)],
    stash: File = None,
    json: Json = False,
) -> None:
    """Bring a log in; what is there already is not added twice."""
    from advisor.log import exporting
    from advisor.stash import store
    from advisor.stash.backup import back_up

    entries, path = exporting.from_json(file), _path(stash)
    with store.changing(path, make=True) as db:
        copy = back_up(path, "before-import")
        added = exporting.take_in(db, entries)
    answer = answers.LogFileAnswer(str(path), str(file), "imported", len(entries), added, str(copy))
    emit(answer) if json else print(
        f"{added} of {len(entries)} makes brought in" + ("." if added == len(entries) else "; the others were there already.")
    )


def _show(answer: answers.LogAnswer, json: bool, units: str, known: Knowledge) -> None:
    if json:
        emit(answer)
        return
    from advisor.stash.measures import show_length

    paper = Paper()
    _lines(paper, answer.entry, known, full=True)
    if answer.entry.metres:
        paper.item(f"took {show_length(answer.entry.metres, units)}" + (f"; {show_length(answer.left_m, units)} left" if answer.left_m is not None else ""))
    for text in answer.notes:
        paper.item(text[0].upper() + text[1:] + ".", bullet="", indent=0)
    if answer.did == "removed":
        paper.item(f"Removed. The stash as it was before is kept in {answer.backup}.", bullet="", indent=0)
    paper.show()


def _lines(paper: Paper, entry: answers.EntryAnswer, known: Knowledge, *, full: bool = False) -> None:
    """An entry: what, when and of what; then its lines, with how they were read where `full`."""
    of = f"{entry.piece}{' (not in the stash)' if entry.gone else ''}" if entry.piece else entry.cloth
    paper.line(f"{entry.entry}. {entry.make}, {entry.day}", "bold")
    paper.item(f"of {of}", bullet="", indent=2)
    if full and entry.features:
        paper.item(f"with {', '.join(entry.features)}", bullet="", indent=2)
    for line in entry.observations:
        went = {"well": " (well)", "badly": " (badly)"}.get(line.went, "")
        paper.item(f"{line.line}{went}" + (f" → {read_as(line, known)}" if full else ""))


def read_as(line: answers.LineAnswer, known: Knowledge) -> str:
    """How a line was read, in words."""
    said = [label(f) for f in line.features]
    if line.property:
        prop = known.properties[line.property]
        if line.range:
            unit = "" if prop.unit == "grade" else f" {prop.unit}"
            said.append(f"{prop.name} {line.range.low:g} to {line.range.high:g}{unit}")
        else:
            side = {"low": ", on its low side", "high": ", on its high side"}.get(line.side, "")
            said.append(f"{prop.name}{side}")
    if line.rule:
        said.append(f"the rule {line.rule}")
    if line.unknown_tie:
        said.append(f"'{line.unknown_tie}' is no feature, property or rule")
    return "; ".join(said) or "kept as it is; comes back with this cloth and its like"
