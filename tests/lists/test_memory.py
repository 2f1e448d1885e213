"""Nothing is left behind: memory is flat over many checks, over a long list, and what is kept is kept within bounds."""

from __future__ import annotations

import csv
import gc
import resource
from concurrent.futures import ThreadPoolExecutor
from itertools import islice
from pathlib import Path

import pytest

pytest.importorskip("numpy", reason="the extra 'lists' is not installed")

from merchants import merchants

from advisor import check, engine
from advisor.asks import read_ask
from advisor.columns.judging import ManyJudge
from advisor.errors import Unclear
from advisor.sifting.run import sift
from advisor.sifting.sieve import Question, Sieve

FEATURES = ["flounce", "buttonholes"]


def held() -> float:
    """What this process holds in memory, MB."""
    gc.collect()
    statm = Path("/proc/self/statm")
    if not statm.exists():
        pytest.skip("this system does not say what a process holds")
    return int(statm.read_text().split()[1]) * resource.getpagesize() / 1e6


def test_memory_is_flat_over_many_checks(knowledge, full):
    """100,000 different checks with --full: once what is kept has filled up, nothing more is held, nor any engine fault."""
    count, warm = (100_000, 20_000) if full else (900, 300)
    faults, after = len(engine.faults), 0.0
    texts = merchants(knowledge, 9) if full else (t for _ in range(count) for t in islice(merchants(knowledge, 9), 30))
    for done, text in enumerate(islice(texts, count)):
        if done == warm:
            after = held()
        try:
            check(text, FEATURES, knowledge=knowledge)
        except Unclear:
            continue
    assert held() - after < (40 if full else 4)
    assert len(engine.faults) == faults


def test_memory_is_flat_over_a_long_list(tmp_path, knowledge, full):
    rows = 1_000_000 if full else 60_000
    texts = list(islice(merchants(knowledge, 4), 400))
    path, seen = tmp_path / "list.csv", []
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([["Description"], *([texts[place % 400]] for place in range(rows))])
    question = Question((read_ask("flounce", knowledge),))
    sift(path, question, knowledge, out=tmp_path / "out.csv", progress=lambda done, total: seen.append((done, held())))
    early = next(mb for done, mb in seen if done > rows / 5)
    assert seen[-1][1] - early < 5


def test_what_is_kept_of_a_list_is_bounded(knowledge, monkeypatch):
    from advisor.sifting import sieve

    monkeypatch.setattr(sieve, "REMEMBERED", 50)
    one = Sieve(Question((read_ask("flounce", knowledge),)), knowledge)
    texts = list(islice(merchants(knowledge, 6), 200))
    answers = [answer for at in range(0, 200, 40) for answer in one.judge(texts[at : at + 40])]
    assert len(one._answers) <= 50
    assert answers == Sieve(one.question, knowledge).judge(texts)


def test_a_memory_that_is_full_is_emptied_and_not_grown(knowledge):
    kept = knowledge.keep("a test's own", 3)
    kept.update({1: 1, 2: 2, 3: 3})
    assert knowledge.keep("a test's own", 3) == {}


def test_threads_that_judge_with_one_question_get_the_answers_of_one_thread(knowledge):
    from advisor import words
    from advisor.columns.batch import batch_of
    from advisor.profile import build

    judge = ManyJudge([read_ask(name, knowledge) for name in FEATURES], (), knowledge)
    profiles = []
    for text in islice(merchants(knowledge, 8), 300):
        try:
            profiles.append(build(words.describe(text, knowledge), knowledge))
        except Unclear:
            continue
    parts = [profiles[at : at + 40] for at in range(0, len(profiles), 40)]

    def answers(part) -> list[tuple[int, float]]:
        batch = batch_of(part, judge.fields())
        judge.derive(batch)
        found = judge.judge(batch)
        return list(zip(found.verdict.tolist(), found.score.expected.tolist(), strict=True))

    alone = [answers(part) for part in parts]
    with ThreadPoolExecutor(8) as pool:
        assert list(pool.map(answers, parts * 4)) == alone * 4
