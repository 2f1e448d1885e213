"""The same rules written out for CLIPS, straight from what the files say and not from the normal form."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import clips

from advisor.model import Rule
from advisor.rules import MARK_FIELDS, Record, scaled

COMPARES = {"below": "<", "above": ">", "at_least": ">=", "at_most": "<="}


class Clips:
    """All rules in one CLIPS environment: one wide fact in, the ids of the rules that hold out, sure or possible."""

    def __init__(self, rules: Iterable[Rule]) -> None:
        self.env = clips.Environment()
        self.slots: dict[tuple[str, str], str] = {}
        self.rules = list(rules)
        written = [self._rule(number, rule, sure) for number, rule in enumerate(self.rules) for sure in (False, True)]
        slots = " ".join(f"(slot {slot} (default 0))" for slot in self.slots.values())
        self.env.build("(deftemplate holds (slot rule) (slot sure))")
        self.env.build(f"(deftemplate cloth (slot there (default 1)) {slots})")
        for text in written:
            self.env.build(text)
        self.template = self.env.find_template("cloth")

    def _slot(self, name: str, side: str) -> str:
        return self.slots.setdefault((name, side), f"s{len(self.slots)}")

    def _rule(self, number: int, rule: Rule, sure: bool) -> str:
        used: set[str] = set()
        test = self._test(rule.when, sure, used) if rule.when else "TRUE"
        pattern = " ".join(f"({slot} ?{slot})" for slot in sorted(used))
        kind = "sure" if sure else "may"
        then = f"(assert (holds (rule {number}) (sure {kind})))"
        return f"(defrule {kind}{number} (cloth (there 1) {pattern}) (test {test}) => {then})"

    def _test(self, when: dict[str, Any], sure: bool, used: set[str]) -> str:
        ((key, body),) = when.items()
        if key in ("all", "any"):
            parts = " ".join(self._test(part, sure, used) for part in body)
            return f"(and TRUE {parts})" if key == "all" else f"(or FALSE {parts})"
        if key == "not":
            return f"(not {self._test(body, not sure, used)})"
        if key == "lacks":
            return f"(not {self._test({'has': body}, not sure, used)})"
        if key == "has" or key in MARK_FIELDS:
            slot = self._slot(f"{'trait' if key == 'has' else key}.{body}", "sure" if sure else "possible")
            used.add(slot)
            return f"(= ?{slot} 1)"
        if key in ("fibre", "group"):
            name, tests = (body, {"above": 0}) if isinstance(body, str) else next(iter(body.items()))
            name = f"{key}.{name}"
        elif key == "figure":
            name, tests = next(iter(body.items()))
            name = f"figure.{name}"
        else:
            name, tests = f"property.{key}", body
        said = []
        for word, limit in tests.items():
            # Sure is what holds at the less favourable end of the range, possible at the more favourable.
            slot = self._slot(name, "high" if (word in ("below", "at_most")) == sure else "low")
            used.add(slot)
            said.append(f"({COMPARES[word]} ?{slot} {scaled(float(limit))})")
        return f"(and TRUE {' '.join(said)})"

    def wide(self, record: Record) -> dict[str, int]:
        """The record as slots."""
        values = {}
        for (name, side), slot in self.slots.items():
            if side in ("sure", "possible"):
                values[slot] = int(record.marks.get(name, (False, False))[side == "possible"])
            else:
                values[slot] = scaled(record.numbers.get(name, (0.0, 0.0))[side == "high"])
        return values

    def fire_wide(self, values: dict[str, int]) -> dict[str, bool]:
        """Rule id → sure, on a record that stands ready as slots."""
        self.env.reset()
        self.template.assert_fact(**values)
        self.env.run()
        found: dict[str, bool] = {}
        for fact in self.env.facts():
            if fact.template.name == "holds":
                rule_id = self.rules[fact["rule"]].id
                found[rule_id] = found.get(rule_id, False) or fact["sure"] == "sure"
        return found

    def fire(self, record: Record) -> dict[str, bool]:
        """Rule id → sure (True) or may apply (False)."""
        return self.fire_wide(self.wide(record))
