"""The sewing sheet: widths that add up, sizes in both systems, precedence of lines, order and toile."""

from __future__ import annotations

import pytest

from advisor import advise
from advisor.errors import Unclear
from advisor.lists import read_list
from advisor.sewing import Sewing

CLOTHS = ["silk chiffon, 30 gsm", "cotton poplin, 125 gsm", "wool melton, 550 gsm", "cotton jersey", "leather", "wool felt", "pvc vinyl"]


@pytest.mark.parametrize("cloth", CLOTHS)
def test_every_cloth_gets_needle_thread_stitch_and_a_seam(knowledge, cloth):
    found = advise.sew(cloth, knowledge=knowledge)
    assert found.needle and found.thread and found.stitch, cloth
    assert found.foot and found.hold
    assert found.seams or found.hems
    assert found.stitch.per_inch.low == pytest.approx(25.4 / found.stitch.length_mm.high, abs=0.06)


@pytest.mark.parametrize("allowance", [12.7, 15, 15.875, 19])
@pytest.mark.parametrize("cloth", ["silk chiffon, 30 gsm", "cotton lawn, 80 gsm", "cotton poplin, 125 gsm"])
def test_the_two_passes_and_the_fold_take_just_the_patterns_allowance(knowledge, cloth, allowance):
    seam = advise.sew(cloth, ["French seam"], allowance_mm=allowance, knowledge=knowledge).seams[0]
    assert seam.first_mm + seam.turn_mm + seam.second_mm == pytest.approx(allowance, abs=0.11)
    assert seam.trim_mm < seam.second_mm


def test_a_fraying_cloth_is_trimmed_closer(knowledge):
    frays, holds = (
        advise.sew(f"cotton lawn, {how}", ["French seam"], knowledge=knowledge).seams[0].trim_mm
        for how in ("frays badly", "does not fray")
    )
    assert frays < holds


def test_an_allowance_too_narrow_for_two_passes_is_said(knowledge):
    seam = advise.sew("cotton lawn", ["French seam"], allowance_mm=6, knowledge=knowledge).seams[0]
    assert seam.first_mm is None
    assert "too narrow" in seam.passes[0]


@pytest.mark.parametrize("allowance", [0, 1, 200])
def test_an_allowance_that_no_pattern_prints_is_refused(knowledge, allowance):
    with pytest.raises(Unclear):
        advise.sew("cotton lawn", allowance_mm=allowance, knowledge=knowledge)


def test_a_line_about_the_feature_beats_the_general_one(knowledge):
    general = advise.sew("cotton twill, 220 gsm", knowledge=knowledge).hems[0]
    asked = advise.sew("cotton twill, 220 gsm", ["shirt"], knowledge=knowledge).hems[0]
    assert general.feature is None
    assert asked.feature == "shirt"


def test_the_more_specific_needle_beats_the_one_by_weight(knowledge):
    assert "jeans" in advise.sew("cotton denim, 400 gsm", knowledge=knowledge).needle.type
    assert "microtex" in advise.sew("polyester taffeta, 80 gsm", knowledge=knowledge).needle.type
    assert "leather" in advise.sew("leather", knowledge=knowledge).needle.type


def test_an_edge_that_is_chosen_beats_the_hem_of_the_garment(knowledge):
    hems = advise.sew("cotton lawn, 80 gsm", ["dress", "narrow rolled hem"], knowledge=knowledge).hems
    assert [hem.feature for hem in hems] == ["narrow-rolled-hem"]


def test_bias_hangs_before_it_is_hemmed(knowledge):
    order = advise.sew("viscose challis", ["circle skirt"], knowledge=knowledge).order
    hang = next(i for i, step in enumerate(order) if step.startswith("hang"))
    assert hang < order.index("hem")


def test_a_knit_is_tried_in_a_knit(knowledge):
    toile = advise.sew("polyamide elastane jersey, 20% elastane", ["leggings"], knowledge=knowledge).toile
    assert toile.needed
    assert "stretch" in toile.cloth


def test_every_feature_named_in_the_list_exists(knowledge):
    table = read_list("sewing", Sewing, knowledge.folders)
    named = {*table.interfaced, *table.tools, *(f for p in table.phases for f in p.features)}
    assert named <= set(knowledge.features)
    groups = {f.group for f in knowledge.features.values()}
    assert {g for p in table.phases for g in p.groups} | {g for gs in table.parts.values() for g in gs} <= groups
