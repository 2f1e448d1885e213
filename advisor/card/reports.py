"""What a card and a hand-out say: the JSON contract of `advisor card` and `advisor handout`. Fields may be added, none taken away."""

from __future__ import annotations

from typing import Literal

import msgspec

from advisor.report import VerdictWord

Mark = Literal["", "stop", "safety", "blank"]


class CardLine(msgspec.Struct):
    """One line: the full text, a shorter one for want of room, and its weight (0 is kept longest). `blank` is to be filled in by hand."""

    text: str
    short: str
    weight: int
    mark: Mark = ""


class CardSection(msgspec.Struct):
    """Lines under one heading, in the order in which they are done."""

    heading: str
    lines: list[CardLine]


class CardFigure(msgspec.Struct):
    """A figure to be read at a glance; `dots` are those of the iron (0 to 3)."""

    label: str
    value: str
    note: str
    dots: int | None = None


class CardReport(msgspec.Struct):
    """One card. `left_out` and `shortened` are filled in when it is set on paper, with the size of its text in points."""

    title: str
    reads: str
    facts: list[str]
    kept_for: list[str]
    verdict: VerdictWord | None
    verdict_word: str
    verdict_text: str
    figures: list[CardFigure]
    sections: list[CardSection]
    foot: str
    not_understood: list[str] = []
    left_out: list[str] = []
    shortened: list[str] = []
    text_pt: float | None = None


class CardAnswer(msgspec.Struct):
    """The cards, and the file that was written (null where none was)."""

    cards: list[CardReport]
    size: str
    sheet: str | None
    pages: int
    file: str | None = None


class ClothRow(msgspec.Struct):
    """One cloth that a class may bring: how well it suits and its settings."""

    cloth: str
    verdict: VerdictWord
    verdict_word: str
    score: str
    iron: str
    dots: int
    wash: str
    needle: str
    watch: str


class HandoutReport(msgspec.Struct):
    """The hand-out of a class: what to buy, what to prepare, what to watch, and the cloths that serve best."""

    title: str
    about: list[str]
    cloths: list[ClothRow]
    sections: list[CardSection]
    foot: str
    left_out: list[str] = []
    shortened: list[str] = []
    text_pt: float | None = None


class HandoutAnswer(msgspec.Struct):
    """The hand-out, and the file that was written (null where none was)."""

    handout: HandoutReport
    size: str
    file: str | None = None
