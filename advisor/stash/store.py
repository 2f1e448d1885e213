"""The file that holds the stash: SQLite with a write-ahead log, foreign keys, and one transaction a command.

`reading(path)` and `changing(path)` are the two ways in. A change is wholly there or not at all, whatever happens
in between: a crash, a full disk, a second program. The file is made whole beside its place and then linked there,
so that no half-made file is ever met. Every fault of the file is raised as `StashFault`, one line that says what to do.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import astuple
from pathlib import Path

from advisor.errors import Unclear
from advisor.stash.pieces import Cut, Piece, Reserved, checked, key_of, nearest_names
from advisor.stash.place import default_path as default_path

APPLICATION = 0x46535453
"""Marks the file as a stash (PRAGMA application_id)."""

WAIT_S = 20.0
"""How long a command waits for another program that is writing."""

MIGRATIONS: Mapping[int, tuple[str, ...]] = {
    1: (
        """CREATE TABLE piece (
            id INTEGER PRIMARY KEY, name TEXT NOT NULL, key TEXT NOT NULL UNIQUE, description TEXT NOT NULL,
            width_cm REAL, bought TEXT NOT NULL, kept TEXT NOT NULL, price TEXT NOT NULL, currency TEXT NOT NULL,
            price_for TEXT NOT NULL CHECK (price_for IN ('', 'm', 'yd')), prewashed INTEGER CHECK (prewashed IN (0, 1)),
            shrank_along_pct REAL, shrank_across_pct REAL, tests TEXT NOT NULL, photo TEXT NOT NULL, added TEXT NOT NULL)""",
        """CREATE TABLE length (piece INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE, place INTEGER NOT NULL,
            metres REAL NOT NULL CHECK (metres > 0), PRIMARY KEY (piece, place)) WITHOUT ROWID""",
        """CREATE TABLE reserved (piece INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE, place INTEGER NOT NULL,
            make TEXT NOT NULL, metres REAL NOT NULL CHECK (metres > 0), PRIMARY KEY (piece, place)) WITHOUT ROWID""",
        """CREATE TABLE cut (piece INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE, place INTEGER NOT NULL,
            day TEXT NOT NULL, metres REAL NOT NULL CHECK (metres > 0), make TEXT NOT NULL,
            PRIMARY KEY (piece, place)) WITHOUT ROWID""",
        """CREATE TABLE note (piece INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE, place INTEGER NOT NULL,
            line TEXT NOT NULL, PRIMARY KEY (piece, place)) WITHOUT ROWID""",
        "CREATE TABLE imported (fingerprint TEXT PRIMARY KEY, day TEXT NOT NULL) WITHOUT ROWID",
    ),
    2: (  # the log of makes done: what was sewn of which cloth, and what was seen, in the maker's own words
        """CREATE TABLE done (
            id INTEGER PRIMARY KEY, make TEXT NOT NULL, day TEXT NOT NULL, cloth TEXT NOT NULL, piece_name TEXT NOT NULL,
            piece INTEGER REFERENCES piece ON DELETE SET NULL, features TEXT NOT NULL, metres REAL CHECK (metres > 0),
            known TEXT NOT NULL, added TEXT NOT NULL)""",
        "CREATE INDEX done_piece ON done (piece)",
        """CREATE TABLE observation (done INTEGER NOT NULL REFERENCES done ON DELETE CASCADE, place INTEGER NOT NULL,
            line TEXT NOT NULL, went TEXT NOT NULL CHECK (went IN ('', 'well', 'badly')), PRIMARY KEY (done, place)) WITHOUT ROWID""",
    ),
    3: (  # the wardrobe: garments owned, and what its owner wishes for; `type` is the id of a whole garment
        """CREATE TABLE garment (
            id INTEGER PRIMARY KEY, name TEXT NOT NULL, key TEXT NOT NULL UNIQUE, type TEXT NOT NULL, seasons TEXT NOT NULL,
            colour TEXT NOT NULL, pieces INTEGER NOT NULL CHECK (pieces > 0), added TEXT NOT NULL)""",
        """CREATE TABLE wish (
            id INTEGER PRIMARY KEY, name TEXT NOT NULL, key TEXT NOT NULL UNIQUE, type TEXT NOT NULL, seasons TEXT NOT NULL,
            colour TEXT NOT NULL, pieces INTEGER NOT NULL CHECK (pieces > 0), added TEXT NOT NULL)""",
    ),
}
"""Version → the statements that lead to it from the version before. Never change one that was released; add one."""

COLUMNS = (
    "name", "description", "width_cm", "bought", "kept", "price", "currency", "price_for", "prewashed",
    "shrank_along_pct", "shrank_across_pct", "tests", "photo", "added",
)  # fmt: skip
"""The fields of a piece that are columns of their own."""

FIGURES = ("width_cm", "shrank_along_pct", "shrank_across_pct")
TEXT = tuple(c for c in COLUMNS if c not in (*FIGURES, "prewashed"))


class StashFault(Unclear):
    """The stash's file cannot be used: what is wrong, and what to do."""

    def __init__(self, what: str, do: str) -> None:
        super().__init__(what, do)

    def line(self) -> str:
        return " ".join(f"{self.given}: {self.expected}.".split())


