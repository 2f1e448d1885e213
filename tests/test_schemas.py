"""The shipped schemas are those of the reports."""

from __future__ import annotations

import pytest

from advisor.schemas import EVERY, FOLDER, text_of


@pytest.mark.parametrize("name", [*EVERY, "make"])
def test_a_shipped_schema_differs_from_its_report(name: str) -> None:
    assert (FOLDER / f"{name}.json").read_text(encoding="utf-8") == text_of(name)
