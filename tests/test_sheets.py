"""Layers, makes and the course of shrinkage on the pressing and pre-wash sheets."""

from __future__ import annotations

import pytest

from advisor import advise
from advisor.errors import Unclear
from advisor.layers import read_layer
from advisor.makes import parse_make
from advisor.sheet_keys import problem_of


def kinds(answer, role):
    return {c.kind for c in answer.conflicts if role in c.between}


def test_a_layer_that_melts_under_the_fusing_heat_is_found_before_it_is_bought(knowledge):
    found = advise.prewash("acetate satin", layers={"interfacing": "fusible woven interfacing"}, knowledge=knowledge)
    assert "fusing" in kinds(found, "interfacing")
    calm = advise.prewash("cotton poplin", layers={"interfacing": "fusible woven interfacing"}, knowledge=knowledge)
    assert "fusing" not in kinds(calm, "interfacing")


def test_layers_that_shrink_alike_are_not_warned_of(knowledge):
    same = advise.prewash("cotton poplin", layers={"underlining": "cotton poplin"}, knowledge=knowledge)
    assert "shrinkage" not in kinds(same, "underlining")
    apart = advise.prewash(
        "polyester crepe, shrinkage 0%", layers={"lining": "viscose lining"}, knowledge=knowledge
    )
    assert "shrinkage" in kinds(apart, "lining")


def test_a_pale_outer_cloth_does_not_bleed_and_a_dark_one_may(knowledge):
    for cloth, expected in (("white cotton denim", False), ("navy cotton denim", True)):
        found = advise.prewash(cloth, layers={"lining": "white cotton lawn"}, knowledge=knowledge)
        assert ("bleed" in kinds(found, "lining")) is expected, cloth


def test_a_garment_that_is_dry_cleaned_need_not_share_water(knowledge):
    found = advise.prewash(
        "wool flannel", care="dry clean", layers={"interfacing": "hair canvas"}, knowledge=knowledge
    )
    assert not {"wash", "bleed"} & {c.kind for c in found.conflicts}


def test_the_finished_garment_is_cared_for_as_its_weakest_part(knowledge):
    found = advise.prewash("linen, 200 gsm", layers={"lining": "acetate lining"}, knowledge=knowledge)
    assert found.together.iron_decided_by == "lining"
    assert found.together.iron.max_c <= 110
    assert found.together.wash_c <= min(layer.wash_c.low for layer in found.layers)


def test_a_cloth_alone_has_no_layers(knowledge):
    found = advise.prewash("cotton poplin", knowledge=knowledge)
    assert (found.layers, found.conflicts, found.together) == ([], [], None)


def test_layers_given_stand_over_those_of_the_make(knowledge):
    make = parse_make("make: coat\nfeatures: [lining]\nlayers: {lining: viscose lining}\ncare: dry clean\n")
    found = advise.prewash("wool flannel", make=make, layers={"lining": "silk lining"}, knowledge=knowledge)
    assert [layer.cloth.given for layer in found.layers] == ["silk lining"]


@pytest.mark.parametrize("text", ["lining", "=silk", "lining=", " = "])
def test_a_layer_without_role_or_cloth_is_refused(text):
    with pytest.raises(Unclear):
        read_layer(text)


@pytest.mark.parametrize("cloth", ["cotton poplin", "cotton jersey", "wool flannel", "viscose challis", "polyester satin"])
def test_less_is_left_after_three_washes_than_after_one(knowledge, cloth):
    found = advise.prewash(cloth, knowledge=knowledge)
    one, three = found.left_after["1"], found.left_after["3"]
    assert three.along.high <= one.along.high <= found.shrinkage.along.high
    assert one.along.low >= 0
    assert found.write_down


def test_felting_is_kept_apart_from_relaxing(knowledge):
    wool = advise.prewash("wool flannel", knowledge=knowledge).left_after
    assert wool["3"].felting_each_wash == wool["1"].felting_each_wash
    assert wool["3"].felting_each_wash.high > 0
    assert advise.prewash("cotton poplin", knowledge=knowledge).left_after["1"].felting_each_wash.high == 0


@pytest.mark.parametrize(
    ("key", "value", "kind"),
    [("neddle", "sharp", "notion"), ("needle", 80, "notion"), ("nm_low", "80", "notion"), ("steam", "maybe", "press"),
     ("needle", "sharp", "press"), ("under", "somewhere", "handling"), ("tools", "tape", "handling"), ("needed", 1, "prewash")],
)  # fmt: skip
def test_a_sheet_line_that_does_not_exist_or_is_wrongly_filled_is_a_fault(key, value, kind):
    assert problem_of(key, value, kind)


def test_no_rule_of_the_shipped_knowledge_has_a_faulty_line(knowledge):
    for rule in knowledge.rules.values():
        for key, value in rule.then.sheet.items():
            assert not problem_of(key, value, rule.then.kind), (rule.id, key)
