"""An invented maker's day, for showing what the advisor does: data files of `knowledge/demo` set up in a folder.

The scenario says what she owns, has sewn and asks; every answer is that of the commands themselves.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder


class Worn(msgspec.Struct, forbid_unknown_fields=True):
    """A garment that she owns."""

    words: str
    season: list[str] = []


class Past(msgspec.Struct, forbid_unknown_fields=True):
    """A make that she has done, of a piece of the stash or a cloth in words, and what she saw."""

    make: str
    on: str
    saw: list[str]
    piece: str = ""
    cloth: str = ""
    features: list[str] = []


class Step(msgspec.Struct, forbid_unknown_fields=True):
    """One thing of the day: what she wants, and the command as typed, or what is put in without showing each line."""

    say: str
    run: str = ""
    fill: list[Literal["wardrobe", "log"]] = []
    code: Annotated[int, Meta(ge=0)] = 0


class Scenario(msgspec.Struct, forbid_unknown_fields=True):
    """demo/scenario.yaml."""

    invented: Literal[True]
    title: str
    about: list[str]
    today: date
    wardrobe: list[Worn]
    log: list[Past]
    steps: list[Step]


class Answered(msgspec.Struct):
    """One step of the day: what was asked, the command, its exit code, and what it printed."""

    say: str
    command: str
    code: int
    printed: str


class DemoReport(msgspec.Struct):
    """The whole day. `folder` is where it was kept, null where it was thrown away."""

    title: str
    folder: str | None
    steps: list[Answered]


STASH = "stash.db"
"""The stash's file in the demonstration's folder."""


def folder() -> Path:
    """The data that come with the advisor."""
    return shipped_folder() / "demo"


def read_scenario(path: Path | None = None) -> Scenario:
    """The scenario; raises `Unclear` for a file that is not in order."""
    from advisor.reading import BadYaml, parse_yaml

    path = path or folder() / "scenario.yaml"
    try:
        return msgspec.convert(parse_yaml(path.read_text(encoding="utf-8")), Scenario)
    except (OSError, BadYaml, msgspec.ValidationError) as error:
        raise Unclear(f"demonstration '{path}', {error}", "the form that its first lines describe") from None


def set_up(into: Path) -> None:
    """Copies the list of cloth and the make files into an empty or new folder; raises `Unclear` for any other."""
    if into.exists() and (not into.is_dir() or any(into.iterdir())):
        raise Unclear(f"'{into}'", "a folder that is empty or not there yet, so that nothing of yours is touched")
    try:
        into.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(folder() / "stash.csv", into / "stash.csv")
        for make in sorted((folder() / "makes").glob("*.yaml")):
            shutil.copyfile(make, into / make.name)
    except OSError as error:
        raise Unclear(f"folder '{into}'", f"a place that can be written ({error.strerror or error.__class__.__name__})") from None


def filling(scenario: Scenario, what: str) -> Iterator[list[str]]:
    """The command lines that put the wardrobe or the log in."""
    if what == "wardrobe":
        for worn in scenario.wardrobe:
            yield ["wardrobe", "add", worn.words, *(w for s in worn.season for w in ("--season", s))]
        return
    for past in scenario.log:
        of = ["--piece", past.piece] if past.piece else ["--cloth", past.cloth]
        features = [w for f in past.features for w in ("--for", f)]
        yield ["log", "add", past.make, *of, "--on", past.on, *features, *(w for line in past.saw for w in ("--saw", line))]
