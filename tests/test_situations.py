"""Situations from `tests/situations`: what a maker brings, and what must stand on the sheet."""

from __future__ import annotations

import json
from pathlib import Path

import msgspec
import pytest

from advisor import advise
from advisor.makes import read_make
from advisor.reading import parse_yaml

ROOT = Path(__file__).resolve().parent.parent
SITUATIONS = {
    name: body
    for path in sorted((ROOT / "tests" / "situations").glob("*.yaml"))
    for name, body in parse_yaml(path.read_text(encoding="utf-8")).items()
}


def answer_of(case, knowledge):
    make = read_make(ROOT / "knowledge" / "makes" / case["make"]) if "make" in case else None
    if case["ask"] == "inspect":
        return advise.inspect(case["cloth"], metres=case.get("metres", 3), knowledge=knowledge)
    given = {"make": make, "knowledge": knowledge}
    if case["ask"] == "prewash":
        return advise.prewash(case["cloth"], care=case.get("care", ""), layers=case.get("with", {}), **given)
    call = advise.sew if case["ask"] == "sew" else advise.press
    return call(case["cloth"], case.get("for", []), **given)


def at(document, path):
    for step in path.split("."):
        document = document[int(step)] if isinstance(document, list) else document[step]
    return document


TESTS = {
    "is": lambda found, wanted: found == wanted,
    "has": lambda found, wanted: wanted.lower() in json.dumps(found, ensure_ascii=False).lower(),
    "at_least": lambda found, wanted: found >= wanted,
    "at_most": lambda found, wanted: found <= wanted,
    "above": lambda found, wanted: found > wanted,
    "below": lambda found, wanted: found < wanted,
}


@pytest.mark.parametrize("name", SITUATIONS)
def test_a_situation_is_answered_as_a_maker_would(knowledge, name):
    case = SITUATIONS[name]
    document = msgspec.to_builtins(answer_of(case, knowledge))
    for path, tests in case["must"].items():
        found = at(document, path)
        for word, wanted in tests.items():
            assert TESTS[word](found, wanted), f"{path} is {json.dumps(found)[:400]}, wanted {word} {wanted}"
