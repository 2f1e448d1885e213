"""A piece of cloth in the stash, and the ways in which it may change. Nothing here reads or writes a file."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches

from advisor.errors import Unclear
from advisor.stash import measures
from advisor.stash.measures import one_line

SLACK_M = 0.00005
"""Half of the least length that is kept apart (0.1 mm)."""

MOST_LENGTHS = 1000


@dataclass(frozen=True)
class Reserved:
    """Metres of a piece that are kept for a make."""

    make: str
    metres: float


@dataclass(frozen=True)
class Cut:
    """Metres that were cut off, on which day, for which make ('' where none was said)."""

    day: str
    metres: float
    make: str = ""


@dataclass(frozen=True)
class Piece:
    """One cloth that a maker owns, in one or several lengths; an empty tuple of lengths is a cloth used up."""

    name: str
    description: str
    width_cm: float | None = None
    lengths_m: tuple[float, ...] = ()
    bought: str = ""
    kept: str = ""
    price: str = ""
    """Decimal figures, so that 12.50 stays 12.50."""
    currency: str = ""
    price_for: str = ""
    """'' the whole piece as bought, 'm' a metre, 'yd' a yard."""
    prewashed: bool | None = None
    shrank_along_pct: float | None = None
    shrank_across_pct: float | None = None
    """Shrinkage in the pre-wash in %, positive = shorter."""
    tests: str = ""
    """What was measured, as a phrase: 'drape 34 %, stretch across 12 %'."""
    photo: str = ""
    notes: tuple[str, ...] = ()
    reserved: tuple[Reserved, ...] = ()
    cuts: tuple[Cut, ...] = ()
    added: str = ""

    @property
    def left_m(self) -> float:
        return round(sum(self.lengths_m), 4)

    @property
    def reserved_m(self) -> float:
        return round(sum(r.metres for r in self.reserved), 4)

    @property
    def free_m(self) -> float:
        return round(self.left_m - self.reserved_m, 4)


@dataclass(frozen=True)
class Understood:
    """How a description was read: what was not understood with the nearest word, and figures found in it."""

    not_understood: tuple[str, ...] = ()
    nearest: dict[str, str] = field(default_factory=dict, hash=False)
    notes: tuple[str, ...] = ()
    width_cm: float | None = None
    length_m: float | None = None


Understand = Callable[[str, str], Understood]
"""Reads (description, tests); raises `Unclear` where nothing is understood."""


_MEASURE = re.compile(
    r"[\d\s./,½¼¾⅛⅜⅝⅞]*\d?[\d½¼¾⅛⅜⅝⅞] ?(m|metres?|meters?|cm|mm|yds?|yards?|in|inch|inches|ins|\"|″|ft|feet)"
    r"( (wide|width|long|left|of it))?",
    re.I,
)


def name_from(description: str) -> str:
    """A name from a piece's words: what stands between commas, without its length and width, which change or are kept apart."""
    said = one_line(description, "description", 2000)
    parts = [part for part in said.split(", ") if not _MEASURE.fullmatch(part.strip())]
    return ", ".join(parts)[:200] or said[:200]


def words_for(piece: Piece) -> str:
    """The piece in the words that the advisor judges: its description, then what was measured."""
    return f"{piece.description}, measured {piece.tests}" if piece.tests else piece.description


def key_of(name: str) -> str:
    """The form in which two names are the same."""
    return one_line(name).casefold()


def _number(value: object, what: str, low: float, high: float, decimals: int) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not low <= value <= high:
        raise Unclear(f"{what} '{value}'", f"{low:g} to {high:g}")
    return round(float(value), decimals)


def _percent(value: float | None, what: str) -> float | None:
    return None if value is None else _number(value, what, *measures.SHRINKAGE_PCT, 2)


def lines_of(notes: Iterable[str]) -> tuple[str, ...]:
    """Notes as lines: none empty, none longer than 2,000 characters."""
    lines = (one_line(line, "note", 2000) for note in notes for line in note.splitlines())
    return tuple(line for line in lines if line)


def checked(piece: Piece) -> Piece:
    """The piece in the form in which it is kept; raises `Unclear` for the first thing that cannot be.

    Every way into the store passes through here, so the file never holds what this refuses.
    """
    name = one_line(piece.name, "name", 200)
    description = one_line(piece.description, "description", 2000)
    if not description:
        raise Unclear("an empty description", "a cloth in words", "cotton poplin, 120 gsm")
    if not name:
        raise Unclear("an empty name", "a name of your own for the piece")
    lengths = tuple(_number(v, "length", 0.0001, measures.MOST_M, 4) for v in piece.lengths_m)
    if len(lengths) > MOST_LENGTHS:
        raise Unclear(f"{len(lengths)} lengths of one cloth", f"at most {MOST_LENGTHS}")
    kept: dict[str, Reserved] = {}
    for item in piece.reserved:
        make = one_line(item.make, "make", 200)
        if not make or make.casefold() in kept:
            raise Unclear(f"a reservation for '{make}'", "one reservation for each named make")
        kept[make.casefold()] = Reserved(make, _number(item.metres, "reserved length", 0.0001, measures.MOST_M, 4))
    cuts = tuple(
        Cut(measures.day(c.day), _number(c.metres, "cut", 0.0001, measures.MOST_M, 4), one_line(c.make, "make", 200))
        for c in piece.cuts
    )
    price = piece.price
    if price:
        price = measures.price(price)[0]
    if piece.price_for not in ("", "m", "yd"):
        raise Unclear(f"price for '{piece.price_for[:20]}'", "m, yd, or nothing for the whole piece")
    whole = replace(
        piece, name=name, description=description,
        width_cm=None if piece.width_cm is None else _number(piece.width_cm, "width", *measures.WIDTHS_CM, 2),
        lengths_m=lengths, bought=measures.day(piece.bought), kept=one_line(piece.kept, "place"), price=price,
        currency=measures.currency(piece.currency) if price else "", price_for=piece.price_for if price else "",
        shrank_along_pct=_percent(piece.shrank_along_pct, "shrinkage along"),
        shrank_across_pct=_percent(piece.shrank_across_pct, "shrinkage across"),
        tests=one_line(piece.tests, "tests", 500), photo=one_line(piece.photo, "photograph", 1000),
        notes=lines_of(piece.notes), reserved=tuple(kept.values()), cuts=cuts, added=measures.day(piece.added),
    )  # fmt: skip
    if whole.free_m < -SLACK_M:
        makes = ", ".join(f"'{r.make}' {r.metres:g} m" for r in whole.reserved)
        raise Unclear(
            f"{whole.reserved_m:g} m of '{name}' reserved ({makes})", f"at most the {whole.left_m:g} m that are there"
        )
    return whole


