"""The make file: advisor.makes."""

from __future__ import annotations

import pytest

from advisor import Unclear, pick
from advisor.makes import asks_of, context_of, parse_make, read_make


def shipped(knowledge):
    return sorted((knowledge.folders[0] / "makes").glob("*.yaml"))


def test_the_shipped_makes_are_there_and_say_that_they_are_invented(knowledge):
    found = [read_make(path) for path in shipped(knowledge)]
    assert len(found) >= 2
    assert all(make.invented and "invented" in make.make for make in found)


def test_every_feature_and_circumstance_of_the_shipped_makes_is_understood_as_written(knowledge):
    for path in shipped(knowledge):
        make = read_make(path)
        asks = asks_of(make, knowledge)
        assert len(asks) == len(make.features)
        assert not any(ask.notes for ask in asks), path.name
        assert context_of(make, knowledge)


def test_a_shipped_make_can_be_judged(knowledge):
    for path in shipped(knowledge):
        answer = pick(read_make(path), ["viscose challis", "wool flannel", "cotton canvas"], knowledge=knowledge)
        assert len(answer.ranking) == 3
        assert answer.not_read == []


def test_figures_and_places_of_a_make_are_those_of_its_features(knowledge):
    make = parse_make(
        "make: x\nfeatures:\n  - flounce: {depth_mm: 120, at: cuff}\n  - covered buttons: {diameter_mm: 22, count: 4}\n"
    )
    flounce, buttons = asks_of(make, knowledge)
    assert (flounce.feature, flounce.figures, flounce.places) == ("flounce", {"depth_mm": 120}, ("cuff",))
    assert buttons.figures == {"diameter_mm": 22, "count": 4}


@pytest.mark.parametrize(("text", "given", "nearest"), [
    ("make: x\nfeatures: [flounce]\nseasn: summer\n", "seasn", "season"),
    ("make: x\nfeatures: [flounce]\nfeatures: [hem]\n", "twice", ""),
    ("make: x\n", "features", ""),
    ("make: x\nfeatures: flounce\n", "features", ""),
    ("make: x\nfeatures: [flounce]\ncloth_needed: [{length_m: -1, width_cm: 140}]\n", "length_m", ""),
    ("make: x\nfeatures: [flounce\n", "make file", ""),
    ("just words", "make file", ""),
])  # fmt: skip
def test_a_make_that_is_wrong_is_refused_in_one_line_with_the_field(text, given, nearest):
    with pytest.raises(Unclear) as caught:
        parse_make(text)
    assert given in caught.value.line()
    assert "\n" not in caught.value.line()
    if nearest:
        assert caught.value.nearest == nearest


def test_an_unknown_field_deeper_down_is_named(knowledge):
    with pytest.raises(Unclear, match="wovn_or_knit"):
        parse_make("make: x\nfeatures: [flounce]\nenvelope: {wovn_or_knit: woven}\n")


@pytest.mark.parametrize(("detail", "nearest"), [("{dpth_mm: 120}", "depth_mm"), ("{depth_mm: deep}", "depth_mm")])
def test_an_unknown_figure_of_a_feature_is_named_with_the_nearest(knowledge, detail, nearest):
    with pytest.raises(Unclear) as caught:
        asks_of(parse_make(f"make: x\nfeatures:\n  - flounce: {detail}\n"), knowledge)
    assert caught.value.nearest == nearest


def test_an_unknown_feature_or_season_of_a_make_is_refused(knowledge):
    with pytest.raises(Unclear, match="frobnicated"):
        asks_of(parse_make("make: x\nfeatures: [frobnicated doom]\n"), knowledge)
    with pytest.raises(Unclear, match="season"):
        context_of(parse_make("make: x\nfeatures: [flounce]\nseason: monsoonish\n"), knowledge)


def test_a_figure_that_a_feature_cannot_have_is_refused_in_a_make_as_on_the_command_line(knowledge):
    with pytest.raises(Unclear):
        asks_of(parse_make("make: x\nfeatures:\n  - flounce: {depth_mm: 90000}\n"), knowledge)


def test_a_file_that_is_not_there_is_one_clear_line(tmp_path):
    with pytest.raises(Unclear, match="make file"):
        read_make(tmp_path / "none.yaml")


def test_bytes_that_are_not_utf_8_are_one_clear_line(tmp_path):
    path = tmp_path / "make.yaml"
    path.write_bytes(b"make: caf\xe9")
    with pytest.raises(Unclear, match="make file"):
        read_make(path)
