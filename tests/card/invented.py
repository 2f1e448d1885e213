"""A card with the longest texts that there can be, and longer."""

from __future__ import annotations

from advisor.card.content import FOOT
from advisor.card.reports import CardFigure, CardLine, CardReport, CardSection

WORDS = "Everlasting Weatherproofed Wide-Wale Whipcord, Wondrously Woven for Wintry Walks and Wuthering Weather "


def long_text(letters: int) -> str:
    return (WORDS * (letters // len(WORDS) + 1))[:letters]


def longest(solid: bool = False) -> CardReport:
    """A card whose every text but the headings is far longer than any that is let in; `solid` has no place to break a line at."""
    say = (lambda n: "W" * n) if solid else long_text
    lines = [CardLine(say(2000), say(600), weight, mark) for weight in range(6) for mark in ("stop", "safety", "", "blank")]
    return CardReport(
        say(200), say(2000), [say(500)] * 5, [say(200)] * 30, "care", "SUITS WITH CARE", say(900),
        [CardFigure(label, say(80), say(200), dots) for label, dots in (("iron", 3), ("wash", None), ("needle", None), ("stitch", None))],
        [CardSection(heading, list(lines)) for heading in ("Watch", "Before cutting", "Sew")], FOOT,
    )  # fmt: skip
