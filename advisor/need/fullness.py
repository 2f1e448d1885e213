"""Fullness: rings and their layout (flounces, circle skirts), frills from strips, pleats.

Lengths in cm, angles in turns (1 = a full circle). Circle geometry is exact; the rules of thumb come in as arguments.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.errors import Unclear

MOST_SECTIONS = 400


@dataclass(frozen=True)
class Ring:
    """A ring or part of one: inner and outer radius on the seam lines, how many turns, and both edges' lengths."""

    inner_cm: float
    outer_cm: float
    turns: float

    @property
    def inner_edge_cm(self) -> float:
        return 2 * math.pi * self.turns * self.inner_cm

    @property
    def outer_edge_cm(self) -> float:
        return 2 * math.pi * self.turns * self.outer_cm

    @property
    def fullness(self) -> float:
        """Outer edge over inner edge."""
        return self.outer_cm / self.inner_cm


def circle_skirt(waist_cm: float, length_cm: float, turns: float, seams_cm: float = 0.0) -> Ring:
    """A skirt cut as `turns` of a circle: r = (waist + seam allowances of the upright seams) / (2π turns)."""
    inner = (waist_cm + seams_cm) / (2 * math.pi * turns)
    return Ring(inner, inner + length_cm, turns)


def flounce_by_rings(seam_cm: float, depth_cm: float, rings: float) -> Ring:
    """A flounce of `rings` full circles joined: r = seam / (2π rings)."""
    inner = seam_cm / (2 * math.pi * rings)
    return Ring(inner, inner + depth_cm, rings)


def flounce_by_fullness(seam_cm: float, depth_cm: float, fullness: float) -> Ring:
    """A flounce whose free edge is `fullness` times its seam: r = depth / (fullness - 1); turns = seam / (2π r).

    The same as r = top x depth / (bottom - top) (baldt-1916, draft of circular flounce). Raises for 1 and less.
    """
    if not fullness > 1:
        raise Unclear(f"fullness {fullness:g}", "more than 1: the free edge is longer than the seam")
    inner = depth_cm / (fullness - 1)
    return Ring(inner, inner + depth_cm, seam_cm / (2 * math.pi * inner))


@dataclass(frozen=True)
class RingLayout:
    """Sections of a ring laid in rows: how many, their angle, how many to a row, cloth length, and the share wasted."""

    sections: int
    section_turns: float
    per_row: int
    box_across_cm: float
    box_along_cm: float
    length_cm: float
    waste: float


def section_box(inner_cm: float, outer_cm: float, turns: float) -> list[tuple[float, float]]:
    """(across, along) of the rectangles that hold a section, its centre on the lengthwise grain, else with an edge on it.

    Up to a half circle: across 2R sin(θ/2), along R - r cos(θ/2); beyond, 2R across and R (1 - cos(θ/2)) along. A quarter
    also fits R x R, a half also R across and 2R along.
    """
    half = math.pi * turns
    if turns >= 1 - 1e-9:
        return [(2 * outer_cm, 2 * outer_cm)]
    if turns > 0.5 + 1e-9:
        return [(2 * outer_cm, outer_cm * (1 - math.cos(half)))]
    boxes = [(2 * outer_cm * math.sin(half), outer_cm - inner_cm * math.cos(half))]
    if abs(turns - 0.5) < 1e-9:
        boxes.append((outer_cm, 2 * outer_cm))
    if abs(turns - 0.25) < 1e-9:
        boxes.append((outer_cm, outer_cm))
    return boxes


def lay_ring(inner_cm: float, outer_cm: float, turns: float, width_cm: float) -> RingLayout:
    """The layout with the fewest sections that fit the width, and of those the shortest. Radii are those cut.

    Sections are equal and lie in rows, all the same way up. Raises `Unclear` where none fits.
    """
    area = math.pi * turns * (outer_cm**2 - inner_cm**2)
    for count in range(max(1, math.ceil(turns - 1e-9)), MOST_SECTIONS):
        found: list[RingLayout] = []
        for across, along in section_box(inner_cm, outer_cm, turns / count):
            if across <= width_cm + 1e-9:
                per_row = min(count, int((width_cm + 1e-9) // across))
                length = math.ceil(count / per_row) * along
                found.append(
                    RingLayout(count, turns / count, per_row, across, along, length, 1 - area / (length * width_cm))
                )
        if found:
            return min(found, key=lambda layout: layout.length_cm)
    raise Unclear(
        f"a circle of radius {outer_cm:.0f} cm on cloth {width_cm:g} cm wide", "wider cloth, or a shorter piece"
    )


@dataclass(frozen=True)
class Frill:
    """A frill from straight strips across the cloth: strip needed, strips cut, cloth length."""

    strip_cm: float
    strips: int
    cloth_cm: float
    widths: float


def frill(finished_cm: float, ratio: float, depth_cm: float, width_cm: float, join_cm: float = 0.0) -> Frill:
    """Strips across the cloth for a frill `ratio` times its finished length; `depth_cm` as cut, allowances included.

    strips = ceil((finished x ratio - 2 join) / (width - 2 join)); cloth = strips x depth (nimi-dressmaking, p. 212, with
    its advice to add a strip where none would be left for the joins). Raises for a ratio under 1.
    """
    if ratio < 1:
        raise Unclear(f"fullness {ratio:g}", "1 or more: the cut length over the finished length")
    needed = finished_cm * ratio
    usable = width_cm - 2 * join_cm
    if usable <= 0:
        raise Unclear(f"cloth {width_cm:g} cm wide", "cloth wider than the joins")
    strips = max(1, math.ceil(round((needed - 2 * join_cm) / usable, 9)))
    return Frill(needed, strips, strips * depth_cm, needed / width_cm)


@dataclass(frozen=True)
class Pleats:
    """Pleats: how many, cloth width before pleating without and with the allowance, and the ratio."""

    count: int
    cut_cm: float
    with_allowance_cm: float
    ratio: float


def pleats(
    finished_cm: float, depth_cm: float, count: int, layers_per_depth: float, allowance_cm: float = 0.0
) -> Pleats:
    """Cloth for pleats: finished + count x layers x depth (knife 2, box and inverted 4), plus the allowance."""
    cut = finished_cm + count * layers_per_depth * depth_cm
    return Pleats(count, cut, cut + allowance_cm, cut / finished_cm)


def pleat_count(finished_cm: float, pleat_cm: float) -> int:
    """Pleats that lie side by side: finished width / width of one, up to the next whole one."""
    return max(1, math.ceil(round(finished_cm / pleat_cm, 6)))


def sunray(waist_cm: float, length_cm: float, turns: float, ratio: float) -> Ring:
    """Sunray pleats cut as part of a ring: inner edge = pleated waist x ratio, so r = waist x ratio / (2π turns)."""
    if ratio < 1:
        raise Unclear(f"fullness {ratio:g}", "1 or more: cloth at the waist over the pleated waist")
    return circle_skirt(waist_cm * ratio, length_cm, turns)
