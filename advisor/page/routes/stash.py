"""The stash: what there is, a piece, adding with a photograph, editing, cutting, noting, reserving, and removal."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import FileResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from advisor.errors import Unclear
from advisor.page.desk import Desk
from advisor.page.forms import Posted, posted
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page
from advisor.stash import measures, pieces, store
from advisor.stash.fields import with_fields
from advisor.stash.pieces import Piece
from advisor.stash.place import PREFIX, default_path

FIELDS = ("name", "description", "length", "width", "kept", "bought", "price", "prewashed", "shrank", "tests", "notes")
"""The fields of the form, in the order in which they stand."""

WASHED = {"": None, "yes": True, "no": False}


def held(desk: Desk) -> list[Piece]:
    """All pieces; none where no stash was begun."""
    if not desk.stash.exists():
        return []
    with store.reading(desk.stash) as db:
        return store.pieces(db)


def find(desk: Desk, name: str) -> Piece:
    if not desk.stash.exists():
        raise Unclear(f"piece '{name[:60]}'", "a piece in your stash, which is still empty")
    with store.reading(desk.stash) as db:
        return store.find(db, name)


def every(request: Request) -> Response:
    """The pieces, those that hold all the words where some were given."""
    desk, query = desk_of(request), request.query_params
    words, all_ = query.get("q", "")[:200], bool(query.get("all"))
    there = held(desk)
    found = [p for p in there if (all_ or p.lengths_m or not p.cuts) and all(w in _text(p) for w in words.casefold().split())]
    return page(request, "stash.html", q=words, all=all_, found=found, held=len(there), did=query.get("did", "")[:80],
                photo=lambda p: desk.photographs.of(p.photo), show=measures.show_length)  # fmt: skip


def _text(piece: Piece) -> str:
    return " ".join((piece.name, piece.description, piece.kept, *piece.notes, *(r.make for r in piece.reserved))).casefold()


def piece(request: Request) -> Response:
    """One piece, and what can be done with it."""
    return _piece(request, find(desk_of(request), request.query_params.get("name", "")), did=request.query_params.get("did", "")[:80])


def _piece(request: Request, found: Piece, status: int = 200, **values: Any) -> Response:
    desk = desk_of(request)
    shown = {"error": None, "fields": {}, "did": "", "asked": "", **values}
    shown["fields"] = defaultdict(str, shown["fields"])  # a field that was not in the form is empty in it
    return page(request, "stash_piece.html", status, piece=found, photo=desk.photographs.of(found.photo),
                ask=_asked_as(desk, found), show=measures.show_length, show_width=measures.show_width, **shown)  # fmt: skip


def _asked_as(desk: Desk, found: Piece) -> str:
    """How a question names this piece: as a piece of the usual stash, with all that is known of it, else in its words."""
    usual = desk.stash == default_path().absolute()
    return f"{PREFIX}{found.name}" if usual and not re.search(r"\sfor\s|--", found.name) else pieces.words_for(found)[:900]


def photo(request: Request) -> Response:
    """A piece's photograph, or one that waits in a form that is not saved yet."""
    desk, query = desk_of(request), request.query_params
    if query.get("waiting"):
        path = desk.photographs.shown_waiting(query["waiting"])
    else:
        path = desk.photographs.of(find(desk, query.get("name", "")).photo)
    if path is None:
        return PlainTextResponse("No photograph.", 404)
    return FileResponse(path, media_type="image/jpeg", headers={"cache-control": "no-store"})


# ---- adding and editing: one form ----


def new(request: Request) -> Response:
    description = request.query_params.get("description", "")[:500]
    return _form(request, {"description": description}, old=None)


def edit(request: Request) -> Response:
    old = find(desk_of(request), request.query_params.get("name", ""))
    return _form(request, _texts(old), old=old)


