"""`advisor inspect`: what to look at when the cloth arrives, while it can still be returned."""

from __future__ import annotations

from advisor import advise, report
from advisor.cli.options import Cloth, Folders, Json, Length, Metres, Units, length_of
from advisor.cli.words import Paper, cloth_lines, emit, knowledge_from


def command(
    cloth: Cloth,
    length: Length = "",
    metres: Metres = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """What to check on arrival: width, flaws, shade, folds, grain, print; before anything is cut or washed."""
    ordered = length_of(length, metres, units)
    answer = advise.inspect(cloth, metres=3.0 if ordered is None else round(ordered, 3), knowledge=knowledge_from(knowledge))
    if json:
        emit(answer)
    else:
        show(answer, units)


def show(answer: report.InspectReport, units: str = "metric") -> None:
    paper = Paper(units)
    paper.line("BEFORE YOU WASH OR CUT: once either is done, few sellers take it back", "bold")
    cloth_lines(paper, answer.cloth)
    paper.head("Measure")
    at = ", ".join(f"{m:g}" for m in answer.measure_at_m)
    paper.item(f"The length, lying flat and slack: {answer.metres:g} m.")
    usual = f"; usually {answer.width_cm.low:g} to {answer.width_cm.high:g} cm" if answer.width_cm else ""
    usual = usual if not answer.width_cm or answer.width_cm.low < answer.width_cm.high else f"; you said {answer.width_cm.low:g} cm"
    paper.item(f"The width between the selvedges at {at} m{usual}.")
    paper.item(f"The whole on a kitchen scale: {answer.weight_g.low:g} to {answer.weight_g.high:g} g if it is the cloth that you said.")
    paper.head("Look")
    for line in answer.checks:
        may = "" if line.certainty == "sure" else " (may apply)"
        paper.item(f"{line.look[0].upper()}{line.look[1:]}.{may} {line.why}".rstrip())
    paper.show()
