"""A garment in words: what it is, for which seasons, in which colour; and what a sensible wardrobe holds."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import msgspec

from advisor.asks import LONGEST, find_feature
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.layers import Sourced
from advisor.lists import read_list
from advisor.makes import Make, asks_of, context_of
from advisor.stash.measures import one_line
from advisor.words_form import words_of

MOST = 99
"""Pieces of one kind that anybody owns."""


class Holds(msgspec.Struct, forbid_unknown_fields=True):
    """One line of what a wardrobe holds."""

    say: str
    garments: list[str]
    pieces: int
    seasons: list[str] = []
    worth: float = 1.0
    colour: str = ""


class WardrobeTable(msgspec.Struct, forbid_unknown_fields=True):
    """lists/wardrobe.yaml."""

    source: str
    group: str
    wish: Sourced
    unknown: Sourced
    seasons: dict[str, list[str]]
    holds: dict[str, Holds]
    colours: dict[str, list[str]]


def wardrobe_table(knowledge: Knowledge) -> WardrobeTable:
    """What a sensible wardrobe holds, from the last knowledge folder that says so; raises `Unclear` for unknown ids."""
    table = read_list("wardrobe", WardrobeTable, knowledge.folders)
    for name, line in table.holds.items():
        for garment in line.garments:
            if garment not in knowledge.features or knowledge.features[garment].group != table.group:
                raise Unclear(f"'{garment}' in '{name}' of lists/wardrobe.yaml", "the id of a whole garment")
        if line.colour and line.colour not in table.colours:
            raise Unclear(f"colour '{line.colour}' in '{name}' of lists/wardrobe.yaml", f"one of {', '.join(table.colours)}")
        for season in line.seasons:
            if season not in table.seasons:
                raise Unclear(f"season '{season}' in '{name}' of lists/wardrobe.yaml", f"one of {', '.join(table.seasons)}")
    return table


@dataclass(frozen=True)
class Garment:
    """Garments of one sort: `type` is the id of a whole garment, no season means all the year round.

    `colour` is a family of colours, '' where none was said.
    """

    name: str
    type: str
    seasons: tuple[str, ...] = ()
    colour: str = ""
    pieces: int = 1
    added: str = ""


def family_of(text: str, table: WardrobeTable) -> str:
    """The family of the first colour that is said in a text, '' for none; of two at one place the longer name."""
    said = " ".join(words_of(text))
    found: list[tuple[int, int, str]] = []
    for family, names in table.colours.items():
        for name in names:
            words = " ".join(words_of(name))
            match = re.search(rf"(?<![\w-]){re.escape(words)}(?![\w-])", said)
            if match:
                found.append((match.start(), -len(words), family))
    return min(found)[2] if found else ""


def colour_of(text: str, table: WardrobeTable) -> str:
    """A colour that was said on purpose; raises `Unclear` where it is none."""
    if not text.strip():
        return ""
    found = family_of(text, table)
    if not found:
        from difflib import get_close_matches

        names = [n for names in table.colours.values() for n in names]
        raise Unclear(f"colour '{text.strip()[:40]}'", f"one of {', '.join(table.colours)}, or a shade of one",
                      (get_close_matches(text.strip().lower(), names, 1, 0.5) or [""])[0])  # fmt: skip
    return found


def seasons_in(text: str, table: WardrobeTable) -> tuple[str, ...]:
    """The seasons that a text names, in the table's order."""
    said = set(words_of(text))
    return tuple(s for s, words in table.seasons.items() if said & {w for n in (s, *words) for w in words_of(n)})


def seasons_of(given: Sequence[str], table: WardrobeTable) -> tuple[str, ...]:
    """Seasons that were said on purpose ('all' is all the year round); raises `Unclear` where one is none."""
    found: list[str] = []
    for part in (p.strip() for text in given for p in re.split(r",|\band\b", text)):
        if not part or part.lower() in ("all", "all year", "any"):
            continue
        seasons = seasons_in(part, table)
        if not seasons:
            from difflib import get_close_matches

            raise Unclear(f"season '{part[:40]}'", f"one of {', '.join(table.seasons)}, or all",
                          (get_close_matches(part.lower(), list(table.seasons), 1, 0.4) or [""])[0])  # fmt: skip
        found += seasons
    return tuple(s for s in table.seasons if s in found)


def _garment_words(knowledge: Knowledge, table: WardrobeTable) -> Mapping[str, Sequence[str]]:
    found: dict[str, list[str]] = {}
    for words, ids in knowledge.feature_words.items():
        garments = [i for i in ids if knowledge.features[i].group == table.group]
        if garments:
            found[words] = garments
    return found


def type_of(text: str, knowledge: Knowledge, table: WardrobeTable) -> str:
    """The whole garment that a text names; raises `Unclear` with the nearest name."""
    if len(text) > LONGEST:
        raise Unclear(f"a garment of {len(text)} characters", f"at most {LONGEST} characters")
    try:
        return find_feature(text, knowledge, _garment_words(knowledge, table))[0]
    except Unclear as error:
        raise Unclear(
            f"garment '{text.strip()[:60]}'", "a whole garment, such as a blouse or a coat", error.nearest
        ) from None


def read_garment(
    words: str,
    knowledge: Knowledge,
    table: WardrobeTable,
    *,
    type_words: str = "",
    seasons: Sequence[str] = (),
    colour: str = "",
    pieces: int = 1,
    added: str = "",
) -> Garment:
    """A garment from its owner's words; what is said on purpose counts before what the words name. Raises `Unclear`."""
    name = one_line(words, "garment", 200)
    if not name:
        raise Unclear("an empty garment", "a garment in words, such as 'navy wool coat'")
    if not 1 <= pieces <= MOST:
        raise Unclear(f"{pieces} of them", f"1 to {MOST}")
    return Garment(
        name, type_of(type_words or name, knowledge, table),
        seasons_of(seasons, table) if seasons else seasons_in(name, table),
        colour_of(colour, table) or family_of(name, table), pieces, added,
    )  # fmt: skip


def adds_of(make: Make, knowledge: Knowledge, table: WardrobeTable) -> list[Garment]:
    """What a make adds to a wardrobe: what its file says, else the whole garments among its features, in its season."""
    seasons = tuple(s for s in table.seasons if s in context_of(make, knowledge))
    if make.fills:
        try:
            found = [read_garment(words, knowledge, table) for words in make.fills]
        except Unclear as error:
            raise Unclear(f"fills of '{make.make}', {error.given}", error.expected, error.nearest) from None
        return [g if g.seasons else replace(g, seasons=seasons) for g in found]
    asks = [ask for ask in asks_of(make, knowledge) if knowledge.features[ask.feature].group == table.group]
    return [Garment(ask.given, ask.feature, seasons) for ask in asks]
