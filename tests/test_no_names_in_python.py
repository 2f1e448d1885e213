"""Python knows no cloth, fibre, structure or feature by name: what is known stands in the knowledge files."""

from __future__ import annotations

import ast
import re

from advisor.words_form import phrase

KINDS = ("cloths", "fibres", "structures", "features")

PROMPTS = {"advisor/errors.py", "advisor/cli"}
"""Nothing is excused by file but the texts of help; see `excused`."""

EVERYDAY = {
    "knit", "woven", "weight", "film", "net", "plain", "paper", "rubber", "glass", "fur", "wool", "hide", "cord", "slip", "facing",
    "lining", "hem", "cuff", "pocket", "collar", "sleeve", "belt", "neckline", "seam", "dart", "yoke", "frill",
}  # fmt: skip
"""Names of one everyday word may stand inside a sentence; they may not be a whole string."""

GENERIC = {"knit", "woven"}
"""The two kinds of cloth that a pattern's envelope asks for, the only words of structure in the report's contract."""


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
