"""Flounces, circle skirts and sunray pleats answered: radii, how they lie on the cloth, what is left over."""

from __future__ import annotations

import math

from advisor.errors import Unclear
from advisor.need import fullness, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, piece_in_hand, sources_of
from advisor.need.reports import (
    NeedReport,
    RingPart,
)
from advisor.need.units import within

PARTS = {"full": 1.0, "three-quarter": 0.75, "half": 0.5, "quarter": 0.25}
"""Words for the share of a circle."""


def _ring(
    ring: fullness.Ring, base: Ground, seam_cm: float, hem_cm: float
) -> tuple[RingPart, Amount | None, list[str]]:
    inner, outer = ring.inner_cm - seam_cm, ring.outer_cm + hem_cm
    if inner <= 0:
        raise Unclear(
            f"an inner radius of {ring.inner_cm:.1f} cm",
            f"more than the {seam_cm:g} cm seam allowance: fewer rings or less fullness",
        )
    part = RingPart(
        round(ring.turns, 4),
        round(ring.inner_cm, 2),
        round(ring.outer_cm, 2),
        round(inner, 2),
        round(outer, 2),
        round(ring.inner_edge_cm, 1),
        round(ring.outer_edge_cm, 1),
        round(ring.fullness, 3),
    )
    if base.width_cm is None:
        return part, None, ["give --width for the cloth it takes"]
    lain = fullness.lay_ring(inner, outer, ring.turns, base.width_cm)
    part.sections, part.section_degrees, part.per_row = lain.sections, round(lain.section_turns * 360, 1), lain.per_row
    part.cloth_cm, part.waste_pct = round(lain.length_cm, 1), round(lain.waste * 100, 1)
    needed = base.over(lambda wide: fullness.lay_ring(inner, outer, ring.turns, wide).length_cm)
    pieces = (
        "in one piece"
        if lain.sections == 1
        else f"in {lain.sections} pieces of {part.section_degrees:g}°, {lain.per_row} to a row"
    )
    because = [
        f"{pieces}: {lain.length_cm:.0f} cm of cloth {base.width_cm:g} cm wide, {part.waste_pct:.0f} % of it left over"
    ]
    if lain.sections > math.ceil(ring.turns - 1e-9):
        because.append("each extra seam needs its own allowance: add it to the seam length before you draw")
    return part, needed, because


def flounce(
    base: Ground,
    *,
    seam_cm: float,
    depth_cm: float,
    ratio: float | None = None,
    rings: float | None = None,
    allowance_cm: float = 1.0,
    hem_cm: float = 0.6,
) -> NeedReport:
    """A circular flounce: radii, sectors per sheet, cloth and waste."""
    within(seam_cm, 5, 3000, "seam length", "cm")
    within(depth_cm, 1, 150, "depth", "cm")
    within(allowance_cm, 0, 5, "allowance", "cm")
    within(hem_cm, 0, 15, "hem", "cm")
    if (ratio is None) == (rings is None):
        raise Unclear(
            "no fullness" if ratio is None else "both fullness and rings",
            "either --fullness (free edge over seam) or --rings",
            "--fullness 2",
        )
    if ratio is not None:
        within(ratio, 1, 20, "fullness", "times")
        ring = fullness.flounce_by_fullness(seam_cm, depth_cm, ratio)
        because = [
            f"inner radius = depth / (fullness - 1) = {ring.inner_cm:.2f} cm, "
            f"{ring.turns:.2f} full circles for {seam_cm:g} cm of seam"
        ]
    else:
        rings = within(rings or 0, 0.05, 60, "rings", "")
        ring = fullness.flounce_by_rings(seam_cm, depth_cm, rings)
        because = [
            f"inner radius = seam / (2π x {rings:g}) = {ring.inner_cm:.2f} cm, free edge {ring.fullness:.2f} times the seam"
        ]
    part, needed, laid = _ring(ring, base, allowance_cm, hem_cm)
    return NeedReport(
        "flounce",
        base.rounded(needed) if needed else None,
        because + laid + (base.shrink_notes() if needed else []),
        list(base.notes),
        base.cautions("flounce"),
        sources_of(*tables.read_table(tables.Fullness, base.folders).ring_sources),
        flounce=part,
        cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )


