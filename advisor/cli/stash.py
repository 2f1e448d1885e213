"""`advisor stash`: the cloth that you own."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from
from advisor.errors import Unclear
from advisor.stash import answers, measures, pieces, store
from advisor.stash.fields import with_fields
from advisor.stash.pieces import Piece, Understood

if TYPE_CHECKING:
    from collections.abc import Iterator

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="The cloth that you own: put it in, find it, cut from it, bring lists in and out, keep it safe.",
)

File = Annotated[
    Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)
]
In = Units
Name = Annotated[str, typer.Argument(help="The piece's name.", show_default=False)]
Width = Annotated[str | None, typer.Option("--width", help="Usable width: '150 cm', '45 in'.", show_default=False)]
Lengths = Annotated[
    list[str],
    typer.Option("--length", help="Length left: '2 yd'; several: '2 m + 1.5 m'. Repeatable.", show_default=False),
]
Bought = Annotated[str | None, typer.Option("--bought", help="When: 2024-05-03, 2024-05 or 2024.", show_default=False)]
Kept = Annotated[str | None, typer.Option("--kept", help="Where it is kept.", show_default=False)]
Price = Annotated[
    str | None, typer.Option("--price", help="'12.50 GBP' in all, or '6 GBP a metre'.", show_default=False)
]
Prewashed = Annotated[bool | None, typer.Option("--prewashed/--not-prewashed", help="Washed since it was bought?")]
Shrank = Annotated[
    str | None,
    typer.Option("--shrank", help="What the pre-wash took, in % along x across: '5 x 3'.", show_default=False),
]
Tests = Annotated[
    str | None,
    typer.Option("--tests", help="What you measured: 'drape 34 %, stretch across 12 %'.", show_default=False),
]
Photo = Annotated[str | None, typer.Option("--photo", help="A photograph's file.", show_default=False)]
ReserveFor = Annotated[str, typer.Option("--reserve-for", help="Keep it for this make.", show_default=False)]
ReserveLength = Annotated[
    str, typer.Option("--reserve-length", help="How much to keep; all that is free if not said.", show_default=False)
]


def _count(pieces: int) -> str:
    return f"{pieces} piece" if pieces == 1 else f"{pieces} pieces"


def _path(file: Path | None) -> Path:
    return (file or store.default_path()).absolute()


@contextmanager
def _reading(file: Path | None) -> Iterator[Any]:
    """The stash, or nothing where the usual file was never begun."""
    path = _path(file)
    if file is None and not path.exists():
        yield None
    else:
        with store.reading(path) as db:
            yield db


def _understood(description: str, tests: str, folders: list[Path]) -> Understood:
    from advisor.stash.reading import understanding

    return understanding(knowledge_from(folders))(description, tests)


def _lengths(given: list[str], units: str) -> tuple[float, ...]:
    return tuple(length for text in given for length in measures.lengths_m(text, units))


def _metres(text: str, units: str) -> float | None:
    return measures.length_m(text, units, what="reserved length") if text.strip() else None


def _answer(did: Any, file: Path | None, piece: Piece, read: Understood | None = None) -> answers.PieceAnswer:
    read = read or Understood()
    notes = list(read.notes)
    if piece.photo and not Path(piece.photo).is_file():
        notes.append(f"the photograph '{piece.photo}' is not there")
    return answers.PieceAnswer(
        str(_path(file)), did, piece, piece.left_m, piece.reserved_m, piece.free_m,
        not_understood=list(read.not_understood), nearest=dict(read.nearest), notes=notes,
    )  # fmt: skip


def _show(answer: answers.PieceAnswer, json: bool, units: str) -> None:
    measures.bare_units(units)
    if json:
        emit(answer)
        return
    piece, paper = answer.piece, Paper()
    paper.line(piece.name + (", taken out of the stash" if answer.did == "removed" else ""), "bold")
    if piece.description != piece.name:
        paper.item(piece.description, bullet="", indent=0)
    if answer.read_as:
        paper.item(f"Read as {answer.read_as}.", bullet="", indent=0, style="dim")
    if answer.not_understood:
        words = ", ".join(
            f"{w} (nearest: {answer.nearest[w]})" if w in answer.nearest else w for w in answer.not_understood
        )
        paper.item(f"Not understood, and left out: {words}.", bullet="", indent=0)
    for note in answer.notes:
        paper.item(note[0].upper() + note[1:] + ".", bullet="", indent=0, style="dim")
    for line in _facts(piece, units):
        paper.item(line)
    for note in piece.notes:
        paper.item(f"note: {note}")
    for line in answer.log:
        paper.item(f"your log: {line}")
    if answer.backup:
        paper.item(f"The stash as it was before is kept in {answer.backup}.", bullet="", indent=0)
    paper.show()


def _facts(piece: Piece, units: str) -> list[str]:
    """What is known of a piece, a line a fact."""
    show = measures.show_length
    lines = []
    if piece.lengths_m:
        each = ", ".join(show(v, units) for v in piece.lengths_m)
        lines.append(
            f"{show(piece.left_m, units)} left"
            + (f" in {len(piece.lengths_m)} lengths: {each}" if len(piece.lengths_m) > 1 else "")
        )
    else:
        lines.append("used up" if piece.cuts else "no length given")
    lines += [f"{show(r.metres, units)} reserved for {r.make}" for r in piece.reserved]
    if piece.width_cm:
        lines.append(f"{measures.show_width(piece.width_cm, units)} wide")
    if piece.prewashed is not None:
        ways = (("along", piece.shrank_along_pct), ("across", piece.shrank_across_pct))
        shrunk = " and ".join(f"{value:g} % {way}" for way, value in ways if value is not None)
        lines.append(("pre-washed" if piece.prewashed else "not pre-washed") + (f"; shrank {shrunk}" if shrunk else ""))
    elif piece.shrank_along_pct is not None or piece.shrank_across_pct is not None:
        lines.append(f"shrank {piece.shrank_along_pct or 0:g} % along, {piece.shrank_across_pct or 0:g} % across")
    if piece.tests:
        lines.append(f"measured: {piece.tests}")
    if piece.bought or piece.price:
        per = {"m": " a metre", "yd": " a yard"}.get(piece.price_for, "")
        lines.append(
            " ".join(
                p
                for p in (
                    "bought",
                    piece.bought,
                    f"for {piece.price} {piece.currency}".strip() + per if piece.price else "",
                )
                if p
            )
        )
    if piece.kept:
        lines.append(f"kept in: {piece.kept}")
    if piece.photo:
        lines.append(f"photograph: {piece.photo}")
    lines += [f"{c.day}: {show(c.metres, units)} cut" + (f" for {c.make}" if c.make else "") for c in piece.cuts]
    return lines


@app.command("add")
def add(
    cloth: Annotated[str, typer.Argument(help="The cloth in your own words.", show_default=False)],
    name: Annotated[str, typer.Option("--name", help="Your own name for it; its words if not said.")] = "",
    width: Width = None,
    length: Lengths = [],  # noqa: B006
    bought: Bought = None,
    kept: Kept = None,
    price: Price = None,
    prewashed: Prewashed = None,
    shrank: Shrank = None,
    tests: Tests = None,
    photo: Photo = None,
    note: Annotated[list[str], typer.Option("--note", help="A note. Repeatable.")] = [],  # noqa: B006
    reserve_for: ReserveFor = "",
    reserve_length: ReserveLength = "",
    units: In = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Put a piece into the stash. Width and length may also stand in the words themselves."""
    measures.bare_units(units)
    read = _understood(cloth, tests or "", knowledge)
    piece = Piece(
        name=name or pieces.name_from(cloth), description=cloth, lengths_m=_lengths(length, units),
        prewashed=prewashed, notes=tuple(note), added=store.today(),
        width_cm=None if read.width_cm is None else round(read.width_cm, 2),
    )  # fmt: skip
    if not length and read.length_m:
        piece = replace(piece, lengths_m=(round(read.length_m, 4),))
    piece = with_fields(
        piece,
        units,
        {
            "width": width,
            "bought": bought,
            "kept": kept,
            "price": price,
            "shrank": shrank,
            "tests": tests,
            "photo": photo,
        },
    )
    if reserve_for or reserve_length:
        piece = pieces.reserve(piece, reserve_for, _metres(reserve_length, units))
    with store.changing(_path(stash), make=True) as db:
        piece = store.add(db, piece)
    _show(_answer("added", stash, piece, read), json, units)


