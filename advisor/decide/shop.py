"""A shopping brief: what the cloth for a make must be, in figures, trade words and what the hand can tell."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from advisor import report
from advisor.advise import with_parts
from advisor.decide.compare import bands_of
from advisor.decide.remedies import side
from advisor.errors import Unclear
from advisor.judge import Points, curve_at, interpolate
from advisor.knowledge import Knowledge
from advisor.makes import Make, asks_of, context_of
from advisor.model import Demand, Fibre, Property
from advisor.picking import pick_for
from advisor.ranges import Range

GOOD = 0.8
"""A figure that meets a demand as well as this is wanted."""
HEAVY = 1.0
"""Demands of less importance than this do not narrow the wish."""
PREFER, LEAVE = 0.85, 0.5
MOST_FIBRES, MOST_CLOTHS, MOST_WAYS = 8, 12, 3
IN_SHOPS = 4
"""A fibre that fewer named cloths are made of is seldom met in a shop, and is neither sought nor warned of."""
MINUTE = 1.0
"""Tests that take longer are not made at the counter; where there is none so short, two minutes are allowed."""
COUNTER = 2.0


@dataclass(frozen=True)
class Wish:
    """What one feature asks of one property: the range in which it is met well."""

    feature: str
    demand: Demand
    range: Range


def good_range(curve: Points, domain: Range) -> Range:
    """Where a curve is at least 0.8 (of its best, where it never is), as the one range round its peak."""
    top = max(y for _, y in curve)
    level = GOOD if top >= GOOD else top - 1e-9
    points = [(min(domain.low, curve[0][0]), curve[0][1]), *curve, (max(domain.high, curve[-1][0]), curve[-1][1])]
    peak = next(i for i, (_, y) in enumerate(points) if y == top)
    low, high = points[0][0], points[-1][0]
    for (x0, y0), (x1, y1) in reversed(list(pairwise(points[: peak + 1]))):
        if y0 < level <= y1:
            low = x0 + (x1 - x0) * (level - y0) / (y1 - y0)
            break
    for (x0, y0), (x1, y1) in pairwise(points[peak:]):
        if y1 < level <= y0:
            high = x0 + (x1 - x0) * (y0 - level) / (y0 - y1)
            break
    return Range(low, high).clamp(domain)


def wishes(make: Make, knowledge: Knowledge) -> dict[str, list[Wish]]:
    """What every feature, part and circumstance of a make asks, by property."""
    found: dict[str, list[Wish]] = {}

    def add(name: str, demands: Iterable[Demand], figures: Mapping[str, float]) -> None:
        for demand in demands:
            prop = knowledge.properties[demand.property]
            wish = Wish(name, demand, good_range(curve_at(demand, dict(figures)), prop.domain))
            if wish.range != prop.domain:
                found.setdefault(prop.id, []).append(wish)

    for ask in with_parts(asks_of(make, knowledge), knowledge):
        feature = knowledge.features[ask.feature]
        typical = {name: figure.typical for name, figure in feature.figures.items()}
        add(ask.feature, feature.demands, typical | ask.figures)
    for name in context_of(make, knowledge):
        add(name, knowledge.context[name].demands, {})
    return found


def _words(value: Range, prop: Property) -> list[str]:
    """The trade words that lie in the range by at least half."""
    inside = []
    for word, band in prop.bands.items():
        both = band.within(value)
        if both and (both.width >= band.width / 2 or both.width >= value.width / 2):
            inside.append(word)
    return inside or bands_of(value, prop)


def in_words(words: Sequence[str]) -> str:
    """Neighbouring trade words as they are said: 'fluid or soft', 'solid to open'."""
    return " or ".join(words) if len(words) < 3 else f"{words[0]} to {words[-1]}"


def _span(value: Range, prop: Property) -> str:
    unit = "" if prop.unit == "grade" else f" {prop.unit}"
    low, high = round(value.low, prop.decimals), round(value.high, prop.decimals)
    if value.low <= prop.domain.low:
        return f"at most {high:g}{unit}"
    if value.high >= prop.domain.high:
        return f"at least {low:g}{unit}"
    return f"{low:g} to {high:g}{unit}"


def ways_out(one: Wish, two: Wish, knowledge: Knowledge) -> list[str]:
    """How dressmakers resolve it: remedies that help either feature on the side where the cloth would be wrong for it."""
    lower, upper = sorted((one, two), key=lambda w: w.range.mid)
    found: list[tuple[float, str]] = []
    prop = lower.demand.property
    for wish, wrong in ((upper, "low"), (lower, "high")):  # in a compromise the one has too little, the other too much
        for remedy in knowledge.remedies.values():
            if wish.feature not in remedy.features:
                continue
            lift = remedy.lifts.get(prop, 0.0)
            eased = 1 - remedy.eases.get(prop, 1.0)
            apart = 0.4 if remedy.swap else 0.0
            worth = max(lift if side(remedy, prop) in ("", wrong) else 0.0, eased, apart)
            if worth > 0:
                found.append((worth - remedy.cost.minutes / 1000, f"{wish.feature.replace('-', ' ')}: {remedy.do}"))
    ways = [text for _, text in sorted(found, reverse=True)[:MOST_WAYS]]
    return ways or ["Cut the two parts in two cloths, each in what it wants."]


def wanted_row(prop: Property, asked: Sequence[Wish], knowledge: Knowledge) -> report.WantedRow:
    """The range that pleases all, taken in order of importance; where two pull apart, both are told."""
    ordered = sorted(asked, key=lambda w: -w.demand.importance)
    value = ordered[0].range
    kept: list[Wish] = [ordered[0]]
    pulls: list[str] = []
    resolve: list[str] = []
    for wish in ordered[1:]:
        both = value.within(wish.range)
        if both:
            value = both
            kept.append(wish)
        elif wish.demand.importance >= HEAVY:
            other = max(kept, key=lambda w: max(w.range.low - wish.range.high, wish.range.low - w.range.high))
            pulls.append(
                f"{other.feature.replace('-', ' ')} wants {_span(other.range, prop)}, "
                f"{wish.feature.replace('-', ' ')} wants {_span(wish.range, prop)}"
            )
            resolve += ways_out(other, wish, knowledge)
    low = None if value.low <= prop.domain.low else round(value.low, prop.decimals)
    high = None if value.high >= prop.domain.high else round(value.high, prop.decimals)
    return report.WantedRow(
        prop.id, prop.name, prop.unit, low, high, _words(value, prop), list(dict.fromkeys(w.feature for w in kept)),
        list(dict.fromkeys(w.demand.why for w in kept)), list(dict.fromkeys(pulls)), list(dict.fromkeys(resolve)),
    )  # fmt: skip


def _met_by(fibre: Fibre, wish: Wish) -> float | None:
    gives = fibre.gives.get(wish.demand.property)
    if gives is None or wish.demand.curves:
        return None
    return sum(interpolate(wish.demand.curve, gives.low + (gives.high - gives.low) * i / 8) for i in range(9)) / 9


def fibres(
    asked: Mapping[str, Sequence[Wish]], context: Sequence[str], knowledge: Knowledge
) -> tuple[list[report.FibreAdvice], list[report.FibreAdvice]]:
    """Fibres to prefer and to leave, by what wearer, season, use and care ask of what the fibre alone decides."""
    chosen = [w for ws in asked.values() for w in ws if w.feature in context]
    chosen = chosen or [w for ws in asked.values() for w in ws]
    rated: list[report.FibreAdvice] = []
    used = Counter(f for cloth in knowledge.cloths.values() for f in {f for mix in cloth.fibres for f in mix})
    for fibre in knowledge.fibres.values():
        if used[fibre.id] < IN_SHOPS:
            continue
        pairs = [(w, met) for w in chosen if (met := _met_by(fibre, w)) is not None]
        if not pairs:
            continue
        total = sum(w.demand.importance for w, _ in pairs)
        mean = sum(w.demand.importance * met for w, met in pairs) / total
        worst, least = min(pairs, key=lambda p: p[1])
        best, _ = max(pairs, key=lambda p: (p[1], p[0].demand.importance))
        prop = knowledge.properties[(worst if least < GOOD else best).demand.property]
        value = fibre.gives[prop.id].range
        no_water = prop.id == "wash_limit" and value.high < 10
        said = f"{prop.name} {'none, no water' if no_water else _span_of(value, prop)}: {(worst if least < GOOD else best).demand.why}"
        rated.append(report.FibreAdvice(fibre.id, round(min(mean, (mean + least) / 2), 3), said, fibre.gives[prop.id].source))
    rated.sort(key=lambda r: (-r.met, r.fibre))
    prefer = [r for r in rated if r.met >= PREFER][:MOST_FIBRES]
    leave = [r for r in reversed(rated) if r.met < LEAVE][:MOST_FIBRES]
    return prefer, leave


def _span_of(value: Range, prop: Property) -> str:
    unit = "" if prop.unit == "grade" else f" {prop.unit}"
    low, high = round(value.low, prop.decimals), round(value.high, prop.decimals)
    return f"{low:g}{unit}" if low == high else f"{low:g} to {high:g}{unit}"


def at_the_counter(rows: Sequence[report.WantedRow], weight: Mapping[str, float], knowledge: Knowledge) -> list[report.ShopTest]:
    """Tests that a hand can make in the shop: those of about a minute, for the properties that matter most."""
    found = []
    for row in sorted(rows, key=lambda r: -weight[r.property]):
        tests = [t for t in knowledge.tests.values() if t.property == row.property and t.minutes <= COUNTER]
        if not tests:
            continue
        test = min(tests, key=lambda t: (t.minutes > MINUTE, t.spread))
        prop = knowledge.properties[row.property]
        value = Range(
            prop.domain.low if row.low is None else row.low, prop.domain.high if row.high is None else row.high
        )
        how = " ".join(step.rstrip(".") + "." for step in test.how)
        wants = f"{in_words(row.words)} ({_span(value, prop)})"
        found.append(report.ShopTest(prop.id, test.id, test.minutes, how, wants, test.safety))
    return found


def metres(make: Make) -> list[str]:
    """The envelope's lengths, as they are asked for at the counter."""
    lines = []
    for need in make.cloth_needed:
        size = f", size {need.size}" if need.size else ""
        view = f", view {need.view}" if need.view else ""
        part = "" if need.part == "main" else f"{need.part}: "
        nap = "" if need.nap == "either" else f", {need.nap} nap"
        lines.append(f"{part}{need.length_m:g} m at {need.width_cm:g} cm wide{view}{size}{nap}")
    return lines


