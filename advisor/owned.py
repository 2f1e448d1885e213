"""What the maker owns and prefers: one small settings file, `settings.toml` in the platform's folder for settings.

    tools = ["overlocker", "walking foot"]
    units = "metric"              # or "imperial"
    hours_a_week = 6              # hours that there are for sewing
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
    """Tools owned, in the maker's own words, the units that come first in what is printed, the hours there are to sew."""

    tools: tuple[str, ...] = ()
    units: str = "metric"
    hours_a_week: float | None = None

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


def hours_wanted(given: float | None, where: str = "--hours-a-week") -> float | None:
    """Hours a week for sewing, 0.5 to 100: as given, else as in the settings; None where neither says. Raises `Unclear`."""
    hours = read_owned().hours_a_week if given is None else given
    if hours is not None and not HOURS_A_WEEK[0] <= hours <= HOURS_A_WEEK[1]:
        raise Unclear(f"{where} {hours:g}", f"{HOURS_A_WEEK[0]:g} to {HOURS_A_WEEK[1]:g} hours", "6")
    return hours


HOURS_A_WEEK = (0.5, 100.0)
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
        raise Unclear(f"settings '{path}'", f"words in quotes and figures without, one a line ({error})", 'units = "imperial"') from None
    for key in given:
        if key not in ("tools", "units", "hours_a_week"):
            raise Unclear(f"'{key}' in settings '{path}'", 'tools = ["…"], units = "metric" or hours_a_week = 6')
    tools, units, hours = given.get("tools", []), given.get("units", "metric"), given.get("hours_a_week")
    if not isinstance(tools, list) or not all(isinstance(tool, str) for tool in tools):
        raise Unclear(f"tools in settings '{path}'", 'a list of names, such as ["overlocker", "walking foot"]')
    if units not in UNITS:
        raise Unclear(f"units in settings '{path}'", "metric or imperial")
    if hours is not None and (isinstance(hours, bool) or not isinstance(hours, (int, float)) or not HOURS_A_WEEK[0] <= hours <= HOURS_A_WEEK[1]):
        raise Unclear(f"hours_a_week in settings '{path}'", f"{HOURS_A_WEEK[0]:g} to {HOURS_A_WEEK[1]:g}, such as 6")
    return Owned(tuple(tools), units, hours)