def nearest_names(name: str, names: Sequence[str]) -> str:
    """Up to three names like the one given, nearest first."""
    keys = {key_of(n): n for n in names}
    wanted = " ".join(name.split()).casefold()
    near = get_close_matches(wanted, list(keys), 3, 0.5)
    words = set(re.findall(r"\w{3,}", wanted))
    near += [k for k in keys if k not in near and words & set(re.findall(r"\w{3,}", k))]
    return ", ".join(f"'{keys[k]}'" for k in near[:3])


def cut(piece: Piece, metres: float, *, day: str, make: str = "", number: int | None = None) -> Piece:
    """The piece after a length is cut off; the remnant stays in its place.

    Without `number` (from 1) the shortest length that is long enough is cut, so that long ones stay whole. What is
    reserved for other makes is not cut into; a reservation for this make is used up first. Raises `Unclear`.
    """
    make = one_line(make, "make", 200)
    if not piece.lengths_m and not piece.cuts:
        raise Unclear(f"a cut from '{piece.name}', of which no length is noted", "its length first: stash edit … --length '2 m'")
    if not piece.lengths_m:
        raise Unclear(f"a cut from '{piece.name}', which is used up", "a piece with some length left")
    if number is not None and not 1 <= number <= len(piece.lengths_m):
        raise Unclear(f"length {number} of '{piece.name}'", f"1 to {len(piece.lengths_m)}")
    metres = _number(metres, "cut", 0.0001, measures.MOST_M, 4)
    enough = [i for i, left in enumerate(piece.lengths_m) if left >= metres - SLACK_M and number in (None, i + 1)]
    if not enough:
        at_most = piece.lengths_m[number - 1] if number else max(piece.lengths_m)
        which = (
            "the longest length"
            if number is None and len(piece.lengths_m) > 1
            else "what is left"
            if number is None
            else f"length {number}"
        )
        raise Unclear(f"a cut of {metres:g} m from '{piece.name}'", f"at most {at_most:g} m, {which}")
    others = [r for r in piece.reserved if r.make.casefold() != make.casefold()]
    free = round(piece.left_m - sum(r.metres for r in others), 4)
    if metres > free + SLACK_M:
        held = ", ".join(f"{r.metres:g} m for '{r.make}'" for r in others)
        raise Unclear(
            f"a cut of {metres:g} m from '{piece.name}', of which {held} is reserved",
            f"at most {free:g} m, or the reservation released first (stash edit … --release)",
        )
    at = min(enough, key=lambda i: piece.lengths_m[i])
    remnant = round(piece.lengths_m[at] - metres, 4)
    lengths = [*piece.lengths_m[:at], *([remnant] if remnant > SLACK_M else []), *piece.lengths_m[at + 1 :]]
    left = [
        r if r in others else Reserved(r.make, round(r.metres - metres, 4))
        for r in piece.reserved
        if r in others or r.metres - metres > SLACK_M
    ]
    return checked(
        replace(piece, lengths_m=tuple(lengths), reserved=tuple(left), cuts=(*piece.cuts, Cut(day, metres, make)))
    )


def reserve(piece: Piece, make: str, metres: float | None = None) -> Piece:
    """The piece with metres kept for a make, in place of what was kept for it before; None keeps all that is free."""
    make = one_line(make, "make", 200)
    others = tuple(r for r in piece.reserved if r.make.casefold() != make.casefold())
    free = round(piece.left_m - sum(r.metres for r in others), 4)
    wanted = free if metres is None else metres
    if wanted <= SLACK_M or wanted > free + SLACK_M:
        at_most = (
            f"at most {free:g} m, which is not yet reserved" if free > 0 else "some cloth that is not yet reserved"
        )
        raise Unclear(f"{wanted:g} m of '{piece.name}' for '{make}'", at_most)
    return checked(replace(piece, reserved=(*others, Reserved(make, wanted))))


def release(piece: Piece, make: str) -> Piece:
    """The piece without its reservation for a make."""
    left = tuple(r for r in piece.reserved if r.make.casefold() != one_line(make, "make").casefold())
    if len(left) == len(piece.reserved):
        raise Unclear(
            f"a reservation of '{piece.name}' for '{make[:60]}'",
            "a make that it is reserved for",
            nearest_names(make, [r.make for r in piece.reserved]),
        )
    return replace(piece, reserved=left)
