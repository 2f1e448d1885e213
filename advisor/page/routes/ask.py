"""Ask: one question, four answers (does it suit, press, pre-wash, sew), each on its own address."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from advisor.advise import source_text
from advisor.errors import Unclear
from advisor.page import drawing
from advisor.page.asking import SHEETS, Question, Typed, question, typed, verb
from advisor.page.desk import Desk
from advisor.page.rendering import desk_of, is_part, page
from advisor.page.wording import for_page
from advisor.ranges import Range
from advisor.report import Span


def home(request: Request) -> Response:
    """The box, with a question in it or examples under it; a verb in front leads to its sheet."""
    form = typed(request.query_params.multi_items())
    if form.ask.strip() or form.ticked:
        named = verb(form.ask.strip())[0]
        return RedirectResponse(f"/{named or 'check'}?{form.query}", 303)
    return page(request, "ask.html", sheet="check", form=form, answer=None, error=None)


def _sheet(name: str) -> Any:
    def answer(request: Request) -> Response:
        return show(request, name)

    return answer


def show(request: Request, sheet: str) -> Response:
    """One sheet: the whole page, or only the answer where the page stands already."""
    desk, form = desk_of(request), typed(request.query_params.multi_items())
    answer, error, status, extra = None, None, 200, {}
    named = verb(form.ask.strip())[0]
    if named and named != sheet and not is_part(request):
        return RedirectResponse(f"/{named}?{form.query}", 303)
    if form.ask.strip() or form.ticked:
        try:
            asked = question(form, desk.knowledge)
            if sheet == "check" and not (asked.features or asked.season or asked.use or asked.care):
                return _only_cloth(request, form, asked)
            answer = getattr(desk, sheet)(asked)
            extra = drawn(desk, answer) if sheet == "check" else {}
        except Unclear as fault:
            error, status = for_page(fault), 422
    if is_part(request):
        return page(
            request, f"answer_{sheet}.html" if answer else "answer_none.html", status if not is_part(request) else 200,
            {"hx-replace-url": f"/{sheet}?{form.query}"}, sheet=sheet, form=form, answer=answer, error=error, **extra,
        )  # fmt: skip
    return page(request, "ask.html", status, sheet=sheet, form=form, answer=answer, error=error, **extra)


def _only_cloth(request: Request, form: Typed, asked: Question) -> Response:
    """A cloth with nothing asked of it yet: how it was read, and what to say next."""
    desk = desk_of(request)
    cloth = desk.press(asked).cloth
    values: dict[str, Any] = {"sheet": "check", "form": form, "answer": None, "error": None, "cloth": cloth}
    if is_part(request):
        return page(request, "answer_none.html", 200, {"hx-replace-url": f"/check?{form.query}"}, **values)
    return page(request, "ask.html", **values)


def drawn(desk: Desk, answer: Any) -> dict[str, Any]:
    """The drawings of a check: one strip a demand, by (feature, property)."""
    strips = {}
    for curve in answer.why.curves if answer.why else []:
        prop = desk.knowledge.properties[curve.property]
        if curve.curve:
            strips[(curve.feature, curve.property)] = drawing.strip(curve, prop.bands, prop.decimals)
    return {"strips": strips, "names": {p.id: p.name for p in desk.knowledge.properties.values()}}


def cloth(request: Request) -> Response:
    """The cloth alone: every property as a range on its trade bands, and where each range comes from."""
    desk, form = desk_of(request), typed(request.query_params.multi_items())
    asked = question(form, desk.knowledge)
    seen = desk.press(asked).cloth
    drawn_ = []
    for name, known in seen.properties.items():
        prop = desk.knowledge.properties[name]
        has = Span(known.low, known.high)
        near = [word for word, band in prop.bands.items() if band.meets(Range(known.low, known.high))]
        unit = "" if prop.unit == "grade" else f" {prop.unit}"
        says = f"{prop.name}: {known.low:g} to {known.high:g}{unit}, {', '.join(near)}"
        drawn_.append((prop, known, drawing.banded(prop.bands, prop.decimals, has=has, says=says)))
    return page(request, "cloth.html", form=form, cloth=seen, drawn=drawn_, source=lambda s: source_text(s, desk.knowledge))


def suggest(request: Request) -> Response:
    """The list under the box while one types."""
    names = desk_of(request).names.suggest(request.query_params.get("ask", ""))
    return page(request, "suggestions.html", found=names)


routes = [
    Route("/", home),
    *(Route(f"/{sheet}", _sheet(sheet), name=sheet) for sheet in SHEETS),
    Route("/cloth", cloth),
    Route("/suggest", suggest),
]
