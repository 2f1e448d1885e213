"""From YAML folders to the compiled knowledge: read, lay over, check, index."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path

import msgspec

from advisor import model
from advisor.knowledge import NAMED, Compiled, KnowledgeError
from advisor.linting import Linter, nearest
from advisor.reading import KINDS, BadYaml, Problem, Shorthand, knowledge_files, parse_yaml
from advisor.rules import BadRule, normalise
from advisor.words_form import phrase

SILENCED = "silenced"


def read_folders(
    folders: Sequence[Path],
) -> tuple[dict[str, dict[str, model.Entry]], model.Settings | None, list[Problem]]:
    """Every entry of every folder, later folders laid over earlier ones, and all problems met."""
    problems: list[Problem] = []
    tables: dict[str, dict[str, model.Entry]] = {kind: {} for kind in KINDS}
    settings: model.Settings | None = None
    shorthand = Shorthand({}, problems)
    for folder in folders:
        files = sorted(knowledge_files(folder), key=lambda kp: (kp[0] != "properties", kp[0], str(kp[1])))
        for kind, path in files:
            name = str(path.resolve().relative_to(folder.resolve()))
            if folder is not folders[0]:
                name = f"{folder.name}/{name}"
            if kind not in KINDS:
                problems.append(Problem(name, "", "", f"'{kind}' is not a kind of entry{nearest(kind, KINDS)}"))
                continue
            try:
                body = parse_yaml(path.read_text(encoding="utf-8"))
            except (BadYaml, UnicodeDecodeError, OSError) as error:
                problems.append(Problem(name, "", "", str(error)))
                continue
            if not isinstance(body, dict):
                if body is not None:
                    problems.append(Problem(name, "", "", "expected entries, each an id with its fields"))
                continue
            here: set[str] = set()
            for entry_id, given in body.items():
                entry_id = str(entry_id)
                if given == SILENCED:
                    tables[kind].pop(entry_id, None)
                    continue
                if not re.fullmatch(r"[a-z0-9][a-z0-9_-]*", entry_id):
                    problems.append(Problem(name, entry_id, "", "an id is small letters, figures and hyphens"))
                    continue
                entry = shorthand.read(kind, entry_id, given, name)
                if entry is None:
                    continue
                if entry_id in tables[kind] and folder is folders[0]:
                    problems.append(Problem(name, entry_id, "", f"stands in {tables[kind][entry_id].origin} too"))
                here.add(entry_id)
                tables[kind][entry_id] = entry
            if kind == "properties":
                shorthand.bands = {p.id: p.bands for p in tables["properties"].values()}  # type: ignore[attr-defined]
        path = folder / "settings.yaml"
        if path.is_file():
            try:
                settings = msgspec.convert(parse_yaml(path.read_text(encoding="utf-8")), model.Settings)
            except (BadYaml, msgspec.ValidationError) as error:
                problems.append(Problem("settings.yaml", "", "", str(error)))
    if settings is None:
        problems.append(Problem("settings.yaml", "", "", "is missing"))
    return tables, settings, problems


def _normalise_rules(tables: dict[str, dict[str, model.Entry]]) -> None:
    for rule in tables["rules"].values():
        assert isinstance(rule, model.Rule)
        try:
            rule.conjunctions = normalise(rule.when) if rule.when else [[]]
        except BadRule:
            rule.conjunctions = []
    for symptom in tables["symptoms"].values():
        assert isinstance(symptom, model.Symptom)
        for cause in symptom.causes:
            try:
                cause.conjunctions = normalise(cause.likelier) if cause.likelier else []
            except BadRule:
                cause.conjunctions = []


def _names(entry: model.Entry) -> Iterable[str]:
    yield from entry.names
    if isinstance(entry, model.Fibre):
        yield from entry.law.values()
    yield entry.id.replace("-", " ").replace("_", " ")


def vocabulary(tables: dict[str, dict[str, model.Entry]]) -> dict[str, list[tuple[str, str]]]:
    """Every phrase that may describe a cloth, with what it may mean, the likelier meaning first."""
    words: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for kind in NAMED:
        for entry in tables[kind].values():
            # Traits, words and context are said only by the names that are written down.
            given = entry.names if kind in ("traits", "context", "words") else _names(entry)
            for name in given:
                key = phrase(name)
                if key and (kind, entry.id) not in words[key]:
                    words[key].append((kind, entry.id))
    for prop in tables["properties"].values():
        assert isinstance(prop, model.Property)
        for band in prop.bands:
            # "drape: fluid" and "fluid drape" are said of the property; bare band words stand in words.yaml.
            for said in {prop.name, prop.id.replace("_", " ")}:
                words[phrase(f"{band} {said}")].append(("bands", f"{prop.id}:{band}"))
                words[phrase(f"{said} {band}")].append(("bands", f"{prop.id}:{band}"))

    def order(meaning: tuple[str, str]) -> tuple[int, int]:
        entry = tables.get(meaning[0], {}).get(meaning[1])
        return (
            NAMED.index(meaning[0]) if meaning[0] in NAMED else len(NAMED),
            -getattr(entry, "likelier", 0),
        )

    return {key: sorted(meanings, key=order) for key, meanings in words.items()}


def _feature_words(tables: dict[str, dict[str, model.Entry]]) -> dict[str, list[str]]:
    words: dict[str, list[str]] = defaultdict(list)
    for entry in tables["features"].values():
        for name in _names(entry):
            key = phrase(name)
            if key and entry.id not in words[key]:
                words[key].append(entry.id)
    return dict(words)


def compile_folders(folders: Sequence[Path], key: str) -> Compiled:
    """The compiled knowledge of `folders`; raises `KnowledgeError` with every problem."""
    tables, settings, problems = read_folders(folders)
    _normalise_rules(tables)
    problems = sorted({*problems, *Linter(tables).run()})
    if problems or settings is None:
        raise KnowledgeError(problems)
    rules_of: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for rule in tables["rules"].values():
        assert isinstance(rule, model.Rule)
        for feature in rule.features or [""]:
            rules_of[feature].append((rule.id, rule.then.kind or "derive"))
    encoder = msgspec.msgpack.Encoder()
    entries = {
        kind: {entry_id: msgspec.Raw(encoder.encode(entry)) for entry_id, entry in table.items()}
        for kind, table in tables.items()
    }
    momme = sorted({phrase(n) for f in tables["fibres"].values() if "momme" in f.facts for n in _names(f)})  # type: ignore[attr-defined]
    places = {phrase(name): p.id for p in tables["places"].values() for name in (*p.names, p.id)}
    codes = {code: f.names[0] for f in tables["fibres"].values() for code in f.codes}  # type: ignore[attr-defined]
    words = vocabulary(tables)
    reach: dict[str, int] = {}
    for said in words:
        first, spaces = said.partition(" ")[0], said.count(" ")
        reach[first] = max(reach.get(first, 0), spaces + 1)
    return Compiled(
        key,
        entries,
        {said: msgspec.Raw(encoder.encode(meanings)) for said, meanings in words.items()},
        reach,
        _feature_words(tables),
        dict(rules_of),
        settings,
        codes,
        momme,
        places,
    )


def problems_of(folders: Sequence[Path]) -> list[Problem]:
    """Everything that is wrong in the folders, in order."""
    tables, _, problems = read_folders(folders)
    _normalise_rules(tables)
    return sorted({*problems, *Linter(tables).run()})


if __name__ == "__main__":
    from advisor.knowledge import folders_to_read

    found = problems_of(folders_to_read())
    print("\n".join(map(str, found)) or "the knowledge holds together")
    raise SystemExit(1 if found else 0)
