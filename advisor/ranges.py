"""A closed range of one quantity: the only type in which an uncertain figure travels."""

from __future__ import annotations

from typing import NamedTuple


class Range(NamedTuple):
    """From `low` to `high`, both included, in the unit of whatever it belongs to."""

    low: float
    high: float

    @property
    def mid(self) -> float:
        return (self.low + self.high) / 2

    @property
    def width(self) -> float:
        return self.high - self.low

    def meets(self, other: Range) -> bool:
        return self.low <= other.high and other.low <= self.high

    def within(self, other: Range) -> Range | None:
        """The part that both share, or None where they do not meet."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Range(low, high) if low <= high else None

    def hull(self, other: Range) -> Range:
        """The smallest range that holds both."""
        return Range(min(self.low, other.low), max(self.high, other.high))

    def plus(self, other: Range) -> Range:
        return Range(self.low + other.low, self.high + other.high)

    def times(self, factor: Range) -> Range:
        """The product with a range of positive factors."""
        low, high = self
        least, most = factor
        ends = (low * least, low * most, high * least, high * most)
        return Range(min(ends), max(ends))

    def clamp(self, domain: Range) -> Range:
        """Both ends pulled into `domain`."""
        if domain.low <= self.low and self.high <= domain.high and self.low <= self.high:
            return self
        return Range(min(max(self.low, domain.low), domain.high), min(max(self.high, domain.low), domain.high))
