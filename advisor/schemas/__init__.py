"""The JSON schemas of the reports, one file a command, as they are shipped.

`python -m advisor.schemas` writes them anew from the report structs; a test holds the files to the structs.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec

from advisor.makes import Make
from advisor.report import REPORTS

FOLDER = Path(__file__).parent


def schema_of(name: str) -> dict[str, Any]:
    """The schema of a command's report, or of a make file (`make`)."""
    return msgspec.json.schema(Make if name == "make" else REPORTS[name])


def text_of(name: str) -> str:
    return json.dumps(schema_of(name), indent=1, sort_keys=True) + "\n"


def write() -> None:
    for name in (*REPORTS, "make"):
        (FOLDER / f"{name}.json").write_text(text_of(name), encoding="utf-8")
