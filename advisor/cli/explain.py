"""`advisor explain`: what an entry of the knowledge base is, with its figures and their sources."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
import typer

from advisor.advise import source_text
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, knowledge_from, unit_text
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES, Knowledge
from advisor.model import Entry
from advisor.words_form import phrase


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
    try:
        found = find(entry_id, known)
    except Unclear as unclear:
        from advisor.cli import COMMANDS

        if entry_id.strip() in COMMANDS:
            raise Unclear(unclear.given, unclear.expected, f"advisor {entry_id.strip()} --help") from None
        raise
    if json:
        from advisor.cli.words import emit

        emit(Explanation(found[0][1].id, [{"kind": kind, **body(entry)} for kind, entry in found]))
        return
    shown = [one for one in found if one[1].id == found[0][1].id]
    paper = Paper(units)
    for kind, entry in shown:
        if paper.lines:
            paper.line()
        paper.line(f"{entry.id}  ({kind})", "bold")
        said = body(entry)
        for field in sorted(said, key=lambda f: (f == "origin", f != "about")):  # what it is first, where it stands last
            if field not in ("id", "conjunctions"):
                _lines(paper, "written in" if field == "origin" else field, said[field], known)
    others = [f"{entry.id} ({kind})" for kind, entry in found if entry.id != found[0][1].id]
    if others:
        paper.line()
        paper.item(f"Named so too: {', '.join(others)}; 'advisor explain' with one of these ids shows it.", bullet="", indent=0)
    paper.show()


def find(word: str, knowledge: Knowledge) -> list[tuple[str, Entry]]:
    """All entries with this id, else with this name, properties first; raises `Unclear` with the nearest."""
    if not word.strip():
        raise Unclear("nothing to explain", "an id or a name", "advisor explain 'drape coefficient'")
    kinds = list(KIND_TYPES)
    found = [(kind, knowledge.table(kind)[word]) for kind in kinds if word in knowledge.table(kind)]
    if found:
        return found
    key, named = phrase(word), dict[str, None]()
    for kind in sorted(kinds, key=lambda k: k != "properties"):
        for entry in knowledge.table(kind).values():
            names = _names(entry)
            named |= dict.fromkeys(names)
            if key in map(phrase, names):
                found.append((kind, entry))
    if not found:
        from rapidfuzz import process

        near = process.extractOne(word, list(named), score_cutoff=70)
        raise Unclear(f"'{word[:60]}'", "the id or name of an entry that 'advisor list' shows", near[0] if near else "")
    return found


def _names(entry: Entry) -> list[str]:
    """Everything that an entry may be called: its id, its names, the number or the name that is printed of it."""
    own = (getattr(entry, field, "") for field in ("name", "number"))
    return [entry.id, *entry.names, *(text for text in own if isinstance(text, str) and text)]


def body(entry: Entry) -> dict[str, Any]:
    """The entry's fields that say something."""
    return {k: v for k, v in msgspec.to_builtins(entry).items() if v not in ("", [], {}, None)}


def _figure(value: object) -> str:
    """A value as it is said: figures without needless noughts, a pair as a span."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:g}"
    if isinstance(value, (list, tuple)) and len(value) == 2 and all(isinstance(v, (int, float)) for v in value):
        low, high = value
        return f"{low:g}" if low == high else f"{low:g} to {high:g}"
    if isinstance(value, (list, tuple)):
        between = "; " if any("," in str(v) for v in value) else ", "
        return between.join(_figure(v) for v in value)
    return str(value)


def _curve(points: Any) -> str:
    """A curve in words: how well each figure serves."""
    return ", ".join(f"{met:.0%} at {figure:g}" for figure, met in points)


def _lines(paper: Paper, field: str, value: Any, knowledge: Knowledge, indent: int = 2) -> None:
    name, value = field.replace("_", " "), "0 to 5" if (field, value) == ("unit", "grade") else value
    if isinstance(value, dict) and set(value) == {"low", "high", "source"}:
        prop = knowledge.properties.get(field)
        unit = unit_text(prop.unit) if prop else ""
        paper.item(
            f"{prop.name if prop else name}: {_figure((value['low'], value['high']))}{unit}  [{source_text(value['source'], knowledge)}]",
            bullet="",
            indent=indent,
        )
    elif isinstance(value, dict):
        if value:
            paper.item(f"{name}:", bullet="", indent=indent)
        for key, inner in value.items():
            if inner not in ("", [], {}, None):
                _lines(paper, str(key), inner, knowledge, indent + 2)
    elif field == "curve":
        paper.item(f"met: {_curve(value)}", bullet="", indent=indent)
    elif field == "curves":
        for at, points in value:
            paper.item(f"met, where that is {at:g}: {_curve(points)}", bullet="", indent=indent)
    elif field == "over":
        prop = knowledge.properties.get(value)
        paper.item(f"goes by: {prop.name if prop else value.replace('_', ' ')}", bullet="", indent=indent)
    elif field == "fibres" and isinstance(value, list) and all(isinstance(v, dict) for v in value):
        mixes = (" and ".join(f"{fibre} {_figure(share)} %" for fibre, share in mix.items()) for mix in value)
        paper.item(f"fibres: {'; or '.join(mixes)}", bullet="", indent=indent)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for inner in value:
            prop = knowledge.properties.get(str(inner.get("property", "")))
            title = prop.name if prop else inner.get("property") or inner.get("cause") or inner.get("says") or name
            paper.item(f"{title}", bullet="- ", indent=indent)
            for key, deeper in inner.items():
                if key not in ("property", "cause", "says", "conjunctions") and deeper not in ("", [], {}, None):
                    _lines(paper, key, deeper, knowledge, indent + 4)
    elif isinstance(value, list) and any(str(v).endswith(".") for v in value):
        paper.item(f"{name}:", bullet="", indent=indent)
        for number, step in enumerate(value, 1):
            paper.item(str(step), bullet=f"{number}. ", indent=indent + 2)
    else:
        text = source_text(value, knowledge) if field == "source" else _figure(value)
        paper.item(f"{name}: {text}", bullet="", indent=indent)