def version() -> int:
    """The version of the file that this program writes."""
    return max(MIGRATIONS)


def fault(error: BaseException, path: Path) -> StashFault:
    """An error of SQLite or of the system as one line."""
    name = getattr(error, "sqlite_errorname", "") or ""
    said = str(error).lower()
    number = getattr(error, "errno", None)
    if name.startswith("SQLITE_FULL") or "disk is full" in said or number in (27, 28, 122):  # EFBIG, ENOSPC, EDQUOT
        return StashFault(
            f"the disk that holds '{path}' is full", "nothing was changed; free some space and repeat the command"
        )
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")) or "locked" in said:
        return StashFault(
            f"another program has been writing to '{path}' for {WAIT_S:.0f} s",
            "nothing was changed; repeat the command when it is done",
        )
    if (
        name.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB"))
        or isinstance(error, UnicodeDecodeError)  # SQLite's own words, where they hold a turned byte of the schema
        or "malformed" in said
        or "not a database" in said
        or "could not decode" in said
    ):
        return damaged(path)
    if (
        name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM"))
        or isinstance(error, PermissionError)
        or number == 30
    ):
        return StashFault(
            f"'{path}' or its folder cannot be written",
            "nothing was changed; allow writing there, or name another file with --stash",
        )
    if name.startswith("SQLITE_IOERR") or isinstance(error, OSError):
        return StashFault(
            f"the disk refused to read or write '{path}' ({error})",
            "nothing was changed; look after the disk and its free space, then repeat",
        )
    return StashFault(
        f"'{path}' could not be used ({error})",
        "nothing was changed; restore a backup with 'advisor stash restore' if it happens again",
    )


def damaged(path: Path) -> StashFault:
    """The line for a file that is no stash any more."""
    from advisor.stash.backup import backups_of

    known = backups_of(path)
    newest = (
        f"the newest backup is '{known[0]}'; bring it back with 'advisor stash restore'"
        if known
        else "no backup was found beside it; put a copy in its place"
    )
    return StashFault(f"'{path}' is damaged, cut short, or no stash", newest)


def connect(path: Path) -> sqlite3.Connection:
    """A connection that starts no transaction by itself."""
    db = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("PRAGMA synchronous = FULL")
    return db


