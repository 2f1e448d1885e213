"""Explain and list: what an entry is, and what the advisor knows; the way from every answer to its sources."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from advisor.advise import source_text
from advisor.cli.explain import body, find
from advisor.cli.list import entries
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES
from advisor.page import drawing
from advisor.page.desk import Desk
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page
from advisor.report import Span

MOST = 400
"""How many entries of a list are shown at once; a word narrows it."""


def explain(request: Request) -> Response:
    """Every entry of that id or name, with its figures and their sources."""
    desk, word = desk_of(request), request.path_params["word"][:120]
    found = find(word, desk.knowledge)
    told = [(kind, entry, {k: v for k, v in body(entry).items() if k not in ("id", "conjunctions", "origin")}) for kind, entry in found]
    return page(request, "explain.html", told=told, source=lambda s: source_text(s, desk.knowledge),
                properties=desk.knowledge.properties, word=word, kinds=list(KIND_TYPES), drawn=[_drawn(desk, entry) for _, entry in found])  # fmt: skip


def _drawn(desk: Desk, entry: Any) -> dict[str, Markup]:
    """What of an entry can be drawn: a feature's wishes as curves, a cloth's usual ranges as fields."""
    found = {}
    for demand in getattr(entry, "demands", []):
        prop = desk.knowledge.properties[demand.property]
        if demand.curve:
            found[prop.id] = drawing.banded(prop.bands, prop.decimals, curve=demand.curve, says=f"How well each {prop.name} serves")
    for name, figure in getattr(entry, "ranges", {}).items():
        if name in desk.knowledge.properties:
            prop = desk.knowledge.properties[name]
            says = f"{prop.name} {figure.low:g} to {figure.high:g}"
            found[name] = drawing.banded(prop.bands, prop.decimals, has=Span(figure.low, figure.high), says=says)
    return found


def look(request: Request) -> Response:
    """A word to look up, or the entries of one kind."""
    desk, query = desk_of(request), request.query_params
    word, kind = query.get("q", "").strip()[:120], query.get("kind", "")[:40]
    error, answer = None, None
    try:
        if kind:
            answer = entries(kind, word, desk.knowledge)
        elif word:
            return RedirectResponse(f"/explain/{_path(find(word, desk.knowledge)[0][1].id)}", 303)
    except Unclear as fault:
        error = for_page(fault)
    return page(request, "list.html", 422 if error else 200, q=word, kind=kind, kinds=list(KIND_TYPES), answer=answer, error=error, most=MOST)


def _path(text: str) -> str:
    from urllib.parse import quote

    return quote(text, safe="")


def more(request: Request) -> Response:
    """All pages, for who looks for one."""
    return page(request, "more.html")


routes = [Route("/explain", look), Route("/explain/{word}", explain), Route("/more", more)]
