"""A rough layout as a picture: an SVG file to print or enlarge, and blocks of characters for the terminal.

Both show the cloth as it lies on the table: its length from left to right, one selvedge above and one below. Every piece
carries a letter, named beside the picture, and the direction of its grain.
"""

from __future__ import annotations

import math
import os
from collections.abc import Sequence
from pathlib import Path
from tempfile import NamedTemporaryFile
from textwrap import wrap
from xml.sax.saxutils import escape

from advisor.errors import Unclear
from advisor.need.reports import LaidPiece, LayoutPart

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
FILLS = ("#d9e4ec", "#f0e2c9", "#dfead6", "#ecdce3", "#e4e1f0", "#e9e9e0")
"""Pale tints of one lightness, told apart by letter and name as well, so that the picture also prints in grey."""
SHADES = "░▒▓"
PX_PER_CM = 4
MARGIN = 46
PX_PER_CHARACTER = 7
"""Of the small letters below the picture, with room to spare."""
FEWEST_ROWS, MOST_ROWS = 6, 22
CELL = 2.0
"""How many times higher than wide a character is."""


def letters_of(pieces: Sequence[LaidPiece]) -> dict[str, str]:
    """Name → letter, in the order of the pieces; names beyond the alphabet share a '?'."""
    names = list(dict.fromkeys(piece.name for piece in pieces))
    return {name: LETTERS[place] if place < len(LETTERS) else "?" for place, name in enumerate(names)}


def blocks(part: LayoutPart, columns: int) -> list[str]:
    """The layout in block characters, at most `columns` wide: shaded pieces with their letter, dots where cloth is left.

    Neighbours of one shade are kept apart by a thin gap wherever the scale allows one.
    """
    length = part.length_m.expected * 100
    across = max(10, columns - 2)
    per_column = max(length / across, part.width_cm / (MOST_ROWS * CELL), 1.0)
    rows = max(FEWEST_ROWS, round(part.width_cm / (per_column * CELL)))
    per_row = part.width_cm / rows
    across = max(1, math.ceil(length / per_column - 1e-9))
    grid = [["·"] * across for _ in range(rows)]
    letters = letters_of(part.pieces)
    for number, piece in enumerate(part.pieces):
        top, left = round(piece.across_from_cm / per_row), round(piece.along_from_cm / per_column)
        bottom = max(top + 1, round((piece.across_from_cm + piece.across_cm) / per_row))
        right = max(left + 1, round((piece.along_from_cm + piece.along_cm) / per_column))
        for row in range(top, min(bottom, rows)):
            for column in range(left, min(right, across)):
                grid[row][column] = SHADES[number % len(SHADES)]
        middle_row, middle = min((top + bottom - 1) // 2, rows - 1), min((left + right - 1) // 2, across - 1)
        mark = letters[piece.name] + ("/" if piece.bias else "")
        for offset, character in enumerate(mark):
            if middle + offset < min(right, across):
                grid[middle_row][middle + offset] = character
    edge = "─" * across
    return [f"┌{edge}┐", *(f"│{''.join(row)}│" for row in grid), f"└{edge}┘"]


def svg(part: LayoutPart, title: str, caption: Sequence[str]) -> str:
    """The layout as an SVG document, 4 px to the cm; `caption` lines stand below it."""
    length = part.length_m.expected * 100
    wide, high = length * PX_PER_CM, part.width_cm * PX_PER_CM
    letters = letters_of(part.pieces)
    drawn: list[str] = []
    tint = {name: FILLS[place % len(FILLS)] for place, name in enumerate(letters)}
    for piece in part.pieces:
        x, y = MARGIN + piece.along_from_cm * PX_PER_CM, MARGIN + piece.across_from_cm * PX_PER_CM
        w, h = piece.along_cm * PX_PER_CM, piece.across_cm * PX_PER_CM
        said = f"{piece.name}, {piece.along_cm:.0f} x {piece.across_cm:.0f} cm"
        drawn.append(
            f'<g><title>{escape(said)}</title>'
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" fill="{tint[piece.name]}" stroke="#333"/>'
            f"{_grain(piece, x, y, w, h, part.one_way)}"
            f'<text x="{x + w / 2:.1f}" y="{y + h / 2 + 5:.1f}" text-anchor="middle">{escape(letters[piece.name])}</text></g>'
        )
    legend = "; ".join(f"{letter} {name}" for name, letter in letters.items())
    all_wide = max(wide + 2 * MARGIN, 640)
    words = [line for text in (legend, *caption) for line in wrap(text, int((all_wide - 2 * MARGIN) / PX_PER_CHARACTER))]
    below = MARGIN + high + 30
    texts = "".join(f'<text x="{MARGIN}" y="{below + 20 * i:.0f}" class="s">{escape(line)}</text>' for i, line in enumerate(words))
    all_high = below + 20 * len(words) + 10
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {all_wide:.0f} {all_high:.0f}" width="{all_wide:.0f}" height="{all_high:.0f}" role="img">'
        f"<title>{escape(title)}</title>"
        "<style>text{font:16px sans-serif;fill:#222}.s{font-size:13px}.c{fill:none;stroke:#222}</style>"
        '<rect width="100%" height="100%" fill="#fff"/>'
        f'<text x="{MARGIN}" y="24">{escape(title)}</text>'
        f'<rect x="{MARGIN}" y="{MARGIN}" width="{wide:.1f}" height="{high:.1f}" fill="#fafafa" stroke="#999"/>'
        f'<path d="M{MARGIN} {MARGIN - 3}h{wide:.1f}M{MARGIN} {MARGIN + high + 3:.1f}h{wide:.1f}" class="c" stroke-dasharray="6 3"/>'
        f'<text x="{MARGIN + wide:.1f}" y="{MARGIN - 8}" text-anchor="end" class="s">selvedge</text>'
        f"{''.join(drawn)}{texts}</svg>\n"
    )


