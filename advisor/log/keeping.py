"""The log in the stash's file: entries in, out and away, each within the transaction that the store opened."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import replace

import msgspec

from advisor.errors import Unclear
from advisor.log.done import Done, Observation, Snapshot, checked
from advisor.stash import store
from advisor.stash.pieces import key_of


def add(db: sqlite3.Connection, done: Done) -> Done:
    """Adds an entry and returns it as kept, with its number; raises `Unclear` for a piece that is not there.

    An entry whose piece is gone keeps only its name.
    """
    done = checked(done)
    piece: int | None = None
    if done.piece and not done.gone:
        store.find(db, done.piece)  # says the nearest names where there is none
        piece = int(db.execute("SELECT id FROM piece WHERE key = ?", (key_of(done.piece),)).fetchone()[0])
    row = db.execute(
        "INSERT INTO done (make, day, cloth, piece_name, piece, features, metres, known, added) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            done.make, done.day, done.cloth, done.piece, piece, "\n".join(done.features), done.metres,
            msgspec.json.encode(done.known).decode(), done.added,
        ),
    )  # fmt: skip
    number = int(row.lastrowid or 0)
    _write(db, number, done.observations)
    return find(db, number)


def note(db: sqlite3.Connection, number: int, seen: Iterable[Observation]) -> Done:
    """Adds observations to an entry; raises `Unclear` where there is none of this number."""
    was = find(db, number)
    now = checked(replace(was, observations=(*was.observations, *seen)))
    db.execute("DELETE FROM observation WHERE done = ?", (number,))
    _write(db, number, now.observations)
    return find(db, number)


def _write(db: sqlite3.Connection, number: int, seen: Iterable[Observation]) -> None:
    db.executemany(
        "INSERT INTO observation VALUES (?, ?, ?, ?)",
        [(number, place, one.line, one.went) for place, one in enumerate(seen)],
    )


def remove(db: sqlite3.Connection, number: int) -> Done:
    """Takes an entry out and returns it as it was."""
    was = find(db, number)
    db.execute("DELETE FROM done WHERE id = ?", (number,))
    return was


def find(db: sqlite3.Connection, number: int) -> Done:
    """The entry of this number; raises `Unclear` with the numbers that there are."""
    found = _done(db, "WHERE done.id = ?", (number,))
    if not found:
        last = db.execute("SELECT max(id) FROM done").fetchone()[0]
        raise Unclear(f"log entry {number}", "a number that 'advisor log list' shows", str(last) if last else "")
    return found[0]


def everything(db: sqlite3.Connection) -> list[Done]:
    """All entries, the newest first: by day, then by when they were written."""
    return _done(db, "", ())


@store.rows_as_written()
def _done(db: sqlite3.Connection, where: str, values: tuple[object, ...]) -> list[Done]:
    seen: dict[int, list[Observation]] = {}
    only = where.replace("done.id", "done")
    for number, line, went in db.execute(f"SELECT done, line, went FROM observation {only} ORDER BY done, place", values):
        seen.setdefault(number, []).append(Observation(line, went))
    rows = db.execute(
        "SELECT done.id, make, day, cloth, coalesce(piece.name, piece_name), piece.id, features, metres, known, done.added"
        f" FROM done LEFT JOIN piece ON piece.id = done.piece {where} ORDER BY day DESC, done.id DESC",
        values,
    )
    return [
        Done(
            make, day, cloth, msgspec.json.decode(known, type=Snapshot), piece,
            tuple(f for f in features.split("\n") if f), metres, tuple(seen.get(number, ())), added, number,
            gone=bool(piece) and row is None,
        )
        for number, make, day, cloth, piece, row, features, metres, known, added in rows
    ]  # fmt: skip
