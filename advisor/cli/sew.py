"""`advisor sew`: needle, thread, stitch, seams, hems, interfacing, order of work, sample and toile."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.measures import inches
from advisor.cli.options import Cloth, Features, Folders, Json, MakeFile, Units
from advisor.cli.words import Paper, cloth_lines, emit, finding_lines, knowledge_from, lesson_lines, span_text
from advisor.makes import read_make
from advisor.need.units import read_length


def command(
    cloth: Cloth,
    features: Features = [],  # noqa: B006
    make: MakeFile = None,
    allowance: Annotated[
        str, typer.Option("--allowance", help="The pattern's seam allowance: '15 mm', '5/8 in' (15 mm unless the make says otherwise).")
    ] = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """How the cloth is sewn: needle, thread, stitch, seams and hems with widths, order of work, sample, toile, tools."""
    answer = advise.sew(
        cloth,
        features,
        make=read_make(make) if make else None,
        allowance_mm=read_length(allowance, "in" if units == "imperial" else "mm", "--allowance") if allowance else None,
        knowledge=knowledge_from(knowledge),
    )
    if json:
        emit(answer)
    else:
        show(answer, units)


def _width(span: report.Span, units: str) -> str:
    low, high = inches(span.low, about=True), inches(span.high, about=True)
    said = f"{low} in" if low == high else f"{low} to {high} in"
    metric = span_text(span, "mm")
    return f"{said} ({metric})" if units == "imperial" else f"{metric} ({said})"


def _whole(span: report.Span) -> str:
    return span_text(report.Span(round(span.low), round(span.high)))


def _machine(paper: Paper, answer: report.SewReport) -> None:
    paper.head("At the machine")
    if answer.needle:
        paper.item(f"needle: {answer.needle.type}, Nm {span_text(answer.needle.nm)} (US {span_text(answer.needle.us)})")
    if answer.thread:
        thread = answer.thread
        paper.item(f"thread: {thread.fibre}, Tex {span_text(thread.tex)} (ticket {span_text(report.Span(thread.ticket.high, thread.ticket.low))})")
    if answer.stitch:
        paper.item(f"stitch: {answer.stitch.type}, {span_text(answer.stitch.length_mm)} mm ({_whole(answer.stitch.per_inch)} to the inch)")
    for name in ("foot", "plate", "tension", "pressure", "hold"):
        if getattr(answer, name):
            paper.item(f"{'pins or clips' if name == 'hold' else name}: {getattr(answer, name)}")


def _advice(paper: Paper, answer: report.SewReport, under: str) -> None:
    for advice in (a for a in answer.advice if a.under == under):
        may = "" if advice.certainty == "sure" else " (may apply)"
        paper.item(f"{advice.say}{may} {advice.do}")


def show(answer: report.SewReport, units: str) -> None:
    paper = Paper(units)
    if answer.toile.needed:
        cloth = f", in {answer.toile.cloth}" if answer.toile.cloth else ""
        paper.item(f"A TOILE FIRST{cloth}", bullet="", indent=0, style="bold")
        paper.item(f"{answer.toile.why[0].upper()}{answer.toile.why[1:]}.", bullet="", indent=0)
    elif answer.toile.cloth:
        paper.item(f"No toile needed for what was asked; if you make one, in {answer.toile.cloth}.", bullet="", indent=0, style="bold")
    cloth_lines(paper, answer.cloth)
    _machine(paper, answer)
    printed: list[str] = []  # headings of advice that stand already
    if answer.seams:
        paper.head("Seams")
        for seam in answer.seams:
            finish = f"; edges: {seam.finish}" if seam.finish else ""
            paper.item(f"{seam.place}: {seam.seam}{finish}. {'; '.join(seam.passes)}.")
        _advice(paper, answer, "seams")
        printed.append("seams")
    if answer.hems:
        paper.head("Hems")
        for hem in answer.hems:
            depth = f", {_width(hem.depth_mm, units)}" if hem.depth_mm else ""
            hang = f"; hang it {span_text(hem.hang_days)} days first, then level it" if hem.hang_days else ""
            paper.item(f"{hem.place}: {hem.hem}{depth}{hang}")
        _advice(paper, answer, "hems")
        printed.append("hems")
    if answer.interfacing:
        paper.head("Interfacing")
        facing = answer.interfacing
        paper.item(f"{facing.what} ({facing.kind}), for {', '.join(facing.where)}; {facing.grain}")
        _advice(paper, answer, "interfacing")
        printed.append("interfacing")
    for under in dict.fromkeys(a.under for a in answer.advice):
        if under not in printed:
            paper.head(under.capitalize())
            _advice(paper, answer, under)
    for title, texts in (("Order of work", answer.order), ("The sample first", answer.sample), ("To hand", answer.tools)):
        if texts:
            paper.head(title)
            for number, text in enumerate(texts, 1):
                paper.item(text[0].upper() + text[1:], bullet=f"{number}. " if title == "Order of work" else "- ")
    rest = [f for f in answer.findings if f.id not in {a.rule for a in answer.advice} | {s.rule for s in answer.set_by}]
    for title, found in (
        ("About what you asked", [f for f in rest if f.kind != "safety"]),
        ("Safety", sorted((f for f in rest if f.kind == "safety"), key=lambda f: (not f.features, f.certainty != "sure"))),
    ):
        if found:
            paper.head(title)
            finding_lines(paper, found, limit=12)
    lesson_lines(paper, answer.lessons)
    paper.show()
