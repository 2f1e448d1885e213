"""durable-rules beside the plain evaluator: the same answers on the same records: advisor.engine."""

from __future__ import annotations

import random

import pytest

from advisor import engine
from advisor.advise import profile_of
from advisor.engine import GROUP, Stratum
from advisor.infer import record_of
from advisor.model import Condition
from advisor.ranges import Range
from advisor.rules import Record, fired

needs_engine = pytest.mark.skipif(not engine.available(), reason=f"the extension is not installed: {engine.WHY_NOT}")

NUMBERS = [f"property.n{i}" for i in range(8)]
MARKS = [f"trait.m{i}" for i in range(8)]
LIMITS = [0.0, 0.001, 0.5, 1.0, 2.5, 40.0, 99.999, 100.0, 250.0, 1500.0]


def random_rules(dice: random.Random, count: int) -> dict[str, list[list[Condition]]]:
    def condition() -> Condition:
        if dice.random() < 0.5:
            return Condition(dice.choice(["has", "lacks"]), dice.choice(MARKS))
        return Condition(dice.choice(["lt", "le", "gt", "ge"]), dice.choice(NUMBERS), dice.choice(LIMITS))

    return {
        f"rule-{i}": [[condition() for _ in range(dice.randint(1, 4))] for _ in range(dice.randint(1, 4))]
        for i in range(count)
    }


def random_record(dice: random.Random) -> Record:
    """Ranges whose ends often stand exactly on a limit, or a thousandth beside it."""

    def figure() -> float:
        value = dice.choice(LIMITS) if dice.random() < 0.7 else dice.uniform(0, 300)
        return max(0.0, value + dice.choice([0, 0, 0, 0.001, -0.001]))

    numbers = {}
    for name in NUMBERS:
        if dice.random() < 0.9:
            ends = sorted((figure(), figure()))
            numbers[name] = Range(*ends) if dice.random() < 0.7 else Range(ends[0], ends[0])
    marks = {name: dice.choice([(True, True), (False, True), (False, False)]) for name in MARKS if dice.random() < 0.9}
    return Record(numbers, marks)


@needs_engine
@pytest.mark.parametrize("seed", range(4))
def test_the_engine_answers_as_the_plain_evaluator_on_random_rules(seed):
    dice = random.Random(seed)
    rules = random_rules(dice, 80)
    stratum = Stratum(rules)
    assert stratum.engine_in_use
    before = list(engine.faults)
    for _ in range(250):
        record = random_record(dice)
        assert stratum.fire(record) == fired(rules, record)
    assert engine.faults == before


@needs_engine
def test_a_figure_on_the_limit_and_a_thousandth_beside_it_are_told_apart():
    rules = {op: [[Condition(op, "property.x", 2.5)]] for op in ("lt", "le", "gt", "ge")}
    stratum = Stratum(rules)
    for value in (2.499, 2.5, 2.501):
        record = Record({"property.x": Range(value, value)})
        assert stratum.fire(record) == fired(rules, record)
    assert set(stratum.fire(Record({"property.x": Range(2.5, 2.5)}))) == {"le", "ge"}


@needs_engine
def test_more_conjunctions_than_a_group_holds_are_all_fired():
    rules = {f"r{i}": [[Condition("ge", "property.x", 1.0)]] for i in range(3 * GROUP + 1)}
    assert Stratum(rules).fire(Record({"property.x": Range(1, 1)})) == dict.fromkeys(rules, True)


@needs_engine
def test_every_shipped_rule_fires_alike_in_both(knowledge):
    rules = {rule.id: rule.conjunctions for rule in knowledge.rules.values()}
    stratum = Stratum(rules)
    assert stratum.engine_in_use
    for cloth in (
        "cotton poplin",
        "viscose challis, 95 gsm",
        "silk",
        "wool, felts",
        "polyester velvet",
        "leather",
        "knit",
        "lace",
    ):
        record = record_of(profile_of(cloth, knowledge), [], [], knowledge)
        assert stratum.fire(record) == fired(rules, record), cloth


@needs_engine
def test_one_judgement_leaves_nothing_behind_for_the_next():
    rules = {"a": [[Condition("has", "trait.a")]], "b": [[Condition("has", "trait.b")]]}
    stratum = Stratum(rules)
    a, b = Record({}, {"trait.a": (True, True)}), Record({}, {"trait.b": (True, True)})
    for _ in range(50):
        assert stratum.fire(a) == {"a": True}
        assert stratum.fire(b) == {"b": True}
        assert stratum.fire(Record()) == {}


@needs_engine
def test_a_fault_of_the_engine_is_answered_by_the_plain_evaluator_and_told(monkeypatch):
    rules = {"a": [[Condition("has", "trait.a")]]}
    stratum = Stratum(rules)

    class Broken:
        def assert_fact(self, handle, fact):
            return 7, None

    monkeypatch.setattr(engine, "_extension", Broken())
    monkeypatch.setattr(engine, "faults", [])
    assert stratum.fire(Record({}, {"trait.a": (False, True)})) == {"a": False}
    assert engine.faults


def test_the_understudy_answers_where_the_engine_is_not_used():
    rules = random_rules(random.Random(9), 20)
    stratum = Stratum(rules, use_engine=False)
    assert not stratum.engine_in_use
    record = random_record(random.Random(10))
    assert stratum.fire(record) == fired(rules, record)


def test_no_rules_fire_nothing():
    assert Stratum({}).fire(Record()) == {}
