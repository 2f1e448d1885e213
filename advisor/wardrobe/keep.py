"""The wardrobe in the stash's file. Every function works inside a transaction that `store.changing` or `reading` opened."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from advisor.errors import Unclear
from advisor.stash.pieces import key_of, nearest_names
from advisor.stash.store import rows_as_written
from advisor.wardrobe.garments import MOST, Garment

if TYPE_CHECKING:
    from sqlite3 import Connection

Shelf = Literal["garment", "wish"]
"""What is owned, and what is wished for: two tables of one form."""


@rows_as_written()
def garments(db: Connection, shelf: Shelf) -> list[Garment]:
    """All that is owned or wished for, in the order in which it was added."""
    rows = db.execute(f"SELECT name, type, seasons, colour, pieces, added FROM {shelf} ORDER BY id")
    return [Garment(n, t, tuple(s.split()), c, int(p), a) for n, t, s, c, p, a in rows]


def add(db: Connection, shelf: Shelf, garment: Garment) -> Garment:
    """Adds a garment and returns it as kept: more of one that is there raise its number. Raises `Unclear`."""
    there = next((g for g in garments(db, shelf) if key_of(g.name) == key_of(garment.name)), None)
    if there is None:
        db.execute(
            f"INSERT INTO {shelf} (name, key, type, seasons, colour, pieces, added) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (garment.name, key_of(garment.name), garment.type, " ".join(garment.seasons), garment.colour,
             garment.pieces, garment.added),
        )  # fmt: skip
        return garment
    if (there.type, there.seasons, there.colour) != (garment.type, garment.seasons, garment.colour):
        raise Unclear(f"the name '{garment.name}', which is taken by another garment", "a name of its own")
    pieces = there.pieces + garment.pieces
    if pieces > MOST:
        raise Unclear(f"{pieces} of '{garment.name}'", f"at most {MOST}")
    db.execute(f"UPDATE {shelf} SET pieces = ? WHERE key = ?", (pieces, key_of(garment.name)))
    return Garment(there.name, there.type, there.seasons, there.colour, pieces, there.added)


def remove(db: Connection, shelf: Shelf, name: str) -> Garment:
    """Takes a garment out and returns it as it was; raises `Unclear` with the nearest names."""
    known = garments(db, shelf)
    there = next((g for g in known if key_of(g.name) == key_of(name)), None)
    if there is None:
        kind = "a garment that 'advisor wardrobe list' shows" if shelf == "garment" else "a wish that was made"
        raise Unclear(f"'{name.strip()[:60]}'", kind, nearest_names(name, [g.name for g in known]))
    db.execute(f"DELETE FROM {shelf} WHERE key = ?", (key_of(name),))
    return there
