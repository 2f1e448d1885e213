"""Figures inside a description: weights, widths, shares and tests, metric and imperial, taken out of the text."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

from advisor.errors import Unclear
from advisor.ranges import Range

GSM_PER_OZ_YD2 = 33.9057  # 28.349523125 g / 0.83612736 m², exact definitions of the ounce and the yard
GSM_PER_MOMME = 4.34  # trade conversion: 1 momme = 3.75 g on 38 mm × 22.7 m
CM_PER_INCH = 2.54

NUM = r"(-?\d+(?:[.,]\d+)?)"
SPAN = rf"{NUM}(?:\s*(?:±|\+/-|\+-)\s*(\d+(?:[.,]\d+)?)|\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?"
_OZ = r"(?:oz|ounces?)"
_PER_M2 = r"(?:g\s*/\s*m(?:²|2|\^2)|gsms?|gms|gm2|g/sqm|g(?:rams?)?\s+per\s+sq(?:uare|\.)?\s*m(?:etres?|eters?)?)"
_RUNNING = r"(?:g|grams?)\s*(?:/|per|a)\s*(?:(?:running|linear|lin)\s*)?(?:m|metre|meter)\b(?!\s*(?:²|2|\^2))"

FRACTION = r"(?:(\d+)[\s-]+)?\b(\d{1,2})\s*[/\u2044]\s*(2|3|4|8|16|32)\b(?=\s*-?\s*(?:in\b|inch|\"|yd|yard|oz|ounce|ft\b|feet|m\b|cm\b|mm\b|metre|meter))"
"""'44 1/2' before a unit."""
TWO_WIDTHS = r"\b(\d{2,3})\s*/\s*\d{2,3}\s*-?\s*(in\b|inch(?:es)?\b|\"|cm\b)"
"""'58/60 in': a cloth sold between two widths; the narrower is reckoned with."""
GRADES = r"(?!\s*%)"
PER_CENT = r"\s*%"
WEIGHT_UNITS: tuple[tuple[str, str, float], ...] = (
    (r"g\s*(?:sm|ms|m2|/|per|rams?\s+per)", _PER_M2, 1.0),
    (r"\d\s*g(?:r|ram|\b)", r"(?:g|gr|gra?mm?e?s?)(?!\s*(?:/|per\b))", 1.0),
    (r"oz|ounce", rf"{_OZ}(?:\s*(?:/|per)\s*(?:sq(?:uare|\.)?\s*)?y(?:ar)?ds?\s*(?:²|2|\^2)?)?", GSM_PER_OZ_YD2),
    (r"momme|m/m", r"(?:momme|mommes|m/m)", GSM_PER_MOMME),
)
"""Units of weight: what must be in the text for them to be there at all, their pattern, and g/m² in each."""
TESTED: tuple[tuple[str, str, str, str], ...] = (
    ("drape", "drape", r"drape(?:\s+coefficient)?", PER_CENT),
    ("recovery", "recovery", r"recovery", PER_CENT),
    ("thickness", "thickness", r"thickness", r"\s*mm"),
    ("stretch_along", "stretch", r"(?:length(?:wise)?|along|warp)\s+stretch|stretch(?:es)?\s+along", PER_CENT),
    ("stretch_across", "stretch", r"(?:cross(?:wise)?|across|weft|width)\s+stretch|stretch(?:es)?\s+across|stretch", PER_CENT),
    ("bias_give", "bias", r"(?:give on the bias|bias give|bias stretch)", PER_CENT),
    ("shrink_across", "shr", r"(?:shrinkage|shrinks?|shrank)\s+across", PER_CENT),
    ("shrink_along", "shr", r"(?:shrinkage|shrinks?|shrank)(?:\s+along)?", PER_CENT),
    ("shrink_across", "gr[eo]w", r"(?:growth|grows|grow|grew)\s+across", PER_CENT),
    ("shrink_along", "gr[eo]w", r"(?:growth|grows|grow|grew)(?:\s+along)?", PER_CENT),
    ("fray", "fray", r"fray(?:ing)?(?:\s+grade)?", GRADES),
    ("opacity", "opacity", r"opacity", GRADES),
    ("slip", "slip", r"slip(?:periness)?", GRADES),
    ("crease", "crease|fold", r"crease|pressed fold", GRADES),
    ("wrinkle", "wrinkl", r"wrinkl(?:es?|ing)", GRADES),
    ("slippage", "slippage", r"(?:seam\s+)?slippage", GRADES),
    ("curl", "curl", r"curl", GRADES),
    ("bleed", "bleed|colour", r"bleed(?:ing)?|colour fastness", GRADES),
)
"""Home tests in words: the property, what must be in the text for it to be there at all, its pattern and its unit."""
SHRUNK = ("shrink_along", "shrink_across")
DIRECTION = r"(?P<said>shrinkage|shrinks?|shrank|growth|grows?|grew)(?P<behind>\s*(?:of|:|=|is|by|about)?\s*{span}\s*%)\s*(?:in the wash\s*)?(?P<way>along|across)\b"
"""'shrinks 5 % across', said with the direction last; it is read as 'shrinks across 5 %'."""
_TESTED_AT_ALL = "|".join(dict.fromkeys(hint for _, hint, _, _ in TESTED))
_LENGTH_UNIT = r'(cm|inch(?:es)?|in|"|m)'


@lru_cache(maxsize=128)
def _regex(pattern: str) -> re.Pattern[str]:
    """A pattern, compiled when it is first needed: most descriptions need few, and compiling costs more than reading."""
    return re.compile(pattern)


def _there(pattern: str, text: str) -> bool:
    return _regex(pattern).search(text) is not None


@dataclass
class Figures:
    """What was taken out: stated and measured figures by property, width, length, and shares still to be named."""

    stated: dict[str, Range] = field(default_factory=dict)
    measured: dict[str, Range] = field(default_factory=dict)
    width_cm: float | None = None
    length_m: float | None = None
    shares: list[tuple[Range, int]] = field(default_factory=list)
    ratio: tuple[float, ...] = ()
    per_metre_g: float | None = None
    notes: list[str] = field(default_factory=list)


def number(text: str) -> float:
    return float(text.replace(",", "."))


def _decimal(match: re.Match[str]) -> str:
    whole, above, below = (int(part or 0) for part in match.groups())
    return f"{whole + above / below:g}" if above < below else match.group(0)


def span(match: re.Match[str], scale: float = 1.0, first: int = 1) -> Range:
    """A figure, `figure ± spread` or `low-high` as a range in the wanted unit."""
    value, spread, upper = (match.group(first + i) for i in range(3))
    base = number(value)
    if base < 0:
        raise Unclear(f"'{match.group(0).strip()}'", "a figure above nought")
    if spread:
        return Range((base - number(spread)) * scale, (base + number(spread)) * scale)
    high = number(upper) if upper else base
    if high < base:
        raise Unclear(f"'{match.group(0).strip()}'", "the smaller figure first", f"{upper}-{value}")
    return Range(base * scale, high * scale)


def take(text: str, momme_word: bool = False) -> tuple[str, Figures]:
    """The text with its figures cut out (a bar stands for each), and the figures.

    `momme_word`: whether "mm" after a figure means momme, as it does on silk. Shares are left in the text as
    a mark `share<i>`, so that the reader can tell which fibre each belongs to.
    """
    found = Figures()
    measured_from = text.find("measured")

    def into(match: re.Match[str]) -> dict[str, Range]:
        return found.measured if 0 <= measured_from <= match.start() else found.stated

    def weigh(scale: float) -> Callable[[re.Match[str]], str]:
        def put(match: re.Match[str]) -> str:
            into(match)["weight"] = span(match, scale)
            return _blank(match)

        return put

    def running(match: re.Match[str]) -> str:
        found.per_metre_g = span(match).mid
        return _blank(match)

    if not _there(r"\d", text):
        return text, found
    if "/" in text or "\u2044" in text:
        text = _regex(TWO_WIDTHS).sub(r"\1 \2", _regex(FRACTION).sub(_decimal, text))
    if _there(r"g(?:rams?)?\s*(?:/|per|a)", text):
        text = _regex(rf"{SPAN}\s*{_RUNNING}").sub(running, text)
    for hint, unit, scale in WEIGHT_UNITS:
        if _there(hint, text):
            text = _regex(rf"{SPAN}\s*{unit}(?![a-z])").sub(weigh(scale), text)
    if momme_word and "mm" in text:
        text = _regex(rf"{SPAN}\s*mm\b(?!\s*thick)").sub(weigh(GSM_PER_MOMME), text)

    def tested(name: str) -> Callable[[re.Match[str]], str]:
        def put(match: re.Match[str]) -> str:
            if name in SHRUNK and number(match.group(1)) < 0:
                way = name.rpartition("_")[2]
                raise Unclear(
                    f"'{match.group(0).strip()}'", f"a loss, such as 'shrinkage {way} 3 %', or, where it grew longer, 'growth {way} 3 %'"
                )
            value = span(match)
            grew = name in SHRUNK and re.search(r"\bgr[eo]w", match.group(0))
            into(match)[name] = Range(-value.high, -value.low) if grew else value
            return _blank(match)

        return put

    if _there(r"(?:shr|gr[eo]w).*%.*a(?:long|cross)", text):
        text = _regex(DIRECTION.format(span=SPAN)).sub(lambda m: f"{m['said']} {m['way']} {m['behind']}", text)
    if _there(_TESTED_AT_ALL, text):
        for name, hint, said, unit in TESTED:
            if not _there(hint, text):
                continue
            text = _regex(rf"\b(?:{said})\s*(?:of|:|=|is|by|about)?\s*{SPAN}{unit}").sub(tested(name), text)
            if unit == PER_CENT and name != "drape":
                text = _regex(rf"{SPAN}\s*%\s*(?:{said})\b").sub(tested(name), text)

    def width(match: re.Match[str]) -> str:
        value = number(match.group(1)) * (
            CM_PER_INCH if match.group(2)[0] in 'i"' else 100 if match.group(2) == "m" else 1
        )
        if not 5 <= value <= 500:
            raise Unclear(f"width '{match.group(0).strip()}'", "5 to 500 cm (2 to 197 in)")
        found.width_cm = value
        return _blank(match)

    if "wid" in text:
        text = _regex(rf"{NUM}\s*{_LENGTH_UNIT}\s*(?:wide|width|in width|across the width)").sub(width, text)
        text = _regex(rf"(?:width|wide)\s*(?:of|:)?\s*{NUM}\s*{_LENGTH_UNIT}(?![a-z])").sub(width, text)
    if "thick" in text:
        text = _regex(rf"{NUM}\s*(mm|inch(?:es)?|in|\")\s*thick").sub(lambda m: _thick(m, into(m)), text)
    if _there(r"\d\s*(?:cm|in|\")", text):
        text = _regex(r"\b(?:at\s+)?(\d{2,3}(?:[.,]\d+)?)\s*(cm|inch(?:es)?|in|\")(?![a-z])").sub(width, text)
    if not momme_word and "mm" in text:
        text = _regex(r"\b(\d?\d?[.,]\d+|\d)\s*(mm)\b").sub(lambda m: _thick(m, into(m)), text)

    def length(match: re.Match[str]) -> str:
        found.length_m = number(match.group(1)) * (0.9144 if match.group(2).startswith("y") else 1)
        return _blank(match)

    if _there(r"\d\s*[my]", text):
        text = _regex(rf"{NUM}\s*(m|metres?|meters?|yd|yards?)(?![a-z²2])").sub(length, text)

    ratio = "/" in text and _regex(
        r"\b(\d{1,3})\s*/\s*(\d{1,3})(?:\s*/\s*(\d{1,3}))?\b(?!\s*(?:count|thread|s\b))"
    ).search(text)
    if ratio and 98 <= sum(int(g) for g in ratio.groups() if g) <= 102:
        found.ratio = tuple(float(g) for g in ratio.groups() if g)
        text = text[: ratio.start()] + " ratio0 " + text[ratio.end() :]

    def share(match: re.Match[str]) -> str:
        found.shares.append((span(match), len(found.shares)))
        return f" share{len(found.shares) - 1} "

    if _there(r"%|pc|per", text):
        text = _regex(rf"{SPAN}\s*(?:%|per\s?cent|pc\b|pct\b)(?:\s*of)?").sub(share, text)
    if found.per_metre_g is not None:
        width_cm = found.width_cm
        if width_cm is None:
            width_cm = 145.0
            found.notes.append("weight per running metre taken at 145 cm wide, as no width was given")
        weight = found.per_metre_g / (width_cm / 100)
        found.stated["weight"] = Range(weight, weight)
    return text, found


def _thick(match: re.Match[str], into: dict[str, Range]) -> str:
    value = number(match.group(1)) * (1 if match.group(2) == "mm" else 10 * CM_PER_INCH)
    into["thickness"] = Range(value, value)
    return _blank(match)


def _blank(match: re.Match[str]) -> str:
    return " | "
