"""A judged case taken apart, so that one property can be narrowed and only what hangs on it is reckoned anew.

Scores and verdicts are those of `advisor.judge`, to the last rounding; everything is kept as logarithms, in which
effects and weights are sums. A test holds the two to each other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from weakref import WeakKeyDictionary

from advisor import judge as judging
from advisor.advise import CHECK_KINDS, Judgement, with_parts
from advisor.asks import Ask
from advisor.decide.changes import plain_inference
from advisor.infer import GENERAL, Finding, own_record, record_of
from advisor.judge import (
    CONTEXT_SHARE,
    Judged,
    Points,
    Score,
    along,
    interpolate,
    least_borne,
    sample,
    score_of,
    strata,
    verdict_of,
    whole_floors,
)
from advisor.knowledge import Knowledge
from advisor.model import Rule, Settings
from advisor.ranges import Range
from advisor.rules import Record, fired

Logs = list[float]
Three = tuple[Logs, Logs, Logs]


@dataclass
class _Asked:
    """One demand as it is reckoned: its property, curve, importance, and its part in the worst."""

    property: str
    curve: Points
    weight: float
    full: float

    flat: bool = False
    """Whether every figure that the cloth may have serves alike, so that knowing it better changes nothing."""

    def costs(self, value: Range, settings: Settings) -> Logs:
        """Logarithm of how well the demand is met at each point of the sample."""
        count, floor, log = settings.sample_points, settings.floor, math.log
        inside = [(x, y) for x, y in self.curve if value.low < x < value.high]
        first, last = interpolate(self.curve, value.low), interpolate(self.curve, value.high)
        levels = {first, last, *(y for _, y in inside)}
        if len(levels) == 1:
            return [log(max(first, floor))] * count
        if inside:
            return [log(max(met, floor)) for met in along(self.curve, sample(value, self.property, count))]
        rise = last - first  # within one straight piece
        points = strata(self.property, count)
        if min(levels) > floor:
            return [log(first + rise * u) for u in points]
        return [log(max(first + rise * u, floor)) for u in points]


@dataclass
class _Leaf:
    """One feature or circumstance with its parts: what is asked, the findings, and its sums for each property."""

    judged: Judged
    asked: list[_Asked]
    rules: dict[str, list[Rule]]
    record: Record
    findings: list[Finding]
    parts: list[tuple[_Leaf, float]] = field(default_factory=list)
    own: Logs = field(default_factory=list)
    now: Three = ([], [], [])
    props: set[str] = field(default_factory=set)
    others: dict[str, tuple[Logs, Logs]] = field(default_factory=dict)
    costs: list[Logs] = field(default_factory=list)


_fields: WeakKeyDictionary[Knowledge, dict[str, frozenset[str]]] = WeakKeyDictionary()


def fields_of(rule: Rule, knowledge: Knowledge) -> frozenset[str]:
    """Every field that a rule's conditions read."""
    table = _fields.setdefault(knowledge, {})
    found = table.get(rule.id)
    if found is None:
        found = table[rule.id] = frozenset(c.field for conjunction in rule.conjunctions for c in conjunction)
    return found


