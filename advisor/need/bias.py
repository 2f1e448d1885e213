"""Bias strips: cut widths, joined strips, and the continuous strip from a square.

Lengths in cm unless the name says otherwise. The bias lies at 45°, so a strip of width w takes w x √2 along either
straight edge (checked against baldt-1916, ch. XXII). Functions raise `Unclear` where a figure cannot be.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.errors import Unclear

ROOT_TWO = math.sqrt(2)


def along_selvedge(strip_cm: float) -> float:
    """Spacing of the cutting lines along a straight edge: w x √2."""
    return strip_cm * ROOT_TWO


def strip_across(edge_cm: float) -> float:
    """Length of a bias strip that runs from one straight edge to the one at right angles, or across a width: edge x √2."""
    return edge_cm * ROOT_TWO


def cut_width(finished_mm: float, times: float, plus_mm: float = 0.0) -> float:
    """Strip to cut in mm for a binding that shows `finished_mm`: times x finished + plus."""
    return finished_mm * times + plus_mm


def tool_strip(tool_mm: float, table: dict[float, float]) -> float:
    """Strip in mm for a folding tool: the table's own, between two tools their straight line, beyond in proportion."""
    sizes = sorted(table)
    if tool_mm <= sizes[0]:
        return tool_mm * table[sizes[0]] / sizes[0]
    if tool_mm >= sizes[-1]:
        return tool_mm * table[sizes[-1]] / sizes[-1]
    right = next(i for i, size in enumerate(sizes) if size >= tool_mm)
    low, high = sizes[right - 1], sizes[right]
    return table[low] + (table[high] - table[low]) * (tool_mm - low) / (high - low)


def joined_cloth(length_cm: float, strip_cm: float, width_cm: float, shortest_cm: float) -> float:
    """Cloth length for joined strips: (length x strip + (shortest / √2)²) / width (nimi-dressmaking, p. 220).

    `shortest_cm` is the least length allowed for any one piece; the two corners it leaves are waste. Seams are not counted.
    """
    return (length_cm * strip_cm + (shortest_cm / ROOT_TWO) ** 2) / width_cm


def joined_strip(cloth_cm: float, width_cm: float, strip_cm: float, shortest_cm: float) -> float:
    """Strip length from a piece: (cloth x width - (shortest / √2)²) / strip (nimi-dressmaking, p. 220)."""
    area = cloth_cm * width_cm - (shortest_cm / ROOT_TWO) ** 2
    if area <= 0:
        raise Unclear(f"a piece of {cloth_cm:g} x {width_cm:g} cm", "one large enough for a strip")
    return area / strip_cm


def strips_of(length_cm: float, edge_cm: float, seam_cm: float) -> int:
    """How many strips running from selvedge to selvedge join to `length_cm`.

    Each gives edge x √2; each join, sewn on the straight grain, takes 2 x seam x √2 along the strip.
    """
    each, loss = strip_across(edge_cm), 2 * seam_cm * ROOT_TWO
    if each <= loss:
        raise Unclear(f"strips of {each:.1f} cm", "strips longer than their joins")
    return max(1, math.ceil(round((length_cm - loss) / (each - loss), 9)))


def full_strip_cloth(count: int, strip_cm: float, width_cm: float) -> float:
    """Cloth length from which `count` strips run from selvedge to selvedge: width + count x strip x √2."""
    return width_cm + count * along_selvedge(strip_cm)


def continuous_length(side_cm: float, strip_cm: float, seam_cm: float = 0.0) -> float:
    """Strip from a square by the continuous method: (side - 2 seam)² / strip.

    The square is cut corner to corner; each triangle loses one seam along each of its two straight edges, which leaves
    exactly half of a square of side - 2 seam. Without seams this is the published side² / strip.
    """
    left = side_cm - 2 * seam_cm
    if left <= strip_cm:
        raise Unclear(
            f"a square of {side_cm:g} cm", f"one wider than the strip and its seams ({strip_cm + 2 * seam_cm:g} cm)"
        )
    return left**2 / strip_cm


def square_for(length_cm: float, strip_cm: float, seam_cm: float = 0.0) -> float:
    """Side of the square for a continuous strip: √(length x strip) + 2 seam."""
    return math.sqrt(length_cm * strip_cm) + 2 * seam_cm


@dataclass(frozen=True)
class Yield:
    """Strip from a piece in cm: in practice low to high, by its bare area, and where the expected share comes from."""

    low_cm: float
    expected_cm: float
    high_cm: float
    area_cm: float
    charted: bool


def practical_yield(
    cloth_cm: float,
    width_cm: float,
    strip_cm: float,
    shares: tuple[float, float, float],
    chart: dict[tuple[float, float], float] | None = None,
) -> Yield:
    """Strip that a piece gives cut and joined: area / strip x a share (low, usual, high).

    `chart` maps (cloth width, strip width), both cm, to cm of strip for each cm of cloth; where it has the very case
    (within 1 cm and 1 mm), its figure is the expected one.
    """
    area = cloth_cm * width_cm / strip_cm
    expected, charted = area * shares[1], False
    for (wide, strip), each in (chart or {}).items():
        if abs(wide - width_cm) <= 1 and abs(strip - strip_cm) <= 0.1:
            expected, charted = each * cloth_cm, True
    return Yield(min(area * shares[0], expected), expected, max(area * shares[2], expected), area, charted)


def joined_to_buy(length_cm: float, strip_cm: float, width_cm: float, share: float) -> float:
    """Cloth length to buy for cut and joined strips: length x strip / (share x width)."""
    return length_cm * strip_cm / (share * width_cm)
