"""The papers a card is printed on, and how several cards lie on one sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from difflib import get_close_matches

from advisor.errors import Unclear


@dataclass(frozen=True)
class CardPaper:
    """A card's size in mm and how it is set: sizes of text in pt from the one liked best to the least that is read at arm's length."""

    width_mm: float
    height_mm: float
    base_pt: float
    sizes_pt: tuple[float, ...]
    columns: int = 1
    most: int = 99
    swatch_mm: float = 19
    title_lines: int = 2
    reads_lines: int = 2
    verdict_lines: int = 2
    border_mm: float = 5
    inset_mm: float = 8


CARDS: dict[str, CardPaper] = {
    "a6": CardPaper(105, 148, 8.8, (9.2, 8.8, 8.4, 8.0, 7.7), most=24),
    "a5": CardPaper(148, 210, 11.0, (11.5, 11.0, 10.5, 10.0, 9.6), most=34, swatch_mm=27, border_mm=6, inset_mm=10),
    "index": CardPaper(127, 76.2, 7.8, (8.2, 7.8, 7.4, 7.0), 2, 20, swatch_mm=12, title_lines=1, reads_lines=1, verdict_lines=1, border_mm=4, inset_mm=6),
    "letter": CardPaper(215.9, 279.4, 13.0, (14, 13.4, 12.8, 12.2, 11.6, 11.0), 2, 60, swatch_mm=38, border_mm=8, inset_mm=13),
}  # fmt: skip
"""Card sizes: ISO 216 A6 and A5, the 3 by 5 inch index card (76.2 x 127 mm), and US letter (8.5 x 11 in)."""

SHEETS: dict[str, tuple[float, float]] = {"a4": (210, 297), "letter": (215.9, 279.4)}
"""Width and height of sheets in mm."""
HANDOUT_SIZES_PT = (12.0, 11.5, 11.0, 10.5, 10.0, 9.6)
HANDOUT_MOST = 48
"""Sizes of a hand-out's text in pt, the one liked best first, and the lines that a page is asked to hold."""


@dataclass(frozen=True)
class Laid:
    """A sheet with the places of its cards: the left upper corner of each in mm."""

    width_mm: float
    height_mm: float
    places: tuple[tuple[float, float], ...]
    cuts_x: tuple[float, ...] = ()
    cuts_y: tuple[float, ...] = ()


def one_of(given: str, known: dict[str, object] | dict[str, CardPaper] | dict[str, tuple[float, float]], what: str) -> str:
    """The key meant; raises `Unclear` with the nearest."""
    key = given.strip().lower()
    if key not in known:
        near = get_close_matches(key, list(known), 1, 0.3)
        raise Unclear(f"{what} '{given[:40]}'", f"one of {', '.join(known)}", near[0] if near else "")
    return key


def alone(size: str) -> Laid:
    """One card on paper of its own size."""
    paper = CARDS[size]
    return Laid(paper.width_mm, paper.height_mm, ((0.0, 0.0),))


def on_sheet(size: str, sheet: str) -> Laid:
    """As many cards as fit on the sheet, upright or turned, in the middle of it; raises `Unclear` where none does."""
    paper = CARDS[size]
    best: tuple[int, float, float] = (0, 0.0, 0.0)
    for wide, high in (SHEETS[sheet], SHEETS[sheet][::-1]):
        fits = math.floor(wide / paper.width_mm + 1e-9) * math.floor(high / paper.height_mm + 1e-9)
        if fits > best[0]:
            best = (fits, wide, high)
    _, wide, high = best
    if not best[0]:
        fitting = [name for name, p in CARDS.items() if min(p.width_mm, p.height_mm) <= min(SHEETS[sheet]) and max(p.width_mm, p.height_mm) <= max(SHEETS[sheet])]
        raise Unclear(f"a card of size {size} on a sheet of {sheet}", f"a size that fits on it: {', '.join(fitting)}", fitting[0])
    columns, rows = math.floor(wide / paper.width_mm + 1e-9), math.floor(high / paper.height_mm + 1e-9)
    x0, y0 = (wide - columns * paper.width_mm) / 2, (high - rows * paper.height_mm) / 2
    xs = tuple(x0 + i * paper.width_mm for i in range(columns + 1))
    ys = tuple(y0 + i * paper.height_mm for i in range(rows + 1))
    places = tuple((x, y) for y in ys[:-1] for x in xs[:-1])
    return Laid(wide, high, places, xs, ys)
