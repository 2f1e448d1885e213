"""What every question of quantity stands on: the knowledge folders, the units, and what is known of the cloth."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from advisor import report
from advisor.advise import cloth_report, profile_of
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, folders_to_read
from advisor.need import cloth, tables
from advisor.need.bias import joined_to_buy
from advisor.need.cloth import Amount, Shrinks
from advisor.need.reports import PiecePart
from advisor.need.units import within
from advisor.profile import Profile
from advisor.ranges import Range

Joined = tuple[float, float, float]


@dataclass(frozen=True)
class Ground:
    """What every question stands on: folders, units, and what is known of the cloth.

    `width_cm` is the bolt's, `have_m` a piece in hand; `thickness_mm` and `weight_gsm` are None where no cloth is given.
    """

    folders: Sequence[Path] = field(default_factory=folders_to_read)
    units: str = "metric"
    width_cm: float | None = None
    have_m: float | None = None
    shrinks: Shrinks = field(default_factory=Shrinks)
    spare: float = 0.0
    thickness_mm: Range | None = None
    weight_gsm: Range | None = None
    one_way: bool = False
    may_be_one_way: bool = False
    repeats: bool = False
    cloth: report.ClothReport | None = None
    notes: tuple[str, ...] = ()
    traits: frozenset[str] = frozenset()
    """Marks that the cloth may have."""

    def has_any(self, traits: Sequence[str]) -> bool:
        """Whether the cloth may have one of these traits."""
        return not self.traits.isdisjoint(traits)

    def laying(self) -> tables.Laying:
        return tables.read_table(tables.Laying, self.folders)

    def cautions(self, question: str) -> list[str]:
        return list(self.laying().cautions.get(question, []))

    def rounded(self, amount: Amount) -> Amount:
        return cloth.rounded(amount, self.units)

    def over(self, length_cm_at: Callable[[float], float]) -> Amount:
        """Cloth in m, unrounded, for a layout in cm as a function of the usable width in cm."""
        if self.width_cm is None:
            raise Unclear("no width", "the cloth's width", "--width 140")
        return cloth.over_shrinkage(lambda width: length_cm_at(width) / 100, self.width_cm, self.shrinks).each(
            lambda metres: metres * (1 + self.spare)
        )

    def joined(self, low: Joined, usual: Joined, high: Joined) -> Amount:
        """Cloth in m for joined bias strips, each case as (strip length cm, strip width cm, share of the cloth in %)."""

        def at(case: Joined) -> Amount:
            return self.over(lambda width: joined_to_buy(case[0], case[1], width, case[2] / 100))

        return Amount(at(low).low, at(usual).expected, at(high).high)

    def shrink_notes(self) -> list[str]:
        along, across = self.shrinks.along, self.shrinks.across
        if along.high <= 0 and across.high <= 0:
            return []
        return [f"reckoned with {_pct(along)} shrinkage along and {_pct(across)} across: needed / (1 - shrinkage)"]


def _pct(value: Range) -> str:
    low, high = max(0.0, value.low) * 100, max(0.0, value.high) * 100
    return f"{low:.3g} %" if abs(low - high) < 0.05 else f"{low:.3g} to {high:.3g} %"


def span(value: Range) -> report.Span:
    return report.Span(round(value.low * 100, 1), round(value.high * 100, 1))


def sources_of(*given: str) -> list[str]:
    return list(dict.fromkeys(s for s in given if s))


def short(amount: Amount, decimals: int = 2) -> Amount:
    return amount.each(lambda value: round(value, decimals))


def shrinks_of(
    along_pct: Range | None, across_pct: Range | None, profile: Profile | None, laying: tables.Laying
) -> Shrinks:
    """The shrinkage given, else the cloth's own, as fractions; raises `Unclear` above what any plan can bear."""
    most = laying.shrink_most_pct.value
    known = profile.known if profile else {}
    ends: list[Range] = []
    for given, prop, word in ((along_pct, "shrink_along", "along"), (across_pct, "shrink_across", "across")):
        if given is not None and (given.low < -most or given.high > most):
            raise Unclear(
                f"shrinkage {word} of {given.high:g} %", f"{most:g} % or less: beyond that, wash a test piece first"
            )
        value = given or (known[prop].range if prop in known else Range(0, 0))
        if value.high > most:
            raise Unclear(
                f"a cloth that may shrink {value.high:g} % {word}",
                f"{most:g} % or less: wash a test piece and give what it shrank with --shrink",
                "--shrink 10",
            )
        ends.append(Range(value.low / 100, value.high / 100))
    return Shrinks(ends[0], ends[1])


