"""From a maker's words to features, places and circumstances: advisor.asks."""

from __future__ import annotations

import pytest

from advisor.advise import check
from advisor.asks import read_ask, read_asks, read_context, wash_wanted
from advisor.errors import Unclear
from advisor.words_form import phrase


def test_every_name_of_every_feature_is_found(knowledge):
    lost = []
    for feature in knowledge.features.values():
        for name in feature.names:
            try:
                found = read_ask(name, knowledge).feature
            except Unclear as error:
                found = str(error)
            if found != feature.id and found not in knowledge.feature_words.get(phrase(name), ()):
                lost.append(f"{name} ({feature.id}) read as {found}")
    assert lost == []


@pytest.mark.parametrize(("said", "feature", "figures"), [
    ("flounce 25 cm deep", "flounce", {"depth_mm": 250}),
    ("25 cm deep flounce", "flounce", {"depth_mm": 250}),
    ("flounce 10 in deep", "flounce", {"depth_mm": 254}),
    ("coat 4 ft long", "coat", {"length_cm": 121.92}),
    ("coat 1 1/4 yards long", "coat", {"length_cm": 114.3}),
    ("covered buttons 12 mm", "covered-buttons", {"diameter_mm": 12}),
    ("9 covered buttons, 12 mm", "covered-buttons", {"diameter_mm": 12, "count": 9}),
    ("covered buttons 24 L", "covered-buttons", {"diameter_mm": 15.24}),
    ("covered buttons 1/2 in", "covered-buttons", {"diameter_mm": 12.7}),
    ("covered buttons ½ inch", "covered-buttons", {"diameter_mm": 12.7}),
    ("flounce 1 1/2 in deep", "flounce", {"depth_mm": 38.1}),
    ("flounce 1½ in deep", "flounce", {"depth_mm": 38.1}),
    ("gathers 2.5 times", "gathers", {"fullness": 2.5}),
    ("gathers 3:1", "gathers", {"fullness": 3}),
])  # fmt: skip
def test_figures_are_read_in_the_unit_of_the_feature(knowledge, said, feature, figures):
    ask = read_ask(said, knowledge)
    assert ask.feature == feature
    assert ask.figures == pytest.approx(figures)


def test_a_place_is_taken_off_the_end(knowledge):
    ask = read_ask("French seam at the armhole", knowledge)
    assert (ask.feature, ask.places) == ("french-seam", ("armhole",))


def test_a_slip_of_spelling_is_mended_and_said(knowledge):
    ask = read_ask("flounse", knowledge)
    assert ask.feature == "flounce"
    assert ask.notes


def test_an_unknown_feature_is_refused_with_the_nearest(knowledge):
    with pytest.raises(Unclear) as caught:
        read_ask("frobnicated edge of doom", knowledge)
    assert caught.value.nearest in knowledge.feature_words


@pytest.mark.parametrize("said", ["", "  ", "flounce -3 cm", "flounce 900 cm deep", "covered buttons 2 mm"])
def test_an_empty_negative_or_impossible_feature_is_refused(knowledge, said):
    with pytest.raises(Unclear):
        read_ask(said, knowledge)


def test_a_figure_that_a_feature_does_not_take_is_said_and_not_used(knowledge):
    ask = read_ask("12 zips", knowledge)
    assert "count" not in ask.figures
    assert any("not used" in note for note in ask.notes)


@pytest.mark.parametrize(("kind", "said", "wanted"), [
    ("season", "summer", "summer"), ("wearer", "child", "child"), ("care", "40 machine wash, line dry", "machine-wash"),
    ("care", "dry clean only", "dry-clean-care"), ("use", "for work", "work"), ("care", "40 °C wash", "machine-wash"),
])  # fmt: skip
def test_circumstances_are_read(knowledge, kind, said, wanted):
    assert wanted in read_context([(kind, said)], knowledge)


def test_an_unknown_circumstance_is_refused_with_what_there_is(knowledge):
    with pytest.raises(Unclear, match="summer"):
        read_context([("season", "monsoonish")], knowledge)


@pytest.mark.parametrize(("said", "celsius"), [
    ("40 wash, line dry", 40), ("60 °C", 60), ("104 F", 40), ("140°F wash", 60), ("dry clean", None), ("hand wash", None),
])  # fmt: skip
def test_the_heat_of_the_wash_wanted_is_read_in_celsius(said, celsius):
    assert wash_wanted(said) == celsius


@pytest.mark.parametrize(
    ("said", "feature", "context"),
    [("child's nightdress", "nightdress", ("child",)), ("nightdress", "nightdress", ()), ("boys pyjamas", "pyjamas", ("child",))],
)
def test_the_wearer_named_with_a_garment_is_lost(knowledge, said: str, feature: str, context: tuple[str, ...]) -> None:
    ask = read_ask(said, knowledge)
    assert (ask.feature, ask.context) == (feature, context)


def test_a_childs_cotton_nightdress_is_praised_without_the_rules_on_fire(knowledge) -> None:
    grown, child = (check("cotton flannel", [f"{who}nightdress"], knowledge=knowledge) for who in ("", "child's "))
    assert child.score.expected < grown.score.expected - 30
    assert any("close-fitting" in f.do for f in child.findings)


@pytest.mark.parametrize(
    ("said", "features"),
    [
        ("short sleeved jacket", ["soft-jacket"]),
        ("short jacket", ["bolero"]),
        ("tight-fitting dress", ["sheath-dress"]),
        ("1950s dress", ["dress"]),
        ("wrap dress hem", ["turned-hem"]),
        ("structured shift dress", ["shift-dress", "stand-away-shape"]),
        ("pencil skirt with a flounce", ["pencil-skirt", "flounce"]),
        ("wrap dress meant for knits", ["tea-dress", "cut-for-knits"]),
        ("placket without interfacing", ["button-placket"]),
        ("jeans with no pockets", ["jeans"]),
    ],
)
def test_a_garment_is_read_with_the_details_said_with_it(knowledge, said: str, features: list[str]) -> None:
    asks = read_asks(said, knowledge)
    assert [ask.feature for ask in asks] == features
    assert not any(ask.figures for ask in asks)


def test_a_word_that_names_nothing_is_told(knowledge) -> None:
    first, *_ = read_asks("gribbled skirt", knowledge)
    assert first.unread == ("gribbled",)
    assert "not used: gribbled" in first.notes


@pytest.mark.parametrize(("said", "features"), [
    ("flounce and 9 covered buttons", ["flounce", "covered-buttons"]), ("gathers, a zip & patch pockets", ["gathers", "zip", "patch-pocket"]),
    ("jeans and hat", ["jeans", "hat"]), ("hook and loop tape", ["hook-and-loop-tape"]), ("fit and flare dress", ["fit-and-flare-dress"]),
])  # fmt: skip
def test_one_of_several_features_said_together_is_passed_over(knowledge, said, features):
    from advisor.asks import read_asks

    assert [ask.feature for ask in read_asks(said, knowledge)] == features
