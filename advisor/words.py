"""From a maker's words to a cloth: names, fibres, structure, finish, adjectives, state and figures, in any order."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor import figures
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.model import Cloth
from advisor.ranges import Range
from advisor.words_form import plain, words_of

FILLER = frozenset(
    [
        "fabric",
        "cloth",
        "material",
        "good",
        "stuff",
        "textile",
        "of",
        "in",
        "with",
        "and",
        "a",
        "an",
        "the",
        "any",
        "for",
        "from",
        "very",
        "quite",
        "rather",
        "about",
        "approx",
        "approximately",
        "some",
        "or",
        "to",
        "on",
        "my",
        "our",
        "as",
        "made",
        "type",
        "kind",
        "style",
        "weight",
        "wt",
        "is",
        "it",
        "its",
        "that",
        "which",
        "by",
        "one",
        "side",
        "but",
        "when",
        "not",
        "measured",
        "sold",
        "etc",
        "piece",
        "length",
        "cut",
        "bought",
        "new",
        "usual",
        "usually",
        "mainly",
        "mostly",
        "only",
        "all",
        "other",
        "like",
        "e",
        "g",
        "ie",
        "per",
        "at",
        "use",
        "used",
        "own",
        "look",
        "nice",
        "pretty",
        "lovely",
        "beautiful",
        "colour",
        "color",
        "coloured",
        "colored",
        "shade",
        "plus",
        "than",
        "more",
        "less",
        "no",
        "bit",
        "little",
        "blend",
        "mix",
        "mixture",
        "mixed",
        "content",
        "composition",
        "fibre",
        "fiber",
        "woman",
        "under",
        "over",
        "between",
        "will",
        "would",
        "does",
        "do",
        "be",
        "are",
        "has",
        "have",
        "having",
        "both",
        "i",
        "we",
        "this",
        "these",
        "those",
        "so",
        "such",
        "each",
        "market",
        "stall",
        "shop",
        "was",
        "were",
        "into",
        "out",
        "up",
        "off",
        "also",
        "too",
        "then",
        "gauge",
        "count",
        "thread",
        "threads",
        "yarn",
        "yarns",
        "quality",
        "grade",
        "old",
    ]
)
"""Words that carry no meaning of their own in a description; names that contain them are tried first."""

NEGATIONS = frozenset({"not", "no", "never", "without", "non"})
"""Before a phrase they take it away; phrases that contain them ("does not fray") stand in the vocabulary."""

LONGEST = 6
MOST_KEPT = 50_000
"""How many unknown words are kept with their nearest spelling."""
BARRIER = "zzz"
"""Stands where a figure or a comma stood: no phrase reaches across it."""
Meaning = tuple[str, str]


@dataclass
class Described:
    """A description as it was read: ids of the knowledge base, figures, and what was not understood."""

    given: str
    cloth: str = ""
    other_senses: list[str] = field(default_factory=list)
    mixes: list[dict[str, Range]] = field(default_factory=list)
    structures: list[str] = field(default_factory=list)
    finishes: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    traits: list[str] = field(default_factory=list)
    context: list[str] = field(default_factory=list)
    bands: list[tuple[str, str]] = field(default_factory=list)
    figures: figures.Figures = field(default_factory=figures.Figures)
    not_understood: list[str] = field(default_factory=list)
    nearest: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    said: dict[str, str] = field(default_factory=dict)
    sense_words: list[str] = field(default_factory=list)


def _scan(words: list[str], knowledge: Knowledge, shared: set[int]) -> Iterable[tuple[int, int, str]]:
    """Greedy longest phrases: (start, end, key); key '' marks a word that stands in no phrase.

    Right after a share (its places are `shared`) a fibre's name is taken before a longer cloth's: "35 % cotton poplin".
    """
    place, count, reach, meanings = 0, len(words), knowledge.reach, knowledge.words
    while place < count:
        sizes = range(min(reach.get(words[place], 0), LONGEST, count - place), 0, -1)
        keys = [key for key in (" ".join(words[place : place + size]) for size in sizes) if key in meanings]
        if place - 1 in shared:
            fibre = next((k for k in keys if any(kind == "fibres" for kind, _ in meanings[k])), "")
            keys = [fibre] if fibre else keys
        else:
            fibre = ""
        key = next((k for k in keys if fibre or k not in FILLER), "")
        if " " in key and not fibre and _runs_on(key, words, place, knowledge):
            key = next((k for k in keys if len(k) < len(key) and k not in FILLER), key)
        yield place, place + key.count(" ") + 1, key
        place += key.count(" ") + 1


def _runs_on(key: str, words: list[str], place: int, knowledge: Knowledge) -> bool:
    """Whether a name that ends in a fibre's name is cut out of a longer run: the "satin silk" of "satin silk chiffon"."""
    end = place + key.count(" ") + 1
    last = words[end - 1]
    if end >= len(words) or not any(kind == "fibres" for kind, _ in knowledge.words.get(last, ())):
        return False
    reach = min(knowledge.reach.get(last, 0), LONGEST)
    later = (" ".join(words[end - 1 : end - 1 + size]) for size in range(2, reach + 1))
    return any(kind == "cloths" for k in later for kind, _ in knowledge.words.get(k, ()))


