"""Cloths as columns: for every property a low and a high figure, for every mark whether it is sure and whether possible."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from advisor.profile import Profile
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
    wanted = set(fields)
    properties = [name.partition(".")[2] for name in wanted if name.startswith("property.")]
    ends = (end for profile in profiles for name in properties for end in profile.known[name].range)
    table = np.fromiter(ends, dtype=np.float64, count=2 * count * len(properties)).reshape(count, 2 * len(properties)).T.copy()
    batch = Batch(count, {f"property.{name}": (table[2 * i], table[2 * i + 1]) for i, name in enumerate(properties)})
    # Shares and marks are few on each cloth: what is there is put in its place, the rest stays nought.
    for place, profile in enumerate(profiles):
        for kind, shares in (("fibre.", profile.shares), ("group.", profile.groups)):
            for own, (low, high) in shares.items():
                if (name := kind + own) in wanted:
                    if name not in batch.numbers:
                        batch.numbers[name] = (np.zeros(count), np.zeros(count))
                    lows, highs = batch.numbers[name]
                    lows[place], highs[place] = low, high
        for name, (is_sure, is_possible) in profile.marks.items():
            if name in wanted:
                if name not in batch.marks:
                    batch.marks[name] = (np.zeros(count, dtype=bool), np.zeros(count, dtype=bool))
                sure, possible = batch.marks[name]
                sure[place], possible[place] = is_sure, is_possible
    return batch
