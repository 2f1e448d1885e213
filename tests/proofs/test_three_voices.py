"""durable-rules, the plain evaluator and CLIPS give the same answers on the real rules, at their own thresholds."""

from __future__ import annotations

import pytest
from drawing import edits, record_from
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from advisor import engine
from advisor.engine import Stratum
from advisor.model import Condition
from advisor.rules import Normal, Record, fired

CASES, CASES_FULL = 1_000, 20_000
SLICES = 12
CLIPS_CASES, CLIPS_CASES_FULL = 100, 2_000

needs_engine = pytest.mark.skipif(not engine.available(), reason=f"the extension is not installed: {engine.WHY_NOT}")


def seeded(count: int):
    """Hypothesis with a fixed seed and no store of its own, so that every run tries the same cases."""
    phases = (Phase.generate, Phase.shrink)
    health = list(HealthCheck)
    made = settings(max_examples=count, database=None, deadline=None, phases=phases, suppress_health_check=health)
    return lambda test: seed(20_260)(made(test))


@pytest.fixture(scope="module")
def rules(knowledge):
    return {rule.id: rule.conjunctions for rule in knowledge.rules.values()}


@needs_engine
def test_the_engine_and_the_plain_evaluator_agree_on_the_thresholds_of_the_real_rules(rules, full):
    """Every case draws one slice of the rules, and a record on the thresholds of that slice."""
    names = list(rules)
    slices = [{r: rules[r] for r in names[start::SLICES]} for start in range(SLICES)]
    strata, before = [Stratum(part) for part in slices], list(engine.faults)
    assert all(stratum.engine_in_use for stratum in strata)
    tried, hits = [0], [0]
    draws = [edits(part, most=12) for part in slices]

    @seeded(CASES_FULL if full else CASES)
    @given(st.integers(0, SLICES - 1).flatmap(lambda at: st.tuples(st.just(at), draws[at])))
    def agree(case):
        at, made = case
        record = record_from(made, slices[at])
        expected = fired(slices[at], record)
        assert strata[at].fire(record) == expected, record
        tried[0] += 1
        hits[0] += len(expected)

    agree()
    assert engine.faults == before
    assert tried[0] >= (CASES_FULL if full else CASES)
    assert hits[0] / tried[0] > 2, "the records hardly touch the rules"


@needs_engine
def test_all_rules_at_once_agree_too(rules, full):
    _agree(rules, 1_000 if full else 40)


@needs_engine
def test_the_strata_as_they_are_used_agree_too(knowledge, full):
    """The rules about each feature, and the deriving ones, in the strata that a check builds."""
    every = {rule.id: rule.conjunctions for rule in knowledge.rules.values()}
    for members in knowledge.rules_of.values():
        derives = {r: every[r] for r, kind in members if kind == "derive"}
        finds = {r: every[r] for r, kind in members if kind != "derive"}
        for rules in (derives, finds):
            if any(conjunction for normal in rules.values() for conjunction in normal):
                _agree(rules, 40 if full else 3)


def _agree(rules: dict[str, Normal], count: int) -> None:
    stratum = Stratum(rules)

    @seeded(count)
    @given(edits(rules, most=8))
    def agree(made):
        record = record_from(made, rules)
        assert stratum.fire(record) == fired(rules, record), record

    agree()


def test_a_wrong_engine_is_found_and_its_difference_shrunk(rules):
    """The test of the test: one comparison of one rule is changed, and the shortest record that shows it is told."""
    victim = next(r for r, n in rules.items() if any(c.op == "lt" for conjunction in n for c in conjunction))
    wrong = {
        **rules,
        victim: [[Condition("le", c.field, c.value) if c.op == "lt" else c for c in cs] for cs in rules[victim]],
    }
    seen: list[Record] = []

    @seeded(4_000)
    @given(edits({victim: rules[victim]}))
    def agree(made):
        record = record_from(made, rules)
        if fired(wrong, record) != fired(rules, record):
            seen.append(record)
            raise AssertionError

    with pytest.raises(AssertionError):
        agree()
    assert len(seen[-1].numbers) + len(seen[-1].marks) <= max(len(c) for c in rules[victim])


def test_clips_agrees_on_a_sample(knowledge, rules, full):
    pytest.importorskip("clips", reason="clipspy is not installed")
    from clips_voice import Clips

    voice = Clips(knowledge.rules.values())

    @seeded(CLIPS_CASES_FULL if full else CLIPS_CASES)
    @given(edits(rules))
    def agree(made):
        record = record_from(made, rules)
        assert voice.fire(record) == fired(rules, record), record

    agree()
