"""durable-rules behind one door: the compiled rules of one stratum, fired on records.

Used as follows and no other way, because the package's own host loses findings from its timer threads and
some values crash it (see DEVELOPERS.md):

- the C extension is called directly, one fact at a time; the one session is deleted after every judgement;
- facts are flat and closed-world: short made-up field names, integers only, every field always present;
- at most `GROUP` conjunctions stand in one group, so matches waiting at once can never exceed the limit of 64;
- the engine reads the record loosely (what may apply); the few rules that fire are then read strictly for what is sure,
  by the plain evaluator's own `holds`, which halves the time and cannot miss any: what is sure may apply too;
- every group has one rule that always fires, since deleting a session whose facts matched nothing can corrupt memory
  ("free(): invalid pointer", seen with facts of some forty fields);
- any result code but 0, and any exception, is a fault: the session is deleted and the plain evaluator
  answers instead, which `advisor doctor` tells.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping, Sequence
from typing import Any

from advisor.model import Condition
from advisor.rules import Normal, Record, fired, holds, scaled

try:
    import durable_rules_engine as _extension
except Exception as error:  # an extension can fail to load in many ways; all mean that it is not there
    _extension = None
    WHY_NOT = f"durable-rules cannot be loaded ({error.__class__.__name__}: {error})"
else:
    WHY_NOT = ""

GROUP = 60
SESSION = "c"
_OPS = {"lt": "$lt", "le": "$lte", "gt": "$gt", "ge": "$gte"}

faults: list[str] = []
"""What went wrong in the engine since the program started; empty is as it should be."""


def available() -> bool:
    """Whether durable-rules is there and answers."""
    return _extension is not None


def _fnv(word: str) -> int:
    """32-bit FNV-1a, by which the engine tells names apart."""
    value = 0x811C9DC5
    for byte in word.encode():
        value = ((value ^ byte) * 0x01000193) & 0xFFFFFFFF
    return value


class _Group:
    """Conjunctions that are fired by one fact, and the fields which that fact carries."""

    def __init__(self, number: int, members: Sequence[tuple[str, list[Condition]]]) -> None:
        self.number = number
        self.rules = [rule_id for rule_id, _ in members]
        self.fields: dict[tuple[str, str], str] = {}
        # The first rule of every group always fires: a fact that matches nothing at all can crash the extension.
        self.definitions: dict[str, Any] = {f"r{number}_": {"all": [{"m": {"g": number}}]}}
        for place, (_, conditions) in enumerate(members):
            tests: list[dict[str, Any]] = [{"g": number}]
            # Marks first: they fail most often and are the cheapest to compare.
            for condition in sorted(conditions, key=lambda c: c.op not in ("has", "lacks")):
                name = self._field(condition)
                if condition.op in ("has", "lacks"):
                    tests.append({name: 1 if condition.op == "has" else 0})
                else:
                    tests.append({_OPS[condition.op]: {name: scaled(condition.value)}})
            self.definitions[f"r{number}_{place}"] = {"all": [{"m": {"$and": tests} if len(tests) > 1 else tests[0]}]}
        hashes = {_fnv(name) for name in (*self.fields.values(), "id", "sid", "g", "$s")}
        if len(hashes) != len(self.fields) + 4:
            raise RuntimeError("two field names of a rule group have one hash")

    def _field(self, condition: Condition) -> str:
        """The short field name under which the group reads this side of a range or state of a mark."""
        side = condition.op
        if side not in ("has", "lacks"):
            side = "low" if side in ("lt", "le") else "high"
        return self.fields.setdefault((condition.field, side), f"f{len(self.fields)}")

    def fact(self, record: Record) -> str:
        """The record as this group's fact, read loosely: JSON of short names and integers only."""
        values = [f'{{"id":{self.number + 1},"sid":"{SESSION}","g":{self.number}']
        marks, numbers = record.marks, record.numbers
        for (name, side), short in self.fields.items():
            if side in ("has", "lacks"):
                is_sure, is_possible = marks.get(name, (False, False))
                value = int(is_possible if side == "has" else is_sure)
            else:
                low, high = numbers.get(name, (0.0, 0.0))
                value = scaled(low if side == "low" else high)
            values.append(f'"{short}":{value}')
        return ",".join(values) + "}"


class Stratum:
    """The rules of one stratum, ready to be fired any number of times.

    `rules` maps a rule's id to its normal form. `use_engine=False` forces the plain evaluator.
    """

    _count = 0
    _lock = threading.Lock()

    def __init__(self, rules: Mapping[str, Normal], *, use_engine: bool = True) -> None:
        self.rules = dict(rules)
        self._handle: int | None = None
        members = [(rule_id, conditions) for rule_id, normal in self.rules.items() for conditions in normal]
        self._groups = [
            _Group(number, members[start : start + GROUP]) for number, start in enumerate(range(0, len(members), GROUP))
        ]
        if use_engine and _extension is not None and members:
            definitions = {name: body for group in self._groups for name, body in group.definitions.items()}
            with Stratum._lock:
                Stratum._count += 1
                name = f"stratum{Stratum._count}"
            try:
                self._handle = _extension.create_ruleset(name, json.dumps(definitions))
            except Exception as error:
                faults.append(f"rules could not be built: {error}")

    @property
    def engine_in_use(self) -> bool:
        return self._handle is not None

    def fire(self, record: Record) -> dict[str, bool]:
        """Which rules fire: rule id → sure (True) or may apply (False)."""
        if self._handle is None:
            return fired(self.rules, record)
        with Stratum._lock:
            try:
                loose = self._fire_once(record)
            except Exception as error:
                faults.append(f"engine fault, answered by the plain evaluator: {error}")
                return fired(self.rules, record)
        # What is sure may apply too, so only the few rules that fired are read strictly.
        return {
            rule_id: any(holds(conjunction, record, sure=True) for conjunction in normal)
            for rule_id, normal in self.rules.items()
            if rule_id in loose
        }

    def _fire_once(self, record: Record) -> set[str]:
        assert _extension is not None
        found: set[str] = set()
        asserted = False
        try:
            for group in self._groups:
                code, offset = _extension.assert_fact(self._handle, group.fact(record))
                asserted = True
                if code != 0:
                    raise RuntimeError(f"result code {code}")
                # One group after the other: a long queue of waiting matches takes more than its share of time.
                waiting = _extension.start_action_for_state(self._handle, offset)
                message = waiting[1] if waiting else None
                while message:
                    for name in json.loads(message):
                        number, _, place = name[1:].partition("_")
                        if place:
                            found.add(self._groups[int(number)].rules[int(place)])
                    message = _extension.complete_and_start_action(self._handle, offset)
        finally:
            if asserted:
                _extension.delete_state(self._handle, SESSION)
        return found
