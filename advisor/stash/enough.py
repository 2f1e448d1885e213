"""Whether a piece of the stash is long and wide enough for a part of a make, after its own shrinkage at its own width.

Lengths in m, widths in cm. The quantities come from `advisor.need`; nothing here reads the stash's file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.makes import Make, NeededRow
from advisor.need import buying, cloth, tables
from advisor.need.cloth import Amount
from advisor.need.ground import marked, shrinks_of
from advisor.profile import Profile
from advisor.ranges import Range
from advisor.stash.pieces import SLACK_M, Piece, words_for

Serves = Literal["yes", "maybe", "no"]
NOTHING = Amount(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class LayingTables:
    """The tables that a length stands on, read once for many pieces."""

    laying: tables.Laying
    chart: cloth.Chart
    extras: cloth.Extras
    washed_word: str
    """The word that says of a cloth that it was washed."""


def laying_tables(knowledge: Knowledge) -> LayingTables:
    """The tables of this knowledge base."""
    laying = tables.read_table(tables.Laying, knowledge.folders)
    return LayingTables(
        laying,
        buying.chart_of(knowledge.folders),
        buying.extras_of(knowledge.folders),
        knowledge.traits[laying.prewashed.sure[0]].names[0],
    )


def words_now(piece: Piece, found: LayingTables) -> str:
    """The piece in words as it lies in the cupboard: its description, what was measured, and whether it was washed."""
    words = words_for(piece)
    return f"{words}, {found.washed_word}" if piece.prewashed else words


@dataclass(frozen=True)
class Enough:
    """What a part takes of this piece as it lies there, and whether one free length of it serves.

    `serves` is yes if even the high figure fits, maybe if only the low one does. `short_m` is what is missing in each
    case. `why_not` says what no length can mend (too narrow, no width known, shrinks beyond any plan).
    """

    needed_m: Amount
    width_cm: float
    longest_m: float
    free_m: float
    serves: Serves
    short_m: Amount
    because: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    why_not: str = ""

    @property
    def left_m(self) -> float:
        """What stays of the free cloth if the safe figure is cut."""
        return max(0.0, round(self.free_m - self.needed_m.high, 4))


def free_for(piece: Piece, make: str) -> float:
    """Metres that this make may take: all but what is reserved for other makes."""
    others = sum(r.metres for r in piece.reserved if r.make.casefold() != make.casefold())
    return max(0.0, round(piece.left_m - others, 4))


def width_of(piece: Piece, profile: Profile, knowledge: Knowledge) -> tuple[float | None, str]:
    """(width in cm, note): the piece's own, its description's, or the narrowest usual for the named cloth."""
    width = piece.width_cm or profile.described.figures.width_cm
    if width:
        return width, ""
    entry = knowledge.cloths.get(profile.described.cloth)
    if entry is not None and entry.width_cm is not None:
        return entry.width_cm.low, f"its width is not noted: {entry.width_cm.low:g} cm taken, the narrowest usual"
    return None, ""


def _one(value: float | None) -> Range | None:
    return None if value is None else Range(value, value)


@lru_cache(maxsize=4096)
def _bought(
    lines: tuple[cloth.Row, ...], width: float, shrinks: cloth.Shrinks, lay: cloth.Lay, chart: cloth.Chart, extras: cloth.Extras
) -> cloth.Bought:
    """Kept, since many pieces of a stash are of one width and shrink alike."""
    return cloth.buy(lines, width, shrinks, lay, chart, extras)


def enough(
    piece: Piece,
    profile: Profile,
    rows: Sequence[NeededRow],
    make: Make,
    knowledge: Knowledge,
    found: LayingTables,
    *,
    widest: bool = True,
) -> Enough:
    """Whether one length of a piece serves for the table's lines of one part.

    `profile` is that of `words_now(piece, …)`, so a washed piece shrinks only by what is left; an unwashed one by what
    its owner measured, where there is such a figure. `widest` holds the make's pattern pieces against the width.
    """
    free = free_for(piece, make.make)
    longest = min(free, max(piece.lengths_m, default=0.0))

    def never(why: str, width: float = 0.0) -> Enough:
        return Enough(NOTHING, width, longest, free, "no", NOTHING, why_not=why)

    width, note = width_of(piece, profile, knowledge)
    if width is None:
        return never("its width is not noted; 'advisor stash edit … --width' tells it")
    try:
        if piece.prewashed:
            shrinks = shrinks_of(None, None, profile, found.laying)
        else:
            shrinks = shrinks_of(_one(piece.shrank_along_pct), _one(piece.shrank_across_pct), profile, found.laying)
        sure, may = marked(profile, found.laying.one_way)
        wide, name = buying.widest_of(make.pieces) if widest else (0.0, "")
        notes = buying.check_widest(width, shrinks, wide, name)
    except Unclear as error:
        return never(f"{error.given}; wanted: {error.expected}", width)
    lines = tuple(cloth.Row(r.length_m, r.width_cm, r.nap) for r in rows)
    got = _bought(lines, width, shrinks, cloth.Lay(sure, may), found.chart, found.extras)
    needed = got.length_m.each(lambda metres: round(metres, 4))
    serves = cloth.piece_serves(longest + SLACK_M, needed)
    return Enough(
        needed, width, longest, free, serves.serves, serves.short_m.each(lambda m: round(m, 4)), got.because,
        (*([note] if note else []), *notes),
    )  # fmt: skip
