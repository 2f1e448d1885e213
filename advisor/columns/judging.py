"""Judging many cloths for one question, on columns: what `advisor.advise.judge` does for one.

Everything stays in logarithms until the score: a product of weighted demands is then a sum, and a centile of logarithms
is the logarithm of the centile.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from advisor.advise import CHECK_GENERAL, CHECK_KINDS, with_parts
from advisor.asks import Ask
from advisor.columns.batch import Batch, Bools, Floats
from advisor.columns.curves import Curve
from advisor.columns.firing import ColumnRules, Seen
from advisor.infer import GENERAL, inference_for, kinds_in_order, own_fields, shared_marks
from advisor.judge import CONTEXT_SHARE, PARTS_SHARE, curve_at, least_borne, strata, whole_floors
from advisor.knowledge import Knowledge
from advisor.model import Demand, Rule
from advisor.rules import Record

VERDICTS = ("suits", "care", "avoid")
"""Verdicts by their number in the columns, the best first."""
SUITS, CARE, AVOID = range(3)
SLICE = 512
"""Cloths judged at a time, so that the points of all of them stay in the processor's near memory."""

Numbers = NDArray[np.int64]
Fired = dict[str, tuple[Bools, Bools]]


@dataclass(frozen=True)
class Scores:
    """Three columns of scores, 0 to 100."""

    low: Floats
    expected: Floats
    high: Floats


@dataclass(frozen=True)
class Answers:
    """One entry a cloth: the number of its verdict, its score, which feature limits it and what to watch first (-1: nothing)."""

    verdict: Numbers
    score: Scores
    limited_by: Numbers
    watch: Numbers


@dataclass(frozen=True)
class _Points:
    """Logarithms of the fit at each point of the sample: one row a cloth, each shifted by `shift`."""

    rows: Floats
    shift: Floats

    @property
    def all(self) -> Floats:
        return self.rows + self.shift[:, None]


Three = tuple[_Points, _Points, _Points]
"""For the low, the expected and the high score."""


class _Demands:
    """Demands of one feature with their curves."""

    def __init__(self, demands: Sequence[Demand], figures: dict[str, float], knowledge: Knowledge) -> None:
        self.settings = knowledge.settings
        self.curves = [
            (d.property, d.importance, Curve(curve_at(d, figures), self.settings.floor),
             np.array(strata(d.property, self.settings.sample_points)))
            for d in demands
        ]  # fmt: skip
        self.total = sum(d.importance for d in demands)

    def fit(self, batch: Batch, rows: slice) -> Floats:
        """The fit of each cloth at each point, before findings."""
        settings = self.settings
        count, points = rows.stop - rows.start, settings.sample_points
        if not self.total:
            return np.zeros((count, points))
        logs, worst = np.zeros((count, points)), np.zeros((count, points))
        level, level_worst = np.zeros(count), np.zeros(count)
        for prop, weight, curve, places in self.curves:
            low, high = batch.number(f"property.{prop}")
            met = curve.met(low[rows], high[rows], places)
            full = min(1.0, weight / settings.weakest_from)
            level += weight * met.level
            np.minimum(level_worst, full * met.level, out=level_worst)
            if len(met.varying) == count:
                logs += weight * met.points
                np.minimum(worst, full * met.points, out=worst)
            elif len(met.varying):
                logs[met.varying] += weight * met.points
                worst[met.varying] = np.minimum(worst[met.varying], full * met.points)
        logs += level[:, None]
        np.minimum(worst, level_worst[:, None], out=worst)
        logs *= (1 - settings.weakest_share) / self.total
        worst *= settings.weakest_share
        logs += worst
        return logs