class Narrowing:
    """A judged case that can be judged again with one property narrowed."""

    def __init__(self, judgement: Judgement, knowledge: Knowledge) -> None:
        self.knowledge, self.settings = knowledge, knowledge.settings
        self.profile = judgement.case.profile
        self.score, self.verdict = judgement.score, judgement.verdict
        case = judgement.case
        rules = [knowledge.rules[r] for r, kind in knowledge.rules_of.get(GENERAL, ()) if kind == "derive"]
        self._deriving: dict[str, list[Rule]] = {}
        self._follow: dict[str, list[str]] = {}
        for rule in rules:
            self._deriving.setdefault(f"trait.{rule.then.derive}", []).append(rule)
        base = record_of(self.profile, with_parts(case.asks, knowledge), case.context, knowledge)
        self._before = Record(dict(base.numbers), dict(self.profile.before_rules))
        self.features = [
            self._leaf(judged, ask, base) for judged, ask in zip(judgement.features, case.asks, strict=True)
        ]
        self.circumstances = [self._leaf(judged, None, base) for judged in judgement.circumstances]
        self._scores = [leaf.judged.score for leaf in self.features]
        # A stop about the cloth itself reads marks and no figure (a test holds it), so that narrowing leaves it.
        self._stopped = any(f.sure and not f.feature and f.rule.then.kind == "stop" for f in judgement.findings)
        self._floors = whole_floors([leaf.judged.id for leaf in self.features], knowledge)
        self.firm = [not knowledge.features[leaf.judged.id].swappable for leaf in self.features]

    def properties(self) -> set[str]:
        """The properties that any demand reads."""
        return {p for leaf in (*self.features, *self.circumstances) for p in leaf.props}

    # ---- taking apart ----

    def _leaf(self, judged: Judged, ask: Ask | None, base: Record) -> _Leaf:
        settings, knowledge = self.settings, self.knowledge
        asked = [
            _Asked(m.demand.property, m.curve, m.demand.importance, min(1.0, m.demand.importance / settings.weakest_from))
            for m in judged.met
        ]
        rules: dict[str, list[Rule]] = {}
        record = base
        if ask is not None:
            record = own_record(base, ask, knowledge)
            for rule_id in plain_inference(knowledge).select(judged.id, CHECK_KINDS):
                rule = knowledge.rules[rule_id]
                if rule.then.effect == 1 and rule.then.kind != "stop":
                    continue
                for name in fields_of(rule, knowledge):
                    rules.setdefault(name, []).append(rule)
        leaf = _Leaf(judged, asked, rules, record, judged.findings)
        leaf.costs = [a.costs(self.profile.known[a.property].range, settings) for a in asked]
        for one, costs in zip(asked, leaf.costs, strict=True):
            one.flat = min(costs) == max(costs)
        leaf.own = self._sum(zip(asked, leaf.costs, strict=True), sum(a.weight for a in asked))
        leaf.props = {a.property for a in asked}
        if judged.parts:
            weights = [self.knowledge.features[judged.id].parts[p.id] for p in judged.parts]
            scale = min(1.0, judging.PARTS_SHARE / sum(weights))
            whole = 1 + scale * sum(weights)
            for part, weight in zip(judged.parts, weights, strict=True):
                below = self._leaf(part, Ask(part.given, part.id), base)
                leaf.parts.append((below, weight * scale / whole))
                leaf.props |= below.props
        leaf.now = self._join(leaf, leaf.own, leaf.findings, [below.now for below, _ in leaf.parts])
        return leaf

    def _sum(self, pairs: Iterable[tuple[_Asked, Logs]], total: float) -> Logs:
        count = self.settings.sample_points
        if not total:
            return [0.0] * count
        logs, worst = [0.0] * count, [0.0] * count
        for asked, costs in pairs:
            weight, full = asked.weight, asked.full
            logs = [log + weight * c for log, c in zip(logs, costs, strict=True)]
            worst = [w if w < full * c else full * c for w, c in zip(worst, costs, strict=True)]
        return self._fit(logs, worst, total)

    def _fit(self, logs: Logs, worst: Logs, total: float) -> Logs:
        least = self.settings.weakest_share
        mean = (1 - least) / total
        return [mean * log + least * w for log, w in zip(logs, worst, strict=True)]

    def _others(self, leaf: _Leaf, prop: str) -> tuple[Logs, Logs]:
        """Sum and worst of the leaf's own demands, but for those on this property."""
        found = leaf.others.get(prop)
        if found is None:
            count = self.settings.sample_points
            logs, worst = [0.0] * count, [0.0] * count
            for asked, costs in zip(leaf.asked, leaf.costs, strict=True):
                if asked.property != prop or asked.flat:
                    logs = [log + asked.weight * c for log, c in zip(logs, costs, strict=True)]
                    worst = [min(w, asked.full * c) for w, c in zip(worst, costs, strict=True)]
            found = leaf.others[prop] = (logs, worst)
        return found

    def _join(self, leaf: _Leaf, own: Logs, findings: Sequence[Finding], parts: Sequence[Three]) -> Three:
        effects = [math.log(e) for e in judging._effects(findings, self.settings)]
        floor = math.log(self.settings.floor)
        same = effects[0] == effects[1] == effects[2] and all(p[0] is p[1] is p[2] for p in parts)
        found: list[Logs] = []
        for which in (0,) if same else (0, 1, 2):
            effect = effects[which]
            alone = mine = [v + effect for v in own]
            for (_, share), three in zip(leaf.parts, parts, strict=True):
                mine = [
                    m + share * ((v if v > floor else floor) - a) if v < a else m
                    for m, a, v in zip(mine, alone, three[which], strict=True)
                ]
            found.append(mine)
        return (found[0], found[0], found[0]) if same else (found[0], found[1], found[2])

    # ---- judging again ----

    def _traits(self, prop: str, value: Range) -> dict[str, tuple[bool, bool]]:
        """The traits that follow by rule from this property, as they are when it is narrowed."""
        name = f"property.{prop}"
        touched = self._follow.get(name)
        if touched is None:
            touched = self._follow[name] = [
                trait
                for trait, rules in self._deriving.items()
                if any(name in fields_of(rule, self.knowledge) for rule in rules)
            ]
        if not touched:
            return {}
        was = self._before.numbers[name]
        self._before.numbers[name] = value
        found = {}
        for trait in touched:
            sure, possible = self._before.marks.get(trait, (False, False))
            for now in fired({r.id: r.conjunctions for r in self._deriving[trait]}, self._before).values():
                sure, possible = sure or now, True
            found[trait] = (sure, possible)
        self._before.numbers[name] = was
        return found

    def _findings(self, leaf: _Leaf, prop: str, value: Range, traits: dict[str, tuple[bool, bool]]) -> list[Finding] | None:
        """The leaf's findings where narrowing can change them, else None."""
        name = f"property.{prop}"
        touched = {r.id: r for field_name in (name, *traits) for r in leaf.rules.get(field_name, ())}
        if not touched:
            return None
        numbers = {**leaf.record.numbers, name: value}
        marks = {**leaf.record.marks, **traits} if traits else leaf.record.marks
        now = fired({r: rule.conjunctions for r, rule in touched.items()}, Record(numbers, marks))
        was = {f.rule.id: f.sure for f in leaf.findings if f.rule.id in touched}
        if now == was:
            return None
        kept = [f for f in leaf.findings if f.rule.id not in touched]
        return kept + [Finding(touched[r], sure, leaf.judged.id, ()) for r, sure in now.items()]

    def _again(
        self, leaf: _Leaf, prop: str, value: Range, traits: dict[str, tuple[bool, bool]]
    ) -> tuple[Three, list[Finding]]:
        findings = self._findings(leaf, prop, value, traits) if leaf.rules else None
        own = leaf.own
        mine = [a for a in leaf.asked if a.property == prop and not a.flat]
        if mine:
            logs, worst = self._others(leaf, prop)
            for asked in mine:
                costs = asked.costs(value, self.settings)
                weight, full = asked.weight, asked.full
                logs = [log + weight * c for log, c in zip(logs, costs, strict=True)]
                worst = [w if w < full * c else full * c for w, c in zip(worst, costs, strict=True)]
            own = self._fit(logs, worst, sum(a.weight for a in leaf.asked))
        parts = [self._again(below, prop, value, traits)[0] for below, _ in leaf.parts]
        changed = any(new is not below.now for new, (below, _) in zip(parts, leaf.parts, strict=True))
        kept = leaf.findings if findings is None else findings
        if not mine and findings is None and not changed:
            return leaf.now, kept
        return self._join(leaf, own, kept, parts), kept

    def _settled(self, three: Three, findings: Sequence[Finding]) -> tuple[Score, str]:
        score = scored(three)
        verdict = verdict_of(score.expected, self.settings)
        stops = [f for f in findings if f.rule.then.kind == "stop"]
        if any(f.sure for f in stops):
            return score, "avoid"
        return score, "care" if stops and verdict == "suits" else verdict

    def at(self, prop: str, value: Range) -> tuple[Score, str]:
        """Score and verdict of the whole where the property lies in `value`."""
        score, verdict = self._at(prop, value)
        return score, "avoid" if self._stopped else verdict

    def _at(self, prop: str, value: Range) -> tuple[Score, str]:
        settings = self.settings
        traits = self._traits(prop, value)
        threes: list[tuple[Three, float, float]] = []
        changed = spoilt = False
        features: list[tuple[Score, str, list[Finding]]] = []
        for leaf, score, least in zip(self.features, self._scores, self._floors, strict=True):
            three, findings = self._again(leaf, prop, value, traits)
            threes.append((three, 1.0, least))
            same = three is leaf.now and findings is leaf.findings
            changed |= not same
            if same:
                features.append((score, leaf.judged.verdict, findings))
            else:
                features.append((*self._settled(three, findings), findings))
        for leaf in self.circumstances:
            three = self._again(leaf, prop, value, traits)[0]
            threes.append((three, CONTEXT_SHARE, settings.floor))
            changed |= three is not leaf.now
            score = leaf.judged.score if three is leaf.now else scored(three)
            spoilt |= score.expected < least_borne(leaf.judged.id, self.knowledge)
        if not changed:
            return self.score, self.verdict
        if len(features) == 1 and not self.circumstances:
            return features[0][0], features[0][1]
        total = sum(weight for _, weight, _ in threes)
        whole: list[Logs] = []
        alike = all(three[0] is three[1] is three[2] for three, _, _ in threes)
        for which in (0,) if alike else (0, 1, 2):
            logs = [0.0] * settings.sample_points
            for three, weight, least in threes:
                share, floor = weight / total, math.log(least)
                logs = [log + share * (v if v > floor else floor) for log, v in zip(logs, three[which], strict=True)]
            whole.append(logs)
        score = scored((whole[0], whole[0], whole[0]) if alike else (whole[0], whole[1], whole[2]))
        firm = [f for f, is_firm in zip(features, self.firm, strict=True) if is_firm]
        if firm:
            worst = min(f[0].expected for f in firm) + settings.worst_margin
            top = min(f[0].high for f in firm) + settings.worst_margin
            score = Score(min(score.low, worst), min(score.expected, worst), min(score.high, top))
        verdict = verdict_of(score.expected, settings)
        stops = [finding for f in firm for finding in f[2] if finding.rule.then.kind == "stop"]
        if any(finding.sure for finding in stops):
            return score, "avoid"
        if verdict == "suits" and (stops or spoilt or any(f[1] == "avoid" for f in features)):
            verdict = "care"
        return score, verdict


def scored(three: Three) -> Score:
    """The score of points given as logarithms: as `advisor.judge` scores them."""
    low, middle, high = three
    count = len(middle)
    mean = 100 * sum(map(math.exp, middle)) / count
    bottom = 100 * math.exp(sorted(low)[min(count - 1, int(0.1 * count))])
    top = 100 * math.exp(sorted(high)[min(count - 1, int(0.9 * count))])
    return score_of(bottom, mean, top)