def marked(profile: Profile, marks: tables.Marks) -> tuple[bool, bool]:
    """(surely, possibly) for a set of traits."""
    found = [profile.marks.get(f"trait.{t}", (False, False)) for t in marks.sure]
    sure = any(s for s, _ in found)
    may = any(m for _, m in found) or any(profile.marks.get(f"trait.{t}", (False, False))[1] for t in marks.possible)
    return sure, sure or may


def ground(
    *,
    words: str = "",
    knowledge: Knowledge | None = None,
    folders: Sequence[Path] | None = None,
    units: str = "metric",
    width_cm: float | None = None,
    have_m: float | None = None,
    shrink_along_pct: Range | None = None,
    shrink_across_pct: Range | None = None,
    spare_pct: float = 0.0,
    thickness_mm: float | None = None,
) -> Ground:
    """The ground of a question. A cloth in `words` needs `knowledge`, and gives what is not given: shrinkage, width …"""
    if units not in ("metric", "imperial"):
        raise Unclear(f"units '{units}'", "metric or imperial", "metric")
    places = list(folders) if folders is not None else list(knowledge.folders) if knowledge else folders_to_read()
    laying = tables.read_table(tables.Laying, places)
    profile = profile_of(words, knowledge) if words and knowledge else None
    notes: list[str] = []
    if width_cm is not None:
        within(width_cm, 10, 500, "width", "cm")
    if have_m is not None:
        within(have_m, 0.05, 300, "piece in hand", "m")
    within(spare_pct, 0, 50, "spare", "%")
    thickness = Range(thickness_mm, thickness_mm) if thickness_mm is not None else None
    if thickness_mm is not None:
        within(thickness_mm, 0.01, 15, "thickness", "mm")
    if profile is None:
        return Ground(
            places,
            units,
            width_cm,
            have_m,
            shrinks_of(shrink_along_pct, shrink_across_pct, None, laying),
            spare_pct / 100,
            thickness,
        )
    said = profile.described.figures
    have_m = have_m if have_m is not None else said.length_m
    width_cm = width_cm if width_cm is not None else said.width_cm
    entry = knowledge.cloths.get(profile.described.cloth) if knowledge else None
    if width_cm is None and entry is not None and entry.width_cm is not None:
        width_cm = entry.width_cm.low
        notes.append(f"width not given: {width_cm:g} cm taken, the narrowest usual for this cloth")
    sure, may = marked(profile, laying.one_way)
    if marked(profile, laying.prewashed)[0] and shrink_along_pct is None:
        notes.append("already washed: only what shrinkage is left is reckoned with")
    return Ground(
        places,
        units,
        width_cm,
        have_m,
        shrinks_of(shrink_along_pct, shrink_across_pct, profile, laying),
        spare_pct / 100,
        thickness or profile.known["thickness"].range,
        profile.known["weight"].range,
        sure,
        may,
        marked(profile, laying.repeat)[0],
        cloth_report(profile, knowledge) if knowledge else None,
        tuple(notes),
        frozenset(mark.removeprefix("trait.") for mark, (_, may) in profile.marks.items() if may and mark.startswith("trait.")),
    )


def piece_in_hand(base: Ground, width_cm: float, needed: Amount) -> PiecePart:
    had = base.have_m or 0.0
    serves = cloth.piece_serves(had, needed)
    cases = base.shrinks.cases()
    return PiecePart(
        had,
        width_cm,
        short(Amount.of([cloth.after_washing(had, a) for a, _ in cases])),
        short(Amount.of([cloth.after_washing(width_cm, c) for _, c in cases]), 1),
        serves.serves,
        short(serves.short_m),
    )
