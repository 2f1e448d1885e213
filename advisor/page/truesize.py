"""Shapes at true size, in millimetres, to be printed at 100 %: each sheet carries a line of 50 mm to check the printer by.

Whatever is larger than a sheet is cut into tiles that overlap, lettered by row and numbered by column.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from markupsafe import Markup, escape

SHEET_W, SHEET_H = 180.0, 236.0
"""What fits on A4 and on US letter alike inside 13 mm margins, with room for the check line."""
OVERLAP = 10.0
MOST_SHEETS = 42


def _sheet(inner: Iterable[str], says: str, wide: float = SHEET_W, high: float = SHEET_H) -> Markup:
    """One drawing of `wide` × `high` mm; the style sheet knows no sizes, so they stand on the drawing itself."""
    return Markup(
        f'<svg class="truesize" width="{wide:g}mm" height="{high:g}mm" viewBox="0 0 {wide:g} {high:g}" role="img" '
        f'aria-label="{escape(says)}">{"".join(inner)}</svg>'
    )


def check_line() -> Markup:
    """The 50 mm line."""
    inner = ['<path d="M2 7H52M2 3V11M52 3V11" class="ink"/>', *(f'<path d="M{2 + 10 * i} 5V9" class="ink"/>' for i in range(1, 5)),
             '<text x="56" y="9" class="label">50 mm: if this line is not, print again at 100 %</text>']  # fmt: skip
    return _sheet(inner, "A line 50 mm long", 170, 14)


def button_circles(circle_mm: float, button_mm: float, count: int) -> list[Markup]:
    """Circles to cut for covered buttons: cutting line, the button within, its middle; as many as one sheet holds."""
    step = circle_mm + 4
    across = max(1, int(SHEET_W // step))
    down = max(1, min(int(SHEET_H // step), math.ceil(count / across)))
    circles = []
    for i in range(min(count, across * down)):
        x, y = (i % across + 0.5) * step, (i // across + 0.5) * step
        circles.append(
            f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{circle_mm / 2:.2f}" class="cutline"/>'
            f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{button_mm / 2:.2f}" class="stitchline"/>'
            f'<path d="M{x - 2:.2f} {y:.2f}h4M{x:.2f} {y - 2:.2f}v4" class="ink"/>'
        )
    wide, high = max(circle_mm + 4, min(across, count) * step), down * step
    says = f"{min(count, across * down)} circles {circle_mm:g} mm across for buttons of {button_mm:g} mm"
    return [_sheet(circles, says, max(wide, circle_mm + 4), high)]


def loop_strip(spacing_mm: float, count: int, cut_mm: float, allowance_mm: float, gap_mm: float) -> list[Markup]:
    """A paper strip to lay along the edge: where each loop begins and ends, and where its button sits.

    Longer than a sheet it goes on in further strips; the last mark of one is the first of the next.
    """
    rows: list[Markup] = []
    at = 0
    per_row = max(2, int((SHEET_H - 26) // spacing_mm) + 1) if spacing_mm > 0 else count
    while at < count and len(rows) < 8:
        here = min(per_row, count - at)
        inner = [f'<path d="M20 4V{(here - 1) * spacing_mm + 24:.2f}" class="stitchline"/>', '<text x="22" y="4" class="label">seam line</text>']
        for i in range(here):
            y = 12 + i * spacing_mm
            half = gap_mm / 2
            inner.append(f'<path d="M{20 - allowance_mm:.2f} {y - half:.2f}H20M{20 - allowance_mm:.2f} {y + half:.2f}H20" class="ink"/>')
            inner.append(f'<path d="M20 {y - half:.2f}a{max(half, 1.5):.2f} {max(half, 1.5):.2f} 0 0 1 0 {gap_mm:.2f}" class="cutline"/>')
            inner.append(f'<text x="{22 + half:.2f}" y="{y + 1.5:.2f}" class="label">{at + i + 1}</text>')
        rows.append(_sheet(inner, f"Loops {at + 1} to {at + here}, {spacing_mm:g} mm apart, each cut {cut_mm:g} mm long", 60, (here - 1) * spacing_mm + 26))
        if at + here >= count:
            break
        at += here - 1
    return rows


def bias_square(side_mm: float, strip_mm: float) -> list[Markup]:
    """The square with its bias lines one strip apart, in as many overlapping tiles as it needs; beyond that its corner."""
    across, down = (max(1, math.ceil((side_mm - OVERLAP) / (size - OVERLAP))) for size in (SHEET_W, SHEET_H))
    whole = across * down <= MOST_SHEETS
    if not whole:
        across = down = 1
    run = strip_mm * math.sqrt(2)
    lines = [f"M{x:.2f} 0L0 {x:.2f}" if x <= side_mm else f"M{side_mm:.2f} {x - side_mm:.2f}L{x - side_mm:.2f} {side_mm:.2f}"
             for x in (run * k for k in range(1, int(2 * side_mm / run) + 1))]  # fmt: skip
    tiles = []
    for row in range(down):
        for column in range(across):
            x0, y0 = column * (SHEET_W - OVERLAP), row * (SHEET_H - OVERLAP)
            wide, high = min(SHEET_W, side_mm - x0), min(SHEET_H, side_mm - y0)
            name = f"{chr(65 + row)}{column + 1}"
            inner = [
                f'<svg x="0" y="0" width="{wide:.2f}" height="{high:.2f}" viewBox="{x0:.2f} {y0:.2f} {wide:.2f} {high:.2f}">'
                f'<rect x="0" y="0" width="{side_mm:.2f}" height="{side_mm:.2f}" class="cutline"/>'
                f'<path d="{"".join(lines)}" class="stitchline"/></svg>',
                f'<text x="{min(8, wide / 2):.1f}" y="{min(14, high - 2):.1f}" class="label">{name}</text>' if whole and across * down > 1 else "",
            ]
            tiles.append(_sheet(inner, f"Bias square of {side_mm:g} mm, strips of {strip_mm:g} mm, sheet {name}", wide, high))
    return tiles
