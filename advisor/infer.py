"""Which findings follow: the rules that a question needs, fired on the record of a case."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from weakref import WeakKeyDictionary

from advisor.asks import Ask
from advisor.engine import Stratum
from advisor.knowledge import Knowledge
from advisor.model import Condition, FindingKind, Rule
from advisor.profile import Profile
from advisor.ranges import Range
from advisor.rules import Record, reads_low, scaled

GENERAL = ""


@dataclass(frozen=True)
class Finding:
    """What a rule concluded: the rule, whether it is sure, the feature it was asked about, and the facts behind it."""

    rule: Rule
    sure: bool
    feature: str
    because: tuple[str, ...]


class Inference:
    """The compiled rules of one knowledge base; strata are built when first needed and kept."""

    def __init__(self, knowledge: Knowledge, *, use_engine: bool = True) -> None:
        self.knowledge, self.use_engine = knowledge, use_engine
        self._strata: dict[tuple[str, ...], Stratum] = {}

    def stratum(self, rule_ids: tuple[str, ...]) -> Stratum:
        found = self._strata.get(rule_ids)
        if found is None:
            rules = {rule_id: self.knowledge.rules[rule_id].conjunctions for rule_id in rule_ids}
            found = self._strata[rule_ids] = Stratum(rules, use_engine=self.use_engine)
        return found

    def derive(self, profile: Profile) -> None:
        """Adds the traits that follow from others to the profile's marks."""
        profile.before_rules = dict(profile.marks)
        rule_ids = tuple(r for r, kind in self.knowledge.rules_of.get(GENERAL, ()) if kind == "derive")
        if not rule_ids:
            return
        for rule_id, sure in self.stratum(rule_ids).fire(profile.record()).items():
            profile.mark(f"trait.{self.knowledge.rules[rule_id].then.derive}", sure)

    def select(self, feature: str, kinds: Iterable[str]) -> tuple[str, ...]:
        wanted = set(kinds)
        return tuple(r for r, kind in self.knowledge.rules_of.get(feature, ()) if kind in wanted)

    def findings(
        self,
        profile: Profile,
        asks: list[Ask],
        context: list[str],
        kinds: Iterable[FindingKind],
        *,
        general: Iterable[FindingKind] | None = None,
    ) -> list[Finding]:
        """All findings for the cloth and for each feature asked; `general` limits the kinds of rules about every cloth."""
        kinds = list(kinds)
        base = record_of(profile, asks, context, self.knowledge)
        found = self._fire(self.select(GENERAL, kinds if general is None else general), base, GENERAL)
        for ask in asks:
            found += self._fire(
                self.select(ask.feature, kinds), own_record(base, ask, self.knowledge), ask.feature
            )
        return found

    def _fire(self, rule_ids: tuple[str, ...], record: Record, feature: str) -> list[Finding]:
        if not rule_ids:
            return []
        fired = self.stratum(rule_ids).fire(record)
        return [
            Finding(
                self.knowledge.rules[rule_id],
                sure,
                feature,
                because(self.knowledge.rules[rule_id], record, sure, self.knowledge),
            )
            for rule_id, sure in fired.items()
        ]


def own_fields(ask: Ask, knowledge: Knowledge) -> Record:
    """What only the rules about one feature read beside the cloth: its figures and its places."""
    feature = knowledge.features[ask.feature]
    typical = {name: figure.typical for name, figure in feature.figures.items()} | ask.figures
    return Record(
        {f"figure.{name}": Range(value, value) for name, value in typical.items()},
        {f"place.{place}": (True, True) for place in ask.places},
    )


def own_record(base: Record, ask: Ask, knowledge: Knowledge) -> Record:
    """The record that the rules about one feature read, from the one that every rule reads."""
    own = own_fields(ask, knowledge)
    return Record({**base.numbers, **own.numbers}, {**base.marks, **own.marks})


def shared_marks(asks: Iterable[Ask], context: Iterable[str], knowledge: Knowledge) -> dict[str, tuple[bool, bool]]:
    """What every rule reads beside the cloth: the circumstances, and what the make has."""
    asks = list(asks)
    implied = [name for ask in asks for name in (*ask.context, *knowledge.features[ask.feature].context)]
    marks = {f"{knowledge.context[name].kind}.{name}": (True, True) for name in (*context, *implied)}
    for ask in asks:
        marks[f"with.{ask.feature}"] = (True, True)
        for part in knowledge.features[ask.feature].parts:
            marks[f"with.{part}"] = (True, True)
    return marks


def record_of(profile: Profile, asks: Iterable[Ask], context: Iterable[str], knowledge: Knowledge) -> Record:
    """The record that rules about every cloth read."""
    record = profile.record()
    record.marks.update(shared_marks(asks, context, knowledge))
    return record


def _holds(condition: Condition, record: Record, sure: bool) -> bool:
    if condition.op in ("has", "lacks"):
        is_sure, possible = record.marks.get(condition.field, (False, False))
        return (is_sure if sure else possible) if condition.op == "has" else not (possible if sure else is_sure)
    low, high = record.numbers.get(condition.field, (0.0, 0.0))
    value, limit = scaled(low if reads_low(condition.op, sure) else high), scaled(condition.value)
    return {"lt": value < limit, "le": value <= limit, "gt": value > limit, "ge": value >= limit}[condition.op]


def because(rule: Rule, record: Record, sure: bool, knowledge: Knowledge) -> tuple[str, ...]:
    """The facts of the first conjunction that holds, in words."""
    for conjunction in rule.conjunctions:
        if all(_holds(c, record, sure) for c in conjunction):
            return tuple(dict.fromkeys(fact(c, record, knowledge) for c in conjunction))
    return ()


_COMPARED = {"lt": "below", "le": "at most", "gt": "above", "ge": "at least"}


def fact(condition: Condition, record: Record, knowledge: Knowledge) -> str:
    """One condition and the figure that met it, as a maker would read it."""
    kind, _, name = condition.field.partition(".")
    plain_name = name.replace("-", " ").replace("_", " ")
    if condition.op == "has":
        return plain_name if record.marks.get(condition.field, (False, False))[0] else f"possibly {plain_name}"
    if condition.op == "lacks":
        return f"not {plain_name}"
    low, high = record.numbers.get(condition.field, Range(0, 0))
    unit, shown = "", plain_name
    if kind == "property":
        prop = knowledge.properties[name]
        unit, shown = (" " + prop.unit if prop.unit != "grade" else ""), prop.name
    elif kind in ("fibre", "group"):
        unit = " %"
    span = f"{low:.4g}" if low == high else f"{low:.4g} to {high:.4g}"
    if kind in ("fibre", "group") and condition.op == "gt" and condition.value == 0:
        return f"{shown} {span}{unit}"
    return f"{shown} {span}{unit} ({_COMPARED[condition.op]} {condition.value:g})"


_inferences: WeakKeyDictionary[Knowledge, Inference] = WeakKeyDictionary()


def inference_for(knowledge: Knowledge) -> Inference:
    """The one inference of a knowledge base in this process."""
    found = _inferences.get(knowledge)
    if found is None:
        found = _inferences[knowledge] = Inference(knowledge)
    return found


@lru_cache(maxsize=1)
def kinds_in_order() -> tuple[str, ...]:
    """Kinds of findings, the gravest first."""
    return ("stop", "safety", "caution", "press", "prewash", "handling", "notion")
