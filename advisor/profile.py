"""From a description to a profile: every property as a range with its evidence, and every mark."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from advisor.knowledge import Knowledge
from advisor.model import Effect, Figure
from advisor.ranges import Range
from advisor.rules import Record
from advisor.words import Described

EVIDENCE = ("assumed", "follows", "usual", "stated", "measured")
"""Kinds of evidence, from the weakest to the strongest."""

SURE_SHARE, POSSIBLE_SHARE = 40.0, 10.0
"""Share of a fibre (%) from which its marks are the cloth's for sure, or possibly."""


MOST_ADDED = 30.0
"""Up to this share (%) a fibre adds to a cloth what its `per_share` says; beyond, it is the cloth."""


MOST_KEPT = 4096
"""How many different cloths, by name, fibres, structure and words, are kept half built."""


USUAL_ADDED = Range(2.0, 20.0)
"""The share (%) of a fibre that adds by its share, such as an elastic one, where it is named and its share is not
(common practice: from a stretch woven to swimwear)."""


COOLEST = {"heat_limit": 110.0, "wash_limit": 30.0}
"""What a cloth whose fibre is in doubt is still given: the lowest iron setting of ISO 3758:2012 (°C), and a cool wash."""


class Known(NamedTuple):
    """What is known of one property: its range, the kind of evidence, what it follows from, and the source."""

    range: Range
    evidence: str
    because: str
    source: str


@dataclass
class Profile:
    """One cloth as the judging sees it.

    `marks` maps `trait.x`, `structure.x`, `finish.x` to (sure, possible); `shares` gives each fibre's share in %;
    `decided` says which part decides the heat and the wash.
    """

    described: Described
    known: dict[str, Known] = field(default_factory=dict)
    marks: dict[str, tuple[bool, bool]] = field(default_factory=dict)
    shares: dict[str, Range] = field(default_factory=dict)
    groups: dict[str, Range] = field(default_factory=dict)
    decided: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    before_rules: dict[str, tuple[bool, bool]] = field(default_factory=dict)
    """The marks as they were before any trait was derived from others by rule."""

    def mark(self, name: str, sure: bool) -> None:
        was = self.marks.get(name, (False, False))
        self.marks[name] = (was[0] or sure, True)

    def record(self) -> Record:
        """The profile as rules read it."""
        numbers = {f"property.{p}": k.range for p, k in self.known.items()}
        numbers |= {f"fibre.{f}": r for f, r in self.shares.items()}
        numbers |= {f"group.{g}": r for g, r in self.groups.items()}
        return Record(numbers, dict(self.marks))


def _blend(mixes: list[dict[str, Range]], prop: str, how: str, knowledge: Knowledge) -> tuple[Range, str, str] | None:
    """A fibre-driven property of the usual make-ups: range, deciding fibre, source."""
    result: Range | None = None
    because = source = ""
    lowest = float("inf")
    for mix in mixes:
        parts = [(f, s, knowledge.fibres[f].gives[prop]) for f, s in mix.items() if prop in knowledge.fibres[f].gives]
        parts = [(f, s, g) for f, s, g in parts if s.high > 0]
        if not parts:
            continue
        if how == "weakest":
            fibre, _, figure = min(parts, key=lambda p: (p[2].low, p[2].high))
            here = Range(figure.low, min(g.high for _, _, g in parts))
            if figure.low < lowest:
                because, source, lowest = fibre, figure.source, figure.low
        elif how == "strongest":
            fibre, _, figure = max(parts, key=lambda p: p[2].high)
            here, because, source = figure.range, fibre, figure.source
        else:
            total = sum(max(s.mid, 0.01) for _, s, _ in parts)
            here = Range(
                sum(g.low * max(s.mid, 0.01) for _, s, g in parts) / total,
                sum(g.high * max(s.mid, 0.01) for _, s, g in parts) / total,
            )
            fibre, _, figure = max(parts, key=lambda p: p[1].mid)
            because, source = because or fibre, source or figure.source
        result = here if result is None else result.hull(here)
    return (result, because, source) if result else None


