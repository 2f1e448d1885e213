"""The JSON end points: the same reports for another program on this computer, read only, as `/api/openapi.json` says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import msgspec
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from advisor import __version__, advise, hometests, report
from advisor.cli.explain import Explanation, body, find
from advisor.cli.list import entries
from advisor.cli.need import TAKES
from advisor.errors import Unclear
from advisor.knowledge import KIND_TYPES
from advisor.need.reports import NeedReport
from advisor.page.asking import CIRCUMSTANCES, MOST_FEATURES
from advisor.page.desk import Desk
from advisor.page.rendering import desk_of
from advisor.page.routes.needs import FLAGS, LEFT_OUT, answer_of
from advisor.page.routes.stash import held
from advisor.page.suggesting import Suggestion
from advisor.stash.answers import ListAnswer, ListedPiece

LONGEST = 1000


class Suggestions(msgspec.Struct):
    """The ways in which the box may go on."""

    suggestions: list[Suggestion]


class Wrong(msgspec.Struct):
    """What was not understood: what was given, what would have been right, and the nearest choice."""

    error: str
    given: str = ""
    expected: str = ""
    nearest: str = ""


@dataclass(frozen=True)
class Parameter:
    """One parameter of a query."""

    name: str
    about: str
    needed: bool = False
    repeated: bool = False
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class EndPoint:
    """One address: what it answers, what it takes, and the report that comes back."""

    path: str
    about: str
    answers: type[msgspec.Struct]
    answer: Callable[[Desk, QueryParams], msgspec.Struct]
    takes: tuple[Parameter, ...] = field(default=())


def _text(query: QueryParams, name: str, *, needed: bool = False) -> str:
    text = query.get(name, "")
    if len(text) > LONGEST:
        raise Unclear(f"{name} of {len(text)} characters", f"at most {LONGEST}")
    if any((ord(c) < 32 and c not in "\t\n\r") or 0xD800 <= ord(c) <= 0xDFFF for c in text):
        raise Unclear(name, "plain text")
    if needed and not text.strip():
        raise Unclear(f"no {name}", f"a {name} in words")
    return text


def _features(query: QueryParams) -> list[str]:
    found = query.getlist("feature")
    if len(found) > MOST_FEATURES:
        raise Unclear(f"{len(found)} features", f"at most {MOST_FEATURES} at a time")
    return found


def _check(desk: Desk, query: QueryParams) -> report.CheckReport:
    said = {name: _text(query, name) for name in CIRCUMSTANCES}
    features = _features(query)
    if not features and not (said["season"] or said["use"] or said["care"]):
        raise Unclear("no feature", "at least one feature")
    return advise.check(
        _text(query, "cloth", needed=True), features, wearer=said["wearer"], season=said["season"], use=said["use"],
        care=said["care"], deciding=True, knowledge=desk.knowledge,
    )  # fmt: skip


def _press(desk: Desk, query: QueryParams) -> report.PressReport:
    return advise.press(_text(query, "cloth", needed=True), _features(query), knowledge=desk.knowledge)


def _prewash(desk: Desk, query: QueryParams) -> report.PrewashReport:
    return advise.prewash(
        _text(query, "cloth", needed=True), care=_text(query, "care"), features=_features(query), knowledge=desk.knowledge
    )


def _sew(desk: Desk, query: QueryParams) -> report.SewReport:
    return advise.sew(_text(query, "cloth", needed=True), _features(query), knowledge=desk.knowledge)


def _suggest(desk: Desk, query: QueryParams) -> Suggestions:
    return Suggestions(desk.names.suggest(_text(query, "ask")))


def _explain(desk: Desk, query: QueryParams) -> Explanation:
    found = find(_text(query, "id", needed=True), desk.knowledge)
    return Explanation(found[0][1].id, [{"kind": kind, **body(entry)} for kind, entry in found])


def _list(desk: Desk, query: QueryParams) -> report.ListReport:
    return entries(_text(query, "kind", needed=True), _text(query, "word"), desk.knowledge)


def _tests(desk: Desk, query: QueryParams) -> hometests.TestList:
    return hometests.list_tests(desk.knowledge)


def _test(desk: Desk, query: QueryParams) -> hometests.TestGuide:
    return hometests.guide(hometests.find_test(_text(query, "test", needed=True), desk.knowledge), desk.knowledge)


def _stash(desk: Desk, query: QueryParams) -> ListAnswer:
    there = held(desk)
    listed = [ListedPiece(p, p.left_m, p.reserved_m, p.free_m) for p in there]
    return ListAnswer(str(desk.stash), listed, round(sum(p.left_m for p in there), 4), len(there))


def _need(question: str) -> Callable[[Desk, QueryParams], NeedReport]:
    def answer(desk: Desk, query: QueryParams) -> NeedReport:
        for name in query:
            _text(query, name)
        return answer_of(query, question, desk)

    return answer


CLOTH = Parameter("cloth", "The cloth in your own words", True)
FEATURE = Parameter("feature", "What the garment has, with figures and place", repeated=True)
CARE = Parameter("care", "How it will be washed and dried")
END_POINTS: tuple[EndPoint, ...] = (
    EndPoint("/api/check", "Does this cloth suit these features?", report.CheckReport, _check,
             (CLOTH, FEATURE, *(Parameter(name, f"The {name}") for name in CIRCUMSTANCES))),
    EndPoint("/api/press", "How it is pressed", report.PressReport, _press, (CLOTH, FEATURE)),
    EndPoint("/api/prewash", "How it is prepared before cutting", report.PrewashReport, _prewash, (CLOTH, FEATURE, CARE)),
    EndPoint("/api/sew", "How it is sewn", report.SewReport, _sew, (CLOTH, FEATURE)),
    EndPoint("/api/suggest", "Names that go on from what was typed", Suggestions, _suggest, (Parameter("ask", "The box as far as it is typed"),)),
    EndPoint("/api/explain", "What an entry is", Explanation, _explain, (Parameter("id", "Its id or name", True),)),
    EndPoint("/api/list", "What is known of one kind", report.ListReport, _list,
             (Parameter("kind", "The kind", True, choices=tuple(KIND_TYPES)), Parameter("word", "Only what holds this word"))),
    EndPoint("/api/tests", "All home tests", hometests.TestList, _tests),
    EndPoint("/api/test", "How one home test is made", hometests.TestGuide, _test, (Parameter("test", "Its id or name", True),)),
    EndPoint("/api/stash", "The pieces that are owned", ListAnswer, _stash),
    *(
        EndPoint(f"/api/need/{question}", f"How much: {question}", NeedReport, _need(question),
                 (*(Parameter(name, name.replace("_", " ")) for name in sorted(TAKES[question] - LEFT_OUT)),
                  Parameter("units", "The units of bare figures", choices=("metric", "imperial"))))
        for question in TAKES
    ),
)  # fmt: skip


def _endpoint(point: EndPoint) -> Callable[[Request], Response]:
    def endpoint(request: Request) -> Response:
        answer = point.answer(desk_of(request), request.query_params)
        return Response(msgspec.json.encode(answer), media_type="application/json")

    return endpoint


def document() -> dict[str, Any]:
    """The OpenAPI 3.1 document of the end points above."""
    types = list(dict.fromkeys([*(p.answers for p in END_POINTS), Wrong]))
    schemas, parts = msgspec.json.schema_components(types, ref_template="#/components/schemas/{name}")
    by_type = dict(zip(types, schemas, strict=True))
    wrong = {"description": "Not understood", "content": {"application/json": {"schema": by_type[Wrong]}}}
    paths = {
        point.path: {
            "get": {
                "summary": point.about,
                "operationId": point.path.removeprefix("/api/").replace("/", "_"),
                "parameters": [_described(p) for p in point.takes],
                "responses": {
                    "200": {"description": point.about, "content": {"application/json": {"schema": by_type[point.answers]}}},
                    "422": wrong,
                },
            }
        }
        for point in END_POINTS
    }
    return {
        "openapi": "3.1.0",
        "info": {"title": "Fabric suitability advisor", "version": __version__, "description": "Read only, from this computer alone."},
        "paths": paths,
        "components": {"schemas": parts},
    }


def _described(parameter: Parameter) -> dict[str, Any]:
    one: dict[str, Any] = {"type": "string", "maxLength": LONGEST}
    if parameter.choices:
        one["enum"] = list(parameter.choices)
    if parameter.name in FLAGS:
        one["description"] = "any text means yes"
    schema = {"type": "array", "items": one, "maxItems": MOST_FEATURES} if parameter.repeated else one
    return {"name": parameter.name, "in": "query", "required": parameter.needed, "description": parameter.about, "schema": schema}


def openapi(request: Request) -> Response:
    return JSONResponse(document())


routes = [
    Route("/api/openapi.json", openapi),
    *(Route(point.path, _endpoint(point), name=point.path) for point in END_POINTS),
]
