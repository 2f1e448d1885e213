"""A page for tests: the whole application with its safety layer, on a stash of its own."""

from __future__ import annotations

import re

import pytest

pytest.importorskip("starlette", reason="the page needs the extra 'page'")

from starlette.testclient import TestClient

from advisor.page.app import build
from advisor.page.desk import Desk
from advisor.page.safety import Guard

HOST = "desk.test:8731"


@pytest.fixture
def desk(knowledge, tmp_path) -> Desk:
    return Desk(knowledge, tmp_path / "stash.db")


@pytest.fixture
def client(desk) -> TestClient:
    """A browser on the page itself: its requests come from the page's own origin."""
    return TestClient(
        build(desk, Guard(frozenset({HOST}))), base_url=f"http://{HOST}", headers={"origin": f"http://{HOST}"}
    )


@pytest.fixture
def token(client) -> str:
    """The token that this browser's forms carry."""
    return re.search(r'name="token" value="([0-9a-f]{64})"', client.get("/stash/new").text).group(1)
