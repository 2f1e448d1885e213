"""From a description to a profile: evidence, blends, marks, limits: advisor.profile."""

from __future__ import annotations

import pytest

from advisor.advise import profile_of
from advisor.profile import EVIDENCE, build
from advisor.ranges import Range
from advisor.words import describe


def known(cloth, prop, knowledge):
    return profile_of(cloth, knowledge).known[prop]


def test_every_property_is_known_of_every_cloth_with_evidence_inside_its_domain(knowledge):
    for cloth in knowledge.cloths.values():
        profile = build(describe(cloth.names[0] if cloth.names else cloth.id, knowledge), knowledge)
        assert set(profile.known) == set(knowledge.properties)
        for prop, figure in profile.known.items():
            domain = knowledge.properties[prop].domain
            assert domain.low <= figure.range.low <= figure.range.high <= domain.high, (cloth.id, prop)
            assert figure.evidence in EVIDENCE


@pytest.mark.parametrize(("cloth", "evidence"), [
    ("drapey", "assumed"), ("cotton", "follows"), ("cotton poplin", "usual"), ("cotton poplin, 120 gsm", "stated"),
    ("cotton poplin, measured 120 gsm", "measured"), ("cotton poplin, 130 gsm, measured 120 gsm", "measured"),
])  # fmt: skip
def test_the_strongest_evidence_for_the_weight_wins(knowledge, cloth, evidence):
    assert known(cloth, "weight", knowledge).evidence == evidence


def test_each_kind_of_evidence_narrows_the_weight(knowledge):
    widths = [
        known(cloth, "weight", knowledge).range.width
        for cloth in ("drapey", "cotton", "cotton poplin", "cotton poplin, 120 gsm", "cotton poplin, measured 120 gsm")
    ]
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] == 0


def test_a_stated_figure_is_taken_with_its_tolerance_and_a_measured_one_as_it_is(knowledge):
    tolerance = knowledge.properties["weight"].tolerance
    stated = known("cotton poplin, 120 gsm", "weight", knowledge).range
    assert stated == pytest.approx((120 * (1 - tolerance), 120 * (1 + tolerance)))
    assert known("cotton poplin, measured 120 gsm", "weight", knowledge).range == Range(120, 120)


def test_the_most_tender_fibre_decides_heat_and_washing_however_small_its_share(knowledge):
    cotton, elastane = known("cotton", "heat_limit", knowledge), known("elastane", "heat_limit", knowledge)
    blend = profile_of("99% cotton 1% elastane", knowledge)
    assert elastane.range.low < cotton.range.low
    assert blend.known["heat_limit"].range.low == elastane.range.low
    assert blend.decided["heat_limit"] == "elastane"


def test_what_blends_by_share_lies_between_its_fibres(knowledge):
    cotton, viscose, blend = (
        known(c, "wet_strength", knowledge).range for c in ("cotton", "viscose", "70% cotton 30% viscose")
    )
    assert viscose.low < blend.low < cotton.low
    assert blend.mid == pytest.approx(0.7 * cotton.mid + 0.3 * viscose.mid, abs=0.5)


@pytest.mark.parametrize(("cloth", "state"), [
    ("100% wool", (True, True)), ("60% cotton 40% wool", (True, True)), ("80% cotton 20% wool", (False, True)),
    ("97% cotton 3% wool", None),
])  # fmt: skip
def test_a_fibres_mark_is_sure_possible_or_absent_by_its_share(knowledge, cloth, state):
    assert profile_of(cloth, knowledge).marks.get("trait.felts") == state


def test_one_or_the_other_fibre_is_only_possible(knowledge):
    profile = profile_of("wool or cotton", knowledge)
    assert profile.shares["wool"] == Range(0, 100)
    assert profile.marks["trait.felts"] == (False, True)


def test_a_describing_word_narrows_within_what_is_usual(knowledge):
    usual = known("viscose challis", "weight", knowledge).range
    light = known("lightweight viscose challis", "weight", knowledge).range
    assert light.high <= usual.high
    assert light.low >= usual.low


def test_a_describing_word_wins_where_it_contradicts(knowledge):
    said = known("stiff viscose challis", "drape", knowledge).range
    assert said.low > known("viscose challis", "drape", knowledge).range.high


def test_a_heavier_piece_is_thicker_than_a_lighter_one(knowledge):
    light, heavy = (known(f"cotton poplin, measured {w} gsm", "thickness", knowledge).range.mid for w in (90, 180))
    assert heavy > light * 1.3


def test_nothing_is_sure_of_a_fibre_that_was_not_said(knowledge):
    profile = profile_of("drapey", knowledge)
    assert not profile.shares
    assert profile.decided["heat_limit"] == "not knowing the fibre"
    assert profile.known["heat_limit"].range.low <= 110


@pytest.mark.parametrize("cloth", ["cotton, melts", "wool, melts", "linen, beads in flame"])
def test_a_flame_test_that_contradicts_the_label_takes_the_safer_heat_and_wash(knowledge, cloth):
    sold_as = profile_of(cloth.split(",")[0], knowledge)
    tested = profile_of(cloth, knowledge)
    assert tested.known["heat_limit"].range.low <= 110 < sold_as.known["heat_limit"].range.low
    assert tested.known["wash_limit"].range.low <= sold_as.known["wash_limit"].range.low
    assert any("flame test" in note for note in tested.notes)


def test_a_flame_test_that_agrees_with_the_label_changes_nothing(knowledge):
    assert known("cotton, burns to ash", "heat_limit", knowledge) == known("cotton", "heat_limit", knowledge)


def test_profiling_leaves_the_knowledge_base_as_it_was(knowledge):
    before = known("linen", "crease", knowledge)
    for cloth in ("glazed linen", "washed linen", "linen, measured crease 1"):
        profile_of(cloth, knowledge)
    assert known("linen", "crease", knowledge) == before


def test_a_blend_with_elastane_is_taken_as_a_stiff_woven(knowledge):
    profile = profile_of("polyester and elastane", knowledge)
    assert profile.known["stretch_across"].range.high > 80 and profile.known["stretch_along"].range.high > 20
    assert not profile.marks["structure.woven"][0] and profile.marks["structure.knit"] == (False, True)
    assert profile_of("polyester and elastane, woven", knowledge).marks["structure.woven"] == (True, True)


def test_a_share_written_as_a_whole_figure_answers_otherwise_than_one_with_a_point(knowledge):
    said = [profile_of(f"{share} viscose challis, 95 gsm", knowledge).shares for share in ("", "100%", "100.0%")]
    assert [repr(shares) for shares in said] == [repr(said[0])] * 3
