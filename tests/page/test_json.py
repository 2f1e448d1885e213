"""The JSON end points: what they say of themselves is what they do, and nothing typed breaks them."""

from __future__ import annotations

import json
import shutil
import subprocess

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.page.routes.api import END_POINTS

GOOD = {
    "/api/check": {"cloth": "linen, 185 gsm", "feature": ["flounce", "covered buttons 15 mm"]}, "/api/press": {"cloth": "acetate satin lining"},
    "/api/prewash": {"cloth": "linen", "care": "40 wash"}, "/api/sew": {"cloth": "linen", "feature": "gathers"}, "/api/suggest": {"ask": "visc"},
    "/api/explain": {"id": "flounce"}, "/api/list": {"kind": "fibres"}, "/api/tests": {}, "/api/test": {"test": "weight"}, "/api/stash": {},
    "/api/need/buttons": {"diameter": "15"}, "/api/need/bias": {"finished": "10", "length": "5"}, "/api/need/zip": {"opening": "20"},
}  # fmt: skip
ROUGH = st.one_of(
    st.sampled_from(["linen", "cotton poplin, 120 gsm", "for", "--for", '"', "'", "1e999", "-1", "0", "nan", "½ yd", "\x00", "٣ m", "piece:none", "../..", "{{7*7}}", "a" * 2000]),
    st.text(max_size=40),
)


@pytest.fixture(scope="module")
def page(knowledge, tmp_path_factory):
    from starlette.testclient import TestClient

    from advisor.page.app import build
    from advisor.page.desk import Desk
    from advisor.page.safety import Guard

    desk = Desk(knowledge, tmp_path_factory.mktemp("json") / "stash.db")
    return TestClient(build(desk, Guard(frozenset({"desk.test"}))), base_url="http://desk.test", raise_server_exceptions=False)


@pytest.fixture(scope="module")
def document(page):
    return page.get("/api/openapi.json").json()


@pytest.mark.parametrize("path", GOOD)
def test_an_answer_is_not_as_the_document_says(page, document, path):
    answer = page.get(path, params=GOOD[path])
    assert answer.status_code == 200, answer.text
    schema = document["paths"][path]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
    jsonschema.validate(answer.json(), {**schema, "components": document["components"]})


def test_an_end_point_is_missing_from_the_document(document):
    assert set(document["paths"]) == {p.path for p in END_POINTS}
    assert json.dumps(document)


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(point=st.sampled_from(END_POINTS), data=st.data())
def test_something_typed_breaks_an_end_point(page, point, data):
    query = {p.name: data.draw(st.lists(ROUGH, max_size=3) if p.repeated else ROUGH) for p in point.takes if p.needed or data.draw(st.booleans())}
    try:
        answer = page.get(point.path, params=query)
    except UnicodeEncodeError:  # half a letter: no browser can send it
        return
    assert answer.status_code in (200, 422), (query, answer.text[:300])
    assert answer.headers["content-type"] == "application/json"
    if answer.status_code == 422:
        assert answer.json()["error"]


def test_a_fuzzer_finds_a_fault(request, knowledge, tmp_path):
    """Schemathesis reads the document and asks what nobody would; no answer may be a fault of the server's own."""
    if not request.config.getoption("--full"):
        pytest.skip("the fuzzer runs with --full")
    found = shutil.which("schemathesis")
    if not found:
        pytest.skip("no schemathesis here (the extra 'fuzz')")
    from browser import serving

    from advisor.page.desk import Desk

    with serving(Desk(knowledge, tmp_path / "stash.db")) as home:
        done = subprocess.run(
            [found, "run", f"{home}/api/openapi.json", "--checks", "not_a_server_error,response_schema_conformance,content_type_conformance",
             "--max-examples", "40", "--phases", "examples,coverage,fuzzing"], capture_output=True, text=True, timeout=1500, check=False)  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]
