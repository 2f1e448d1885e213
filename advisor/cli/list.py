"""`advisor list`: the entries of one kind."""

from __future__ import annotations

from collections import Counter
from typing import Annotated

import typer

from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from, nearest
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES, Knowledge
from advisor.report import ListReport
from advisor.words_form import phrase


def command(
    kind: Annotated[str, typer.Argument(help="cloths, fibres, features, rules, remedies …", show_default=False)],
    word: Annotated[
        str, typer.Argument(help="Only entries whose id, name or group holds this word.", show_default=False)
    ] = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What the advisor knows of one kind, with counts by where the figures come from."""
    answer = entries(kind, word, knowledge_from(knowledge))
    if json:
        emit(answer)
        return
    paper = Paper(units)
    wide = min(34, max((len(str(e["id"])) for e in answer.entries), default=0))
    for entry in answer.entries:
        paper.item(f"{entry['id']!s:<{wide}}  {entry['says']}", bullet="", indent=2)
    counts = ", ".join(f"{n} {where}" for where, n in sorted(answer.counts.items()))
    paper.line()
    paper.item(f"{len(answer.entries)} {answer.kind}; by evidence: {counts}.", bullet="", indent=0)
    paper.show()


def evidence_of(source: str) -> str:
    """Which of the three kinds of evidence a source is."""
    return source if source in ("common practice", "from memory") else "published"


def entries(kind: str, word: str, knowledge: Knowledge) -> ListReport:
    """The entries of a kind, narrowed by a word; raises `Unclear` for an unknown kind."""
    kinds = list(KIND_TYPES)
    name = kind if kind in kinds else f"{kind}s" if f"{kind}s" in kinds else ""
    if not name:
        raise Unclear(
            f"kind '{kind[:40]}'",
            f"one of {', '.join(kinds)}",
            nearest(kind, kinds).removeprefix("; nearest: "),
        )
    table, wanted = knowledge.table(name), phrase(word)
    found: list[dict[str, object]] = []
    counts: Counter[str] = Counter()
    for entry in table.values():
        group = getattr(entry, "group", "") or getattr(entry, "family", "")
        if wanted and not any(wanted in phrase(text) for text in (entry.id, group, *entry.names)):
            continue
        says = (
            entry.about
            or ", ".join(entry.names[:4])
            or getattr(getattr(entry, "then", None), "say", "")
            or getattr(entry, "title", "")
        )
        found.append(
            {
                "id": entry.id,
                "names": entry.names,
                "says": says,
                "group": group,
                "source": entry.source,
                "origin": entry.origin,
            }
        )
        counts[evidence_of(entry.source)] += 1
    return ListReport(name, found, dict(counts))
