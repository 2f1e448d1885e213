"""What the maker's own log teaches about the case in hand.

A line comes back where it bears on what is asked: all that was seen of this very piece; of a like cloth (see
`likeness`), what was seen of the cloth itself and of the features asked about; of any other cloth, what was seen of
those features; and what was noted against a rule that holds here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from advisor.knowledge import Knowledge
from advisor.log import keeping
from advisor.log.done import Done, Snapshot
from advisor.log.grammar import Reading, read
from advisor.log.likeness import distance, felt, likeness_of, snapshot
from advisor.profile import Profile
from advisor.report import LessonReport, PickReport
from advisor.stash import store
from advisor.stash.pieces import key_of
from advisor.stash.place import piece_named

MOST = 12
"""How many lessons one answer carries."""
OF_CLOTH = ("this piece", "a like cloth")
"""Reasons that have to do with the cloth; the others hold for any."""
_NEARNESS = {"this piece": 0, "a like cloth": 1, "this rule": 2, "this feature": 3}
_GRAVITY = {"badly": 0, "well": 1, "": 2}


@dataclass(frozen=True)
class Asked:
    """What a case is about: the features asked with their parts, and the rules that hold."""

    features: frozenset[str]
    rules: frozenset[str] = frozenset()


@dataclass
class Memory:
    """A log, read once: every line with its reading."""

    lines: list[tuple[Done, Reading]]
    knowledge: Knowledge
    per_unit: dict[str, float] = field(default_factory=dict)

    @classmethod
    def of(cls, log: Iterable[Done], knowledge: Knowledge) -> Memory:
        lines = [(done, read(seen, knowledge)) for done in log for seen in done.observations]
        return cls(lines, knowledge, felt(knowledge) if lines else {})

    def recall(self, known: Snapshot, piece: str, asked: Asked) -> list[LessonReport]:
        """The lines that bear on a cloth and what is asked of it: the nearest first, faults first, the newest first."""
        if not self.lines:
            return []
        terms, apart = likeness_of(self.knowledge), dict[int, float]()
        found: list[LessonReport] = []
        for done, reading in self.lines:
            if done.number not in apart:
                apart[done.number] = distance(known, done.known, self.per_unit, terms)
            because = _bears(done, reading, piece, apart[done.number] < terms.alike, asked)
            if because:
                found.append(_lesson(done, reading, because, apart[done.number]))
        found.sort(key=lambda one: one.day, reverse=True)
        found.sort(key=lambda one: (_NEARNESS[one.because], _GRAVITY[one.went]))
        return found[:MOST]

    def of_features(self, asked: Asked) -> list[LessonReport]:
        """The lines about what is asked, whatever the cloth."""
        return self.recall(Snapshot({}), "", asked)


def _bears(done: Done, reading: Reading, piece: str, alike: bool, asked: Asked) -> str:
    """Why a line bears on the case, or ''."""
    about = set(reading.features) & asked.features
    if piece and done.piece and not done.gone and key_of(done.piece) == key_of(piece):
        return "this piece"
    if alike and (about or not (reading.features or reading.rule)):
        return "a like cloth"
    if reading.rule and reading.rule in asked.rules:
        return "this rule"
    return "this feature" if about else ""


def _lesson(done: Done, reading: Reading, because: str, apart: float) -> LessonReport:
    return LessonReport(
        reading.line, reading.went, because, done.make, done.day, done.piece or done.cloth, list(reading.features),  # type: ignore[arg-type]
        reading.prop or None, reading.rule or None, round(min(apart, 99.0), 2), done.number,
    )  # fmt: skip


def with_parts(features: Iterable[str], knowledge: Knowledge) -> frozenset[str]:
    """The features and, below whole garments, their parts."""
    found: set[str] = set()
    waiting = list(features)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += knowledge.features[name].parts
    return frozenset(found)


_remembered: dict[tuple[str, int, int, int], Memory] = {}


def _stamp(path: Path) -> tuple[int, int]:
    """What changes whenever the file or its log is written."""
    found = [p.stat() for p in (path, path.with_name(f"{path.name}-wal")) if p.exists()]
    return max((s.st_mtime_ns for s in found), default=0), sum(s.st_size for s in found)


def memory(path: Path, knowledge: Knowledge) -> Memory:
    """The log of a stash, read again only when its file has changed."""
    key = (str(path), *_stamp(path), id(knowledge))
    found = _remembered.get(key)
    if found is None:
        with store.reading(path) as db:
            log = keeping.everything(db)
        _remembered.clear()
        found = _remembered[key] = Memory.of(log, knowledge)
    return found


def for_case(
    path: Path, profile: Profile, piece: str, features: Iterable[str], rules: Iterable[str], knowledge: Knowledge
) -> list[LessonReport]:
    """The lessons for one case: its cloth (the name of its piece, or ''), the features asked, the rules that hold."""
    remembered = memory(path, knowledge)
    if not remembered.lines:
        return []
    return remembered.recall(snapshot(profile), piece, Asked(with_parts(features, knowledge), frozenset(rules)))


def for_ranking(path: Path, answer: PickReport, knowledge: Knowledge, most: int = 15) -> None:
    """Adds to the best cloths of a ranking what was seen of cloth like them, and to the whole what was seen of its features."""
    from advisor.advise import profile_of

    remembered = memory(path, knowledge)
    if not remembered.lines:
        return
    asked = Asked(with_parts(answer.features, knowledge))
    for row in answer.ranking[:most]:
        known = snapshot(profile_of(row.cloth, knowledge))
        row.lessons = [one for one in remembered.recall(known, piece_named(row.cloth), asked) if one.because in OF_CLOTH]
    answer.lessons = remembered.of_features(asked)