class _Member:
    """A feature asked about, with the parts that a whole garment is made of."""

    def __init__(self, ask: Ask, knowledge: Knowledge) -> None:
        feature = knowledge.features[ask.feature]
        figures = {name: figure.typical for name, figure in feature.figures.items()} | ask.figures
        self.id, self.settings = ask.feature, knowledge.settings
        self.firm = not feature.swappable
        self.demands = _Demands(feature.demands, figures, knowledge)
        self.parts = [
            (_Member(Ask(name.replace("-", " "), name), knowledge), weight) for name, weight in feature.parts.items()
        ]

    def properties(self) -> set[str]:
        return {prop for prop, _, _, _ in self.demands.curves}.union(*(part.properties() for part, _ in self.parts))

    def points(self, batch: Batch, rows: slice, effects: Mapping[str, tuple[Floats, Floats, Floats]]) -> Three:
        """The fit at each point with the findings, for the low, the expected and the high score."""
        base = self.demands.fit(batch, rows)
        nothing = np.zeros(len(base))
        low, expected, high = (e[rows] for e in effects[self.id]) if self.id in effects else (nothing,) * 3
        three = _Points(base, low), _Points(base, expected), _Points(base, high)
        if not self.parts:
            return three
        floor = math.log(self.settings.floor)
        weights = sum(weight for _, weight in self.parts)
        scale = min(1.0, PARTS_SHARE / weights)
        mine = [own.all for own in three]
        sums = [own.copy() for own in mine]
        for part, weight in self.parts:
            # As in the single path, a part counts its own findings, and not those of the parts it is made of itself.
            its_own = {part.id: effects[part.id]} if part.id in effects else {}
            share = weight * scale / (1 + scale * weights)
            for total, own, theirs in zip(sums, mine, part.points(batch, rows, its_own), strict=True):
                fit = theirs.all
                total += share * np.where(fit < own, np.maximum(fit, floor) - own, 0.0)
        first, second, third = (_Points(total, nothing) for total in sums)
        return first, second, third


