"""`advisor ideas`: what would this cloth serve best?"""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import report
from advisor.cli.options import Cloth, Folders, Json, Units
from advisor.cli.words import VERDICTS, Paper, cloth_lines, emit, knowledge_from, label, score_text


def command(
    cloth: Cloth,
    top: Annotated[int, typer.Option("--top", min=1, help="How many of each to show.")] = 10,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What would this cloth serve best, and on which garments would it be wasted?"""
    from advisor.decide.ideas import ideas_for

    answer = ideas_for(cloth, knowledge_from(knowledge))
    if json:
        emit(answer)
    else:
        show(answer, top, units)


def show(answer: report.IdeasReport, top: int, units: str = "metric") -> None:
    paper = Paper(units)
    cloth_lines(paper, answer.cloth)
    for title, rows in (
        ("Garments it would serve", [r for r in answer.garments if r.verdict != "avoid"]),
        ("Details it would serve", [r for r in answer.details if r.verdict != "avoid"]),
        ("Garments it would be wasted on", answer.waste),
    ):
        paper.head(title)
        for row in rows[:top]:
            why = f". {row.why[0].upper()}{row.why[1:]}" if row.why else ""
            paper.item(f"{label(row.feature)}: {VERDICTS[row.verdict].lower()}, {score_text(row.score)}{why}.")
        if not rows:
            paper.item("None.")
        elif len(rows) > top:
            paper.item(f"{len(rows) - top} more with --top {len(rows)}.", bullet="", style="dim")
    paper.show()
