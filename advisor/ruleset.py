"""The rule set read as a whole: rules that cannot fire, always fire, repeat or gainsay each other, or lean on each other.

Every conjunction is a box: an interval for each number and yes or no for each mark. On an exact cloth a rule can
fire where one of its boxes is not empty inside what is possible at all (the domain of a property, 0 to 100 % for a
share, the possible figures of a feature), and it always fires where none of the boxes of its negation is. Figures
are compared in thousandths, as the engine compares them.

A flaw that is meant stands in `lists/rule-excuses.yaml` under the rule's id with the kind of flaw and the reason.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from advisor.knowledge import Knowledge
from advisor.model import Condition, Rule
from advisor.ranges import Range
from advisor.reading import parse_yaml
from advisor.rules import BadRule, Record, holds, normalise, scaled

KINDS = {
    "never-fires": "its conditions exclude each other, or ask for what is not possible",
    "always-fires": "its conditions hold on every cloth",
    "gainsaid": "one rule tells to do what another tells never to do, and both can fire on one cloth",
    "said-twice": "two rules say the same, and both can fire on one cloth",
    "shadowed": "another rule concludes the same already under weaker conditions",
    "leans-on-derived": "a deriving rule asks for a mark that another one derives, so their order would matter",
    "not-straddled": "all cloths of the knowledge base lie on one side of one of its figures",
    "unused-excuse": "an excuse for a flaw that is not there",
}
"""Every kind of flaw and what it means."""

_NEGATED = frozenset({"not", "never", "no", "without", "instead", "than", "nor", "rather", "only", "if", "unless", "until"})
_SMALL = frozenset({"the", "a", "an", "it", "its", "of", "in", "on", "to", "and", "or", "with", "at", "by", "this", "for"})


@dataclass(frozen=True, order=True)
class Flaw:
    """Something wrong with one rule (and where it concerns two, the other)."""

    rule: str
    kind: str
    what: str
    other: str = ""

    def __str__(self) -> str:
        return f"{self.rule}: {self.kind}: {self.what}"


@dataclass(frozen=True)
class Box:
    """One conjunction: inclusive intervals in thousandths, and the state that each mark must have."""

    numbers: Mapping[str, tuple[int, int]]
    marks: Mapping[str, bool]

    def within(self, other: Box) -> bool:
        """Whether every exact cloth in this box lies in the other too."""
        return all(self.marks.get(name) == state for name, state in other.marks.items()) and all(
            name in self.numbers and low <= self.numbers[name][0] and self.numbers[name][1] <= high
            for name, (low, high) in other.numbers.items()
        )

    def meets(self, other: Box) -> bool:
        """Whether some exact cloth can lie in both."""
        if any(other.marks.get(name, state) != state for name, state in self.marks.items()):
            return False
        return all(
            max(low, other.numbers[name][0]) <= min(high, other.numbers[name][1])
            for name, (low, high) in self.numbers.items()
            if name in other.numbers
        )


class Possible:
    """What is possible at all: the domain of every number, and the marks that something can give."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.marks = {f"trait.{trait}" for trait in _given_traits(knowledge)}

    def span(self, name: str, rule: Rule) -> tuple[int, int]:
        """The possible figures of a field, in thousandths."""
        kind, _, bare = name.partition(".")
        if kind == "property":
            domain = self.knowledge.properties[bare].domain
        elif kind == "figure":
            owners = [self.knowledge.features[f].figures[bare].possible for f in rule.features
                      if bare in self.knowledge.features[f].figures]  # fmt: skip
            # A feature that lacks the figure reads it as nought.
            low = 0.0 if len(owners) < len(rule.features) else min(o.low for o in owners)
            domain = Range(low, max((o.high for o in owners), default=0.0))
        else:
            domain = Range(0, 100)
        return scaled(domain.low), scaled(domain.high)

    def box(self, conditions: Iterable[Condition], rule: Rule) -> Box | None:
        """The box of a conjunction inside what is possible; None where it is empty."""
        numbers: dict[str, tuple[int, int]] = {}
        marks: dict[str, bool] = {}
        for condition in conditions:
            name, op = condition.field, condition.op
            if op in ("has", "lacks"):
                wanted = op == "has"
                if marks.setdefault(name, wanted) != wanted:
                    return None
                if wanted and name.startswith("trait.") and name not in self.marks:
                    return None
                continue
            low, high = numbers.get(name, self.span(name, rule))
            limit = scaled(condition.value)
            if op in ("lt", "le"):
                high = min(high, limit - (op == "lt"))
            else:
                low = max(low, limit + (op == "gt"))
            if low > high:
                return None
            numbers[name] = (low, high)
        for name in list(numbers):  # a condition that asks nothing is none
            if numbers[name] == self.span(name, rule):
                del numbers[name]
        return Box(numbers, marks)

    def boxes(self, rule: Rule) -> list[Box]:
        """The boxes of a rule that are not empty."""
        return [box for conjunction in rule.conjunctions if (box := self.box(conjunction, rule)) is not None]


