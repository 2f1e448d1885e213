"""Reading a piece's words with the advisor's own reader."""

from __future__ import annotations

from functools import lru_cache

from advisor import words
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.stash.pieces import Understand, Understood


def _marks(read: words.Described) -> tuple[list[object], ...]:
    """What a home test may have found that is no figure: a range by its trade word, a behaviour, a finish."""
    return list(read.bands), list(read.traits), list(read.finishes)


def understanding(knowledge: Knowledge) -> Understand:
    """A reader of (description, tests) that remembers what it has read."""

    @lru_cache(maxsize=10_000)
    def understand(description: str, tests: str) -> Understood:
        plain = words.describe(description, knowledge)
        read = words.describe(f"{description}, measured {tests}", knowledge) if tests else plain
        if tests and not read.figures.measured and _marks(read) == _marks(plain):
            raise Unclear(
                f"tests '{tests[:60]}'", "what was measured, with its figure", "drape 34 %, stretch across 12 %"
            )
        return Understood(
            tuple(dict.fromkeys(read.not_understood)),
            dict(read.nearest),
            tuple(read.notes),
            plain.figures.width_cm,
            plain.figures.length_m,
        )

    return understand
