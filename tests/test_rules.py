"""The rule language: its normal form, negation, and truth in three values: advisor.rules."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from advisor.model import Condition
from advisor.ranges import Range
from advisor.rules import MAX_CONJUNCTIONS, BadRule, Record, fired, holds, normalise

# ---- a second, slow reading of the language on one exact cloth ------------------------------------------------

WORDS = {
    "below": lambda x, limit: x < limit,
    "above": lambda x, limit: x > limit,
    "at_least": lambda x, limit: x >= limit,
    "at_most": lambda x, limit: x <= limit,
}


def true_on(when: dict[str, Any], numbers: dict[str, float], marks: set[str]) -> bool:
    """Whether a condition holds on one exact cloth, read straight from what was written."""
    ((key, body),) = when.items()
    if key == "all":
        return all(true_on(part, numbers, marks) for part in body)
    if key == "any":
        return any(true_on(part, numbers, marks) for part in body)
    if key == "not":
        return not true_on(body, numbers, marks)
    if key == "has":
        return f"trait.{body}" in marks
    if key == "lacks":
        return f"trait.{body}" not in marks
    if key == "structure":
        return f"structure.{body}" in marks
    if key == "fibre" and isinstance(body, str):
        return numbers.get(f"fibre.{body}", 0) > 0
    if key == "fibre":
        ((name, tests),) = body.items()
        return all(WORDS[word](numbers.get(f"fibre.{name}", 0), limit) for word, limit in tests.items())
    return all(WORDS[word](numbers.get(f"property.{key}", 0), limit) for word, limit in body.items())


FIGURES = st.integers(0, 12).map(lambda n: n / 2)
TESTS = st.dictionaries(st.sampled_from(sorted(WORDS)), FIGURES, min_size=1, max_size=2)
LEAVES = st.one_of(
    st.builds(lambda name, tests: {name: tests}, st.sampled_from(["p", "q"]), TESTS),
    st.builds(lambda op, name: {op: name}, st.sampled_from(["has", "lacks"]), st.sampled_from(["a", "b"])),
    st.just({"structure": "s"}),
    st.just({"fibre": "f"}),
    st.builds(lambda tests: {"fibre": {"f": tests}}, TESTS),
)
CONDITIONS = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.builds(lambda parts: {"all": parts}, st.lists(inner, min_size=1, max_size=3)),
        st.builds(lambda parts: {"any": parts}, st.lists(inner, min_size=1, max_size=3)),
        st.builds(lambda part: {"not": part}, inner),
    ),
    max_leaves=6,
)
RANGES = st.tuples(FIGURES, FIGURES).map(lambda ends: Range(min(ends), max(ends)))
STATES = st.sampled_from([(True, True), (False, True), (False, False)])
RECORDS = st.builds(
    lambda p, q, f, a, b, s: Record(
        {"property.p": p, "property.q": q, "fibre.f": f}, {"trait.a": a, "trait.b": b, "structure.s": s}
    ),
    RANGES, RANGES, RANGES, STATES, STATES, STATES,
)  # fmt: skip


def cloths_of(record: Record):
    """Exact cloths inside the record: every range at its ends and at each half between, every possible mark with and without."""
    names = list(record.numbers)
    steps = [[low + i / 2 for i in range(int((high - low) * 2) + 1)] for low, high in record.numbers.values()]
    coarse = [
        sorted({values[0], values[len(values) // 3], values[2 * len(values) // 3], values[-1]}) for values in steps
    ]
    may = [name for name, (sure, possible) in record.marks.items() if possible and not sure]
    certain = {name for name, (sure, _) in record.marks.items() if sure}
    for values in product(*coarse):
        for chosen in product([False, True], repeat=len(may)):
            yield (
                dict(zip(names, values, strict=True)),
                certain | {n for n, yes in zip(may, chosen, strict=True) if yes},
            )


def normal(when):
    try:
        return normalise(when)
    except BadRule as error:
        assume("too many alternatives" not in str(error))
        raise


@settings(max_examples=400, deadline=None)
@given(CONDITIONS, RECORDS)
def test_a_sure_rule_holds_on_every_cloth_and_a_quiet_one_on_none(when, record):
    found = fired({"rule": normal(when)}, record)
    for numbers, marks in cloths_of(record):
        truth = true_on(when, numbers, marks)
        if found.get("rule"):
            assert truth, f"sure, yet false on {numbers} {marks}"
        if "rule" not in found:
            assert not truth, f"quiet, yet true on {numbers} {marks}"


@settings(max_examples=300, deadline=None)
@given(CONDITIONS, RECORDS)
def test_on_an_exact_cloth_the_normal_form_says_what_was_written(when, record):
    numbers, marks = next(iter(cloths_of(record)))
    exact = Record({k: Range(v, v) for k, v in numbers.items()}, dict.fromkeys(marks, (True, True)))
    assert fired({"rule": normal(when)}, exact) == ({"rule": True} if true_on(when, numbers, marks) else {})


@settings(max_examples=300, deadline=None)
@given(CONDITIONS, RECORDS)
def test_a_condition_and_its_negation_are_never_both_sure_and_never_both_quiet(when, record):
    found = fired({"yes": normal(when), "no": normal({"not": when})}, record)
    assert found
    assert not (found.get("yes") and found.get("no"))


@settings(max_examples=200, deadline=None)
@given(CONDITIONS)
def test_nothing_in_the_normal_form_is_negated(when):
    for conjunction in normal(when):
        for condition in conjunction:
            assert condition.op in ("lt", "le", "gt", "ge", "has", "lacks")


@settings(max_examples=200, deadline=None)
@given(CONDITIONS, RECORDS)
def test_a_double_negation_changes_nothing(when, record):
    assert fired({"r": normal({"not": {"not": when}})}, record) == fired({"r": normal(when)}, record)


# ---- examples that can be read ----------------------------------------------------------------------------


@pytest.mark.parametrize(("when", "form"), [
    ({"weight": {"above": 250}}, [[Condition("gt", "property.weight", 250)]]),
    ({"not": {"weight": {"above": 250}}}, [[Condition("le", "property.weight", 250)]]),
    ({"not": {"weight": {"above": 100, "below": 200}}},
     [[Condition("le", "property.weight", 100)], [Condition("ge", "property.weight", 200)]]),
    ({"not": {"all": [{"has": "pile"}, {"lacks": "nap"}]}},
     [[Condition("lacks", "trait.pile")], [Condition("has", "trait.nap")]]),
    ({"not": {"any": [{"has": "pile"}, {"has": "nap"}]}}, [[Condition("lacks", "trait.pile"), Condition("lacks", "trait.nap")]]),
    ({"fibre": "x"}, [[Condition("gt", "fibre.x", 0)]]),
    ({"group": {"y": {"at_least": 50}}}, [[Condition("ge", "group.y", 50)]]),
    ({"not": {"structure": "knit"}}, [[Condition("lacks", "structure.knit")]]),
    ({"figure": {"depth_mm": {"below": 60}}}, [[Condition("lt", "figure.depth_mm", 60)]]),
])  # fmt: skip
def test_the_normal_form_is_what_a_reader_expects(when, form):
    assert normalise(when) == form


@pytest.mark.parametrize("when", [
    {}, {"all": []}, {"any": "x"}, {"weight": 250}, {"weight": {}}, {"weight": {"over": 3}}, {"weight": {"above": "much"}},
    {"weight": {"above": True}}, {"a": {"above": 1}, "b": {"above": 1}}, ["has"], "has", None, {"fibre": {"a": {}, "b": {}}},
])  # fmt: skip
def test_what_is_not_of_the_language_is_refused(when):
    with pytest.raises(BadRule):
        normalise(when)


def test_a_rule_of_too_many_alternatives_is_refused():
    pair = {"any": [{"has": "a"}, {"has": "b"}]}
    with pytest.raises(BadRule, match=f"over {MAX_CONJUNCTIONS}"):
        normalise({"all": [pair] * 5})


@pytest.mark.parametrize(("low", "high", "answer"), [
    (251, 300, {"r": True}), (200, 300, {"r": False}), (200, 251, {"r": False}), (200, 250, {}),
    (250, 250, {}), (250.001, 260, {"r": True}),
])  # fmt: skip
def test_a_range_across_the_limit_only_may_apply(low, high, answer):
    rule = {"r": normalise({"weight": {"above": 250}})}
    assert fired(rule, Record({"property.weight": Range(low, high)})) == answer


def test_what_is_absent_is_lacking_and_nought():
    assert holds(normalise({"lacks": "pile"})[0], Record(), sure=True)
    assert not holds(normalise({"has": "pile"})[0], Record(), sure=False)
    assert not holds(normalise({"fibre": "x"})[0], Record(), sure=False)


def test_a_possible_mark_is_neither_surely_there_nor_surely_lacking():
    record = Record({}, {"trait.pile": (False, True)})
    assert fired({"has": normalise({"has": "pile"}), "lacks": normalise({"lacks": "pile"})}, record) == {
        "has": False,
        "lacks": False,
    }


def test_every_shipped_rule_has_a_normal_form(knowledge):
    for rule in knowledge.rules.values():
        if rule.when:
            assert rule.conjunctions == normalise(rule.when), rule.id
