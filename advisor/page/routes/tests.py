"""Home tests, guided: what is needed, one step at a time with a timer where the step takes time, the figures, the result."""

from __future__ import annotations

import re
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from advisor import hometests
from advisor.errors import Unclear
from advisor.page.rendering import desk_of, page
from advisor.page.routes.stash import held
from advisor.page.wording import for_page

_WORDS = {"a": 1, "an": 1, "another": 1, "one": 1, "two": 2, "three": 3, "five": 5, "ten": 10, "half a": 0.5, "quarter of an": 0.25, "a quarter of an": 0.25}
_SECONDS = {"second": 1, "minute": 60, "hour": 3600}
_TIME = re.compile(rf"\b(\d+|{'|'.join(sorted(_WORDS, key=len, reverse=True))})\s+(second|minute|hour)s?\b")


def seconds_in(step: str) -> int:
    """How long a step says to wait, in seconds; 0 where it names no time."""
    match = _TIME.search(step)
    if not match:
        return 0
    count = float(match.group(1)) if match.group(1).isdigit() else _WORDS[match.group(1)]
    return round(count * _SECONDS[match.group(2)])


def every(request: Request) -> Response:
    """All tests by what they settle."""
    rows = hometests.list_tests(desk_of(request).knowledge).tests
    groups: dict[str, list[Any]] = {}
    for row in rows:
        groups.setdefault(row.property_name, []).append(row)
    return page(request, "tests.html", groups=groups, piece=request.query_params.get("piece", "")[:200])


def guided(request: Request) -> Response:
    """One test: step 0 is what is needed, then each step, then what was seen."""
    desk, query = desk_of(request), request.query_params
    test = hometests.find_test(request.path_params["test"], desk.knowledge)
    guide = hometests.guide(test, desk.knowledge)
    said = query.get("step", "0")
    step = min(int(said), len(guide.how) + 1) if said.isdigit() and len(said) < 4 else 0
    wait = seconds_in(guide.how[step - 1]) if 0 < step <= len(guide.how) else 0
    return page(request, "test.html", guide=guide, step=step, wait=wait, name=_name(test), given={}, error=None, piece=query.get("piece", "")[:200])


def _name(test: Any) -> str:
    return str(test.names[0] if test.names else test.id.replace("-", " "))


def result(request: Request) -> Response:
    """What the figures come to; an error shows the last step again, filled in."""
    desk, query = desk_of(request), request.query_params
    test = hometests.find_test(request.path_params["test"], desk.knowledge)
    guide = hometests.guide(test, desk.knowledge)
    specs = hometests.recipes(desk.knowledge).figures
    given = {k: v[:60] for k, v in query.items() if k in specs or k == "reading"}
    piece = query.get("piece", "")[:200]
    try:
        figures = {
            name: [hometests.quantity(part, name, specs[name]) for part in re.split(r"[;\n]|,\s", text) if part.strip()]
            for name, text in given.items() if name != "reading" and text.strip()
        }  # fmt: skip
        if not figures and not given.get("reading"):
            raise Unclear("no figure", "what you read off, or the stage that you saw")
        answer = hometests.measure(test, desk.knowledge, figures, given.get("reading", ""))
    except Unclear as fault:
        return page(request, "test.html", 422, guide=guide, step=len(guide.how) + 1, wait=0, name=_name(test), given=given,
                    error=for_page(fault), piece=piece)  # fmt: skip
    return page(request, "test_result.html", answer=answer, guide=guide, name=_name(test), piece=piece, pieces=[p.name for p in held(desk)])


routes = [Route("/tests", every), Route("/tests/{test}", guided), Route("/tests/{test}/result", result)]
