"""The rows of a ranking for many cloths at once: on columns where numpy is there (extra `lists`), else one by one.

Both ways give the same rows; a test holds them against each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from advisor import report
from advisor.advise import Case, judge
from advisor.infer import inference_for
from advisor.knowledge import Knowledge
from advisor.makes import Make, asks_of, context_of
from advisor.picking import fits_envelope, has_columns, row_of
from advisor.profile import Profile

if TYPE_CHECKING:
    from advisor.columns.judging import ManyJudge

EARNS = 100
"""From how many cloths on columns are worth loading numpy and making ready."""

FEW = 12
"""Fewer cloths than this in one set of circumstances are judged one by one."""


class ManyRows:
    """One make put to many cloths; `expected` is how many there will be, so that what they need is loaded once."""

    def __init__(self, make: Make, knowledge: Knowledge, expected: int) -> None:
        self.make, self.knowledge = make, knowledge
        self.asks, self.context = tuple(asks_of(make, knowledge)), tuple(context_of(make, knowledge))
        self.columns = expected >= EARNS and has_columns()
        if self.columns:
            import_module("advisor.columns.judging")  # before processes are begun, which then have it
        self._judges: dict[tuple[str, ...], ManyJudge] = {}

    def rows(self, profiles: Sequence[Profile]) -> list[report.PickRow]:
        """A row for each cloth, without its name; the profiles' traits need not be derived yet."""
        groups: dict[tuple[str, ...], list[int]] = {}
        for place, profile in enumerate(profiles):
            context = tuple(dict.fromkeys([*profile.described.context, *self.context]))
            groups.setdefault(context, []).append(place)
        found: dict[int, report.PickRow] = {}
        for context, places in groups.items():
            some = [profiles[place] for place in places]
            rows = self._on_columns if self.columns and len(some) >= FEW else self._one_by_one
            found.update(zip(places, rows(some, context), strict=True))
        return [found[place] for place in range(len(profiles))]

    def _one_by_one(self, profiles: Sequence[Profile], context: tuple[str, ...]) -> list[report.PickRow]:
        found = []
        for profile in profiles:
            if not profile.before_rules:
                inference_for(self.knowledge).derive(profile)
            judgement = judge(Case(profile, self.asks, context), self.knowledge)
            found.append(row_of("", judgement, fits_envelope(profile, self.make), self.knowledge))
        return found

    def _on_columns(self, profiles: Sequence[Profile], context: tuple[str, ...]) -> list[report.PickRow]:
        from advisor.columns.batch import batch_of
        from advisor.columns.judging import VERDICTS, ManyJudge

        many = self._judges.get(context)
        if many is None:
            many = self._judges[context] = ManyJudge(self.asks, context, self.knowledge)
        batch = batch_of(profiles, sorted(many.fields()))
        many.derive(batch)
        told = many.judge(batch)
        columns = (told.verdict, told.score.low, told.score.expected, told.score.high, told.limited_by, told.watch)
        found = []
        for profile, *entries in zip(profiles, *(column.tolist() for column in columns), strict=True):
            verdict, low, expected, high, limited, watched = entries
            against = fits_envelope(profile, self.make)
            watch = many.watches[watched][0] if watched >= 0 else None
            found.append(
                report.PickRow(
                    "", "avoid" if against else VERDICTS[verdict], report.Scored(low, expected, high),  # type: ignore[arg-type]
                    many.limits[limited], watch.id if watch else None,
                    against[0] if against else watch.then.say if watch else None, "", list(against),
                )
            )  # fmt: skip
        return found
