"""`advisor check`: does this cloth suit these features?"""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.options import Care, Cloth, Features, Folders, Json, Season, Units, Use, Wearer, WhatIf
from advisor.cli.words import (
    VERDICTS,
    Paper,
    cloth_lines,
    emit,
    finding_lines,
    knowledge_from,
    label,
    lesson_lines,
    score_text,
)
from advisor.errors import Unclear

MOST = {"Watch": 10, "Safety": 3, "How": 6}
"""How many findings of a heading are printed."""


def command(
    cloth: Cloth,
    features: Features = [],  # noqa: B006 (typer's own form)
    wearer: Wearer = "",
    season: Season = "",
    use: Use = "",
    care: Care = "",
    what_if: WhatIf = [],  # noqa: B006
    why: Annotated[bool, typer.Option("--why", help="Show the whole reasoning.")] = False,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Does this cloth suit these features? Says how well, why, and what to do."""
    if not features and not (season or use or care):
        raise Unclear("no feature", "at least one --for", "--for 'covered buttons'")
    known = knowledge_from(knowledge)
    answer = advise.check(
        cloth, features, wearer=wearer, season=season, use=use, care=care,
        what_if=what_if, deciding=True, why=why, knowledge=known,
    )  # fmt: skip
    if json:
        emit(answer)
    else:
        show(answer, {p.id: p.name for p in known.properties.values()}, units)


def show(answer: report.CheckReport, names: dict[str, str], units: str = "metric") -> None:
    """The answer first, then why, then what to do."""
    paper = Paper(units)
    paper.line(f"{VERDICTS[answer.verdict]}  {score_text(answer.score)}", answer.verdict)
    if answer.what_if:
        before = answer.what_if
        paper.item(
            f"Supposing {'; '.join(before.read_as)}. Without it: {VERDICTS[before.verdict_before].lower()}, "
            f"{score_text(before.score_before)}.",
            bullet="",
            indent=0,
        )
    cloth_lines(paper, answer.cloth)
    rows = [*answer.features, *answer.circumstances]
    paper.line()
    wide = max(len(label(r.feature)) for r in rows)
    for row in rows:
        paper.line(
            f"  {label(row.feature):<{wide}}  {VERDICTS[row.verdict].lower():<15}  {score_text(row.score)}",
            row.verdict,
        )
        for note in row.notes:
            paper.item(note, bullet="", indent=wide + 4, style="dim")
    reasons = [text for row in rows for text in _reasons(row, names)]
    paper.head("Why")
    for text in reasons or ["Every demand is met."]:
        paper.item(text)
    for title, kinds in (
        ("Watch", ("stop", "caution")),
        ("Safety", ("safety",)),
        ("How", ("handling", "notion")),
    ):
        found = [f for f in answer.findings if f.kind in kinds]
        if found:
            paper.head(title)
            most = MOST[title]
            finding_lines(paper, found, limit=most)
            if len(found) > most:
                paper.item(f"{len(found) - most} more with --json.", bullet="", style="dim")
    lesson_lines(paper, answer.lessons)
    _remedies(paper, answer.remedies)
    if answer.why:
        from advisor.cli import why

        why.show(paper, answer, names)
    if answer.next_test:
        _next_test(paper, answer, names)
    paper.show()


def _remedies(paper: Paper, remedies: list[report.RemedyReport], most: int = 5) -> None:
    """What can be done, best first."""
    if not remedies:
        return
    paper.head("What can be done")
    for remedy in remedies[:most]:
        effort = f"{remedy.effort.minutes:g} min, {remedy.effort.money} cost"
        keeps = f" Keeps {remedy.keeps}." if remedy.keeps else ""
        paper.item(
            f"{remedy.do} Then {VERDICTS[remedy.verdict_after].lower()}, {score_text(remedy.score_after)} "
            f"({effort}; cloth: {remedy.cost_to_cloth}).{keeps}"
        )
    if len(remedies) > most:
        paper.item(f"{len(remedies) - most} more with --json.", bullet="", style="dim")


def _next_test(paper: Paper, answer: report.CheckReport, names: dict[str, str]) -> None:
    """The one test worth making next, and what it could change."""
    test = answer.next_test
    assert test is not None
    other = [VERDICTS[v].lower() for v in test.could_become if v != answer.verdict]
    becomes = f"could become {' or '.join(other)}" if other else "stays, but surer"
    first = test.how.partition(". ")[0].rstrip(".")
    safety = f" {test.safety.rstrip('.')}." if test.safety else ""
    paper.line()
    paper.item(
        f"Next test: {test.name} ({names[test.property]}, {test.minutes:g} min): {first}. The verdict {becomes}. "
        f"All steps: advisor swatch {test.test}.{safety}",
        bullet="",
        indent=0,
    )


def _reasons(row: report.FeatureReport, names: dict[str, str], most: int = 3) -> list[str]:
    """The demands that cost most, in words."""
    said: list[str] = []
    for demand in row.demands:
        if demand.met.expected >= 0.9 or len(said) == most:
            continue
        unit = "" if demand.unit == "grade" else f" {demand.unit}"
        has = (
            f"{demand.has.low:g}" if demand.has.low == demand.has.high else f"{demand.has.low:g} to {demand.has.high:g}"
        )
        said.append(
            f"{label(row.feature)}: {names[demand.property]} {has}{unit}, wanted {demand.wants} "
            f"({demand.met.expected:.0%} met): {demand.why}."
        )
    worst = [p for p in sorted(row.parts, key=lambda p: p.score.expected) if p.verdict != "suits"][:2]
    said += [
        f"{label(row.feature)}: its {label(p.feature)} {VERDICTS[p.verdict].lower()}, {score_text(p.score)}."
        for p in worst
    ]
    return said
