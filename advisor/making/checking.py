"""A make file read over: every fault and every doubt at once, each with its line, what was expected and what is nearest.

First the shape (fields, kinds of values), then the sense (features, circumstances, the table). A fault in one place
does not hide those in others: what is at fault is left out and the rest is read on.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec
import yaml

from advisor.asks import read_context
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.makes import Make, NeededRow, asks_of
from advisor.making.envelope_words import EnvelopeWords, envelope_words
from advisor.reading import BadYaml, nodes_of, parse_yaml

KINDS_OF_VALUE = {
    "str": "words", "int": "a whole number", "float": "a number", "bool": "true or false", "null": "nothing",
    "array": "a list", "object": "fields with their values", "date": "a day as year-month-day",
}  # fmt: skip
FEWEST_MM, MOST_MM = 3, 60
"""Seam allowances outside of which a slip of units is likely."""
LONG_HOURS = 400


@dataclass(frozen=True, order=True)
class Found:
    """A fault (`wrong`) or a doubt (`look`) of a make file, by line (from 1; 0 = the whole file) and field."""

    line: int
    field: str
    what: str
    expected: str = ""
    nearest: str = ""
    kind: Literal["wrong", "look"] = "wrong"


@dataclass
class Reading:
    """What a make file came to: what was found, and the make as far as it could be read."""

    found: list[Found] = field(default_factory=list)
    make: Make | None = None

    @property
    def wrong(self) -> int:
        return sum(f.kind == "wrong" for f in self.found)


def check_file(path: Path, knowledge: Knowledge, *, today: date | None = None) -> Reading:
    """A make file read over; raises `Unclear` only where the file cannot be opened."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        line = path.read_bytes()[: error.start].count(b"\n") + 1
        return Reading([Found(line, "", "letters that are not UTF-8", "a text file in UTF-8")])
    except OSError as error:
        raise Unclear(f"make file '{path}'", f"a file that can be read ({error.strerror or error.__class__.__name__})") from None
    return check_text(text, knowledge, today=today)


def check_text(text: str, knowledge: Knowledge, *, today: date | None = None) -> Reading:
    """The text of a make file read over."""
    try:
        given = parse_yaml(text)
    except BadYaml as error:
        hint = "fields with their values, one a line, indented alike; words with ': ' or '#' in quotes"
        return Reading([Found(error.line, "", error.what, hint)])
    if not isinstance(given, dict):
        return Reading([Found(1, "", "no fields", "'make: …' and 'features: …', as 'advisor make new' writes them")])
    return _Checker(knowledge, today or date.today()).check(given, nodes_of(text))


