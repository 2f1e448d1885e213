"""How well a cloth serves: demand curves on the possible cloths that a description allows, and what findings do to it.

A description stands for many possible cloths. A fixed sample of them is judged (every property's range is cut
into as many equal strata as there are points, and each property walks its strata in an order of its own, so that
the points are spread evenly whatever the number of uncertain properties: Latin hypercube sampling, McKay, Beckman
and Conover, Technometrics 21, 1979). Expected is the mean, low and high are the 10th and 90th centile.

Fit of one possible cloth = importance-weighted geometric mean of the demands met (Derringer and Suich, Journal of
Quality Technology 12, 1980), drawn towards the worst met demand (the maximin of Kim and Lin, Applied Statistics 49,
2000; cited from memory), so that one hopeless demand cannot be bought off by many easy ones; times the effects of
findings.
"""

from __future__ import annotations

import math
import random
from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from advisor.asks import Ask
from advisor.infer import Finding
from advisor.knowledge import Knowledge
from advisor.model import Demand, Settings
from advisor.profile import Profile
from advisor.ranges import Range

PARTS_SHARE = 0.7
"""The most that the parts of a whole garment weigh together, beside 1 for the garment's own demands."""
CONTEXT_SHARE = 0.4
"""What a circumstance weighs beside a feature asked about."""
SWAPPED_FLOOR = 0.35
"""The least that a feature counts which can be swapped for another: a button never sinks a coat."""

Points = list[tuple[float, float]]


@dataclass(frozen=True)
class Score:
    """0 to 100: 10th centile, mean and 90th centile of the possible cloths."""

    low: float
    expected: float
    high: float


@dataclass(frozen=True)
class Met:
    """How one demand is met: the demand, the curve used, and lowest, mean and highest of the sample (0 to 1)."""

    demand: Demand
    curve: Points
    low: float
    expected: float
    high: float

    @property
    def loss(self) -> float:
        """What the demand costs, for ranking reasons."""
        return self.demand.importance * -math.log(max(self.expected, 0.01))


@dataclass
class Judged:
    """One feature (or circumstance) judged: its score, verdict, demands and findings; parts of a garment below it."""

    id: str
    given: str
    score: Score
    verdict: str
    met: list[Met]
    findings: list[Finding] = field(default_factory=list)
    parts: list[Judged] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    low_values: list[float] = field(default_factory=list)
    high_values: list[float] = field(default_factory=list)


@dataclass(frozen=True)
class Terms:
    """On what terms one feature is judged, where they differ from the usual: the cloth there, the demands, the parts."""

    profile: Profile
    demands: Sequence[Demand]
    parts: Mapping[str, float]


@lru_cache(maxsize=256)
def strata(name: str, count: int) -> tuple[float, ...]:
    """Where a property stands in its range (0 to 1) at each point of the sample."""
    order = list(range(count))
    random.Random(name).shuffle(order)
    return tuple((place + 0.5) / count for place in order)


def interpolate(curve: Sequence[tuple[float, float]], x: float) -> float:
    """A piecewise linear curve at `x`, flat beyond its ends."""
    return along(curve, (x,))[0]


