"""Descriptions judged in numbers: each different one is read once, then all are judged on columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from advisor import words
from advisor.asks import Ask
from advisor.columns.batch import batch_of
from advisor.columns.judging import VERDICTS, ManyJudge
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.makes import Make
from advisor.picking import fits_envelope
from advisor.profile import Profile, build

REMEMBERED = 50_000
"""Descriptions whose answers are kept; a list that names a cloth many times has it read once."""
CIRCUMSTANCES = 64
"""Sets of circumstances made ready at a time: a description may name its own."""


@dataclass(frozen=True)
class Question:
    """What every cloth of a list is asked: features, circumstances, and the make whose envelope counts too."""

    asks: tuple[Ask, ...]
    context: tuple[str, ...] = ()
    make: Make | None = None


class Sifted(NamedTuple):
    """The answer for one description. `watch` is the first caution, `against` what the envelope says, '' for none."""

    verdict: str
    low: float
    expected: float
    high: float
    limited_by: str
    watch: str
    watch_say: str
    sure: bool
    against: str
    not_understood: str


class Sieve:
    """One question put to descriptions."""

    def __init__(self, question: Question, knowledge: Knowledge) -> None:
        self.question, self.knowledge = question, knowledge
        self._answers: dict[str, Sifted | str] = {}
        self._judges: dict[tuple[str, ...], tuple[ManyJudge, list[str]]] = {}

    def judge(self, descriptions: Sequence[str]) -> list[Sifted | str]:
        """An answer for each description, or in words why it cannot be read."""
        new = [text for text in dict.fromkeys(descriptions) if text not in self._answers]
        if len(self._answers) + len(new) > REMEMBERED:
            self._answers.clear()
            new = list(dict.fromkeys(descriptions))
        groups: dict[tuple[str, ...], list[tuple[str, Profile]]] = {}
        for text in new:
            try:
                profile = build(words.describe(text, self.knowledge), self.knowledge)
            except Unclear as error:
                self._answers[text] = error.line()
            else:
                context = tuple(dict.fromkeys([*profile.described.context, *self.question.context]))
                groups.setdefault(context, []).append((text, profile))
        for context, members in groups.items():
            answers = self._judged([profile for _, profile in members], context)
            self._answers.update(zip((text for text, _ in members), answers, strict=True))
        return [self._answers[text] for text in descriptions]

    def _judge_for(self, context: tuple[str, ...]) -> tuple[ManyJudge, list[str]]:
        found = self._judges.get(context)
        if found is None:
            if len(self._judges) >= CIRCUMSTANCES:
                self._judges.clear()
            judge = ManyJudge(self.question.asks, context, self.knowledge)
            found = self._judges[context] = (judge, sorted(judge.fields()))
        return found

    def _judged(self, profiles: Sequence[Profile], context: tuple[str, ...]) -> list[Sifted]:
        judge, fields = self._judge_for(context)
        batch = batch_of(profiles, fields)
        judge.derive(batch)
        answers = judge.judge(batch)
        columns = (answers.verdict, *vars(answers.score).values(), answers.limited_by, answers.watch)
        found = []
        for profile, *entries in zip(profiles, *(np.asarray(column).tolist() for column in columns), strict=True):
            verdict, low, expected, high, limited, watched = entries
            against = fits_envelope(profile, self.question.make) if self.question.make else []
            rule, sure = judge.watches[watched] if watched >= 0 else (None, False)
            found.append(
                Sifted(
                    "avoid" if against else VERDICTS[verdict], low, expected, high, judge.limits[limited],
                    rule.id if rule else "", rule.then.say if rule else "", sure, "; ".join(against),
                    " ".join(profile.described.not_understood),
                )
            )  # fmt: skip
        return found