@app.command("list")
def list_(
    word: Annotated[str, typer.Argument(help="Only pieces that hold these words.", show_default=False)] = "",
    at_least: Annotated[str, typer.Option("--at-least", help="Only with one length this long: '1.5 m'.")] = "",
    everything: Annotated[bool, typer.Option("--all", help="Used-up pieces too.")] = False,
    units: In = "",
    stash: File = None,
    json: Json = False,
) -> None:
    """The pieces that there are, with what is left of each."""
    measures.bare_units(units)
    wanted = [w.casefold() for w in word.split()]
    least = measures.length_m(at_least, units) if at_least else 0.0
    with _reading(stash) as db:
        held = store.pieces(db) if db else []
    found = [
        p
        for p in held
        if (everything or p.lengths_m or not p.cuts)
        and (not least or max(p.lengths_m, default=0) >= least)
        and all(
            w in " ".join((p.name, p.description, p.kept, *p.notes, *(r.make for r in p.reserved))).casefold()
            for w in wanted
        )
    ]
    total = round(sum(p.left_m for p in found), 4)
    answer = answers.ListAnswer(
        str(_path(stash)), [answers.ListedPiece(p, p.left_m, p.reserved_m, p.free_m) for p in found], total, len(held)
    )
    if json:
        emit(answer)
        return
    paper = Paper()
    for piece in found:
        left = (
            measures.show_length(piece.left_m, units)
            if piece.lengths_m
            else "used up"
            if piece.cuts
            else "no length given"
        )
        parts = [left + (f" in {len(piece.lengths_m)} lengths" if len(piece.lengths_m) > 1 else "")]
        parts += [f"{measures.show_width(piece.width_cm, units)} wide"] if piece.width_cm else []
        parts += (
            [
                f"{measures.show_length(piece.reserved_m, units)} reserved for {', '.join(r.make for r in piece.reserved)}"
            ]
            if piece.reserved
            else []
        )
        parts += [f"in {piece.kept}"] if piece.kept else []
        paper.item(f"{piece.name}: {', '.join(parts)}", indent=0)
    if not held:
        paper.line("The stash is empty. Put a piece in with, for example:")
        paper.line('  advisor stash add "blue linen, 180 gsm" --length "2 m"')
    else:
        paper.item(
            f"{len(found)} of {_count(len(held))}, {measures.show_length(total, units)} in all.", bullet="", indent=0
        )
    paper.show()


