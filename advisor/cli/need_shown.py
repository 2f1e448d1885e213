"""The answers of `advisor need` on paper: what to buy first, a piece in hand, the figures, then why."""

from __future__ import annotations

from collections import Counter

import msgspec

from advisor.cli.measures import YARDS_FROM_M, eighths, measure
from advisor.cli.words import Paper, cloth_lines
from advisor.need.cloth import Amount
from advisor.need.reports import GiveLine, LayoutPart, LeftPart, NeedReport
from advisor.need.units import M_PER_YARD

PARTS = ("width", "piece", "bias", "flounce", "circle", "gathers", "pleats", "buttons", "loops", "thread", "elastic", "zip")
"""The parts of a report that are printed field by field, in this order."""


LABELS = {
    "after_washing_m": "length once it has shrunk", "after_washing_cm": "width once it has shrunk", "have_m": "length in hand",
    "usable_cm": "width left to lay on", "pattern_m": "the pattern at that width", "needed_m": "with shrinkage and a share in hand",
    "along_selvedge_mm": "that is, along the selvedge", "strip_length_m": "strip wanted, long",
    "each_strip_cm": "each of them long", "full_strip_cloth_m": "cloth for those", "square_cm": "square for one continuous strip",
    "turns": "full circles", "sections": "pieces", "section_degrees": "each piece", "per_row": "pieces beside one another",
    "inner_radius_cm": "radius at the seam line", "outer_radius_cm": "radius at the finished edge",
    "cut_inner_radius_cm": "cut the inner curve at", "cut_outer_radius_cm": "cut the outer curve at",
    "inner_edge_cm": "seam line, long", "outer_edge_cm": "finished edge, long", "waste_pct": "left over",
    "fullness": "times as full", "strip_m": "strip, long", "strip_depth_cm": "strip, deep",
    "covered_mm": "diameter when covered", "circle_mm": "circle of cloth, across", "edge_mm": "button line to the edge",
    "exposed_mm": "loop outside the seam", "tube_m": "rouleau in all", "thread_m": "thread in all", "reel_m": "on a reel",
    "of_body_pct": "of the body", "overlap_mm": "of which overlaps", "casing_mm": "casing, wide",
}  # fmt: skip
"""What a figure is to the maker, where its field's name alone would not say."""
LABELS_OF = {
    "width": {"width_cm": "width of the cloth"}, "piece": {"width_cm": "width in hand"},
    "bias": {"strip_mm": "strip as cut, wide", "strips": "or strips from selvedge to selvedge"},
    "gathers": {"strips": "widths to join"}, "pleats": {"count": "pleats", "depth_cm": "each deep", "cut_cm": "cut, without allowances", "with_allowance_cm": "cut, with allowances", "widths": "widths to join"},
    "buttons": {"count": "buttons", "cut": "circles to cut, with one to spare", "spacing_mm": "from centre to centre"},
    "loops": {"tube_mm": "rouleau, wide", "strip_mm": "bias strip, wide", "cut_mm": "each loop as cut", "count": "loops", "spacing_mm": "from loop to loop"},
    "elastic": {"cut_cm": "elastic to cut"}, "zip": {"length_cm": "zip to buy"},
}  # fmt: skip
"""The same, where parts use one field's name for different things."""
FIRST = {
    "gathers": "strip_m", "pleats": "with_allowance_cm", "buttons": "circle_mm", "loops": "tube_m", "thread": "thread_m", "elastic": "cut_cm", "zip": "length_cm",
}  # fmt: skip
"""The figure that answers the question where no cloth is to be bought."""


def amount_text(amount: Amount, unit: str, units: str) -> str:
    """The expected figure, and the span where it is open; a short length in inches throughout."""
    if unit == "m" and units == "imperial" and amount.high < YARDS_FROM_M / 2:
        amount, unit = amount.each(lambda metres: metres * 100), "cm"
    if unit in ("cm", "mm"):
        amount = amount.each(lambda figure: round(figure, 1))
    low, mid, high = (measure(getattr(amount, end), unit, units) for end in ("low", "expected", "high"))
    if unit == "m" and units == "imperial" and low.endswith(" in"):  # one unit throughout
        low, mid = (f"{eighths(metres / M_PER_YARD)} yd" for metres in (amount.low, amount.expected))
    bare, _, last = low.rpartition(" ")
    if bare and high.endswith(f" {last}"):
        low = bare
    return mid if low == high or f"{low} {last}" == high else f"{mid} ({low} to {high})"


def unit_of(name: str) -> tuple[str, str]:
    """A field's name as words, and its unit."""
    stem, _, last = name.rpartition("_")
    if stem and last in ("m", "cm", "mm", "pct", "in", "degrees"):
        return stem.replace("_", " "), last
    return name.replace("_", " "), "ligne" if name == "ligne" else ""


def words_of(part: str, field: str) -> tuple[str, str]:
    """A part's figure in the maker's words, and its unit."""
    words, unit = unit_of(field)
    return LABELS_OF.get(part, {}).get(field) or LABELS.get(field) or words, unit


def figure_text(value: object, unit: str, units: str) -> str:
    """A figure of a report with its unit; empty for what is none."""
    if isinstance(value, Amount):
        return amount_text(value, unit, units)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return measure(round(value, 1) if unit == "cm" else value, unit, units).replace(" °", "°")
    return value if isinstance(value, str) else ""


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


def _rows(paper: Paper, title: str, part: msgspec.Struct, units: str, bought: bool) -> None:
    for name in part.__struct_fields__:
        if name in HEADED or (name == FIRST.get(title) and not bought):
            continue
        stem, _, unit = name.rpartition("_")
        if {"cm": units == "imperial", "in": units == "metric"}.get(unit) and f"{stem}_{'in' if unit == 'cm' else 'cm'}" in part.__struct_fields__:
            continue  # the same figure stands beside it in the other unit
        words, unit = words_of(title, name)
        said = figure_text(getattr(part, name), unit, units)
        if said:
            paper.item(f"{words}: {said}")


def _first(paper: Paper, answer: NeedReport, units: str) -> None:
    """The one figure that answers the question, where it is not cloth to buy."""
    for title, field in FIRST.items():
        part = getattr(answer, title)
        if part is not None and getattr(part, field) is not None:
            words, unit = words_of(title, field)
            paper.line(f"{words.upper()}: {figure_text(getattr(part, field), unit, units)}", "bold", in_both=True)


def show(answer: NeedReport, units: str) -> None:
    """What to buy first, then the figures, then why."""
    paper = Paper(units)
    if answer.layout is not None:
        _picture(paper, answer.layout, units)
    if answer.buy_m is not None:
        other = "metric" if units == "imperial" else "imperial"
        paper.line(f"BUY {amount_text(answer.buy_m, 'm', units)}, or {amount_text(answer.buy_m, 'm', other)}", "bold", in_both=True)
    else:
        _first(paper, answer, units)
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
            _rows(paper, name, part, units, answer.buy_m is not None)
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
