"""The errors of the core in the page's words: it has fields and links where the command line has options and commands."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.errors import Unclear

_COMMANDS = (
    (r"that 'advisor list features' shows", "from the pictures below"),
    (r"that 'advisor swatch' lists", "from the list of tests"),
    (r"that 'advisor stash list' shows", "in your stash"),
    (r"the id or name of an entry from the list", "a name that the advisor knows"),
    (r"(?:; )?'advisor stash add' begins one", ""),
    (r", or name another file with --stash", ""),
    (r" \(stash edit … --release\)", ""),
    (r", or 'stash edit' with --add-length for more of the same cloth", ""),
)
_OPTION = re.compile(r"--([a-z][a-z-]*)")


@dataclass(frozen=True)
class Said:
    """What was wrong, what would have been right, and the nearest valid choice."""

    given: str
    expected: str
    nearest: str

    @property
    def line(self) -> str:
        first = self.given[:1].upper() + self.given[1:]
        return f"{first}: expected {self.expected}." if self.expected else f"{first}."


def for_page(fault: Unclear) -> Said:
    """An error as the page shows it."""
    given, expected, nearest = (_in_fields(text) for text in (fault.given, fault.expected, fault.nearest))
    return Said(given, expected.strip("; "), nearest)


def _in_fields(text: str) -> str:
    for pattern, instead in _COMMANDS:
        text = re.sub(pattern, instead, text)
    return _OPTION.sub(lambda m: f"“{m.group(1).replace('-', ' ')}”", text)
