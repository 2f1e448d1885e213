"""How well a cloth serves: curves, samples, scores, findings, verdicts: advisor.judge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor import check
from advisor.advise import case_of, judge, profile_of
from advisor.asks import Ask
from advisor.infer import Finding
from advisor.judge import curve_at, interpolate, judge_feature, sample, strata, verdict_of
from advisor.model import Demand, Examples, Rule, Then
from advisor.ranges import Range

CURVE = [(0.0, 0.2), (10.0, 1.0), (20.0, 0.4)]


def finding(effect, *, sure=True, kind="caution", feature="flounce"):
    rule = Rule(
        id="made-up", then=Then(kind=kind, say="x", effect=effect), why="x", examples=Examples(fires=[], quiet=[])
    )
    return Finding(rule, sure, feature, ())


def scored(knowledge, *findings, cloth="viscose challis"):
    return judge_feature(Ask("flounce", "flounce"), profile_of(cloth, knowledge), findings, knowledge)


@given(st.floats(-50, 50))
def test_a_curve_stays_between_its_lowest_and_highest_point(x):
    assert 0.2 <= interpolate(CURVE, x) <= 1


@pytest.mark.parametrize(("x", "y"), [(-5, 0.2), (0, 0.2), (5, 0.6), (10, 1), (15, 0.7), (20, 0.4), (99, 0.4)])
def test_a_curve_is_straight_between_points_and_flat_beyond(x, y):
    assert interpolate(CURVE, x) == pytest.approx(y)


@pytest.mark.parametrize(("size", "y"), [(5, 0.0), (10, 0.0), (15, 0.5), (20, 1.0), (40, 1.0)])
def test_between_two_tabled_sizes_the_curves_are_blended(size, y):
    demand = Demand(
        property="p",
        importance=1,
        why="",
        source="",
        over="size",
        curves=[(10, [(0, 0), (1, 0)]), (20, [(0, 1), (1, 1)])],
    )
    assert interpolate(curve_at(demand, {"size": size}), 0.3) == pytest.approx(y)


@pytest.mark.parametrize("count", [8, 64])
def test_the_sample_takes_every_part_of_a_range_once(count):
    points = strata("weight", count)
    assert sorted(int(p * count) for p in points) == list(range(count))
    assert strata("weight", count) != strata("drape", count), "all properties walk in step"


def test_a_certain_figure_is_one_point():
    assert sample(Range(3, 3), "weight", 64) == [3]


def test_the_same_question_gets_the_same_answer(knowledge):
    first, second = (check("viscose challis", ["flounce", "narrow rolled hem"], knowledge=knowledge) for _ in range(2))
    assert first == second


def test_low_expected_and_high_stand_in_order_for_every_feature(knowledge):
    for cloth in ("cotton poplin", "stiff"):
        for feature in knowledge.features.values():
            score = judge(case_of(cloth, [Ask(feature.id, feature.id)], knowledge), knowledge).score
            assert 0 <= score.low <= score.expected <= score.high <= 100, (cloth, feature.id)


def test_a_measured_cloth_is_scored_more_narrowly_than_a_guessed_one(knowledge):
    vague = check("fabric that drapes well", ["flounce"], knowledge=knowledge).score
    every = ", ".join(
        f"{name} {figure}" for name, figure in (("drape coefficient", "30%"), ("fray", 2), ("opacity", 4), ("slip", 2))
    )
    exact = check(f"viscose challis, measured 120 gsm, {every}", ["flounce"], knowledge=knowledge).score
    assert exact.high - exact.low < vague.high - vague.low


def test_a_sure_finding_lowers_all_three_and_a_possible_one_not_the_high(knowledge):
    plain, sure, may = scored(knowledge), scored(knowledge, finding(0.5)), scored(knowledge, finding(0.5, sure=False))
    assert sure.score.high < plain.score.high
    assert sure.score.expected == pytest.approx(plain.score.expected * 0.5, abs=0.1)
    assert may.score.high == plain.score.high
    assert sure.score.expected < may.score.expected < plain.score.expected
    assert may.score.low == pytest.approx(sure.score.low, abs=0.1)


def test_a_sure_stop_is_avoid_whatever_the_score(knowledge):
    assert scored(knowledge, finding(1.0, kind="stop")).verdict == "avoid"


def test_a_possible_stop_is_at_most_care(knowledge):
    assert scored(knowledge).verdict == "suits"
    assert scored(knowledge, finding(1.0, sure=False, kind="stop")).verdict == "care"


def test_a_finding_about_another_feature_costs_this_one_nothing(knowledge):
    assert scored(knowledge, finding(0.2, feature="gathers")).score == scored(knowledge).score


def test_one_hopeless_demand_cannot_be_bought_off(knowledge):
    """The geometric mean of Derringer and Suich, Journal of Quality Technology 12, 1980."""
    judged = scored(knowledge, cloth="measured 600 gsm, measured drape coefficient 99%, measured 2 mm thick")
    best = sum(m.expected * m.demand.importance for m in judged.met) / sum(m.demand.importance for m in judged.met)
    assert judged.score.expected < 100 * best


def test_the_verdict_follows_the_two_figures_of_the_settings(knowledge):
    settings = knowledge.settings
    assert verdict_of(settings.suits_from, settings) == "suits"
    assert verdict_of(settings.suits_from - 0.1, settings) == "care"
    assert verdict_of(settings.care_from, settings) == "care"
    assert verdict_of(settings.care_from - 0.1, settings) == "avoid"


def test_a_make_never_stands_far_above_its_worst_feature_that_cannot_be_swapped(knowledge):
    for cloth in ("cotton canvas", "silk chiffon", "wool melton", "cotton jersey"):
        judgement = judge(
            case_of(cloth, ["flounce", "knife pleats", "shirt collar", "narrow rolled hem"], knowledge), knowledge
        )
        firm = [f for f in judgement.features if not knowledge.features[f.id].swappable]
        if firm:
            assert (
                judgement.score.expected <= min(f.score.expected for f in firm) + knowledge.settings.worst_margin + 0.1
            )


def test_two_features_of_the_same_cloth_do_not_depend_on_the_order_in_which_they_are_asked(knowledge):
    one = check("viscose challis", ["flounce", "buttonholes"], knowledge=knowledge)
    two = check("viscose challis", ["buttonholes", "flounce"], knowledge=knowledge)
    assert one.score == two.score
    assert one.verdict == two.verdict


def test_the_limiting_feature_is_the_one_with_the_lowest_score(knowledge):
    answer = check("cotton canvas", ["flounce", "patch pocket"], knowledge=knowledge)
    assert answer.limited_by == min(answer.features, key=lambda f: f.score.expected).feature


def test_a_garment_made_of_parts_is_pulled_down_by_a_part_that_fails(knowledge):
    garment = next(f for f in knowledge.features.values() if f.parts)
    report = check("cotton canvas", [garment.names[0] if garment.names else garment.id], knowledge=knowledge).features[
        0
    ]
    assert {p.feature for p in report.parts} == set(garment.parts)


def test_a_cloth_that_cannot_bear_the_wash_it_is_asked_for_suits_all_the_same(knowledge):
    plain, washed = (check("cashmere coating", ["coat"], care=care, knowledge=knowledge) for care in ("", "machine wash"))
    assert (plain.verdict, washed.verdict) == ("suits", "care")
