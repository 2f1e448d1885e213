"""Inference alone: the engine, the plain evaluator and CLIPS on the same rules and the same records, builds excluded."""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from itertools import islice
from pathlib import Path

from measuring import Figure

sys.path += [str(Path(__file__).parent.parent / folder) for folder in ("proofs", "lists")]


def spent(work: Callable[[], object]) -> float:
    """Seconds of this process's own time, which other programs hardly change."""
    start = time.process_time()
    work()
    return time.process_time() - start


def against_clips(cloths: int = 200) -> list[Figure]:
    """A check's rules about every cloth and about two features, on cloths as merchants describe them.

    From the record to the findings on either side: CLIPS gets the record as one wide fact, the engine as one a group.
    """
    from clips_voice import Clips
    from merchants import merchants

    from advisor.advise import CHECK_GENERAL, CHECK_KINDS, profile_of
    from advisor.asks import read_ask
    from advisor.engine import Stratum
    from advisor.errors import Unclear
    from advisor.infer import GENERAL, inference_for, own_record, record_of
    from advisor.knowledge import load
    from advisor.rules import fired

    knowledge = load()
    inference = inference_for(knowledge)
    asks = [read_ask(name, knowledge) for name in ("covered buttons", "flounce")]
    ids = inference.select(GENERAL, CHECK_GENERAL) + tuple(r for ask in asks for r in inference.select(ask.feature, CHECK_KINDS))
    rules = {rule_id: knowledge.rules[rule_id] for rule_id in dict.fromkeys(ids)}
    normal = {rule_id: rule.conjunctions for rule_id, rule in rules.items()}
    records = []
    for text in islice(merchants(knowledge, 11), cloths * 2):
        try:
            base = record_of(profile_of(text, knowledge), asks, [], knowledge)
        except Unclear:
            continue
        records.append(own_record(own_record(base, asks[0], knowledge), asks[1], knowledge))
    records = records[:cloths]
    engine, voice = Stratum(normal), Clips(rules.values())
    for record in records[:20]:
        assert engine.fire(record) == fired(normal, record) == voice.fire(record)
    ways: dict[str, list[Callable[[], object]]] = {
        "durable-rules": [lambda r=r: engine.fire(r) for r in records],
        "plain evaluator": [lambda r=r: fired(normal, r) for r in records],
        "CLIPS": [lambda r=r: voice.fire(r) for r in records],
    }
    rounds = {name: [[spent(work) for work in works] for _ in range(3)] for name, works in ways.items()}
    ms = {name: statistics.median(map(min, zip(*each, strict=True))) * 1000 for name, each in rounds.items()}
    note = f"{len(normal)} rules, {len(records)} cloths"
    found = [Figure(f"{name}, ms a cloth", value, "ms", None, note) for name, value in ms.items()]
    ours = "durable-rules" if engine.engine_in_use else "plain evaluator"
    found.append(Figure("inference / CLIPS", ms[ours] / ms["CLIPS"], "×", 0.5, f"by {ours}"))
    return found


def compiling(rounds: int = 5) -> list[Figure]:
    """The knowledge base from YAML, and from its cache."""
    from advisor import knowledge

    knowledge.load()

    def anew() -> None:
        knowledge._loaded.clear()
        knowledge.load()

    def from_yaml() -> None:
        knowledge._loaded.clear()
        knowledge.load(cache=False)

    yaml = [spent(from_yaml) for _ in range(rounds)]
    cache = [spent(anew) for _ in range(rounds * 4)]
    return [
        Figure("knowledge from YAML", statistics.median(yaml), "s", 2),
        Figure("knowledge from the cache", statistics.median(cache) * 1000, "ms", 25),
    ]


if __name__ == "__main__":
    for figure in (*against_clips(), *compiling()):
        print(figure.line())
