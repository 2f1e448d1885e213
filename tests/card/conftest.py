"""Cards need typst; a picture's grey values are what the eye sees of them."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

pytest.importorskip("typst")
sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def pixels():
    """The grey values of a PNG as a picture."""
    from PIL import Image

    return lambda content: Image.open(io.BytesIO(content)).convert("L")
