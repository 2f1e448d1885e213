"""Pages from templates: one Jinja environment with escaping always on, and the few words that templates share."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import jinja2
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from advisor.cli.measures import celsius, in_words
from advisor.cli.words import VERDICTS, label, score_text
from advisor.page import drawing
from advisor.page.safety import MOST_BYTES

if TYPE_CHECKING:
    from advisor.page.desk import Desk

TEMPLATES = Path(__file__).parent / "templates"
TABS = {"check": "Does it suit?", "press": "Press", "prewash": "Pre-wash", "sew": "Sew"}
"""The four answers to one question, as they are called on the page."""


def span(value: Any, unit: str = "") -> str:
    """'3' or '3 to 6', with its unit."""
    low, high = f"{value.low:g}", f"{value.high:g}"
    return f"{low if low == high else f'{low} to {high}'} {unit}".strip()


@jinja2.pass_context
def inunits(context: jinja2.runtime.Context, text: str) -> str:
    """A line of a report in the units that were chosen."""
    return in_words(text, str(context.get("units", "metric")))


def cap(text: str) -> str:
    """The first letter large, and no other small."""
    return text[:1].upper() + text[1:]


@jinja2.pass_context
def ended(context: jinja2.runtime.Context, text: str) -> str:
    """The end of a sentence: as it is, in the units that were chosen, with its full stop."""
    text = inunits(context, text.strip())
    return text + ("" if not text or text[-1] in ".!?:" else ".")


@jinja2.pass_context
def sentence(context: jinja2.runtime.Context, text: str) -> str:
    """A line of a report as a sentence in the units that were chosen: a capital, and a full stop where none stands."""
    return cap(ended(context, text))


def figure_name(name: str) -> str:
    """A figure's field as words, the unit in its place: 'depth, mm'."""
    stem, _, unit = name.rpartition("_")
    return f"{stem.replace('_', ' ')}, {unit}" if stem and unit in ("mm", "cm", "m") else name.replace("_", " ")


@lru_cache(maxsize=1)
def environment() -> jinja2.Environment:
    env = jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES), autoescape=True, undefined=jinja2.StrictUndefined,
        trim_blocks=True, lstrip_blocks=True, auto_reload=False,
    )  # fmt: skip
    env.filters.update(label=label, score=score_text, celsius=celsius, span=span, sentence=sentence, inunits=inunits, ended=ended, cap=cap, figurename=figure_name)
    env.globals.update(VERDICTS=VERDICTS, TABS=TABS, mark=drawing.mark, most_bytes=MOST_BYTES)
    return env


def is_part(request: Request) -> bool:
    """Whether only the answer is wanted, to be put into a page that stands already."""
    return request.headers.get("hx-request") == "true"


def desk_of(request: Request) -> Desk:
    desk: Desk = request.app.state.desk
    return desk


def page(request: Request, template: str, status: int = 200, headers: dict[str, str] | None = None, **values: Any) -> HTMLResponse:
    """A template as an answer; the session's token and the open page's place go with every one."""
    desk = desk_of(request)
    settings = desk.knowledge.settings

    def scorebar(score: Any) -> Markup:
        return drawing.score_bar(score, settings.care_from, settings.suits_from)

    values.setdefault("units", getattr(values.get("form"), "units", "metric"))
    text = environment().get_template(template).render(
        desk=desk, here=request.url.path, token=request.scope["advisor"]["token"], part=is_part(request), scorebar=scorebar, **values
    )
    return HTMLResponse(text, status, {"vary": "HX-Request", **(headers or {})})