def _form(request: Request, fields: dict[str, str], *, old: Piece | None, status: int = 200, error: Any = None) -> Response:
    desk = desk_of(request)
    return page(request, "stash_form.html", status, fields={f: fields.get(f, "") for f in FIELDS}, old=old, error=error,
                waiting=desk.photographs.waits(fields.get("waiting", "")),
                photo=desk.photographs.of(old.photo) if old else None)  # fmt: skip


def _texts(old: Piece) -> dict[str, str]:
    """A piece's fields as they would be typed."""
    per = {"m": " a metre", "yd": " a yard"}.get(old.price_for, "")
    shrank = [f"{way} {value:g} %" for way, value in (("along", old.shrank_along_pct), ("across", old.shrank_across_pct)) if value is not None]
    return {
        "name": old.name, "description": old.description, "length": " + ".join(f"{v:g} m" for v in old.lengths_m),
        "width": f"{old.width_cm:g} cm" if old.width_cm else "", "kept": old.kept, "bought": old.bought,
        "price": f"{old.price} {old.currency}".strip() + per if old.price else "",
        "prewashed": {True: "yes", False: "no", None: ""}[old.prewashed], "shrank": " ".join(shrank), "tests": old.tests,
        "notes": "\n".join(old.notes),
    }  # fmt: skip


def save_new(request: Request, form: Posted) -> Response:
    return _save(request, form, None)


def save_edit(request: Request, form: Posted) -> Response:
    return _save(request, form, find(desk_of(request), request.query_params.get("name", "")))


def _save(request: Request, form: Posted, old: Piece | None) -> Response:
    """Adds or changes a piece. Whatever is wrong, the form comes back filled in, the photograph with it."""
    desk, fields = desk_of(request), form.fields
    try:
        upload = form.files.get("photo")
        if upload:
            fields["waiting"] = desk.photographs.take(upload)
        form.sure()
        found = _read(desk, fields, old)
        waiting = fields.get("waiting", "")
        if waiting:
            found = replace(found, photo=str(desk.photographs.folder / waiting) if desk.photographs.waits(waiting) else found.photo)
        elif form.text("no_photo"):
            found = replace(found, photo="")
        with store.changing(desk.stash, make=True) as db:
            found = store.replace_piece(db, old.name, found) if old else store.add(db, found)
            if desk.photographs.waits(waiting):
                desk.photographs.keep(waiting)
    except Unclear as fault:
        return _form(request, fields, old=old, status=422, error=for_page(fault))
    return _to(found.name, "saved" if old else "added")


def _read(desk: Desk, fields: dict[str, str], old: Piece | None) -> Piece:
    """The piece as the form says it; raises `Unclear`."""
    from advisor.stash.reading import understanding

    text = {name: fields.get(name, "").strip() for name in FIELDS}
    description = measures.one_line(text["description"], "description", 2000)
    if not description:
        raise Unclear("no description", "the cloth in your own words", "cotton poplin, 120 gsm")
    read = understanding(desk.knowledge)(description, text["tests"])
    if text["prewashed"] not in WASHED:
        raise Unclear(f"pre-washed '{text['prewashed'][:20]}'", "yes, no or not known")
    lengths = measures.lengths_m(text["length"])
    base = old or Piece(name="", description="", added=store.today())
    found = replace(
        base, name=text["name"] or description[:200], description=description, prewashed=WASHED[text["prewashed"]],
        notes=pieces.lines_of(fields.get("notes", "").splitlines()),
        lengths_m=lengths if text["length"] or old or not read.length_m else (round(read.length_m, 4),),
    )  # fmt: skip
    found = with_fields(found, "metric", {name: text[name] for name in ("width", "bought", "kept", "price", "shrank", "tests")})
    if not text["width"] and read.width_cm:
        found = replace(found, width_cm=round(read.width_cm, 2))
    return pieces.checked(found)


# ---- small changes from a piece's page ----


