"""Makes: those that there are, a new one by answering or from its file, and the cloth for it out of stash or knowledge."""

from __future__ import annotations

from collections import defaultdict
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from advisor import report
from advisor.errors import Unclear
from advisor.page.asking import typed
from advisor.page.desk import Desk
from advisor.page.forms import Posted, posted
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page

LONG = ("features", "fabrics", "not_for", "table", "layers", "notions", "techniques", "notes")
"""Answers that may be several lines."""
TOP = 25
MOST_TYPED = 200


def every(request: Request) -> Response:
    return page(request, "makes.html", makes=desk_of(request).shelf.every(), did=request.query_params.get("did", "")[:40])


def one(request: Request) -> Response:
    """A make in plain words."""
    found = desk_of(request).shelf.find(request.query_params.get("name", ""))
    return page(request, "make.html", found=found, did=request.query_params.get("did", "")[:40])


def new(request: Request) -> Response:
    return _new(request, {}, ())


def _new(request: Request, fields: dict[str, str], ticked: tuple[str, ...], status: int = 200, error: Any = None, **more: Any) -> Response:
    from advisor.making.asking import questions

    form = typed([("feature", f) for f in ticked] + [(k, v) for k, v in fields.items() if k.startswith("figure.")])
    return page(request, "make_new.html", status, questions=questions(desk_of(request).knowledge), long=LONG, fields=defaultdict(str, fields), form=form, error=error, **more)


def save(request: Request, form: Posted) -> Response:
    """A new make from the answers, the ticked pictures among its features."""
    from advisor.making.asking import Draft, questions
    from advisor.making.writing import write_make

    desk, ticked = desk_of(request), tuple(form.every("feature"))
    try:
        form.sure()
        draft = Draft(desk.knowledge)
        lines = [form.text("features"), *(_line(desk, feature, form) for feature in ticked)]
        given = {**form.fields, "features": "\n".join(line for line in lines if line.strip())}
        for asked in questions(desk.knowledge):
            if given.get(asked.key, "").strip():
                draft.take(asked.key, given[asked.key].replace("\r\n", "\n"))
        made = draft.finished()
        path = desk.shelf.place(made)
        write_make(made, path)
    except Unclear as fault:
        return _new(request, form.fields, ticked, 422, for_page(fault))
    return RedirectResponse(f"/makes/view?name=own/{quote(path.stem)}&did=made", 303)


def _line(desk: Desk, feature: str, form: Posted) -> str:
    """A ticked feature as a maker would say it, with its figures: 'flounce 120 mm deep'."""
    if feature not in desk.knowledge.features:
        raise Unclear(f"the ticked feature '{feature[:40]}'", "a feature that the list shows")
    entry = desk.knowledge.features[feature]
    name = entry.names[0] if entry.names else entry.id.replace("-", " ")
    words = {"depth_mm": "mm deep", "width_mm": "mm wide", "length_cm": "cm long", "length_mm": "mm long", "diameter_mm": "mm across", "fullness": "times full", "count": ""}
    said = [f"{form.text(f'figure.{feature}.{figure}').strip()} {words.get(figure, '')}".strip() for figure in entry.figures if form.text(f"figure.{feature}.{figure}").strip()]
    return " ".join([name, *said])


def edit(request: Request) -> Response:
    """A make's file as text."""
    found = desk_of(request).shelf.find(request.query_params.get("name", "")) if request.query_params.get("name") else None
    text = found.path.read_text(encoding="utf-8-sig") if found else ""
    return page(request, "make_edit.html", found=found, text=text, faults=[], error=None)


def save_text(request: Request, form: Posted) -> Response:
    """A make's file, read over as a whole: kept when it is in order, else shown with every fault."""
    from advisor.files import write_whole
    from advisor.makes import parse_make
    from advisor.making.checking import check_text

    desk, name = desk_of(request), request.query_params.get("name", "")
    found = desk.shelf.find(name) if name else None
    upload = form.files.get("file")
    text = form.text("text").replace("\r\n", "\n")
    try:
        if upload:
            try:
                text = upload.data.decode("utf-8-sig")
            except UnicodeDecodeError:
                raise Unclear(f"the file '{upload.name[:60]}'", "a text file in UTF-8") from None
        form.sure()
        if not text.strip():
            raise Unclear("no make", "its file, or its text")
        faults = check_text(text, desk.knowledge)
        if faults.wrong:
            return page(request, "make_edit.html", 422, found=found, text=text, faults=faults.found, error=None)
        made = parse_make(text)
        path = found.path if found and found.own else desk.shelf.place(made)
        write_whole(text if text.endswith("\n") else text + "\n", path, over=bool(found and found.own))
    except Unclear as fault:
        return page(request, "make_edit.html", 422, found=found, text=text, faults=[], error=for_page(fault))
    return RedirectResponse(f"/makes/view?name=own/{quote(path.stem)}&did=made", 303)


def removing(request: Request) -> Response:
    return page(request, "make_remove.html", found=_own(desk_of(request), request.query_params.get("name", "")), error=None)


def remove(request: Request, form: Posted) -> Response:
    found = _own(desk_of(request), form.text("name"))
    try:
        form.sure()
    except Unclear as fault:
        return page(request, "make_remove.html", 422, found=found, error=for_page(fault))
    found.path.unlink(missing_ok=True)
    return RedirectResponse("/makes?did=removed", 303)


def _own(desk: Desk, name: str) -> Any:
    found = desk.shelf.find(name)
    if not found.own:
        raise Unclear(f"'{found.title}'", "a make of your own; examples stay")
    return found


# ---- a cloth for a make ----


def pick(request: Request) -> Response:
    """Cloths ranked for a make: out of the stash, those named, or all that the advisor knows."""
    desk, query = desk_of(request), request.query_params
    name, where, words = query.get("make", ""), query.get("from", ""), query.get("cloths", "")[:20_000]
    answer: report.PickReport | None = None
    error = None
    if name:
        try:
            answer = _picked(desk, name, where, words)
        except Unclear as fault:
            error = for_page(fault)
    return page(request, "pick.html", 422 if error else 200, makes=desk.makes(), name=name, where=where or "stash", words=words,
                answer=answer, error=error, top=TOP, has_stash=desk.stash.exists())  # fmt: skip


def _picked(desk: Desk, name: str, where: str, words: str) -> report.PickReport:
    found = desk.shelf.find(name)
    if found.make is None:
        raise Unclear(f"'{found.title}'", found.problem)
    made = found.make
    cloths = [line.strip() for line in words.splitlines() if line.strip()]
    if where == "words":
        if not cloths:
            raise Unclear("no cloth", "at least one cloth, one a line", "cotton lawn, 75 gsm")
        if len(cloths) > MOST_TYPED:
            raise Unclear(f"{len(cloths)} cloths", f"at most {MOST_TYPED} at a time")
        return desk.pick(made, found.path, cloths)
    if where == "known":
        return desk.pick(made, found.path, [])
    if not desk.stash.exists():
        raise Unclear("a stash with nothing in it", "a piece put in first, or another choice")
    return desk.pick_from_stash(made, found.path)


routes = [
    Route("/makes", every),
    Route("/makes/view", one),
    Route("/makes/new", new),
    Route("/makes/new", posted(save), methods=["POST"]),
    Route("/makes/edit", edit),
    Route("/makes/edit", posted(save_text), methods=["POST"]),
    Route("/makes/remove", removing),
    Route("/makes/remove", posted(remove), methods=["POST"]),
    Route("/pick", pick),
]
