"""Descriptions as merchants write them, drawn from what the knowledge base knows, for the tests and the benchmarks."""

from __future__ import annotations

import random
from collections.abc import Iterator

from advisor.knowledge import Knowledge

COLOURS = ("navy", "ivory", "bottle green", "red", "floral print", "stripe", "tartan", "Ellerby", "ex-designer", "deadstock")
WIDTHS = (112, 135, 140, 145, 150)


def merchants(knowledge: Knowledge, seed: int = 1) -> Iterator[str]:
    """Endless descriptions: a cloth, often a colour or a shop's word, its fibres, a mark, its weight and width."""
    dice = random.Random(seed)
    cloths = [name for cloth in knowledge.cloths.values() for name in cloth.names]
    # As often as the cloths of the trade are made of them.
    fibres = [knowledge.fibres[f].names[0] for cloth in knowledge.cloths.values() for mix in cloth.fibres for f in mix]
    marks = [name for kind in ("traits", "finishes", "words") for entry in knowledge.table(kind).values() for name in entry.names]
    while True:
        parts = [dice.choice(cloths)]
        if dice.random() < 0.6:
            parts.append(dice.choice(COLOURS))
        if dice.random() < 0.4:
            share = dice.choice((50, 55, 60, 65, 80, 95, 97, 100))
            first, second = dice.choice(fibres), dice.choice(fibres)
            parts.append(f"{share}% {first}" + (f" {100 - share}% {second}" if share < 100 and first != second else ""))
        if dice.random() < 0.3:
            parts.append(dice.choice(marks))
        if dice.random() < 0.7:
            parts.append(f"{dice.randint(40, 500)} gsm")
        if dice.random() < 0.5:
            parts.append(f"{dice.choice(WIDTHS)} cm wide")
        yield ", ".join(parts)