def _positive(word: str, knowledge: Knowledge) -> str:
    """The plain form of a compared word ("softest", "heavier") where the vocabulary holds only that."""
    if word in knowledge.words or word in FILLER:
        return word
    for ending in ("est", "er"):
        if word.endswith(ending) and len(word) > len(ending) + 2:
            stem = word[: -len(ending)]
            for plain_word in (stem, stem + "e", stem[:-1] + "y" if stem.endswith("i") else "", stem[:-1]):
                if plain_word in knowledge.words:
                    return plain_word
    return word


def _spelling(word: str, knowledge: Knowledge) -> tuple[str, float]:
    """The vocabulary's nearest single word and how near it is, 0 to 100."""
    kept = knowledge.keep("spellings", MOST_KEPT)
    near: tuple[str, float] | None = kept.get(word)
    if near is None:
        from rapidfuzz import fuzz, process

        single = knowledge.keep("single words", 2)
        if not single:
            single["all"] = [k for k in knowledge.words if " " not in k]
        found = process.extractOne(word, single["all"], scorer=fuzz.ratio)
        near = kept[word] = (found[0], found[1]) if found else ("", 0.0)
    return near


def _fibres_within(start: int, key: str, cloths: Iterable[str], knowledge: Knowledge) -> list[tuple[int, str]]:
    """(place, fibre) for the words of a cloth's name that name a fibre which the cloth is usually made of."""
    words = key.split()
    usual = {fibre for cloth in cloths for mix in knowledge.cloths[cloth].fibres for fibre in mix}
    return [
        (start + offset, entry)
        for offset, word in enumerate(words)
        for kind, entry in knowledge.words.get(word, ())
        if len(words) > 1 and kind == "fibres" and entry in usual
    ]


def _stand_behind(
    found: Iterable[tuple[int, int, str]], share_before: Mapping[int, Range], knowledge: Knowledge
) -> bool:
    """Whether the shares stand behind their fibres ("cotton 60 %, linen 40 %") and not before them."""
    places = [
        start
        for start, _, key in found
        if any(
            kind == "fibres" or (kind == "cloths" and _fibres_within(0, key, [entry], knowledge))
            for kind, entry in knowledge.words[key]
        )
    ]
    return bool(places and share_before) and places[0] < min(share_before) and places[-1] < max(share_before)


def _mixes(marks: list[tuple[int, str]], shares: dict[int, Range], text: str) -> list[dict[str, Range]]:
    """The fibres said, as one make-up, or as several where 'or' stands between fibres without shares."""
    if not marks:
        return []
    stated = {fibre: shares[at] for at, fibre in marks if at in shares}
    names = list(dict.fromkeys(fibre for _, fibre in marks))
    if stated:
        total = sum(r.low for r in stated.values())
        if total > 100.5:
            raise Unclear(f"shares that add up to {total:g} %", "shares of 100 % or less")
        rest = [n for n in names if n not in stated]
        left = max(0.0, 100 - sum(r.mid for r in stated.values()))
        for name in rest:
            stated[name] = Range(left, left) if len(rest) == 1 else Range(min(1.0, left), left)
        return [stated]
    if len(names) > 1 and re.search(r"\bor\b", text):
        return [{name: Range(100, 100)} for name in names]
    if len(names) == 1:
        return [{names[0]: Range(100, 100)}]
    return [{name: Range(10, 90) for name in names}]


