"""`advisor rescue`: what went wrong, its likely causes on this cloth, and what to try first."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import rescue
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, cloth_lines, emit, knowledge_from
from advisor.errors import Unclear

SAYS = {"sure": "likely on this cloth", "may apply": "may be", "open": "", "unlikely": "less likely on this cloth"}


def command(
    symptom: Annotated[str, typer.Argument(help="What went wrong, in your own words: 'hem waves'. Left out: the list.")] = "",
    cloth: Annotated[str, typer.Argument(help="The cloth in your own words, so that the likeliest cause comes first.")] = "",
    after: Annotated[list[str], typer.Option("--after", help="What was done before: washing, pressing … Repeatable.")] = [],  # noqa: B006
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What went wrong, why, what to try first on a scrap, and when to stop."""
    known = knowledge_from(knowledge)
    if symptom.strip().lower() in ("", "list"):
        if cloth.strip() or after:
            raise Unclear("no symptom", "what went wrong, in a few words", "hem waves")
        everything = rescue.list_symptoms(known)
        return emit(everything) if json else show_list(everything, units)
    answer = rescue.rescue(symptom, cloth, after=after, knowledge=known)
    return emit(answer) if json else show(answer, units)


def show_list(answer: rescue.SymptomList, units: str = "metric") -> None:
    """Everything that can be asked about, by its first name."""
    paper = Paper(units)
    paper.line("What can go wrong, and be asked about", "bold")
    for row in answer.symptoms:
        paper.item(row.names[0])
    paper.line()
    paper.item("""'advisor rescue "hem waves" "your cloth"' ranks the causes for it.""", bullet="", indent=0, style="dim")
    paper.show()


def show(answer: rescue.RescueReport, units: str = "metric") -> None:
    """The likeliest cause first, each with how to tell, what to try and when to stop."""
    paper = Paper(units)
    paper.line(answer.read_as[0].upper() + answer.read_as[1:], "bold")
    if answer.cloth:
        cloth_lines(paper, answer.cloth)
    for text in answer.limits:
        paper.item(text[0].upper() + text[1:] + ".", bullet="", indent=0)
    if answer.safety:
        paper.item(answer.safety, bullet="", indent=0, style="safety")
    for number, cause in enumerate(answer.causes, 1):
        paper.line()
        why = ", ".join(part for part in (SAYS[cause.likelihood], "; ".join(cause.because)) if part)
        paper.item(cause.cause + (f" [{why}]" if why else ""), bullet=f"{number}. ", indent=0, style="bold")
        paper.item(f"How to tell: {cause.tell}", bullet="", indent=3)
        paper.item(f"Try first, on a scrap: {cause.try_first}", bullet="", indent=3)
        if cause.stop:
            paper.item(f"When to stop: {cause.stop}", bullet="", indent=3)
    if answer.nearest:
        paper.line()
        paper.item(f"Or did you mean: {'; '.join(answer.nearest)}?", bullet="", indent=0, style="dim")
    paper.show()
