"""Thread, elastic and zips. Rules of thumb come in as arguments."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence


def thread_metres(seams: Iterable[tuple[float, float]], waste: float) -> float:
    """Thread in m for (seam in m, metres of thread a metre of seam) pairs, and a share wasted."""
    return sum(length * ratio for length, ratio in seams) * (1 + waste)


def reels(thread_m: float, reel_m: float) -> int:
    """Whole reels."""
    return max(1, math.ceil(round(thread_m / reel_m, 9)))


def elastic_cut(body_cm: float, share: float, overlap_cm: float) -> float:
    """Elastic to cut: body x share + overlap."""
    return body_cm * share + overlap_cm


def casing_depth(elastic_mm: float, ease_mm: float, turn_mm: float) -> float:
    """Cloth to add for a folded casing: elastic + ease + what is turned under."""
    return elastic_mm + ease_mm + turn_mm


def zip_length(opening_cm: float, sold_cm: Sequence[float]) -> float:
    """The shortest zip sold that fills an opening (it is cut or stitched off to length); the longest where none does."""
    longer = [length for length in sorted(sold_cm) if length >= opening_cm - 1e-9]
    return longer[0] if longer else max(sold_cm)
