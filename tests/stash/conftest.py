"""What the stash's tests share: a long form of the ones that play dice, and a reader that needs no knowledge base."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.stash.pieces import Understood


def pytest_addoption(parser):
    parser.addoption(
        "--long", action="store_true", help="play the stash's dice 200 times, and its state machine for long"
    )


@pytest.fixture
def rounds(request) -> int:
    """How often a process is killed."""
    return 200 if request.config.getoption("--long", default=False) else 20


@pytest.fixture
def stash(tmp_path) -> Path:
    return tmp_path / "stash.db"


@pytest.fixture
def plainly():
    """Understands every word."""
    return lambda description, tests: Understood()
