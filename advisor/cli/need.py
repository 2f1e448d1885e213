"""`advisor need`: how much cloth, and the figures of bias, fullness, closures and notions."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any

import msgspec
import typer

from advisor.cli.measures import measure
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, cloth_lines, emit, knowledge_from, nearest
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, folders_to_read
from advisor.need import answers
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, ground
from advisor.need.reports import GiveLine, LayoutPart, LeftPart, NeedReport
from advisor.need.units import read_length
from advisor.ranges import Range

EVERY = {"units", "json", "knowledge"}
CLOTH = {"cloth", "width", "have", "shrink", "shrink_across", "spare"}
TAKES: dict[str, set[str]] = {
    "make": CLOTH | {"file", "view", "size", "nap", "large", "repeat", "pieces", "part_width"},
    "width": CLOTH | {"length", "from_width", "to_width", "nap", "with_nap", "large", "repeat", "pieces", "widest"},
    "bias": CLOTH | {"finished", "style", "tool", "strip", "length", "square"},
    "flounce": CLOTH | {"seam", "depth", "fullness", "rings", "allowance", "hem"},
    "circle": CLOTH | {"waist", "length", "part", "hem", "seams", "allowance", "hip"},
    "gathers": CLOTH | {"finished", "fullness", "style", "depth", "allowance"},
    "pleats": CLOTH
    | {
        "finished",
        "kind",
        "pleat",
        "depth",
        "count",
        "allowance",
        "drop",
        "waist",
        "length",
        "part",
        "fullness",
        "hem",
    },
    "buttons": CLOTH | {"diameter", "count", "kind", "button_thickness", "dome", "opening", "thickness"},
    "loops": CLOTH | {"diameter", "button_thickness", "count", "opening", "gap", "allowance", "tube", "thickness"},
    "thread": {"seam", "stitch"},
    "elastic": {"body", "place", "finished"},
    "zip": {"opening"},
    "layout": CLOTH | {"file", "piece", "nap", "picture"},
}
"""Which options each question reads; any other is refused rather than passed over."""

Text = Annotated[str, typer.Option()]
Flag = Annotated[bool, typer.Option()]
_THREE = ("low", "expected", "high")


def _option(says: str, *names: str) -> Any:
    return typer.Option(*names, help=says, show_default=False)


def command(
    question: Annotated[str, typer.Argument(help=f"One of {', '.join(TAKES)}.", show_default=False)],
    file: Annotated[str, typer.Argument(help="For make: the make file.", show_default=False)] = "",
    cloth: Annotated[str, _option("The cloth in your own words: gives shrinkage, width, weight, thickness.")] = "",
    width: Annotated[str, _option("The cloth's width: '140 cm', '45 in'.")] = "",
    have: Annotated[str, _option("A piece in hand, its length: '1.8 m'. Does it serve?")] = "",
    shrink: Annotated[str, _option("Shrinkage along in %: '5' or '3-6'.")] = "",
    shrink_across: Annotated[str, _option("Shrinkage across in %.")] = "",
    spare: Annotated[str, _option("Share to keep in hand, %.")] = "",
    length: Annotated[
        str, _option("width: the pattern's length; bias: strip wanted; circle, sunray: waist to hem.")
    ] = "",
    from_width: Annotated[str, _option("The width that the length is for.", "--from", "--from-width")] = "",
    to_width: Annotated[str, _option("The cloth's width (the same as --width).", "--to", "--to-width")] = "",
    widest: Annotated[str, _option("The widest pattern piece.")] = "",
    nap: Annotated[bool, _option("The cloth is laid one way (nap, pile, one-way print).")] = False,
    with_nap: Annotated[bool, _option("The length given is already for one-way cloth.")] = False,
    large: Annotated[bool, _option("Large pieces, such as sleeves cut in one with the body.")] = False,
    repeat: Annotated[str, _option("Repeat of a check or pattern along the cloth.")] = "",
    pieces: Annotated[str, _option("Pieces that lie one above another along the cloth and must match.")] = "",
    view: Annotated[str, _option("make: the view.")] = "",
    size: Annotated[str, _option("make: the size.")] = "",
    part_width: Annotated[list[str], _option("make: width of another part's cloth, 'lining=140 cm'. Repeatable.")] = [],  # noqa: B006
    finished: Annotated[str, _option("Finished width (bias, elastic) or finished length (gathers, pleats).")] = "",
    style: Annotated[
        str, _option("bias: single, double, french, milliners-fold, band; gathers: straight, bias, older.")
    ] = "",
    tool: Annotated[str, _option("Size of the folding tool.")] = "",
    strip: Annotated[str, _option("Width of the strip as cut.")] = "",
    square: Annotated[str, _option("Side of a square in hand.")] = "",
    seam: Annotated[list[str], _option("Length of the seam; for thread repeatable.")] = [],  # noqa: B006
    stitch: Annotated[list[str], _option("lockstitch, zigzag, overlock-3 … or the ISO 4915 number. Repeatable.")] = [],  # noqa: B006
    depth: Annotated[str, _option("Depth of the flounce, frill or pleat.")] = "",
    fullness: Annotated[str, _option("How many times: free edge over seam, or cut over finished length.")] = "",
    rings: Annotated[str, _option("How many full circles.")] = "",
    allowance: Annotated[
        str, _option("Allowance: seam (flounce, circle, loops), hem and join (gathers), in all (pleats).")
    ] = "",
    hem: Annotated[str, _option("Hem to add.")] = "",
    waist: Annotated[str, _option("Waist.")] = "",
    hip: Annotated[str, _option("Hip, to check a narrow circle skirt.")] = "",
    seams: Annotated[str, _option("Upright seams whose allowances widen the waist.")] = "",
    part: Annotated[str, _option("Part of a circle: full, three-quarter, half, quarter or a figure.")] = "",
    kind: Annotated[
        str, _option("pleats: knife, box, inverted, double-box, sunray; buttons: kit, gathered, mould.")
    ] = "",
    pleat: Annotated[str, _option("Width of one pleat.")] = "",
    count: Annotated[str, _option("How many.")] = "",
    drop: Annotated[str, _option("Length of the pleated cloth, hems included.")] = "",
    diameter: Annotated[str, _option("Button's diameter: '15 mm', '24L', '5/8 in'.")] = "",
    button_thickness: Annotated[str, _option("Thickness of the button.")] = "",
    dome: Annotated[str, _option("Height of a domed button, or the diameter of a ball.")] = "",
    thickness: Annotated[str, _option("Thickness of the cloth.")] = "",
    opening: Annotated[str, _option("Length from first to last button, or of the zip's opening.")] = "",
    gap: Annotated[str, _option("Distance between the two ends of a loop.")] = "",
    tube: Annotated[str, _option("Finished width of the rouleau.")] = "",
    body: Annotated[str, _option("Body measure at the place of the elastic.")] = "",
    place: Annotated[str, _option("waist, wrist, leg or swim.")] = "",
    piece: Annotated[list[str], _option("layout: a piece, 'front 72 x 30 cm, cut 2' (fold, bias). Repeatable.")] = [],  # noqa: B006
    picture: Annotated[Path | None, _option("layout: draw it into this file, an SVG.")] = None,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """How much: cloth for a make or a width, bias, flounce, circle, gathers, pleats, buttons, loops, thread, elastic, zip, layout.

    A figure without a unit is metres for cloth and seams, cm for widths and lengths, mm for small things; with
    --units imperial it is yards and inches.
    """
    given = {k: v for k, v in locals().items() if k != "question" and v not in ("", [], False, None)}
    if question not in TAKES:
        raise Unclear(
            f"question '{question[:40]}'",
            f"one of {', '.join(TAKES)}",
            nearest(question, TAKES).removeprefix("; nearest: "),
        )
    for name in given:
        if name not in TAKES[question] | EVERY:
            raise Unclear(
                f"{_flag(name)} with 'need {question}'", f"one of {', '.join(sorted(map(_flag, TAKES[question])))}"
            )
    answer = answered(question, Given(given, units), list(knowledge))
    if picture:
        _draw(answer, picture, units)
    if json:
        emit(answer)
    else:
        show(answer, units)
        if picture:
            print(f"\nDrawn: {picture}")


def _draw(answer: NeedReport, path: Path, units: str) -> None:
    from advisor.need.picture import svg, write

    part = answer.layout
    assert part is not None
    size = f"{measure(part.length_m.expected, 'm', units)} of cloth, {measure(part.width_cm, 'cm', units)} wide"
    write(svg(part, f"Rough layout: {size}", [f"{note[0].upper()}{note[1:]}." for note in answer.notes[-3:]]), path)


def _flag(name: str) -> str:
    return {"file": "a make file", "from_width": "--from", "to_width": "--to"}.get(name, "--" + name.replace("_", "-"))


class Given:
    """What was typed, read into the units that the answers take; a figure that is missing is None."""

    def __init__(self, values: dict[str, Any], units: str) -> None:
        self.values, self.imperial = values, units == "imperial"

    def text(self, name: str, default: str = "") -> str:
        return str(self.values.get(name, default))

    def flag(self, name: str) -> bool:
        return bool(self.values.get(name))

    def length(self, name: str, unit: str) -> float | None:
        """In `unit` (mm, cm or m); a bare figure is taken in it, or in inches or yards."""
        return None if name not in self.values else self.one(str(self.values[name]), name, unit)

    def one(self, text: str, name: str, unit: str) -> float:
        bare = {"m": "yd"}.get(unit, "in") if self.imperial else unit
        value = read_length(text, bare, _flag(name)) / {"mm": 1, "cm": 10, "m": 1000}[unit]
        if value <= 0 and name not in ("hem", "allowance", "gap"):
            raise Unclear(f"{_flag(name)} {text[:30]}", "more than nothing")
        return value

    def need(self, name: str, unit: str, example: str) -> float:
        value = self.length(name, unit)
        if value is None:
            raise Unclear(f"no {_flag(name)}", f"a figure for it, such as {example}")
        return value

    def number(self, name: str) -> float | None:
        if name not in self.values:
            return None
        text = str(self.values[name]).strip().removesuffix("%").strip().replace(",", ".")
        try:
            value = float(Fraction(text)) if "/" in text else float(text)
        except (ValueError, ZeroDivisionError):
            raise Unclear(f"{_flag(name)} '{text[:30]}'", "a number") from None
        if value != value or abs(value) > 1e9:
            raise Unclear(f"{_flag(name)} '{text[:30]}'", "a number")
        return value

    def whole(self, name: str) -> int | None:
        value = self.number(name)
        if value is None:
            return None
        if value < 1 or value != int(value):
            raise Unclear(f"{_flag(name)} {value:g}", "a whole number, 1 or more")
        return int(value)

    def span(self, name: str) -> Range | None:
        """'5' or '3-6' as a range of %."""
        if name not in self.values:
            return None
        text = str(self.values[name]).replace("%", "").replace(",", ".").strip()
        match = re.fullmatch(r"(-?\d+(?:\.\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:\.\d+)?))?", text)
        if not match:
            raise Unclear(f"{_flag(name)} '{text[:30]}'", "a percentage such as 5 or 3-6")
        low = float(match.group(1))
        high = float(match.group(2)) if match.group(2) else low
        return Range(min(low, high), max(low, high))


def answered(question: str, given: Given, folders: list[Path], loaded: Knowledge | None = None) -> NeedReport:
    """The question put to the answers, by the knowledge that is loaded already where there is one."""
    words = given.text("cloth")
    if question == "make" and not words:
        raise Unclear("no --cloth", "the cloth in your own words, with its width if you know it")
    known = loaded or (knowledge_from(folders) if words else None)
    to_width = given.length("to_width", "cm")
    base = ground(
        words=words,
        knowledge=known,
        folders=None if known else folders_to_read(folders),
        units="imperial" if given.imperial else "metric",
        width_cm=to_width if to_width is not None else given.length("width", "cm"),
        have_m=given.length("have", "m"),
        shrink_along_pct=given.span("shrink"),
        shrink_across_pct=given.span("shrink_across"),
        spare_pct=given.number("spare") or 0.0,
        thickness_mm=given.length("thickness", "mm"),
    )
    if question == "layout":
        return _layout(base, given, known)
    if question == "make":
        from advisor.makes import read_make

        if not given.text("file"):
            raise Unclear("no make", "a make file, such as advisor need make my-blouse.yaml --cloth …")
        assert known is not None
        widths: dict[str, float] = {}
        for pair in given.values.get("part_width", []):
            name, _, value = str(pair).partition("=")
            widths[name.strip()] = given.one(value, "part_width", "cm")
        return answers.make(
            base,
            read_make(Path(given.text("file"))),
            known,
            words=words,
            view=given.text("view"),
            size=given.text("size"),
            one_way=given.flag("nap"),
            large_pieces=given.flag("large"),
            repeat_cm=given.length("repeat", "cm") or 0.0,
            pieces=given.whole("pieces") or 1,
            part_widths=widths,
        )
    return QUESTIONS[question](base, given)


def _layout(base: Ground, given: Given, known: Knowledge | None) -> NeedReport:
    pieces = [answers.read_piece(text, base.units) for text in given.values.get("piece", [])]
    features: list[str] = []
    if given.text("file"):
        from advisor.advise import with_parts
        from advisor.makes import asks_of, read_make

        made = read_make(Path(given.text("file")))
        pieces += made.pieces
        features = [ask.feature for ask in with_parts(asks_of(made, known), known)] if known else []
    if not pieces:
        raise Unclear("no pattern pieces", "a make file with pieces, or --piece once for each", "--piece 'front 72 x 30 cm, cut 2'")
    return answers.layout(base, pieces, one_way=given.flag("nap"), features=features)


def _width(base: Ground, given: Given) -> NeedReport:
    return answers.width(
        base,
        length_m=given.need("length", "m", "--length '2 m' --from 140"),
        from_cm=given.need("from_width", "cm", "--from 140"),
        one_way=given.flag("nap"),
        with_nap=given.flag("with_nap"),
        large_pieces=given.flag("large"),
        repeat_cm=given.length("repeat", "cm") or 0.0,
        pieces=given.whole("pieces") or 1,
        widest_cm=given.length("widest", "cm") or 0.0,
    )


def _bias(base: Ground, given: Given) -> NeedReport:
    return answers.bias(
        base,
        finished_mm=given.length("finished", "mm"),
        style=given.text("style", "double"),
        tool_mm=given.length("tool", "mm"),
        strip_mm=given.length("strip", "mm"),
        length_m=given.length("length", "m"),
        square_cm=given.length("square", "cm"),
    )


def _flounce(base: Ground, given: Given) -> NeedReport:
    seams = given.values.get("seam", [])
    if len(seams) != 1:
        raise Unclear(
            "no --seam" if not seams else f"{len(seams)} seams",
            "the length of the seam that the flounce is set into",
            "--seam 150",
        )
    return answers.flounce(
        base,
        seam_cm=given.one(seams[0], "seam", "cm"),
        depth_cm=given.need("depth", "cm", "--depth 12"),
        ratio=given.number("fullness"),
        rings=given.number("rings"),
        **_kept(allowance_cm=given.length("allowance", "cm"), hem_cm=given.length("hem", "cm")),
    )


def _circle(base: Ground, given: Given) -> NeedReport:
    return answers.circle(
        base,
        waist_cm=given.need("waist", "cm", "--waist 72"),
        length_cm=given.need("length", "cm", "--length 60"),
        turns=answers.turns_of(given.text("part", "full")),
        hip_cm=given.length("hip", "cm"),
        **_kept(
            hem_cm=given.length("hem", "cm"), seams=given.whole("seams"), allowance_cm=given.length("allowance", "cm")
        ),
    )


def _gathers(base: Ground, given: Given) -> NeedReport:
    return answers.gathers(
        base,
        finished_cm=given.need("finished", "cm", "--finished 180"),
        ratio=given.number("fullness"),
        style=given.text("style"),
        depth_cm=given.length("depth", "cm"),
        **_kept(allowance_cm=given.length("allowance", "cm")),
    )


def _pleats(base: Ground, given: Given) -> NeedReport:
    if given.text("kind") == "sunray":
        return answers.sunray(
            base,
            waist_cm=given.need("waist", "cm", "--waist 72"),
            length_cm=given.need("length", "cm", "--length 60"),
            turns=answers.turns_of(given.text("part", "half")),
            ratio=given.number("fullness"),
            **_kept(hem_cm=given.length("hem", "cm")),
        )
    return answers.pleats(
        base,
        finished_cm=given.need("finished", "cm", "--finished 50"),
        kind=given.text("kind", "knife"),
        pleat_cm=given.length("pleat", "cm"),
        depth_cm=given.length("depth", "cm"),
        count=given.whole("count"),
        drop_cm=given.length("drop", "cm"),
        **_kept(allowance_cm=given.length("allowance", "cm")),
    )


def _buttons(base: Ground, given: Given) -> NeedReport:
    return answers.buttons(
        base,
        diameter_mm=given.need("diameter", "mm", "--diameter 24L"),
        count=given.whole("count"),
        kind=given.text("kind", "kit"),
        button_mm=given.length("button_thickness", "mm"),
        dome_mm=given.length("dome", "mm"),
        opening_mm=_cm(given, "opening"),
    )


def _loops(base: Ground, given: Given) -> NeedReport:
    return answers.loops(
        base,
        button_mm=given.need("diameter", "mm", "--diameter 11"),
        thick_mm=given.length("button_thickness", "mm"),
        count=given.whole("count"),
        opening_mm=_cm(given, "opening"),
        gap_mm=given.length("gap", "mm"),
        allowance_mm=given.length("allowance", "mm"),
        **_kept(tube_mm=given.length("tube", "mm")),
    )


def _thread(base: Ground, given: Given) -> NeedReport:
    seams = [given.one(s, "seam", "m") for s in given.values.get("seam", [])]
    return answers.thread(base, seams_m=seams, stitches=given.values.get("stitch", []))


def _elastic(base: Ground, given: Given) -> NeedReport:
    return answers.elastic(
        base,
        body_cm=given.need("body", "cm", "--body 72"),
        place=given.text("place", "waist"),
        width_mm=given.length("finished", "mm"),
    )


def _zip(base: Ground, given: Given) -> NeedReport:
    return answers.zip_(base, opening_cm=given.need("opening", "cm", "--opening 20"))


QUESTIONS = {
    "width": _width,
    "bias": _bias,
    "flounce": _flounce,
    "circle": _circle,
    "gathers": _gathers,
    "pleats": _pleats,
    "buttons": _buttons,
    "loops": _loops,
    "thread": _thread,
    "elastic": _elastic,
    "zip": _zip,
}


def _kept(**values: Any) -> dict[str, Any]:
    """Only what was given, so that the answers' own defaults hold for the rest."""
    return {k: v for k, v in values.items() if v is not None}


def _cm(given: Given, name: str) -> float | None:
    value = given.length(name, "cm")
    return None if value is None else value * 10


# ---- on paper ----


def amount_text(amount: Amount, unit: str, units: str) -> str:
    """The expected figure, and the span where it is open."""
    low, mid, high = (measure(getattr(amount, end), unit, units) for end in _THREE)
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
    for name in (
        "width",
        "piece",
        "bias",
        "flounce",
        "circle",
        "gathers",
        "pleats",
        "buttons",
        "loops",
        "thread",
        "elastic",
        "zip",
    ):
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
