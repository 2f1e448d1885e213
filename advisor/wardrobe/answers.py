"""What `advisor wardrobe` answers: the JSON contract. More fields may be added, none taken away."""

from __future__ import annotations

from typing import Literal

import msgspec


class GarmentAnswer(msgspec.Struct):
    """Garments of one sort; no season is all the year round."""

    name: str
    type: str
    seasons: list[str]
    colour: str
    pieces: int


class GapAnswer(msgspec.Struct):
    """One kind of garment that a wardrobe should hold; `own` marks a wish."""

    id: str
    say: str
    own: bool
    seasons: list[str]
    colour: str
    wanted: int
    held: list[str]
    missing: int
    worth: float
    source: str


class FillsAnswer(msgspec.Struct):
    """What a make would add, and the gap that it would fill best ('' for none) by what share."""

    make: str
    adds: str
    fills: str
    say: str
    share: float


class WardrobeReport(msgspec.Struct):
    """The wardrobe: what was done, what is owned, its gaps, and what the makes named would fill."""

    stash: str
    did: Literal["added", "removed", "wished", "unwished", "listed", "gaps"]
    changed: GarmentAnswer | None
    owned: list[GarmentAnswer]
    wishes: list[GarmentAnswer]
    gaps: list[GapAnswer]
    makes: list[FillsAnswer] = []
    not_named: list[str] = []
    """Makes whose file names no garment to wear."""
    by_type: dict[str, int] = {}
    by_season: dict[str, int] = {}
    by_colour: dict[str, int] = {}
