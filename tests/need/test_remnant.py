"""What is left over, and what could give: advisor.need.remnant."""

from __future__ import annotations

import pytest

from advisor.need import answers, tables
from advisor.need.cloth import Amount, Shrinks
from advisor.need.ground import Ground, piece_in_hand
from advisor.need.layout import Envelope
from advisor.need.remnant import could_make, left_over, rectangles_in, what_gives
from advisor.ranges import Range


def test_rectangles_are_turned_against_the_grain_or_miscounted():
    assert rectangles_in((100, 140), (50, 70), False) == 4
    assert rectangles_in((60, 100), (100, 30), False) == 0
    assert rectangles_in((60, 100), (100, 30), True) == 2


def test_a_remnant_is_longer_than_what_is_left():
    base = Ground(width_cm=140, shrinks=Shrinks(Range(0.04, 0.1), Range(0.02, 0.05)))
    left = left_over(2.5, Amount(1.8, 2.0, 2.2), base)
    assert left.length_m.low == pytest.approx(0.3 * 0.9, abs=0.01)
    assert left.length_m.high == pytest.approx(0.7 * 0.96, abs=0.01)
    assert {m.certainty for m in left.could_make} <= {"sure", "may apply"} and left.could_make
    assert left_over(2.0, Amount(1.98, 1.99, 2.0), base) is None


def test_a_heavy_or_coated_cloth_is_offered_what_it_cannot_make():
    table = tables.read_table(tables.Remnants, Ground().folders)
    space = [(200.0, 140.0)]
    heavy = {m.make for m in could_make(space, space, table, Ground(weight_gsm=Range(450, 500)))}
    assert "handkerchief" not in heavy and "camisole" not in heavy
    for trait in ("coated", "pile"):
        offered = {m.make for m in could_make(space, space, table, Ground(traits=frozenset([trait])))}
        assert not offered & {i for i, make in table.makes.items() if trait in make.lacks}


def test_a_give_names_a_feature_or_trait_that_does_not_exist(knowledge):
    table = tables.read_table(tables.Remnants, knowledge.folders)
    assert {f for give in table.gives.values() for f in give.features} <= set(knowledge.features)
    assert {t for make in table.makes.values() for t in make.lacks} <= set(knowledge.traits)
    assert all(give.pct or give.cm2 or give.frees for give in table.gives.values())


def _short_piece(had, needed):
    base = Ground(width_cm=140, have_m=had)
    return base, piece_in_hand(base, 140, needed)


def test_a_piece_that_serves_is_asked_to_give():
    needed = Amount(1.5, 1.6, 1.7)
    base, piece = _short_piece(1.8, needed)
    assert what_gives(piece, needed, base) == []


def test_what_gives_is_not_what_the_pieces_take():
    pytest.importorskip("rectpack")
    pieces = [Envelope("front", 70, 70, 2), Envelope("neck facing", 70, 14, 1)]
    needed = Amount(0.8, 0.84, 0.9)
    base, piece = _short_piece(0.72, needed)
    lines = {line.give: line for line in what_gives(piece, needed, base, pieces)}
    assert lines["contrast-facing"].saves_m.high == pytest.approx(0.7, abs=0.01)  # the second row falls away
    assert "pieced-bias" not in lines  # no piece of that name
    assert "plain-sleeves" not in lines


def test_a_give_of_a_feature_is_offered_to_a_make_without_it():
    needed = Amount(2.0, 2.1, 2.2)
    base, piece = _short_piece(1.9, needed)
    without = {line.give for line in what_gives(piece, needed, base)}
    with_flounce = {line.give for line in what_gives(piece, needed, base, features=["flounce"])}
    assert "less-fullness" not in without and "less-fullness" in with_flounce
    assert "single-layer" not in {line.give for line in what_gives(piece, needed, base, one_way=True)}


def test_what_is_short_by_far_is_said_to_be_enough():
    needed = Amount(2.9, 3.0, 3.1)
    base, piece = _short_piece(1.0, needed)
    lines = what_gives(piece, needed, base)
    assert {line.enough for line in lines} == {"no"}
    assert lines[-1].give == "together"


def test_a_hundred_and_eighty_centimetres_at_145_is_not_answered():
    answer = answers.width(Ground(width_cm=145, have_m=1.8), length_m=1.9, from_cm=140)
    assert answer.piece.serves in ("yes", "maybe")
    shorter = answers.width(Ground(width_cm=145, have_m=1.2), length_m=1.9, from_cm=140)
    assert shorter.piece.serves == "no" and shorter.piece.gives