def _mixes(described: Described, knowledge: Knowledge) -> tuple[list[dict[str, Range]], bool]:
    """The make-ups to reckon with, and whether they differ from what is usual for the named cloth."""
    said = described.mixes
    usual = knowledge.cloths[described.cloth].fibres if described.cloth else []
    if not said:
        return usual, False
    has_shares = any(r not in (Range(100, 100), Range(10, 90)) for mix in said for r in mix.values())
    if has_shares or not usual:
        foreign = bool(usual) and not any(set(m) & set(u) for m in said for u in usual)
        return said, foreign
    kept = [u for u in usual if any(set(m) <= set(u) for m in said)]
    pure = [u for u in kept if any(set(m) == set(u) for m in said)]
    if pure or kept:
        return pure or kept, False
    return said, not any(set(m) & set(u) for m in said for u in usual)


class _Builder:
    """Builds one profile, weakest evidence first; `begun` is one to go on with."""

    def __init__(self, described: Described, knowledge: Knowledge, begun: Profile | None = None) -> None:
        self.described, self.knowledge = described, knowledge
        self.profile = begun or Profile(described)
        self.known = self.profile.known
        self.cloth = knowledge.cloths[described.cloth] if described.cloth else None
        self.mixes: list[dict[str, Range]] = []
        self.foreign = False

    def put(self, prop: str, value: Range, evidence: str, because: str, source: str) -> None:
        domain = self.knowledge.properties[prop].domain
        if prop in self.profile.decided and value.low < self.known[prop].range.low:
            self.profile.decided[prop] = because  # more tender than the fibres alone
        self.known[prop] = Known(value.clamp(domain), evidence, because, source)

    def figures(self, given: Mapping[str, Figure], evidence: str, because: str) -> None:
        for prop, figure in given.items():
            self.put(prop, figure.range, evidence, because, figure.source)

    def narrow(self, prop: str, value: Range, because: str, source: str) -> None:
        """A describing word narrows what is known, and wins where it contradicts."""
        was = self.known[prop]
        both = was.range.within(value) if was.evidence != "assumed" else None
        self.put(prop, both or value, "stated", because, source)

    def effect(self, effect: Effect, evidence: str, because: str, *, own: frozenset[str] = frozenset()) -> None:
        """Applies sets, adds, times and caps; properties in `own` are already what they will be, but for caps."""
        for prop, figure in effect.sets.items():
            if prop not in own:
                self.put(prop, figure.range, evidence, because, figure.source)
        for prop, figure in effect.narrows.items():
            self.narrow(prop, figure.range, because, figure.source)
        for prop, figure in effect.adds.items():
            if prop not in own:
                self._shift(prop, self.known[prop].range.plus(figure.range), evidence, because, figure.source)
        for prop, figure in effect.times.items():
            if prop not in own:
                self._shift(prop, self.known[prop].range.times(figure.range), evidence, because, figure.source)
        for prop, figure in effect.caps.items():
            was = self.known[prop]
            if was.range.high > figure.high:
                value = Range(min(was.range.low, figure.low), min(was.range.high, figure.high))
                self.put(prop, value, evidence, because, figure.source)
                if was.range.low > figure.low:
                    self.profile.decided[prop] = because
        for trait in effect.traits:
            self.profile.mark(f"trait.{trait}", True)
        for trait in effect.may:
            self.profile.mark(f"trait.{trait}", False)
        for trait in effect.clears:
            self.profile.marks.pop(f"trait.{trait}", None)

    def _shift(self, prop: str, value: Range, evidence: str, because: str, source: str) -> None:
        was = self.known[prop]
        kind = was.evidence if EVIDENCE.index(was.evidence) > EVIDENCE.index(evidence) else evidence
        self.put(prop, value, kind, f"{was.because}, {because}" if was.because else because, source)

    def composed(self) -> None:
        """What is assumed of any cloth and what follows from the fibres, kept by make-up: few are met again and again."""
        kept = self.knowledge.keep("make-ups", MOST_KEPT)
        key = _as_key(self.mixes)
        found: Profile | None = kept.get(key)
        if found is None:
            alone = _Builder(Described(""), self.knowledge)
            alone.mixes = self.mixes
            for prop in self.knowledge.properties.values():
                alone.put(prop.id, prop.assumed, "assumed", "no evidence", prop.source)
            alone.fibres()
            found = kept[key] = alone.profile
        for name in ("known", "marks", "shares", "groups", "decided"):
            getattr(self.profile, name).update(getattr(found, name))

    def fibres(self) -> None:
        profile, knowledge = self.profile, self.knowledge
        names = {f for mix in self.mixes for f in mix}
        for fibre in sorted(names):
            shares = [mix.get(fibre, Range(0, 0)) for mix in self.mixes]
            share = Range(min(s.low for s in shares), max(s.high for s in shares))
            profile.shares[fibre] = Range(float(share.low), float(share.high))  # 100 and 100.0 share what is kept
            entry = knowledge.fibres[fibre]
            for trait in (*entry.traits, *entry.may):
                if share.high >= POSSIBLE_SHARE:
                    profile.mark(f"trait.{trait}", trait in entry.traits and share.low >= SURE_SHARE)
        groups = {g for f in names for g in knowledge.fibres[f].groups}
        for group in groups:
            sums = []
            for mix in self.mixes:
                members = [s for f, s in mix.items() if group in knowledge.fibres[f].groups]
                sums.append(Range(min(100, sum(s.low for s in members)), min(100, sum(s.high for s in members))))
            profile.groups[group] = Range(min(s.low for s in sums), max(s.high for s in sums))
        if self.mixes:
            for prop in knowledge.properties.values():
                if prop.blend == "none":
                    continue
                found = _blend(self.mixes, prop.id, prop.blend, knowledge)
                if found:
                    self.put(prop.id, found[0], "follows", _name(knowledge.fibres[found[1]]), found[2])
                    if prop.blend == "weakest":
                        profile.decided[prop.id] = _name(knowledge.fibres[found[1]])
            if "bleed" not in self.known or all("bleed" in knowledge.fibres[f].gives for f in names):
                found = _blend(self.mixes, "bleed", "mean", knowledge)
                if found:
                    self.put("bleed", found[0], "follows", _name(knowledge.fibres[found[1]]), found[2])

    def companions(self) -> None:
        """What a fibre or a describing word suggests where no cloth is named."""
        if self.cloth and self.cloth.kind != "class":
            return
        usual: dict[str, tuple[Range, str, str]] = {}
        if not self.cloth:
            for mix in self.mixes:
                fibre = max(mix, key=lambda f: mix[f].mid)
                entry = self.knowledge.fibres[fibre]
                for prop, figure in entry.usual.items():
                    was = usual.get(prop)
                    hull = figure.range if was is None else was[0].hull(figure.range)
                    usual[prop] = (hull, _name(entry), figure.source)
        for prop, (value, because, source) in usual.items():
            self.put(prop, value, "follows", because, source)
        for word in self.described.words:
            said = self.described.said.get(word, word)
            for prop, figure in self.knowledge.describing[word].suggests.items():
                known = self.known[prop]
                both = known.range.within(figure.range) if known.evidence != "assumed" else None
                self.put(prop, both or figure.range, "follows", f"'{said}'", figure.source)

    def structures(self) -> None:
        described, profile = self.described, self.profile
        usual = self.cloth.structure if self.cloth else []
        structures = self.knowledge.structures
        # "woven" or "knit" by itself names only a kind, which the named cloth's own structure says better.
        exact = [s for s in described.structures if structures[s].names[:1] != structures[s].kinds[:1]]
        said = exact or ([] if usual else described.structures)
        chosen = said or usual
        if not chosen and not self.cloth:
            fibres = {f for mix in described.mixes for f in mix}
            chosen = sorted({s for f in fibres for s in self.knowledge.fibres[f].goes_into})
            if chosen:
                profile.notes.append("woven or knitted was not said, and this blend may be either")
        if not chosen:
            profile.mark("structure.woven", True)
            if not (self.cloth and self.cloth.kind == "class"):
                profile.notes.append("taken as a woven cloth, since nothing else was said")
            return
        entries = [self.knowledge.structures[s] for s in chosen]
        for entry in entries:
            for kind in (entry.id, *entry.kinds):
                profile.mark(f"structure.{kind}", all(kind == e.id or kind in e.kinds for e in entries))
        if len(entries) == 1:
            self.effect(entries[0].effect, "follows", _name(entries[0]))
            return
        before = dict(self.known)
        outcomes = []
        for entry in entries:
            self.known.clear()
            self.known.update(before)
            marks = dict(profile.marks)
            self.effect(entry.effect, "follows", _name(entry))
            outcomes.append(dict(self.known))
            gained = {m for m, v in profile.marks.items() if marks.get(m) != v}
            for name in gained:
                all_have = all(name.removeprefix("trait.") in e.effect.traits for e in entries)
                profile.marks[name] = (all_have or marks.get(name, (False, False))[0], True)
        changed = dict.fromkeys(prop for entry in entries for prop in _changes(entry.effect))
        for prop in changed:  # all others are in every outcome as they were
            hull = outcomes[0][prop].range
            for outcome in outcomes[1:]:
                hull = hull.hull(outcome[prop].range)
            one = outcomes[0][prop]
            self.known[prop] = Known(hull, one.evidence, one.because, one.source)

    def strange_fibres(self) -> None:
        """What a fibre that was said, and that the named cloth does not usually hold, adds by its share."""
        at_home = {f for mix in (self.cloth.fibres if self.cloth else []) for f in mix}
        for fibre in {f for mix in self.described.mixes for f in mix} - at_home:
            entry, share = self.knowledge.fibres[fibre], self.profile.shares.get(fibre)
            if share and share.width >= 50:
                share = USUAL_ADDED
            for prop, figure in entry.per_share.items():
                if share and share.high <= MOST_ADDED:
                    more = Range(figure.low * share.low, figure.high * share.high)
                    self._shift(prop, self.known[prop].range.plus(more), "follows", _name(entry), figure.source)

    def usual(self) -> None:
        if not self.cloth:
            return
        cloth = self.cloth
        for prop, figure in cloth.ranges.items():
            if self.foreign and self.knowledge.properties[prop].blend != "none":
                continue
            self.put(prop, figure.range, "usual", _name(cloth), figure.source)
        for trait in cloth.traits:
            self.profile.mark(f"trait.{trait}", True)
        for trait in cloth.may:
            self.profile.mark(f"trait.{trait}", False)
        for trait in cloth.lacks:
            self.profile.marks.pop(f"trait.{trait}", None)
        own = frozenset(cloth.ranges)
        for name in cloth.finishes:
            finish = self.knowledge.finishes[name]
            self.profile.mark(f"finish.{name}", True)
            self.effect(finish.effect, "follows", _name(finish), own=own)

    def said(self) -> None:
        described, knowledge = self.described, self.knowledge
        base = self.known["weight"]
        for name in described.finishes:
            finish = knowledge.finishes[name]
            self.profile.mark(f"finish.{name}", True)
            self.effect(finish.effect, "stated", _name(finish))
        for trait in described.traits:
            self.profile.mark(f"trait.{trait}", True)
        for name in described.words:
            word = knowledge.describing[name]
            self.effect(word.effect, "stated", f"'{described.said.get(name, name)}'")
        for prop, band in described.bands:
            self.narrow(prop, knowledge.properties[prop].bands[band], f"'{band}'", knowledge.properties[prop].source)
        for prop, value in described.figures.stated.items():
            tolerance = knowledge.properties[prop].tolerance
            loose = Range(value.low - tolerance * abs(value.low), value.high + tolerance * abs(value.high))
            self.put(prop, loose, "stated", "as stated", "")
        for prop, value in described.figures.measured.items():
            self.put(prop, value, "measured", "as measured", "")
        self._scale(base)

    def _scale(self, base: Known) -> None:
        """A lighter or heavier cloth than usual is thinner or thicker, and so on, unless that was said too."""
        weight = self.known["weight"]
        if weight.evidence not in ("stated", "measured") or base.evidence == "assumed":
            return
        ratio = min(2.5, max(0.4, weight.range.mid / base.range.mid))
        if abs(ratio - 1) < 0.08:
            return
        powers = self.knowledge.keep("powers of weight", MOST_KEPT)
        if not powers:
            powers.update((p.id, p.scales["weight"]) for p in self.knowledge.properties.values() if p.scales.get("weight"))
        for prop, power in powers.items():
            was = self.known[prop]
            if was.evidence not in ("stated", "measured"):
                factor = ratio**power
                self.put(
                    prop,
                    was.range.times(Range(factor, factor)),
                    was.evidence,
                    f"{was.because}, at this weight",
                    was.source,
                )

    def follow(self) -> Profile:
        """What follows from the cloth's name, its fibres and its structure, before the particulars that were said."""
        self.mixes, self.foreign = _mixes(self.described, self.knowledge)
        self.composed()
        self.companions_first()
        self.companions()
        self.structures()
        self.usual()
        self.strange_fibres()
        return self.profile

    def finish(self) -> Profile:
        """The finishes, words and figures that were said, over what follows."""
        self.said()
        self._contradiction()
        self.profile.notes = [*self.described.notes, *self.profile.notes]
        return self.profile

    def companions_first(self) -> None:
        if not self.mixes and not self.cloth and not self.described.structures:
            self.profile.decided["heat_limit"] = self.profile.decided["wash_limit"] = "not knowing the fibre"

    def _contradiction(self) -> None:
        """Sold as one thing, yet behaves as another: the safer reading is taken, and said."""
        flame = {"melts", "chars", "hair-smell"} & set(self.described.traits)
        if not flame or not self.profile.shares:
            return
        usual = {
            t for f in self.profile.shares for t in (*self.knowledge.fibres[f].traits, *self.knowledge.fibres[f].may)
        }
        odd = flame - usual
        if odd:
            names = ", ".join(_name(self.knowledge.fibres[f]) for f in self.profile.shares)
            self.profile.notes.append(
                f"described as {names}, but the flame test says otherwise; the safer reading is taken for heat and washing"
            )
            for prop in ("heat_limit", "wash_limit"):
                self._as_tender_as(odd, prop)

    def _as_tender_as(self, traits: set[str], prop: str) -> None:
        """Lowers a limit to the most tender of the fibres that behave so and bear any of it at all."""
        limits = [
            figure
            for fibre in self.knowledge.fibres.values()
            if traits & set(fibre.traits) and (figure := fibre.gives.get(prop)) and figure.low >= COOLEST[prop]
        ]
        cap = min(limits, key=lambda figure: figure.low, default=None)
        was = self.known[prop]
        if cap and cap.low < was.range.low:
            self.put(prop, Range(cap.low, cap.low), "stated", "the flame test", cap.source)
            self.profile.decided[prop] = "the flame test"


