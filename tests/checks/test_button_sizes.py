"""Button sizes: online dictionary of measures, article Buttons (40 ligne to the inch), and two trade tables.

The tables (common practice) disagree on 18, 24 and 40 L by half a millimetre, and one prints 30 mm for 45 L, which is the
48 L size; the exact figure is 28.6 mm.
"""

from __future__ import annotations

import pytest

from advisor.need.units import ligne_from_mm, mm_from_ligne, read_length

EXACT = {
    14: 8.89, 16: 10.16, 18: 11.43, 20: 12.7, 22: 13.97, 24: 15.24, 26: 16.51, 28: 17.78, 30: 19.05, 32: 20.32, 34: 21.59, 36: 22.86,
    40: 25.4, 44: 27.94, 45: 28.575, 48: 30.48, 50: 31.75, 54: 34.29, 60: 38.1, 64: 40.64, 80: 50.8,
}  # fmt: skip
TABLE_2 = {
    16: 10,
    18: 11,
    20: 12.5,
    22: 14,
    24: 15.5,
    28: 18,
    30: 19,
    36: 23,
    40: 25.5,
    45: 28.5,
    50: 31.5,
    60: 38,
    80: 51,
}
TABLE_1 = {
    14: 9,
    16: 10,
    18: 11.5,
    20: 12.5,
    22: 14,
    24: 15,
    26: 16,
    28: 18,
    30: 19,
    32: 20,
    34: 21.5,
    36: 23,
    40: 25,
    44: 28,
    48: 30,
    54: 34,
    60: 38,
}


@pytest.mark.parametrize(("ligne", "mm"), EXACT.items())
def test_a_ligne_is_not_a_fortieth_of_an_inch(ligne, mm):
    assert mm_from_ligne(ligne) == pytest.approx(mm)
    assert ligne_from_mm(mm) == pytest.approx(ligne)
    assert read_length(f"{ligne}L", "mm", "button") == pytest.approx(mm)


@pytest.mark.parametrize(("ligne", "mm"), [*TABLE_1.items(), *TABLE_2.items()])
def test_a_trade_table_is_further_off_than_it_rounds(ligne, mm):
    assert mm_from_ligne(ligne) == pytest.approx(mm, abs=0.52)


def test_the_misprint_of_45_ligne_was_followed():
    assert abs(mm_from_ligne(45) - 30) > 1
    assert mm_from_ligne(48) == pytest.approx(30, abs=0.5)


def test_the_paris_ligne_was_taken():
    """2.2558 mm (encyclopaedia article Ligne): 443.296 to the metre; never for buttons."""
    assert mm_from_ligne(1) == 0.635
    assert pytest.approx(2.2558, abs=1e-4) == 1000 / 443.296
