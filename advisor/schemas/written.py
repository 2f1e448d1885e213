"""The JSON schemas of knowledge files as people write them, for editors that complete and check YAML.

The structs of `advisor.model` hold entries with every shorthand written out. Here the same structs are turned back
into the shape on the page: a figure may be a number, `[low, high]`, a band's word or `{is:, source:}`; the fields of
an effect and the properties stand bare in the entry; a demand is one property with its curve; a condition is free
nesting of the rule language. Ids of other entries are offered for completion and never enforced, since an own folder
may add more; `python -m advisor.compiling` checks those.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec

from advisor import model
from advisor.knowledge import KIND_TYPES, Knowledge
from advisor.rules import MARK_FIELDS, TESTS

Schema = dict[str, Any]

NUMBER: Schema = {"type": "number"}
RANGE: Schema = {"anyOf": [NUMBER, {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}]}
CURVE: Schema = {
    "type": "object", "additionalProperties": {"type": "number", "minimum": 0, "maximum": 1},
    "description": "figure: how well it serves there, 0 to 1; straight between, flat beyond the ends",
}  # fmt: skip
BARE = {"fibres": "gives", "cloths": "ranges", "structures": "sets", "finishes": "sets", "remedies": "sets",
        "words": "narrows"}  # fmt: skip
"""Kind → the field into which properties that stand bare in an entry are gathered."""
WITH_EFFECT = ("structures", "finishes", "remedies", "words")


def offered(names: list[str]) -> Schema:
    """A word, with `names` for an editor to offer."""
    return {"anyOf": [{"enum": sorted(names)}, {"type": "string"}]} if names else {"type": "string"}


def figure_of(entry: model.Property | None) -> Schema:
    """A figure of a property as written; a property's bands are words that may stand for it."""
    bands: list[Schema] = [{"enum": sorted(entry.bands)}] if entry and entry.bands else []
    value = {"anyOf": [*RANGE["anyOf"], *bands]}
    sourced = {
        "type": "object", "properties": {"is": value, "source": {"type": "string"}},
        "required": ["is", "source"], "additionalProperties": False,
    }  # fmt: skip
    about = f"{entry.name}{f', {entry.unit}' if entry.unit else ''}; {entry.about}" if entry else "a figure"
    return {"anyOf": [*value["anyOf"], sourced], "description": about.strip("; ")}


def used(parts: Schema, schema: object) -> Schema:
    """The definitions that `schema` refers to, and those that they refer to in turn."""
    found: Schema = {}
    waiting = [schema]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            name = str(here.get("$ref", "")).removeprefix("#/$defs/")
            if name in parts and name not in found:
                found[name] = parts[name]
                waiting.append(parts[name])
            waiting += here.values()
        elif isinstance(here, list):
            waiting += here
    return found


