"""Python knows no cloth, fibre, structure or feature by name: what is known stands in the knowledge files."""

from __future__ import annotations

import ast
import re

KINDS = ("cloths", "fibres", "structures", "features")


def strings(tree: ast.AST):
    """(line, text, call) of every string constant that is no docstring, with the function it is passed to."""
    docs = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            for first in body:  # a docstring, or the text below an assignment that explains it
                if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                    docs.add(first.value)
    owner = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            for inner in ast.walk(node):
                owner[inner] = name if inner not in owner or name in ("Option", "Argument", "Unclear") else owner[inner]
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in docs:
            yield node.lineno, node.value, owner.get(node, "")


OWN_WORDS = {"suits", "felt"}
"""Words of the program's own that are also somebody's name for something: the verdict, and what the hand has felt."""

ENVELOPE = {"woven", "knit", "woven cloth"}
"""What a pattern's envelope asks for, and the kind of cloth taken when nothing was said."""

BIAS = {"cut on the bias", "on the bias"}
"""How a strip is laid on the grain, which is geometry."""

CALCULATIONS = {"flounce", "gathers", "pleats", "pleat", "buttons", "loops", "zip", "hem"}
"""What `advisor need` reckons is named by what is reckoned: subcommands and figures of geometry, not knowledge of cloth."""

HELPING = {"Unclear", "Option", "Argument", "Asked"}
"""Examples of what could be typed, in errors and in help, must say something."""

SHEET_LINES = {"fusing", "interfacing", "lining", "hem"}
"""Lines and headings of the sewing sheet, which are keys of its JSON."""

SHEETS = tuple(f"advisor/{name}.py" for name in ("layers", "report", "sewing", "sheet_keys", "sheets", "cli/sew"))

EXAMPLES = {("advisor/decide/whatif.py", "covered buttons"), ("advisor/decide/whatif.py", "shank buttons")}
"""What could be typed, kept beside the errors that say it."""

LISTS = {("advisor/words_form.py", "frozenset"), ("advisor/asks.py", "frozenset")}
"""Word lists about the English language: words that only look plural, and words that carry no meaning."""


def excused(path: str, text: str, call: str, knowledge) -> bool:
    low = text.lower()
    if call in HELPING or (path, call) in LISTS or low in OWN_WORDS | ENVELOPE | BIAS or low in knowledge.properties:
        return True
    if low.split(",")[0] in knowledge.sources or low.startswith("  advisor "):
        return True  # a source with its place, and a command line shown as an example
    if (path in SHEETS and low in SHEET_LINES) or (path, low) in EXAMPLES:
        return True
    return low in CALCULATIONS and path.startswith(("advisor/need/", "advisor/cli/need"))


def names_of(knowledge) -> dict[str, str]:
    found = {}
    for kind in KINDS:
        for entry in knowledge.table(kind).values():
            for name in (entry.id, entry.id.replace("-", " "), *entry.names):
                found.setdefault(name.lower(), f"{kind} {entry.id}")
    return found


def test_no_string_in_the_program_is_or_holds_the_name_of_a_cloth_fibre_structure_or_feature(knowledge, root):
    names = names_of(knowledge)
    said = {name.lower() for entry in knowledge.properties.values() for name in (entry.name, *entry.bands)}
    several = sorted((n for n in names if re.search(r"[ -]", n)), key=len, reverse=True)
    held = re.compile(r"(?<![a-z-])(?:" + "|".join(map(re.escape, several)) + r")(?![a-z-])")
    found = []
    for path in sorted((root / "advisor").rglob("*.py")):
        where = path.relative_to(root).as_posix()
        for line, text, call in strings(ast.parse(path.read_text(encoding="utf-8"))):
            low = text.lower()
            match = held.search(low)
            if excused(where, low, call, knowledge):
                continue
            inside = match.group() if match else ""
            if low in names:
                found.append(f"{where}:{line}: {text!r} is {names[low]}")
            elif inside and not excused(where, inside, call, knowledge) and not any(inside in words for words in said):
                found.append(f"{where}:{line}: {text!r} holds {inside!r}, {names[inside]}")
    assert found == []


def test_the_scan_finds_a_name_that_is_there(knowledge):
    tree = ast.parse('"""A docstring about denim."""\nif cloth == "denim":\n    print("a cotton poplin")\n')
    assert [(text, call) for _, text, call in strings(tree)] == [("denim", ""), ("a cotton poplin", "print")]
    assert {"denim", "cotton poplin"} <= set(names_of(knowledge))


def test_no_name_is_pieced_together_from_the_start_of_an_id(knowledge, root):
    ids = [i for kind in KINDS for i in knowledge.table(kind)]
    for path in sorted((root / "advisor").rglob("*.py")):
        for line, text, _ in strings(ast.parse(path.read_text(encoding="utf-8"))):
            if re.fullmatch(r"[a-z]{3,}-", text):
                assert not any(i.startswith(text) for i in ids), f"{path.name}:{line}: {text!r}"
