"""Ideas, comparisons and shopping briefs, and the commands that show them."""

from __future__ import annotations

import json

import pytest

from advisor import check
from advisor.cli import run
from advisor.decide.compare import compare_for
from advisor.decide.ideas import ideas_for
from advisor.decide.shop import good_range, shop_for, wishes
from advisor.errors import Unclear
from advisor.makes import parse_make, read_make
from advisor.ranges import Range

PULLING = "make: two minds\nfeatures: [flounce, stand-away shape]\n"


@pytest.fixture(scope="module")
def ideas(knowledge):
    return ideas_for("cotton canvas", knowledge)


@pytest.fixture(scope="module")
def brief(knowledge, root):
    return shop_for(read_make(root / "knowledge/makes/summer-wrap-blouse.yaml"), knowledge)


def test_a_feature_is_missing_from_the_ideas_or_a_garment_stands_among_the_details(knowledge, ideas):
    whole = {f.id for f in knowledge.features.values() if f.parts}
    assert {r.feature for r in ideas.garments} == whole
    assert {r.feature for r in ideas.details} == set(knowledge.features) - whole


def test_an_idea_is_scored_otherwise_than_the_check(knowledge, ideas):
    for row in [*ideas.garments[:3], *ideas.garments[-3:], *ideas.details[:3], *ideas.details[-3:]]:
        feature = knowledge.features[row.feature]
        answer = check("cotton canvas", [(feature.names or [row.feature])[0]], knowledge=knowledge)
        if answer.features[0].feature == row.feature:
            assert (row.verdict, row.score) == (answer.verdict, answer.score), row.feature


def test_ideas_are_not_ranked_or_what_fails_is_not_said_to_be_a_waste(ideas):
    for rows in (ideas.garments, ideas.details):
        ranks = [(("suits", "care", "avoid").index(r.verdict), -r.score.expected) for r in rows]
        assert ranks == sorted(ranks)
    assert ideas.waste
    assert all(r.verdict == "avoid" for r in ideas.waste)
    assert all(r.limited_by or r.why for r in ideas.waste)


def test_a_difference_that_the_hand_feels_and_the_make_asks_for_does_not_come_first(knowledge):
    answer = compare_for(["viscose challis", "cotton poplin", "cotton canvas"], ["flounce"], knowledge)
    first = answer.differences[0]
    assert first.matters
    assert all(d.apart >= 1 for d in answer.differences)
    assert all(d.apart < 1 for d in answer.alike)
    assert len(answer.differences) + len(answer.alike) == len(knowledge.properties)
    assert answer.best == "viscose challis"
    assert {c.given: c.score.expected for c in answer.cloths} == {
        cloth: check(cloth, ["flounce"], knowledge=knowledge).score.expected
        for cloth in ("viscose challis", "cotton poplin", "cotton canvas")
    }


def test_a_cloth_differs_from_itself(knowledge):
    assert compare_for(["linen", "linen"], ["flounce"], knowledge).differences == []


def test_one_cloth_is_compared(knowledge):
    with pytest.raises(Unclear):
        compare_for(["linen"], ["flounce"], knowledge)


@pytest.mark.parametrize(
    ("curve", "low", "high"),
    [
        ([(0, 0), (10, 1), (20, 0)], 8, 12),
        ([(0, 1), (10, 0.6)], 0, 5),
        ([(5, 0.6), (10, 1)], 7.5, 100),
        ([(0, 1), (100, 1)], 0, 100),
        ([(0, 0.2), (10, 0.6), (20, 0.2)], 10, 10),
    ],
)
def test_the_wanted_range_is_not_where_the_curve_is_good(curve, low, high):
    assert good_range(curve, Range(0, 100)) == pytest.approx((low, high), abs=1e-6)


def test_a_brief_wants_what_a_feature_does_not(knowledge, root, brief):
    asked = wishes(read_make(root / "knowledge/makes/summer-wrap-blouse.yaml"), knowledge)
    for row in brief.wanted:
        domain = knowledge.properties[row.property].domain
        low, high = row.low if row.low is not None else domain.low, row.high if row.high is not None else domain.high
        step = 0.6 * 10 ** -knowledge.properties[row.property].decimals
        for wish in asked[row.property]:
            if wish.feature in row.features and not row.pulls:
                assert wish.range.low - step <= low <= high <= wish.range.high + step, (row.property, wish.feature)


def test_a_brief_lacks_fibres_lengths_tests_or_cloths(brief):
    assert brief.prefer
    assert brief.leave
    assert len(brief.metres) == 2
    assert "140 cm" in brief.metres[0]
    assert brief.feel
    assert all(test.minutes <= 2 for test in brief.feel)
    assert brief.cloths[0].verdict == "suits"
    assert not {f.fibre for f in brief.prefer} & {f.fibre for f in brief.leave}


def test_two_features_that_pull_apart_are_said_to_agree(knowledge):
    brief = shop_for(parse_make(PULLING), knowledge)
    pulled = [row for row in brief.wanted if row.pulls]
    assert pulled
    assert all(row.resolve for row in pulled)


@pytest.mark.parametrize(
    ("command", "keys"),
    [
        (["check", "cotton canvas", "--for", "flounce", "--if", "weight 140", "--why"], {"next_test", "remedies", "what_if", "why"}),
        (["ideas", "viscose challis"], {"garments", "details", "waste"}),
        (["compare", "linen", "wool flannel", "--for", "knife pleats"], {"cloths", "differences", "alike"}),
        (["pick", "knowledge/makes/summer-wrap-blouse.yaml", "--shop"], {"wanted", "prefer", "leave", "metres", "feel", "cloths"}),
        (["pick", "knowledge/makes/summer-wrap-blouse.yaml", "--cloth", "lawn", "--if", "weight 70"], {"ranking", "what_if"}),
    ],
)  # fmt: skip
def test_a_command_prints_wide_lines_or_json_without_its_keys(command, keys, capsys, monkeypatch, root):
    monkeypatch.chdir(root)
    monkeypatch.setenv("COLUMNS", "80")
    assert run([*command, "--json"]) == 0
    assert keys <= set(json.loads(capsys.readouterr().out))
    assert run(command) == 0
    out = capsys.readouterr().out
    assert "\x1b" not in out
    if command[0] != "pick" or "--shop" in command:
        assert max(map(len, out.splitlines())) <= 80


@pytest.mark.parametrize(
    "command",
    [["ideas", "xyzzy"], ["compare", "linen", "--for", "flounce"], ["compare", "linen", "wool"], ["check", "linen", "--for", "flounce", "--if", "xyzzy"]],
)  # fmt: skip
def test_a_command_that_cannot_be_understood_says_more_than_one_line(command, capsys):
    assert run(command) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