def describe(given: str, knowledge: Knowledge) -> Described:
    """Reads a description; raises `Unclear` where nothing was understood or a figure is impossible."""
    if not given.strip():
        raise Unclear("an empty description", "a cloth in words", "cotton poplin, 120 gsm")
    if len(given) > 2000:
        raise Unclear(f"a description of {len(given)} characters", "at most 2,000 characters")
    read = Described(given=given.strip())
    text = plain(_codes_written_out(given, knowledge))
    text, read.figures = figures.take(text, momme_word="mm" in text and _weighed_in_momme(text, knowledge))
    read.notes += read.figures.notes
    _check_figures(read, knowledge)
    tokens = words_of(re.sub(r"[|,;:()]", f" {BARRIER} ", text))
    share_of = {f"share{i}": r for r, i in read.figures.shares}
    clean = [BARRIER if t in share_of or t == "ratio0" else t for t in tokens]
    # The fibre that a share belongs to is the first one named after it, else the last one before it.
    share_before = {place: share_of[token] for place, token in enumerate(tokens) if token in share_of}
    found: list[tuple[int, int, str]] = []
    unknown: list[str] = []
    for start, end, key in _scan(clean, knowledge, set(share_before)):
        if key:
            found.append((start, end, key))
        elif clean[start] not in FILLER and clean[start] != BARRIER and not clean[start].isdigit():
            word = clean[start]
            plain_word = _positive(word, knowledge)
            if plain_word != word:
                found.append((start, end, plain_word))
                continue
            near, how_near = _spelling(word, knowledge)
            if how_near >= 88 and len(word) >= 6 and near[0] == word[0]:
                read.notes.append(f"'{word}' read as '{near}'")
                found.append((start, end, near))
            else:
                unknown.append(word)
                if how_near >= 66:
                    read.nearest[word] = near
    senses = {
        word
        for _, _, key in (found if unknown else ())
        for kind, c in knowledge.words[key]
        if kind == "cloths"
        for word in words_of(knowledge.cloths[c].sense)
    }
    if not found and not unknown and " ".join(clean) in knowledge.words:  # a name of small words only: "blends"
        found.append((0, len(clean), " ".join(clean)))
    read.sense_words = [word for word in unknown if word in senses]
    read.not_understood = [word for word in unknown if word not in senses]
    cloth_keys: list[tuple[int, str, list[str]]] = []
    fibre_marks: list[tuple[int, str]] = []
    shares: dict[int, Range] = {}
    inner: list[tuple[int, str]] = []
    behind = _stand_behind(found, share_before, knowledge)
    waiting = [] if behind else sorted(share_before)
    for start, _, key in found:
        if start and clean[start - 1] in NEGATIONS:
            read.notes.append(f"'{clean[start - 1]} {key}' was heard, and '{key}' left out")
            continue
        meanings = knowledge.words[key]
        cloths = [entry for kind, entry in meanings if kind == "cloths"]
        fibres = [entry for kind, entry in meanings if kind == "fibres"]
        shared = behind or any(at <= start for at in waiting)
        if cloths and not (fibres and shared):
            cloth_keys.append((start, key, cloths))
        for at, fibre in _fibres_within(start, key, cloths, knowledge):
            mine = [place for place in waiting if place <= at]
            if mine:  # "45 % viscose twill": the share of a fibre inside the cloth's name
                shares[at] = share_before[mine[-1]]
                waiting = [place for place in waiting if place not in mine]
                fibre_marks.append((at, fibre))
            else:
                inner.append((at, fibre))
        for kind, entry in meanings:
            if kind == "fibres" and (not cloths or shared):
                mine = [at for at in waiting if at <= start]
                if mine:
                    shares[start] = share_before[mine[-1]]
                    waiting = [at for at in waiting if at not in mine]
                if not any(f == entry for _, f in fibre_marks):
                    fibre_marks.append((start, entry))
                break
            _put(read, kind, entry, key, has_cloth=bool(cloths))
    if (fibre_marks or read.figures.ratio) and sum(r.mid for r in shares.values()) < 99.5:
        # Beside other fibres, the one in the cloth's own name is said too: "wool, polyester satin".
        fibre_marks += [(at, fibre) for at, fibre in inner if fibre not in {f for _, f in fibre_marks}]
        fibre_marks.sort()
    for at in sorted(share_before) if behind else waiting:  # "cotton 60 %": the share stands behind its fibre
        before = [m for m, _ in fibre_marks if m < at and m not in shares]
        if before:
            shares[before[-1]] = share_before[at]
    if read.figures.ratio and len(fibre_marks) >= 2:
        for (at, _), value in zip(fibre_marks, read.figures.ratio, strict=False):
            shares[at] = Range(value, value)
    read.mixes = _mixes(fibre_marks, shares, text)
    for share in read.figures.shares:
        if share[0].high > 100:
            raise Unclear(f"a share of {share[0].high:g} %", "100 % or less")
    _choose(read, cloth_keys, knowledge)
    if read.figures.ratio and not fibre_marks and read.cloth:
        # "65/35 polycotton": the shares belong to the fibres that the cloth is usually made of
        usual = knowledge.cloths[read.cloth].fibres
        if usual and len(usual[0]) == len(read.figures.ratio):
            read.mixes = [{f: Range(v, v) for f, v in zip(usual[0], read.figures.ratio, strict=True)}]
    if not found and not (read.figures.stated or read.figures.measured):
        word = unknown[0] if unknown else given.strip()
        raise Unclear(f"cloth '{given.strip()[:60]}'", "a cloth, fibre or describing word, as 'advisor list cloths' shows", read.nearest.get(word, ""))
    _point_out(read, knowledge)
    return read


