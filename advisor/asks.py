"""From a maker's words to what is asked: features with their figures and places, and the circumstances."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.model import Feature
from advisor.words_form import phrase, plain, words_of

GRAMMAR = frozenset(
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
        "or",
        "to",
        "by",
        "my",
        "our",
        "your",
        "her",
        "his",
        "some",
        "any",
        "that",
        "which",
        "made",
        "meant",
        "very",
        "quite",
        "rather",
        "too",
        "really",
        "so",
        "nice",
    ]
)
"""Words that join others and name nothing."""
SIZES = frozenset(["small", "large", "little", "big", "long", "short", "plain", "simple"])
"""Words that say nothing of a feature unless its name holds them ("short jacket", "long dress")."""
EMPTY = GRAMMAR | SIZES
JOINTS = "with no|with|without|no|on|over|for|meant for|that has|which has|having"
"""Words after which a maker names the details, or the rest, of what was named before."""
LACKS = frozenset(["without", "no", "with no"])
"""Of these, the ones after which stands what it does not have."""
LONGEST = 300
"""Characters that one feature with its figures and place may take."""
TO_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": 25.4,
    "inch": 25.4,
    "inches": 25.4,
    "ft": 304.8,
    "foot": 304.8,
    "feet": 304.8,
    "yd": 914.4,
    "yds": 914.4,
    "yard": 914.4,
    "yards": 914.4,
    '"': 25.4,
    "l": 0.635,
    "ligne": 0.635,
}
SAYS = {
    "deep": "depth", "depth": "depth", "wide": "width", "width": "width", "across": "diameter", "diameter": "diameter",
    "long": "length", "length": "length", "full": "fullness", "fullness": "fullness",
}  # fmt: skip
_FIGURE = re.compile(
    r'(?<![\d.,])(-?\d+(?:[.,]\d+)?)\s*(mm|cm|inches|inch|in|feet|foot|ft|yards|yard|yds|yd|ligne|l|m|"|times|x|:1|%)?\s*(deep|depth|wide|width|across|diameter|long|length|full(?:ness)?)?(?![a-z\d])'
)
_FRACTION = re.compile(r"(?:(\d+)[\s-]+)?(\d+)\s*[/\u2044]\s*(\d+)(?=\s*(?:in|inch|inches|feet|foot|ft|yards?|yds?|\"|cm|mm)(?![a-z]))")


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
    unread: tuple[str, ...] = ()
    """Words of it that named nothing."""


def find_feature(text: str, knowledge: Knowledge, among: Mapping[str, Sequence[str]] | None = None) -> tuple[str, str]:
    """(feature id, note), `among` some names only; raises `Unclear` with the nearest name where none is near enough."""
    table = knowledge.feature_words if among is None else among
    name = _name_in(text, table)
    said = [w for w in words_of(text) if w not in EMPTY and not w.isdigit()]
    same = sorted(said) == sorted(w for w in name.split() if w not in EMPTY)
    return table[name][0], "" if same else f"'{text.strip()}' read as '{name}'"


def _name_in(text: str, table: Mapping[str, Sequence[str]]) -> str:
    """The name that is meant: the whole, else the one about the last noun that covers most, else a near spelling."""
    words = [w for w in words_of(text) if not w.isdigit()]
    lean = [w for w in words if w not in EMPTY]
    for key in (" ".join(words), " ".join(w for w in words if w not in GRAMMAR), " ".join(lean)):
        if key in table:
            return key
    best: tuple[float, str] = (0.0, "")
    for name in table:
        covered = _covered(name, words)
        if covered:
            # The name about the last noun, then the one that covers most of what was said.
            score = covered + (10 if lean and name.split()[-1] == lean[-1] else 0) + 0.01 * len(name)
            best = max(best, (score, name))
    if best[1]:
        return best[1]
    from rapidfuzz import fuzz, process

    given = " ".join(lean) or " ".join(words)
    found = process.extractOne(given, list(table), scorer=fuzz.token_sort_ratio)
    if found and found[1] >= 84:
        return str(found[0])
    raise Unclear(
        f"feature '{text.strip()[:60]}'", "a feature that 'advisor list features' shows", found[0] if found else ""
    )


def _covered(name: str, words: Sequence[str]) -> int:
    """How many words a name covers, 0 where it is not there. A size counts only right before its noun: "short jacket"."""
    parts = [p for p in name.split() if p not in GRAMMAR]
    if not parts or not set(parts) <= set(words):
        return 0
    if not SIZES.isdisjoint(parts) and f" {' '.join(parts)} " not in f" {' '.join(words)} ":
        return 0
    return len(parts)


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
    return read_asks(given, knowledge)[0]


def read_asks(given: str, knowledge: Knowledge) -> list[Ask]:
    """What is asked, first, and the details said with it: 'lined dress with butterfly sleeves' asks about three things.

    Details are named before the noun ('shawl-collared dress') or after it ('dress with puff sleeves'). A whole garment
    that only says where a detail is ('coat lining', 'hem of a wrap dress') is not asked about.
    """
    if not given.strip():
        raise Unclear("an empty feature", "a feature that 'advisor list features' shows", "flounce")
    if len(given) > LONGEST:
        raise Unclear(f"a feature of {len(given)} characters", f"at most {LONGEST} characters")
    text = _ages_and_years(plain(given).strip())
    several = _several(text, knowledge)
    if several:
        return list({a.feature: a for piece in several for a in read_asks(piece, knowledge)}.values())
    context = _context_said(text, knowledge)
    parts = [text] if phrase(_FIGURE.sub(" ", text)) in knowledge.feature_words else _parts(text, knowledge)
    head = _read(parts[0], given, knowledge)
    if len(parts) > 1 and head is None:
        head, parts = _read(text, given, knowledge), [text]
    if head is None:
        find_feature(_FIGURE.sub(" ", parts[0]), knowledge)  # raises with the nearest, where the words alone are not known
        raise Unclear(f"feature '{given.strip()[:60]}'", "a feature and its figures, such as '25 cm deep'", "flounce")
    feature, ask, left = head
    found = [(ask, left)]
    if feature.group == WHOLE:
        found[0] = (ask, _with_details(left, ask, found, knowledge))
    for part in parts[1:]:
        later = _read(part, given, knowledge, exact=True)
        if later and later[0].group != WHOLE:
            found.append((later[1], later[2]))
        elif later is None:
            found.append((ask, _with_details(words_of(part), ask, found, knowledge)))
    unread = tuple(w for _, rest in found for w in _unread(rest, knowledge))
    own = context_within(text, feature, knowledge)
    asks = [ask, *(a for a, _ in found[1:] if a is not ask)]
    notes = (*ask.notes, *((f"not used: {', '.join(unread)}",) if unread else ()))
    if len(asks) > 1:
        read_as = " and ".join(f"'{knowledge.features[a.feature].names[0]}'" for a in asks)
        notes = (f"'{given.strip()}' read as {read_as}", *(n for n in notes if " read as " not in n))
    first = replace(
        ask, given=given.strip(), notes=notes, context=tuple(dict.fromkeys((*own, *context))), unread=unread
    )
    return [first, *{a.feature: a for a in asks[1:] if a.feature != ask.feature}.values()]


WHOLE = "whole garment"
_AND = re.compile(r"\s*(?:[,;&+]|\band\b|\bplus\b)\s*")


def _several(text: str, knowledge: Knowledge) -> list[str]:
    """'flounce and 9 covered buttons' as its features, where each piece names one and nothing else; else none."""
    pieces = [piece for piece in _AND.split(text) if piece]
    if len(pieces) < 2 or phrase(_FIGURE.sub(" ", text)) in knowledge.feature_words:
        return []
    for piece in pieces:
        try:
            read = _read(piece, piece, knowledge, exact=True)
        except Unclear:
            return []
        if read is None or _unread(read[2], knowledge):
            return []
    return pieces




def _ages_and_years(text: str) -> str:
    """'for a 9-year-old' as 'for a child', and '1950s' or "40's style" left out: neither is a figure of the feature."""
    text = re.sub(r"\b(\d{1,2})[\s-]*(?:year|yr)s?[\s-]*olds?\b", lambda m: "child" if int(m[1]) < 14 else " ", text)
    text = re.sub(r"\b\d{1,2}[\s-]*months?[\s-]*olds?\b", "baby", text)
    return re.sub(r"\b(?:19|18|20)?\d0\s?'?s\b(?:[\s-]+style)?", " ", text)


def _parts(text: str, knowledge: Knowledge) -> list[str]:
    """A phrase taken apart at its joints: what is asked, then each detail ('without' and 'on' stay where a name has them)."""
    pieces = re.split(rf"\s+({JOINTS})\s+", text)
    found = [pieces[0]]
    for joint, rest in zip(pieces[1::2], pieces[2::2], strict=True):
        if phrase(f"{joint} {rest}") in knowledge.feature_words:
            found.append(f"{joint} {rest}")
        elif joint in LACKS:
            continue
        elif phrase(rest) in knowledge.feature_words:
            found.append(rest)
        else:
            found += re.split(r"\s+and\s+|\s*,\s*", rest)
    return [p for p in found if p.strip()] or [text]


def _read(text: str, given: str, knowledge: Knowledge, *, exact: bool = False) -> tuple[Feature, Ask, list[str]] | None:
    """One part as (its feature, the ask, the words left over); None where no name is in it (or, `exact`, only a likeness)."""
    bare_text, places = _place(text, knowledge)
    figures_said: list[tuple[float, str, str]] = []

    def take(match: re.Match[str]) -> str:
        figures_said.append((float(match.group(1).replace(",", ".")), match.group(2) or "", match.group(3) or ""))
        return " "

    bare = _FIGURE.sub(take, _FRACTION.sub(_decimal, bare_text))
    try:
        name = _name_in(bare, knowledge.feature_words)
        feature_id, note = find_feature(bare, knowledge)
    except Unclear:
        return None
    words = [w for w in words_of(bare) if not w.isdigit()]
    if exact and _covered(name, words) == 0:
        return None
    feature = knowledge.features[feature_id]
    figures: dict[str, float] = {}
    notes = [note] if note else []
    for value, unit, said in figures_said:
        if value < 0:
            raise Unclear(f"'{given.strip()}'", "a figure above nought")
        which = _figure_name(unit, said, list(feature.figures))
        if which is None:
            takes = ", ".join(feature.figures) or "none"
            notes.append(f"the figure {value:g} {unit} was not used: this feature takes {takes}")
            continue
        if unit in TO_MM:
            value *= TO_MM[unit] / {"mm": 1.0, "cm": 10.0, "m": 1000.0}.get(which.rsplit("_", 1)[-1], 1.0)
        check_figure(feature, which, value, given)
        figures[which] = value
    left = words if _covered(name, words) else []
    for part in name.split():
        if part in left:
            left.remove(part)
    at = places or ((feature.place,) if feature.place else ())
    return feature, Ask(text.strip(), feature_id, figures, at, tuple(notes)), left


def _with_details(
    left: Sequence[str], head: Ask, found: list[tuple[Ask, list[str]]], knowledge: Knowledge
) -> list[str]:
    """The words left once the details named in them stand in `found`, the longest names first."""
    words = list(left)
    for size in range(min(4, len(words)), 0, -1):
        for at in range(len(words) - size + 1):
            name = " ".join(words[at : at + size])
            ids = knowledge.feature_words.get(name, ())
            feature = knowledge.features[ids[0]] if ids else None
            if feature is None or feature.group == WHOLE or feature.id == head.feature:
                continue
            found.append((Ask(name, feature.id, {}, (feature.place,) if feature.place else ()), []))
            words[at : at + size] = [""] * size
    return [w for w in words if w]


def _unread(left: Sequence[str], knowledge: Knowledge) -> list[str]:
    """The words that name nothing at all: neither a feature or a place, nor a circumstance, nor what is said of cloth."""
    known = _modifiers(knowledge)
    text = list(left)
    for size in range(4, 0, -1):
        for at in range(len(text) - size + 1):
            if " ".join(text[at : at + size]) in knowledge.words:
                text[at : at + size] = [""] * size
    return [w for w in text if w and w not in EMPTY and w not in known and not w.isdigit()]


def _modifiers(knowledge: Knowledge) -> frozenset[str]:
    """Single words of the names of features, places and circumstances."""
    kept = knowledge.keep("modifiers", 2)
    if not kept:
        phrases = [*knowledge.feature_words, *knowledge.place_words]
        phrases += [phrase(name) for entry in knowledge.context.values() for name in entry.names]
        kept["words"] = frozenset(word for p in phrases for word in p.split())
    words: frozenset[str] = kept["words"]
    return words


def _context_said(text: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Who it is for, where 'for a child' or the like stands after it."""
    match = re.search(r"\bfor\s+(.+)$", text)
    said = f" {phrase(match.group(1))} " if match else ""
    return tuple(
        entry.id
        for entry in knowledge.context.values()
        if entry.kind == "wearer" and any(f" {phrase(name)} " in said for name in entry.names)
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

                near = get_close_matches(key, list(names), 1, 0.5)
                raise Unclear(
                    f"{kind} '{part.strip()}'",
                    f"one of {', '.join(sorted(e.names[0] if e.names else e.id for e in knowledge.context.values() if e.kind == kind))}",
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
    celsius = round((value - 32) / 1.8) if match.group(2) == "f" or value > 100 else value
    if not 10 <= celsius <= 95:
        raise Unclear(f"a wash at {match.group(0).strip()}", "10 to 95 °C (50 to 203 °F)", "40 wash")
    return celsius
