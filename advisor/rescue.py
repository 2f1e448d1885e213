"""What has gone wrong, why, and what to try first: a symptom found by its words, its causes ranked for one cloth.

A cause is tried on the cloth's record with the same language and the same two readings (sure, may apply) as
every rule; what was done before it happened moves a cause up as well.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

import msgspec

from advisor import advise, report
from advisor.errors import Unclear
from advisor.infer import fact, record_of
from advisor.knowledge import Knowledge
from advisor.model import Cause, Symptom
from advisor.profile import Profile
from advisor.rules import Record, fired, holds
from advisor.words_form import words_of

Likelihood = Literal["sure", "may apply", "open", "unlikely"]
"""How a cause fits: its conditions surely hold, possibly hold, it has none (or no cloth was given), they fail."""

ORDER: dict[Likelihood, float] = {"sure": 3, "may apply": 2, "open": 1.5, "unlikely": 0}
DONE = 2.0
"""What counts for a cause when the maker said that this was done before."""
NEAR = 76.0
"""How near (of 100) words must be to count as said."""
EMPTY = frozenset(words_of(
    "a an the my our of in on at to for and or it its is are was were has have had be been got get gets went after from with "
    "i we this that all some very so too just when while keeps keep"
))  # fmt: skip
"""Words that tell nothing about what went wrong."""


class CauseReport(msgspec.Struct):
    """One cause, the likeliest first."""

    cause: str
    likelihood: Likelihood
    because: list[str]
    tell: str
    try_first: str
    stop: str
    after: list[str]


class RescueReport(msgspec.Struct):
    """The answer to: this went wrong, what now?"""

    given: str
    symptom: str
    read_as: str
    causes: list[CauseReport]
    limits: list[str]
    safety: str
    source: str
    nearest: list[str]
    cloth: report.ClothReport | None = None


class SymptomRow(msgspec.Struct):
    """One line of the list of symptoms."""

    symptom: str
    names: list[str]
    causes: int


class SymptomList(msgspec.Struct):
    """All symptoms."""

    symptoms: list[SymptomRow]


def list_symptoms(knowledge: Knowledge) -> SymptomList:
    """Every symptom by its first name, in alphabetical order."""
    rows = [SymptomRow(s.id, s.names, len(s.causes)) for s in knowledge.symptoms.values()]
    return SymptomList(sorted(rows, key=lambda r: r.names[0]))


def _lean(text: str) -> list[str]:
    """The words that carry meaning, without the commonest verb endings, so that 'puckering' finds 'puckers'."""
    return [_stem(w) for w in words_of(text) if w not in EMPTY]


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "es", "s", "y", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            stem = word[: -len(ending)]
            return stem[:-1] if len(stem) > 3 and stem[-1] == stem[-2] and stem[-1] not in "sl" else stem
    return word


def _scores(text: str, knowledge: Knowledge) -> list[tuple[float, str, str]]:
    """(score 0 to 100, symptom id, its name), the best first; one row a symptom."""
    from rapidfuzz import fuzz

    said = _lean(text)
    joined, found = " ".join(sorted(said)), []
    for symptom in knowledge.symptoms.values():
        best = (0.0, "")
        for name in (*symptom.names, symptom.id.replace("-", " ")):
            words = _lean(name)
            if not words or not said:
                continue
            shared = set(words) & set(said)
            # How much of the name was said, and how much of what was said the name explains.
            cover = 100 * (0.7 * len(shared) / len(set(words)) + 0.3 * len(shared) / len(set(said)))
            score = max(cover, 0.97 * fuzz.ratio(joined, " ".join(sorted(words))))
            if score > best[0]:
                best = (score, name)
        found.append((best[0], symptom.id, best[1]))
    return sorted(found, key=lambda f: (-f[0], f[1]))


def find_symptom(text: str, knowledge: Knowledge) -> tuple[Symptom, str, list[str]]:
    """(symptom, the name that it was read as, other symptoms that it may be).

    Raises `Unclear` with the nearest where the words are not near enough.
    """
    if not text.strip():
        raise Unclear("an empty symptom", "what went wrong, in a few words", "hem waves")
    if len(text) > 300:
        raise Unclear(f"a symptom of {len(text)} characters", "what went wrong, in a few words")
    ranked = _scores(text, knowledge)
    score, symptom_id, name = ranked[0]
    if score < NEAR:
        near = name if score >= 30 else ""
        raise Unclear(f"symptom '{text.strip()[:60]}'", "something that 'advisor rescue' lists", near)
    others = [knowledge.symptoms[i].names[0] for s, i, _ in ranked[1:4] if s >= max(60.0, score - 25)]
    return knowledge.symptoms[symptom_id], name, others


def was_done(cause: Cause, done: Iterable[str]) -> list[str]:
    """Which of the cause's doings were said."""
    said = {_stem(w) for text in done for w in words_of(text)}
    found = {tuple(_lean(doing)): doing for doing in reversed(cause.after)}
    return [doing for key, doing in reversed(found.items()) if set(key) <= said]


