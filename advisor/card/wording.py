"""Findings and figures in the few words that a card has room for; metric until `said_in` says them in other units."""

from __future__ import annotations

from collections.abc import Iterable

from advisor import report
from advisor.card.reports import CardFigure, CardLine, CardSection, Mark
from advisor.cli.measures import in_words

STEAM = {"yes": "steam", "care": "steam only after a scrap", "no": "no steam"}
SIDES = {"wrong": "wrong side", "right": "right side", "either": "either side"}


def sentence(text: str) -> str:
    """Text with a capital and one full stop."""
    text = text.strip()
    return text and text[0].upper() + text[1:] + ("" if text[-1] in ".!?…" else ".")


def first_sentence(text: str) -> str:
    """Up to the first full stop that ends a sentence."""
    return sentence(text.strip().partition(". ")[0])


def span(value: report.Span) -> str:
    """'5' or '3–6'."""
    return f"{value.low:g}" if value.low == value.high else f"{value.low:g}–{value.high:g}"


def of_finding(finding: report.FindingReport, weight: int) -> CardLine:
    """A finding as a line: what and what to do; for want of room, only what is done (of a danger, only what it is)."""
    doubt = "" if finding.certainty == "sure" else " (may apply)"
    mark: Mark = "stop" if finding.kind == "stop" else "safety" if finding.kind == "safety" else ""
    short = first_sentence(finding.say if mark or not finding.do else finding.do)
    return CardLine(f"{sentence(finding.say)}{doubt} {finding.do}".strip(), short, weight, mark)


def plain(text: str, weight: int) -> CardLine:
    """A line that is said in one way only."""
    return CardLine(sentence(text), sentence(text), weight)


def said_in(units: str, figures: Iterable[CardFigure], sections: Iterable[CardSection]) -> None:
    """Says what the reports gave in metric in the units wanted, in place; the maker's own words stand outside of these."""
    for figure in figures:
        figure.value, figure.note = in_words(figure.value, units), in_words(figure.note, units)
    for section in sections:
        for line in section.lines:
            line.text, line.short = in_words(line.text, units), in_words(line.short, units)
