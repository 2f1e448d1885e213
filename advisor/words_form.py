"""The plain form in which words and phrases are compared: small letters, no accents, singular, no hyphens."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_KEEP_S = frozenset(
    [
        "class",
        "glass",
        "dress",
        "cross",
        "grass",
        "less",
        "gloss",
        "bias",
        "canvas",
        "pass",
        "press",
        "mass",
        "moss",
        "wales",
        "this",
        "his",
        "gas",
        "corps",
        "chess",
        "chintz",
        "seersucker",
        "harris",
        "jeans",
        "trousers",
        "pyjamas",
        "pajamas",
        "shorts",
        "leggings",
        "overalls",
        "dungarees",
        "knickers",
        "boss",
        "across",
        "loss",
        "process",
        "ess",
        "gloss",
        "plus",
        "as",
        "is",
        "us",
        "yes",
        "thus",
        "lens",
        "series",
        "always",
        "besides",
    ]
)
_WORD = re.compile(r"[a-z0-9]+")


def plain(text: str) -> str:
    """Small letters without accents."""
    if text.isascii():
        return text.lower()
    apart = re.sub(r"(?<=\d)(?=[¼½¾⅛⅜⅝⅞])", " ", text.replace("’", "'"))
    decomposed = unicodedata.normalize("NFKD", apart)
    return "".join(c for c in decomposed if not unicodedata.combining(c)).lower()


@lru_cache(maxsize=10_000)
def singular(word: str) -> str:
    """A word without its plural ending; words that only look plural are kept."""
    if len(word) < 4 or word in _KEEP_S or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes", "zes")):
        return word[:-2]
    return word[:-1]


def words_of(text: str) -> list[str]:
    """The words of a text in plain, singular form, hyphens and slashes read as spaces."""
    return [singular(word) for word in _WORD.findall(plain(text).replace("'", ""))]


@lru_cache(maxsize=10_000)
def phrase(text: str) -> str:
    """A phrase as the key under which it is found."""
    return " ".join(words_of(text))
