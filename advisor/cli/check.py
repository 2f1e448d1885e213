"""`advisor check`: does this cloth suit these features?"""

from __future__ import annotations

from advisor import advise, report
from advisor.cli.options import Care, Cloth, Features, Folders, Json, Season, Use, Wearer
from advisor.cli.words import (
    VERDICTS,
    Paper,
    cloth_lines,
    emit,
    finding_lines,
    knowledge_from,
    label,
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
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Does this cloth suit these features? Says how well, why, and what to do."""
    if not features and not (season or use or care):
        raise Unclear("no feature", "at least one --for", "--for 'covered buttons'")
    known = knowledge_from(knowledge)
    answer = advise.check(cloth, features, wearer=wearer, season=season, use=use, care=care, knowledge=known)
    if json:
        emit(answer)
    else:
        show(answer, {p.id: p.name for p in known.properties.values()})


def show(answer: report.CheckReport, names: dict[str, str]) -> None:
    """The answer first, then why, then what to do."""
    paper = Paper()
    paper.line(f"{VERDICTS[answer.verdict]}  {score_text(answer.score)}", answer.verdict)
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
    paper.show()


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
