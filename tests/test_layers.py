"""Layers of one garment: notions read without their own name, fusibles, care: advisor.layers."""

from __future__ import annotations

import pytest

from advisor import prewash
from advisor.asks import wash_wanted
from advisor.errors import Unclear
from advisor.makes import parse_make


def together(knowledge, outer, care="", **layers):
    from advisor import advise

    return advise.prewash(outer, care=care, layers=layers, knowledge=knowledge)


@pytest.mark.parametrize(("role", "said", "fibre"), [
    ("zip", "metal zip", "polyester"), ("zip", "brass zip, cotton tape", "cotton"), ("thread", "silk thread", "silk"), ("elastic", "elastic", "elastane"),
    ("trim", "cotton ribbon", "cotton"),
])  # fmt: skip
def test_a_notion_is_read_by_its_own_name_instead_of_its_cloth(knowledge, role, said, fibre):
    (layer,) = together(knowledge, "cotton poplin", **{role: said}).layers
    assert fibre in layer.cloth.fibres
    assert not layer.cloth.not_understood
    assert layer.narrow


def test_a_fused_garment_is_pressed_hotter_than_its_coolest_resin_set_or_not_at_all(knowledge):
    answer = together(knowledge, "cotton poplin", interfacing="fusible interfacing")
    assert answer.together.iron_decided_by == "interfacing"
    assert 0 < answer.together.iron.max_c <= 120


@pytest.mark.parametrize("outer", ["acetate satin", "polyamide taffeta", "silk lamé"])
def test_a_cloth_that_cannot_take_the_heat_is_fused(knowledge, outer):
    answer = together(knowledge, outer, interfacing="fusible interfacing")
    assert [c for c in answer.conflicts if c.kind == "fusing"]


def test_a_cloth_that_bears_the_heat_is_warned_of_fusing(knowledge):
    assert not [c for c in together(knowledge, "cotton poplin", interfacing="fusible interfacing").conflicts if c.kind == "fusing"]


def test_a_garment_to_be_dry_cleaned_is_sent_to_wash(knowledge):
    make = parse_make(
        "make: jacket\nfeatures: [tailored jacket]\ncare: dry clean\nlayers: {lining: viscose lining, interfacing: hair canvas}"
    )
    answer = prewash("wool flannel", make=make, knowledge=knowledge)
    assert {layer.role for layer in answer.layers} == {"lining", "interfacing"}
    assert answer.together.wash_c == 0
    assert not [c for c in answer.conflicts if c.kind in ("wash", "bleed")]
    assert not [c for c in answer.conflicts if "as the garment will be washed" in c.do]


def test_layers_of_the_make_are_lost_beside_those_said(knowledge):
    make = parse_make("make: blouse\nfeatures: [blouse]\nlayers: {lining: viscose lining}")
    from advisor import advise

    answer = advise.prewash("silk habotai", make=make, layers={"thread": "cotton thread"}, knowledge=knowledge)
    assert {layer.role for layer in answer.layers} == {"lining", "thread"}


def test_the_weakest_layer_does_not_set_the_care(knowledge):
    answer = together(knowledge, "cotton poplin", care="60 wash", lining="viscose lining")
    assert answer.together.wash_c == min(int(layer.wash_c.low) for layer in answer.layers)
    assert answer.together.wash_decided_by == "lining"


@pytest.mark.parametrize("care", ["500 wash", "999 F wash", "05 wash"])
def test_a_wash_that_no_machine_makes_is_taken(care):
    with pytest.raises(Unclear, match="10 to 95"):
        wash_wanted(care)