def _make(path: Path) -> None:
    """A new, empty stash, made whole under another name and then linked into place; another's newer one is kept."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-", suffix=".new")
    os.close(handle)
    try:
        db = connect(Path(name))
        try:
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("BEGIN IMMEDIATE")
            db.execute(f"PRAGMA application_id = {APPLICATION}")
            _migrate(db, 0)
            db.execute("COMMIT")
        finally:
            db.close()
        try:
            os.link(name, path)
        except FileExistsError:
            pass
        except OSError:  # a file system without links
            if not path.exists():
                os.replace(name, path)
    finally:
        for left in (name, f"{name}-wal", f"{name}-shm"):
            with suppress(FileNotFoundError):
                os.unlink(left)


def _migrate(db: sqlite3.Connection, now: int) -> None:
    for step in sorted(MIGRATIONS):
        if step > now:
            for statement in MIGRATIONS[step]:
                db.execute(statement)
            db.execute(f"PRAGMA user_version = {step}")


def version_of(db: sqlite3.Connection, path: Path) -> int:
    """The file's version; raises `StashFault` for a damaged file, another program's, or a newer version's."""
    try:
        application = db.execute("PRAGMA application_id").fetchone()[0]
        found = int(db.execute("PRAGMA user_version").fetchone()[0])
        sound = db.execute("PRAGMA quick_check(1)").fetchone()[0] == "ok"
    except (sqlite3.DatabaseError, UnicodeDecodeError, TypeError) as error:
        raise (damaged(path) if isinstance(error, TypeError) else fault(error, path)) from None
    if not sound:
        raise damaged(path)
    if application != APPLICATION:
        raise StashFault(
            f"'{path}' is a database of another program", "it was left alone; name the stash's own file with --stash"
        )
    if found > version():
        raise StashFault(
            f"'{path}' was written by a newer version (form {found}; this one knows {version()})",
            "it was left alone; update the advisor",
        )
    return found


def _up_to_date(db: sqlite3.Connection, path: Path) -> None:
    """Checks the file and brings it to the present version, after a backup."""
    if version_of(db, path) == version():
        return
    from advisor.stash.backup import back_up

    db.execute("BEGIN IMMEDIATE")
    try:
        now = int(db.execute("PRAGMA user_version").fetchone()[0])
        if now < version():
            back_up(path, "before-migration")
            _migrate(db, now)
        db.execute("COMMIT")
    except BaseException:
        _undo(db)
        raise


def _undo(db: sqlite3.Connection) -> None:
    if db.in_transaction:
        with suppress(sqlite3.Error):
            db.execute("ROLLBACK")


def _here(path: Path) -> None:
    """Refuses what can be no stash before SQLite sees it."""
    if path.is_dir():
        raise StashFault(f"'{path}' is a folder", "name the stash's file with --stash")
    if path.stat().st_size == 0:
        known = damaged(path)
        raise StashFault(f"'{path}' is empty, as if cut short", f"{known.expected}, or delete it to begin a new stash")


def _writable(path: Path) -> bool:
    return os.access(path.parent, os.W_OK) and (not path.exists() or os.access(path, os.W_OK))


@contextmanager
def changing(path: Path, *, make: bool = False) -> Iterator[sqlite3.Connection]:
    """One transaction that changes the stash: kept when the block ends, undone when it raises.

    The write lock is taken at the start, so what is read in the block stays true until it ends. `make` begins a new
    stash where there is none; otherwise a missing file raises `Unclear`.
    """
    try:
        if not path.exists():
            if not make:
                raise Unclear(f"stash '{path}'", "a file that exists; 'advisor stash add' begins one")
            if path == default_path():
                path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            if not path.parent.is_dir():
                raise Unclear(f"stash '{path}'", f"a folder '{path.parent}' that exists")
            _make(path)
        _here(path)
        if not _writable(path):
            raise fault(PermissionError(), path)
        db = connect(path)
    except (sqlite3.Error, OSError, UnicodeDecodeError) as error:
        raise fault(error, path) from None
    try:
        _up_to_date(db, path)
        db.execute("BEGIN IMMEDIATE")
        yield db
        db.execute("COMMIT")
    except (sqlite3.Error, OSError, UnicodeDecodeError) as error:
        _undo(db)
        raise fault(error, path) from None
    except BaseException:
        _undo(db)
        raise
    finally:
        _close(db)


