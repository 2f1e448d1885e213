"""Each rule changed a little in turn: is the change noticed by the examples that stand beside the rule?

Three kinds of change to each condition: the figure moved by a tenth of its domain (up, and down), the comparison
turned round, the mark wanted or not wanted. A mutant is caught when some example no longer does what it should.
With `--full` every mutant is tried and the survivors are written to `mutants.txt` beside this file.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

from advisor.knowledge import Knowledge
from advisor.model import Condition, Rule
from advisor.rules import OPPOSITE, Normal, Record, fired
from advisor.ruleset import Possible
from advisor.trying import record_for

SAMPLE = 120
"""Rules tried by default."""
SHARE = {"figure": 0.95, "comparison": 0.95, "mark": 0.95}
"""The share of mutants of each kind that the rules' own examples must catch; `mutants.txt` names the survivors."""
SURVIVORS = Path(__file__).with_name("mutants.txt")


def mutants(rule: Rule, possible: Possible) -> Iterator[tuple[str, str, Normal]]:
    """(kind, what was changed, the changed rule) for every condition of the rule, once where it stands several times."""
    for condition in dict.fromkeys(c for conjunction in rule.conjunctions for c in conjunction):
        changed: list[tuple[str, Condition]] = []
        turned = Condition(OPPOSITE[condition.op], condition.field, condition.value)
        if condition.op in ("has", "lacks"):
            changed.append(("mark", turned))
        else:
            changed.append(("comparison", turned))
            low, high = (end / 1000 for end in possible.span(condition.field, rule))
            for step in ((high - low) / 10, (low - high) / 10):
                value = min(high, max(low, condition.value + step))
                if condition.value != 0 and value != condition.value:  # "any at all" has no figure to move
                    changed.append(("figure", Condition(condition.op, condition.field, value)))
        for kind, other in changed:
            normal = [[other if c == condition else c for c in conjunction] for conjunction in rule.conjunctions]
            was = f"{condition.op} {condition.field} {condition.value:g}"
            yield kind, f"{was} -> {other.op} {other.value:g}", normal


def caught(normal: Normal, fires: list[list[Record]], quiet: list[list[Record]]) -> bool:
    """Whether an example tells the changed rule from the sound one."""
    rules = {"mutant": normal}
    return any(not any(fired(rules, r) for r in records) for records in fires) or any(
        any(fired(rules, r) for r in records) for records in quiet
    )


def tried(rules: list[Rule], knowledge: Knowledge) -> tuple[dict[str, list[bool]], list[str]]:
    """Kind → caught or not for every mutant, and a line for each survivor."""
    possible = Possible(knowledge)
    found: dict[str, list[bool]] = {kind: [] for kind in SHARE}
    survivors: list[str] = []
    for rule in rules:
        fires = [record_for(rule, example, knowledge) for example in rule.examples.fires]
        quiet = [record_for(rule, example, knowledge) for example in rule.examples.quiet]
        for kind, what, normal in mutants(rule, possible):
            was_caught = caught(normal, fires, quiet)
            found[kind].append(was_caught)
            if not was_caught:
                survivors.append(f"{rule.id}: {kind}: {what}")
    return found, survivors


def test_the_examples_notice_when_a_rule_is_changed(knowledge, full):
    rules = list(knowledge.rules.values())
    if not full:
        rules = random.Random(7).sample(rules, SAMPLE)
    found, survivors = tried(rules, knowledge)
    shares = {kind: sum(hits) / len(hits) for kind, hits in found.items()}
    if full:
        total = [hit for hits in found.values() for hit in hits]
        heads = [f"# {sum(total)} of {len(total)} mutants caught by the rules' own examples ({sum(total) / len(total):.1%})."]
        heads += [f"# {kind}: {sum(hits)} of {len(hits)} ({shares[kind]:.1%})" for kind, hits in found.items()]
        SURVIVORS.write_text("\n".join([*heads, *sorted(survivors)]) + "\n", encoding="utf-8")
    for kind, share in shares.items():
        assert share >= SHARE[kind], f"{kind}: only {share:.1%} caught"
