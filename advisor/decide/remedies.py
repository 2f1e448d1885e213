"""What can be done where a feature does not suit: each remedy is tried, judged, and its gain set against its effort."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from advisor import report
from advisor.advise import CHECK_KINDS, Judgement, score_report, source_text, with_parts
from advisor.asks import Ask
from advisor.decide.changes import plain_inference, with_effect
from advisor.infer import Finding
from advisor.judge import Judged, Score, Terms, judge_context, judge_feature, judge_whole
from advisor.knowledge import Knowledge
from advisor.model import Demand, Effect, Remedy
from advisor.owned import Owned
from advisor.profile import Profile

MONEY = {"none": 0.0, "low": 10.0, "some": 40.0, "much": 120.0}
"""What a money band weighs beside minutes of work."""
BEGINNING = 20.0
"""Minutes that every remedy costs to think about, so that a slight gain for nothing does not come first."""
STEP = 20.0
"""What a better verdict is worth in points."""
LEAST_GAIN = 3.0
"""Points below which a remedy is not worth telling, unless the verdict changes."""
PAIRED = 7
"""How many of the best are tried in pairs."""
MOST = 12
RANK = {"avoid": 0, "care": 1, "suits": 2}


@dataclass(frozen=True)
class Tried:
    """A remedy, or two, as tried on the case."""

    remedies: tuple[Remedy, ...]
    helps: tuple[str, ...]
    score: Score
    verdict: str
    gain: float

    @property
    def minutes(self) -> float:
        return sum(r.cost.minutes for r in self.remedies)

    @property
    def worth(self) -> float:
        return self.gain / (BEGINNING + self.minutes + sum(MONEY[r.cost.money] for r in self.remedies))


def side(remedy: Remedy, prop: str) -> str:
    """On which side of what is wanted a lift counts: where the figure is too `low`, too `high`, or both (empty)."""
    if prop in remedy.where:
        return remedy.where[prop]
    more = remedy.effect.adds.get(prop)
    if more and more.range.mid:
        return "low" if more.range.mid > 0 else "high"
    factor = remedy.effect.times.get(prop)
    return "" if factor is None or factor.range.mid == 1 else "low" if factor.range.mid > 1 else "high"


def _lifted(curve: Sequence[tuple[float, float]], share: float, which: str) -> list[tuple[float, float]]:
    """The curve with part of what is missing made good, on the side of its peak that the remedy can help."""
    if not curve or not share:
        return list(curve)
    top = max(y for _, y in curve)
    first, last = (min(x for x, y in curve if y == top), max(x for x, y in curve if y == top))
    found = []
    for x, y in curve:
        helped = x < first if which == "low" else x > last if which == "high" else True
        found.append((x, 1 - (1 - share) * (1 - y) if helped else y))
    return found


def altered(demand: Demand, remedies: Iterable[Remedy]) -> Demand:
    """The demand after remedies: part of what is missing made good, or its importance eased."""
    for remedy in remedies:
        share = remedy.lifts.get(demand.property, 0.0)
        ease = remedy.eases.get(demand.property, 1.0)
        which = side(remedy, demand.property)
        if share or ease != 1.0:
            demand = Demand(
                property=demand.property, importance=demand.importance * ease, why=demand.why, source=demand.source,
                curve=_lifted(demand.curve, share, which), over=demand.over,
                curves=[(at, _lifted(curve, share, which)) for at, curve in demand.curves],
            )  # fmt: skip
    return demand


def _does_something(effect: Effect) -> bool:
    return any((effect.sets, effect.narrows, effect.adds, effect.times, effect.caps, effect.traits, effect.may, effect.clears))


class Helped:
    """A case judged with remedies. Each holds for the features it names, or for all where it names none."""

    def __init__(self, judgement: Judgement, remedies: Sequence[Remedy], knowledge: Knowledge) -> None:
        self.knowledge, self.remedies = knowledge, remedies
        self.before = judgement
        self.case = judgement.case
        self.swaps = {f: r.swap for r in remedies if r.swap for f in r.features}
        self._profiles: dict[tuple[str, ...], Profile] = {(): self.case.profile}

    def _for(self, feature: str) -> list[Remedy]:
        return [r for r in self.remedies if not r.swap and (not r.features or feature in r.features)]

    def profile(self, feature: str) -> Profile:
        """The cloth as it is in this feature."""
        doing = [r for r in self._for(feature) if _does_something(r.effect)]
        key = tuple(r.id for r in doing)
        if key not in self._profiles:
            made = self.case.profile
            for remedy in doing:
                made = with_effect(made, remedy.effect, remedy.names[0] if remedy.names else remedy.id, self.knowledge)
            self._profiles[key] = made
        return self._profiles[key]

    def _parts(self, feature: str) -> dict[str, float]:
        parts: dict[str, float] = {}
        for name, weight in self.knowledge.features[feature].parts.items():
            name = self.swaps.get(name, name)
            parts[name] = parts.get(name, 0.0) + weight
        return parts

    def _terms(self, feature: str) -> Terms:
        doing = self._for(feature)
        demands = [altered(d, doing) for d in self.knowledge.features[feature].demands]
        return Terms(self.profile(feature), demands, self._parts(feature))

    def asks(self) -> list[Ask]:
        found = []
        for ask in self.case.asks:
            other = self.swaps.get(ask.feature)
            if other:
                place = self.knowledge.features[other].place
                ask = Ask(other.replace("-", " "), other, {}, ask.places or ((place,) if place else ()))
            found.append(ask)
        return found

    def _all(self, asks: Iterable[Ask]) -> list[Ask]:
        found: dict[str, Ask] = {}
        for ask in with_parts(asks, self.knowledge):
            other = self.swaps.get(ask.feature, ask.feature) if ask not in asks else ask.feature
            found.setdefault(other, ask if other == ask.feature else Ask(other.replace("-", " "), other))
        return list(found.values())

    def _findings(self, asks: list[Ask]) -> list[Finding]:
        """What the rules say of each feature on the cloth as it is there; a stop that was sure is never settled."""
        inference, context = plain_inference(self.knowledge), list(self.case.context)
        every = self._all(asks)
        firm = {(f.feature, f.rule.id): f for f in self.before.findings if f.rule.then.kind == "stop" and f.sure}
        found: dict[tuple[str, str], Finding] = {}
        by_cloth: dict[int, list[str]] = {}
        for ask in every:
            by_cloth.setdefault(id(self.profile(ask.feature)), []).append(ask.feature)
        for features in by_cloth.values():
            cloth = self.profile(features[0])
            for finding in inference.findings(cloth, every, context, CHECK_KINDS, general=()):
                if finding.feature in features:
                    found[finding.feature, finding.rule.id] = finding
        for key in list(found):
            settled = any(key[1] in r.answers for r in self._for(key[0]))
            if settled and found[key].rule.then.kind != "stop":
                del found[key]
        there = {ask.feature for ask in every}
        return [*(found | {key: f for key, f in firm.items() if key[0] in there}).values()]

    def findings(self) -> list[Finding]:
        """What is found about the features as they are helped."""
        return self._findings(self.asks())

    def judged(self) -> tuple[list[Judged], Score, str]:
        asks = self.asks()
        findings = self._findings(asks)
        features = [judge_feature(ask, self.case.profile, findings, self.knowledge, self._terms) for ask in asks]
        # What is done to one part leaves the wearer in the cloth itself; what is done to all is worn.
        whole = self.profile("")
        circumstances = [judge_context(c.id, whole, self.knowledge) for c in self.before.circumstances]
        score, verdict = judge_whole(features, circumstances, self.knowledge)
        return features, score, verdict


def _names(judged: Judged) -> list[Judged]:
    """The feature and the parts below it that do not suit, worst first."""
    return [judged, *sorted((p for p in judged.parts if p.verdict != "suits"), key=lambda p: p.score.expected)]


def candidates(failing: Iterable[Judged], knowledge: Knowledge) -> dict[str, tuple[Remedy, list[str]]]:
    """The remedies that could help any of these, each with the features it would help."""
    found: dict[str, tuple[Remedy, list[str]]] = {}
    for top in failing:
        for judged in _names(top):
            stopped = any(f.sure and f.rule.then.kind == "stop" for f in judged.findings)
            lacking = {m.demand.property for m in judged.met if m.expected < 0.97}
            fired = {f.rule.id for f in judged.findings if f.rule.then.effect < 1}
            named = {r for f in judged.findings for r in f.rule.then.remedies}
            for remedy in knowledge.remedies.values():
                if remedy.features and judged.id not in remedy.features:
                    continue
                if remedy.swap:
                    if not remedy.features or remedy.swap == judged.id:
                        continue
                elif stopped:
                    continue  # only taking away what must not be there is honest
                else:
                    effect = remedy.effect
                    touched = {*effect.sets, *effect.narrows, *effect.adds, *effect.times, *effect.caps}
                    marks = bool(effect.traits or effect.clears or effect.may) and bool(fired)
                    if not (
                        lacking & (touched | set(remedy.lifts) | set(remedy.eases))
                        or fired & set(remedy.answers)
                        or remedy.id in named
                        or marks
                    ):
                        continue
                entry = found.setdefault(remedy.id, (remedy, []))
                if top.id not in entry[1]:
                    entry[1].append(top.id)
    return found


def _try(judgement: Judgement, remedies: tuple[Remedy, ...], helps: Sequence[str], knowledge: Knowledge) -> Tried:
    _, score, verdict = Helped(judgement, remedies, knowledge).judged()
    gain = score.expected - judgement.score.expected + STEP * (RANK[verdict] - RANK[judgement.verdict])
    return Tried(remedies, tuple(dict.fromkeys(helps)), score, verdict, gain)


def _helps(tried: Tried, before: Judgement) -> bool:
    if RANK[tried.verdict] != RANK[before.verdict]:
        return RANK[tried.verdict] > RANK[before.verdict]
    return tried.score.expected - before.score.expected >= LEAST_GAIN


def find(judgement: Judgement, knowledge: Knowledge) -> list[Tried]:
    """What can be done, best first; pairs where one remedy is not enough. Nothing where all suits, or nothing may be done."""
    failing = [f for f in judgement.features if f.verdict != "suits"]
    stopped = any(f.sure and f.rule.then.kind == "stop" and not f.feature for f in judgement.findings)
    if not failing or stopped:
        return []
    singles = [
        tried
        for remedy, helps in candidates(failing, knowledge).values()
        if _helps(tried := _try(judgement, (remedy,), helps, knowledge), judgement)
    ]
    singles.sort(key=lambda t: (-t.worth, t.remedies[0].id))
    found = list(singles)
    if not any(t.verdict == "suits" for t in singles):
        strongest = sorted(singles, key=lambda t: (-t.gain, t.remedies[0].id))[:PAIRED]
        for one, two in combinations(strongest, 2):
            first, second = one.remedies[0], two.remedies[0]
            if first.swap and second.swap and set(first.features) & set(second.features):
                continue
            both = _try(judgement, (first, second), (*one.helps, *two.helps), knowledge)
            better = max(RANK[one.verdict], RANK[two.verdict])
            more = both.score.expected - max(one.score.expected, two.score.expected)
            if RANK[both.verdict] > better or (RANK[both.verdict] == better and more >= 2 * LEAST_GAIN):
                found.append(both)
    found.sort(key=lambda t: (-t.worth, t.remedies[0].id))
    return found[:MOST]


def remedies_report(judgement: Judgement, owned: Owned, knowledge: Knowledge) -> list[report.RemedyReport]:
    """The remedies as they are reported."""
    return [_told(tried, owned, knowledge) for tried in find(judgement, knowledge)]


def _joined(texts: Iterable[str], between: str) -> str:
    return between.join(dict.fromkeys(t for t in texts if t))


def _told(tried: Tried, owned: Owned, knowledge: Knowledge) -> report.RemedyReport:
    remedies = tried.remedies
    tools = list(dict.fromkeys(tool for r in remedies for tool in r.tools))
    missing = owned.missing(tools)
    do = " ".join(r.do for r in remedies)
    unsaid = [tool for tool in missing if tool.lower() not in do.lower()]
    if unsaid:
        do = f"{do.rstrip('.')}, with {' and '.join(unsaid)}."
    bands = list(MONEY)
    return report.RemedyReport(
        id=" + ".join(r.id for r in remedies),
        do=do,
        verdict_after=tried.verdict,  # type: ignore[arg-type]
        score_after=score_report(tried.score),
        effort=report.Effort(tried.minutes, max((r.cost.money for r in remedies), key=bands.index)),
        cost_to_cloth=_joined((r.cost.cloth for r in remedies), "; "),
        swap=_joined((r.swap for r in remedies), " + ") or None,
        keeps=_joined((r.keeps for r in remedies), "; ") or None,
        helps=list(tried.helps),
        name=" and ".join((r.names or [r.id.replace("-", " ")])[0] for r in remedies),
        why=" ".join(r.why for r in remedies if r.why),
        tools=tools,
        missing=missing,
        sources=list(dict.fromkeys(source_text(r.source, knowledge) for r in remedies)),
    )
