"""Bringing a list in: choose the file, look at what its columns are taken to mean, and bring it in."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from advisor.errors import Unclear
from advisor.page.desk import Desk
from advisor.page.forms import Posted, posted
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page

SHOWN = 5
"""How many rows of the list are shown before it is brought in."""


def choose(request: Request) -> Response:
    return page(request, "import.html", step="choose", error=None)


def look(request: Request, form: Posted) -> Response:
    """The columns as they are guessed, each to be changed, with the first rows below them."""
    desk = desk_of(request)
    try:
        form.sure()
        upload = form.files.get("list")
        if upload is None:
            raise Unclear("no list", "a file: CSV, XLSX, ODS, or the stash's own JSON")
        name = desk.lists.take(upload)
    except Unclear as fault:
        return page(request, "import.html", 422, step="choose", error=for_page(fault))
    return _look(request, desk, name, upload.name)


def _look(request: Request, desk: Desk, name: str, called: str, said: list[str] | None = None, error: Any = None) -> Response:
    from advisor.stash import importing

    path = desk.lists.find(name)
    try:
        if path.suffix == ".json":
            return page(request, "import.html", step="look", name=name, called=called, columns=[], fields=[], rows=[], remarks=[], error=error)
        table = importing.read_table(path)
    except Unclear as fault:
        return page(request, "import.html", 422, step="choose", error=for_page(_renamed(fault, path.name, called)))
    columns = [importing.Column(h, "ignore") for h in table.headings]
    try:
        columns = importing.propose(table, said or [])
    except Unclear as fault:
        error = error or for_page(fault)
    rows = [cells for _, cells in table.rows[:SHOWN]]
    return page(
        request, "import.html", 422 if error else 200, step="look", name=name, called=called, columns=columns,
        fields=importing.fields(), rows=rows, remarks=list(table.remarks), error=error, count=len(table.rows),
        unit=lambda c: f"{c.field}_{c.unit}" if c.unit and f"{c.field}_{c.unit}" in importing.fields() else c.field,
    )  # fmt: skip


def _renamed(fault: Unclear, kept: str, called: str) -> Unclear:
    """The error about the file by the name that its owner knows."""
    import re

    given = re.sub(rf"\S*{re.escape(kept)}", called, fault.given)
    return Unclear(given, fault.expected, fault.nearest)


def bring_in(request: Request, form: Posted) -> Response:
    """Reads every row and takes in those that can be read, in one transaction."""
    from advisor.stash import importing
    from advisor.stash.reading import understanding

    desk, name, called = desk_of(request), form.text("list"), form.text("called")[:100]
    try:
        path = desk.lists.find(name)
    except Unclear as fault:
        return page(request, "import.html", 422, step="choose", error=for_page(fault))
    said = [f"{heading}={field}" for heading, field in zip(form.every("heading"), form.every("field"), strict=False)]
    try:
        form.sure()
        understand = understanding(desk.knowledge)
        own = path.suffix == ".json"
        if own:
            rows, refused = importing.rows_from_json(path, understand)
            named = True
        else:
            table = importing.read_table(path)
            columns = importing.propose(table, said)
            rows, refused = importing.rows_of(table, columns, understand)
            named = any(c.field == "name" for c in columns)
        done = importing.take_in(desk.stash, rows, refused, all_or_nothing=bool(form.text("whole")), given_names=named)
    except Unclear as fault:
        return _look(request, desk, name, called, said, for_page(_renamed(fault, path.name, called)))
    if not done.refused or done.added:
        desk.lists.drop(name)
    words = {r.piece.name: r.understood.not_understood for r in rows if r.understood.not_understood}
    return page(request, "import.html", step="done", done=done, words=words, called=called, whole=bool(form.text("whole")), error=None)


routes = [
    Route("/stash/import", choose),
    Route("/stash/import", posted(look), methods=["POST"]),
    Route("/stash/import/take", posted(bring_in), methods=["POST"]),
]
