"""The tables of `knowledge/lists`: read by the one reader, and kept parsed, since reading YAML takes longer than an answer."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from advisor.errors import Unclear
from advisor.knowledge import FORMAT, cache_folder, is_own, keep_file

T = TypeVar("T")


def read_list(name: str, kind: type[T], folders: Sequence[Path]) -> T:
    """One file of `lists` from the last knowledge folder that has it; raises `Unclear` naming the file at fault."""
    for folder in reversed(folders):
        path = folder / "lists" / f"{name}.yaml"
        if path.is_file():
            try:
                return msgspec.convert(parsed(path), kind, strict=False)
            except (msgspec.ValidationError, OSError, UnicodeDecodeError) as error:
                raise _at_fault(path, error) from None
    raise Unclear(f"knowledge without lists/{name}.yaml", "the file that comes with the advisor")


def parsed(path: Path) -> Any:
    """What a YAML file holds, from the cache where the file is as it was; raises `Unclear`, `OSError` or `UnicodeDecodeError`."""
    stat = path.stat()
    stamp = f"{FORMAT} {stat.st_size} {stat.st_mtime_ns}"
    digest = hashlib.blake2b(str(path.resolve()).encode("utf-8", "surrogateescape"), digest_size=8).hexdigest()
    cache = cache_folder() / "lists" / f"{digest}.list"
    try:
        if is_own(cache):
            kept, body = msgspec.msgpack.decode(cache.read_bytes(), type=tuple[str, Any])
            if kept == stamp:
                return body
    except (OSError, msgspec.MsgspecError):
        pass
    from advisor.reading import BadYaml, parse_yaml  # the YAML reader, only where a file is new

    try:
        body = parse_yaml(path.read_text(encoding="utf-8"))
    except BadYaml as error:
        raise _at_fault(path, error) from None
    keep_file(cache, msgspec.msgpack.encode((stamp, body)))
    return body


def _at_fault(path: Path, error: Exception) -> Unclear:
    return Unclear(f"knowledge file '{path}', {error}", "the form that its first lines describe")
