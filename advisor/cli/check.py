"""`advisor check`: does this cloth suit these features?"""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.measures import in_words
from advisor.cli.options import Care, Cloth, Features, Folders, Json, Season, Units, Use, Wearer, WhatIf
from advisor.cli.words import (
    VERDICTS,
    Paper,
    cloth_lines,
    emit,
    figures_text,
    finding_lines,
    knowledge_from,
    label,
    lesson_lines,
    score_text,
    unit_text,
)
from advisor.errors import Unclear

MOST = {"Watch": 10, "Safety": 3, "How": 6}
"""How many findings of a heading are printed; with --why all of them."""
MET = 95
"""A circumstance (summer, machine wash) that is met this well takes no line of its own beside the features."""
COSTS = {"none": "costs nothing", "low": "costs little", "some": "costs something", "much": "costs much"}


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
    met = [c for c in answer.circumstances if c.verdict == "suits" and c.score.low >= MET and answer.features]
    rows = [*answer.features, *(c for c in answer.circumstances if c not in met)]
    paper.line()
    names_of = {id(r): _asked(r, units) for r in rows}
    wide = min(34, max(len(name) for name in names_of.values()))
    for row in rows:
        name = names_of[id(row)]
        if len(name) > wide:
            paper.item(name, bullet="", style=row.verdict)
            name = ""
        paper.line(f"  {name:<{wide}}  {VERDICTS[row.verdict].lower():<15}  {score_text(row.score)}", row.verdict)
        for note in row.notes:
            paper.item(note, bullet="", indent=wide + 4, style="dim")
    if met:
        paper.item(f"Met too: {', '.join(label(row.feature) for row in met)}.", bullet="", style="dim")
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
        if title == "Safety":  # what the make itself brings comes before what holds at every ironing board
            found.sort(key=lambda f: (not f.features, f.certainty != "sure"))
        if found:
            paper.head(title)
            most = len(found) if answer.why else MOST[title]
            finding_lines(paper, found, limit=most)
            if len(found) > most:
                paper.item(f"{len(found) - most} more with --why.", bullet="", style="dim")
    lesson_lines(paper, answer.lessons)
    _remedies(paper, answer.remedies, len(answer.remedies) if answer.why else 5)
    if answer.why:
        from advisor.cli import why

        why.show(paper, answer, names)
    if answer.next_test:
        _next_test(paper, answer, names)
    paper.show()


def _asked(row: report.FeatureReport, units: str) -> str:
    """What was asked about, with its figures as they were read: '9 covered buttons, 12 mm'."""
    count = f"{row.figures['count']:g} " if "count" in row.figures else ""
    return f"{count}{label(row.feature)}{in_words(figures_text(row.figures), units)}"


def _remedies(paper: Paper, remedies: list[report.RemedyReport], most: int = 5) -> None:
    """What can be done, best first."""
    if not remedies:
        return
    paper.head("What can be done")
    for remedy in remedies[:most]:
        time = f"{remedy.effort.minutes:g} min" if remedy.effort.minutes else "no time"
        effort = f"{time}, {COSTS[remedy.effort.money]}"
        keeps = f" Keeps {remedy.keeps}." if remedy.keeps else ""
        paper.item(
            f"{remedy.do} Then {VERDICTS[remedy.verdict_after].lower()}, {score_text(remedy.score_after)} "
            f"({effort}; the cloth: {remedy.cost_to_cloth}).{keeps}"
        )
    if len(remedies) > most:
        paper.item(f"{len(remedies) - most} more with --why.", bullet="", style="dim")


def _next_test(paper: Paper, answer: report.CheckReport, names: dict[str, str]) -> None:
    """The one test worth making next, and what it could change."""
    test = answer.next_test
    assert test is not None
    other = [VERDICTS[v].lower() for v in test.could_become if v != answer.verdict]
    paper.line()
    if not other:  # nothing hangs on it, so it takes one line
        paper.item(f"To be surer: advisor swatch {test.test} ({names[test.property]}, {test.minutes:g} min).", bullet="", indent=0)
        return
    becomes = f"could become {' or '.join(other)}"
    first = test.how.partition(". ")[0].rstrip(".")
    safety = f" {test.safety.rstrip('.')}." if test.safety else ""
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
        unit = unit_text(demand.unit)
        has = (
            f"{demand.has.low:g}" if demand.has.low == demand.has.high else f"{demand.has.low:g} to {demand.has.high:g}"
        )
        said.append(
            f"{label(row.feature)}: {names[demand.property]} {has}{unit}, wanted {demand.wants} "
            f"({demand.met.expected:.0%} met): {demand.why}."
        )
    worst = [p for p in sorted(row.parts, key=lambda p: p.score.expected) if p.verdict != "suits"][:2]
    said += [
        f"{label(row.feature)}: its {label(p.feature)}: {VERDICTS[p.verdict].lower()}, {score_text(p.score)}."
        for p in worst
    ]
    return said
