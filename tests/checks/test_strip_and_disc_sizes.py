"""Sizes of test pieces: strip 25 mm wide (ASTM D1388-23, 5.4), 200 mm long (laboratory note), both ends and both faces (Fabric stiffness testing, laboratory
note: four readings). Drape: disc 18 cm, cloth 30 cm, 24 for limp and 36 for stiff (article). Stretch over 4 in, 10.2 cm (Knits Knacks, HE-452,
Purdue), away from the edge. Seam slippage judged at a 6 mm opening (laboratory sheet). The home tests are these, rounded."""

from __future__ import annotations


def needs(knowledge, test):
    entry = knowledge.tests[test]
    return " ".join([*entry.needs, *entry.how])


def test_the_strip_is_of_another_size_or_read_less_often(knowledge):
    said = needs(knowledge, "bending-strip")
    assert "2.5" in said or "25 mm" in said
    assert "20" in said
    assert "four readings" in said


def test_plate_and_round_are_of_other_sizes(knowledge):
    said = needs(knowledge, "drape-shadow")
    assert "30 cm" in said and "18 cm" in said  # the middle size; limp and stiff cloth are told by the fall


def test_stretch_is_taken_over_another_length(knowledge):
    assert abs(10 - 4 * 2.54) < 0.2
    assert "10 cm" in needs(knowledge, "stretch-across")
