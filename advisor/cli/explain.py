"""`advisor explain`: what an entry of the knowledge base is, with its figures and their sources."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
import typer

from advisor.advise import source_text
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, knowledge_from
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES, Knowledge
from advisor.model import Entry


class Explanation(msgspec.Struct):
    """Every entry of that id, by kind."""

    id: str
    entries: list[dict[str, Any]]


def command(
    entry_id: Annotated[
        str,
        typer.Argument(
            metavar="ID",
            help="An id or a name: a rule, cloth, fibre, feature, property …",
            show_default=False,
        ),
    ],
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What an entry is, its figures and where they come from."""
    known = knowledge_from(knowledge)
    found = find(entry_id, known)
    if json:
        from advisor.cli.words import emit

        emit(Explanation(found[0][1].id, [{"kind": kind, **body(entry)} for kind, entry in found]))
        return
    paper = Paper(units)
    for kind, entry in found:
        if paper.lines:
            paper.line()
        paper.line(f"{entry.id}  ({kind})", "bold")
        for field, value in body(entry).items():
            if field not in ("id", "conjunctions"):
                _lines(paper, field, value, known)
    paper.show()


def find(word: str, knowledge: Knowledge) -> list[tuple[str, Entry]]:
    """All entries with this id, else with this name; raises `Unclear` with the nearest."""
    kinds = list(KIND_TYPES)
    found = [(kind, knowledge.table(kind)[word]) for kind in kinds if word in knowledge.table(kind)]
    if not found:
        from advisor.words_form import phrase

        key = phrase(word)
        pairs = [
            *knowledge.words.get(key, ()),
            *(("features", f) for f in knowledge.feature_words.get(key, ())),
        ]
        found = [(kind, knowledge.table(kind)[entry]) for kind, entry in pairs if kind in KIND_TYPES]
    if not found:
        from rapidfuzz import process

        ids = [i for kind in kinds for i in knowledge.table(kind)]
        near = process.extractOne(word, ids)
        raise Unclear(f"'{word[:60]}'", "the id or name of an entry that 'advisor list' shows", near[0] if near else "")
    return found


def body(entry: Entry) -> dict[str, Any]:
    """The entry's fields that say something."""
    return {k: v for k, v in msgspec.to_builtins(entry).items() if v not in ("", [], {}, None)}


def _lines(paper: Paper, field: str, value: Any, knowledge: Knowledge, indent: int = 2) -> None:
    name = field.replace("_", " ")
    if isinstance(value, dict) and set(value) == {"low", "high", "source"}:
        span = f"{value['low']:g}" if value["low"] == value["high"] else f"{value['low']:g} to {value['high']:g}"
        prop = knowledge.properties.get(field)
        unit = f" {prop.unit}" if prop and prop.unit != "grade" else ""
        paper.item(
            f"{prop.name if prop else name}: {span}{unit}  [{source_text(value['source'], knowledge)}]",
            bullet="",
            indent=indent,
        )
    elif isinstance(value, dict):
        if value:
            paper.item(f"{name}:", bullet="", indent=indent)
        for key, inner in value.items():
            if inner not in ("", [], {}, None):
                _lines(paper, str(key), inner, knowledge, indent + 2)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for inner in value:
            title = inner.get("property") or inner.get("cause") or inner.get("says") or name
            paper.item(f"{title}", bullet="- ", indent=indent)
            for key, deeper in inner.items():
                if key not in ("property", "cause") and deeper not in ("", [], {}, None):
                    _lines(paper, key, deeper, knowledge, indent + 4)
    elif isinstance(value, list) and value and isinstance(value[0], list):
        paper.item(
            f"{name}: " + ", ".join(f"{x}: {y:g}" if isinstance(y, float) else str(x) for x, y, *_ in value),
            bullet="",
            indent=indent,
        )
    elif isinstance(value, list):
        paper.item(f"{name}: {', '.join(map(str, value))}", bullet="", indent=indent)
    else:
        text = source_text(value, knowledge) if field == "source" else str(value)
        paper.item(f"{name}: {text}", bullet="", indent=indent)