class _Checker:
    def __init__(self, knowledge: Knowledge, today: date) -> None:
        self.knowledge, self.today = knowledge, today
        self.words: EnvelopeWords = envelope_words(knowledge.folders)
        self.found: list[Found] = []

    def wrong(self, line: int, field: str, what: str, expected: str = "", nearest: str = "") -> None:
        self.found.append(Found(line, field, what, expected, nearest))

    def look(self, line: int, field: str, what: str, expected: str = "", nearest: str = "") -> None:
        self.found.append(Found(line, field, what, expected, nearest, "look"))

    def unclear(self, line: int, field: str, error: Unclear) -> None:
        self.wrong(line, field, error.given, error.expected, error.nearest)

    def check(self, given: dict[Any, Any], node: yaml.Node | None) -> Reading:
        lines = _Lines(node)
        kept = self._struct(given, Make, "", lines)
        for name, instead in (("make", ""), ("features", [])):
            kept.setdefault(name, instead)
        make = msgspec.convert(kept, Make)
        for sense in (self._features, self._circumstances, self._envelope, self._layers, self._table, self._time):
            sense(make, given, lines)
        self.found = sorted(dict.fromkeys(self.found))
        return Reading(self.found, make)

    # ---- shape ----

    def _struct(self, value: dict[Any, Any], kind: type, where: str, lines: _Lines) -> dict[str, Any]:
        """The fields of a struct that have the right shape; notes the others."""
        hints = get_type_hints(kind, include_extras=True)
        kept: dict[str, Any] = {}
        for key, inner in value.items():
            name = f"{where}.{key}" if where else str(key)
            if key not in hints:
                near = (get_close_matches(str(key), list(hints), 1, 0.5) or [""])[0]
                self.wrong(lines.at(name), name, f"unknown field '{key}'", "a field of a make" if near else f"one of {', '.join(hints)}", near)
                continue
            shaped = self._value(inner, hints[key], name, lines)
            if shaped is not msgspec.UNSET:
                kept[key] = shaped
        for needed in msgspec.structs.fields(kind):
            if needed.required and needed.name not in value:
                self.wrong(lines.at(where), f"{where}.{needed.name}" if where else needed.name, "is missing", f"'{needed.name}: …'")
        return kept

    def _value(self, value: Any, kind: Any, where: str, lines: _Lines) -> Any:
        """The value as far as its shape is right, or UNSET after noting what is wrong."""
        origin, inner = get_origin(kind), get_args(kind)
        if isinstance(kind, type) and issubclass(kind, msgspec.Struct) and isinstance(value, dict):
            kept = self._struct(value, kind, where, lines)
            needed = {f.name for f in msgspec.structs.fields(kind) if f.required}
            return kept if needed <= set(kept) else msgspec.UNSET
        if origin is list and isinstance(value, list):
            items = [self._value(item, inner[0], f"{where}[{i}]", lines) for i, item in enumerate(value)]
            return [item for item in items if item is not msgspec.UNSET]
        if origin is dict and isinstance(value, dict):
            pairs = {k: self._value(v, inner[1], f"{where}.{k}", lines) for k, v in value.items()}
            return {k: v for k, v in pairs.items() if v is not msgspec.UNSET}
        try:
            msgspec.convert(value, kind)
            return value
        except msgspec.ValidationError:
            self._misshapen(value, kind, where, lines)
            return msgspec.UNSET

    def _misshapen(self, value: Any, kind: Any, where: str, lines: _Lines) -> None:
        line = lines.at(where)
        base, origin = get_args(kind)[0] if hasattr(kind, "__metadata__") else kind, get_origin(kind)
        choices = [str(c) for c in get_args(kind) if c] if origin is Literal else []
        said = "nothing" if value is None else f"'{_short(value)}'"
        if choices:
            near = (get_close_matches(str(value), choices, 1, 0.3) or [""])[0]
            self.wrong(line, where, said, f"one of {', '.join(choices)}", near)
        elif where.startswith("features["):
            self.wrong(line, where, said, "a feature in words, or 'name: {figure: value, at: place}'", "flounce: {depth_mm: 120, at: cuff}")
        elif base is str and isinstance(value, (int, float)):
            self.wrong(line, where, f"{said}, a number", "words; put figures in quotes", f'"{value}"')
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            self.wrong(line, where, said, _kind_words(kind))
        elif isinstance(value, str) and "float" in str(kind) and (near_number := _number_in(value)):
            self.wrong(line, where, said, "a number alone; its unit stands in the field's name", near_number)
        else:
            self.wrong(line, where, said, _kind_words(kind))

    # ---- sense ----

    def _features(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        items = given.get("features")
        if isinstance(items, list) and not items:
            self.wrong(lines.at("features"), "features", "no feature", "at least one, as 'advisor list features' shows")
        seen: dict[tuple[Any, ...], str] = {}
        for where, item in _items(items, "features"):
            line = lines.at(where)
            if not isinstance(item, (str, dict)):
                continue
            parts = _parts_of(item)
            if parts is None:  # its shape was told already
                continue
            for part in parts:
                try:
                    asks = asks_of(msgspec.structs.replace(make, features=[part]), self.knowledge)
                except (Unclear, msgspec.ValidationError, TypeError) as error:
                    name = next(iter(part)) if isinstance(part, dict) else ""
                    key = next(iter(part[name]), "") if isinstance(part, dict) and isinstance(part[name], dict) else ""
                    place = f"{where}.{name}.{key}" if key else f"{where}.{name}" if name else where
                    if isinstance(error, Unclear):
                        self.unclear(lines.at(place, line), where, error)
                    continue
                for ask in asks:
                    for note in ask.notes:
                        self.look(line, where, note)
            try:
                whole = asks_of(msgspec.structs.replace(make, features=[item]), self.knowledge)
            except (Unclear, msgspec.ValidationError, TypeError):
                continue
            for ask in whole:
                same = (ask.feature, ask.places, tuple(sorted(ask.figures.items())))
                if same in seen:
                    self.look(line, where, f"'{ask.given}' is the same as '{seen[same]}' above", "each feature once")
                seen[same] = ask.given
        for where, named in _pairs(given.get("part_features"), "part_features"):
            for place, feature in _items(named, where):
                try:
                    asks_of(msgspec.structs.replace(make, features=[feature]), self.knowledge)
                except (Unclear, msgspec.ValidationError, TypeError, AttributeError) as error:
                    if isinstance(error, Unclear):
                        self.unclear(lines.at(place), place, error)

    def _circumstances(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        for kind in ("wearer", "season", "use", "care"):
            said = getattr(make, kind)
            if said:
                try:
                    read_context([(kind, said)], self.knowledge)
                except Unclear as error:
                    self.unclear(lines.at(kind), kind, error)

    def _envelope(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        from advisor.picking import fits_envelope

        envelope = given.get("envelope") if isinstance(given.get("envelope"), dict) else {}
        for where, name in _items(envelope.get("suggests"), "envelope.suggests"):  # type: ignore[union-attr]
            profile = self._cloth(name, lines.at(where), where)
            if profile is None:
                continue
            for against in fits_envelope(profile, make):
                self.look(lines.at(where), where, f"'{name}' is suggested, but {against}", "an envelope of one mind")
        gauge = [w for w in ("along", "across") if getattr(make.envelope, f"stretch_{w}")]
        for way in ("along", "across"):
            value, where = getattr(make.envelope, f"stretch_{way}"), f"envelope.stretch_{way}"
            if value is not None and not 0 < value <= 300:
                self.wrong(lines.at(where), where, f"{value:g} %", "more than 0 and at most 300 % (13.5 cm from 10 cm is 35)")
        if gauge and make.envelope.woven_or_knit == "woven":
            self.look(lines.at(f"envelope.stretch_{gauge[0]}"), f"envelope.stretch_{gauge[0]}", "a stretch is asked of a woven cloth, so only stretch wovens will do")

    def _layers(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        for where, name in _pairs(given.get("layers"), "layers"):
            if isinstance(name, str):
                self._cloth(name, lines.at(where), where, must=True)

    def _cloth(self, name: object, line: int, where: str, *, must: bool = False) -> Any:
        """The profile of a cloth in words, after noting what was not understood; None where nothing was."""
        from advisor.advise import profile_of

        if not isinstance(name, str):
            return None
        try:
            profile = profile_of(name, self.knowledge)
        except Unclear as error:
            note = self.wrong if must else self.look
            note(line, where, error.given, error.expected, error.nearest)
            return None
        for word in profile.described.not_understood:
            near = profile.described.nearest.get(word, "")
            self.look(line, where, f"'{word}' of '{name}' is not understood and left out", "words for a cloth", near)
        return profile

    def _table(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        rows = [(where, _row(item)) for where, item in _items(given.get("cloth_needed"), "cloth_needed")]
        known: dict[tuple[str, ...], list[tuple[NeededRow, str]]] = {}
        narrow, wide, longest = self.words.narrowest.value, self.words.widest.value, self.words.longest.value
        for where, row in rows:
            if row is None:
                continue
            if not narrow <= row.width_cm <= wide:
                near = f"{row.width_cm * 2.54:g}" if narrow <= row.width_cm * 2.54 <= wide else ""
                self.wrong(lines.at(f"{where}.width_cm"), f"{where}.width_cm", f"{row.width_cm:g} cm", f"{narrow:g} to {wide:g} cm", near)
            if row.length_m > longest:
                near = f"{row.length_m / 100:g}" if row.length_m / 100 <= longest else ""
                self.wrong(lines.at(f"{where}.length_m"), f"{where}.length_m", f"{row.length_m:g} m", f"at most {longest:g} m", near)
            for other, place in known.setdefault((row.view, row.size, row.nap, row.part), []):
                if other.width_cm == row.width_cm:
                    say = self.look if other.length_m == row.length_m else self.wrong
                    say(lines.at(where), where, f"{row.length_m:g} m at {row.width_cm:g} cm, where line {lines.at(place)} says {other.length_m:g} m for the same view, size, nap and part", "one length for each")
                elif (other.width_cm < row.width_cm) == (other.length_m < row.length_m) and other.length_m != row.length_m:
                    more, less = (row, other) if row.width_cm > other.width_cm else (other, row)
                    self.look(lines.at(where), where, f"the wider cloth ({more.width_cm:g} cm) needs more ({more.length_m:g} m) than the narrower ({less.width_cm:g} cm, {less.length_m:g} m)", "less of a wider cloth")
            known[(row.view, row.size, row.nap, row.part)].append((row, where))
        read = [row for _, row in rows if row]
        for name in ("view", "size"):
            names = list(dict.fromkeys(getattr(r, name) for r in read if getattr(r, name)))
            said = getattr(make, name)
            if said and names and said.casefold() not in [n.casefold() for n in names]:
                near = (get_close_matches(said, names, 1, 0.3) or [names[0]])[0]
                self.wrong(lines.at(name), name, f"'{said}'", f"one of {', '.join(names)}, as in cloth_needed", near)
            elif not said and len(names) > 1:
                self.look(lines.at("cloth_needed"), name, f"the table has {len(names)} {name}s and none is chosen", f"'{name}: …' with one of {', '.join(names)}", names[0])
        parts = list(dict.fromkeys(r.part for r in read))
        for part in parts:
            if part != "main" and part not in make.layers and len(parts) > 1:
                self.look(lines.at("cloth_needed"), "layers", f"the table asks for {part}, and no cloth for it is named", f"'layers: {{{part}: …}}', or what you buy for it")
        for where, _ in _pairs(given.get("part_features"), "part_features"):
            part = where.removeprefix("part_features.")
            if part not in parts:
                self.wrong(lines.at(where), where, f"part '{part}'", f"one of {', '.join(parts) or 'the parts of cloth_needed, which is missing'}", (get_close_matches(part, parts, 1, 0.3) or [""])[0])

    def _time(self, make: Make, given: dict[Any, Any], lines: _Lines) -> None:
        if make.wanted_by and make.wanted_by < self.today:
            self.look(lines.at("wanted_by"), "wanted_by", f"{make.wanted_by} is past", "a day to come")
        if make.hours and make.hours > LONG_HOURS:
            self.look(lines.at("hours"), "hours", f"{make.hours:g} hours", f"hours of work, seldom above {LONG_HOURS}")
        if make.hours and sum(make.can_drop.values()) > make.hours:
            self.look(lines.at("can_drop"), "can_drop", f"{sum(make.can_drop.values()):g} hours could be saved of {make.hours:g}", "less than the whole work")
        if not FEWEST_MM <= make.seam_allowance_mm <= MOST_MM:
            self.look(lines.at("seam_allowance_mm"), "seam_allowance_mm", f"{make.seam_allowance_mm:g} mm", f"{FEWEST_MM} to {MOST_MM} mm, often 15")


class _Lines:
    """Where each field stands: path → line, from the nodes of the file."""

    def __init__(self, node: yaml.Node | None) -> None:
        self.lines: dict[str, int] = {}
        if node is not None:
            self._walk(node, "")

    def _walk(self, node: yaml.Node, where: str) -> None:
        self.lines.setdefault(where, node.start_mark.line + 1)
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                name = str(key.value)
                path = f"{where}.{name}" if where else name
                self.lines[path] = key.start_mark.line + 1
                self._walk(value, path)
        elif isinstance(node, yaml.SequenceNode):
            for i, item in enumerate(node.value):
                self._walk(item, f"{where}[{i}]")

    def at(self, where: str, otherwise: int = 0) -> int:
        """The line of a field, or of the nearest field around it."""
        while where not in self.lines and where:
            if otherwise:
                return otherwise
            cut = max(where.rfind("."), where.rfind("["))
            where = where[:cut] if cut > 0 else ""
        return self.lines.get(where, 1)


def _items(given: object, where: str) -> Iterator[tuple[str, Any]]:
    if isinstance(given, list):
        yield from ((f"{where}[{i}]", item) for i, item in enumerate(given))


def _pairs(given: object, where: str) -> Iterator[tuple[str, Any]]:
    if isinstance(given, dict):
        yield from ((f"{where}.{key}", value) for key, value in given.items())


def _parts_of(item: str | dict[str, Any]) -> list[Any] | None:
    """A feature as given, one for each of its figures, so that each is examined for itself; None for another shape."""
    if isinstance(item, str):
        return [item]
    if not all(details is None or isinstance(details, dict) for details in item.values()):
        return None
    parts: list[Any] = []
    for name, details in item.items():
        parts += [{name: {key: value}} for key, value in details.items()] if details else [{name: None}]
    return parts


def _row(item: object) -> NeededRow | None:
    try:
        return msgspec.convert(item, NeededRow)
    except msgspec.ValidationError:
        return None


def _kind_words(kind: Any) -> str:
    """What a field takes, in words."""
    if hasattr(kind, "__metadata__"):
        least = ", nought or more" if any(getattr(m, "ge", None) == 0 for m in kind.__metadata__) else " above nought"
        return _kind_words(get_args(kind)[0]) + least
    origin, inner = get_origin(kind), [k for k in get_args(kind) if k is not type(None)]
    if origin in (Union, types.UnionType):
        return " or ".join(dict.fromkeys(_kind_words(k) for k in inner))
    if origin is list:
        return f"a list: '- …', each {_kind_words(inner[0])}"
    if origin is dict:
        return "names with their values: 'name: value'"
    return KINDS_OF_VALUE.get(getattr(kind, "__name__", ""), "fields with their values")


def _number_in(text: str) -> str:
    import re

    match = re.search(r"\d+(?:[.,]\d+)?", text)
    return match.group(0).replace(",", ".") if match else ""


def _short(value: object) -> str:
    text = " ".join(str(value).split())
    return text if len(text) <= 50 else text[:49] + "…"
