"""Only the page's own user, on its own address, may see or change anything."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from advisor.page.app import build
from advisor.page.safety import MOST_BYTES, Guard

HOST = "desk.test:8731"

NASTY = '"><script>alert(1)</script>{{7*7}}<svg onload=x>'


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1:1", "", "desk.test", f"{HOST}.evil.example"])
def test_another_host_name_is_answered(client, host):
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421 and "form" not in answer.text


def test_a_page_comes_without_its_policy(client):
    for path in ("/", "/check?ask=linen", "/static/page.js", "/nowhere", "/api/suggest?ask=lin"):
        policy = client.get(path).headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy, path


def test_a_page_carries_inline_script_or_style(client):
    for path in ("/", "/check?ask=linen+for+flounce", "/press?ask=linen", "/prewash?ask=linen", "/sew?ask=linen+for+gathers"):
        text = client.get(path).text
        assert " style=" not in text and "<style" not in text and "javascript:" not in text, path
        assert text.count("<script") == 2 and " onclick" not in text, path


def test_typed_text_is_not_escaped(client):
    for path in ("/check", "/press", "/prewash", "/sew", "/suggest"):
        text = client.get(path, params={"ask": f"linen {NASTY} for {NASTY}", "season": NASTY, "care": NASTY}).text
        assert "<script>alert" not in text and "<svg onload" not in text and "49" not in text.split("{{")[0][-5:], path


def test_a_session_cookie_may_be_read_or_sent_across_sites(client):
    cookie = client.get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site", "origin": f"http://{HOST}"},
    ],
)
def test_another_site_can_change_the_stash(desk, headers):
    browser = TestClient(build(desk, Guard(frozenset({HOST}))), base_url=f"http://{HOST}", headers=headers)
    assert browser.post("/stash/new", data={"description": "linen"}).status_code == 403
    assert not desk.stash.exists()


def test_a_request_from_nowhere_can_change_the_stash(desk):
    browser = TestClient(build(desk, Guard(frozenset({HOST}))), base_url=f"http://{HOST}")
    assert browser.post("/stash/new", data={"description": "linen"}).status_code == 403


def test_a_body_without_end_is_taken_in(client):
    answer = client.post("/stash/new", content=b"x" * 10, headers={"content-length": str(MOST_BYTES + 1)})
    assert answer.status_code == 413

    def endless():
        for _ in range(MOST_BYTES // 1_000_000 + 2):
            yield b"x" * 1_000_000

    answer = client.post("/stash/new", content=endless(), headers={"content-type": "multipart/form-data; boundary=x"})
    assert answer.status_code == 413


@pytest.mark.parametrize("path", ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2fapp.py", "/static//etc/passwd", "/static/features/../../../../pyproject.toml"])
def test_a_path_leads_out_of_the_static_folder(client, path):
    answer = client.get(path)
    assert answer.status_code == 404 and "import" not in answer.text


def phone(desk):
    guard = Guard(frozenset({HOST}), "abc23456")
    app = build(desk, guard)
    return lambda: TestClient(app, base_url=f"http://{HOST}", headers={"origin": f"http://{HOST}"}, follow_redirects=False)


def test_a_phone_without_the_code_is_let_in(desk):
    browser = phone(desk)()
    for path in ("/", "/?code=wrong", "/static/page.css", "/api/suggest?ask=linen"):
        assert browser.get(path).status_code == 403, path


def test_the_code_lets_nobody_in_or_serves_twice(desk):
    new = phone(desk)
    first, second = new(), new()
    assert first.get("/?code=abc23456").status_code == 303
    assert first.get("/").status_code == 200
    assert second.get("/?code=abc23456").status_code == 403
    assert second.get("/").status_code == 403