_CAPITALS = re.compile(r"[A-Z]{2}")


def _weighed_in_momme(text: str, knowledge: Knowledge) -> bool:
    """Whether a fibre is named whose weight is told in momme."""
    in_words = f" {' '.join(words_of(text))} "
    return any(f" {name} " in in_words for name in knowledge.momme_words)


def _codes_written_out(given: str, knowledge: Knowledge) -> str:
    """Label codes in capitals beside a share ("CO 60 PES 40", "95% CO") as "60 % cotton …"; unknown ones are left."""

    def code_first(match: re.Match[str]) -> str:
        name = knowledge.codes.get(match.group(1))
        return f" {match.group(2)} % {name} " if name else match.group(0)

    def share_first(match: re.Match[str]) -> str:
        name = knowledge.codes.get(match.group(2))
        return f"{match.group(1)} % {name}" if name else match.group(0)

    if not _CAPITALS.search(given):
        return given
    text = re.sub(r"(\d{1,3}(?:[.,]\d+)?)\s*%\s*([A-Z]{2,3})\b", share_first, given)
    return re.sub(r"\b([A-Z]{2,3})\s*(\d{1,3}(?:[.,]\d+)?)\s*%?(?![\w.,])", code_first, text)


def _put(read: Described, kind: str, entry: str, key: str, *, has_cloth: bool) -> None:
    """Files one meaning under its kind; a word that names a cloth does not also count as its structure or finish."""
    target = {
        "structures": read.structures, "finishes": read.finishes, "words": read.words, "traits": read.traits,
        "context": read.context,
    }.get(kind)  # fmt: skip
    if target is not None and not (has_cloth and kind in ("structures", "finishes")) and entry not in target:
        target.append(entry)
        read.said[entry] = key
    elif kind == "bands":
        prop, _, band = entry.partition(":")
        if (prop, band) not in read.bands:
            read.bands.append((prop, band))


def _fit(cloth: Cloth, read: Described) -> float:
    """How well a sense of a word agrees with everything else that was said."""
    score = 0.5 * cloth.likelier + 3 * sum(word in words_of(cloth.sense) for word in read.sense_words)
    said = {fibre for mix in read.mixes for fibre in mix}
    if said:
        if any(said <= set(mix) for mix in cloth.fibres):
            score += 3 + (1 if any(said == set(mix) for mix in cloth.fibres) else 0)
        elif any(said & set(mix) for mix in cloth.fibres):
            score += 1
        elif cloth.fibres:
            score -= 3
    if set(read.structures) & set(cloth.structure):
        score += 2
    for prop, stated in {**read.figures.stated, **read.figures.measured}.items():
        usual = cloth.ranges.get(prop)
        if usual:
            far = prop == "weight" and (stated.low > usual.range.high * 1.5 or stated.high < usual.range.low / 1.5)
            score += 1.5 if stated.meets(usual.range) else -3 if far else -1
    return score


