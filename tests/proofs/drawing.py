"""Drawing records that sit on the thresholds of rules, as lists of small edits, so that a difference shrinks well."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hypothesis import strategies as st

from advisor.ranges import Range
from advisor.rules import Normal, Record

NEAR = (0.0, 0.001, -0.001)
"""On a threshold, and one thousandth to either side of it."""
STATES = ((True, True), (False, True), (False, False))
Edit = tuple[Any, ...]


def thresholds(rules: Mapping[str, Normal]) -> dict[str, list[float]]:
    """Numeric field → every figure that some condition compares it with."""
    found: dict[str, set[float]] = {}
    for normal in rules.values():
        for conjunction in normal:
            for condition in conjunction:
                if condition.op not in ("has", "lacks"):
                    found.setdefault(condition.field, set()).add(condition.value)
    return {name: sorted(values) for name, values in sorted(found.items())}


def marks(rules: Mapping[str, Normal]) -> list[str]:
    """Every mark that some condition reads."""
    return sorted(
        {
            c.field
            for normal in rules.values()
            for conjunction in normal
            for c in conjunction
            if c.op in ("has", "lacks")
        }
    )


def edits(rules: Mapping[str, Normal], most: int = 12) -> st.SearchStrategy[list[Edit]]:
    """Lists of edits: meet one conjunction just so, set one number near a threshold, set one mark."""
    conjunctions = [(rule_id, place) for rule_id, normal in rules.items() for place, c in enumerate(normal) if c]
    limits = [(name, value) for name, values in thresholds(rules).items() for value in values]
    near = st.sampled_from(NEAR)
    kinds: list[st.SearchStrategy[Edit]] = []
    if conjunctions:
        # The last figure says how: surely met, only possibly met, and with which of its conditions just missed.
        kinds.append(st.tuples(st.just("meet"), st.sampled_from(conjunctions), st.booleans(), near, st.integers(-3, 5)))
    if limits:
        kinds.append(
            st.tuples(st.just("number"), st.sampled_from(limits), near, st.sampled_from(limits), st.booleans())
        )
    if names := marks(rules):
        kinds.append(st.tuples(st.just("mark"), st.sampled_from(names), st.sampled_from(STATES)))
    return st.lists(st.one_of(kinds), min_size=1, max_size=most)


def record_from(made: Iterable[Edit], rules: Mapping[str, Normal]) -> Record:
    """The record that the edits make, one after the other."""
    record = Record()
    for edit in made:
        if edit[0] == "mark":
            record.marks[edit[1]] = edit[2]
        elif edit[0] == "number":
            _, (name, value), beside, (other_name, other), exact = edit
            value = max(0.0, value + beside)
            other = value if exact or other_name != name else other
            record.numbers[name] = Range(min(value, other), max(value, other))
        else:
            _, (rule_id, place), sure, beside, missed = edit
            for at, condition in enumerate(rules[rule_id][place]):
                met = at != missed
                if condition.op in ("has", "lacks"):
                    wanted = (condition.op == "has") == met
                    record.marks[condition.field] = (wanted, wanted) if sure else (False, True)
                    continue
                upward = (condition.op in ("gt", "ge")) == met
                value = max(0.0, condition.value + (beside if met else (0.001 if upward else -0.001)))
                record.numbers[condition.field] = (
                    Range(value, value)
                    if sure
                    else Range(max(0.0, value - 7.5), value)
                    if upward
                    else Range(value, value + 7.5)
                )
    return record
