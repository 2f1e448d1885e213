"""`advisor prewash`: how to prepare the cloth before it is cut."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.measures import celsius, measure
from advisor.cli.options import Care, Cloth, Features, Folders, Json, Length, MakeFile, Metres, Units, length_of
from advisor.cli.words import Paper, cloth_lines, emit, finding_lines, knowledge_from, shrunk_text, span_text
from advisor.layers import read_layer
from advisor.makes import read_make


def command(
    cloth: Cloth,
    care: Care = "",
    features: Features = [],  # noqa: B006
    make: MakeFile = None,
    layers: Annotated[
        list[str], typer.Option("--with", help="Another layer, role=cloth: lining=\"viscose lining\". Repeatable.")
    ] = [],  # noqa: B006
    length: Length = "",
    metres: Metres = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """How the cloth is prepared before cutting, what it will shrink, and how much more to buy."""
    wanted = length_of(length, metres, units)
    answer = advise.prewash(
        cloth,
        care=care,
        features=features,
        make=read_make(make) if make else None,
        layers=dict(read_layer(text) for text in layers),
        knowledge=knowledge_from(knowledge),
    )
    if json:
        emit(answer)
    else:
        show(answer, units, wanted or 2.0)


def _left(paper: Paper, answer: report.PrewashReport) -> None:
    paper.head("Still to come")
    for washes, left in answer.left_after.items():
        felting = left.felting_each_wash
        felts = f"; felting up to {felting.high:g} % more each wash" if felting.high else ""
        after = "one wash" if washes == "1" else f"{washes} washes"
        paper.item(f"after {after}: along {span_text(left.along, '%')}, across {span_text(left.across, '%')}{felts}")
    if answer.left_after:
        paper.item(next(iter(answer.left_after.values())).because + ".", bullet="", indent=2, style="dim")
    paper.head("Write down")
    for text in answer.write_down:
        paper.item(text)


def _layers(paper: Paper, answer: report.PrewashReport, units: str) -> None:
    paper.head("The other layers")
    for layer in answer.layers:
        what = layer.method.replace("-", " ") if layer.needed else "no pre-wash needed"
        heat = f", at most {celsius(layer.max_c, units)}" if layer.needed and layer.max_c else ""
        note = f"; {layer.note}" if layer.note else ""
        if not layer.needed and "soak" in layer.note:  # a soak is what it needs
            what, note = layer.note, ""
        shrinks = f"shrinks along {shrunk_text(layer.shrinkage.along)}, across {shrunk_text(layer.shrinkage.across)}"
        if layer.narrow:
            shrinks = f"shrinks {shrunk_text(layer.shrinkage.along)}"
        read = layer.cloth.read_as
        taken = f" (taken as {read})" if read and read.lower() != layer.cloth.given.lower() else ""
        paper.item(f"{layer.role}, {layer.cloth.given}{taken}: {what}{heat}; {shrinks}{note}")
        if layer.cloth.not_understood:
            paper.item(f"not understood, and left out: {', '.join(layer.cloth.not_understood)}", indent=4)
    paper.head("Conflicts, before you buy" if answer.conflicts else "They go together: no conflict found.")
    for conflict in answer.conflicts:
        may = "" if conflict.certainty == "sure" else " (may apply)"
        paper.item(f"{conflict.say}{may} {conflict.do}", style="stop" if not may else "")
    if answer.together:
        both = answer.together
        wash = f"wash at most {celsius(both.wash_c, units)}" if both.wash_c >= 10 else "no water"
        iron = f"iron at most {celsius(both.iron.max_c, units)}" if both.iron.max_c else "no iron"
        paper.head("The finished garment, by its weakest part")
        paper.item(f"{wash} (decided by the {both.wash_decided_by}); {iron} (decided by the {both.iron_decided_by})")


def show(answer: report.PrewashReport, units: str, wanted_m: float = 2.0) -> None:
    paper = Paper(units)
    name = answer.method.replace("-", " ").upper()
    times = "" if answer.times == 1 else f", {answer.times} times"
    heat = f", at most {celsius(answer.max_c, units)}" if answer.max_c else ""
    paper.line(f"{name}{heat}{times}" if answer.needed else f"NOT NEEDED (if you do: {name.lower()}{heat})", "bold")
    paper.item(answer.how, bullet="", indent=0)
    paper.item(f"Dry: {answer.dry}.", bullet="", indent=0)
    cloth_lines(paper, answer.cloth)
    wet = answer.max_c > 0
    steamed = "Shrinkage to expect, steamed or wetted" if answer.needed else "Shrinkage, should it ever be wetted"
    paper.head("Shrinkage to expect in the first wash" if wet else steamed)
    paper.item(
        f"along {shrunk_text(answer.shrinkage.along)}, across {shrunk_text(answer.shrinkage.across)} ({answer.shrinkage.evidence})"
    )
    low, high = answer.buy_factor.low, answer.buy_factor.high
    length = measure(wanted_m, "m", units)
    bought = [measure(factor * wanted_m, "m", units) for factor in (low, high)]
    if answer.needed:
        paper.item(
            f"buy {low:.2f} to {high:.2f} times the pattern's length (needed / (1 - shrinkage)): for {length} that is "
            + (bought[0] if bought[0] == bought[1] else f"{bought[0].rpartition(' ')[0]} to {bought[1]}")
        )
    if wet:  # what stays out of water has no washes to come
        _left(paper, answer)
    if answer.layers:
        _layers(paper, answer, units)
    for title, texts in (("First", answer.before), ("Afterwards", answer.after)):
        if texts:
            paper.head(title)
            for text in texts:
                paper.item(text[0].upper() + text[1:])
    if answer.findings:
        paper.head("Notes")
        finding_lines(paper, answer.findings, limit=9)
    paper.show()
