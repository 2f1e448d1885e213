"""A make as the YAML of its file: only what was said, rows and pieces a line each, read back as the same make."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import msgspec
import yaml

from advisor.errors import Unclear
from advisor.files import write_whole
from advisor.makes import Make, parse_make
from advisor.reading import implicit_types

HEAD = "# A make, written by 'advisor make new'. Change it as you like; 'advisor make check FILE' reads it over.\n"
ONE_LINE = ("cloth_needed", "pieces", "envelope")
"""Fields whose maps are written on one line each."""

ROW_ORDER = ("view", "size", "part", "width_cm", "length_m", "nap")
"""The order in which a row of the table reads like the envelope."""


class _Line(dict[str, Any]):
    """A map that is written on one line."""


class _Writer(yaml.SafeDumper):
    """Quotes whatever either edition of YAML could take for a number, a truth or a date."""

    def ignore_aliases(self, data: Any) -> bool:
        return True

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:
        super().increase_indent(flow, False)  # a list stands further in than its name


_Writer.yaml_implicit_resolvers = {
    first: [*yaml.SafeDumper.yaml_implicit_resolvers.get(first, []), *implicit_types().get(first, [])]
    for first in {*yaml.SafeDumper.yaml_implicit_resolvers, *implicit_types()}
}
_Writer.add_representer(_Line, lambda w, data: w.represent_mapping("tag:yaml.org,2002:map", data.items(), flow_style=True))


def _number(value: Any) -> Any:
    """Whole figures without '.0', which a maker would not write."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    if isinstance(value, Mapping):
        return {k: _number(v) for k, v in value.items()}
    return [_number(v) for v in value] if isinstance(value, list) else value


def _said(struct: msgspec.Struct) -> dict[str, Any]:
    """The fields that differ from what is taken when nothing is said."""
    fields = msgspec.structs.fields(struct)
    found: dict[str, Any] = {}
    for field in fields:
        value = getattr(struct, field.name)
        usual = field.default_factory() if field.default_factory is not msgspec.NODEFAULT else field.default
        if value != usual or field.required:
            found[field.name] = value
    return found


def _place(item: tuple[str, Any]) -> int:
    return ROW_ORDER.index(item[0]) if item[0] in ROW_ORDER else len(ROW_ORDER)


def text_of(make: Make) -> str:
    """The file's text; `parse_make` gives the same make back."""
    document: dict[str, Any] = {}
    for name, value in _said(make).items():
        if isinstance(value, msgspec.Struct):
            value = _Line(_number(msgspec.to_builtins(_said(value))))
        elif name in ONE_LINE:
            value = [_Line(sorted(_number(msgspec.to_builtins(_said(item))).items(), key=_place)) for item in value]
        document[name] = value if name in ONE_LINE else _number(msgspec.to_builtins(value))
    body: str = yaml.dump(document, Dumper=_Writer, sort_keys=False, allow_unicode=True, width=110)
    return HEAD + body


def file_name(name: str) -> str:
    """A file's name for a make: small letters, figures and hyphens."""
    from advisor.words_form import plain

    return (re.sub(r"[^a-z0-9]+", "-", plain(re.sub(r"\([^()]*\)", "", name))).strip("-")[:60].strip("-") or "make") + ".yaml"


def refuse_taken(path: Path, over: bool) -> None:
    """Raises `Unclear` where the file could not be written, before anything is asked."""
    if path.is_dir() or not path.parent.is_dir():
        raise Unclear(f"file '{path}'", "a file's name in a folder that exists")
    if path.exists() and not over:
        raise Unclear(f"'{path}', which is there already", "another name with --out, or --force to put the new make in its place")


def write_make(make: Make, path: Path, *, over: bool = False) -> None:
    """Writes the make's file whole or not at all; raises `Unclear` for a file that is there or cannot be written."""
    text = text_of(make)
    if parse_make(text) != make:  # never a file that would be read as something else
        raise Unclear(f"the make '{make.make}'", "words that a make file can hold")
    refuse_taken(path, over)
    try:
        write_whole(text, path, over=over)
    except FileExistsError:
        raise Unclear(f"'{path}', which is there already", "another name with --out, or --force") from None
    except OSError as error:
        raise Unclear(f"file '{path}'", f"a place that can be written ({error.strerror or error.__class__.__name__})") from None
