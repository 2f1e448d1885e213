"""Where the stash is kept, and whether there is one: asked by every command, so nothing of SQLite is touched here."""

from __future__ import annotations

import os
from pathlib import Path

PREFIX = "piece:"
"""Before a name, wherever a cloth is asked for: that piece of the stash."""


def default_path() -> Path:
    """Where the stash is kept when no file is named; ADVISOR_STASH names another."""
    import platformdirs

    named = os.environ.get("ADVISOR_STASH")
    return Path(named) if named else platformdirs.user_data_path("fabric-advisor", appauthor=False) / "stash.db"


def there() -> Path | None:
    """The usual stash's file, or None where none was ever begun."""
    path = default_path()
    return path if path.is_file() else None


def piece_named(cloth: str) -> str:
    """The name behind 'piece:', or '' where the cloth is given in words."""
    return cloth.strip()[len(PREFIX) :].strip() if cloth.lstrip()[: len(PREFIX)].lower() == PREFIX else ""
