"""The rule language: conditions as people write them, their normal form, and the plain evaluator.

A condition is `{all: […]}`, `{any: […]}`, `{not: …}`, `{has: mark}`, `{lacks: mark}` or `{field: test}`:

    {weight: {above: 250}}                 a property; tests are below, above, at_least, at_most
    {fibre: wool}  {fibre: {wool: {at_least: 50}}}   a fibre's presence or share in %
    {group: cellulosic}                    the share of a group of fibres
    {structure: knit}  {finish: mercerised}
    {wearer: child}  {season: summer}  {use: work}  {care: machine-wash}
    {place: armhole}  {with: gathers}      where the feature sits; what else the make has
    {figure: {depth_mm: {above: 50}}}      a figure of the feature

The normal form is a disjunction of conjunctions of `Condition`s, with every `not` pushed down to a
comparison, so that nothing in it is ever negated. That is what makes certainty simple: a record carries the
low and the high end of every range and the sure and the possible state of every mark, and the same
conditions are read once with the ends that make them easiest to hold (may apply) and once with those that
make them hardest (sure).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from advisor.model import Condition
from advisor.ranges import Range

SCALE = 1000
"""Figures enter the engine as integers, in thousandths of their unit."""

MARK_FIELDS = ("structure", "finish", "wearer", "season", "use", "care", "place", "with")
TESTS = {"below": "lt", "above": "gt", "at_least": "ge", "at_most": "le"}
OPPOSITE = {"lt": "ge", "ge": "lt", "gt": "le", "le": "gt", "has": "lacks", "lacks": "has"}
MAX_CONJUNCTIONS = 24

Normal = list[list[Condition]]


class BadRule(ValueError):
    """A condition that is not of the language."""


def scaled(value: float) -> int:
    """A figure as the integer that both evaluators compare."""
    return round(value * SCALE)


def _leaf(key: str, body: Any) -> list[Condition]:
    """The conditions of one `{field: test}`; all of them must hold."""
    if key in ("has", "lacks"):
        return [Condition(key, f"trait.{body}")]
    if key in MARK_FIELDS:
        return [Condition("has", f"{key}.{body}")]
    if key in ("fibre", "group"):
        if isinstance(body, str):
            return [Condition("gt", f"{key}.{body}", 0.0)]
        ((name, tests),) = body.items()
        return _tests(f"{key}.{name}", tests)
    if key == "figure":
        ((name, tests),) = body.items()
        return _tests(f"figure.{name}", tests)
    return _tests(f"property.{key}", body)


def _tests(name: str, tests: Any) -> list[Condition]:
    if not isinstance(tests, dict) or not tests:
        raise BadRule(f"{name}: expected {', '.join(TESTS)} with a figure")
    found = []
    for word, value in tests.items():
        if word not in TESTS or isinstance(value, bool) or not isinstance(value, (int, float)):
            raise BadRule(f"{name}: expected {', '.join(TESTS)} with a figure, not {word}: {value!r}")
        found.append(Condition(TESTS[word], name, float(value)))
    return found


def normalise(when: Any, positive: bool = True) -> Normal:
    """The normal form of a condition; raises `BadRule` for what is not of the language."""
    if not isinstance(when, dict) or len(when) != 1:
        raise BadRule("each condition is one of all, any, not, has, lacks or a field with its test")
    ((key, body),) = when.items()
    if key == "not":
        return normalise(body, not positive)
    if key in ("all", "any"):
        if not isinstance(body, list) or not body:
            raise BadRule(f"'{key}' needs a list of conditions")
        parts = [normalise(part, positive) for part in body]
        return _and(parts) if (key == "all") == positive else _or(parts)
    try:
        leaves = _leaf(str(key), body)
    except (AttributeError, ValueError) as error:
        raise BadRule(str(error) if isinstance(error, BadRule) else f"'{key}': cannot read {body!r}") from None
    if positive:
        return [leaves]
    return [[Condition(OPPOSITE[leaf.op], leaf.field, leaf.value)] for leaf in leaves]


def _or(parts: Iterable[Normal]) -> Normal:
    return [conjunction for part in parts for conjunction in part]


def _and(parts: list[Normal]) -> Normal:
    product: Normal = [[]]
    for part in parts:
        product = [left + right for left in product for right in part]
        if len(product) > MAX_CONJUNCTIONS:
            raise BadRule(f"too many alternatives (over {MAX_CONJUNCTIONS}); split the rule")
    return product


@dataclass
class Record:
    """Everything that conditions can read about one case: ranges of numbers, and sure or possible marks.

    `numbers` maps a field to its range (in its own unit), `marks` to (sure, possible). What is not there is
    not so: an absent mark is lacking, an absent number is nought.
    """

    numbers: dict[str, Range] = field(default_factory=dict)
    marks: dict[str, tuple[bool, bool]] = field(default_factory=dict)


def reads_low(op: str, sure: bool) -> bool:
    """Whether a numeric condition reads the low end of the range, for the certainty asked."""
    return (op in ("lt", "le")) != sure


_COMPARE: dict[str, Callable[[Any, int], Any]] = {
    "lt": lambda value, limit: value < limit,
    "le": lambda value, limit: value <= limit,
    "gt": lambda value, limit: value > limit,
    "ge": lambda value, limit: value >= limit,
}


def holds(conditions: Iterable[Condition], record: Record, sure: bool) -> bool:
    """Whether all of `conditions` hold, surely or possibly, on one record."""
    for condition in conditions:
        op = condition.op
        if op in ("has", "lacks"):
            is_sure, is_possible = record.marks.get(condition.field, (False, False))
            if op == "has":
                if not (is_sure if sure else is_possible):
                    return False
            elif is_possible if sure else is_sure:
                return False
            continue
        low, high = record.numbers.get(condition.field, (0.0, 0.0))
        value = low if reads_low(op, sure) else high
        if not _COMPARE[op](scaled(value), scaled(condition.value)):
            return False
    return True


def fired(rules: Mapping[str, Normal], record: Record) -> dict[str, bool]:
    """Which rules fire on the record: rule id → sure (True) or may apply (False).

    This is the plain evaluator: the oracle of the engine's tests, and what answers where the engine cannot
    be built or loaded.
    """
    found: dict[str, bool] = {}
    for rule_id, conjunctions in rules.items():
        if any(holds(conjunction, record, sure=False) for conjunction in conjunctions):
            found[rule_id] = any(holds(conjunction, record, sure=True) for conjunction in conjunctions)
    return found
