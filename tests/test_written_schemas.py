"""The schemas of knowledge files, which editors check YAML with, take what is shipped and refuse what is wrong."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest

from advisor.knowledge import KIND_TYPES, Knowledge, load, shipped_folder
from advisor.reading import knowledge_files, parse_yaml
from advisor.schemas import written

FILES = list(knowledge_files(shipped_folder()))


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load([])


def schema(kind: str) -> Any:
    return json.loads((shipped_folder() / "schemas" / f"{kind}.json").read_text(encoding="utf-8"))


def without_offers(schema: Any) -> Any:
    """The schema without the words that it offers: they grow with every new entry, and an old list still checks."""
    if isinstance(schema, dict):
        return {key: without_offers(value) for key, value in schema.items() if key != "enum"}
    return [without_offers(value) for value in schema] if isinstance(schema, list) else schema


@pytest.mark.parametrize("kind", KIND_TYPES)
def test_a_shipped_schema_is_not_the_one_of_the_structs(kind: str, knowledge: Knowledge) -> None:
    made = json.loads(written.text_of(knowledge, kind))
    assert without_offers(schema(kind)) == without_offers(made), "write it anew with python -m advisor.schemas"


@pytest.mark.parametrize("kind", KIND_TYPES)
def test_an_editor_would_mark_a_shipped_file_wrong(kind: str) -> None:
    check = jsonschema.Draft202012Validator(schema(kind))
    for path in (path for of, path in FILES if of == kind):
        faults = [
            f"{path.name} {list(e.path)}: {e.message[:120]}"
            for e in check.iter_errors(parse_yaml(path.read_text(encoding="utf-8")))
        ]
        assert not faults, faults


@pytest.mark.parametrize(
    ("kind", "wrong"),
    [
        ("cloths", "lawn: {wieght: [60, 90], source: from memory}"),
        ("cloths", "lawn: {weight: [60, 90, 120], source: from memory}"),
        ("cloths", "lawn: {weight: feathery, source: from memory}"),
        ("cloths", "lawn: {weight: {is: 60}, source: from memory}"),
        ("features", "hem: {group: edge finish, demands: [{weight: {curve: {10: 1.5}, importance: 1, why: w}}]}"),
        ("features", "hem: {demands: []}"),
        ("rules", "r: {when: {weight: {over: 3}}, then: {say: s}, why: w, examples: {fires: [], quiet: []}}"),
    ],
)
def test_an_editor_would_let_a_slip_pass(kind: str, wrong: str) -> None:
    assert list(jsonschema.Draft202012Validator(schema(kind)).iter_errors(parse_yaml(wrong)))