def shop_for(make: Make, knowledge: Knowledge) -> report.ShopReport:
    """The brief for a make; raises `Unclear` where the make has no feature."""
    asked = wishes(make, knowledge)
    context = context_of(make, knowledge)
    if not make.features and not context:
        raise Unclear(f"make '{make.make}'", "at least one feature")
    weight = {prop: sum(w.demand.importance for w in ws) for prop, ws in asked.items()}
    rows = [wanted_row(knowledge.properties[prop], ws, knowledge) for prop, ws in asked.items()]
    rows.sort(key=lambda r: -weight[r.property])
    prefer, leave = fibres(asked, context, knowledge)
    envelope = [f"the envelope suggests {', '.join(make.envelope.suggests)}"] if make.envelope.suggests else []
    envelope += [f"the envelope is not for {', '.join(make.envelope.not_for)}"] if make.envelope.not_for else []
    for way in ("along", "across"):
        gauge = getattr(make.envelope, f"stretch_{way}")
        envelope += [f"the envelope's gauge asks for {gauge:g} % stretch {way}"] if gauge else []
    return report.ShopReport(
        make.make, rows, prefer, leave, metres(make), at_the_counter(rows, weight, knowledge),
        pick_for(make, [], knowledge).ranking[:MOST_CLOTHS], list(make.notions), envelope,
    )  # fmt: skip
