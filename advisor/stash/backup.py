"""Copies of the stash: made before every migration, import, removal and restoring, and whenever the maker asks.

A backup is one whole SQLite file in '<stash>.backups' beside the stash, written under another name, checked, and
only then given its own name. The newest 30 that were made automatically are kept, and all that were asked for.
"""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import tempfile
import time
from contextlib import closing, suppress
from pathlib import Path

from advisor.errors import Unclear
from advisor.stash import store

KEPT = 30
"""How many automatic backups are kept."""

_NAMED = re.compile(r"-(\d{8}-\d{6})-(\d+)-([a-z-]+)\.db$")


def folder_of(path: Path) -> Path:
    return path.with_name(f"{path.name}.backups")


def backups_of(path: Path) -> list[Path]:
    """The backups of a stash, the newest first."""
    with suppress(OSError):
        found = [f for f in folder_of(path).iterdir() if _NAMED.search(f.name)]
        return sorted(found, key=lambda f: _when(f), reverse=True)
    return []


def _when(backup: Path) -> tuple[str, str]:
    match = _NAMED.search(backup.name)
    return (match[1], match[2]) if match else ("", "")


def back_up(path: Path, why: str = "asked", to: Path | None = None) -> Path:
    """Copies the stash into its backup folder, or to the file `to`, and returns the copy; raises `Unclear`.

    Safe while others read and write: what was last committed is copied, as one consistent view.
    """
    if not path.exists():
        raise Unclear(f"stash '{path}'", "a file that exists")
    if to is not None and to.exists():
        raise Unclear(f"backup '{to}'", "a file that does not exist yet")
    folder = to.parent if to else folder_of(path)
    try:
        if to is None:
            folder.mkdir(exist_ok=True, mode=0o700)
        elif not folder.is_dir():
            raise Unclear(f"backup '{to}'", f"a folder '{folder}' that exists")
        handle, name = tempfile.mkstemp(dir=folder, prefix=".backup-", suffix=".part")
        os.close(handle)
        try:
            with closing(store.connect(path)) as source, closing(store.connect(Path(name))) as copy:
                store.version_of(source, path)
                source.backup(copy)
                copy.execute("PRAGMA journal_mode = DELETE")
                if copy.execute("PRAGMA integrity_check(1)").fetchone()[0] != "ok":
                    raise store.damaged(path)
            target = to or _free_name(path, why)
            _into_place(Path(name), target)
        finally:
            for left in (name, f"{name}-wal", f"{name}-shm", f"{name}-journal"):
                with suppress(OSError):
                    os.unlink(left)
    except (sqlite3.Error, OSError) as error:
        raise store.fault(error, folder) from None
    if to is None:
        _prune(path)
    return target


def _free_name(path: Path, why: str) -> Path:
    stamp = time.strftime("%Y%m%d-%H%M%S", time.gmtime())
    count = 1 + max((int(m[2]) for f in backups_of(path) if (m := _NAMED.search(f.name)) and m[1] == stamp), default=0)
    return folder_of(path) / f"{path.stem}-{stamp}-{count:03}-{why}.db"


def _into_place(made: Path, target: Path) -> None:
    with made.open("rb+") as file:
        os.fsync(file.fileno())
    try:
        os.link(made, target)  # never over a file that another program has made meanwhile
    except FileExistsError:
        raise Unclear(f"backup '{target}'", "a file that does not exist yet") from None
    except OSError:
        os.replace(made, target)
    _settle(target.parent)