def _changes(effect: Effect) -> Iterable[str]:
    """The properties that an effect touches."""
    return (*effect.sets, *effect.narrows, *effect.adds, *effect.times, *effect.caps)


def _name(entry: object) -> str:
    names = getattr(entry, "names", None)
    return names[0] if names else str(getattr(entry, "id", "")).replace("-", " ")


def _as_key(mixes: Iterable[dict[str, Range]]) -> tuple[tuple[tuple[str, Range], ...], ...]:
    return tuple(tuple(mix.items()) for mix in mixes)


def _following(described: Described, knowledge: Knowledge) -> Profile:
    """What follows from cloth, fibres and structure: a copy of one kept, as cloths of a list share it and differ in figures.

    It is built from those parts of the description alone, so that nothing else can slip into what is kept.
    """
    words = {word: described.said.get(word, word) for word in described.words}
    key = (
        described.cloth,
        _as_key(described.mixes),
        tuple(described.structures),
        tuple(words.items()),
    )
    kept = knowledge.keep("profiles", MOST_KEPT)
    found: Profile | None = kept.get(key)
    if found is None:
        alone = Described(
            "", cloth=described.cloth, mixes=described.mixes, structures=described.structures, words=described.words, said=words
        )
        found = kept[key] = _Builder(alone, knowledge).follow()
    return Profile(
        described, dict(found.known), dict(found.marks), dict(found.shares), dict(found.groups), dict(found.decided),
        list(found.notes),
    )  # fmt: skip


def build(described: Described, knowledge: Knowledge) -> Profile:
    """The profile of a described cloth."""
    return _Builder(described, knowledge, _following(described, knowledge)).finish()


def changed(profile: Profile, effect: Effect, because: str, knowledge: Knowledge) -> Profile:
    """A copy of the profile after something was done to the cloth; traits that follow by rule are not yet derived anew."""
    builder = _Builder(profile.described, knowledge, copy_of(profile))
    builder.effect(effect, "stated", because)
    return builder.profile


def copy_of(profile: Profile) -> Profile:
    """A copy to be changed, with only those traits that do not follow from others."""
    return replace(
        profile,
        known=dict(profile.known),
        marks=dict(profile.before_rules or profile.marks),
        decided=dict(profile.decided),
        notes=list(profile.notes),
    )


def traits_of(profile: Profile) -> Iterable[tuple[str, bool]]:
    """The cloth's traits, each with whether it is sure."""
    for name, (sure, _) in sorted(profile.marks.items()):
        if name.startswith("trait."):
            yield name.removeprefix("trait."), sure
