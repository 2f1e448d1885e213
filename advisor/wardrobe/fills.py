"""Which gap of a wardrobe a make would fill."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.knowledge import Knowledge
from advisor.makes import Make
from advisor.wardrobe.gaps import Gap, share_filled
from advisor.wardrobe.garments import Garment, WardrobeTable, adds_of


@dataclass(frozen=True)
class Fill:
    """One garment that a make adds; the gap that it fills best, None for none, and by what share."""

    garment: Garment
    best: Gap | None
    share: float


def fills_of(
    make: Make, gaps: Sequence[Gap], knowledge: Knowledge, table: WardrobeTable, colour: str = ""
) -> list[Fill]:
    """What a make adds, sewn in a colour where one is known; each garment by itself against the gaps as they are."""
    found: list[Fill] = []
    for garment in adds_of(make, knowledge, table):
        garment = replace(garment, colour=colour or garment.colour)
        best, share, worth = None, 0.0, 0.0
        for gap in gaps:
            here = share_filled(garment, gap.slot, table.unknown.is_) if gap.missing else 0.0
            if here * gap.slot.worth > worth:
                best, share, worth = gap, here, here * gap.slot.worth
        found.append(Fill(garment, best, share))
    return found
