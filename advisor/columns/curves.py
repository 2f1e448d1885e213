"""Demand curves on columns.

Most cloths meet most demands alike over their whole range: their range lies on a level piece of the curve. Those are
reckoned once; only where a curve rises or falls under a cloth's range are all the points of the sample reckoned.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from advisor.columns.batch import Bools, Floats
from advisor.judge import Points


@dataclass(frozen=True)
class Met:
    """How well cloths meet a demand, as natural logarithms.

    `level` holds one value a cloth; the cloths at the places `varying` have instead one row each of `points`.
    """

    level: Floats
    varying: NDArray[np.intp]
    points: Floats


class Curve:
    """A piecewise linear curve, flat beyond its ends, that never falls below `floor`."""

    def __init__(self, curve: Points, floor: float) -> None:
        self.floor = floor
        self.keys = np.array([x for x, _ in curve], dtype=np.float64)
        self.first = float(curve[0][1])
        # Piece i lies between key i - 1 and key i; the first and the last are level and without end.
        self.starts = np.array([curve[0][0], *(x for x, _ in curve)], dtype=np.float64)
        self.heights = np.array([curve[0][1], *(y for _, y in curve)], dtype=np.float64)
        self.slopes = np.zeros(len(curve) + 1)
        self.ramps: list[tuple[float, float, float]] = []
        self.jumps: list[tuple[float, float]] = []
        levels = [0]
        for place, ((x0, y0), (x1, y1)) in enumerate(pairwise(curve), 1):
            if x1 == x0:
                if y1 != y0:
                    self.jumps.append((float(x0), float(y1 - y0)))
                levels.append(-place)
            elif y1 != y0:
                self.slopes[place] = (y1 - y0) / (x1 - x0)
                self.ramps.append((float(x0), float(x1), float(self.slopes[place])))
                levels.append(-place)
            else:
                levels.append(levels[-1] if levels[-1] >= 0 else place)
        levels.append(levels[-1] if levels[-1] >= 0 else len(curve))
        self.levels = np.array(levels)
        """A number for each level stretch, which neighbouring level pieces share; below nought for a piece that is not level."""

    def met(self, low: Floats, high: Floats, points: Floats) -> Met:
        """How well cloths with these ranges meet the demand; `points` are the places (0 to 1) of the sample in a range."""
        at_low, at_high = self.keys.searchsorted(low, "right"), self.keys.searchsorted(high, "right")
        stretch = self.levels[at_low]
        level: Bools = ((stretch == self.levels[at_high]) & (stretch >= 0)) | (low == high)
        heights = self.heights[at_low] + self.slopes[at_low] * (low - self.starts[at_low])
        varying = np.flatnonzero(~level)
        values = np.log(np.maximum(heights, self.floor))
        if not len(varying):
            return Met(values, varying, np.empty((0, len(points))))
        values[varying] = 0.0
        low, width = low[varying, None], (high - low)[varying, None]
        return Met(values, varying, np.log(self.at(low + width * points)))

    def at(self, x: Floats) -> Floats:
        """The curve at each of `x`, not below the floor."""
        found, piece = np.full(x.shape, self.first), np.empty(x.shape)
        for start, end, slope in self.ramps:
            np.maximum(x, start, out=piece)
            np.minimum(piece, end, out=piece)
            piece -= start
            piece *= slope
            found += piece
        for at, rise in self.jumps:
            found += np.where(x >= at, rise, 0.0)
        np.maximum(found, self.floor, out=found)
        return found
