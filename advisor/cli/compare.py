"""`advisor compare`: cloths side by side for the same features."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import report
from advisor.asks import read_context
from advisor.cli.options import Care, Features, Folders, Json, Season, Units, Use, Wearer
from advisor.cli.words import VERDICTS, Paper, emit, knowledge_from, label, left_out, score_text


def command(
    cloths: Annotated[list[str], typer.Argument(help="Two cloths or more, each in your own words.", show_default=False)],
    features: Features = [],  # noqa: B006
    wearer: Wearer = "",
    season: Season = "",
    use: Use = "",
    care: Care = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Which of these cloths, and what is the difference?"""
    from advisor.decide.compare import compare_for

    known = knowledge_from(knowledge)
    given = [(k, v) for k, v in (("wearer", wearer), ("season", season), ("use", use), ("care", care)) if v]
    answer = compare_for(cloths, features, known, read_context(given, known))
    if json:
        emit(answer)
    else:
        show(answer, units)


def _value(span: report.Span, word: str, unit: str) -> str:
    figure = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return f"{figure}{'' if unit == 'grade' else ' ' + unit}{f' ({word})' if word else ''}"


def show(answer: report.CompareReport, units: str = "metric") -> None:
    paper = Paper(units)
    for place, cloth in enumerate(answer.cloths, 1):
        scores = ", ".join(f"{label(name)} {score:.0f}" for name, score in cloth.features.items())
        features = f" ({scores})" if len(cloth.features) > 1 else ""
        paper.item(
            f"{cloth.read_as or cloth.given}: {VERDICTS[cloth.verdict].lower()}, {score_text(cloth.score)}{features}.",
            bullet=f"{place}. ",
            indent=0,
        )
        if cloth.not_understood:
            paper.item(left_out(cloth.not_understood), bullet="", indent=3)
        for note in cloth.notes:
            paper.item(note[0].upper() + note[1:] + ".", bullet="", indent=3, style="dim")
    for title, rows in (
        ("What differs, and matters for what you asked", [r for r in answer.differences if r.matters]),
        ("What differs besides", [r for r in answer.differences if not r.matters]),
    ):
        if not rows:
            continue
        paper.head(title)
        for row in rows:
            pairs = zip(row.values, row.words, strict=True)
            values = "; ".join(f"{i}. {_value(v, word, row.unit)}" for i, (v, word) in enumerate(pairs, 1))
            paper.item(f"{row.name}: {values}")
    if not answer.differences:
        paper.head("No difference that would be felt")
    if any(answer.findings.values()):
        paper.head("Watch")
        for place, cloth in enumerate(answer.cloths, 1):
            for say in answer.findings[cloth.given][:4]:
                paper.item(say, bullet=f"{place}. ")
    paper.head("Alike")
    paper.item(", ".join(row.name for row in answer.alike) + ".", bullet="")
    paper.show()
