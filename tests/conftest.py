"""What every test shares: one knowledge base, and no sight of the tester's own folders or cache."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("desk", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)  # a run on a server tries the same cases every time
settings.load_profile("ci" if os.environ.get("CI") else "desk")

_ELSEWHERE = tempfile.mkdtemp(prefix="advisor-tests-")
atexit.register(shutil.rmtree, _ELSEWHERE, ignore_errors=True)
for _name in ("XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA"):
    os.environ[_name] = _ELSEWHERE
os.environ.pop("NO_COLOR", None)

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the project."""
    return ROOT


@pytest.fixture(scope="session")
def knowledge():
    """The shipped knowledge base, strictly checked."""
    from advisor.knowledge import load

    return load()


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--full` runs the proofs in their full length."""
    parser.addoption("--full", action="store_true", default=False, help="run the proofs in their full length")


@pytest.fixture(scope="session")
def full(request: pytest.FixtureRequest) -> bool:
    """Whether the proofs run in their full length."""
    return bool(request.config.getoption("--full"))
