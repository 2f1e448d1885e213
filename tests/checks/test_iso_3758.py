"""ISO 3758, Textiles: care labelling code using symbols. Hottest sole-plate at one, two and three dots.

2012 edition: 110, 150, 200 °C; 2023 edition: 120, 160, 210 °C. Both as set side by side in the notice of a Japanese
testing institute on JIS L 0001:2024 (the national text brought into line with ISO 3758:2023), item 2 of the changes.
"""

from __future__ import annotations

import pytest

from advisor import press

DOTS_2012 = {1: 110, 2: 150, 3: 200}  # ISO 3758:2012
DOTS_2023 = {1: 120, 2: 160, 3: 210}  # ISO 3758:2023


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_iron_settings_are_those_of_both_editions(knowledge, level):
    (setting,) = [entry for entry in knowledge.iron.values() if entry.level == level]
    assert setting.max_c == DOTS_2012[level]
    assert setting.max_c_2023 == DOTS_2023[level]


@pytest.mark.parametrize(("cloth", "level"), [("acetate", 1), ("wool", 2), ("cotton", 3)])
def test_the_sheet_answers_by_the_cooler_edition_and_names_the_later_one(knowledge, cloth, level):
    iron = press(cloth, knowledge=knowledge).iron
    assert (iron.level, iron.max_c, iron.edition_2023_c) == (level, DOTS_2012[level], DOTS_2023[level])


@pytest.mark.parametrize(("cloth", "fahrenheit"), [("acetate", 230), ("silk", 302), ("linen", 392)])
def test_fahrenheit_never_exceeds_the_limit(knowledge, cloth, fahrenheit):
    """110 °C is 230 °F, 150 °C is 302 °F, 200 °C is 392 °F; a rounded figure may only be lower, by less than a step of 5."""
    assert fahrenheit - 5 < press(cloth, knowledge=knowledge).iron.max_f <= fahrenheit


def test_no_answer_for_a_fibre_is_hotter_than_three_dots(knowledge):
    for fibre in knowledge.fibres.values():
        assert press(fibre.names[0], knowledge=knowledge).iron.max_c <= DOTS_2012[3], fibre.id


@pytest.mark.parametrize("cloth", ["acetate", "acrylic", "50% wool 50% acetate"])
def test_one_dot_cloths_that_steam_harms_get_none(knowledge, cloth):
    """ISO 3758:2012, one dot: dry only, steam could do irreversible damage."""
    assert press(cloth, knowledge=knowledge).steam == "no"


@pytest.mark.parametrize("cloth", ["polyamide", "elastane"])
def test_other_one_dot_cloths_are_never_given_free_steam(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).steam != "yes"
