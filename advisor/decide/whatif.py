"""What-if: the case with something supposed of the cloth, a remedy made, or a feature swapped."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from advisor import words
from advisor.advise import Case, Judgement, judge
from advisor.asks import Ask, find_feature, read_ask
from advisor.decide.remedies import Helped
from advisor.errors import Unclear
from advisor.infer import inference_for
from advisor.knowledge import Knowledge
from advisor.model import Property, Remedy
from advisor.profile import Profile, build
from advisor.ranges import Range
from advisor.words_form import phrase

_SWAP = re.compile(r"^\s*swap\s+(.+?)\s*(?::|\bfor\b|\bto\b|->|→)\s*(.+)$", re.IGNORECASE)
_FIGURE = re.compile(r"^\s*([a-z_ -]+?)\s*(?:is|=|:|of)?\s*(-?\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?\s*(\S*)\s*$")
EXPECTED = "a figure ('weight 140'), words of the cloth, a remedy's name, or 'swap ONE FEATURE: ANOTHER'"


@dataclass
class Supposed:
    """What-ifs as read: words added to the description, figures, remedies, swaps (feature → ask), each in words too."""

    words: list[str] = field(default_factory=list)
    figures: dict[str, Range] = field(default_factory=dict)
    remedies: list[Remedy] = field(default_factory=list)
    swaps: dict[str, Ask] = field(default_factory=dict)
    read_as: list[str] = field(default_factory=list)


def _property(name: str, knowledge: Knowledge) -> Property | None:
    key = phrase(name)
    for prop in knowledge.properties.values():
        if key in (phrase(prop.name), phrase(prop.id.replace("_", " ")), *(phrase(n) for n in prop.names)):
            return prop
    return None


def _remedy(text: str, knowledge: Knowledge, nearly: bool) -> Remedy | None:
    key = phrase(text)
    names = {phrase(n): r for r in knowledge.remedies.values() for n in (*r.names, r.id.replace("-", " "))}
    if key in names or not nearly:
        return names.get(key)
    from rapidfuzz import fuzz, process

    found = process.extractOne(key, list(names), scorer=fuzz.ratio, score_cutoff=85)
    return names[found[0]] if found else None


def _said_as(text: str, knowledge: Knowledge) -> Remedy | None:
    """The remedy of which this is the past form: 'underlined', 'lined'."""
    first, _, rest = text.strip().partition(" ")
    for ending in ("d", "ed"):
        if first.endswith(ending):
            found = _remedy(f"{first.removesuffix(ending)} {rest}".strip(), knowledge, nearly=False)
            if found:
                return found
    return None


def read(given: Sequence[str], knowledge: Knowledge) -> Supposed:
    """What-ifs in words; raises `Unclear` for what is neither a figure, a describing word, a remedy nor a swap."""
    found = Supposed()
    for text in given:
        if not text.strip():
            raise Unclear("an empty --if", EXPECTED)
        swap, figure = _SWAP.match(text), _FIGURE.match(text.lower())
        remedy = _remedy(text, knowledge, nearly=False) or _said_as(text, knowledge)
        prop = _property(figure.group(1), knowledge) if figure else None
        if swap:
            one, _ = find_feature(swap.group(1), knowledge)
            other = read_ask(swap.group(2), knowledge)
            found.swaps[one] = other
            found.read_as.append(f"{one.replace('-', ' ')} swapped for {other.feature.replace('-', ' ')}")
        elif remedy:
            found.remedies.append(remedy)
            found.read_as.append((remedy.names or [remedy.id.replace("-", " ")])[0])
        elif figure and prop and figure.group(4) in ("", "gsm", prop.unit, "%", "mm", "grade"):
            low = float(figure.group(2).replace(",", "."))
            high = float((figure.group(3) or figure.group(2)).replace(",", "."))
            if high < low:
                raise Unclear(f"'{text.strip()}'", "the smaller figure first", f"{high:g}-{low:g}")
            if low < prop.domain.low or high > prop.domain.high:
                unit = "" if prop.unit == "grade" else f" {prop.unit}"
                raise Unclear(f"--if '{text.strip()}'", f"{prop.domain.low:g} to {prop.domain.high:g}{unit}")
            found.figures[prop.id] = Range(low, high)
            span = f"{low:g}" if low == high else f"{low:g} to {high:g}"
            found.read_as.append(f"{prop.name} {span}{'' if prop.unit == 'grade' else ' ' + prop.unit}")
        else:
            found.words.append(_described(text, found, knowledge))
    found.words = [w for w in found.words if w]
    return found


def _described(text: str, found: Supposed, knowledge: Knowledge) -> str:
    """Words of the cloth, else the remedy that they nearly name (kept in `found`)."""
    try:
        unknown = words.describe(text, knowledge).not_understood
    except Unclear:
        unknown = [text.strip()]
    if not unknown:
        found.read_as.append(text.strip())
        return text.strip()
    remedy = _remedy(text, knowledge, nearly=True)
    if remedy is None:
        from difflib import get_close_matches

        figure = _FIGURE.match(text.lower())
        if figure:  # a slip in a property's name: its figure is kept
            props = {n.lower(): p.name for p in knowledge.properties.values() for n in (p.name, *p.names)}
            meant = get_close_matches(figure.group(1), list(props), 1, 0.6)
            if meant:
                raise Unclear(f"--if '{text.strip()[:60]}'", EXPECTED, f"{props[meant[0]]} {figure.group(2)}")
        names = [n for r in knowledge.remedies.values() for n in r.names]
        near = get_close_matches(text.strip(), names, 1, 0.5)
        raise Unclear(f"--if '{text.strip()[:60]}'", EXPECTED, near[0] if near else "")
    found.remedies.append(remedy)
    found.read_as.append((remedy.names or [remedy.id.replace("-", " ")])[0])
    return ""


def cloth_with(profile: Profile, supposed: Supposed, knowledge: Knowledge) -> Profile:
    """The cloth described anew with what is supposed of it."""
    if not supposed.words and not supposed.figures:
        return profile
    described = profile.described
    if supposed.words:
        anew = words.describe(", ".join([described.given, *supposed.words]), knowledge)
        kept = described.figures.measured | anew.figures.measured  # what was seen of a piece stands in no words of its own
        described = replace(anew, figures=replace(anew.figures, measured=kept))
    if supposed.figures:
        figures = described.figures
        stated = {p: v for p, v in figures.stated.items() if p not in supposed.figures}
        described = replace(
            described, figures=replace(figures, stated=stated, measured=figures.measured | supposed.figures)
        )
    made = build(described, knowledge)
    inference_for(knowledge).derive(made)
    return made


def asks_with(asks: Sequence[Ask], supposed: Supposed) -> tuple[Ask, ...]:
    """The features with those swapped that are asked; raises `Unclear` where one is not there."""
    for feature in supposed.swaps:
        if not any(ask.feature == feature for ask in asks):
            there = ", ".join(ask.feature.replace("-", " ") for ask in asks)
            raise Unclear(f"swap of {feature.replace('-', ' ')}", f"a feature that is asked about ({there})")
    return tuple(supposed.swaps.get(ask.feature, ask) for ask in asks)


def judged_with(case: Case, supposed: Supposed, knowledge: Knowledge) -> Judgement:
    """The case judged as it is supposed."""
    profile = cloth_with(case.profile, supposed, knowledge)
    context = tuple(dict.fromkeys([*profile.described.context, *case.context]))
    judgement = judge(Case(profile, asks_with(case.asks, supposed), context), knowledge)
    return helped(judgement, supposed.remedies, knowledge)


def helped(judgement: Judgement, remedies: Sequence[Remedy], knowledge: Knowledge) -> Judgement:
    """The judgement after remedies, as if they were done."""
    if not remedies:
        return judgement
    how = Helped(judgement, remedies, knowledge)
    features, score, verdict = how.judged()
    case = judgement.case
    whole = how.profile("")
    asks = tuple(how.asks())
    general = [f for f in judgement.findings if not f.feature]
    return Judgement(
        replace(case, profile=whole, asks=asks), features, judgement.circumstances,
        [*general, *how.findings()], score, verdict,
    )  # fmt: skip


def supposing(judgement: Judgement, given: Sequence[str], knowledge: Knowledge) -> tuple[Judgement, list[str]]:
    """The judgement under what-ifs in words, and how they were read."""
    supposed = read(given, knowledge)
    return judged_with(judgement.case, supposed, knowledge), supposed.read_as
