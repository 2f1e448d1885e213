"""The make: a garment to be sewn, as its file describes it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from advisor.asks import Ask, check_figure, read_ask, read_asks, read_context
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.words_form import phrase

Positive = Annotated[float, Meta(gt=0)]


class Envelope(msgspec.Struct, forbid_unknown_fields=True):
    """What the pattern's envelope prints: suggested cloths, unsuitable ones, and the stretch gauge in %."""

    suggests: list[str] = []
    not_for: list[str] = []
    stretch_along: float | None = None
    stretch_across: float | None = None
    woven_or_knit: Literal["", "woven", "knit"] = ""


class NeededRow(msgspec.Struct, forbid_unknown_fields=True):
    """One line of the pattern's table: length of cloth for a view and size at a width."""

    length_m: Positive
    width_cm: Positive
    view: str = ""
    size: str = ""
    nap: Literal["with", "without", "either"] = "without"
    part: str = "main"


class PatternPiece(msgspec.Struct, forbid_unknown_fields=True):
    """One pattern piece by its envelope."""

    name: str
    length_cm: Positive
    width_cm: Positive
    cut: int = 1
    on_fold: bool = False
    bias: bool = False


class Make(msgspec.Struct, forbid_unknown_fields=True):
    """A make file. Features are written as a maker says them, or as `name: {figure: value, at: place}`."""

    make: str
    features: list[str | dict[str, dict[str, float | str] | None]]
    invented: bool = False
    wearer: str = ""
    season: str = ""
    use: str = ""
    care: str = ""
    envelope: Envelope = msgspec.field(default_factory=Envelope)
    layers: dict[str, str] = {}
    cloth_needed: list[NeededRow] = []
    notions: list[str] = []
    pieces: list[PatternPiece] = []
    techniques: list[str] = []
    level: str = ""
    hours: Positive | None = None
    seam_allowance_mm: Positive = 15
    notes: str = ""
    view: str = ""
    size: str = ""
    """The view and the size that will be sewn, where the table of cloth has several."""
    part_features: dict[str, list[str]] = {}
    """Part of the table → the features that are cut in it, where it does not take the whole make's ('contrast: [collar]')."""
    wanted_by: date | None = None
    """The day on which it will be worn or given: year-month-day."""
    fills: list[str] = []
    """The garments that it adds to a wardrobe, in words; else the whole garments among its features."""
    can_drop: dict[str, Annotated[float, Meta(ge=0)]] = {}
    """What could be left off when time is short → the hours that it saves."""


def read_make(path: Path) -> Make:
    """A make from its file; raises `Unclear` with the line or the field that is wrong."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise Unclear(f"make file '{path}' {_unreadable(path, error)}", "a make file; 'advisor make new' writes one", _make_beside(path)) from None
    return parse_make(text, str(path))


def _unreadable(path: Path, error: Exception) -> str:
    """What is the matter with a file, in words."""
    if path.is_dir():
        return "is a folder"
    if isinstance(error, FileNotFoundError):
        return "is not there"
    return "is not a text" if isinstance(error, UnicodeDecodeError) else "cannot be opened"


def _make_beside(path: Path) -> str:
    """A make's file in the same folder (or in the folder given) whose name is nearest."""
    from difflib import get_close_matches

    folder = path if path.is_dir() else path.parent
    try:
        there = {p.name: p for p in sorted(folder.iterdir()) if p.suffix in (".yaml", ".yml")}
    except OSError:
        return ""
    near = get_close_matches(path.name, list(there), 1, 0.5)
    return str(there[near[0]]) if near else ""


def parse_make(text: str, name: str = "make") -> Make:
    """A make from YAML text."""
    from advisor.reading import BadYaml, parse_yaml  # only a make's file needs the YAML reader

    try:
        return msgspec.convert(parse_yaml(text), Make)
    except BadYaml as error:
        raise Unclear(f"make file '{name}', {error}", "a make file as 'advisor make new' writes it") from None
    except msgspec.ValidationError as error:
        said = str(error).replace("Object contains unknown field", "unknown field")
        if said == "Expected `object`, got `str`" or "\n" not in text.strip():
            said = "holds no fields such as 'make:' and 'features:'"
        near = ""
        if "unknown field" in said:
            from difflib import get_close_matches

            word = said.split("`")[1]
            near = (get_close_matches(word, Make.__struct_fields__, 1, 0.5) or [""])[0]
        raise Unclear(f"make file '{name}': {said}", "a make file as 'advisor make new' writes it", near) from None


def asks_of(make: Make, knowledge: Knowledge) -> list[Ask]:
    """The features of a make, read as on the command line."""
    asks: list[Ask] = []
    for item in make.features:
        if isinstance(item, str):
            asks += read_asks(item, knowledge)
            continue
        for name, details in item.items():
            ask = read_ask(name, knowledge)
            feature = knowledge.features[ask.feature]
            values, places = dict(ask.figures), ask.places
            for key, value in (details or {}).items():
                if key == "at":
                    places = (_place(str(value), name, knowledge),)
                elif key in feature.figures and isinstance(value, (int, float)):
                    possible = feature.figures[key].possible
                    if not possible.low <= value <= possible.high:
                        said = f"{key.replace('_', ' ')} {value:g} of '{name}' in the make"
                        raise Unclear(said, f"{possible.low:g} to {possible.high:g}")
                    check_figure(feature, key, float(value), name)
                    values[key] = float(value)
                else:
                    from difflib import get_close_matches

                    names = [*feature.figures, "at"]
                    near = (get_close_matches(key, names, 1, 0.3) or [""])[0]
                    raise Unclear(f"'{key}' of '{name}' in the make", f"one of {', '.join(names)} with a figure", near)
            asks.append(Ask(name, ask.feature, values, places, ask.notes))
    return asks


def _place(given: str, name: str, knowledge: Knowledge) -> str:
    """The place that `at` names; raises `Unclear`."""
    key = phrase(given).removeprefix("the ")
    if key not in knowledge.place_words:
        from difflib import get_close_matches

        near = (get_close_matches(key, list(knowledge.place_words), 1, 0.3) or [""])[0]
        raise Unclear(f"place '{given}' of '{name}' in the make", f"one of {', '.join(knowledge.places)}", near)
    return knowledge.place_words[key]


def context_of(make: Make, knowledge: Knowledge) -> list[str]:
    """The circumstances of a make as context ids."""
    given = [(kind, getattr(make, kind)) for kind in ("wearer", "season", "use", "care") if getattr(make, kind)]
    return read_context(given, knowledge)
