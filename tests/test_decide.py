"""What a judged case leads to: the next best test, remedies, what-ifs, and the whole reasoning: advisor.decide."""

from __future__ import annotations

import os
import random

import pytest

from advisor import check
from advisor.advise import Case, case_of, judge, profile_of
from advisor.asks import Ask
from advisor.cli.why import drawn
from advisor.decide.changes import with_known
from advisor.decide.narrowing import Narrowing
from advisor.decide.remedies import altered, find
from advisor.decide.testing import LEAST, SETTING_OUT, VERDICT_WORTH, best, outcomes
from advisor.errors import Unclear
from advisor.model import Demand, Figure, Remedy, RemedyCost
from advisor.owned import Owned, read_owned
from advisor.ranges import Range
from advisor.report import Span

MANY = int(os.environ.get("ADVISOR_UNCERTAIN_CLOTHS", "30"))
"""How many random cloths the brute-force test tries; 500 in the full run."""


def uncertain_case(knowledge, rng):
    """A random cloth whose ranges are stretched at random, with one to three random features."""
    cloth = rng.choice([c for c in knowledge.cloths.values() if c.names])
    profile = profile_of(cloth.names[0], knowledge)
    wider = {}
    for prop, known in profile.known.items():
        domain, more = knowledge.properties[prop].domain, rng.choice([0, 0, 0.5, 1.5]) * knowledge.properties[prop].per_unit
        wider[prop] = Range(known.range.low - more * rng.random(), known.range.high + more * rng.random()).clamp(domain)
    features = rng.sample(list(knowledge.features), rng.randint(1, 3))
    context = rng.sample(list(knowledge.context), rng.randint(0, 1))
    return Case(with_known(profile, wider, knowledge), tuple(Ask(f, f) for f in features), tuple(context))


def worth_by_hand(test, judgement, knowledge):
    """The worth of one test by its definition: the whole case judged again for each outcome."""
    case, width, total = judgement.case, judgement.score.high - judgement.score.low, 0.0
    ranges = list(outcomes(case.profile.known[test.property].range, test.spread))
    for value in ranges:
        again = judge(Case(with_known(case.profile, {test.property: value}, knowledge), case.asks, case.context), knowledge)
        total += width - (again.score.high - again.score.low)
        total += VERDICT_WORTH if again.verdict != judgement.verdict else 0
    return total / len(ranges)


def test_no_other_single_test_settles_more_for_its_minutes(knowledge):
    rng = random.Random(20)
    for number in range(MANY):
        judgement = judge(uncertain_case(knowledge, rng), knowledge)
        found = best(judgement, knowledge)
        rate = found.rate if found else 0.0
        for test in knowledge.tests.values():
            if test.property not in Narrowing(judgement, knowledge).properties():
                continue
            value = worth_by_hand(test, judgement, knowledge)
            if found and test.id == found.test.id:
                assert value == pytest.approx(found.value, abs=0.15), (number, test.id)
            assert value < LEAST + 0.15 or value / (test.minutes + SETTING_OUT) <= rate + 0.05, (number, test.id, found)


@pytest.mark.parametrize("asked", [["flounce", "covered buttons"], ["tailored jacket"], ["circle skirt", "French seam"]])
def test_judging_with_one_property_narrowed_differs_from_judging_anew(knowledge, asked):
    judgement = judge(case_of("silk or viscose, soft", asked, knowledge, ["summer"]), knowledge)
    narrowing = Narrowing(judgement, knowledge)
    for prop in narrowing.properties():
        known = judgement.case.profile.known[prop].range
        for value in outcomes(known, known.width / 9):
            case = Case(with_known(judgement.case.profile, {prop: value}, knowledge), judgement.case.asks, judgement.case.context)
            again = judge(case, knowledge)
            score, verdict = narrowing.at(prop, value)
            assert verdict == again.verdict, prop
            assert (score.low, score.expected, score.high) == pytest.approx(
                (again.score.low, again.score.expected, again.score.high), abs=0.11
            ), prop


def test_a_stop_about_the_cloth_itself_is_forgotten_where_a_property_is_narrowed(knowledge):
    judgement = judge(case_of("cotton, sequinned", ["nightdress", "flounce"], knowledge, ["baby"]), knowledge)
    assert judgement.verdict == "avoid"
    narrowing = Narrowing(judgement, knowledge)
    assert narrowing.at("breath", Range(4, 4))[1] == "avoid"
    general = [r for r in knowledge.rules.values() if r.then.kind == "stop" and not r.features]
    assert not [c.field for r in general for conj in r.conjunctions for c in conj if c.field.startswith("property.")]


