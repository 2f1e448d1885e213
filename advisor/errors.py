"""The one error that the core raises when it cannot understand what it was given."""

from __future__ import annotations


class Unclear(ValueError):
    """Something given was not understood, or cannot be.

    `given` is what was wrong, `expected` what would have been right, `nearest` the nearest valid
    choice (empty when there is none). Every view prints it as one line and stops with code 2.
    """

    def __init__(self, given: str, expected: str, nearest: str = "") -> None:
        self.given, self.expected, self.nearest = given, expected, nearest
        super().__init__(self.line())

    def line(self) -> str:
        """The error as one clear line."""
        tail = f"; nearest: {self.nearest}" if self.nearest else ""
        return " ".join(f"{self.given}: expected {self.expected}{tail}.".split())