def _choose(read: Described, keys: list[tuple[int, str, list[str]]], knowledge: Knowledge) -> None:
    """The cloth that is meant: the last one named; of several senses the one that agrees best."""
    if not keys:
        return
    named = [k for k in keys if any(knowledge.cloths[c].kind == "cloth" for c in k[2])] or keys
    # "brushed cotton in a houndstooth check": what is named for its pattern gives only the pattern beside another.
    named = [k for k in named if not _pattern(k[1], knowledge)] or named
    _, key, candidates = max(named, key=lambda k: (k[1].count(" ") > 0, k[0])) if len(named) > 1 else named[0]
    ranked = sorted(candidates, key=lambda c: -_fit(knowledge.cloths[c], read))
    read.cloth = ranked[0]
    read.said[read.cloth] = key
    read.other_senses = [c for c in ranked[1:] if knowledge.cloths[c].sense]
    for _, other_key, others in keys:
        if other_key == key:
            continue
        other = knowledge.cloths[others[0]]
        for kind, entry in knowledge.words[other_key]:  # "moire taffeta": the first name is then a finish
            if kind in ("finishes", "words"):
                _put(read, kind, entry, other_key, has_cloth=False)
        apart = other.fibres and not _shares_fibre(other, knowledge.cloths[read.cloth])
        if not read.mixes and apart and not _pattern(other_key, knowledge):
            read.mixes = list(other.fibres)
        for trait in other.traits:
            if (
                other.kind == "cloth"
                and trait not in read.traits
                and trait in ("crinkled", "printed", "pattern-repeat")
            ):
                read.traits.append(trait)


def _pattern(key: str, knowledge: Knowledge) -> bool:
    """Whether a cloth's name is said of a pattern too, which the vocabulary then holds as a word besides."""
    words = [knowledge.describing[entry] for kind, entry in knowledge.words[key] if kind == "words"]
    return any("pattern-repeat" in word.effect.traits for word in words)


def _shares_fibre(one: Cloth, other: Cloth) -> bool:
    return any(set(a) & set(b) for a in one.fibres for b in other.fibres) or not other.fibres


def _check_figures(read: Described, knowledge: Knowledge) -> None:
    """Impossible figures are refused, each in one line."""
    for found in (read.figures.stated, read.figures.measured):
        for prop_id, value in found.items():
            prop = knowledge.properties[prop_id]
            if value.low > prop.domain.high or value.high < prop.domain.low or value.high > prop.domain.high * 1.02:
                raise Unclear(
                    f"{prop.name} {value.low:g}{'-' + format(value.high, 'g') if value.high > value.low else ''} {prop.unit}",
                    f"{prop.domain.low:g} to {prop.domain.high:g} {prop.unit}",
                )


def _point_out(read: Described, knowledge: Knowledge) -> None:
    """Surprising figures and second senses are said, and used."""
    if read.other_senses:
        mine = knowledge.cloths[read.cloth]
        senses = "; ".join(knowledge.cloths[c].sense for c in read.other_senses[:3])
        read.notes.append(f"'{read.said[read.cloth]}' taken as {mine.sense or mine.id}; it can also mean {senses}")
    if not read.cloth:
        return
    usual = knowledge.cloths[read.cloth].ranges.get("weight")
    for found, how in ((read.figures.stated, "stated"), (read.figures.measured, "measured")):
        weight = found.get("weight")
        if weight and usual and (weight.low > usual.high * 1.5 or weight.high < usual.low / 1.5):
            name = knowledge.cloths[read.cloth].names[0] if knowledge.cloths[read.cloth].names else read.cloth
            cause = (
                "a weight per running metre?" if weight.low > usual.high else "another cloth, or a figure in ounces?"
            )
            read.notes.append(
                f"{weight.mid:.0f} g/m² is {how}, but {name} is usually {usual.low:g} to {usual.high:g} g/m² ({cause}); used as given"
            )
