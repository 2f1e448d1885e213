"""The knowledge base: folders laid over each other, read, checked and kept compiled.

`load()` is the one way in. The shipped folder comes first, then the user's; a later folder adds entries,
replaces them, or silences them (`some-id: silenced`). The compiled form is msgpack, written by this program
only and keyed by the size and time of every file; it decodes an entry when it is asked for.
"""

from __future__ import annotations

import hashlib
import os
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from advisor import model
from advisor.errors import Unclear

FORMAT = "2"
T = TypeVar("T")

KIND_TYPES: dict[str, type[model.Entry]] = {
    "sources": model.Source, "properties": model.Property, "traits": model.Trait, "fibres": model.Fibre,
    "structures": model.Structure, "finishes": model.Finish, "words": model.Word, "cloths": model.Cloth,
    "features": model.Feature, "context": model.Context, "places": model.Place, "rules": model.Rule,
    "remedies": model.Remedy, "tests": model.HomeTest, "symptoms": model.Symptom, "iron": model.IronLevel,
    "methods": model.Method,
}  # fmt: skip

NAMED = ("cloths", "fibres", "structures", "finishes", "words", "traits", "context")
"""The kinds whose names are words that may describe a cloth."""


class KnowledgeError(Exception):
    """Knowledge files that do not hold together; `problems` names every fault."""

    def __init__(self, problems: Sequence[object]) -> None:
        self.problems = list(problems)
        super().__init__("\n".join(str(p) for p in self.problems))


class Table(dict[str, T]):
    """What the cache holds by key, each decoded when it is first asked for; from then on as fast as any dictionary."""

    def __init__(self, raw: dict[str, msgspec.Raw], decoder: msgspec.msgpack.Decoder[T]) -> None:
        super().__init__()
        self._raw, self._decoder = raw, decoder

    def __missing__(self, key: str) -> T:
        found = self[key] = self._decoder.decode(self._raw[key])
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._raw)

    def __len__(self) -> int:
        return len(self._raw)

    def __contains__(self, key: object) -> bool:
        return key in self._raw

    # A dictionary's own `get` and views would show only what is decoded already.
    get = Mapping.get  # type: ignore[assignment]
    keys = Mapping.keys  # type: ignore[assignment]
    items = Mapping.items  # type: ignore[assignment]
    values = Mapping.values  # type: ignore[assignment]


class Compiled(msgspec.Struct):
    """The cache file: raw entries by kind, the vocabulary, and an index of the rules."""

    key: str
    entries: dict[str, dict[str, msgspec.Raw]]
    words: dict[str, msgspec.Raw]
    reach: dict[str, int]
    feature_words: dict[str, list[str]]
    rules_of: dict[str, list[tuple[str, str]]]
    settings: model.Settings
    codes: dict[str, str]
    momme_words: list[str]
    place_words: dict[str, str]


class Knowledge:
    """The knowledge base. Each kind of entry is a mapping from id to struct."""

    def __init__(self, compiled: Compiled, folders: Sequence[Path]) -> None:
        self._compiled = compiled
        self.folders = list(folders)
        self.key = compiled.key
        """Differs wherever any file of the knowledge differs."""
        self.settings = compiled.settings
        self.codes = compiled.codes
        """Label code → the first name of its fibre."""
        self.momme_words = compiled.momme_words
        """Names of the fibres whose weight is told in momme (those with a fact of that name)."""
        self.place_words = compiled.place_words
        self.words: Mapping[str, list[tuple[str, str]]] = Table(
            compiled.words, msgspec.msgpack.Decoder(list[tuple[str, str]])
        )
        """Phrase → the (kind, id) pairs that it may mean."""
        self.reach = compiled.reach
        """First word of a phrase → how many words the longest phrase has that begins with it."""
        self.feature_words = compiled.feature_words
        self.rules_of = compiled.rules_of
        """Feature id → (rule, kind) about it; '' → those about every cloth. A deriving rule's kind is 'derive'."""
        self.kept: dict[str, dict[Any, Any]] = {}
        """What readers of the knowledge have worked out once and keep, each under a name of its own; see `keep`."""

    def __hash__(self) -> int:
        return id(self)

    def keep(self, name: str, most: int) -> dict[Any, Any]:
        """The dictionary kept under a name, emptied when it holds `most` entries: a memory that cannot grow without end."""
        found = self.kept.setdefault(name, {})
        if len(found) >= most:
            found.clear()
        return found

    def _table(self, kind: str) -> Table[model.Entry]:
        return Table(self._compiled.entries.get(kind, {}), msgspec.msgpack.Decoder(KIND_TYPES[kind]))

    def table(self, kind: str) -> Mapping[str, model.Entry]:
        """The entries of a kind named in words, such as 'cloths'."""
        found: Mapping[str, model.Entry] = getattr(self, "describing" if kind == "words" else kind)
        return found

    @cached_property
    def sources(self) -> Mapping[str, model.Source]:
        return self._table("sources")  # type: ignore[return-value]

    @cached_property
    def properties(self) -> Mapping[str, model.Property]:
        return self._table("properties")  # type: ignore[return-value]

    @cached_property
    def traits(self) -> Mapping[str, model.Trait]:
        return self._table("traits")  # type: ignore[return-value]

    @cached_property
    def fibres(self) -> Mapping[str, model.Fibre]:
        return self._table("fibres")  # type: ignore[return-value]

    @cached_property
    def structures(self) -> Mapping[str, model.Structure]:
        return self._table("structures")  # type: ignore[return-value]

    @cached_property
    def finishes(self) -> Mapping[str, model.Finish]:
        return self._table("finishes")  # type: ignore[return-value]

    @cached_property
    def describing(self) -> Mapping[str, model.Word]:
        return self._table("words")  # type: ignore[return-value]

    @cached_property
    def cloths(self) -> Mapping[str, model.Cloth]:
        return self._table("cloths")  # type: ignore[return-value]

    @cached_property
    def features(self) -> Mapping[str, model.Feature]:
        return self._table("features")  # type: ignore[return-value]

    @cached_property
    def context(self) -> Mapping[str, model.Context]:
        return self._table("context")  # type: ignore[return-value]

    @cached_property
    def places(self) -> Mapping[str, model.Place]:
        return self._table("places")  # type: ignore[return-value]

    @cached_property
    def rules(self) -> Mapping[str, model.Rule]:
        return self._table("rules")  # type: ignore[return-value]

    @cached_property
    def remedies(self) -> Mapping[str, model.Remedy]:
        return self._table("remedies")  # type: ignore[return-value]

    @cached_property
    def tests(self) -> Mapping[str, model.HomeTest]:
        return self._table("tests")  # type: ignore[return-value]

    @cached_property
    def symptoms(self) -> Mapping[str, model.Symptom]:
        return self._table("symptoms")  # type: ignore[return-value]

    @cached_property
    def iron(self) -> Mapping[str, model.IronLevel]:
        return self._table("iron")  # type: ignore[return-value]

    @cached_property
    def methods(self) -> Mapping[str, model.Method]:
        return self._table("methods")  # type: ignore[return-value]


