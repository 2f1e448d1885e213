"""AATCC 133, colour fastness to heat, hot pressing: 30 to 50 g/cm² (2.94 to 4.9 kPa), 15 s at the heat of the care label (testing
laboratory); a hand iron only for less critical tests, since irons swing and vary over the sole (2020 edition, note 14.4). The home test of
an iron begins at the coolest setting and stays under 15 s."""

from __future__ import annotations

import re

import pint
import pytest

U = pint.UnitRegistry()


def test_the_printed_pressures_are_others():
    for grams, kilopascal in ((30, 2.94), (50, 4.9)):
        pressure = (grams * U.gram * U.standard_gravity / U.cm**2).to("kPa").m
        assert pressure == pytest.approx(kilopascal, abs=0.01)


def test_the_home_test_leaves_the_iron_longer_or_begins_hot(knowledge):
    first = knowledge.tests["iron-scrap"].how[0]
    assert "one dot" in first
    assert re.search(r"\bten seconds\b", first)
