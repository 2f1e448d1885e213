"""What the knowledge rests on: entries and figures, kind by kind, by where they come from.

Each figure (a range of a property, a demand's curve, a fact, a row of a table) is counted once, under the source that
it names itself or, where it names none, that of its entry.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

import msgspec

from advisor.knowledge import KIND_TYPES, Knowledge, shipped_folder
from advisor.model import Condition, Demand, Figure

EVIDENCE = ("published", "common practice", "from memory")
"""A named publication, a rule of thumb of the trade, or a value that nobody could look up."""


def evidence_of(source: str) -> str:
    """Which of the three kinds of evidence a source is."""
    return source if source in EVIDENCE else "published"


@dataclass(frozen=True)
class Counted:
    """One kind of entry: how many entries and how many figures rest on each kind of evidence."""

    kind: str
    entries: Counter[str] = field(default_factory=Counter)
    figures: Counter[str] = field(default_factory=Counter)


def sources_within(value: object) -> Iterator[str]:
    """The source of every figure held by an entry."""
    match value:
        case Figure() | Demand():
            yield value.source
        case Condition():
            return
        case msgspec.Struct():
            for name in value.__struct_fields__:
                yield from sources_within(getattr(value, name))
        case dict():
            for held in value.values():
                yield from sources_within(held)
        case list() | tuple():
            for held in value:
                yield from sources_within(held)


def rows_within(value: object) -> Iterator[str]:
    """The source of every row of a table read as plain maps and lists."""
    if isinstance(value, dict):
        if isinstance(value.get("source"), str):
            yield value["source"]
        for held in value.values():
            yield from rows_within(held)
    elif isinstance(value, list):
        for held in value:
            yield from rows_within(held)


def counts(knowledge: Knowledge) -> list[Counted]:
    """Every kind of entry, and the tables, with their evidence."""
    found = []
    for kind in KIND_TYPES:
        counted = Counted(kind)
        for entry in knowledge.table(kind).values():
            counted.entries[evidence_of(entry.source)] += 1 if kind != "sources" else 0
            counted.figures.update(map(evidence_of, sources_within(entry)))
        if kind != "sources":
            found.append(counted)
    return [*found, tables()]


def tables() -> Counted:
    """The shipped tables of figures that are no entries: width chart, bias, buttons, seams and the like."""
    from advisor.reading import parse_yaml

    counted = Counted("tables")
    for path in sorted((shipped_folder() / "lists").glob("*.yaml")):
        rows = [evidence_of(source) for source in rows_within(parse_yaml(path.read_text(encoding="utf-8")))]
        counted.figures.update(rows)
        counted.entries.update(rows)
    return counted
