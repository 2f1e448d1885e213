"""Covered buttons, buttonholes, rouleaux and loops. Lengths in mm; rules of thumb come in as arguments."""

from __future__ import annotations

import math


def cover_circle(diameter_mm: float, times: float, plus_mm: float, thickness_mm: float = 0.0) -> float:
    """Circle to cut for a covered button: times x diameter + plus + π x thickness.

    The last term is geometry: turning over the rim, the middle of the cloth runs on a half circle thickness / 2 further
    out on either side.
    """
    return times * diameter_mm + plus_mm + math.pi * thickness_mm


def covered_diameter(diameter_mm: float, thickness_mm: float) -> float:
    """The covered button across: the shell and the cloth on both sides."""
    return diameter_mm + 2 * thickness_mm


def circles_cloth(circle_mm: float, count: int, width_mm: float) -> float:
    """Cloth length for `count` circles in rows across a width; 0 where a single one does not fit."""
    per_row = int((width_mm + 1e-9) // circle_mm)
    return math.ceil(count / per_row) * circle_mm if per_row else 0.0


def buttonhole_flat(diameter_mm: float, thickness_mm: float, plus_mm: float = 0.0) -> float:
    """Buttonhole for a flat button: diameter + thickness (nebraska-buttonholes-1965) + what another rule adds."""
    return diameter_mm + thickness_mm + plus_mm


def half_round(diameter_mm: float, height_mm: float) -> float:
    """Half the distance round a domed button: half of its flat base and its arc; from half a ball upward, π x diameter / 2.

    The arc is that of the spherical cap of that height: 2 R asin(d / 2R) with R = (d² / 4 + h²) / 2h.
    """
    if height_mm <= 0:
        return diameter_mm
    if height_mm > diameter_mm / 2:
        return math.pi * diameter_mm / 2
    radius = (diameter_mm**2 / 4 + height_mm**2) / (2 * height_mm)
    arc = 2 * radius * math.asin(min(1.0, diameter_mm / (2 * radius)))
    return (diameter_mm + arc) / 2


def buttonhole_domed(diameter_mm: float, height_mm: float, plus_mm: float) -> float:
    """Buttonhole for a domed or ball button: half the distance round + plus."""
    return half_round(diameter_mm, height_mm) + plus_mm


def edge_distance(diameter_mm: float, extra_mm: float) -> float:
    """Button's centre line to the finished edge, at least: half the diameter + extra."""
    return diameter_mm / 2 + extra_mm


def spacing(first_to_last_mm: float, count: int) -> float:
    """Even spacing: first to last / (count - 1); 0 for a single one."""
    return first_to_last_mm / (count - 1) if count > 1 else 0.0


def rouleau_times(thickness_mm: float, thin: float, thick: float, thin_mm: float, thick_mm: float) -> float:
    """How many times the finished tube its strip is cut: `thin` up to thin_mm, `thick` from thick_mm, straight between."""
    share = min(1.0, max(0.0, (thickness_mm - thin_mm) / (thick_mm - thin_mm)))
    return thin + (thick - thin) * share


def rouleau_strip(finished_mm: float, seam_mm: float) -> float:
    """Strip for a rouleau with seam allowances of a given width: 2 x finished + 2 x seam."""
    return 2 * finished_mm + 2 * seam_mm


def loop_exposed(diameter_mm: float, thickness_mm: float, gap_mm: float) -> float:
    """Least exposed length of a loop: 2 x (diameter + thickness) - gap, so that the button passes on edge; never under 0."""
    return max(0.0, 2 * (diameter_mm + thickness_mm) - gap_mm)


def loop_cut(exposed_mm: float, allowance_mm: float) -> float:
    """A loop as cut: its exposed length and an allowance at each end."""
    return exposed_mm + 2 * allowance_mm


def loops_touching(opening_mm: float, button_mm: float) -> int:
    """How many buttons stand side by side in an opening, centre on its first and last point."""
    return int((opening_mm + 1e-9) // button_mm) + 1


def tube_length(count: int, cut_mm: float, waste: float) -> float:
    """Rouleau for all loops: count x cut length x (1 + waste)."""
    return count * cut_mm * (1 + waste)
