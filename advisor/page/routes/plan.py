"""Plan: which piece of the stash for which make, and the days on which each step is done."""

from __future__ import annotations

from datetime import date
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from advisor.errors import Unclear
from advisor.page import drawing
from advisor.page.desk import Desk
from advisor.page.rendering import desk_of, page
from advisor.page.wording import for_page
from advisor.stash.measures import day as read_day
from advisor.stash.measures import show_length

MOST_HOURS = 168.0
MOST_MAKES = 20


def plan(request: Request) -> Response:
    desk, query = desk_of(request), request.query_params
    chosen = list(dict.fromkeys(query.getlist("make")))[: MOST_MAKES + 1]
    said = {name: query.get(name, "")[:40] for name in ("hours", "by")}
    answer, error, drawn = None, None, ""
    if chosen:
        try:
            answer = _planned(desk, chosen, said)
            drawn = drawing.dates(answer)
        except Unclear as fault:
            error = for_page(fault)
    return page(request, "plan.html", 422 if error else 200, makes=desk.makes(), chosen=chosen, said=said, answer=answer, error=error,
                drawn=drawn, show=show_length, day=_day_text, has_stash=desk.stash.exists())  # fmt: skip


def _planned(desk: Desk, chosen: list[str], said: dict[str, str]) -> Any:
    from advisor.plan.building import Held, Terms
    from advisor.plan.planning import plan_for
    from advisor.plan.tables import plan_table, weights_from

    if len(chosen) > MOST_MAKES:
        raise Unclear(f"{len(chosen)} makes", f"at most {MOST_MAKES} at a time")
    found = [desk.shelf.find(name) for name in chosen]
    for one in found:
        if one.make is None:
            raise Unclear(f"'{one.title}'", one.problem)
    hours, by = _hours(said["hours"]), _date(said["by"])
    stamps = tuple((str(f.path), f.path.stat().st_mtime_ns) for f in found)

    def planned() -> Any:
        terms = Terms(date.today(), weights_from(plan_table(desk.knowledge), []), hours, None, by)
        with desk.heavy:
            return plan_for([f.make for f in found if f.make], _held(desk, Held), terms, desk.knowledge, stash=str(desk.stash))

    return desk.keep(("plan", stamps, hours, by, date.today(), desk.stamp()), planned)


def _held(desk: Desk, kind: Any) -> Any:
    """What the stash holds; nothing where none was begun."""
    if not desk.stash.exists():
        return kind()
    from advisor.log import keeping
    from advisor.stash import store
    from advisor.wardrobe import keep

    with store.reading(desk.stash) as db:
        return kind(store.pieces(db), keeping.everything(db), keep.garments(db, "garment"), keep.garments(db, "wish"))


def _hours(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        value = float(text.replace(",", ".").strip().removesuffix("h"))
    except ValueError:
        raise Unclear(f"hours a week '{text}'", "a figure", "6") from None
    if not 0 < value <= MOST_HOURS:
        raise Unclear(f"{value:g} hours a week", f"above nought and at most {MOST_HOURS:g}")
    return value


def _date(text: str) -> date | None:
    found = read_day(text)
    if found and len(found) != len("2026-12-20"):
        raise Unclear(f"the day '{text}'", "a whole day, such as 2026-12-20")
    return date.fromisoformat(found) if found else None


def _day_text(day: str) -> str:
    when = date.fromisoformat(day)
    return f"{when:%a} {when.day} {when:%b}"


routes = [Route("/plan", plan)]