def _grain(piece: LaidPiece, x: float, y: float, w: float, h: float, one_way: bool) -> str:
    """The grain line: along the cloth, at 45° on the bias; an arrow at both ends unless the cloth has a way up."""
    size = 0.35 * min(w, h) if piece.bias else 0.35 * w
    cx, cy = x + w / 2, y + h / 2 - 12
    dx, dy = (size * 0.7, size * 0.7) if piece.bias else (size, 0.0)
    angle = math.atan2(-dy, dx)

    def head(px: float, py: float, towards: float) -> str:
        ends = [(px - 7 * math.cos(towards + turn), py - 7 * math.sin(towards + turn)) for turn in (0.5, -0.5)]
        return f"M{ends[0][0]:.1f} {ends[0][1]:.1f}L{px:.1f} {py:.1f}L{ends[1][0]:.1f} {ends[1][1]:.1f}"

    path = f"M{cx - dx:.1f} {cy + dy:.1f}L{cx + dx:.1f} {cy - dy:.1f}" + head(cx + dx, cy - dy, angle)
    if not one_way:
        path += head(cx - dx, cy + dy, angle + math.pi)
    return f'<path d="{path}" class="c"/>'


def write(text: str, path: Path) -> None:
    """The picture into its file, whole or not at all. Raises `Unclear` for a name that is no picture's, or a place that cannot be."""
    if path.suffix.lower() != ".svg":
        raise Unclear(f"picture '{path.name[:60]}'", "a file name that ends in .svg", f"{path.stem or 'layout'}.svg")
    try:
        with NamedTemporaryFile("w", encoding="utf-8", dir=path.parent, suffix=".svg", delete=False) as file:
            file.write(text)
        os.chmod(file.name, 0o644)
        os.replace(file.name, path)
    except OSError as error:
        raise Unclear(f"picture '{path}'", f"a place that can be written to ({error.strerror or error.__class__.__name__})") from None