def test_a_cloth_of_which_everything_is_known_still_gets_a_test(knowledge):
    case = case_of("cotton poplin", ["flounce"], knowledge)
    sure = {p: Range(k.range.mid, k.range.mid) for p, k in case.profile.known.items()}
    judgement = judge(Case(with_known(case.profile, sure, knowledge), case.asks), knowledge)
    assert best(judgement, knowledge) is None


def test_the_next_test_and_remedies_are_missing_from_the_answer_that_is_shown(knowledge):
    answer = check("cotton canvas", ["flounce"], deciding=True, knowledge=knowledge)
    assert answer.next_test
    assert answer.next_test.test in knowledge.tests
    assert set(answer.next_test.could_become) <= {"suits", "care", "avoid"}
    assert answer.remedies
    for remedy in answer.remedies:
        better = ("avoid", "care", "suits").index(remedy.verdict_after) > ("avoid", "care", "suits").index(answer.verdict)
        assert better or remedy.score_after.expected > answer.score.expected


def test_a_feature_that_suits_is_given_remedies(knowledge):
    answer = check("viscose challis", ["flounce"], deciding=True, knowledge=knowledge)
    assert answer.verdict == "suits"
    assert answer.remedies == []


def test_two_remedies_are_offered_together_where_one_alone_does_not_do(knowledge):
    tried = find(judge(case_of("silk chiffon", ["tailored jacket"], knowledge), knowledge), knowledge)
    alone = [t for t in tried if len(t.remedies) == 1]
    pairs = [t for t in tried if len(t.remedies) == 2]
    assert pairs
    assert max(p.score.expected for p in pairs) > max(t.score.expected for t in alone)


def stops(knowledge):
    """Every rule that stops, with its first example, judged on the features it is about."""
    from advisor.trying import CONTEXT

    for rule in knowledge.rules.values():
        if rule.then.kind != "stop" or not rule.features:
            continue
        for example in rule.examples.fires:
            text, _, more = example.partition("|")
            items = [item.strip().partition(" ") for item in more.split(",") if item.strip()]
            context = [value for kind, _, value in items if kind in CONTEXT]
            for feature in rule.features:
                yield rule, case_of(text, [Ask(feature, feature)], knowledge, context)


def test_a_remedy_hides_a_sure_stop(knowledge):
    tried = 0
    for rule, case in stops(knowledge):
        judgement = judge(case, knowledge)
        if not any(f.rule.id == rule.id and f.sure and f.feature for f in judgement.findings):
            continue
        tried += 1
        for found in find(judgement, knowledge):
            assert all(r.swap and case.asks[0].feature in r.features for r in found.remedies), (rule.id, found)
    assert tried


def remedy(**given):
    return Remedy(id="made-up", do="x", cost=RemedyCost(minutes=1), **given)


def test_a_lift_makes_good_what_is_not_missing(knowledge):
    demand = Demand(property="drape", importance=2, why="", source="", curve=[(0, 0.2), (50, 1), (100, 0.4)])
    for where, ys in (({}, [0.6, 1, 0.7]), ({"drape": "low"}, [0.6, 1, 0.4]), ({"drape": "high"}, [0.2, 1, 0.7])):
        lifted = altered(demand, [remedy(lifts={"drape": 0.5}, where=where)])
        assert [y for _, y in lifted.curve] == pytest.approx(ys)
    assert altered(demand, [remedy(eases={"drape": 0.5})]).importance == 1


def test_a_remedy_that_stiffens_helps_cloth_that_is_too_stiff():
    demand = Demand(property="drape", importance=2, why="", source="", curve=[(0, 0.2), (50, 1), (100, 0.4)])
    stiffens = remedy(lifts={"drape": 0.5})
    stiffens.effect.adds["drape"] = Figure(5, 10, "common practice")
    assert [y for _, y in altered(demand, [stiffens]).curve] == pytest.approx([0.6, 1, 0.4])


