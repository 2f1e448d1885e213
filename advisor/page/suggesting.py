"""Type-ahead: every name and synonym of cloths and features, the best matches for what is being typed."""

from __future__ import annotations

import re
from bisect import bisect_left
from functools import cached_property
from typing import NamedTuple

import msgspec

from advisor.knowledge import Knowledge
from advisor.words_form import plain

MOST = 6


class Suggestion(msgspec.Struct):
    """One way to go on: the name, what it is another name for, and the whole box as it would then read."""

    name: str
    of: str
    kind: str
    box: str


class Name(NamedTuple):
    key: str
    name: str
    entry: str
    first: str


class Names:
    """The names of one knowledge base, sorted once so that a key stroke costs a bisection and a scan."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def _sorted(self, kind: str) -> list[Name]:
        found: dict[str, Name] = {}
        for entry in self.knowledge.table(kind).values():
            names = entry.names or [entry.id.replace("-", " ")]
            for name in (*names, entry.id.replace("-", " ")):
                found.setdefault(plain(name), Name(plain(name), name, entry.id, names[0]))
        return sorted(found.values())

    @cached_property
    def cloths(self) -> list[Name]:
        return self._sorted("cloths")

    @cached_property
    def features(self) -> list[Name]:
        return self._sorted("features")

    def of(self, typed: str, kind: str) -> list[Name]:
        """The names that begin with what was typed, then those with a word that does, the shortest first."""
        names = self.cloths if kind == "cloths" else self.features
        key = plain(typed).strip()
        if not key:
            return []
        at = bisect_left(names, (key,))
        first: list[Name] = []
        while at < len(names) and names[at].key.startswith(key):
            first.append(names[at])
            at += 1
        found = sorted(first, key=lambda n: (n.name != n.first, len(n.key), n.key))
        if len(found) < MOST:
            inside = re.compile(rf"(?<![a-z0-9]){re.escape(key)}")
            seen = set(first)
            found += sorted((n for n in names if n not in seen and inside.search(n.key)), key=lambda n: (len(n.key), n.key))
        best: dict[str, Name] = {}
        for name in found:  # one name an entry: its first name where that matches too, else the shortest that does
            if name.entry not in best or name.name == name.first:
                best[name.entry] = name
        return list(best.values())[:MOST]

    def suggest(self, box: str) -> list[Suggestion]:
        """What the last phrase of the box may become: a cloth before 'for', a feature behind it."""
        box = box[:1000]
        split = list(re.finditer(r"\sfor\s+(?:an?\s+|the\s+)?", box, re.I))
        kind = "features" if split else "cloths"
        start = split[0].end() if split else 0
        breaks = list(re.finditer(r"[,;]\s*" + (r"|\s(?:and|with)\s+(?:an?\s+|the\s+)?" if split else ""), box[start:], re.I))
        start += breaks[-1].end() if breaks else 0
        last = box[start:]
        if len(last.strip()) < 2:
            return []
        return [
            Suggestion(n.name, n.first if n.first != n.name else "", kind, box[:start] + n.name)
            for n in self.of(last, kind)
            if n.key != plain(last).strip()
        ]