def shipped_folder() -> Path:
    """The folder that comes with the package: beside it in a checkout, inside it in a wheel."""
    package = Path(__file__).resolve().parent
    inside = package / "_knowledge"
    return inside if inside.is_dir() else package.parent / "knowledge"


def user_folder() -> Path:
    """Where a user's own knowledge is looked for when no folder is named."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return base / "fabric-advisor" / "knowledge"


def cache_folder() -> Path:
    """Where the compiled form is kept."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    return base / "fabric-advisor"


def _stamp(folders: Sequence[Path]) -> str:
    """A key that changes when any knowledge file, or the way of compiling, changes."""
    seen = hashlib.blake2b(digest_size=16)
    seen.update(f"{FORMAT} {msgspec.__version__} {Path(__file__).stat().st_mtime_ns}".encode())
    for folder in folders:
        stack = [str(folder)]
        found = []
        while stack:
            with os.scandir(stack.pop()) as items:
                for item in items:
                    if item.is_dir(follow_symlinks=False):
                        stack.append(item.path)
                    elif item.name.endswith(".yaml"):
                        stat = item.stat()
                        found.append(f"{item.path} {stat.st_size} {stat.st_mtime_ns}")
        seen.update("\n".join(sorted(found)).encode())
    return seen.hexdigest()


def is_own(path: Path) -> bool:
    """Whether only this user can have written the file."""
    if not hasattr(os, "getuid"):
        return True
    stat = path.stat()
    return stat.st_uid == os.getuid() and not stat.st_mode & 0o022


def _cached(path: Path, key: str) -> Compiled | None:
    try:
        if not is_own(path):
            return None
        compiled = msgspec.msgpack.decode(path.read_bytes(), type=Compiled)
    except (OSError, msgspec.DecodeError, msgspec.ValidationError):
        return None
    return compiled if compiled.key == key else None


def keep_file(path: Path, content: bytes) -> None:
    """Writes a file of the cache whole or not at all; a folder that cannot be written is no fault."""
    import tempfile

    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".compiled-")
        with os.fdopen(handle, "wb") as out:
            out.write(content)
        os.replace(name, path)
    except OSError:
        pass


LOOK_AGAIN = 0.25
"""Seconds for which the files are taken to be as they were: asking many times in a row should not look at each file each time."""

_loaded: dict[tuple[str, ...], tuple[str, Knowledge, float]] = {}
"""Names of the folders → the key of their files, the knowledge, and when the files were last looked at."""


def folders_to_read(extra: Sequence[Path] = ()) -> list[Path]:
    """The shipped folder, the user's where there is one, then those named."""
    own = user_folder()
    return [shipped_folder(), *([own] if own.is_dir() else []), *extra]


def load(extra: Sequence[Path] = (), *, cache: bool = True) -> Knowledge:
    """The knowledge base, with `extra` folders laid over it; raises `KnowledgeError` naming every fault."""
    for folder in extra:
        if not folder.is_dir():
            raise Unclear(f"knowledge folder '{folder}'", "a folder that exists")
    folders = folders_to_read(extra)
    names = tuple(str(f) for f in folders)
    ready = _loaded.get(names)
    if ready and cache and time.monotonic() - ready[2] < LOOK_AGAIN:
        return ready[1]
    key = _stamp(folders)
    if ready and ready[0] == key:
        _loaded[names] = (key, ready[1], time.monotonic())
        return ready[1]
    path = cache_folder() / f"{hashlib.blake2b(repr(names).encode(), digest_size=8).hexdigest()}.knowledge"
    compiled = _cached(path, key) if cache else None
    if compiled is None:
        from advisor.compiling import compile_folders

        compiled = compile_folders(folders, key)
        if cache:
            keep_file(path, msgspec.msgpack.encode(compiled))
    knowledge = Knowledge(compiled, folders)
    _loaded[names] = (key, knowledge, time.monotonic())
    return knowledge