@contextmanager
def reading(path: Path) -> Iterator[sqlite3.Connection]:
    """One consistent view of the stash; in a folder that cannot be written a copy is read. Raises `Unclear`."""
    with (
        tempfile.TemporaryDirectory(prefix="stash-") if path.exists() and not _writable(path) else _nothing() as folder
    ):
        try:
            if not path.exists():
                raise Unclear(f"stash '{path}'", "a file that exists; 'advisor stash add' begins one")
            _here(path)
            here = path
            if folder:
                here = Path(folder) / path.name
                for tail in ("", "-wal"):
                    if Path(f"{path}{tail}").exists():
                        shutil.copyfile(f"{path}{tail}", f"{here}{tail}")
            db = connect(here)
        except (sqlite3.Error, OSError, UnicodeDecodeError) as error:
            raise fault(error, path) from None
        try:
            if folder:
                version_of(db, path)
            _up_to_date(db, here)
            db.execute("BEGIN")
            yield db
        except (sqlite3.Error, UnicodeDecodeError) as error:
            raise fault(error, path) from None
        finally:
            _undo(db)
            _close(db)


@contextmanager
def rows_as_written() -> Iterator[None]:
    """Around reading rows: values of a kind that this program never writes are damage of the file."""
    try:
        yield
    except Unclear:
        raise
    except (ValueError, TypeError, OverflowError) as error:
        raise sqlite3.DatabaseError(f"malformed row ({error})") from None


@contextmanager
def _nothing() -> Iterator[str]:
    yield ""


def _close(db: sqlite3.Connection) -> None:
    """Closing folds the log into the file; where that fails the log stays beside it, and nothing is lost."""
    with suppress(sqlite3.Error):
        db.close()


# ---- pieces in the file ----


def add(db: sqlite3.Connection, piece: Piece) -> Piece:
    """Adds a piece and returns it as kept; raises `Unclear` where the name is taken."""
    piece = checked(piece)
    if db.execute("SELECT 1 FROM piece WHERE key = ?", (key_of(piece.name),)).fetchone():
        raise Unclear(
            f"the name '{piece.name}', which is taken",
            "another --name, or 'stash edit' with --add-length for more of the same cloth",
        )
    marks = ", ".join("?" * (len(COLUMNS) + 1))
    row = db.execute(
        f"INSERT INTO piece ({', '.join(COLUMNS)}, key) VALUES ({marks})",
        (*(getattr(piece, c) for c in COLUMNS), key_of(piece.name)),
    )
    _add_parts(db, int(row.lastrowid or 0), piece)
    return piece


def _add_parts(db: sqlite3.Connection, row: int, piece: Piece) -> None:
    for sql, values in (
        ("INSERT INTO length VALUES (?, ?, ?)", [(v,) for v in piece.lengths_m]),
        ("INSERT INTO reserved VALUES (?, ?, ?, ?)", [astuple(r) for r in piece.reserved]),
        ("INSERT INTO cut VALUES (?, ?, ?, ?, ?)", [astuple(c) for c in piece.cuts]),
        ("INSERT INTO note VALUES (?, ?, ?)", [(line,) for line in piece.notes]),
    ):
        db.executemany(sql, [(row, place, *value) for place, value in enumerate(values)])


def _row_of(db: sqlite3.Connection, name: str) -> tuple[int, str]:
    found = db.execute("SELECT id, name FROM piece WHERE key = ?", (key_of(name),)).fetchone()
    if found:
        with rows_as_written():
            return int(found[0]), str(found[1])
    near = nearest_names(name, names(db))
    raise Unclear(f"piece '{name[:60]}'", "the name of a piece that 'advisor stash list' shows", near)