def _given_traits(knowledge: Knowledge) -> Iterator[str]:
    """Every trait that a cloth can come by: said, given by an entry, or derived."""
    yield from (trait.id for trait in knowledge.traits.values() if trait.names)
    for fibre in knowledge.fibres.values():
        yield from (*fibre.traits, *fibre.may)
    for cloth in knowledge.cloths.values():
        yield from (*cloth.traits, *cloth.may)
    for table in (knowledge.structures, knowledge.finishes, knowledge.describing, knowledge.remedies):
        for entry in table.values():
            yield from (*entry.effect.traits, *entry.effect.may)
    yield from (rule.then.derive for rule in knowledge.rules.values() if rule.then.derive)


def _share_ground(one: Rule, other: Rule) -> bool:
    """Whether both can be asked at once: about every cloth, or about a feature that both are about."""
    return not one.features or not other.features or bool(set(one.features) & set(other.features))


def _both(one: Sequence[Box], other: Sequence[Box]) -> bool:
    return any(a.meets(b) for a in one for b in other)


def _content(text: str) -> frozenset[str]:
    return frozenset(word for word in re.findall(r"[a-z]+", text.lower()) if word not in _SMALL)


def _texts(rule: Rule, *lines: str) -> Iterator[str]:
    for line in lines:
        value = rule.then.sheet.get(line)
        yield from value if isinstance(value, list) else ()


def _gainsays(do: str, never: str) -> bool:
    """Whether a text tells to do what the other forbids: it holds all its words and no word that turns them round."""
    forbidden, told = _content(never), _content(do)
    return len(forbidden) > 1 and forbidden <= told and not told & (_NEGATED - forbidden)


def _single(rules: Iterable[Rule], boxes: Mapping[str, list[Box]], possible: Possible) -> Iterator[Flaw]:
    for rule in rules:
        if not boxes[rule.id]:
            yield Flaw(rule.id, "never-fires", KINDS["never-fires"])
        if not rule.when:
            continue
        try:
            against = normalise(rule.when, positive=False)
        except BadRule:  # too many alternatives to turn round; then a single open box tells
            always = any(not box.numbers and not box.marks for box in boxes[rule.id])
        else:
            always = all(possible.box(conjunction, rule) is None for conjunction in against)
        if always:
            yield Flaw(rule.id, "always-fires", KINDS["always-fires"])


def _pairs(rules: Sequence[Rule], boxes: Mapping[str, list[Box]]) -> Iterator[Flaw]:
    for one, other in combinations(rules, 2):
        if not _share_ground(one, other):
            continue
        same = one.then.derive == other.then.derive and one.then.say == other.then.say
        if same and one.then.sheet == other.then.sheet and one.then.kind == other.then.kind:
            for strong, weak in ((one, other), (other, one)):
                covers = not weak.features or (strong.features and set(strong.features) <= set(weak.features))
                if covers and all(any(s.within(w) for w in boxes[weak.id]) for s in boxes[strong.id]):
                    yield Flaw(strong.id, "shadowed", f"{weak.id} concludes the same under weaker conditions", weak.id)
        if one.then.say and one.then.say == other.then.say and _both(boxes[one.id], boxes[other.id]):
            yield Flaw(one.id, "said-twice", f"{other.id} says the same: {one.then.say}", other.id)


