"""Tiers: petticoat draft of 1907, 1.33 and then 1.5 times the tier above; Dress Making, Trade Theory (NIMI, 2024), p. 250, first tier 1 to 1.5 cloth widths, each next 1.5
to 2. Box pleats three to one, double box five to one (explainer page, common practice); tucks three times their width (West African school notes)."""

from __future__ import annotations

from advisor.need import answers
from advisor.need.ground import ground


def test_a_tier_has_other_fullness(knowledge):
    figure = knowledge.features["tiered-skirt"].figures["fullness"]
    assert figure.possible.low <= 1.333 and figure.possible.high >= 2
    assert 1.5 <= figure.typical <= 2


def test_pleats_all_round_take_another_width():
    for kind, ratio in (("knife", 3), ("box", 3), ("inverted", 3), ("double-box", 5)):
        found = answers.pleats(ground(), finished_cm=60, kind=kind, pleat_cm=6 if kind != "knife" else 3).pleats
        assert abs(found.fullness - ratio) < 0.01, kind
