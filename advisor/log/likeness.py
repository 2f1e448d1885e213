"""How like two cloths are, by what is known of them, and what a cloth's own observations say of it.

The distance of two cloths is the root of the weighted mean of squares of three kinds of terms:

- for each property of `knowledge/lists/likeness.yaml`, the Hausdorff distance of the two ranges (the further apart of
  their two lower and their two upper ends), counted in differences that would just be felt (the property's
  `per_unit`) and no more than `most`. An uncertain cloth is thus not like a well-known one merely because their
  middles agree;
- the share of structures that only one of the two may have, times `structure`.

Each term is a metric (the Hausdorff distance of closed intervals; the Jaccard distance of sets), a metric cut off at a
most is one, and so is the weighted root of mean squares: the distance is symmetrical, nought only for what is
known alike, and never longer by the direct way. Cloths nearer than `alike` are alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

import msgspec

from advisor.knowledge import Knowledge
from advisor.lists import read_list
from advisor.log.done import Snapshot
from advisor.log.grammar import Reading
from advisor.profile import EVIDENCE, Known, Profile
from advisor.ranges import Range

STRUCTURE = "structure."
SHARED = 0.5
"""How much of what was seen must agree with what is usual for the two to be taken together."""


class Likeness(msgspec.Struct, forbid_unknown_fields=True):
    """Weights of the properties, and from where on cloths are not alike."""

    source: str
    alike: float
    most: float
    structure: float
    weights: dict[str, float]


@lru_cache(maxsize=4)
def likeness_of(knowledge: Knowledge) -> Likeness:
    return read_list("likeness", Likeness, knowledge.folders)


def snapshot(profile: Profile) -> Snapshot:
    """What a profile knows, in the form that the log keeps."""
    return Snapshot(
        {name: (known.range.low, known.range.high) for name, known in profile.known.items()},
        tuple(sorted(mark for mark, (_, may) in profile.marks.items() if may and mark.startswith(STRUCTURE))),
    )


def distance(one: Snapshot, other: Snapshot, per_unit: Mapping[str, float], terms: Likeness) -> float:
    """How far two cloths are apart, in differences that would just be felt; infinite where nothing can be compared."""
    shared = [p for p in terms.weights if p in one.ranges and p in other.ranges]
    if not shared:
        return math.inf
    total = weights = 0.0
    for name in shared:
        (a, b), (c, d) = one.ranges[name], other.ranges[name]
        apart = min(max(abs(a - c), abs(b - d)) / per_unit[name], terms.most)
        total += terms.weights[name] * apart**2
        weights += terms.weights[name]
    mine, theirs = set(one.structures), set(other.structures)
    either = mine | theirs
    strange = len(mine ^ theirs) / len(either) if either else 0.0
    return math.sqrt((total + (terms.structure * strange) ** 2) / (weights + 1.0))


def felt(knowledge: Knowledge) -> dict[str, float]:
    """The difference that would just be felt, by property."""
    return {p.id: p.per_unit for p in knowledge.properties.values()}


# ---- what was seen of a cloth, upon what is known of it ----


def together(ranges: Sequence[Range]) -> Range:
    """What several observations of one property leave: what they share, or all of it where they contradict."""
    shared: Range | None = ranges[0]
    hull = ranges[0]
    for value in ranges[1:]:
        shared = shared.within(value) if shared else None
        hull = hull.hull(value)
    return shared or hull


def narrow(profile: Profile, readings: Iterable[Reading], knowledge: Knowledge) -> list[str]:
    """Narrows a profile by what its maker saw of this very cloth, before traits are derived.

    A mark or a figure stands as measured, and the names of those properties are returned: it narrows what is known or,
    where the two share little, takes its place, but it only ever narrows a home test. Words alone ("too thin") leave the half of the range on their side. A limit of heat or
    washing is only ever moved to its safer side.
    """
    narrowed: list[str] = []
    by: dict[str, list[Reading]] = {}
    for reading in readings:
        if reading.prop in profile.known:
            by.setdefault(reading.prop, []).append(reading)
    for name, said in by.items():
        prop, known = knowledge.properties[name], profile.known[name]
        said = [r for r in said if prop.safer in ("", r.side)]
        ranged = [r for r in said if r.range is not None]
        lines = ", ".join(f"'{r.line}'" for r in (ranged or said))
        if ranged:
            seen = together([r.range for r in ranged if r.range is not None])
            both = known.range.within(seen)
            if known.evidence == EVIDENCE[-1]:
                seen = both or known.range
            elif both and both.width >= seen.width * SHARED:
                seen = both
            profile.known[name] = Known(seen, EVIDENCE[-1], f"your log: {lines}", "")
            narrowed.append(name)
            continue
        sides = {r.side for r in said if r.side}
        if len(sides) == 1:
            low, high = known.range
            half = Range(low, known.range.mid) if sides == {"low"} else Range(known.range.mid, high)
            profile.known[name] = Known(half, known.evidence, f"{known.because}; your log: {lines}", known.source)
    return narrowed