def _gainsaid(rules: Sequence[Rule], boxes: Mapping[str, list[Box]]) -> Iterator[Flaw]:
    telling = [(rule, text) for rule in rules for text in _texts(rule, "how", "before", "after", "tools")]
    for forbidding in rules:
        for never in _texts(forbidding, "never"):
            for rule, text in telling:
                if (
                    _gainsays(text, never)
                    and _share_ground(rule, forbidding)
                    and _both(boxes[rule.id], boxes[forbidding.id])
                ):
                    what = f"says '{text}', but {forbidding.id} says never '{never}'"
                    yield Flaw(rule.id, "gainsaid", what, forbidding.id)


def _derivations(rules: Iterable[Rule]) -> Iterator[Flaw]:
    deriving = [rule for rule in rules if rule.then.derive]
    derived = {f"trait.{rule.then.derive}": rule.id for rule in deriving}
    for rule in deriving:
        used = sorted({c.field for conjunction in rule.conjunctions for c in conjunction} & set(derived))
        for name in used:
            what = f"asks for {name.removeprefix('trait.')}, which {derived[name]} derives"
            yield Flaw(rule.id, "leans-on-derived", what, derived[name])


def base_records(knowledge: Knowledge) -> list[Record]:
    """Every cloth of the knowledge base by its first name, as rules read it."""
    from advisor.advise import profile_of

    return [
        profile_of(cloth.names[0] if cloth.names else cloth.id.replace("-", " "), knowledge).record()
        for cloth in knowledge.cloths.values()
    ]


def _straddling(rules: Iterable[Rule], records: Sequence[Record]) -> Iterator[Flaw]:
    """Figures of properties and shares (but 'any at all') that no cloth lies on one side of."""
    known: dict[Condition, str] = {}
    for rule in rules:
        for condition in dict.fromkeys(c for conjunction in rule.conjunctions for c in conjunction):
            if condition.field.partition(".")[0] not in ("property", "fibre", "group") or condition.value == 0:
                continue
            if condition not in known:
                may = any(holds([condition], record, sure=False) for record in records)
                all_sure = all(holds([condition], record, sure=True) for record in records)
                known[condition] = "no cloth" if not may else "every cloth" if all_sure else ""
            if known[condition]:
                name = condition.field.partition(".")[2].replace("_", " ")
                said = {"lt": "below", "le": "at most", "gt": "above", "ge": "at least"}[condition.op]
                yield Flaw(rule.id, "not-straddled", f"{known[condition]} has {name} {said} {condition.value:g}")


def flaws(knowledge: Knowledge, *, records: Sequence[Record] | None = None) -> list[Flaw]:
    """Everything that is wrong with the rule set, excused or not, in order; `records` are the cloths to straddle."""
    possible = Possible(knowledge)
    rules = list(knowledge.rules.values())
    boxes = {rule.id: possible.boxes(rule) for rule in rules}
    found = {
        *_single(rules, boxes, possible),
        *_pairs(rules, boxes),
        *_gainsaid(rules, boxes),
        *_derivations(rules),
        *_straddling(rules, base_records(knowledge) if records is None else records),
    }
    return sorted(found)


def excuses(knowledge: Knowledge) -> dict[str, dict[str, str]]:
    """Rule id → kind of flaw → why it is meant, from every folder; raises `BadYaml`."""
    found: dict[str, dict[str, str]] = {}
    for folder in knowledge.folders:
        path = folder / "lists" / "rule-excuses.yaml"
        if path.is_file():
            for rule, given in (parse_yaml(path.read_text(encoding="utf-8")) or {}).items():
                found.setdefault(rule, {}).update(given)
    return found


def unexcused(knowledge: Knowledge, found: Sequence[Flaw] | None = None) -> list[Flaw]:
    """The flaws that no excuse covers, and the excuses that cover no flaw."""
    found = flaws(knowledge) if found is None else found
    excused = excuses(knowledge)
    open_ones = [flaw for flaw in found if flaw.kind not in excused.get(flaw.rule, {})]
    there = {(flaw.rule, flaw.kind) for flaw in found}
    idle = [
        Flaw(rule, "unused-excuse", f"'{kind}' is excused but is not so")
        for rule, given in excused.items()
        for kind in given
        if (rule, kind) not in there
    ]
    return sorted([*open_ones, *idle])