@pytest.mark.parametrize(
    ("supposed", "read_as"),
    [
        ("weight 140", "weight 140 g/m²"), ("weight 140 to 150", "weight 140 to 150 g/m²"), ("thickness 0.3", "thickness 0.3 mm"),
        ("swap covered buttons: shank buttons", "covered buttons swapped for shank buttons"),
        ("swap covered buttons for shank buttons", "covered buttons swapped for shank buttons"), ("crisp", "crisp"),
    ],
)  # fmt: skip
def test_a_what_if_is_read_as_something_else(knowledge, supposed, read_as):
    answer = check("viscose challis", ["covered buttons"], what_if=[supposed], knowledge=knowledge)
    assert answer.what_if.read_as == [read_as]


def test_a_figure_supposed_is_not_the_figure_judged(knowledge):
    answer = check("viscose challis, 95 gsm", ["flounce"], what_if=["weight 180"], knowledge=knowledge)
    assert (answer.cloth.properties["weight"].low, answer.cloth.properties["weight"].high) == (180, 180)
    assert answer.what_if.score_before == check("viscose challis, 95 gsm", ["flounce"], knowledge=knowledge).score


def test_a_remedy_supposed_gives_another_answer_than_the_remedy_offered(knowledge):
    offered = check("silk chiffon", ["tailored jacket"], deciding=True, knowledge=knowledge).remedies
    for one in [r for r in offered if " + " not in r.id][:4]:
        supposed = check("silk chiffon", ["tailored jacket"], what_if=[one.name], knowledge=knowledge)
        assert (supposed.verdict, supposed.score) == (one.verdict_after, one.score_after), one.id


def test_underlined_is_not_understood_as_the_remedy(knowledge):
    answer = check("silk chiffon", ["tailored jacket"], what_if=["underlined"], knowledge=knowledge)
    assert answer.score.expected > answer.what_if.score_before.expected


@pytest.mark.parametrize(
    "wrong",
    ["", "frobnicated", "weight 99999", "weight 200-100", "swap zip: shank buttons", "swap covered buttons: xyzzy"],
)
def test_a_what_if_that_means_nothing_is_taken(knowledge, wrong):
    with pytest.raises(Unclear):
        check("viscose challis", ["covered buttons"], what_if=[wrong], knowledge=knowledge)


def test_a_rule_said_to_nearly_fire_does_fire_or_lacks_more_than_one_condition(knowledge):
    answer = check("cotton canvas", ["flounce"], why=True, knowledge=knowledge)
    fired = {f.id for f in answer.findings}
    assert answer.why.nearly
    assert not fired & {line.rule for line in answer.why.nearly}
    assert {c.property for c in answer.why.curves} == {d.property for f in answer.features for d in f.demands}


def test_a_drawn_curve_is_wider_than_a_narrow_terminal_or_marks_the_wrong_place():
    height, mark, ends = drawn([(0.0, 0.0), (50.0, 1.0), (100.0, 0.0)], Span(45, 55))
    assert len(height) == 48
    assert max(len(mark), len(ends)) <= 60
    assert set(height[mark.index("└") : mark.index("┘") + 1]) <= set("▇█")
    assert height[0] in " ▁▂"


def test_tools_owned_are_asked_for_again(tmp_path):
    path = tmp_path / "settings.toml"
    path.write_text('tools = ["overlocker", "walking foot"]\nunits = "imperial"\n', encoding="utf-8")
    owned = read_owned(path)
    assert owned.units == "imperial"
    assert owned.missing(["overlocker or zigzag", "walking foot", "mallet"]) == ["mallet"]
    assert read_owned(tmp_path / "none.toml") == Owned()


@pytest.mark.parametrize("text", ["tools = 3", "tools = [1]", 'units = "cubits"', "unit = 1", "tools = ["])
def test_settings_that_mean_nothing_are_taken(tmp_path, text):
    path = tmp_path / "settings.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Unclear):
        read_owned(path)


def test_a_tool_that_is_not_owned_is_not_said(knowledge, monkeypatch, tmp_path):
    from advisor.decide.remedies import remedies_report

    judgement = judge(case_of("wool melton", ["narrow rolled hem"], knowledge), knowledge)
    told = remedies_report(judgement, Owned(), knowledge)
    needing = [r for r in told if r.tools]
    assert needing
    assert all("with " in r.do for r in needing)
    every = Owned(tuple(tool for r in needing for tool in r.tools))
    assert all(not r.missing for r in remedies_report(judgement, every, knowledge))
