"""A line of the log, read: what it is about, what was seen, how much, and whether that was good or bad.

    "frayed 4 of 5"                   fraying, 3.5 to 4.5, badly
    "loops went flat when pressed"    a feature, badly, while pressing
    "covered shells too thin"         a feature, thickness on its low side, badly
    "fray: hardly", "some-rule: not so here"    the tie said outright, before a colon

The words stand in `knowledge/lists/observations.yaml`. A line in which nothing is recognised is still a line: it is
kept, and comes back with its piece.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import msgspec

from advisor import figures
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.lists import read_list
from advisor.log.done import Observation, Went
from advisor.ranges import Range
from advisor.words_form import phrase, plain, words_of

Side = Literal["", "low", "high"]

MOST_MARK = 5.0
"""Marks run from 0 to 5, as the grades of the properties do."""
FROM_BAD = 2.5
"""A mark from here on is much of what was seen."""
REACH = 3
"""How many words before what was seen a denial may stand ("did not really fray")."""

_MARK = re.compile(r"(?<![\d.,])(\d+(?:[.,]\d+)?)\s*(?:of|out\s+of|/)\s*(\d+)(?![\d.,])")
_ACROSS = re.compile(r"\b(?:shrank|shrunk)\s+(\d+(?:[.,]\d+)?\s*(?:%|per\s?cent))\s+(across|along)\b")


class Seen(msgspec.Struct, forbid_unknown_fields=True):
    """Words for something that shows one property on one of its sides; `bad` is the side that is a fault."""

    property: str
    side: Side
    words: list[str]
    bad: Side = ""


class Degree(msgspec.Struct, forbid_unknown_fields=True):
    """Words for how much, as a mark of 0 to 5."""

    words: list[str]
    mark: tuple[float, float]


class Words(msgspec.Struct, forbid_unknown_fields=True):
    """The file of words; its head says what each part is."""

    source: str
    mark_off: float
    seen: list[Seen]
    degrees: list[Degree]
    denied: Degree
    too: list[str]
    went: dict[Literal["well", "badly"], list[str]]
    when: dict[str, list[str]]
    features: dict[str, list[str]] = {}


@dataclass(frozen=True)
class Reading:
    """One line as it was read. `range` (in the property's unit) is what was seen; where only its side is known, `side`."""

    line: str
    features: tuple[str, ...] = ()
    prop: str = ""
    range: Range | None = None
    side: Side = ""
    rule: str = ""
    went: Went = ""
    when: tuple[str, ...] = ()
    unknown_tie: str = ""
    """What stood before a colon and names nothing that is known."""

    @property
    def tied(self) -> bool:
        """Whether the line is about anything beside its piece."""
        return bool(self.features or self.prop or self.rule)


@dataclass(frozen=True)
class _Lookup:
    """The words by their plain form, made once for a knowledge base."""

    words: Words
    seen: Mapping[str, Seen]
    degrees: Mapping[str, tuple[float, float]]
    denied: frozenset[str]
    too: frozenset[str]
    went: Mapping[str, Went]
    when: Mapping[str, str]
    features: Mapping[str, str]
    properties: Mapping[str, str]


@lru_cache(maxsize=4)
def _lookup(knowledge: Knowledge) -> _Lookup:
    words = read_list("observations", Words, knowledge.folders)
    features = {key: ids[0] for key, ids in knowledge.feature_words.items()}
    features |= {phrase(name): feature for feature, names in words.features.items() for name in names}
    properties = {phrase(name): p.id for p in knowledge.properties.values() for name in (p.id, p.name, *p.names)}
    return _Lookup(
        words,
        {phrase(w): seen for seen in words.seen for w in seen.words},
        {phrase(w): d.mark for d in words.degrees for w in d.words},
        frozenset(phrase(w) for w in words.denied.words),
        frozenset(phrase(w) for w in words.too),
        {phrase(w): how for how, said in words.went.items() for w in said},
        {phrase(w): when for when, said in words.when.items() for w in said},
        features,
        properties,
    )


def _found(tokens: Sequence[str], table: Iterable[str], taken: set[int] | None = None) -> list[tuple[int, int, str]]:
    """Phrases of the table in the tokens, the longest first, none over another: (start, end, phrase) by place."""
    keys = set(table)
    longest = max((k.count(" ") + 1 for k in keys), default=0)
    used = set(taken or ())
    found = []
    for size in range(min(longest, len(tokens)), 0, -1):
        for start in range(len(tokens) - size + 1):
            key = " ".join(tokens[start : start + size])
            if key in keys and not used & set(range(start, start + size)):
                found.append((start, start + size, key))
                used |= set(range(start, start + size))
    return sorted(found)


def _tie(line: str, table: _Lookup, knowledge: Knowledge) -> tuple[str, Reading]:
    """The line without the name before its colon, and what that name ties it to."""
    before, colon, rest = line.partition(":")
    name = before.strip()
    if not colon or not rest.strip() or len(name) > 80:
        return line, Reading(line)
    if name.lower() in knowledge.rules:
        return rest, Reading(line, rule=name.lower())
    key = phrase(name)
    if key in table.properties:
        return rest, Reading(line, prop=table.properties[key], side="high")
    if key in table.features:
        return rest, Reading(line, features=(table.features[key],))
    return line, Reading(line, unknown_tie=name)


def _mark(text: str) -> tuple[str, float | None]:
    """'4 of 5' taken out of the text, as a mark of 0 to 5."""
    for match in _MARK.finditer(text):
        value, of = float(match[1].replace(",", ".")), float(match[2])
        if 3 <= of <= 100 and value <= of:
            return f"{text[: match.start()]} {text[match.end() :]}", MOST_MARK * value / of
    return text, None


def _figure(text: str, knowledge: Knowledge) -> tuple[str, str, Range | None]:
    """A figure as a description of cloth may hold it: (text without it, property, range with its tolerance)."""
    said = _ACROSS.sub(r"shrank \2 \1", text).replace("shrunk", "shrank")
    try:
        left, found = figures.take(said)
    except Unclear:
        return text, "", None
    for name, value in found.stated.items():
        prop = knowledge.properties[name]
        if prop.domain.meets(value):
            loose = Range(value.low * (1 - prop.tolerance), value.high * (1 + prop.tolerance))
            return left, name, loose.clamp(prop.domain)
    return text, "", None


def read(seen: Observation, knowledge: Knowledge) -> Reading:
    """One line as it is understood; nothing is refused."""
    table = _lookup(knowledge)
    rest, reading = _tie(seen.line, table, knowledge)
    text, mark = _mark(plain(rest))
    text, named, value = _figure(text, knowledge)
    tokens = words_of(text)
    features = tuple(dict.fromkeys([*reading.features, *(table.features[k] for _, _, k in _found(tokens, table.features))]))
    what = _found(tokens, table.seen)
    places = {at for start, end, _ in what for at in range(start, end)}
    denied = _found(tokens, table.denied, places)
    when = tuple(dict.fromkeys(table.when[k] for _, _, k in _found(tokens, table.when, places)))
    reading = replace(reading, features=features, when=when)
    chosen = table.seen[what[0][2]] if what else next((s for s in table.words.seen if s.property == reading.prop), None)
    if named:
        side: Side = chosen.side if chosen and chosen.property == named else ""
        reading = replace(reading, prop=named, range=value, side=side)
    elif chosen and (not reading.prop or reading.prop == chosen.property):
        reading = replace(reading, prop=chosen.property, side=chosen.side)
    start = what[0][0] if what else len(tokens)
    refused = any(start - REACH <= end <= start or not what for _, end, _ in denied)
    over = any(t in table.too for t in tokens)
    if refused and over:  # "not too stiff" is praise, and tells no figure
        return replace(reading, side="", went=seen.went or "well")
    much: tuple[float, float] | None = None
    if mark is not None:
        much = (max(0.0, mark - table.words.mark_off), min(MOST_MARK, mark + table.words.mark_off))
    elif refused and reading.prop:
        much = table.words.denied.mark
    else:
        much = next((table.degrees[k] for _, _, k in _found(tokens, table.degrees, places)), None)
    if reading.prop and reading.range is None:
        reading = _graded(reading, much, refused, knowledge)
    return replace(reading, went=seen.went or _went(tokens, chosen, reading, much, refused, over, table))


def _graded(reading: Reading, much: tuple[float, float] | None, refused: bool, knowledge: Knowledge) -> Reading:
    """With a mark on the property's own grades; on a property that runs in figures, only the side."""
    prop = knowledge.properties[reading.prop]
    if much and prop.unit == "grade":
        low, high = much if reading.side != "low" else (MOST_MARK - much[1], MOST_MARK - much[0])
        return replace(reading, range=Range(low, high).clamp(prop.domain))
    if refused:
        return replace(reading, side="low" if reading.side == "high" else "high")
    return reading


def _went(
    tokens: Sequence[str],
    chosen: Seen | None,
    reading: Reading,
    much: tuple[float, float] | None,
    refused: bool,
    over: bool,
    table: _Lookup,
) -> Went:
    """Whether what was seen was good or bad, by its own side, by 'too', or by the words around it."""
    if chosen and chosen.bad and chosen.property == reading.prop:
        amount = sum(much) / 2 if much else 0.0 if refused else MOST_MARK
        return "badly" if (amount >= FROM_BAD) == (chosen.bad == chosen.side) else "well"
    if over:
        return "badly"
    said = _found(tokens, table.went)
    if not said:
        return ""
    start, _, key = said[-1]
    turned = any(tokens[at] in table.denied for at in range(max(0, start - 2), start))
    how = table.went[key]
    return how if not turned else "badly" if how == "well" else "well"


def split(line: str, went: Went, knowledge: Knowledge) -> list[Observation]:
    """One typed line as observations: cut at semicolons, and at commas where each part says something by itself."""
    found: list[Observation] = []
    for part in (p.strip() for p in line.split(";")):
        pieces = [p.strip() for p in re.split(r",\s|\bbut\b", part) if p.strip()]
        readings = [read(Observation(p, went), knowledge) for p in pieces]
        if len(pieces) > 1 and all(r.tied and (r.prop or r.went) for r in readings):
            found += [Observation(p, went) for p in pieces]
        elif part:
            found.append(Observation(part, went))
    return found
