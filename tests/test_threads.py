"""Several threads ask at once and each gets its own answer."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import msgspec

from advisor import check, engine, press, prewash
from advisor.knowledge import load

CLOTHS = [
    "cotton poplin",
    "viscose challis, 95 gsm",
    "silk charmeuse",
    "wool flannel",
    "polyester satin",
    "linen",
    "denim",
    "lace",
]


def ask(cloth: str, knowledge) -> bytes:
    answers = (
        check(cloth, ["flounce", "buttonholes"], season="summer", knowledge=knowledge),
        press(cloth, knowledge=knowledge),
        prewash(cloth, care="40 wash", knowledge=knowledge),
    )
    return msgspec.json.encode(answers)


def test_answers_in_threads_are_those_of_one_thread(knowledge):
    alone = {cloth: ask(cloth, knowledge) for cloth in CLOTHS}
    before = list(engine.faults)
    with ThreadPoolExecutor(8) as pool:
        together = list(pool.map(lambda cloth: (cloth, ask(cloth, knowledge)), CLOTHS * 6))
    for cloth, answer in together:
        assert answer == alone[cloth], cloth
    assert engine.faults == before


def test_threads_that_start_on_a_fresh_knowledge_base_get_the_same_answers(knowledge):
    fresh = load(cache=False)
    with ThreadPoolExecutor(8) as pool:
        together = list(pool.map(lambda cloth: ask(cloth, fresh), CLOTHS))
    assert together == [ask(cloth, knowledge) for cloth in CLOTHS]
