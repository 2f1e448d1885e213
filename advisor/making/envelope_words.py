"""The words of a pattern's envelope, read from `knowledge/lists/envelope.yaml`, and the plain form of a printed line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Literal

import msgspec

Nap = Literal["with", "without", "either"]


class StretchClass(msgspec.Struct):
    """A trade class of stretch as the least stretch in % that it asks for."""

    names: list[str]
    at_least_pct: float
    source: str


class Bound(msgspec.Struct, rename={"value": "is"}):
    """A figure beyond which a reading is a slip, with its source."""

    value: float
    source: str


class EnvelopeWords(msgspec.Struct):
    """lists/envelope.yaml; its first lines say what each part is."""

    source: str
    headings: dict[str, list[str]]
    leads: list[str]
    ends: list[str]
    kinds: dict[Literal["woven", "knit"], list[str]]
    ways: dict[Literal["along", "across", "both"], list[str]]
    classes: list[StretchClass]
    nap: dict[Nap, list[str]]
    nap_marks: dict[str, Nap]
    parts: dict[str, list[str]]
    main: list[str]
    views: list[str]
    sizes: list[str]
    size_words: list[str]
    all_sizes: list[str]
    garments: list[str]
    advice: list[str]
    narrowest: Bound
    widest: Bound
    longest: Bound


def envelope_words(folders: Sequence[Path]) -> EnvelopeWords:
    """The word table of the last knowledge folder that has one; raises `Unclear` naming the file at fault."""
    from advisor.lists import read_list

    return read_list("envelope", EnvelopeWords, folders)


_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_SIGNS = str.maketrans({"″": '"', "”": '"', "“": '"', "’": "'", "′": "'", "⁄": "/", "×": "x", "–": "-", "—": "-", "\u00a0": " ", "\u2009": " ", "\u202f": " "})


def printed(line: str) -> str:
    """A printed line in small letters with plain quotes, dashes and fractions; columns keep the spaces between them."""
    text = line.translate(_SIGNS).replace("''", '"')
    for sign, plain in _FRACTIONS.items():
        text = re.sub(rf"(?<=\d)\s?{sign}", f" {plain}", text).replace(sign, plain)
    text = re.sub(r"(?<=\d)-(?=\d/\d)", " ", text)  # 2-3/8 is two and three eighths
    return re.sub(r"^\s*[•·▪]\s*", "", text).rstrip().lower()


@lru_cache(maxsize=512)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    each = "|".join(re.escape(w) for w in sorted(words, key=len, reverse=True))
    return re.compile(rf"(?<![a-z0-9])(?:{each})(?![a-z0-9])")


def finder(words: Iterable[str]) -> re.Pattern[str]:
    """A pattern that finds any of the words, the longest first, as whole words."""
    return _pattern(tuple(words))
