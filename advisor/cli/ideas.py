"""`advisor ideas`: what would this cloth serve best?"""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import report
from advisor.asks import read_context
from advisor.cli.options import Care, Cloth, Folders, Json, Season, Units, Use, Wearer
from advisor.cli.words import VERDICTS, Paper, cloth_lines, emit, knowledge_from, label, score_text


def command(
    cloth: Cloth,
    wearer: Wearer = "",
    season: Season = "",
    use: Use = "",
    care: Care = "",
    top: Annotated[int, typer.Option("--top", min=1, help="How many of each to show.")] = 10,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What would this cloth serve best, and on which garments would it be wasted?"""
    from advisor.decide.ideas import ideas_for

    known = knowledge_from(knowledge)
    given = [(k, v) for k, v in (("wearer", wearer), ("season", season), ("use", use), ("care", care)) if v]
    answer = ideas_for(cloth, known, read_context(given, known))
    if json:
        emit(answer)
    else:
        show(answer, top, units)


def show(answer: report.IdeasReport, top: int, units: str = "metric") -> None:
    paper = Paper(units)
    cloth_lines(paper, answer.cloth)
    for title, rows in (
        ("Garments it would serve", [r for r in answer.garments if r.verdict != "avoid"]),
        ("Garments to leave", answer.waste),
    ):
        paper.head(title)
        for row in rows[:top]:
            why = f". {row.why[0].upper()}{row.why[1:]}" if row.why else ""
            paper.item(f"{label(row.feature)}: {VERDICTS[row.verdict].lower()}, {score_text(row.score)}{why}.")
        if not rows:
            paper.item("None.")
        elif len(rows) > top:
            paper.item(f"{len(rows) - top} more with --top {len(rows)}.", bullet="", style="dim")
        if rows is not answer.waste:
            _details(paper, answer.details, top)
    paper.show()


def _details(paper: Paper, details: list[report.IdeaRow], top: int) -> None:
    """What suits, by the kind of detail, best first; so many do that a line each would drown the garments."""
    paper.head("Details it would serve")
    suits = [row for row in details if row.verdict == "suits"]
    for group in sorted({row.group for row in suits}):
        of = [row for row in suits if row.group == group]
        more = f", and {len(of) - top} more" if len(of) > top else ""
        paper.item(f"{'other makes' if group == 'whole garment' else group}: {', '.join(f'{label(row.feature)} {row.score.expected:.0f}' for row in of[:top])}{more}.")
    care = [row for row in details if row.verdict == "care"]
    if care:
        more = f", and {len(care) - top} more" if len(care) > top else ""
        paper.item(f"with care: {', '.join(f'{label(row.feature)} {row.score.expected:.0f}' for row in care[:top])}{more}.")
    if not suits and not care:
        paper.item("None.")
