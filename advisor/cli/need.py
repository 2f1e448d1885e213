"""`advisor need`: how much cloth, and the figures of bias, fullness, closures and notions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from inspect import Parameter, Signature
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.cli.measures import measure
from advisor.cli.need_shown import amount_text as amount_text
from advisor.cli.need_shown import show
from advisor.cli.need_shown import unit_of as unit_of
from advisor.cli.need_shown import words_of as words_of
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import emit, knowledge_from, nearest
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, folders_to_read
from advisor.need import answers
from advisor.need.ground import Ground, ground
from advisor.need.reports import NeedReport
from advisor.need.units import read_length
from advisor.ranges import Range

CLOTH = {"cloth", "width", "have", "shrink", "shrink_across", "spare"}
TAKES: dict[str, set[str]] = {
    "make": CLOTH | {"file", "view", "size", "nap", "large", "repeat", "pieces", "part_width"},
    "width": CLOTH | {"length", "from_width", "to_width", "nap", "with_nap", "large", "repeat", "pieces", "widest"},
    "bias": CLOTH | {"finished", "style", "tool", "strip", "length", "square"},
    "flounce": CLOTH | {"seam", "depth", "fullness", "rings", "allowance", "hem"},
    "circle": CLOTH | {"waist", "length", "part", "hem", "seams", "allowance", "hip"},
    "gathers": CLOTH | {"finished", "fullness", "style", "depth", "allowance"},
    "pleats": CLOTH | {"finished", "kind", "pleat", "depth", "count", "allowance", "drop", "waist", "length", "part", "fullness", "hem"},
    "buttons": CLOTH | {"diameter", "count", "kind", "button_thickness", "dome", "opening", "thickness"},
    "loops": CLOTH | {"diameter", "button_thickness", "count", "opening", "gap", "allowance", "tube", "thickness"},
    "thread": {"seam", "stitch"},
    "elastic": {"body", "place", "finished"},
    "zip": {"opening"},
    "layout": CLOTH | {"file", "piece", "nap", "picture"},
}
"""Which options each question reads; any other is refused rather than passed over."""

class Asked:
    """One option: what its help says, what it takes (text, a flag, text again and again), and its names where they differ."""

    def __init__(self, says: str, takes: Any = str, *names: str) -> None:
        self.says, self.takes, self.names = says, takes, names

    @property
    def annotation(self) -> Any:
        return Annotated[self.takes, typer.Option(*self.names, help=self.says, show_default=False)]


OPTIONS = {
    "cloth": Asked("The cloth in your own words: gives shrinkage, width, weight, thickness."),
    "width": Asked("The cloth's width: '140 cm', '45 in'."),
    "have": Asked("A piece in hand, its length: '1.8 m'. Does it serve?"),
    "shrink": Asked("Shrinkage along in %: '5' or '3-6'."),
    "shrink_across": Asked("Shrinkage across in %."),
    "spare": Asked("Share to keep in hand, %."),
    "length": Asked("width: the pattern's length; bias: strip wanted; circle, sunray: waist to hem."),
    "from_width": Asked("The width that the length is for.", str, "--from", "--from-width"),
    "to_width": Asked("The cloth's width (the same as --width).", str, "--to", "--to-width"),
    "widest": Asked("The widest pattern piece."),
    "nap": Asked("The cloth is laid one way (nap, pile, one-way print).", bool),
    "with_nap": Asked("The length given is already for one-way cloth.", bool),
    "large": Asked("Large pieces, such as sleeves cut in one with the body.", bool),
    "repeat": Asked("Repeat of a check or pattern along the cloth."),
    "pieces": Asked("Pieces that lie one above another along the cloth and must match."),
    "view": Asked("make: the view."),
    "size": Asked("make: the size."),
    "part_width": Asked("make: width of another part's cloth, 'lining=140 cm'. Repeatable.", list[str]),
    "finished": Asked("Finished width (bias, elastic) or finished length (gathers, pleats)."),
    "style": Asked("bias: single, double, french, milliners-fold, band; gathers: straight, bias, older."),
    "tool": Asked("Size of the folding tool."),
    "strip": Asked("Width of the strip as cut."),
    "square": Asked("Side of a square in hand."),
    "seam": Asked("Length of the seam; for thread repeatable.", list[str]),
    "stitch": Asked("lockstitch, zigzag, overlock-3 … or the ISO 4915 number. Repeatable.", list[str]),
    "depth": Asked("Depth of the flounce, frill or pleat."),
    "fullness": Asked("How many times: free edge over seam, or cut over finished length."),
    "rings": Asked("How many full circles."),
    "allowance": Asked("Allowance: seam (flounce, circle, loops), hem and join (gathers), in all (pleats)."),
    "hem": Asked("Hem to add."),
    "waist": Asked("Waist."),
    "hip": Asked("Hip, to check a narrow circle skirt."),
    "seams": Asked("Upright seams whose allowances widen the waist."),
    "part": Asked("Part of a circle: full, three-quarter, half, quarter or a figure."),
    "kind": Asked("pleats: knife, box, inverted, double-box, sunray; buttons: kit, gathered, mould."),
    "pleat": Asked("Width of one pleat."),
    "count": Asked("How many."),
    "drop": Asked("Length of the pleated cloth, hems included."),
    "diameter": Asked("Button's diameter: '15 mm', '24L', '5/8 in'."),
    "button_thickness": Asked("Thickness of the button."),
    "dome": Asked("Height of a domed button, or the diameter of a ball."),
    "thickness": Asked("Thickness of the cloth."),
    "opening": Asked("Length from first to last button, or of the zip's opening."),
    "gap": Asked("Distance between the two ends of a loop."),
    "tube": Asked("Finished width of the rouleau."),
    "body": Asked("Body measure at the place of the elastic."),
    "place": Asked("waist, wrist, leg or swim."),
    "piece": Asked("layout: a piece, 'front 72 x 30 cm, cut 2' (fold, bias). Repeatable.", list[str]),
    "picture": Asked("layout: draw it into this file, an SVG.", Path | None),
}
"""Every option of a question; `TAKES` says which question reads which."""


def command(question: str, file: str = "", *, units: str = "", json: bool = False, knowledge: Sequence[Path] = (), **options: Any) -> None:
    """How much: cloth for a make or a width, bias, flounce, circle, gathers, pleats, buttons, loops, thread, elastic, zip, layout.

    A figure without a unit is metres for cloth and seams, cm for widths and lengths, mm for small things; with
    --units imperial it is yards and inches.
    """
    given = {k: v for k, v in {"file": file, **options}.items() if v not in ("", [], False, None)}
    if question not in TAKES:
        raise Unclear(
            f"question '{question[:40]}'",
            f"one of {', '.join(TAKES)}",
            nearest(question, TAKES).removeprefix("; nearest: "),
        )
    for name in given:
        if name not in TAKES[question]:
            raise Unclear(
                f"{_flag(name)} with 'need {question}'", f"one of {', '.join(sorted(map(_flag, TAKES[question])))}"
            )
    answer = answered(question, Given(given, units), list(knowledge))
    picture = options.get("picture")
    if picture:
        _draw(answer, picture, units)
    if json:
        emit(answer)
    else:
        show(answer, units)
        if picture:
            print(f"\nDrawn: {picture}")


def _as_typed() -> Signature:
    """The command's signature as typer reads it: the question, a file, every option of the table, and what all commands take."""
    arguments = {"question": f"One of {', '.join(TAKES)}.", "file": "For make and layout: the make file."}
    taken: dict[str, tuple[Any, Any]] = {
        name: (Annotated[str, typer.Argument(help=says, show_default=False)], "" if name == "file" else Parameter.empty)
        for name, says in arguments.items()
    }
    first = {bool: False, str: ""}
    taken |= {name: (asked.annotation, first.get(asked.takes, [] if asked.takes == list[str] else None)) for name, asked in OPTIONS.items()}
    taken |= {"units": (Units, ""), "json": (Json, False), "knowledge": (Folders, [])}
    return Signature([Parameter(name, Parameter.KEYWORD_ONLY, annotation=kind, default=default) for name, (kind, default) in taken.items()])


command.__signature__ = _as_typed()  # type: ignore[attr-defined]
command.__annotations__ = {name: taken.annotation for name, taken in command.__signature__.parameters.items()}  # type: ignore[attr-defined]


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