def along(curve: Sequence[tuple[float, float]], xs: Iterable[float]) -> list[float]:
    """A piecewise linear curve at each of `xs`, flat beyond its ends."""
    keys, count = [x for x, _ in curve], len(curve)
    found = []
    for x in xs:
        place = bisect_right(keys, x)
        if place == 0:
            found.append(curve[0][1])
        elif place == count:
            found.append(curve[-1][1])
        else:
            (x0, y0), (x1, y1) = curve[place - 1], curve[place]
            found.append(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
    return found


def curve_at(demand: Demand, figures: dict[str, float]) -> Points:
    """The demand's curve at the feature's figure: between two tabled curves, their blend."""
    if not demand.over:
        return demand.curve
    at = figures[demand.over]
    table = demand.curves
    keys = [key for key, _ in table]
    place = bisect_right(keys, at)
    if place == 0:
        return table[0][1]
    if place == len(table):
        return table[-1][1]
    (k0, c0), (k1, c1) = table[place - 1], table[place]
    share = (at - k0) / (k1 - k0)
    return [
        (x, (1 - share) * interpolate(c0, x) + share * interpolate(c1, x)) for x in sorted({p[0] for p in (*c0, *c1)})
    ]


def sample(value: Range, name: str, count: int) -> list[float]:
    """The property's figure at each point of the sample; one figure where nothing is uncertain."""
    if value.low == value.high:
        return [value.low]
    return [value.low + value.width * u for u in strata(name, count)]


def verdict_of(expected: float, settings: Settings) -> str:
    """The verdict of an expected score."""
    return "suits" if expected >= settings.suits_from else "care" if expected >= settings.care_from else "avoid"


def _demands(
    demands: Iterable[Demand], figures: dict[str, float], profile: Profile, settings: Settings
) -> tuple[list[Met], list[float]]:
    """How each demand is met, and the fit at each point before findings."""
    count = settings.sample_points
    total = 0.0
    logs = [0.0] * count
    worst = [0.0] * count
    met: list[Met] = []
    for demand in demands:
        curve = curve_at(demand, figures)
        values = along(curve, sample(profile.known[demand.property].range, demand.property, count))
        met.append(Met(demand, curve, min(values), sum(values) / len(values), max(values)))
        weight = demand.importance
        total += weight
        full = min(1.0, weight / settings.weakest_from)
        costs = [math.log(max(v, settings.floor)) for v in values] * (count if len(values) == 1 else 1)
        logs = [log + weight * cost for log, cost in zip(logs, costs, strict=True)]
        worst = [min(w, full * cost) for w, cost in zip(worst, costs, strict=True)]
    if not total:
        return met, [1.0] * count
    mean, least = 1 - settings.weakest_share, settings.weakest_share
    return met, [math.exp(mean * log / total + least * w) for log, w in zip(logs, worst, strict=True)]


def _effects(findings: Iterable[Finding], settings: Settings) -> tuple[float, float, float]:
    """Factors for the low, the expected and the high score."""
    low = expected = high = 1.0
    for finding in findings:
        effect = finding.rule.then.effect
        if finding.sure:
            low, expected, high = low * effect, expected * effect, high * effect
        else:
            share = settings.possible_effect
            low, expected, high = (
                low * min(effect, 1),
                expected * (effect * share + 1 - share),
                high * max(effect, 1),
            )
    return low, expected, high


def _centile(values: Sequence[float], share: float) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def _score(low: Sequence[float], expected: Sequence[float], high: Sequence[float]) -> Score:
    return score_of(100 * _centile(low, 0.1), 100 * sum(expected) / len(expected), 100 * _centile(high, 0.9))


def score_of(bottom: float, mean: float, top: float) -> Score:
    """The score, to a tenth, of a 10th centile, a mean and a 90th centile (0 to 100).

    What is below a millionth is cut off first, so that the last bits, which differ with the order of adding up, decide
    nothing where a figure stands half-way between two tenths.
    """
    bottom, mean, top = round(bottom, 6), min(100.0, round(mean, 6)), round(top, 6)
    return Score(round(min(bottom, mean), 1), round(mean, 1), round(min(100.0, max(top, mean)), 1))


def _settle(judged: Judged, settings: Settings) -> Judged:
    """Score and verdict from the points; a sure stop is avoid, a possible stop at most care."""
    judged.score = _score(judged.low_values, judged.values, judged.high_values)
    verdict = verdict_of(judged.score.expected, settings)
    stops = [f for f in judged.findings if f.rule.then.kind == "stop"]
    if any(f.sure for f in stops):
        verdict = "avoid"
    elif stops and verdict == "suits":
        verdict = "care"
    judged.verdict = verdict
    return judged


def judge_feature(
    ask: Ask,
    profile: Profile,
    findings: Iterable[Finding],
    knowledge: Knowledge,
    terms: Callable[[str], Terms] | None = None,
) -> Judged:
    """One feature on one cloth, with the parts that a whole garment is made of; `terms` says for each how it is helped."""
    settings = knowledge.settings
    feature = knowledge.features[ask.feature]
    here = terms(ask.feature) if terms else Terms(profile, feature.demands, feature.parts)
    figures = {name: figure.typical for name, figure in feature.figures.items()} | ask.figures
    met, values = _demands(here.demands, figures, here.profile, settings)
    findings = list(findings)
    own = [f for f in findings if f.feature == ask.feature]
    low, expected, high = _effects(own, settings)
    judged = Judged(
        ask.feature, ask.given, Score(0, 0, 0), "", met, own, [],
        [v * expected for v in values], [v * low for v in values], [v * high for v in values],
    )  # fmt: skip
    if here.parts:
        scale = min(1.0, PARTS_SHARE / sum(here.parts.values()))
        whole = 1 + scale * sum(here.parts.values())
        lists = (judged.values, judged.low_values, judged.high_values)
        own_values = [list(mine) for mine in lists]
        for name, weight in here.parts.items():
            part = judge_feature(
                Ask(name.replace("-", " "), name),
                profile,
                [f for f in findings if f.feature == name],
                knowledge,
                terms,
            )
            judged.parts.append(part)
            share = weight * scale / whole
            for mine, own_list, theirs in zip(
                lists, own_values, (part.values, part.low_values, part.high_values), strict=True
            ):
                # A part that fares worse draws the garment down; one that fares better does not redeem it.
                for i, value in enumerate(theirs):
                    if value < own_list[i]:
                        mine[i] *= (max(value, settings.floor) / own_list[i]) ** share
    return _settle(judged, settings)


def judge_context(name: str, profile: Profile, knowledge: Knowledge) -> Judged:
    """How the cloth serves a circumstance, such as summer or the machine."""
    entry = knowledge.context[name]
    met, values = _demands(entry.demands, {}, profile, knowledge.settings)
    return _settle(Judged(name, name, Score(0, 0, 0), "", met, [], [], values, values, values), knowledge.settings)


def whole_floors(features: Sequence[str], knowledge: Knowledge) -> list[float]:
    """The least that each feature counts in the whole: more where it can be swapped beside one that cannot."""
    swappable = [bool(knowledge.features[name].swappable) for name in features]
    low = knowledge.settings.floor
    return [SWAPPED_FLOOR if swaps and not all(swappable) else low for swaps in swappable]


def least_borne(name: str, knowledge: Knowledge) -> float:
    """The score below which a circumstance keeps the whole from suiting: a way of caring must suit, others be borne."""
    settings = knowledge.settings
    return settings.suits_from if knowledge.context[name].kind == "care" else settings.care_from


def judge_whole(features: Sequence[Judged], circumstances: Sequence[Judged], knowledge: Knowledge) -> tuple[Score, str]:
    """The whole make: weighted geometric mean, never above its worst feature that cannot be swapped by more than the margin."""
    settings = knowledge.settings
    if not features and not circumstances:
        return Score(0, 0, 0), "avoid"
    if len(features) == 1 and not circumstances:
        return features[0].score, features[0].verdict
    floors = whole_floors([f.id for f in features], knowledge)
    members = [(f, 1.0, floor) for f, floor in zip(features, floors, strict=True)]
    members += [(c, CONTEXT_SHARE, settings.floor) for c in circumstances]
    total = sum(weight for _, weight, _ in members)
    lists: list[list[float]] = []
    for which in ("low_values", "values", "high_values"):
        logs = [0.0] * settings.sample_points
        for judged, weight, floor in members:
            logs = [
                log + weight * math.log(max(v, floor))
                for log, v in zip(logs, getattr(judged, which), strict=True)
            ]
        lists.append([math.exp(log / total) for log in logs])
    score = _score(*lists)
    firm = [f for f in features if not knowledge.features[f.id].swappable]
    if firm:
        worst = min(f.score.expected for f in firm) + settings.worst_margin
        score = Score(
            min(score.low, worst),
            min(score.expected, worst),
            min(score.high, min(f.score.high for f in firm) + settings.worst_margin),
        )
    verdict = verdict_of(score.expected, settings)
    stops = [(f, finding) for f in firm for finding in f.findings if finding.rule.then.kind == "stop"]
    if any(finding.sure for _, finding in stops):
        verdict = "avoid"
    elif verdict == "suits" and (
        stops
        or any(f.verdict == "avoid" for f in features)
        or any(c.score.expected < least_borne(c.id, knowledge) for c in circumstances)
    ):
        verdict = "care"
    return score, verdict
