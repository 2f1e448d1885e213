"""From a maker's words to what is asked: features with their figures and places, and the circumstances."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.model import Feature
from advisor.words_form import phrase, plain, words_of

EMPTY = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "with",
        "in",
        "at",
        "on",
        "for",
        "and",
        "to",
        "by",
        "my",
        "our",
        "some",
        "any",
        "small",
        "large",
        "little",
        "big",
        "long",
        "short",
        "plain",
    ]
)
LONGEST = 300
"""Characters that one feature with its figures and place may take."""
TO_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": 25.4,
    "inch": 25.4,
    "inches": 25.4,
    '"': 25.4,
    "l": 0.635,
    "ligne": 0.635,
}
SAYS = {
    "deep": "depth", "depth": "depth", "wide": "width", "width": "width", "across": "diameter", "diameter": "diameter",
    "long": "length", "length": "length", "full": "fullness", "fullness": "fullness",
}  # fmt: skip
_FIGURE = re.compile(
    r'(-?\d+(?:[.,]\d+)?)\s*(mm|cm|inches|inch|in|ligne|l|m|"|times|x|:1|%)?\s*(deep|depth|wide|width|across|diameter|long|length|full(?:ness)?)?(?![a-z])'
)
_FRACTION = re.compile(r"(?:(\d+)[\s-]+)?(\d+)\s*[/\u2044]\s*(\d+)(?=\s*(?:in|inch|inches|\"|cm|mm)(?![a-z]))")


def _decimal(match: re.Match[str]) -> str:
    """'1 1/2' (before a unit of length) as '1.5'."""
    whole, above, below = (int(part or 0) for part in match.groups())
    return f"{whole + above / below:g}" if below else match.group(0)


@dataclass(frozen=True)
class Ask:
    """One feature that is asked about: its figures (by the feature's own names) and its places."""

    given: str
    feature: str
    figures: dict[str, float] = field(default_factory=dict, hash=False)
    places: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    context: tuple[str, ...] = ()
    """Circumstances said with the feature: 'child's nightdress', 'winter skirt'."""


def find_feature(
    text: str, knowledge: Knowledge, among: Mapping[str, Sequence[str]] | None = None
) -> tuple[str, str]:
    """(feature id, note), `among` some names only; raises `Unclear` with the nearest name where none is near enough."""
    words = [w for w in words_of(text) if not w.isdigit()]
    table = knowledge.feature_words if among is None else among
    key = " ".join(words)
    if key in table:
        return table[key][0], ""
    lean = [w for w in words if w not in EMPTY]
    if " ".join(lean) in table:
        return table[" ".join(lean)][0], ""
    lean_words = set(lean)
    best: tuple[float, str, str] = (0.0, "", "")
    for name, ids in table.items():
        parts = [p for p in name.split() if p not in EMPTY]
        if not parts or not set(parts) <= lean_words:
            continue
        # The name that covers most of what was said; of equals, the one that ends it (the head noun).
        score = len(parts) + (0.5 if lean and parts[-1] == lean[-1] else 0) + 0.01 * len(name)
        if score > best[0]:
            best = (score, ids[0], name)
    if best[1]:
        return best[1], f"'{text.strip()}' read as '{best[2]}'"
    from rapidfuzz import fuzz, process

    found = process.extractOne(" ".join(lean) or key, list(table), scorer=fuzz.token_sort_ratio)
    if found and found[1] >= 84:
        return table[found[0]][0], f"'{text.strip()}' read as '{found[0]}'"
    raise Unclear(
        f"feature '{text.strip()[:60]}'",
        "a feature that 'advisor list features' shows",
        found[0] if found else "",
    )


def _place(text: str, knowledge: Knowledge) -> tuple[str, tuple[str, ...]]:
    """Takes '… at the armhole' off the end of a feature, unless the whole is a feature's name ('elastic at the wrist')."""
    if phrase(_FIGURE.sub(" ", text)) in knowledge.feature_words:
        return text, ()
    match = re.search(r"\s(?:at|on|in|round|around|along|for)\s+(?:the\s+|a\s+)?(.+)$", text)
    if match:
        key = phrase(match.group(1))
        if key in knowledge.place_words:
            return text[: match.start()], (knowledge.place_words[key],)
    return text, ()


def read_ask(given: str, knowledge: Knowledge) -> Ask:
    """One feature as a maker says it: 'flounce 25 cm deep', 'French seam at the armhole', '9 covered buttons 12 mm'."""
    if not given.strip():
        raise Unclear("an empty feature", "a feature that 'advisor list features' shows", "flounce")
    if len(given) > LONGEST:
        raise Unclear(f"a feature of {len(given)} characters", f"at most {LONGEST} characters")
    text, places = _place(plain(given).strip(), knowledge)
    found: list[tuple[float, str, str]] = []

    def take(match: re.Match[str]) -> str:
        found.append((float(match.group(1).replace(",", ".")), match.group(2) or "", match.group(3) or ""))
        return " "

    bare = _FIGURE.sub(take, _FRACTION.sub(_decimal, text))
    feature_id, note = find_feature(bare, knowledge)
    feature = knowledge.features[feature_id]
    figures: dict[str, float] = {}
    notes = [note] if note else []
    for value, unit, said in found:
        if value < 0:
            raise Unclear(f"'{given.strip()}'", "a figure above nought")
        name = _figure_name(unit, said, list(feature.figures))
        if name is None:
            notes.append(
                f"the figure {value:g} {unit} was not used: this feature takes {', '.join(feature.figures) or 'none'}"
            )
            continue
        if unit in TO_MM:
            value *= TO_MM[unit] / {"mm": 1.0, "cm": 10.0, "m": 1000.0}.get(name.rsplit("_", 1)[-1], 1.0)
        check_figure(feature, name, value, given)
        figures[name] = value
    return Ask(
        given.strip(),
        feature_id,
        figures,
        places or ((feature.place,) if feature.place else ()),
        tuple(notes),
        context_within(bare, feature, knowledge),
    )


def context_within(text: str, feature: Feature, knowledge: Knowledge) -> tuple[str, ...]:
    """The circumstances named in a feature's words beyond its own name: the child of "child's coat"."""
    said = f" {' '.join(words_of(text))} "
    for name in sorted((phrase(n) for n in feature.names), key=len, reverse=True):
        if f" {name} " in said:
            said = said.replace(f" {name} ", " | ", 1)
            break
    return tuple(
        entry.id
        for entry in knowledge.context.values()
        if entry.kind != "care" and any(f" {phrase(name)} " in said for name in entry.names)
    )


def check_figure(feature: Feature, name: str, value: float, given: str) -> None:
    """Raises `Unclear` where a feature cannot have this figure."""
    possible = feature.figures[name].possible
    if not possible.low <= value <= possible.high:
        raise Unclear(
            f"{name.replace('_', ' ')} {value:g} in '{given.strip()}'", f"{possible.low:g} to {possible.high:g}"
        )


def _figure_name(unit: str, said: str, names: list[str]) -> str | None:
    """Which of a feature's figures a number with this unit and word is."""
    if unit in ("times", "x", ":1") or said.startswith("full"):
        return "fullness" if "fullness" in names else None
    lengths = [n for n in names if n.endswith(("_mm", "_cm", "_m"))]
    if unit in TO_MM:
        wanted = [n for n in lengths if said and n.startswith(SAYS[said])]
        return (wanted or lengths or [None])[0]  # type: ignore[list-item]
    if not unit and "count" in names:
        return "count"
    return None


def read_context(values: Iterable[tuple[str, str]], knowledge: Knowledge) -> list[str]:
    """(kind, words) pairs such as ('season', 'summer') as context ids; raises `Unclear`."""
    found: list[str] = []
    for kind, given in values:
        names = {
            phrase(name): entry.id
            for entry in knowledge.context.values()
            if entry.kind == kind
            for name in (*entry.names, entry.id, entry.id.removesuffix(f"-{kind}"))
        }
        for part in re.split(r"[,;]", given):
            key = phrase(re.sub(r"\d+\s*(?:°?\s*c)?\b", " ", plain(part)))
            if not key:
                continue
            hits = [i for name, i in names.items() if re.search(rf"\b{re.escape(name)}\b", key)]
            if not hits and kind == "care" and "wash" in key:
                hits = [names["machine wash"]] if "machine wash" in names else []
            if not hits:
                from difflib import get_close_matches

                near = get_close_matches(key, list(names), 1, 0.4)
                raise Unclear(
                    f"{kind} '{part.strip()}'",
                    f"one of {', '.join(sorted({names[n] for n in names}))}",
                    near[0] if near else "",
                )
            best = max(hits, key=lambda i: len(i))
            if best not in found:
                found.append(best)
    return found


def wash_wanted(care: str) -> int | None:
    """The temperature in '40 wash, line dry' (°C; Fahrenheit where F follows), or None."""
    match = re.search(r"\b(\d{2,3})\s*(?:°|deg(?:rees)?)?\s*([cf])?\b", plain(care))
    if not match:
        return None
    value = int(match.group(1))
    return round((value - 32) / 1.8) if match.group(2) == "f" or value > 100 else value
