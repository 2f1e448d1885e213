"""How time grows with the number of rules and of cloths, drawn as a picture."""

from __future__ import annotations

import math
import random
import statistics
from pathlib import Path

from inference import spent
from measuring import Figure

RULES = (100, 300, 1000, 3000)
CLOTHS = (1_000, 10_000, 100_000)

Series = dict[str, list[tuple[float, float]]]


def synthetic(count: int, dice: random.Random) -> dict[str, list[list[object]]]:
    """Rules of two to four conditions on 30 numbers and 60 marks, as the real ones are."""
    from advisor.model import Condition

    rules: dict[str, list[list[object]]] = {}
    for number in range(count):
        conditions = [Condition("has" if dice.random() < 0.8 else "lacks", f"trait.t{dice.randrange(60)}") for _ in range(2)]
        for _ in range(dice.randint(1, 2)):
            conditions.append(Condition(dice.choice(("lt", "ge", "gt", "le")), f"property.p{dice.randrange(30)}", dice.uniform(0, 100)))
        rules[f"r{number}"] = [conditions]
    return rules


def of_rules(cloths: int = 30) -> Series:
    """Number of rules → ms a cloth, by the engine and by the plain evaluator."""
    from advisor.engine import Stratum
    from advisor.ranges import Range
    from advisor.rules import Record, fired

    dice = random.Random("growth")
    records = []
    for _ in range(cloths):
        numbers = {f"property.p{i}": Range(low := dice.uniform(0, 90), low + dice.uniform(0, 10)) for i in range(30)}
        marks = {f"trait.t{i}": (True, True) for i in range(60) if dice.random() < 0.15}
        records.append(Record(numbers, marks))
    found: Series = {"durable-rules": [], "plain evaluator": []}
    for count in RULES:
        rules = synthetic(count, random.Random(count))
        stratum = Stratum(rules)
        for record in records[:5]:
            assert stratum.fire(record) == fired(rules, record)
        for name, fire in (("durable-rules", stratum.fire), ("plain evaluator", lambda r, rules=rules: fired(rules, r))):
            least = [min(spent(lambda r=r, fire=fire: fire(r)) for _ in range(3)) for r in records]
            found[name].append((count, statistics.median(least) * 1000))
    return found


def of_cloths() -> Series:
    """Number of cloths → seconds to judge them on columns, for two features."""
    from listing_speed import random_batch

    from advisor.asks import read_ask
    from advisor.columns.judging import ManyJudge
    from advisor.knowledge import load

    knowledge = load()
    judge = ManyJudge([read_ask(name, knowledge) for name in ("covered buttons", "flounce")], (), knowledge)
    found: Series = {"on columns": []}
    for count in CLOTHS:
        batch = random_batch(judge, knowledge, count, count)
        judge.derive(batch)
        found["on columns"].append((count, min(spent(lambda batch=batch: judge.judge(batch)) for _ in range(2))))
    return found


def figures(rules: Series, cloths: Series) -> list[Figure]:
    """The power of the number with which the time grows: 1 is linear, 2 would be quadratic."""
    found = []
    for name, points in {**rules, **cloths}.items():
        (first, start), (last, end) = points[0], points[-1]
        power = math.log(end / start) / math.log(last / first)
        found.append(Figure(f"growth, {name}", power, "power", 1.2, f"{first:,.0f} to {last:,.0f}: {start:.3g} to {end:.3g}"))
    return found


def draw(path: Path, series: Series, x: str, y: str) -> None:
    """A picture on logarithmic scales, with a dashed line for what is exactly linear."""
    points = [p for line in series.values() for p in line]
    low_x, high_x = min(p[0] for p in points), max(p[0] for p in points)
    low_y, high_y = min(p[1] for p in points), max(p[1] for p in points)
    width, height, edge = 560, 340, 60

    def at(px: float, py: float) -> tuple[float, float]:
        across = (math.log(px) - math.log(low_x)) / (math.log(high_x) - math.log(low_x))
        up = (math.log(py) - math.log(low_y)) / max(1e-9, math.log(high_y) - math.log(low_y))
        return edge + across * (width - 2 * edge), height - edge - up * (height - 2 * edge)

    colours = ("#1b5e8c", "#b0413e", "#4c7a34")
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" font-family="sans-serif" font-size="12">',
        '<rect width="100%" height="100%" fill="white"/>',
        f'<path d="M{edge} {edge}V{height - edge}H{width - edge}" fill="none" stroke="#444"/>',
        f'<text x="{width / 2}" y="{height - 14}" text-anchor="middle">{x}</text>',
        f'<text x="16" y="{height / 2}" text-anchor="middle" transform="rotate(-90 16 {height / 2})">{y}</text>',
    ]
    for value in dict.fromkeys(p[0] for p in points):
        across, _ = at(value, low_y)
        parts.append(f'<text x="{across:.0f}" y="{height - edge + 18}" text-anchor="middle">{value:,.0f}</text>')
    for value in (low_y, high_y):
        _, down = at(low_x, value)
        parts.append(f'<text x="{edge - 6}" y="{down + 4:.0f}" text-anchor="end">{value:.2g}</text>')
    for number, (name, line) in enumerate(series.items()):
        colour = colours[number % len(colours)]
        drawn = " ".join(f"{a:.1f},{b:.1f}" for a, b in (at(*p) for p in line))
        parts.append(f'<polyline points="{drawn}" fill="none" stroke="{colour}" stroke-width="2"/>')
        start = line[0]
        end_x = min(high_x, start[0] * high_y / start[1])
        (x1, y1), (x2, y2) = at(*start), at(end_x, start[1] * end_x / start[0])
        parts.append(f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{colour}" stroke-dasharray="4 4"/>')
        parts.append(f'<text x="{edge + 10}" y="{edge + 4 + 16 * number}" fill="{colour}">{name} (dashed: linear)</text>')
    path.write_text("\n".join([*parts, "</svg>\n"]), encoding="utf-8")
