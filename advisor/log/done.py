"""A make that was done, and what was seen of it. Nothing here reads or writes a file."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from advisor.errors import Unclear
from advisor.stash import measures
from advisor.stash.measures import one_line

Went = Literal["", "well", "badly"]

MOST_LINES = 200
"""Observations that one make may have."""


@dataclass(frozen=True)
class Observation:
    """One line in the maker's own words; `went` only where the maker said it apart from the words."""

    line: str
    went: Went = ""


@dataclass(frozen=True)
class Snapshot:
    """What was known of the cloth when it was sewn: each property's range, and the structures that it may have."""

    ranges: dict[str, tuple[float, float]]
    structures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Done:
    """One make done. `piece` is the name of the piece as it is called now, '' where it was none of the stash's.

    `gone` where that piece was taken out of the stash since. `cloth` is its words then, `features` are as a maker asks
    about them, `metres` what was used.
    """

    make: str
    day: str
    cloth: str
    known: Snapshot
    piece: str = ""
    features: tuple[str, ...] = ()
    metres: float | None = None
    observations: tuple[Observation, ...] = ()
    added: str = ""
    number: int = 0
    gone: bool = False


def checked(done: Done) -> Done:
    """The entry in the form in which it is kept; raises `Unclear` for the first thing that cannot be."""
    make = one_line(done.make, "make", 200)
    if not make:
        raise Unclear("a make without a name", "what was made", "tea dress")
    cloth = one_line(done.cloth, "cloth", 3000)
    if not cloth:
        raise Unclear(f"'{make}' without a cloth", "--piece NAME, or --cloth with the cloth in words")
    lines = tuple(
        Observation(line, seen.went) for seen in done.observations if (line := one_line(seen.line, "observation", 500))
    )
    if len(lines) > MOST_LINES:
        raise Unclear(f"{len(lines)} observations of one make", f"at most {MOST_LINES}")
    if done.metres is not None and not 0 < done.metres <= measures.MOST_M:
        raise Unclear(f"{done.metres:g} m used", f"above nought and at most {measures.MOST_M:,.0f} m")
    return replace(
        done, make=make, cloth=cloth, day=measures.day(done.day), observations=lines,
        features=tuple(dict.fromkeys(one_line(f, "feature", 300) for f in done.features if f.strip())),
    )  # fmt: skip