def _settle(folder: Path) -> None:
    """Makes a new name in a folder outlast a power cut, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _prune(path: Path) -> None:
    automatic = [f for f in backups_of(path) if not f.name.endswith("-asked.db")]
    for old in automatic[KEPT:]:
        with suppress(OSError):
            old.unlink()
    for part in folder_of(path).glob(".backup-*"):  # left by a copy that was killed
        with suppress(OSError):
            if time.time() - part.stat().st_mtime > 3600:
                part.unlink()


def restore(path: Path, source: Path | None = None) -> tuple[Path, Path | None]:
    """Brings a backup (the newest if none is named) back into the stash's place.

    Returns (the backup, where the stash that stood there was kept). The present stash is backed up first; one that
    is damaged is moved aside with its log. Raises `Unclear` before anything is changed where the backup is no good.
    """
    if source is None:
        known = backups_of(path)
        if not known:
            raise Unclear(f"a backup of '{path}'", f"one in '{folder_of(path)}', or a file to restore from")
        source = known[0]
    if not source.is_file():
        near = [f.name for f in backups_of(path)][:1]
        raise Unclear(f"backup '{source}'", "a file that exists", str(folder_of(path) / near[0]) if near else "")
    if path.exists() and source.samefile(path):
        raise Unclear(f"backup '{source}'", "another file than the stash itself")
    kept: Path | None = None
    try:
        with tempfile.TemporaryDirectory(prefix="stash-") as folder:
            copy = Path(folder) / "backup.db"  # so that the backup itself is not touched, nor needs to be writable
            for tail in ("", "-wal"):
                if Path(f"{source}{tail}").exists():
                    shutil.copyfile(f"{source}{tail}", f"{copy}{tail}")
            with closing(_opened(copy, source, path)) as good:
                if path.exists() and _sound(path):
                    kept = back_up(path, "before-restore")
                    with closing(store.connect(path)) as live:
                        good.backup(live)
                else:
                    kept = _put_in_place(good, path)
    except (sqlite3.Error, OSError) as error:
        raise store.fault(error, path) from None
    with store.reading(path):  # an old backup is brought to the present version
        pass
    return source, kept


def _opened(copy: Path, source: Path, path: Path) -> sqlite3.Connection:
    """The copy of a backup, checked; raises `Unclear` about the backup, not about the stash that it was to replace."""
    good: sqlite3.Connection | None = None
    try:
        good = store.connect(copy)
        store.version_of(good, source)
        return good
    except (sqlite3.Error, store.StashFault) as error:
        if good is not None:
            good.close()
        fault = error if isinstance(error, store.StashFault) else store.fault(error, source)
        if fault.given != store.damaged(source).given:
            raise fault from None
        near = [str(f) for f in backups_of(path) if f.resolve() != source.resolve()][:1]
        raise Unclear(f"backup '{source}', which is damaged, cut short, or no stash", "a sound one; nothing was changed", *near) from None


def _put_in_place(good: sqlite3.Connection, path: Path) -> Path | None:
    """Writes the backup whole beside the stash, moves what stands there aside, and gives it the stash's name."""
    if path == store.default_path():
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not path.parent.is_dir():
        raise Unclear(f"stash '{path}'", f"a folder '{path.parent}' that exists")
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-", suffix=".new")
    os.close(handle)
    try:
        with closing(store.connect(Path(name))) as new:
            good.backup(new)
            new.execute("PRAGMA journal_mode = WAL")
        kept = _aside(path) if path.exists() else None
        _into_place(Path(name), path)
        return kept
    finally:
        for left in (name, f"{name}-wal", f"{name}-shm"):
            with suppress(OSError):
                os.unlink(left)


def _sound(path: Path) -> bool:
    try:
        with closing(store.connect(path)) as db:
            store.version_of(db, path)
        return path.stat().st_size > 0
    except (Unclear, sqlite3.Error, OSError):
        return False


def _aside(path: Path) -> Path:
    """Moves a damaged stash and its log out of the way, the log first so that it never meets another file."""
    stamp = time.strftime("%Y%m%d-%H%M%S", time.gmtime())
    target = path.with_name(f"{path.name}.damaged-{stamp}")
    count = 1
    while target.exists():
        count += 1
        target = path.with_name(f"{path.name}.damaged-{stamp}-{count}")
    for tail in ("-wal", "-shm", ""):
        with suppress(FileNotFoundError):
            os.replace(f"{path}{tail}", f"{target}{tail}")
    return target
