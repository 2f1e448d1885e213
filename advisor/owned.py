"""What the maker owns and prefers: one small settings file, `settings.toml` in the platform's folder for settings.

    tools = ["overlocker", "walking foot"]
    units = "metric"              # or "imperial"
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from advisor.errors import Unclear
from advisor.words_form import phrase, words_of

UNITS = ("metric", "imperial")


@dataclass(frozen=True)
class Owned:
    """Tools owned, in the maker's own words, and the units that come first in what is printed."""

    tools: tuple[str, ...] = ()
    units: str = "metric"

    def has(self, tool: str) -> bool:
        """Whether a tool, or one of several joined by 'or', is owned: every word that names it must be said."""
        for choice in re.split(r"\s+or\s+", tool):
            named = {w for w in words_of(choice) if not any(c.isdigit() for c in w) and w not in UNITS_OF_SIZE}
            if any(named <= set(words_of(own)) or phrase(own) == phrase(choice) for own in self.tools):
                return True
        return False

    def missing(self, tools: list[str]) -> list[str]:
        """Those of the tools that are not owned."""
        return [tool for tool in tools if not self.has(tool)]


def units_wanted(given: str) -> str:
    """`metric` or `imperial`: as given, else as in the settings. Raises `Unclear` for anything else."""
    units = given.strip().lower() or read_owned().units
    if units not in UNITS:
        raise Unclear(f"units '{given[:40]}'", "metric or imperial", "metric")
    return units


UNITS_OF_SIZE = frozenset(["mm", "cm", "square"])


def settings_file() -> Path:
    """Where the settings are looked for."""
    from platformdirs import user_config_path

    return user_config_path("fabric-advisor", appauthor=False) / "settings.toml"


def read_owned(path: Path | None = None) -> Owned:
    """The settings; the usual ones where there is no file. Raises `Unclear` for what is not understood."""
    path = path or settings_file()
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Owned()
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise Unclear(f"settings '{path}'", f"a TOML file that can be read ({error})") from None
    for key in given:
        if key not in ("tools", "units"):
            raise Unclear(f"'{key}' in settings '{path}'", 'tools = ["…"] or units = "metric"')
    tools, units = given.get("tools", []), given.get("units", "metric")
    if not isinstance(tools, list) or not all(isinstance(tool, str) for tool in tools):
        raise Unclear(f"tools in settings '{path}'", 'a list of names, such as ["overlocker", "walking foot"]')
    if units not in UNITS:
        raise Unclear(f"units in settings '{path}'", "metric or imperial")
    return Owned(tuple(tools), units)
