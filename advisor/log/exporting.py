"""The log as JSON, with nothing left out, and back again; what is there already is not added twice."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

import msgspec

from advisor.errors import Unclear
from advisor.log import keeping
from advisor.log.done import Done, checked
from advisor.stash import store
from advisor.stash.pieces import key_of

FORM = 1


class ExportedLog(msgspec.Struct):
    """The JSON form of a log."""

    log: int
    makes: list[Done]


def to_json(log: Iterable[Done]) -> str:
    return msgspec.json.format(msgspec.json.encode(ExportedLog(FORM, list(log))), indent=2).decode() + "\n"


def from_json(path: Path) -> list[Done]:
    """The entries of an exported log; raises `Unclear` where the file is none."""
    try:
        found = msgspec.json.decode(path.read_bytes(), type=ExportedLog)
    except OSError as error:
        raise Unclear(f"log '{path}'", f"a file that can be read ({error.strerror})") from None
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise Unclear(f"log '{path}' ({str(error)[:100]})", "what 'advisor log export' wrote") from None
    if found.log > FORM:
        raise Unclear(f"log '{path}' in form {found.log}", f"form {FORM} or less; update the advisor")
    return [checked(done) for done in found.makes]


def _same(done: Done) -> Done:
    """An entry without what differs from file to file."""
    return replace(done, number=0, gone=False, piece=key_of(done.piece) if done.piece else "")


def take_in(db: sqlite3.Connection, entries: Sequence[Done]) -> int:
    """Adds the entries that are not there yet, the oldest first, and says how many; a piece that is not there stays a name."""
    known = [_same(done) for done in keeping.everything(db)]
    pieces = {key_of(name) for name in store.names(db)}
    added = 0
    for done in reversed(entries):
        if _same(done) not in known:
            keeping.add(db, replace(done, gone=bool(done.piece) and key_of(done.piece) not in pieces))
            added += 1
    return added
