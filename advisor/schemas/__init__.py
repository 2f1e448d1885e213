"""The JSON schemas of the reports, one file a command, as they are shipped.

`python -m advisor.schemas` writes them anew from the report structs; a test holds the files to the structs.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec

from advisor.card.reports import CardAnswer, HandoutAnswer
from advisor.demo import DemoReport
from advisor.hometests import SwatchReport, TestGuide, TestList
from advisor.log.answers import LogAnswer, LogFileAnswer, LogListAnswer
from advisor.makes import Make
from advisor.making.answers import MakeCheckReport, MakeListReport, NewMakeReport, ShownMakeReport
from advisor.need.reports import NeedReport
from advisor.report import REPORTS
from advisor.rescue import RescueReport, SymptomList
from advisor.stash.answers import BackupAnswer, ExportAnswer, ImportAnswer, ListAnswer, PieceAnswer, RestoreAnswer

FOLDER = Path(__file__).parent
EVERY: dict[str, type[msgspec.Struct]] = {
    **REPORTS, "need": NeedReport, "swatch": SwatchReport, "swatch-guide": TestGuide, "swatch-list": TestList,
    "rescue": RescueReport, "rescue-list": SymptomList,
    "stash": PieceAnswer, "stash-list": ListAnswer, "stash-import": ImportAnswer, "stash-export": ExportAnswer,
    "stash-backup": BackupAnswer, "stash-restore": RestoreAnswer, "log": LogAnswer, "log-list": LogListAnswer, "log-file": LogFileAnswer,
    "make-new": NewMakeReport, "make-check": MakeCheckReport, "make-show": ShownMakeReport, "make-list": MakeListReport,
    "demo": DemoReport, "card": CardAnswer, "handout": HandoutAnswer,
}  # fmt: skip
"""Every document that a command prints with --json. Reports that live beside what they report are named here, above them
all, since `advisor.report` must not import what is built on it."""


def schema_of(name: str) -> dict[str, Any]:
    """The schema of a command's report, or of a make file (`make`)."""
    return msgspec.json.schema(Make if name == "make" else EVERY[name])


def text_of(name: str) -> str:
    return json.dumps(schema_of(name), indent=1, sort_keys=True) + "\n"


def write() -> None:
    for name in (*EVERY, "make"):
        (FOLDER / f"{name}.json").write_text(text_of(name), encoding="utf-8")
