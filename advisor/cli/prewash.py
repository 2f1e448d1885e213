"""`advisor prewash`: how to prepare the cloth before it is cut."""

from __future__ import annotations

from advisor import advise, report
from advisor.cli.options import Care, Cloth, Features, Folders, Json, Units
from advisor.cli.words import Paper, celsius, cloth_lines, emit, finding_lines, knowledge_from
from advisor.errors import Unclear


def command(
    cloth: Cloth,
    care: Care = "",
    features: Features = [],  # noqa: B006
    units: Units = "metric",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """How the cloth is prepared before cutting, what it will shrink, and how much more to buy."""
    if units not in ("metric", "imperial"):
        raise Unclear(f"units '{units}'", "metric or imperial", "metric")
    answer = advise.prewash(cloth, care=care, features=features, knowledge=knowledge_from(knowledge))
    if json:
        emit(answer)
    else:
        show(answer, units)


def _span(span: report.Span) -> str:
    return f"{span.low:g} %" if span.low == span.high else f"{span.low:g} to {span.high:g} %"


def show(answer: report.PrewashReport, units: str) -> None:
    paper = Paper()
    name = answer.method.replace("-", " ").upper()
    times = "" if answer.times == 1 else f", {answer.times} times"
    heat = f", at most {celsius(answer.max_c, units)}" if answer.max_c else ""
    paper.line(f"{name}{heat}{times}" if answer.needed else f"NOT NEEDED (if you do: {name.lower()}{heat})", "bold")
    paper.item(answer.how, bullet="", indent=0)
    paper.item(f"Dry: {answer.dry}.", bullet="", indent=0)
    cloth_lines(paper, answer.cloth)
    paper.head("Shrinkage to expect in the first wash")
    paper.item(
        f"along {_span(answer.shrinkage.along)}, across {_span(answer.shrinkage.across)} ({answer.shrinkage.evidence})"
    )
    low, high = answer.buy_factor.low, answer.buy_factor.high
    paper.item(
        f"buy {low:.2f} to {high:.2f} times the pattern's length (needed / (1 - shrinkage)): "
        f"for 2 m that is {2 * low:.2f} to {2 * high:.2f} m; for 2 yd, {2 * low:.2f} to {2 * high:.2f} yd"
    )
    for title, texts in (("First", answer.before), ("Afterwards", answer.after)):
        if texts:
            paper.head(title)
            for text in texts:
                paper.item(text[0].upper() + text[1:])
    if answer.findings:
        paper.head("Notes")
        finding_lines(paper, answer.findings, limit=9)
    paper.show()