class ManyJudge:
    """One question (features and circumstances) put to many cloths."""

    def __init__(self, asks: Sequence[Ask], context: Sequence[str], knowledge: Knowledge) -> None:
        self.knowledge, self.settings = knowledge, knowledge.settings
        inference = inference_for(knowledge)
        every = with_parts(asks, knowledge)
        shared = shared_marks(every, context, knowledge)

        def rules(rule_ids: Sequence[str], fixed: Record) -> ColumnRules:
            return ColumnRules({r: knowledge.rules[r].conjunctions for r in rule_ids}, fixed)

        self.deriving = rules([r for r, kind in knowledge.rules_of.get(GENERAL, ()) if kind == "derive"], Record())
        self.general = rules(inference.select(GENERAL, CHECK_GENERAL), Record({}, shared))
        self.about = {}
        for ask in every:
            own = own_fields(ask, knowledge)
            self.about[ask.feature] = rules(
                inference.select(ask.feature, CHECK_KINDS), Record(own.numbers, {**shared, **own.marks})
            )
        self.features = [_Member(ask, knowledge) for ask in asks]
        self.floors = whole_floors([ask.feature for ask in asks], knowledge)
        self.circumstances = [
            (name, _Demands(knowledge.context[name].demands, {}, knowledge))
            for name in context
            if knowledge.context[name].demands
        ]
        self.limits = [f.id for f in self.features] or [name for name, _ in self.circumstances]
        """What `Answers.limited_by` counts."""
        self.watches: list[tuple[Rule, bool]] = self._watches()
        """What `Answers.watch` counts: stops and cautions, each with whether it is sure, the one to tell first in front."""

    def _watches(self) -> list[tuple[Rule, bool]]:
        rules = {r for fired in (self.general, *self.about.values()) for r in fired.rules()}
        graver = [self.knowledge.rules[r] for r in rules if self.knowledge.rules[r].then.kind in ("stop", "caution")]
        return sorted(((rule, sure) for rule in graver for sure in (True, False)), key=lambda pair: watch_order(*pair))

    def fields(self) -> set[str]:
        """The fields of a cloth that the answer depends on."""
        found = {f for fired in (self.deriving, self.general, *self.about.values()) for f in fired.fields()}
        demands = {p for member in self.features for p in member.properties()}
        demands |= {p for _, asked in self.circumstances for p, _, _, _ in asked.curves}
        return found | {f"property.{p}" for p in demands}

    def derive(self, batch: Batch) -> None:
        """Adds the traits that follow from others by rule to the batch's marks."""
        for rule_id, (sure, possible) in self.deriving.fire(batch, {}).items():
            batch.add_mark(f"trait.{self.knowledge.rules[rule_id].then.derive}", sure, possible)

    def judge(self, batch: Batch) -> Answers:
        """The answers for cloths whose derived traits are marked already."""
        seen: Seen = {}
        general = self.general.fire(batch, seen)
        about = {feature: rules.fire(batch, seen) for feature, rules in self.about.items()}
        effects = {feature: self._effects(fired, batch.count) for feature, fired in about.items() if fired}
        answers = [
            self._score(batch, slice(start, min(start + SLICE, batch.count)), effects, about)
            for start in range(0, batch.count, SLICE)
        ]
        verdict, low, expected, high, limited = (np.concatenate(column) for column in zip(*answers, strict=True))
        for rule_id, (sure, _) in general.items():
            if self.knowledge.rules[rule_id].then.kind == "stop":
                verdict[sure] = AVOID
        return Answers(verdict, Scores(low, expected, high), limited, self._watch([general, *about.values()], batch.count))

    def _effects(self, fired: Fired, count: int) -> tuple[Floats, Floats, Floats]:
        """What the findings about one feature add to the logarithms of the low, the expected and the high score."""
        low, expected, high = np.zeros(count), np.zeros(count), np.zeros(count)
        share = self.settings.possible_effect
        for rule_id, (sure, possible) in fired.items():
            effect = self.knowledge.rules[rule_id].then.effect
            if effect == 1:
                continue
            may = possible & ~sure
            for logs, unsure in ((low, min(effect, 1)), (expected, effect * share + 1 - share), (high, max(effect, 1))):
                logs[sure] += math.log(effect)
                logs[may] += math.log(unsure)
        return low, expected, high

    def _watch(self, groups: Sequence[Fired], count: int) -> Numbers:
        """The first of `watches` that holds for each cloth, else -1."""
        first = np.full(count, -1, dtype=np.int64)
        nowhere = np.zeros(count, dtype=bool)
        for place in range(len(self.watches) - 1, -1, -1):
            rule, is_sure = self.watches[place]
            fired = [group[rule.id] for group in groups if rule.id in group]
            if not fired:
                continue
            sure = np.logical_or.reduce([nowhere, *(s for s, _ in fired)])
            first[sure if is_sure else np.logical_or.reduce([p for _, p in fired]) & ~sure] = place
        return first

    def _score(
        self, batch: Batch, rows: slice, effects: Mapping[str, tuple[Floats, Floats, Floats]], about: Mapping[str, Fired]
    ) -> tuple[Numbers, Floats, Floats, Floats, Numbers]:
        """Verdict, score and limit of some of the cloths, as `judge_whole` and what comes before it reckon them."""
        settings = self.settings
        features = [member.points(batch, rows, effects) for member in self.features]
        floor = math.log(settings.floor)
        circumstances = []
        for _, demands in self.circumstances:
            fit = demands.fit(batch, rows)
            circumstances.append(_Points(fit, np.zeros(len(fit))))
        stops = [self._stops(about.get(member.id, {}), rows) for member in self.features]
        means = [_mean(three[1]) for three in features] or [_mean(points) for points in circumstances]
        if len(features) == 1 and not circumstances:
            score = _rounded(_centile(features[0][0], 0.1), means[0], _centile(features[0][2], 0.9))
            verdict = _settled(self._verdict(score.expected), *stops[0])
            return verdict, score.low, score.expected, score.high, np.zeros(len(verdict), dtype=np.int64)
        expected = [_tenth(np.minimum(100.0, _clean(mean))) for mean in means]
        limited = np.argmin(np.array(expected), axis=0)
        total = len(features) + CONTEXT_SHARE * len(circumstances)
        whole = []
        for which in range(3):
            logs = np.zeros((len(limited), settings.sample_points))
            for three, least in zip(features, self.floors, strict=True):
                logs += np.maximum(three[which].all, math.log(least))
            for points in circumstances:
                logs += CONTEXT_SHARE * np.maximum(points.rows, floor)
            whole.append(_Points(logs / total, np.zeros(len(limited))))
        score = _rounded(_centile(whole[0], 0.1), _mean(whole[1]), _centile(whole[2], 0.9))
        low, middle, high = score.low, score.expected, score.high
        firm = [place for place, member in enumerate(self.features) if member.firm]
        verdict = self._verdict(middle)
        if firm:
            worst = np.min([expected[place] for place in firm], axis=0) + settings.worst_margin
            low, middle = np.minimum(low, worst), np.minimum(middle, worst)
            capped = np.flatnonzero(worst < high)  # elsewhere the highs of the firm features, never below their means, cap nothing
            if len(capped):
                tops = [
                    _rounded(None, means[place][capped], _centile(_some(features[place][2], capped), 0.9)).high for place in firm
                ]
                high = high.copy()
                high[capped] = np.minimum(high[capped], np.min(tops, axis=0) + settings.worst_margin)
            verdict = self._verdict(middle)
        bad = np.zeros(len(verdict), dtype=bool)
        for mean, (sure, _) in zip(expected, stops, strict=False):
            bad |= sure | (mean < settings.care_from)
        for (name, _), points in zip(self.circumstances, circumstances, strict=True):
            bad |= _tenth(np.minimum(100.0, _clean(_mean(points)))) < least_borne(name, self.knowledge)
        stopped = [stops[place] for place in firm]
        any_stop = np.logical_or.reduce([bad, *(possible for _, possible in stopped)])
        verdict[(verdict == SUITS) & any_stop] = CARE
        for sure, _ in stopped:
            verdict[sure] = AVOID
        return verdict, low, middle, high, limited

    def _verdict(self, expected: Floats) -> Numbers:
        settings = self.settings
        return np.where(expected >= settings.suits_from, SUITS, np.where(expected >= settings.care_from, CARE, AVOID))

    def _stops(self, fired: Fired, rows: slice) -> tuple[Bools, Bools]:
        """Where a stop about a feature is sure, and where one may apply or is sure."""
        found = [fired[r] for r in fired if self.knowledge.rules[r].then.kind == "stop"]
        if not found:
            count = rows.stop - rows.start
            return np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
        sure, possible = (np.logical_or.reduce(column) for column in zip(*found, strict=True))
        return sure[rows], possible[rows]


