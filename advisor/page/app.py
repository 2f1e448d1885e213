"""The page as one ASGI application: routes, static files, and the safety layer around all of it."""

from __future__ import annotations

from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from advisor.errors import Unclear
from advisor.knowledge import KnowledgeError
from advisor.page.desk import Desk
from advisor.page.rendering import page
from advisor.page.routes import api, ask, explain, importing, makes, needs, plan, stash, tests
from advisor.page.safety import Guard, Safety
from advisor.page.wording import for_page

STATIC = Path(__file__).parent / "static"


def alive(request: Request) -> Response:
    """Asked by the page's script before a form is sent, so that nothing typed is lost to a server that stopped."""
    return PlainTextResponse("yes")


async def unclear(request: Request, fault: Exception) -> Response:
    """Something not understood that no page of its own caught."""
    assert isinstance(fault, Unclear)
    if request.url.path.startswith("/api/"):
        body = {"error": fault.line(), "given": fault.given, "expected": fault.expected, "nearest": fault.nearest}
        return JSONResponse(body, 422)
    return page(request, "error.html", 422, error=for_page(fault), title="Not understood")


async def broken_knowledge(request: Request, fault: Exception) -> Response:
    """Knowledge files that do not hold together, while they are being edited: the first faults, as `advisor doctor` says them."""
    assert isinstance(fault, KnowledgeError)
    said = [str(p) for p in fault.problems[:5]]
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": "the knowledge files do not hold together", "problems": said}, 503)
    return PlainTextResponse("The knowledge files do not hold together; 'advisor doctor' names every fault.\n" + "\n".join(said), 503)


async def refused(request: Request, fault: Exception) -> Response:
    """A page that is not there, or a way of asking that it does not take."""
    assert isinstance(fault, HTTPException)
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": fault.detail}, fault.status_code, fault.headers)
    title = "No such page" if fault.status_code == 404 else "Not possible"
    return page(request, "error.html", fault.status_code, dict(fault.headers or {}), error=None, title=title)


async def broken(request: Request, fault: Exception) -> Response:
    """A fault of our own: said plainly; the server prints the trace where it was started."""
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": "a fault of the advisor's own"}, 500)
    return PlainTextResponse("A fault of the advisor's own. Go back: what you typed is still there.", 500)


def build(desk: Desk, guard: Guard) -> ASGIApp:
    """The whole application for one desk and one guard."""
    app = Starlette(
        routes=[
            *ask.routes,
            *stash.routes,
            *importing.routes,
            *makes.routes,
            *needs.routes,
            *plan.routes,
            *tests.routes,
            *explain.routes,
            *api.routes,
            Route("/alive", alive),
            Mount("/static", StaticFiles(directory=STATIC), name="static"),
        ],
        exception_handlers={Unclear: unclear, HTTPException: refused, KnowledgeError: broken_knowledge, Exception: broken},
    )
    app.state.desk, app.state.guard = desk, guard
    return Safety(app, guard)
