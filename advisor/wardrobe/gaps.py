"""Where a wardrobe has gaps: what it should hold, less what is owned, each garment counted once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from advisor.wardrobe.garments import Garment, WardrobeTable


@dataclass(frozen=True)
class Slot:
    """One line of what a wardrobe should hold; `own` marks its owner's own wish."""

    id: str
    say: str
    garments: frozenset[str]
    seasons: tuple[str, ...]
    colour: str
    pieces: int
    worth: float
    own: bool = False


@dataclass(frozen=True)
class Gap:
    """A slot, the names of the garments that count towards it, and how many are missing."""

    slot: Slot
    held: tuple[str, ...]
    missing: int


def slots_of(table: WardrobeTable, wishes: Iterable[Garment]) -> list[Slot]:
    """The owner's wishes, then what a sensible wardrobe holds."""
    own = [
        Slot(f"wish: {w.name}", w.name, frozenset([w.type]), w.seasons, w.colour, w.pieces, table.wish.is_, own=True)
        for w in wishes
    ]
    return own + [
        Slot(name, h.say, frozenset(h.garments), tuple(h.seasons), h.colour, h.pieces, h.worth)
        for name, h in table.holds.items()
    ]


def share_filled(garment: Garment, slot: Slot, unknown: float) -> float:
    """How far a garment fills a slot, 0 to 1; `unknown` where the slot asks for a colour and none is known."""
    if garment.type not in slot.garments:
        return 0.0
    if garment.seasons and slot.seasons and not set(garment.seasons) & set(slot.seasons):
        return 0.0
    if slot.colour and garment.colour != slot.colour:
        return 0.0 if garment.colour else unknown
    return 1.0


def gaps_of(owned: Sequence[Garment], slots: Sequence[Slot]) -> list[Gap]:
    """Every slot with what it holds. Each garment counts towards one slot, so that those of most worth are filled first.

    A place is filled by an augmenting path (Kuhn, The Hungarian method, 1955); once filled it stays filled, so taking
    the places in the order of their worth gives the filling of the greatest worth.
    """
    garments = [g for g in owned for _ in range(g.pieces)]
    order = sorted(range(len(slots)), key=lambda i: -slots[i].worth)
    places = [i for i in order for _ in range(min(slots[i].pieces, len(garments) + 1))]
    suits = {i: [n for n, g in enumerate(garments) if share_filled(g, slots[i], 0.0) >= 1] for i in order}
    held: dict[int, int] = {}

    def find(place: int, seen: set[int]) -> bool:
        for n in suits[places[place]]:
            if n not in seen:
                seen.add(n)
                if n not in held or find(held[n], seen):
                    held[n] = place
                    return True
        return False

    for place in range(len(places)):
        find(place, set())
    names: dict[int, list[str]] = {i: [] for i in order}
    for n, place in sorted(held.items()):
        names[places[place]].append(garments[n].name)
    return [Gap(slot, tuple(names[i]), slot.pieces - len(names[i])) for i, slot in enumerate(slots)]