def replace_piece(db: sqlite3.Connection, name: str, piece: Piece) -> Piece:
    """Puts a changed piece, perhaps renamed, in the place of the piece with this name; raises `Unclear`."""
    piece, (row, _) = checked(piece), _row_of(db, name)
    taken = db.execute("SELECT id FROM piece WHERE key = ?", (key_of(piece.name),)).fetchone()
    if taken and taken[0] != row:
        raise Unclear(f"the name '{piece.name}', which is taken", "a name that no other piece has")
    db.execute(
        f"UPDATE piece SET {', '.join(f'{c} = ?' for c in COLUMNS)}, key = ? WHERE id = ?",
        (*(getattr(piece, c) for c in COLUMNS), key_of(piece.name), row),
    )
    for table in ("length", "reserved", "cut", "note"):
        db.execute(f"DELETE FROM {table} WHERE piece = ?", (row,))
    _add_parts(db, row, piece)
    return piece


def remove(db: sqlite3.Connection, name: str) -> Piece:
    """Takes a piece out of the stash and returns it as it was."""
    piece = find(db, name)
    db.execute("DELETE FROM piece WHERE key = ?", (key_of(name),))
    return piece


def find(db: sqlite3.Connection, name: str) -> Piece:
    """The piece with this name (capitals and spaces do not matter); raises `Unclear` with the nearest names."""
    return _pieces(db, "WHERE id = ?", (_row_of(db, name)[0],))[0]


def pieces(db: sqlite3.Connection) -> list[Piece]:
    """All pieces in the order in which they were added."""
    return _pieces(db, "", ())


def names(db: sqlite3.Connection) -> list[str]:
    return [row[0] for row in db.execute("SELECT name FROM piece ORDER BY id")]


@rows_as_written()
def _pieces(db: sqlite3.Connection, where: str, values: tuple[object, ...]) -> list[Piece]:
    parts: dict[str, dict[int, list[tuple[object, ...]]]] = {}
    for table, columns in (
        ("length", "metres"),
        ("reserved", "make, metres"),
        ("cut", "day, metres, make"),
        ("note", "line"),
    ):
        rows = parts[table] = {}
        only = "WHERE piece = ?" if where else ""
        for piece, *rest in db.execute(f"SELECT piece, {columns} FROM {table} {only} ORDER BY piece, place", values):
            rows.setdefault(piece, []).append(tuple(rest))
    found = []
    for row in db.execute(f"SELECT id, {', '.join(COLUMNS)} FROM piece {where} ORDER BY id", values):
        own = dict(zip(COLUMNS, row[1:], strict=True))
        if not all(isinstance(own[c], str) for c in TEXT) or not all(isinstance(own[c], float | None) for c in FIGURES):
            raise TypeError(f"of piece {row[0]}")
        own["prewashed"] = None if own["prewashed"] is None else bool(own["prewashed"])
        found.append(
            Piece(
                **own,
                lengths_m=tuple(float(str(r[0])) for r in parts["length"].get(row[0], ())),
                reserved=tuple(Reserved(*r) for r in parts["reserved"].get(row[0], ())),  # type: ignore[arg-type]
                cuts=tuple(Cut(*r) for r in parts["cut"].get(row[0], ())),  # type: ignore[arg-type]
                notes=tuple(str(r[0]) for r in parts["note"].get(row[0], ())),
            )
        )
    return found


def known_rows(db: sqlite3.Connection) -> set[str]:
    """The fingerprints of the rows that were imported before."""
    return {row[0] for row in db.execute("SELECT fingerprint FROM imported")}


def remember_rows(db: sqlite3.Connection, fingerprints: list[str], day: str) -> None:
    db.executemany("INSERT OR IGNORE INTO imported VALUES (?, ?)", [(f, day) for f in fingerprints])


def today() -> str:
    return time.strftime("%Y-%m-%d")