class Written:
    """The schemas of one knowledge base, kind by kind."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.figures: dict[str, Schema] = {name: {"$ref": f"#/$defs/{name}"} for name in knowledge.properties}

    def ids(self, kind: str) -> list[str]:
        return list(self.knowledge.table(kind))

    def condition(self) -> Schema:
        """One condition of the rule language, which nests."""
        tests: Schema = {
            "type": "object", "properties": dict.fromkeys(TESTS, NUMBER), "additionalProperties": False,
            "minProperties": 1,
        }  # fmt: skip
        here: Schema = {"$ref": "#/$defs/condition"}
        marks = {"has": "traits", "lacks": "traits", "structure": "structures", "finish": "finishes"}
        fields: dict[str, Schema] = {name: {"type": "string"} for name in MARK_FIELDS}
        fields |= {name: offered(self.ids(kind)) for name, kind in marks.items()}
        shares = {"anyOf": [{"type": "string"}, {"type": "object", "additionalProperties": tests}]}
        fields |= {"fibre": shares, "group": shares, "figure": {"type": "object", "additionalProperties": tests}}
        fields |= dict.fromkeys(self.figures, tests)
        fields |= {"all": {"type": "array", "items": here}, "any": {"type": "array", "items": here}, "not": here}
        return {"type": "object", "properties": fields, "additionalProperties": False, "minProperties": 1}

    def demands(self) -> Schema:
        body = {
            "type": "object", "required": ["importance", "why"], "additionalProperties": False,
            "properties": {
                "curve": CURVE, "over": {"type": "string"}, "curves": {"type": "object", "additionalProperties": CURVE},
                "importance": NUMBER, "why": {"type": "string"}, "source": {"type": "string"},
            },
        }  # fmt: skip
        return {
            "type": "array",
            "items": {"type": "object", "minProperties": 1, "maxProperties": 1, "additionalProperties": False,
                      "properties": dict.fromkeys(self.figures, body)},
        }  # fmt: skip

    def _effect(self) -> dict[str, Schema]:
        figures: Schema = {"type": "object", "properties": self.figures}
        words: Schema = {"type": "array", "items": offered(self.ids("traits"))}
        lists = ("traits", "may", "clears")
        return {name: words if name in lists else figures for name in model.Effect.__struct_fields__}

    def entry(self, kind: str) -> Schema:
        """The schema of one entry of a kind."""
        _, parts = msgspec.json.schema_components(
            [KIND_TYPES[kind]], ref_template="#/$defs/{name}", schema_hook=lambda free: {"description": "a condition"}
        )
        made: Schema = parts[KIND_TYPES[kind].__name__]
        fields: dict[str, Schema] = made["properties"]
        for gone in ("id", "origin", "conjunctions", "effect"):
            fields.pop(gone, None)
        free: Schema = {"type": "object", "properties": self.figures}
        for name in ("usual", "suggests", "per_share"):
            if name in fields:
                fields[name] = free
        if kind in BARE:
            fields.pop(BARE[kind], None)
            fields |= self.figures
        if kind in WITH_EFFECT:
            fields |= self._effect()
        if "traits" in fields and kind not in WITH_EFFECT:
            fields |= {
                name: {"type": "array", "items": offered(self.ids("traits"))}
                for name in ("traits", "may", "lacks")
                if name in fields
            }
        match kind:
            case "cloths":
                mix = {
                    "type": "object",
                    "properties": dict.fromkeys(self.ids("fibres"), RANGE),
                    "additionalProperties": RANGE,
                }
                fields["fibres"] = {"anyOf": [mix, {"type": "array", "items": mix}]}
                fields["structure"] = {
                    "anyOf": [
                        offered(self.ids("structures")),
                        {"type": "array", "items": offered(self.ids("structures"))},
                    ]
                }
                fields["finishes"] = {"type": "array", "items": offered(self.ids("finishes"))}
            case "fibres":
                fields["facts"] = {
                    "type": "object",
                    "additionalProperties": {"anyOf": [{"type": "string"}, *figure_of(None)["anyOf"]]},
                }
            case "features" | "context":
                fields["demands"] = self.demands()
            case "rules":
                fields["about"] = {"type": "array", "items": offered(self.ids("features"))}
                fields.pop("features", None)
                fields["when"] = {"$ref": "#/$defs/condition"}
            case "tests":
                fields["property"] = offered(list(self.figures))
        made["required"] = [name for name in made.get("required", []) if name in fields]
        made["properties"], made["additionalProperties"] = fields, False
        return made | {"$defs": used(self._parts(parts, made), made)}

    def _parts(self, parts: Schema, made: Schema) -> Schema:
        """The definitions that an entry may refer to, in their written shape."""
        found = {name: part for name, part in parts.items() if part is not made}
        found |= {name: figure_of(entry) for name, entry in self.knowledge.properties.items()}
        found["Range"] = RANGE
        found["Figure"] = figure_of(None)
        found["condition"] = self.condition()
        if "Cause" in found:
            found["Cause"]["properties"]["likelier"] = {"$ref": "#/$defs/condition"}
            found["Cause"]["properties"].pop("conjunctions", None)
        if "Band" in found:
            found["Band"]["properties"]["range"] = {"anyOf": [*RANGE["anyOf"], {"type": "string"}]}
        return found

    def file(self, kind: str) -> Schema:
        """The schema of a whole file of a kind: a map of ids to entries."""
        entry = self.entry(kind)
        parts = entry.pop("$defs")
        return {
            "$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"knowledge: {kind}",
            "type": "object", "additionalProperties": entry, "$defs": parts,
        }  # fmt: skip


def text_of(knowledge: Knowledge, kind: str) -> str:
    return json.dumps(Written(knowledge).file(kind), indent=1, sort_keys=True) + "\n"


def write(knowledge: Knowledge, folder: Path) -> None:
    """Writes one schema a kind into `folder`."""
    folder.mkdir(exist_ok=True)
    for kind in KIND_TYPES:
        (folder / f"{kind}.json").write_text(text_of(knowledge, kind), encoding="utf-8")
