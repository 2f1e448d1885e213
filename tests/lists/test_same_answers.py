"""Columns answer as the single path does: verdict, score, limiting feature and first caution."""

from __future__ import annotations

import copy
import random
from itertools import islice

import pytest

from advisor import words
from advisor.advise import Case, judge
from advisor.asks import Ask
from advisor.errors import Unclear
from advisor.infer import inference_for
from advisor.picking import row_of
from advisor.profile import Profile, build

pytest.importorskip("numpy", reason="the extra 'lists' is not installed")

from merchants import merchants

from advisor.columns.batch import batch_of
from advisor.columns.curves import Curve
from advisor.columns.judging import VERDICTS, ManyJudge
from advisor.judge import along

QUESTIONS, CLOTHS = 40, 24
QUESTIONS_FULL = 1_500


def profiles(knowledge, count: int, seed: int) -> list[Profile]:
    """Cloths as merchants describe them, and those of the rules' own examples, which sit on the thresholds."""
    dice = random.Random(seed)
    examples = [t.partition("|")[0] for rule in knowledge.rules.values() for t in (*rule.examples.fires, *rule.examples.quiet)]
    found = []
    for text in (*dice.sample(examples, count), *islice(merchants(knowledge, seed), count)):
        try:
            found.append(build(words.describe(text, knowledge), knowledge))
        except Unclear:
            continue
    return found


def asked(dice: random.Random, knowledge, place: int) -> tuple[tuple[Ask, ...], tuple[str, ...]]:
    """Features at random with figures and places of their own, and circumstances; sometimes only circumstances."""
    names, places = list(knowledge.features), list(knowledge.places)
    asks = []
    for name in dice.sample(names, dice.choice((1, 1, 2, 3, 6)) if place % 8 else 0):
        figures = {
            figure: dice.uniform(*of.possible)
            for figure, of in knowledge.features[name].figures.items()
            if dice.random() < 0.5
        }
        asks.append(Ask(name, name, figures, tuple(dice.sample(places, dice.choice((0, 0, 1))))))
    context = tuple(dice.sample(list(knowledge.context), dice.choice((0, 0, 1, 2, 4))))
    if not asks and not any(knowledge.context[c].demands for c in context):
        context = (*context, next(c for c in knowledge.context if knowledge.context[c].demands and c not in context))
    return tuple(asks), context


def test_columns_and_the_single_path_answer_alike(knowledge, full):
    dice = random.Random("columns")
    pool = profiles(knowledge, 2_000 if full else 150, 7)
    inference, tried, verdicts, watched = inference_for(knowledge), 0, set(), 0
    for place in range(QUESTIONS_FULL if full else QUESTIONS):
        asks, context = asked(dice, knowledge, place)
        cloths = dice.sample(pool, CLOTHS)
        many = ManyJudge(asks, context, knowledge)
        batch = batch_of(cloths, many.fields())
        many.derive(batch)
        answers = many.judge(batch)
        for at, cloth in enumerate(cloths):
            alone = copy.deepcopy(cloth)
            inference.derive(alone)
            judgement = judge(Case(alone, asks, context), knowledge)
            row = row_of("", judgement, [], knowledge)
            told = (cloth.described.given, [a.given for a in asks], context)
            assert VERDICTS[answers.verdict[at]] == judgement.verdict, told
            for which in ("low", "expected", "high"):
                found, wanted = getattr(answers.score, which)[at], getattr(judgement.score, which)
                assert abs(found - wanted) <= 1e-9, (told, which, found, wanted)
            assert many.limits[answers.limited_by[at]] == row.limited_by, told
            rule, sure = many.watches[answers.watch[at]] if answers.watch[at] >= 0 else (None, False)
            assert (rule.id if rule else None) == row.watch, told
            if rule:
                said = [f for f in judgement.findings if f.rule.id == rule.id]
                assert any(f.sure for f in said) == sure, told
            tried, watched = tried + 1, watched + bool(rule)
            verdicts.add(judgement.verdict)
    assert tried >= (QUESTIONS_FULL if full else QUESTIONS) * CLOTHS
    assert verdicts == set(VERDICTS)
    assert watched > tried / 10


def test_a_batch_judged_in_one_piece_or_in_many_is_the_same(knowledge, monkeypatch):
    import advisor.columns.judging as judging

    cloths = profiles(knowledge, 120, 3)
    many = ManyJudge((Ask("a", next(iter(knowledge.features))),), (), knowledge)
    batch = batch_of(cloths, many.fields())
    many.derive(batch)
    whole = many.judge(batch)
    monkeypatch.setattr(judging, "SLICE", 7)
    pieces = many.judge(batch)
    assert whole.verdict.tolist() == pieces.verdict.tolist()
    assert whole.score.expected.tolist() == pieces.score.expected.tolist()


@pytest.mark.parametrize(
    "curve",
    [
        [(0, 1), (2, 1), (5, 0.2)],
        [(0, 0.2), (1, 0.2), (2, 0.9), (3, 0.9), (4, 0.9), (6, 0)],
        [(1, 0.5)],
        [(0, 0.1), (2, 0.3), (2, 0.8), (4, 0.8)],
        [(0, 0.0), (1, 1.0), (2, 0.0)],
    ],
    ids=["falls", "plateaus", "one point", "a jump", "a peak"],
)
def test_a_curve_on_columns_is_the_curve_of_the_single_path(curve):
    import numpy as np

    dice = random.Random("curves")
    floor, points = 0.03, np.array([(i + 0.5) / 16 for i in range(16)])
    ends = [(low, low + dice.choice((0, 0.001, 1, 3, 9))) for low in (*range(-1, 8), *(dice.uniform(-1, 7) for _ in range(60)))]
    low, high = (np.array(column, dtype=float) for column in zip(*ends, strict=True))
    met = Curve(curve, floor).met(low, high, points)
    varying = {int(row): met.points[at] for at, row in enumerate(met.varying)}
    for row, (first, last) in enumerate(ends):
        wanted = [max(v, floor) for v in along(curve, [first + (last - first) * u for u in points])]
        found = np.exp(varying[row]) if row in varying else np.full(16, np.exp(met.level[row]))
        assert np.allclose(found, wanted, rtol=0, atol=1e-12), (first, last)
