"""The rule set as a whole: clean as shipped, and every kind of flaw is found where it is put in: advisor.ruleset."""

from __future__ import annotations

import pytest

from advisor.knowledge import load
from advisor.ruleset import flaws, unexcused

HEAD = 'source: common practice, why: "w", examples: {fires: [silk], quiet: [wool]}'
BAD = {
    "never-fires": "own-a: {when: {all: [{weight: {above: 200}}, {weight: {below: 200}}]}, then: {kind: caution, say: s}, HEAD}",
    "always-fires": "own-a: {when: {any: [{weight: {above: 200}}, {weight: {at_most: 200}}]}, then: {kind: caution, say: s}, HEAD}",
    "gainsaid": """
own-a: {when: {weight: {above: 200}}, then: {kind: press, say: s, sheet: {how: ["lay the damp wool on the board"]}}, HEAD}
own-b: {when: {weight: {above: 300}}, then: {kind: press, say: t, sheet: {never: ["lay damp wool"]}}, HEAD}""",
    "said-twice": """
own-a: {when: {weight: {above: 200}}, then: {kind: press, say: s}, HEAD}
own-b: {when: {drape: {above: 30}}, then: {kind: press, say: s}, HEAD}""",
    "shadowed": """
own-a: {when: {weight: {above: 200}}, then: {kind: press, say: s}, HEAD}
own-b: {when: {all: [{weight: {above: 250}}, {has: pile}]}, then: {kind: press, say: s}, HEAD}""",
    "leans-on-derived": """
own-a: {when: {weight: {above: 200}}, then: {derive: nap}, HEAD}
own-b: {when: {has: nap}, then: {derive: pile}, HEAD}""",
    "not-straddled": "own-a: {when: {fibre: {angora: {at_least: 99}}}, then: {kind: caution, say: s}, HEAD}",
}


def test_the_shipped_rules_have_no_flaw_that_is_not_excused(knowledge):
    assert not [str(flaw) for flaw in unexcused(knowledge)]


@pytest.fixture(scope="module")
def records(knowledge):
    from advisor.ruleset import base_records

    return base_records(knowledge)


@pytest.mark.parametrize("kind", BAD)
def test_a_flaw_is_found(kind, records, tmp_path):
    (tmp_path / "rules.yaml").write_text(BAD[kind].replace("HEAD", HEAD))
    found = {flaw.kind for flaw in flaws(load((tmp_path,), cache=False), records=records) if flaw.rule.startswith("own-")}
    assert kind in found


def test_the_flaws_put_in_are_not_found_in_sound_neighbours(records, tmp_path):
    (tmp_path / "rules.yaml").write_text(
        f"own-a: {{when: {{weight: {{above: 200}}}}, then: {{kind: press, say: s}}, {HEAD}}}\n"
        f"own-b: {{when: {{weight: {{at_most: 200}}}}, then: {{kind: press, say: s}}, {HEAD}}}\n"
    )
    found = flaws(load((tmp_path,), cache=False), records=records)
    assert not [flaw for flaw in found if flaw.rule.startswith("own-")]