def _change(did: str, asked: str, step: Callable[[Piece, Posted], Piece]) -> Any:
    """An endpoint that changes one piece and returns to it; an error is shown there, with what was typed."""

    def handler(request: Request, form: Posted) -> Response:
        desk, name = desk_of(request), form.text("name")
        try:
            form.sure()
            find(desk, name)
            with store.changing(desk.stash) as db:
                store.replace_piece(db, name, step(store.find(db, name), form))
        except Unclear as fault:
            return _piece(request, find(desk, name), 422, error=for_page(fault), fields=form.fields, asked=asked)
        return _to(name, did)

    return posted(handler)


def _to(name: str, did: str) -> Response:
    return RedirectResponse(f"/stash/piece?name={quote(name)}&did={did}", 303)


def _cut(found: Piece, form: Posted) -> Piece:
    text = form.text("length").strip()
    number = int(form.text("from")) if form.text("from").isdigit() and len(form.text("from")) < 5 else None
    if text.lower() == "all":
        if len(found.lengths_m) != 1 and number is None:
            raise Unclear(f"all of '{found.name}', which has {len(found.lengths_m)} lengths", "which of them")
        metres = found.lengths_m[(number or 1) - 1] if 0 < (number or 1) <= len(found.lengths_m) else measures.MOST_M
    else:
        metres = measures.length_m(text, what="cut")
    return pieces.cut(found, metres, day=store.today(), make=form.text("make"), number=number)


def _note(found: Piece, form: Posted) -> Piece:
    lines = pieces.lines_of([form.text("note")])
    if not lines:
        raise Unclear("an empty note", "a note in words")
    return replace(found, notes=(*found.notes, f"{store.today()} {lines[0]}", *lines[1:]))


def _reserve(found: Piece, form: Posted) -> Piece:
    if not form.text("make").strip():
        raise Unclear("a reservation for nothing", "the make that it is kept for")
    length = form.text("length").strip()
    return pieces.reserve(found, form.text("make"), measures.length_m(length, what="reserved length") if length else None)


def _measured(found: Piece, form: Posted) -> Piece:
    """What a home test found, added to what was measured before."""
    said = measures.one_line(form.text("phrase")).removeprefix("measured:").strip()
    if not said:
        raise Unclear("no result", "the result of a test")
    return replace(found, tests=", ".join(t for t in (found.tests, said) if t))


def remove(request: Request) -> Response:
    """Asks once more before a piece is taken out."""
    return page(request, "stash_remove.html", piece=find(desk_of(request), request.query_params.get("name", "")), error=None)


def removed(request: Request, form: Posted) -> Response:
    from advisor.stash.backup import back_up

    desk, name = desk_of(request), form.text("name")
    found = find(desk, name)
    try:
        form.sure()
        with store.changing(desk.stash) as db:
            store.find(db, name)
            back_up(desk.stash, "before-removal")
            store.remove(db, name)
    except Unclear as fault:
        return page(request, "stash_remove.html", 422, piece=found, error=for_page(fault))
    return RedirectResponse("/stash?did=removed", 303)


routes = [
    Route("/stash", every),
    Route("/stash/new", new),
    Route("/stash/new", posted(save_new), methods=["POST"]),
    Route("/stash/edit", edit),
    Route("/stash/edit", posted(save_edit), methods=["POST"]),
    Route("/stash/piece", piece),
    Route("/stash/photo", photo),
    Route("/stash/use", _change("used", "use", _cut), methods=["POST"]),
    Route("/stash/note", _change("noted", "note", _note), methods=["POST"]),
    Route("/stash/reserve", _change("reserved", "reserve", _reserve), methods=["POST"]),
    Route("/stash/release", _change("released", "reserve", lambda p, f: pieces.release(p, f.text("make"))), methods=["POST"]),
    Route("/stash/measured", _change("measured", "measured", _measured), methods=["POST"]),
    Route("/stash/remove", remove),
    Route("/stash/remove", posted(removed), methods=["POST"]),
]