def watch_order(rule: Rule, sure: bool) -> tuple[float, bool, int, str]:
    """Which finding is told first of all, as `advisor.picking` chooses it: what costs most, then what is sure, then the graver."""
    return rule.then.effect, not sure, kinds_in_order().index(str(rule.then.kind)), rule.id


def _settled(verdict: Numbers, sure: Bools, possible: Bools) -> Numbers:
    """A sure stop is avoid, a possible one at most care."""
    verdict[(verdict == SUITS) & possible] = CARE
    verdict[sure] = AVOID
    return verdict


def _some(points: _Points, rows: NDArray[np.intp]) -> _Points:
    return _Points(points.rows[rows], points.shift[rows])


def _mean(points: _Points) -> Floats:
    """The mean of the sample, 0 to 100."""
    found: Floats = 100 * np.exp(points.shift) * np.exp(points.rows).mean(axis=1)
    return found


def _centile(points: _Points, share: float) -> Floats:
    """A centile of the sample, 0 to 100, as `advisor.judge` counts it."""
    count = points.rows.shape[1]
    place = min(count - 1, int(share * count))
    found: Floats = 100 * np.exp(points.shift + np.partition(points.rows, place, axis=1)[:, place])
    return found


def _clean(values: Floats) -> Floats:
    """Cut to a millionth, as `advisor.judge.score_of` does."""
    return np.round(values, 6)


def _tenth(values: Floats) -> Floats:
    """Rounded to a tenth just as Python rounds; numpy differs half-way between two."""
    found = np.round(values, 1)
    tenths = values * 10
    for place in np.flatnonzero(np.abs(tenths - np.floor(tenths) - 0.5) < 1e-6):
        found[place] = round(float(values[place]), 1)
    return found


def _rounded(bottom: Floats | None, mean: Floats, top: Floats) -> Scores:
    """Scores as `advisor.judge.score_of` rounds them."""
    mean, top = np.minimum(100.0, _clean(mean)), _clean(top)
    low = mean if bottom is None else np.minimum(_clean(bottom), mean)
    return Scores(_tenth(low), _tenth(mean), _tenth(np.minimum(100.0, np.maximum(top, mean))))
