"""A rough layout: the envelopes of the pattern pieces packed on the width, none of them turned off the grain.

Lengths in cm. An envelope is the upright rectangle round a piece as it is cut, allowances included; a piece on the bias has
the square box round it at 45°. Curved pieces nest closer than their envelopes, so this is an estimate and no marker: it
serves to see whether a piece of cloth can serve at all, and what would be left.
The packing is rectpack's (extra `plan`), tried with several of its rules on one strip of cloth; the shortest is kept.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from importlib.util import find_spec

from advisor.errors import Unclear

UNITS_PER_CM = 10
"""The packing counts whole millimetres."""
MOST = 120
"""Pieces in one layout; more are no garment."""


@dataclass(frozen=True)
class Envelope:
    """One pattern piece: its box on the cloth along and across the grain, how often it is cut, and whether on the bias."""

    name: str
    along_cm: float
    across_cm: float
    cut: int = 1
    bias: bool = False


@dataclass(frozen=True)
class Placed:
    """One envelope on the cloth: its nearest corner from the cut end (along) and from one selvedge (across)."""

    name: str
    along_from_cm: float
    across_from_cm: float
    along_cm: float
    across_cm: float
    bias: bool = False


@dataclass(frozen=True)
class Layout:
    """A packed strip of cloth, its length and the share of it that the envelopes leave free."""

    width_cm: float
    length_cm: float
    placed: tuple[Placed, ...]

    @property
    def free(self) -> float:
        covered = sum(p.along_cm * p.across_cm for p in self.placed)
        return 1 - covered / (self.length_cm * self.width_cm)


def envelope(name: str, length_cm: float, width_cm: float, cut: int = 1, on_fold: bool = False, bias: bool = False) -> Envelope:
    """The box of a piece as it lies: opened out where it is cut on the fold, at 45° where it is cut on the bias."""
    wide = width_cm * (2 if on_fold else 1)
    if bias:
        side = (wide + length_cm) / math.sqrt(2)
        return Envelope(name, side, side, cut, True)
    return Envelope(name, length_cm, wide, cut)


def least_length(pieces: Iterable[Envelope], width_cm: float) -> float:
    """No layout of these envelopes is shorter: their area over the width, and the longest of them."""
    every = list(pieces)
    return max(sum(p.along_cm * p.across_cm * p.cut for p in every) / width_cm, max(p.along_cm for p in every))


def lay_out(pieces: Sequence[Envelope], width_cm: float, gap_cm: float = 0.0) -> Layout:
    """The shortest layout found on cloth `width_cm` wide, `gap_cm` left between any two pieces.

    Raises `Unclear` for a piece wider than the cloth, for too many pieces, and where rectpack is not installed.
    """
    copies = [piece for piece in pieces for _ in range(piece.cut)]
    if not copies:
        raise Unclear("no pattern pieces", "the pieces of the make, each with name, length_cm and width_cm")
    if len(copies) > MOST:
        raise Unclear(f"{len(copies)} pieces to lay", f"at most {MOST}")
    widest = max(copies, key=lambda p: p.across_cm)
    if widest.across_cm > width_cm + 1e-9:
        raise Unclear(
            f"cloth {width_cm:.4g} cm wide", f"at least as wide as '{widest.name}' ({widest.across_cm:.4g} cm as it lies)"
        )
    # Every box carries the gap on two of its sides; so does the strip, whose edges need none.
    sizes = [(_whole(p.across_cm + gap_cm), _whole(p.along_cm + gap_cm)) for p in copies]
    spots = _packed(sizes, _whole(width_cm + gap_cm, down=True))
    placed = tuple(
        Placed(p.name, y / UNITS_PER_CM, x / UNITS_PER_CM, p.along_cm, p.across_cm, p.bias)
        for p, (x, y) in zip(copies, spots, strict=True)
    )
    return Layout(width_cm, max(p.along_from_cm + p.along_cm for p in placed), placed)


def can_pack() -> bool:
    """Whether the packing library is installed."""
    return find_spec("rectpack") is not None


def _whole(cm: float, down: bool = False) -> int:
    scaled = round(cm * UNITS_PER_CM, 6)
    return math.floor(scaled) if down else math.ceil(scaled)


def _packed(sizes: Sequence[tuple[int, int]], width: int) -> list[tuple[int, int]]:
    """(across, along) of each rectangle in the shortest strip found."""
    try:
        import rectpack
    except ModuleNotFoundError:
        raise Unclear("a layout of pieces", "the rectpack package, which is not installed: pip install 'fabric-advisor[plan]'") from None
    rules = (rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.SkylineBl, rectpack.SkylineMwf, rectpack.GuillotineBssfSas)
    orders = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI, _longest_first, _widest_first)

    def tried(height: int) -> tuple[int, list[tuple[int, int]]] | None:
        best: tuple[int, list[tuple[int, int]]] | None = None
        for rule in rules:
            for order in orders:
                packer = rectpack.newPacker(
                    mode=rectpack.PackingMode.Offline, bin_algo=rectpack.PackingBin.BNF, pack_algo=rule, sort_algo=order, rotation=False
                )
                for place, (across, along) in enumerate(sizes):
                    packer.add_rect(across, along, place)
                packer.add_bin(width, height)
                packer.pack()
                found = {rid: (x, y, y + h) for _, x, y, _, h, rid in packer.rect_list()}
                if len(found) == len(sizes):
                    length = max(end for _, _, end in found.values())
                    if best is None or length < best[0]:
                        best = (length, [found[i][:2] for i in range(len(sizes))])
        return best

    least = max(max(h for _, h in sizes), math.ceil(sum(w * h for w, h in sizes) / width))
    height = sum(h for _, h in sizes)
    best = tried(height)
    assert best is not None, "a strip as long as all pieces in a row holds them"
    # Rules that care for a good fit only do well in a strip of the right length: shorten it while they still succeed.
    low = least
    for _ in range(STEPS):
        if best[0] - low <= UNITS_PER_CM:
            break
        middle = (low + best[0]) // 2
        again = tried(middle)
        if again:
            best = again
        else:
            low = middle
    return best[1]


STEPS = 6
"""Halvings of the span between the least possible and the shortest length found."""


def _longest_first(sizes: Iterable[tuple[int, int, object]]) -> list[tuple[int, int, object]]:
    return sorted(sizes, key=lambda r: (-r[1], -r[0]))


def _widest_first(sizes: Iterable[tuple[int, int, object]]) -> list[tuple[int, int, object]]:
    return sorted(sizes, key=lambda r: (-r[0], -r[1]))


@dataclass(frozen=True)
class Free:
    """An empty upright rectangle of a layout, cm."""

    along_from_cm: float
    across_from_cm: float
    along_cm: float
    across_cm: float

    @property
    def area(self) -> float:
        return self.along_cm * self.across_cm


def free_rectangles(layout: Layout, least_cm: float, most: int = 6) -> list[Free]:
    """The largest empty rectangles between the pieces, one after the other, none meeting another, each side `least_cm` or more."""
    found: list[Free] = []
    while len(found) < most:
        taken = [(p.along_from_cm, p.across_from_cm, p.along_cm, p.across_cm) for p in layout.placed]
        taken += [(f.along_from_cm, f.across_from_cm, f.along_cm, f.across_cm) for f in found]
        best = _largest_free(taken, layout.length_cm, layout.width_cm, least_cm)
        if best is None:
            break
        found.append(best)
    return found


def _largest_free(
    taken: Sequence[tuple[float, float, float, float]], length: float, width: float, least_cm: float
) -> Free | None:
    """The largest empty rectangle: every pair of edges across the length, and the gaps that stay open between them."""
    edges = sorted({0.0, length, *(a for a, _, _, _ in taken), *(a + b for a, _, b, _ in taken)})
    best: Free | None = None
    for place, start in enumerate(edges):
        for end in edges[place + 1 :]:
            if end - start < least_cm or (best and (end - start) * width <= best.area):
                continue
            reached = 0.0
            inside = sorted((c, c + w) for a, c, h, w in taken if a < end - 1e-9 and a + h > start + 1e-9)
            for left, right in [*inside, (width, width)]:
                if left - reached >= least_cm and (best is None or (end - start) * (left - reached) > best.area + 1e-9):
                    best = Free(start, reached, end - start, left - reached)
                reached = max(reached, right)
    return best