@app.command("show")
def show(name: Name, units: In = "", stash: File = None, json: Json = False, knowledge: Folders = []) -> None:  # noqa: B006
    """All that is known of a piece, and how it is read."""
    from advisor import advise
    from advisor.log import keeping
    from advisor.stash import shelf
    from advisor.stash.enough import laying_tables
    from advisor.stash.reading import understanding

    with store.reading(_path(stash)) as db:
        piece, log = store.find(db, name), keeping.everything(db)
    known = knowledge_from(knowledge)
    try:
        answer = _answer("shown", stash, piece, understanding(known)(piece.description, piece.tests))
        profile = shelf.profile_of_piece(piece, log, known, laying_tables(known))
        answer.read_as = advise.cloth_report(profile, known).read_as
    except Unclear as error:  # the knowledge has changed since it was put in
        answer = _answer("shown", stash, piece)
        answer.notes.append(f"its words are not understood ({error.line().rstrip('.')})")
    answer.log = [f"{one.line} ({d.make}, {d.day})" for d in shelf.log_of(piece.name, log) for one in d.observations]
    _show(answer, json, units)


@app.command("edit")
def edit(
    name: Name,
    new_name: Annotated[str | None, typer.Option("--name", help="Another name.", show_default=False)] = None,
    description: Annotated[str | None, typer.Option("--description", help="Other words.", show_default=False)] = None,
    width: Width = None,
    length: Lengths = [],  # noqa: B006
    add_length: Annotated[list[str], typer.Option("--add-length", help="More of the same cloth. Repeatable.")] = [],  # noqa: B006
    bought: Bought = None,
    kept: Kept = None,
    price: Price = None,
    prewashed: Prewashed = None,
    shrank: Shrank = None,
    tests: Tests = None,
    photo: Photo = None,
    notes: Annotated[
        str | None, typer.Option("--notes", help="These notes instead of all there are.", show_default=False)
    ] = None,
    reserve_for: ReserveFor = "",
    reserve_length: ReserveLength = "",
    release: Annotated[list[str], typer.Option("--release", help="Reserved for this make no longer. Repeatable.")] = [],  # noqa: B006
    remove: Annotated[bool, typer.Option("--remove", help="Take the piece out of the stash (after a backup).")] = False,
    units: In = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Change what is known of a piece.

    An empty text ('') clears a field; --length sets all lengths anew.
    """
    measures.bare_units(units)
    path, read = _path(stash), Understood()
    given = {
        "width": width,
        "bought": bought,
        "kept": kept,
        "price": price,
        "shrank": shrank,
        "tests": tests,
        "photo": photo,
    }
    others = (new_name, description, prewashed, notes, *given.values())
    if all(v is None for v in others) and not (
        length or add_length or reserve_for or reserve_length or release or remove
    ):
        raise Unclear(
            f"an edit of '{name}' without a change",
            "an option such as --kept, --add-length or --reserve-for (see --help)",
        )
    if remove:
        _remove(name, stash, json, units)
        return
    known = knowledge_from(knowledge) if description is not None or tests else None
    with store.changing(path) as db:
        piece = store.find(db, name)
        piece = replace(piece, name=piece.name if new_name is None else new_name)
        piece = replace(piece, description=piece.description if description is None else description)
        if length:
            piece = replace(piece, lengths_m=_lengths(length, units))
        piece = replace(piece, lengths_m=piece.lengths_m + _lengths(add_length, units))
        piece = with_fields(piece, units, given)
        if prewashed is not None:
            piece = replace(piece, prewashed=prewashed)
        if notes is not None:
            piece = replace(piece, notes=pieces.lines_of([notes]))
        for make in release:
            piece = pieces.release(piece, make)
        if reserve_for or reserve_length:
            piece = pieces.reserve(piece, reserve_for, _metres(reserve_length, units))
        if known is not None:
            from advisor.stash.reading import understanding

            read = understanding(known)(piece.description, piece.tests)
        piece = store.replace_piece(db, name, piece)
    _show(_answer("edited", stash, piece, read), json, units)


@app.command("remove")
def remove_(name: Name, units: In = "", stash: File = None, json: Json = False) -> None:
    """Take a piece out of the stash, after a backup."""
    measures.bare_units(units)
    _remove(name, stash, json, units)


def _remove(name: str, stash: Path | None, json: bool, units: str) -> None:
    from advisor.stash.backup import back_up

    path = _path(stash)
    with store.changing(path) as db:
        store.find(db, name)
        copy = back_up(path, "before-removal")
        piece = store.remove(db, name)
    answer = _answer("removed", stash, piece)
    answer.backup = str(copy)
    _show(answer, json, units)


@app.command("use")
def use(
    name: Name,
    length: Annotated[str, typer.Argument(help="What is cut off: '1.4 m', '2 yd', or all.", show_default=False)],
    make: Annotated[str, typer.Option("--for", help="For which make; its reservation is used up.")] = "",
    number: Annotated[
        int | None, typer.Option("--from", help="From which of several lengths, counted from 1.", show_default=False)
    ] = None,
    units: In = "",
    stash: File = None,
    json: Json = False,
) -> None:
    """Cut a length off; the remnant stays in the stash. Of several lengths the shortest that is long enough is cut."""
    measures.bare_units(units)
    whole = length.strip().lower() == "all"
    metres = 0.0 if whole else measures.length_m(length, units, what="cut")
    with store.changing(_path(stash)) as db:
        piece = store.find(db, name)
        if whole:
            if len(piece.lengths_m) > 1 and number is None:
                raise Unclear(
                    f"all of '{piece.name}', which has {len(piece.lengths_m)} lengths", "--from with the number of one"
                )
            at = (number or 1) - 1
            metres = piece.lengths_m[at] if 0 <= at < len(piece.lengths_m) else measures.MOST_M
        piece = store.replace_piece(db, name, pieces.cut(piece, metres, day=store.today(), make=make, number=number))
    _show(_answer("used", stash, piece), json, units)


@app.command("note")
def note(
    name: Name,
    text: Annotated[str, typer.Argument(help="The note.", show_default=False)],
    stash: File = None,
    units: In = "",
    json: Json = False,
) -> None:
    """Add a note with today's date."""
    lines = pieces.lines_of([text])
    if not lines:
        raise Unclear("an empty note", "a note in words")
    with store.changing(_path(stash)) as db:
        piece = store.find(db, name)
        piece = store.replace_piece(
            db, name, replace(piece, notes=(*piece.notes, f"{store.today()} {lines[0]}", *lines[1:]))
        )
    _show(_answer("noted", stash, piece), json, units)


@contextmanager
def _bar(shown: bool, says: str) -> Iterator[Callable[[int, int], None] | None]:
    """A progress bar on standard error where that is a terminal."""
    if not (shown and sys.stderr.isatty()):
        yield None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(says, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)


@app.command("import")
def import_(
    file: Annotated[
        Path, typer.Argument(help="A list of cloth: CSV, XLSX, ODS, or this stash's own JSON.", show_default=False)
    ],
    yes: Annotated[bool, typer.Option("--yes", help="Take the columns as they are guessed.")] = False,
    mapping: Annotated[
        list[str], typer.Option("--map", help="heading=field; 'heading=' leaves a column out. Repeatable.")
    ] = [],  # noqa: B006
    sheet: Annotated[str, typer.Option("--sheet", help="Which sheet of a spreadsheet.")] = "",
    all_or_nothing: Annotated[bool, typer.Option("--all-or-nothing", help="One unreadable row keeps all out.")] = False,
    units: In = "",
    stash: File = None,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Bring in a list. Unreadable rows are listed and the rest go in; the same file twice adds nothing."""
    from advisor.stash import importing
    from advisor.stash.reading import understanding

    path = _path(stash)
    measures.bare_units(units)
    understand = understanding(knowledge_from(knowledge))
    columns: list[importing.Column] = []
    remarks: list[str] = []
    own = file.suffix.lower() == ".json"
    if own:
        if mapping or sheet:
            raise Unclear("--map or --sheet with the stash's own JSON", "neither, as nothing has to be guessed there")
        with _bar(not json, "reading") as progress:
            rows, refused = importing.rows_from_json(file, understand, progress)
    else:
        table = importing.read_table(file, sheet)
        columns, remarks = importing.propose(table, mapping, units), list(table.remarks)
        if not yes and not importing.is_sure(columns):
            told = [answers.ColumnAnswer(c.heading, c.field, c.unit, c.because) for c in columns]
            if json:
                emit(answers.ImportAnswer(str(path), str(file), False, told, [], 0, 0, [], {}, remarks))
                return
            _confirm(columns, remarks)
        with _bar(not json, "reading") as progress:
            rows, refused = importing.rows_of(table, columns, understand, units, progress, file.absolute().parent)
    named = own or any(c.field == "name" for c in columns)
    done = importing.take_in(path, rows, refused, all_or_nothing=all_or_nothing, given_names=named)
    words = {r.piece.name: list(r.understood.not_understood) for r in rows if r.understood.not_understood}
    answer = answers.ImportAnswer(
        str(path), str(file), True, [answers.ColumnAnswer(c.heading, c.field, c.unit, c.because) for c in columns],
        [p.name for p in done.added], done.joined, done.known, [answers.NotRead(r.row, r.why) for r in done.refused],
        words if done.added else {}, remarks, str(done.backup) if done.backup else None,
    )  # fmt: skip
    if json:
        emit(answer)
    else:
        _show_import(answer, columns, all_or_nothing)
    if all_or_nothing and done.refused:
        raise typer.Exit(2)


_UNITS_SAID = {"in": "inches", "m": "metres", "yd": "yards", "ft": "feet", "dmy": "the day first", "mdy": "the month first"}


def _column_lines(columns: list[Any]) -> list[str]:
    lines = []
    for column in columns:
        means = "left out" if column.field == "ignore" else column.field.replace("_", " ")
        bare = (
            ""
            if not column.unit
            else f", {column.unit}"
            if column.field == "price"
            else f", bare figures in {_UNITS_SAID.get(column.unit, column.unit)}"
            if column.field != "bought"
            else f", {_UNITS_SAID.get(column.unit, column.unit)}"
        )
        lines.append(f"{column.heading} → {means}{bare}" + (f" ({column.because})" if column.because else ""))
    return lines


def _confirm(columns: list[Any], remarks: list[str]) -> None:
    """Shows what was guessed and asks; without a terminal to ask on, says how to accept. Raises `Unclear` for a no."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        told = "; ".join(
            f"{c.heading} → {'left out' if c.field == 'ignore' else c.field}{f' in {c.unit}' if c.unit else ''}"
            for c in columns
        )
        raise Unclear(
            f"columns that were guessed ({told})", "--yes to take them so, or --map heading=field to say otherwise"
        )
    asked = Paper()
    asked.line("The columns are taken to mean:")
    for line in _column_lines(columns):
        asked.item(line)
    for remark in remarks:
        asked.item(remark, bullet="", indent=0)
    print("\n".join(asked.lines), file=sys.stderr)
    if not typer.confirm("Bring the list in so?", default=False, err=True):
        raise Unclear(
            "an import that was not confirmed", "--map heading=field to say what a column means; nothing was changed"
        )


def _show_import(answer: answers.ImportAnswer, columns: list[Any], all_or_nothing: bool) -> None:
    paper = Paper()
    count = len(answer.added)
    paper.line(f"{_count(count)} brought in.", "bold")
    if all_or_nothing and answer.not_read:
        paper.item(
            "Nothing was changed, as some rows cannot be read and --all-or-nothing was asked.", bullet="", indent=0
        )
    if answer.known:
        rows = "1 row was brought in before and was" if answer.known == 1 else f"{answer.known} rows were brought in before and were"
        paper.item(f"{rows} passed over.", bullet="", indent=0)
    if answer.joined:
        rows = "1 row is a further length" if answer.joined == 1 else f"{answer.joined} rows are further lengths"
        paper.item(f"{rows} of a piece named above.", bullet="", indent=0)
    for remark in answer.remarks:
        paper.item(remark[0].upper() + remark[1:] + ".", bullet="", indent=0)
    if columns:
        paper.head("Columns")
        for line in _column_lines(columns):
            paper.item(line)
        unknown = next((c.heading for c in columns if c.field == "ignore" and c.because == "not known"), "")
        if unknown:
            paper.item(f"To bring in a column that is left out: --map '{unknown}=length', or another field.", bullet="", indent=2)
    if answer.not_read:
        paper.head(f"Rows not read ({len(answer.not_read)})")
        for bad in answer.not_read:
            paper.item(f"row {bad.row}: {bad.why}")
    if answer.not_understood:
        paper.head("Words not understood, and kept as they are")
        for name, words in list(answer.not_understood.items())[:20]:
            paper.item(f"{name}: {', '.join(words)}")
        if len(answer.not_understood) > 20:
            paper.item(f"and in {len(answer.not_understood) - 20} more pieces (see --json)")
    if answer.backup:
        paper.line()
        paper.item(f"The stash as it was before is kept in {answer.backup}.", bullet="", indent=0)
    paper.show()


@app.command("export")
def export(
    file: Annotated[
        Path | None,
        typer.Argument(help="Where to: a name ending in .csv or .json; the screen if none.", show_default=False),
    ] = None,
    form: Annotated[str, typer.Option("--format", help="csv or json; by the file's name if not said.")] = "",
    over: Annotated[bool, typer.Option("--replace", help="Write over a file that exists.")] = False,
    stash: File = None,
    json: Json = False,
) -> None:
    """Write the whole stash out, metric.

    Nothing is left out, and 'stash import' reads it back.
    """
    from advisor.stash import exporting

    form = form or (file.suffix.lower().lstrip(".") if file else "json" if json else "csv")
    if file and not form:
        raise Unclear(f"export '{file}'", "a name that ends in .csv or .json", f"{file.name if file.name.strip('-.') else 'stash'}.csv")
    if form not in ("csv", "json"):
        raise Unclear(f"export as '{form[:20]}'", "csv or json", "csv")
    with _reading(stash) as db:
        held = store.pieces(db) if db else []
    text = exporting.to_csv(held) if form == "csv" else exporting.to_json(held)
    if file is None:
        sys.stdout.write(text.replace("\r\n", "\n"))
        return
    exporting.write(text, file, over=over)
    answer = answers.ExportAnswer(str(_path(stash)), str(file.absolute()), form, len(held))  # type: ignore[arg-type]
    if json:
        emit(answer)
    else:
        print(f"{_count(len(held))} written to {file}.")


@app.command("backup")
def backup(
    file: Annotated[
        Path | None, typer.Argument(help="Where to; beside the stash if not said.", show_default=False)
    ] = None,
    shown: Annotated[bool, typer.Option("--list", help="Show the backups that there are, and make none.")] = False,
    stash: File = None,
    json: Json = False,
) -> None:
    """Make a checked copy of the stash."""
    from advisor.stash.backup import back_up, backups_of

    path = _path(stash)
    copy = None if shown else back_up(path, "asked", file.absolute() if file else None)
    held = 0
    if copy:
        with store.reading(path) as db:
            held = len(store.names(db))
    answer = answers.BackupAnswer(str(path), str(copy) if copy else None, held, [str(f) for f in backups_of(path)])
    if json:
        emit(answer)
    elif copy:
        print(f"{_count(held)} copied to {copy}.")
    else:
        print("\n".join(answer.backups) or f"No backups of {path} yet.")


@app.command("restore")
def restore(
    file: Annotated[
        Path | None, typer.Argument(help="Which backup; the newest if not said.", show_default=False)
    ] = None,
    stash: File = None,
    json: Json = False,
) -> None:
    """Bring a backup back. The stash that it replaces is kept."""
    from advisor.stash.backup import restore as bring_back

    path = _path(stash)
    source, kept = bring_back(path, file.absolute() if file else None)
    with store.reading(path) as db:
        held = len(store.names(db))
    answer = answers.RestoreAnswer(str(path), str(source), held, str(kept) if kept else None)
    if json:
        emit(answer)
    else:
        print(f"{_count(held)} brought back from {source}.")
        if kept:
            print(f"What was there before is kept in {kept}.")
