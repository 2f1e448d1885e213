"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from advisor.errors import Unclear


def _is_database(path: Path) -> bool:
    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(16) == b"SQLite format 3\0"


def write_whole(text: str, path: Path, *, over: bool = False) -> None:
    """Writes the text under another name, then puts it in its place in one step.

    Raises `FileExistsError` where the file is there and `over` is not set, even if it came a moment ago, and `OSError`
    where it cannot be written; the file that was there is then as it was. A database is never written over, whatever was
    allowed: it would be somebody's stash (`Unclear`).
    """
    if path.exists() and not over:
        raise FileExistsError(f"'{path}' is there already")
    if _is_database(path):
        raise Unclear(f"'{path}', which is a stash or another database", "another name; it is never written over")
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-", suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        if over:
            os.replace(name, path)
            return
        try:
            os.link(name, path)  # never over a file that another program has made meanwhile
        except FileExistsError:
            raise
        except OSError:  # a file system without links
            if path.exists():
                raise FileExistsError(f"'{path}' is there already") from None
            os.replace(name, path)
    finally:
        with suppress(FileNotFoundError):
            os.unlink(name)
