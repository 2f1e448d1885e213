"""Reading knowledge files: safe YAML, the shorthand that people write, and problems named one by one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

import msgspec
import yaml

from advisor import model
from advisor.knowledge import KIND_TYPES
from advisor.ranges import Range

KINDS = KIND_TYPES
"""What each file or folder of a knowledge folder holds, by the first part of its name."""

NOT_ENTRIES = {"settings", "makes", "demo", "lists"}
"""Parts of a knowledge folder that hold something other than a map of entries."""

MAX_BYTES = 4_000_000
_MAY_ALIAS = re.compile(r"(?:^|[\s\[{,:])\*\S", re.MULTILINE)
"""Text that may hold an alias: the parser of libyaml resolves them itself, so they are looked for before."""
MOST_LEVELS = 60
_MAY_BE_DEEP = re.compile(rf"^[ \t?:-]{{{MOST_LEVELS},}}", re.MULTILINE)
"""A line that begins so far to the right that blocks may be nested too deep: libyaml's composer recurses without a limit."""
EFFECT_FIELDS = set(model.Effect.__struct_fields__)


@dataclass(frozen=True, order=True)
class Problem:
    """Something wrong in a knowledge file, in the words of one line."""

    file: str
    entry: str
    field: str
    what: str

    def __str__(self) -> str:
        where = " / ".join(part for part in (self.file, self.entry, self.field) if part)
        return f"{where}: {self.what}"


class _Strict(yaml.CSafeLoader if hasattr(yaml, "CSafeLoader") else yaml.SafeLoader):  # type: ignore[misc]
    """YAML with the scalars of version 1.2, no tags and no key twice."""

    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, re.Pattern[str]]]]] = {}


