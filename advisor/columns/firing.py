"""The plain evaluator of rules, on columns: which rules fire on which cloths, surely or possibly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import reduce
from operator import and_, or_

import numpy as np

from advisor.columns.batch import Batch, Bools
from advisor.model import Condition
from advisor.rules import Normal, Record, holds, scaled

OF_CLOTH = ("property", "fibre", "group", "trait", "structure", "finish")
"""The kinds of a field that differ from cloth to cloth; all others are the same for one question."""

_COMPARE = {"lt": np.less, "le": np.less_equal, "gt": np.greater, "ge": np.greater_equal}

Seen = dict[tuple[Condition, bool], Bools]


def of_cloth(condition: Condition) -> bool:
    """Whether a condition reads the cloth, and not the question."""
    return condition.field.partition(".")[0] in OF_CLOTH


class ColumnRules:
    """Rules of one question: `fixed` holds what the question says, so that only what the cloth says is left to compare."""

    def __init__(self, rules: Mapping[str, Normal], fixed: Record) -> None:
        self._left = {
            rule_id: (_left(normal, fixed, sure=False), _left(normal, fixed, sure=True)) for rule_id, normal in rules.items()
        }
        self._left = {rule_id: (loose, strict) for rule_id, (loose, strict) in self._left.items() if loose}

    def rules(self) -> set[str]:
        """The rules that this question leaves possible."""
        return set(self._left)

    def fields(self) -> set[str]:
        """The fields of a cloth that these rules read."""
        both = (normal for pair in self._left.values() for normal in pair)
        return {condition.field for normal in both for conjunction in normal for condition in conjunction}

    def fire(self, batch: Batch, seen: Seen) -> dict[str, tuple[Bools, Bools]]:
        """Rule → where it is sure, and where it may apply or is sure; rules that fire nowhere are left out.

        `seen` keeps the conditions that were compared already on this batch.
        """
        found = {}
        for rule_id, (loose, strict) in self._left.items():
            possible = _any(loose, batch, False, seen)
            if possible.any():
                found[rule_id] = (_any(strict, batch, True, seen) & possible, possible)
        return found


def _left(normal: Normal, fixed: Record, *, sure: bool) -> Normal:
    """What is left of a rule once the question is known: conjunctions of conditions on the cloth."""
    left = []
    for conjunction in normal:
        if holds((c for c in conjunction if not of_cloth(c)), fixed, sure):
            left.append([c for c in conjunction if of_cloth(c)])
    return left


def _any(normal: Normal, batch: Batch, sure: bool, seen: Seen) -> Bools:
    parts = (_all(conjunction, batch, sure, seen) for conjunction in normal)
    return reduce(or_, parts, np.zeros(batch.count, dtype=bool))


def _all(conjunction: Iterable[Condition], batch: Batch, sure: bool, seen: Seen) -> Bools:
    parts = (_met(condition, batch, sure, seen) for condition in conjunction)
    return reduce(and_, parts, np.ones(batch.count, dtype=bool))


def _met(condition: Condition, batch: Batch, sure: bool, seen: Seen) -> Bools:
    """Where one condition holds."""
    found = seen.get((condition, sure))
    if found is None:
        if condition.op in ("has", "lacks"):
            is_sure, is_possible = batch.mark(condition.field)
            has = condition.op == "has"
            found = (is_sure if sure else is_possible) if has else ~(is_possible if sure else is_sure)
        else:
            compare = _COMPARE[condition.op]
            found = compare(batch.compared(condition.field, condition.op, sure), scaled(condition.value))
        seen[condition, sure] = found
    return found
