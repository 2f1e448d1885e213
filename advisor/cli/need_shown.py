"""The answers of `advisor need` on paper: what to buy first, a piece in hand, the figures, then why."""

from __future__ import annotations

from collections import Counter

import msgspec

from advisor.cli.measures import YARDS_FROM_M, measure
from advisor.cli.words import Paper, cloth_lines
from advisor.need.cloth import Amount
from advisor.need.reports import GiveLine, LayoutPart, LeftPart, NeedReport

PARTS = ("width", "piece", "bias", "flounce", "circle", "gathers", "pleats", "buttons", "loops", "thread", "elastic", "zip")
"""The parts of a report that are printed field by field, in this order."""


def amount_text(amount: Amount, unit: str, units: str) -> str:
    """The expected figure, and the span where it is open; a short length in inches throughout."""
    if unit == "m" and units == "imperial" and amount.high < YARDS_FROM_M / 2:
        amount, unit = amount.each(lambda metres: metres * 100), "cm"
    low, mid, high = (measure(getattr(amount, end), unit, units) for end in ("low", "expected", "high"))
    return mid if low == high else f"{mid} ({low} to {high})"


def unit_of(name: str) -> tuple[str, str]:
    """A field's name as words, and its unit."""
    stem, _, last = name.rpartition("_")
    if stem and last in ("m", "cm", "mm", "pct", "in", "degrees"):
        return stem.replace("_", " "), last
    return name.replace("_", " "), "ligne" if name == "ligne" else ""


def _picture(paper: Paper, part: LayoutPart, units: str) -> None:
    """The layout in blocks, its letters named."""
    from advisor.need.picture import blocks, letters_of

    length = measure(part.length_m.expected, "m", units)
    paper.line(f"ROUGH LAYOUT, an estimate: {length} of cloth {measure(part.width_cm, 'cm', units)} wide", "bold", in_both=True)
    for line in blocks(part, paper.width):
        paper.line(line, in_both=True)
    counts = Counter(piece.name for piece in part.pieces)
    legend = [f"{letter} {name}{f' ({counts[name]})' if counts[name] > 1 else ''}" for name, letter in letters_of(part.pieces).items()]
    paper.item("; ".join(legend) + "; / on the bias, · left over", bullet="", indent=0)


def _left(paper: Paper, left: LeftPart, units: str) -> None:
    """What is left over, and what it could still make."""
    paper.head("Left over")
    if left.length_m.expected:
        paper.item(f"{amount_text(left.length_m, 'm', units)} at {measure(left.width_cm, 'cm', units)}, washed")
    if left.gaps_cm:
        paper.item("between the pieces: " + ", ".join(f"{a:g} x {b:g} cm" for a, b in left.gaps_cm))
    for line in left.could_make:
        may = "" if line.certainty == "sure" else " (if it shrinks no more than expected)"
        times = f", {line.times} times" if line.times > 1 else ""
        paper.item(f"could still make {line.name}{times}{may}{f'. {line.caution}' if line.caution else ''}")


ENOUGH = {"yes": "enough", "maybe": "may be enough", "no": "not enough alone"}


def _gives(paper: Paper, gives: list[GiveLine], units: str) -> None:
    """What could give where the piece is short."""
    paper.head("What could give")
    for line in gives:
        paper.item(f"{line.do} Saves {amount_text(line.saves_m, 'm', units)}: {ENOUGH[line.enough]}.")


HEADED = ("serves", "short_m", "gives")
"""Fields of a piece in hand that stand in the heading, or under one of their own."""


def _rows(paper: Paper, part: msgspec.Struct, units: str) -> None:
    for name in part.__struct_fields__:
        if name in HEADED:
            continue
        stem, _, unit = name.rpartition("_")
        if {"cm": units == "imperial", "in": units == "metric"}.get(unit) and f"{stem}_{'in' if unit == 'cm' else 'cm'}" in part.__struct_fields__:
            continue  # the same figure stands beside it in the other unit
        value = getattr(part, name)
        words, unit = unit_of(name)
        if isinstance(value, Amount):
            paper.item(f"{words}: {amount_text(value, unit, units)}")
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            paper.item(f"{words}: {measure(value, unit, units)}")
        elif isinstance(value, str) and value:
            paper.item(f"{words}: {value}")


def show(answer: NeedReport, units: str) -> None:
    """What to buy first, then the figures, then why."""
    paper = Paper(units)
    if answer.layout is not None:
        _picture(paper, answer.layout, units)
    if answer.buy_m is not None:
        other = "metric" if units == "imperial" else "imperial"
        paper.line(f"BUY {amount_text(answer.buy_m, 'm', units)}, or {amount_text(answer.buy_m, 'm', other)}", "bold", in_both=True)
    if answer.piece is not None:
        piece = answer.piece
        short = "" if piece.serves == "yes" else f", short by {amount_text(piece.short_m, 'm', units)}"
        word = {"yes": "SERVES", "maybe": "MAY SERVE", "no": "DOES NOT SERVE"}[piece.serves]
        paper.line(
            f"YOUR PIECE {word}{short}",
            "suits" if piece.serves == "yes" else "care" if piece.serves == "maybe" else "avoid",
        )
    if answer.cloth is not None:
        cloth_lines(paper, answer.cloth)
    for name in PARTS:
        part = getattr(answer, name)
        if part is not None:
            paper.head(name.capitalize())
            _rows(paper, part, units)
    for name, line in (answer.make or {}).items():
        if len(answer.make or {}) > 1:
            paper.head(f"{name.capitalize()}{f': {line.cloth}' if line.cloth else ''}")
            paper.item(f"buy {amount_text(line.buy_m, 'm', units)} at {measure(line.width_cm, 'cm', units)}")
            if line.because != answer.because[: len(line.because)]:
                for text in line.because:
                    paper.item(text)
    if answer.piece is not None and answer.piece.gives:
        _gives(paper, answer.piece.gives, units)
    if answer.left is not None:
        _left(paper, answer.left, units)
    for title, texts in (("Why", answer.because), ("Note", answer.notes), ("Take care", answer.cautions)):
        if texts:
            paper.head(title)
            for text in texts:
                said = text
                paper.item(said[0].upper() + said[1:] + ("" if said.endswith(".") else "."))
    paper.show()
