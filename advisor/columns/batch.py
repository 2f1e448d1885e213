"""Cloths as columns: for every property a low and a high figure, for every mark whether it is sure and whether possible."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from advisor.profile import Profile
from advisor.ranges import Range
from advisor.rules import SCALE, reads_low

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

NUMERIC = ("property", "fibre", "group")
"""The kinds of a field that hold a range; all others hold a mark."""


def is_number(name: str) -> bool:
    """Whether a field holds a range and not a mark."""
    return name.partition(".")[0] in NUMERIC


@dataclass
class Batch:
    """Cloths as columns. As in a record, an absent number is nought and an absent mark is lacking.

    `numbers` maps a field to (low, high), `marks` to (sure, possible), each an array of `count` entries.
    """

    count: int
    numbers: dict[str, tuple[Floats, Floats]] = field(default_factory=dict)
    marks: dict[str, tuple[Bools, Bools]] = field(default_factory=dict)
    _scaled: dict[tuple[str, bool], Floats] = field(default_factory=dict, repr=False)

    def number(self, name: str) -> tuple[Floats, Floats]:
        """The low and the high figures of a field."""
        found = self.numbers.get(name)
        if found is None:
            nought = np.zeros(self.count)
            found = self.numbers[name] = (nought, nought)
        return found

    def mark(self, name: str) -> tuple[Bools, Bools]:
        """Where a mark is sure, and where it is possible."""
        found = self.marks.get(name)
        if found is None:
            nowhere = np.zeros(self.count, dtype=bool)
            found = self.marks[name] = (nowhere, nowhere)
        return found

    def add_mark(self, name: str, sure: Bools, possible: Bools) -> None:
        """Marks more cloths, as a derived trait does."""
        was_sure, was_possible = self.mark(name)
        self.marks[name] = (was_sure | sure, was_possible | possible)

    def compared(self, name: str, op: str, sure: bool) -> Floats:
        """The figures that a comparison reads for this certainty, as the whole numbers that rules compare."""
        low = reads_low(op, sure)
        found = self._scaled.get((name, low))
        if found is None:
            found = self._scaled[name, low] = np.rint(self.number(name)[0 if low else 1] * SCALE)
        return found

    def rows(self, chosen: NDArray[np.intp]) -> Batch:
        """Some of the cloths, by their places."""
        return Batch(
            len(chosen),
            {name: (low[chosen], high[chosen]) for name, (low, high) in self.numbers.items()},
            {name: (sure[chosen], possible[chosen]) for name, (sure, possible) in self.marks.items()},
        )


def batch_of(profiles: Sequence[Profile], fields: Iterable[str]) -> Batch:
    """The cloths as columns, with only those of `fields` that belong to the cloth itself."""
    count = len(profiles)
    batch = Batch(count)
    for name in fields:
        kind, _, own = name.partition(".")
        if kind in NUMERIC:
            if kind == "property":
                ranges = [profile.known[own].range for profile in profiles]
            else:
                ranges = [(profile.shares if kind == "fibre" else profile.groups).get(own, _NONE) for profile in profiles]
            ends = np.array(ranges, dtype=np.float64).reshape(count, 2)
            batch.numbers[name] = (np.ascontiguousarray(ends[:, 0]), np.ascontiguousarray(ends[:, 1]))
        else:
            states = [profile.marks.get(name, _LACKING) for profile in profiles]
            pair = np.array(states, dtype=bool).reshape(count, 2)
            if pair.any():
                batch.marks[name] = (np.ascontiguousarray(pair[:, 0]), np.ascontiguousarray(pair[:, 1]))
    return batch


_NONE = Range(0.0, 0.0)
_LACKING = (False, False)
