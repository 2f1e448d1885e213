"""`advisor list`: the entries of one kind."""

from __future__ import annotations

from collections import Counter
from typing import Annotated

import typer

from advisor import evidence
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from, nearest
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES, Knowledge
from advisor.report import ListReport
from advisor.words_form import phrase


def command(
    kind: Annotated[
        str,
        typer.Argument(help="cloths, fibres, features, rules, remedies …; counts of all without.", show_default=False),
    ] = "",
    word: Annotated[
        str, typer.Argument(help="Only entries whose id, name or group holds this word.", show_default=False)
    ] = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What the advisor knows of one kind, with counts by where the figures come from."""
    known = knowledge_from(knowledge)
    answer = entries(kind, word, known) if kind else everything(known)
    if json:
        emit(answer)
        return
    paper = Paper(units)
    if not kind:
        show_counts(answer, paper)
        return
    wide = min(34, max((len(str(e["id"])) for e in answer.entries), default=0))
    for entry in answer.entries:
        paper.hung(f"{entry['id']!s}", str(entry["says"]), wide)
    if not answer.entries:
        names = [name for e in known.table(answer.kind).values() for name in (e.id, *e.names)]
        raise Unclear(f"no {answer.kind} with '{word[:40]}'", f"a word that names one; 'advisor list {answer.kind}' shows them all", nearest(word, names).removeprefix("; nearest: "))
    counts = ", ".join(f"{n} {where}" for where, n in sorted(answer.counts.items()))
    paper.line()
    paper.item(f"{len(answer.entries)} {answer.kind}; by evidence: {counts}.", bullet="", indent=0)
    paper.show()


def everything(knowledge: Knowledge) -> ListReport:
    """Each kind with the counts of its entries and figures by evidence; `counts` holds the figures of all."""
    counted = evidence.counts(knowledge)
    total: Counter[str] = sum((kind.figures for kind in counted), Counter())
    rows: list[dict[str, object]] = [
        {"kind": c.kind, "entries": c.entries.total(), "figures": {e: c.figures[e] for e in evidence.EVIDENCE}}
        for c in counted
    ]
    return ListReport("everything", rows, {name: total[name] for name in evidence.EVIDENCE})


def show_counts(answer: ListReport, paper: Paper) -> None:
    """The counts as a table, one kind a line."""
    paper.line(f"{'':<11}{'entries':>8}   figures: " + ", ".join(evidence.EVIDENCE))
    for row in answer.entries:
        figures = row["figures"]
        said = "".join(f"{figures[name]:>12}" for name in evidence.EVIDENCE) if sum(figures.values()) else ""
        paper.line(f"{row['kind']!s:<11}{row['entries']:>8}   {said}".rstrip())
    all_of = sum(answer.counts.values()) or 1
    shares = ", ".join(f"{n} {name} ({n / all_of:.0%})" for name, n in answer.counts.items())
    paper.line()
    paper.item(f"In all {shares}. 'advisor list KIND' names the entries.", bullet="", indent=0)
    paper.show()


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
        counts[evidence.evidence_of(entry.source)] += 1
    return ListReport(name, found, dict(counts))