def _because(cause: Cause, record: Record, sure: bool, knowledge: Knowledge) -> list[str]:
    for conjunction in cause.conjunctions:
        if holds(conjunction, record, sure):
            return list(dict.fromkeys(fact(c, record, knowledge) for c in conjunction))
    return []


def rank(symptom: Symptom, record: Record | None, done: list[str], knowledge: Knowledge) -> list[CauseReport]:
    """The causes of a symptom, the likeliest first; without a record they stay open, in the order written."""
    ids = {str(i): cause.conjunctions for i, cause in enumerate(symptom.causes) if cause.conjunctions}
    hits = fired(ids, record) if record else {}
    rows: list[tuple[float, int, CauseReport]] = []
    for place, cause in enumerate(symptom.causes):
        likelihood: Likelihood = "open"
        because: list[str] = []
        if record and cause.conjunctions:
            sure = hits.get(str(place))
            likelihood = "unlikely" if sure is None else "sure" if sure else "may apply"
            because = [] if sure is None else _because(cause, record, sure, knowledge)
        doings = was_done(cause, done)
        because += [f"after {doing}" for doing in doings]
        worth = ORDER[likelihood] + (DONE if doings else 0)
        rows.append((-worth, place, CauseReport(
            cause.cause, likelihood, because, cause.tell, cause.try_first, cause.stop, cause.after,
        )))  # fmt: skip
    return [row for _, _, row in sorted(rows, key=lambda r: r[:2])]


def _limits(cloth: Profile, knowledge: Knowledge) -> list[str]:
    """What iron and water this cloth bears, the safe end of what is known, for everything that is tried on it."""
    said = []
    for prop_id, nothing, words in (
        ("heat_limit", "no iron and no hot steam on this cloth", "iron at most {:.0f} °C at the sole-plate"),
        ("wash_limit", "no water on this cloth", "water at most {:.0f} °C"),
    ):
        low = cloth.known[prop_id].range.low
        floor = knowledge.properties[prop_id].bands
        least = min(band.high for band in floor.values())
        decided = cloth.decided.get(prop_id, "")
        line = nothing if low <= least else words.format(low)
        said.append(line + (f" (decided by {decided})" if decided else ""))
    return said


def rescue(given: str, cloth: str = "", *, after: Iterable[str] = (), knowledge: Knowledge) -> RescueReport:
    """What went wrong (in words), on which cloth, after what: the causes, how to tell, what to try and when to stop."""
    symptom, name, others = find_symptom(given, knowledge)
    done = [given, *after]
    record, profile = None, None
    if cloth.strip():
        profile = advise.profile_of(cloth, knowledge)
        record = record_of(profile, [], profile.described.context, knowledge)
        for feature in symptom.features:
            record.marks.setdefault(f"with.{feature}", (False, True))
    return RescueReport(
        given.strip(), symptom.id, name, rank(symptom, record, done, knowledge),
        _limits(profile, knowledge) if profile else [], symptom.safety, symptom.source, others,
        advise.cloth_report(profile, knowledge) if profile else None,
    )  # fmt: skip
