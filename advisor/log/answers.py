"""What the log's commands answer: the JSON contract, always metric. More fields may be added, none taken away."""

from __future__ import annotations

from typing import Literal

import msgspec

from advisor.log.grammar import Reading
from advisor.report import Span


class LineAnswer(msgspec.Struct):
    """One observation, and how it was read. `range` is in the unit of the property; `side` where only that is known."""

    line: str
    went: Literal["", "well", "badly"]
    features: list[str]
    property: str | None
    side: Literal["", "low", "high"]
    range: Span | None
    rule: str | None
    when: list[str]
    unknown_tie: str = ""


class EntryAnswer(msgspec.Struct):
    """One make done. `piece` is null where its cloth was none of the stash's; `gone` where the piece is there no more."""

    entry: int
    make: str
    day: str
    cloth: str
    piece: str | None
    gone: bool
    features: list[str]
    metres: float | None
    observations: list[LineAnswer]


class LogAnswer(msgspec.Struct):
    """One entry as it now stands, and what was done to it; `left_m` is what is left of its piece after a cut."""

    stash: str
    did: Literal["added", "shown", "noted", "removed"]
    entry: EntryAnswer
    notes: list[str] = []
    left_m: float | None = None
    backup: str | None = None


class LogListAnswer(msgspec.Struct):
    """The entries that were asked for, the newest first, and how many the log holds."""

    stash: str
    entries: list[EntryAnswer]
    held: int


class LogFileAnswer(msgspec.Struct):
    """What was written to a file, or brought in from one: of `held` entries in the file, how many were new."""

    stash: str
    file: str
    did: Literal["exported", "imported"]
    held: int
    added: int
    backup: str | None = None


def line_answer(reading: Reading) -> LineAnswer:
    """An observation as it is shown."""
    value = reading.range
    return LineAnswer(
        reading.line, reading.went, list(reading.features), reading.prop or None, reading.side,
        Span(round(value.low, 2), round(value.high, 2)) if value else None, reading.rule or None, list(reading.when),
        reading.unknown_tie,
    )  # fmt: skip
