"""Sets cards and hand-outs with typst and says what had to be shortened or left out.

The texts go to the templates as one JSON string among typst's inputs, so that nothing a maker wrote is read as markup.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import msgspec

from advisor.card.papers import CARDS, HANDOUT_MOST, HANDOUT_SIZES_PT, SHEETS, Laid
from advisor.card.reports import CardReport, HandoutReport
from advisor.errors import Unclear

if TYPE_CHECKING:
    from typst import Compiler

FORMATS = ("pdf", "png", "svg")
PPI = 300
"""Dots per inch of a PNG, as printers want it."""
EMBEDDED = 0x0590
"""Latin, Greek and Cyrillic stand in typst's own fonts; letters above need a font of the system's."""


@dataclass(frozen=True)
class Printed:
    """A file's content and how many pages it has."""

    content: bytes
    pages: int


class TypstMissing(Unclear):
    """The library that sets cards is not installed."""

    def __init__(self) -> None:
        super().__init__("a printed card", "the typst package, which is not installed: pip install 'fabric-advisor[card]'")


def cards(reports: Sequence[CardReport], size: str, laid: Laid, form: str) -> Printed:
    """The cards as pdf, png or svg; notes in each report the size of its text and what was left out."""
    paper = CARDS[size]
    data = {
        "title": ", ".join(r.title for r in reports),
        "sheet": {"width": laid.width_mm, "height": laid.height_mm},
        "measures": {
            "width": paper.width_mm, "height": paper.height_mm, "columns": paper.columns, "base": paper.base_pt,
            "sizes": paper.sizes_pt, "most": paper.most, "swatch": paper.swatch_mm, "border": paper.border_mm,
            "inset": paper.inset_mm, "title-lines": paper.title_lines, "reads-lines": paper.reads_lines,
            "verdict-lines": paper.verdict_lines,
        },
        "places": laid.places,
        "marks": {"xs": laid.cuts_x, "ys": laid.cuts_y} if laid.cuts_x else None,
        "cards": msgspec.to_builtins(reports),
    }  # fmt: skip
    return _set("card.typ", data, reports, form)


def handout(report: HandoutReport, sheet: str, form: str) -> Printed:
    """The hand-out on one page as pdf, png or svg; notes in the report the size of its text and what was left out."""
    width, height = SHEETS[sheet]
    data = {
        "title": report.title,
        "measures": {"width": width, "height": height, "sizes": HANDOUT_SIZES_PT, "most": HANDOUT_MOST},
        "handout": msgspec.to_builtins(report),
    }
    return _set("handout.typ", data, [report], form)


def _set(template: str, data: dict[str, Any], reports: Sequence[CardReport | HandoutReport], form: str) -> Printed:
    text = json.dumps(data, ensure_ascii=False).encode("utf-8", "replace").decode()  # a lone surrogate is no text
    compiler = _compiler(template, text)
    for report, note in zip(reports, json.loads(compiler.query("<fit>", field="value")), strict=True):
        report.text_pt, report.left_out, report.shortened = note["size"], note["left-out"], note["shortened"]
    found = compiler.compile(format=form, ppi=float(PPI))  # type: ignore[arg-type]
    pages = found if isinstance(found, list) else [found or b""]
    if form != "pdf" and len(pages) > 1:
        raise Unclear(f"{len(pages)} pages as one .{form}", "a name ending in .pdf, which holds several pages", "cards.pdf")
    count = int(json.loads(compiler.query("<pages>", field="value"))[0]) if form == "pdf" else 1
    return Printed(pages[0], count)


def _compiler(template: str, data: str) -> Compiler:
    try:
        import typst
    except ModuleNotFoundError:
        raise TypstMissing from None
    folder = str(files("advisor.card"))
    own_letters = all(ord(c) < EMBEDDED or 0x2000 <= ord(c) < 0x2300 for c in data)
    return typst.Compiler(f"{folder}/{template}", root=folder, ignore_system_fonts=own_letters, sys_inputs={"data": data})
