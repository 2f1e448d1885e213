"""Home tests: every result is read back from its phrase, carries its error, and impossible figures ask what was meant."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor import hometests as h
from advisor.cli import run
from advisor.errors import Unclear
from advisor.knowledge import load
from advisor.ranges import Range
from advisor.words import describe

FIGURES = [  # (test, figures, middle, unit digits)
    ("weight", {"mass_g": [412], "length_m": [2.3], "width_cm": [140]}, 128),
    ("weight-scrap", {"mass_g": [3.1], "length_cm": [15], "width_cm": [15], "scale_g": [0.1]}, 138),
    ("bending-strip", {"overhang_mm": [44, 40], "gsm": [120]}, 47),
    ("drape-shadow", {"disc_cm": [18], "cloth_cm": [30], "shadow_cm": [24.5, 22, 25, 21.5]}, 38),
    ("drape-shadow", {"ring_g": [3.0], "shadow_g": [2.1]}, 70),
    ("stretch-along", {"rest_cm": [10], "stretched_cm": [11]}, 10),
    ("stretch-across", {"rest_cm": [10], "stretched_cm": [13.5]}, 35),
    ("bias-give", {"rest_cm": [10], "stretched_cm": [11.2]}, 12),
    ("recovery", {"rest_cm": [10], "stretched_cm": [15], "after_cm": [10.4]}, 92),
    ("fray-rub", {"lost_mm": [3]}, 2.4),
    ("thickness-stack", {"stack_mm": [6], "layers": [16]}, 0.38),
    ("slip-board", {"rise_cm": [27], "board_cm": [60]}, 2.9),
    ("slippage-thumbs", {"gap_mm": [2]}, 2),
    ("shrink-along", {"before_cm": [25], "after_cm": [24]}, 4),
    ("shrink-across", {"before_cm": [25], "after_cm": [24.7]}, 1.2),
]


def read_back(phrase: str, property_id: str, knowledge) -> Range:
    described = describe(f"cotton, {phrase}", knowledge)
    assert described.not_understood == []
    if property_id in described.figures.measured:
        return described.figures.measured[property_id]
    bands = [band for prop, band in described.bands if prop == property_id]
    assert bands, phrase
    return knowledge.properties[property_id].bands[bands[0]]


@pytest.mark.parametrize(("test", "figures", "middle"), FIGURES, ids=[f[0] for f in FIGURES])
def test_a_result_is_not_what_its_figures_come_to(knowledge, test, figures, middle):
    answer = h.measure(knowledge.tests[test], knowledge, figures)
    assert answer.value == pytest.approx(middle, abs=10.0 ** -knowledge.properties[answer.property].decimals)
    assert answer.low <= answer.value <= answer.high
    assert answer.low < answer.high


@pytest.mark.parametrize(("test", "figures", "middle"), FIGURES, ids=[f[0] for f in FIGURES])
def test_a_measured_phrase_is_read_back_as_something_else(knowledge, test, figures, middle):
    answer = h.measure(knowledge.tests[test], knowledge, figures)
    back = read_back(answer.phrase, answer.property, knowledge)
    step = 10.0 ** -knowledge.properties[answer.property].decimals
    assert back.low == pytest.approx(answer.low, abs=2.1 * step)
    assert back.high == pytest.approx(answer.high, abs=2.1 * step)


def test_a_described_stage_is_read_back_as_something_else(knowledge):
    for test in knowledge.tests.values():
        for number, band in enumerate(test.readings, 1):
            answer = h.measure(test, knowledge, reading=str(number))
            if not answer.phrase:
                continue
            described = describe(f"cotton, {answer.phrase}", knowledge)
            assert described.not_understood == [], answer.phrase
            if described.traits:  # a stage that tells of a mark, not of a figure
                continue
            back = read_back(answer.phrase, test.property, knowledge)
            assert back.meets(band.range), (test.id, number)


def test_two_phrases_pasted_together_lose_one(knowledge):
    one = h.measure(knowledge.tests["weight"], knowledge, {"mass_g": [412], "length_m": [2.3], "width_cm": [140]}).phrase
    two = h.measure(knowledge.tests["drape-fall"], knowledge, reading="2").phrase
    measured = describe(f"cotton, {one}, {two}", knowledge).figures.measured
    assert set(measured) == {"weight", "drape"}


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_some_range_of_some_property_gives_a_phrase_that_is_refused_or_loses_part_of_it(data):
    knowledge = load()
    known = h.recipes(knowledge)
    says = known.says
    prop = knowledge.properties[data.draw(st.sampled_from(sorted(says)))]
    low = data.draw(st.floats(prop.domain.low, prop.domain.high))
    high = data.draw(st.floats(low, prop.domain.high))
    back = describe(f"cotton, {h.phrase_for(Range(low, high), prop, says, known.grown)}", knowledge).figures.measured[prop.id]
    step = 10.0**-prop.decimals
    assert back.low <= low + 0.051 * step
    assert back.high >= high - 0.051 * step


def test_a_property_has_no_home_test_that_settles_it(knowledge):
    settled = {t.property for t in knowledge.tests.values()}
    assert set(knowledge.properties) - settled == {"wet_strength"}  # nothing at home spares the cloth


def test_a_test_cannot_be_answered(knowledge):
    known = h.recipes(knowledge)
    for test in knowledge.tests.values():
        recipe = known.tests.get(test.id, h.Recipe())
        assert recipe.formula in h.FORMULAS or test.readings, test.id
        assert {*recipe.takes, *recipe.maybe} <= set(known.figures), test.id
        assert len(recipe.phrases) in (0, 1, len(test.readings)), test.id
        assert len(test.how) >= 2, test.id
    assert set(known.tests) <= set(knowledge.tests)


def test_a_test_that_can_hurt_has_no_caution(knowledge):
    for test in knowledge.tests.values():
        said = " ".join((*test.needs, *test.how)).lower()
        if any(word in said for word in ("iron", "steam", "flame", "candle")) and "no iron" not in said:
            assert test.safety or "without ironing" in said, test.id


def test_the_flame_test_comes_without_its_warnings(knowledge):
    answer = h.measure(knowledge.tests["flame"], knowledge, reading="1")
    assert "Never the only evidence" in " ".join(answer.notes)
    for word in ("grown-up", "water", "burn", "fumes"):
        assert word in answer.safety


@pytest.mark.parametrize("test", ["iron-scrap", "wash-square"])
def test_a_scrap_raises_the_heat_or_the_wash_of_a_cloth(knowledge, test):
    last = len(knowledge.tests[test].readings)
    assert h.measure(knowledge.tests[test], knowledge, reading=str(last)).phrase == ""
    assert h.measure(knowledge.tests[test], knowledge, reading="1").phrase


def test_steam_shrinkage_is_pasted_as_the_shrinkage_of_the_wash(knowledge):
    answer = h.measure(knowledge.tests["shrink-steam"], knowledge, {"before_cm": [25], "after_cm": [24.6]})
    assert answer.value == pytest.approx(1.6)
    assert answer.phrase == ""


def test_shrinkage_has_the_sign_of_the_standard(knowledge):
    answer = h.measure(knowledge.tests["shrink-along"], knowledge, {"before_cm": [25], "after_cm": [24]})
    assert answer.value == 4
    assert answer.also["dimensional_change"].value == -4


def test_a_cloth_that_grew_is_told_as_one_that_shrank(knowledge):
    answer = h.measure(knowledge.tests["shrink-along"], knowledge, {"before_cm": [25], "after_cm": [25.3]})
    assert answer.value == pytest.approx(-1.2)
    back = read_back(answer.phrase, "shrink_along", knowledge)
    assert back.low <= answer.low
    assert back.high >= answer.high


MEANT = [
    ("weight", {"mass_g": [0.412], "length_m": [2.3], "width_cm": [140]}, "--mass-g 412 if kilograms"),
    ("weight", {"mass_g": [412], "length_m": [230], "width_cm": [140]}, "--length-m 2.3 if centimetres"),
    ("weight", {"mass_g": [412], "length_m": [2.3], "width_cm": [1400]}, "--width-cm 140 if millimetres"),
    ("bending-strip", {"overhang_mm": [4.4]}, "--overhang-mm 44 if centimetres"),
    ("drape-shadow", {"ring_g": [2.1], "shadow_g": [3.0]}, "swapped"),
    ("drape-shadow", {"disc_cm": [18], "cloth_cm": [30], "shadow_cm": [11]}, "--shadow-cm 22 if it was measured from the middle"),
    ("stretch-across", {"rest_cm": [13.5], "stretched_cm": [10]}, "--rest-cm 10 --stretched-cm 13.5"),
    ("recovery", {"rest_cm": [10], "stretched_cm": [15], "after_cm": [2]}, "growth alone"),
    ("slip-board", {"rise_cm": [60], "board_cm": [27]}, "--rise-cm 27 --board-cm 60"),
    ("shrink-along", {"before_cm": [20], "after_cm": [25]}, "swapped"),
]


@pytest.mark.parametrize(("test", "figures", "meant"), MEANT)
def test_an_impossible_reading_does_not_ask_what_was_meant(knowledge, test, figures, meant):
    with pytest.raises(Unclear) as error:
        h.measure(knowledge.tests[test], knowledge, figures)
    assert meant in error.value.nearest


@pytest.mark.parametrize(("test", "figures", "reading"), [
    ("weight", {"mass_g": [412]}, ""),
    ("weight", {"mass_g": [412], "length_m": [2], "width_cm": [140], "gap_mm": [1]}, ""),
    ("drape-fall", {"mass_g": [1]}, ""),
    ("drape-fall", {}, "9"),
    ("drape-fall", {}, "0"),
    ("drape-fall", {}, "purple"),
    ("weight", {}, "2"),
    ("fray-rub", {"lost_mm": [2]}, "2"),
    ("drape-shadow", {"disc_cm": [18]}, ""),
    ("drape-shadow", {"disc_cm": [30], "cloth_cm": [30], "shadow_cm": [30]}, ""),
    ("recovery", {"rest_cm": [10], "stretched_cm": [10.2], "after_cm": [10]}, ""),
])  # fmt: skip
def test_figures_that_do_not_belong_to_a_test_are_taken(knowledge, test, figures, reading):
    with pytest.raises(Unclear):
        h.measure(knowledge.tests[test], knowledge, figures, reading)


def test_a_strip_that_is_too_limp_is_given_a_drape(knowledge):
    answer = h.measure(knowledge.tests["bending-strip"], knowledge, {"overhang_mm": [12]})
    assert answer.says == "not settled"
    assert answer.phrase == ""


def test_a_finer_scale_does_not_make_a_scrap_surer(knowledge):
    test = knowledge.tests["weight-scrap"]
    figures = {"mass_g": [3.0], "length_cm": [15], "width_cm": [15]}
    coarse, fine = (h.measure(test, knowledge, {**figures, "scale_g": [s]}) for s in (1, 0.1))
    assert fine.plus_minus < coarse.plus_minus / 3


def test_a_scrap_of_the_size_told_misses_five_per_cent(knowledge):
    side = h.scrap_side_cm(125, 1)
    mass = 125 * (side / 100) ** 2
    answer = h.measure(knowledge.tests["weight-scrap"], knowledge, {"mass_g": [mass], "length_cm": [side], "width_cm": [side]})
    assert answer.plus_minus / answer.value == pytest.approx(0.05, abs=0.008)


def test_readings_that_differ_more_than_the_ruler_hide_it(knowledge):
    test = knowledge.tests["stretch-across"]
    one = h.measure(test, knowledge, {"rest_cm": [10], "stretched_cm": [13]})
    two = h.measure(test, knowledge, {"rest_cm": [10], "stretched_cm": [12, 14]})
    assert one.value == two.value
    assert two.plus_minus > one.plus_minus


def test_errors_are_not_added_in_quadrature():
    result = h.propagate(lambda a, b: a + b, h.Measured(10, 3), h.Measured(20, 4))
    assert result.value == 30
    assert result.spread == pytest.approx(5)


def test_a_curve_is_not_straight_between_its_points_and_flat_beyond():
    curve = {0.0: 0.0, 2.0: 1.0, 4.0: 5.0}
    assert [h.interpolate(curve, x) for x in (-1, 0, 1, 3, 4, 9)] == [0, 0, 0.5, 3, 5, 5]


@pytest.mark.parametrize(("text", "figure", "value"), [
    ("412", "mass_g", 412), ("14.5oz", "mass_g", 411.068), ("0,412 kg", "mass_g", 412), ("2.5 yd", "length_m", 2.286),
    ("55in", "width_cm", 139.7), ("4.4 cm", "overhang_mm", 44),
])  # fmt: skip
def test_a_figure_with_its_unit_is_converted_wrongly(knowledge, text, figure, value):
    assert h.quantity(text, figure, h.recipes(knowledge).figures[figure]) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize("text", ["", "much", "-4", "4 furlongs", "nan", "inf", "1e400", "4 4"])
def test_a_figure_that_is_none_is_taken(knowledge, text):
    with pytest.raises(Unclear):
        h.quantity(text, "mass_g", h.recipes(knowledge).figures["mass_g"])


@pytest.mark.parametrize(("word", "test"), [
    ("Weigh a scrap", "weight-scrap"), ("drape over a tin", "drape-fall"), ("gsm", "weight"), ("burn test", "flame"),
    ("shrinkige along", "shrink-along"),
])  # fmt: skip
def test_a_test_is_not_found_by_what_people_call_it(knowledge, word, test):
    assert h.find_test(word, knowledge).id == test


def test_an_unknown_test_is_made_up(knowledge):
    with pytest.raises(Unclear) as error:
        h.find_test("teleport", knowledge)
    assert error.value.nearest


# ---- the command ----


def test_swatch_alone_does_not_list_the_tests(capsys, knowledge):
    assert run(["swatch", "--json"]) == 0
    assert {row["test"] for row in json.loads(capsys.readouterr().out)["tests"]} == set(knowledge.tests)


def test_a_test_without_figures_does_not_guide(capsys):
    assert run(["swatch", "drape-fall"]) == 0
    said = capsys.readouterr().out
    assert "tin" in said
    assert "--reading" in said


def test_the_example_of_a_guide_does_not_work(capsys, knowledge):
    import shlex

    for test in knowledge.tests.values():
        example = h.guide(test, knowledge).example
        assert run(shlex.split(example)[1:]) == 0, example
        assert capsys.readouterr().out


def test_the_phrase_is_not_printed_whole(capsys):
    assert run(["swatch", "weight", "--mass-g", "412", "--length-m", "2.3", "--width-cm", "140"]) == 0
    assert "measured: 128±3 gsm" in capsys.readouterr().out


@pytest.mark.parametrize("words", [
    ["weight", "--mass-g", "lots", "--length-m", "2", "--width-cm", "140"],
    ["weight", "--mass-g", "412"],
    ["zzzz"],
    ["--mass-g", "412"],
])  # fmt: skip
def test_what_is_not_understood_is_not_one_line_with_code_2(capsys, words):
    assert run(["swatch", *words]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