for _tag, _pattern, _first in (
    ("tag:yaml.org,2002:bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
    ("tag:yaml.org,2002:int", r"^[-+]?[0-9]+$", "-+0123456789"),
    (
        "tag:yaml.org,2002:float",
        r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$",
        "-+.0123456789",
    ),
    ("tag:yaml.org,2002:null", r"^(?:~|null|Null|NULL|)$", "~nN"),
):
    _Strict.add_implicit_resolver(_tag, re.compile(_pattern), list(_first) + ([""] if "null" in _tag else []))


def _value(loader: _Strict, node: yaml.Node) -> Any:
    """What a node stands for; plain words, which most nodes are, without a detour."""
    if node.tag == "tag:yaml.org,2002:str" and isinstance(node, yaml.ScalarNode):
        return node.value
    return loader.construct_object(node, deep=True)


def _sequence(loader: _Strict, node: yaml.SequenceNode) -> list[Any]:
    if not isinstance(node, yaml.SequenceNode):  # a map that calls itself a list
        raise yaml.constructor.ConstructorError(None, None, f"expected a sequence node, but found {node.id}", node.start_mark)
    return [_value(loader, item) for item in node.value]


def _mapping(loader: _Strict, node: yaml.MappingNode) -> dict[Any, Any]:
    found: dict[Any, Any] = {}
    for key_node, value_node in node.value:
        key = _value(loader, key_node)
        if isinstance(key, (list, dict)) or key in found:
            said = "is written twice" if not isinstance(key, (list, dict)) else "is not a word or a number"
            raise yaml.constructor.ConstructorError(None, None, f"{key!r} {said}", key_node.start_mark)
        found[key] = _value(loader, value_node)
    return found


_Strict.add_constructor("tag:yaml.org,2002:map", _mapping)
_Strict.add_constructor("tag:yaml.org,2002:seq", _sequence)
_Strict.add_constructor("tag:yaml.org,2002:int", lambda loader, node: int(node.value, 10))


class BadYaml(ValueError):
    """A file that is not readable YAML of our kind; `line` counts from 1 (0 where unknown)."""

    def __init__(self, what: str, line: int = 0) -> None:
        self.what, self.line = what, line
        super().__init__(f"line {line}: {what}" if line else what)


TOO_DEEP = f"nested deeper than {MOST_LEVELS} levels"


def _refuse_depth(text: str) -> None:
    """Raises `BadYaml` where blocks are nested too deep, told by the parser's events, which come without recursion."""
    depth = 0
    for event in yaml.parse(text, Loader=_Strict):
        if isinstance(event, yaml.events.CollectionStartEvent):
            depth += 1
            if depth > MOST_LEVELS:
                raise BadYaml(TOO_DEEP, event.start_mark.line + 1 if event.start_mark else 0)
        elif isinstance(event, yaml.events.CollectionEndEvent):
            depth -= 1


def parse_yaml(text: str) -> Any:
    """One YAML document as plain lists, maps, words and numbers; raises `BadYaml` with the line."""
    if len(text) > MAX_BYTES:
        raise BadYaml(f"larger than {MAX_BYTES // 1_000_000} MB")
    depth = 0
    for ch in text:
        if ch in "[{":
            depth += 1
            if depth > MOST_LEVELS:
                raise BadYaml(TOO_DEEP)
        elif ch in "]}":
            depth = max(0, depth - 1)
    try:
        if _MAY_BE_DEEP.search(text):
            _refuse_depth(text)
        if _MAY_ALIAS.search(text):
            for event in yaml.parse(text, Loader=_Strict):
                if isinstance(event, yaml.events.AliasEvent):
                    raise BadYaml("aliases are not allowed", event.start_mark.line + 1 if event.start_mark else 0)
        return yaml.load(text, Loader=_Strict)
    except BadYaml:
        raise
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        raise BadYaml(error.problem or "not readable", mark.line + 1 if mark else 0) from None
    except (yaml.YAMLError, ValueError, RecursionError, OverflowError) as error:
        raise BadYaml(str(error).splitlines()[0] if str(error) else "not readable") from None


def nodes_of(text: str) -> yaml.Node | None:
    """The same document as nodes that know their lines, for text that `parse_yaml` has read; None for an empty one."""
    node: yaml.Node | None = yaml.compose(text, Loader=_Strict)
    return node


def implicit_types() -> dict[str, list[tuple[str, re.Pattern[str]]]]:
    """First letter → the plain scalars that `parse_yaml` takes for something else than words, for who writes YAML."""
    return _Strict.yaml_implicit_resolvers


def knowledge_files(folder: Path) -> Iterator[tuple[str, Path]]:
    """(kind, file) for each knowledge file of `folder`, in a fixed order; links out of it are passed over."""
    root = folder.resolve()
    for path in sorted(root.rglob("*.yaml")):
        if not path.resolve().is_relative_to(root):
            continue
        first = path.relative_to(root).parts[0].removesuffix(".yaml")
        if first not in NOT_ENTRIES:
            yield first, path


class Shorthand:
    """Turns what people write into the fields of the structs, noting what cannot be read.

    `bands` gives the trade words of each property; `problems` collects what was wrong.
    """

    def __init__(self, bands: dict[str, dict[str, Range]], problems: list[Problem]) -> None:
        self.bands, self.problems = bands, problems
        self.file = self.entry = self.source = ""

    def wrong(self, field: str, what: str) -> None:
        self.problems.append(Problem(self.file, self.entry, field, what))

    def range_of(self, field: str, value: Any, bands: dict[str, Range] | None = None) -> Range | None:
        """A number, `[low, high]` or a band's word as a Range."""
        if isinstance(value, str) and bands and value in bands:
            return bands[value]
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return Range(float(value), float(value))
        if isinstance(value, list) and len(value) == 2 and all(isinstance(v, (int, float)) for v in value):
            if value[0] > value[1]:
                self.wrong(field, f"low {value[0]} above high {value[1]}")
                return None
            return Range(float(value[0]), float(value[1]))
        words = f" or one of {', '.join(bands)}" if bands else ""
        self.wrong(field, f"expected a number, [low, high]{words}, not {value!r}")
        return None

    def figure(self, field: str, value: Any, bands: dict[str, Range] | None = None) -> dict[str, Any] | None:
        """A range with its source: `{is: …, source: …}`, or the entry's own source."""
        source = self.source
        if isinstance(value, dict):
            extra = set(value) - {"is", "source"}
            if extra or "is" not in value:
                self.wrong(field, f"expected 'is' and 'source', not {', '.join(map(str, value))}")
                return None
            source, value = str(value.get("source", source)), value["is"]
        found = self.range_of(field, value, bands)
        return found and {"low": found.low, "high": found.high, "source": source}

    def figures(self, field: str, value: Any, *, free: bool = False) -> dict[str, Any]:
        if not isinstance(value, dict):
            self.wrong(field, "expected a map of figures")
            return {}
        read: dict[str, Any] = {}
        for key, given in value.items():
            if free and isinstance(given, str):
                read[key] = given
            elif (figure := self.figure(f"{field}.{key}", given, self.bands.get(key))) is not None:
                read[key] = figure
        return read

    def curve(self, field: str, value: Any) -> list[list[float]]:
        """`{figure: met, …}` as points in order."""
        if not isinstance(value, dict) or not all(isinstance(v, (int, float)) for p in value.items() for v in p):
            self.wrong(field, "expected a map of figure: how well it serves (0 to 1)")
            return []
        return [[float(x), float(y)] for x, y in sorted(value.items())]

    def demands(self, field: str, value: Any) -> list[dict[str, Any]]:
        if not isinstance(value, list):
            self.wrong(field, "expected a list")
            return []
        read = []
        for item in value:
            if not isinstance(item, dict) or len(item) != 1:
                self.wrong(field, "each demand is one property with its curve")
                continue
            ((prop, body),) = item.items()
            if not isinstance(body, dict):
                self.wrong(f"{field}.{prop}", "expected curve, importance and why")
                continue
            body = {"property": prop, "source": self.source, **body}
            if "curve" in body:
                body["curve"] = self.curve(f"{field}.{prop}.curve", body["curve"])
            if isinstance(body.get("curves"), dict):
                body["curves"] = [
                    [float(at), self.curve(f"{field}.{prop}.curves.{at}", points)]
                    for at, points in sorted(body["curves"].items())
                ]
            read.append(body)
        return read

    def _effect(self, entry: dict[str, Any], into: str) -> None:
        """Gathers the fields of an effect, and bare properties (as `into`), under `effect`."""
        effect: dict[str, Any] = {}
        for key in list(entry):
            if key in self.bands:
                effect.setdefault(into, {})[key] = entry.pop(key)
            elif key in EFFECT_FIELDS:
                given = entry.pop(key)
                if isinstance(given, dict):
                    effect.setdefault(key, {}).update(given)
                else:
                    effect[key] = given
        entry["effect"] = {
            key: self.figures(key, value) if isinstance(value, dict) else value for key, value in effect.items()
        }

    def _gather(self, entry: dict[str, Any], into: str) -> None:
        bare = {key: entry.pop(key) for key in list(entry) if key in self.bands}
        entry[into] = self.figures(into, bare)

    def _figures_of(self, entry: dict[str, Any]) -> None:
        for key, body in (entry.get("figures") or {}).items():
            if isinstance(body, dict) and isinstance(body.get("possible"), list):
                body["possible"] = self.range_of(f"figures.{key}", body["possible"])

    def entry_of(self, kind: str, entry: dict[str, Any]) -> dict[str, Any]:
        """The entry with every shorthand written out."""
        entry = dict(entry)
        self.source = str(entry.get("source", ""))
        if kind == "properties":
            for key in ("domain", "assumed"):
                entry[key] = self.range_of(key, entry.get(key))
            bands = entry.get("bands") or {}
            entry["bands"] = {word: self.range_of(f"bands.{word}", value) for word, value in bands.items()}
        elif kind == "fibres":
            self._gather(entry, "gives")
            entry["usual"] = self.figures("usual", entry.get("usual") or {})
            entry["per_share"] = self.figures("per_share", entry.get("per_share") or {})
            entry["facts"] = self.figures("facts", entry.get("facts") or {}, free=True)
        elif kind in ("structures", "finishes", "remedies"):
            self._effect(entry, "sets")
        elif kind == "words":
            if "suggests" in entry:
                entry["suggests"] = self.figures("suggests", entry["suggests"])
            self._effect(entry, "narrows")
        elif kind == "cloths":
            self._gather(entry, "ranges")
            fibres = entry.get("fibres") or []
            entry["fibres"] = [
                {f: self.range_of(f"fibres.{f}", share) for f, share in mix.items()}
                for mix in (fibres if isinstance(fibres, list) else [fibres])
                if isinstance(mix, dict)
            ]
            if isinstance(entry.get("structure"), str):
                entry["structure"] = [entry["structure"]]
            if isinstance(entry.get("sewing"), dict):
                entry["sewing"] = {"source": self.source, **entry["sewing"]}
        elif kind in ("features", "context") and "demands" in entry:
            entry["demands"] = self.demands("demands", entry["demands"])
            self._figures_of(entry)
        elif kind == "features":
            self._figures_of(entry)
        elif kind == "rules" and "about" in entry:
            entry["features"] = entry.pop("about")
        elif kind == "tests":
            for band in entry.get("readings") or []:
                if isinstance(band, dict):
                    band["range"] = self.range_of(
                        "readings", band.get("range"), self.bands.get(entry.get("property", ""))
                    )
        return entry

    def read(self, kind: str, entry_id: str, given: Any, origin: str) -> model.Entry | None:
        """One entry as its struct, or None after noting what was wrong."""
        self.file, self.entry = origin, entry_id
        if not isinstance(given, dict):
            self.wrong("", "expected fields and their values")
            return None
        try:
            entry = self.entry_of(kind, given)
            return msgspec.convert({**entry, "id": entry_id, "origin": origin}, KINDS[kind])
        except msgspec.ValidationError as error:
            self.wrong("", str(error).replace("Object contains unknown field", "unknown field"))
        except (TypeError, ValueError, AttributeError) as error:
            self.wrong("", f"cannot be read ({error})")
        return None
