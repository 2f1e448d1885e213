"""Every rule on the examples that stand beside it in the knowledge files."""

from __future__ import annotations

import pytest

from advisor.knowledge import load
from advisor.trying import fires

RULES = load().rules


@pytest.mark.parametrize("rule_id", RULES)
def test_the_rule_fires_on_its_examples_and_stays_quiet_on_the_others(knowledge, rule_id):
    rule = knowledge.rules[rule_id]
    silent = [e for e in rule.examples.fires if not fires(rule, e, knowledge)]
    loud = [e for e in rule.examples.quiet if fires(rule, e, knowledge)]
    assert not silent, f"does not fire on {silent}"
    assert not loud, f"fires on {loud}"