def turns_of(word: str) -> float:
    """The share of a circle from 'full', 'half' … or a figure such as 0.75."""
    if word in PARTS:
        return PARTS[word]
    try:
        return within(float(word), 0.05, 4, "part of a circle", "circles")
    except ValueError:
        raise Unclear(f"part '{word[:30]}'", f"one of {', '.join(PARTS)} or a figure such as 0.75", "full") from None


def circle(
    base: Ground,
    *,
    waist_cm: float,
    length_cm: float,
    turns: float = 1.0,
    hem_cm: float = 0.0,
    seams: int = 0,
    allowance_cm: float = 1.5,
    hip_cm: float | None = None,
    hip_depth_cm: float = 20.0,
) -> NeedReport:
    """A circle skirt: radii, hem, layout and cloth."""
    within(waist_cm, 20, 300, "waist", "cm")
    within(length_cm, 2, 250, "length", "cm")
    within(hem_cm, 0, 20, "hem", "cm")
    within(seams, 0, 24, "seams", "")
    within(allowance_cm, 0, 5, "allowance", "cm")
    ring = fullness.circle_skirt(waist_cm, length_cm, turns, 2 * allowance_cm * seams)
    because = [f"waist radius = {waist_cm + 2 * allowance_cm * seams:g} cm / (2π x {turns:g}) = {ring.inner_cm:.2f} cm"]
    part, needed, laid = _ring(ring, base, min(allowance_cm, ring.inner_cm / 2), hem_cm)
    notes = list(base.notes)
    if hip_cm is not None:
        there = 2 * math.pi * turns * (ring.inner_cm + hip_depth_cm)
        if there <= within(hip_cm, 30, 300, "hip", "cm"):
            notes.append(
                f"{hip_depth_cm:g} cm below the waist it measures {there:.0f} cm, "
                f"no more than the hip: cut a larger part of a circle"
            )
    return NeedReport(
        "circle",
        base.rounded(needed) if needed else None,
        because + laid + (base.shrink_notes() if needed else []),
        notes,
        base.cautions("circle"),
        sources_of(*tables.read_table(tables.Fullness, base.folders).ring_sources[-1:]),
        circle=part,
        cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )


def sunray(
    base: Ground,
    *,
    waist_cm: float,
    length_cm: float,
    turns: float = 0.5,
    ratio: float | None = None,
    hem_cm: float = 0.0,
) -> NeedReport:
    """Sunray pleats: the part of a ring to send for pleating."""
    rule = tables.read_table(tables.Fullness, base.folders).sunray
    within(waist_cm, 20, 300, "waist", "cm")
    within(length_cm, 2, 250, "length", "cm")
    times = ratio if ratio is not None else rule.ratio[1]
    if times < 1:
        raise Unclear(f"fullness {times:g}", "1 or more: cloth at the waist over the pleated waist")
    ring = fullness.sunray(waist_cm, length_cm, turns, within(times, 1, 8, "fullness", "times"))
    part, needed, laid = _ring(ring, base, 0.0, hem_cm)
    because = [
        f"{rule.about}: {times:g} times {waist_cm:g} cm, radius {ring.inner_cm:.2f} cm for {turns:g} of a circle",
        *laid,
    ]
    notes = [*base.notes, "ask the pleater for the take-up of the chosen pleat before you cut"]
    return NeedReport(
        "pleats",
        base.rounded(needed) if needed else None,
        because + (base.shrink_notes() if needed else []),
        notes,
        base.cautions("pleats"),
        sources_of(rule.source, "regina-math-central"),
        circle=part,
        cloth=base.cloth,
    )
