"""How much: one form a question, the same answers as the command line, and what can be printed at true size."""

from __future__ import annotations

import typing
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

import msgspec
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from advisor.cli import need as asked
from advisor.cli.measures import measure
from advisor.errors import Unclear
from advisor.need.cloth import Amount
from advisor.need.reports import NeedReport
from advisor.page import truesize
from advisor.page.desk import Desk
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page

SEVERAL = {"seam", "stitch", "part_width", "piece"}
"""Options that take several values: one a line on the page."""
FLAGS = {"nap", "with_nap", "large"}
LEFT_OUT = {"picture"}


@lru_cache(maxsize=1)
def helps() -> dict[str, str]:
    """Option → its help, as the command line gives it."""
    hints = typing.get_type_hints(asked.command, include_extras=True)
    return {name: getattr(hint.__metadata__[0], "help", "") or "" for name, hint in hints.items() if hasattr(hint, "__metadata__")}


def help_for(question: str, name: str) -> str:
    """An option's help, of which only what concerns this question: 'bias: single, double …; gathers: straight …'."""
    kept = []
    for part in helps().get(name, "").split("; "):
        about, colon, rest = part.partition(": ")
        questions = [q.strip() for q in about.split(",")]
        if colon and all(q in asked.TAKES or q == "sunray" for q in questions):
            if question in questions:
                kept.append(rest)
        else:
            kept.append(part)
    said = "; ".join(kept).replace("Repeatable.", "One a line.").strip()
    return said[:1].upper() + said[1:]


def given(query: QueryParams, question: str, desk: Desk) -> dict[str, Any]:
    """What was filled in, in the form that the command line hands on."""
    found: dict[str, Any] = {}
    for name in asked.TAKES[question] - LEFT_OUT:
        text = query.get(name, "")[:4000].strip()
        if not text:
            continue
        if name in FLAGS:
            found[name] = True
        elif name == "file":
            found[name] = str(desk.make_path(text))
        elif name in SEVERAL:
            found[name] = [part.strip() for line in text.splitlines() for part in line.split(";") if part.strip()]
        else:
            found[name] = text
    return found


def answer_of(query: QueryParams, question: str, desk: Desk) -> NeedReport:
    """The report; raises `Unclear`."""
    units = "imperial" if query.get("units") == "imperial" else "metric"
    return asked.answered(question, asked.Given(given(query, question, desk), units), [], desk.knowledge)


def choose(request: Request) -> Response:
    return page(request, "need.html")


def _known(request: Request) -> str:
    question = str(request.path_params["question"])
    if question not in asked.TAKES:
        from difflib import get_close_matches

        raise Unclear(f"question '{question[:40]}'", "one that the page lists", (get_close_matches(question, asked.TAKES, 1) or [""])[0])
    return question


def form(request: Request) -> Response:
    """A question's form, and the answer where it was filled in."""
    desk, query, question = desk_of(request), request.query_params, _known(request)
    takes = sorted(asked.TAKES[question] - LEFT_OUT)
    units = "imperial" if query.get("units") == "imperial" else "metric"
    answer, error = None, None
    if any(query.get(name, "").strip() for name in asked.TAKES[question]):
        try:
            answer = answer_of(query, question, desk)
        except Unclear as fault:
            error = for_page(fault)
    pairs = urlencode([(k, v) for k, v in query.multi_items() if v])
    return page(
        request, "need_form.html", 422 if error else 200, question=question, takes=takes, helps={name: help_for(question, name) for name in takes}, query=query,
        filled=[k for k, v in query.items() if v], several=SEVERAL, flags=FLAGS, makes=desk.makes(), answer=answer, error=error, units=units, pairs=pairs,
        parts=_parts(answer, units) if answer else [], amount=lambda a, u: asked.amount_text(a, u, units),
        prints=bool(answer and (answer.buttons or answer.loops or (answer.bias and answer.bias.square_to_cut_cm))), drawn=question == "layout" and bool(answer),
    )  # fmt: skip


def _parts(answer: NeedReport, units: str) -> list[tuple[str, list[tuple[str, str]]]]:
    """The report's parts as (name, rows of words and figure), as the command line prints them."""
    found = []
    for name in answer.__struct_fields__:
        part = getattr(answer, name)
        if name in ("cloth", "make") or not isinstance(part, msgspec.Struct) or isinstance(part, Amount):
            continue
        rows = []
        for field in part.__struct_fields__:
            value, (words, unit) = getattr(part, field), asked.words_of(name, field)
            if isinstance(value, Amount):
                rows.append((words, asked.amount_text(value, unit, units)))
            elif isinstance(value, (int, float)) and not isinstance(value, bool):
                rows.append((words, measure(value, unit, units)))
            elif isinstance(value, str) and value:
                rows.append((words, value))
        found.append((name, rows))
    return found


def printed(request: Request) -> Response:
    """The sheet at true size."""
    desk, query, question = desk_of(request), request.query_params, _known(request)
    answer = answer_of(query, question, desk)
    sheets: list[Any] = []
    says = ""
    if answer.buttons:
        part = answer.buttons
        count = part.cut or part.count or 6
        sheets = truesize.button_circles(round(part.circle_mm.expected, 1), part.diameter_mm, min(count, 200))
        says = f"Circles of {part.circle_mm.expected:.1f} mm for buttons of {part.diameter_mm:g} mm: cut on the full line. The broken line is the button."
    elif answer.loops:
        loop = answer.loops
        spacing, count = loop.spacing_mm or 0.0, loop.count or 0
        if not spacing or count < 2:
            raise Unclear("a strip without its spacing", "how many loops, and the length of the opening")
        gap = query.get("gap", "")
        gap_mm = asked.Given({"gap": gap}, query.get("units", "")).length("gap", "mm") if gap else loop.tube_mm * 2 + 2
        sheets = truesize.loop_strip(spacing, min(count, 80), loop.cut_mm, 10.0, float(gap_mm or 4))
        says = f"{count} loops, {spacing:g} mm apart. Lay the broken line on the seam line; pin both ends of each loop to its marks. Cut each loop {loop.cut_mm:g} mm long."
    elif answer.bias and answer.bias.square_to_cut_cm:
        bias = answer.bias
        sheets = truesize.bias_square(bias.square_to_cut_cm * 10, bias.strip_mm)  # type: ignore[operator]
        says = f"A square of {bias.square_to_cut_cm:g} cm with strips of {bias.strip_mm:g} mm. Lay two sides on the straight grain; join the sheets so that they overlap by {truesize.OVERLAP:g} mm."
    else:
        raise Unclear("nothing to print", "covered buttons, loops with their opening, or a bias square with its length")
    return page(request, "print.html", sheets=sheets, says=says, line=truesize.check_line(), back=f"/need/{question}?{urlencode(query.multi_items())}")


def layout(request: Request) -> Response:
    """The rough layout as a picture of its own; its style stands in it, so it has a policy that allows just that."""
    from advisor.need.picture import svg

    desk, query = desk_of(request), request.query_params
    answer = answer_of(query, "layout", desk)
    assert answer.layout is not None
    units = "imperial" if query.get("units") == "imperial" else "metric"
    part = answer.layout
    title = f"Rough layout: {measure(part.length_m.expected, 'm', units)} of cloth, {measure(part.width_cm, 'cm', units)} wide"
    return Response(svg(part, title, []), media_type="image/svg+xml", headers={"content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; sandbox"})


routes = [
    Route("/need", choose),
    Route("/need/layout/picture.svg", layout),
    Route("/need/{question}", form),
    Route("/need/{question}/print", printed),
]
