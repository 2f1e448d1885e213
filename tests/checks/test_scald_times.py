"""Scalds: water at 66 °C burns in 2 s (University of Texas Medical Branch; a plumbing-safety page), at 60 °C in 5 s (children's hospital
leaflet) or 6 s (the page), at 54 °C in 30 s, at 49 °C in 300 s. Every iron setting, 93 to 210 °C, is far hotter: the warning comes with each."""

from __future__ import annotations

import pytest

from advisor import press

FAHRENHEIT = {150: 66, 140: 60, 130: 54, 120: 49}


@pytest.mark.parametrize(("fahrenheit", "celsius"), FAHRENHEIT.items())
def test_the_printed_heat_is_another(fahrenheit, celsius):
    assert (fahrenheit - 32) / 1.8 == pytest.approx(celsius, abs=0.6)


@pytest.mark.parametrize("cloth", ["acetate lining", "wool flannel", "cotton poplin", "polyester satin", "silk velvet"])
def test_an_iron_hotter_than_two_seconds_of_scald_comes_without_a_warning(knowledge, cloth):
    answer = press(cloth, knowledge=knowledge)
    assert answer.iron.max_c > 66
    assert any(f.kind == "safety" and "skin" in f.say for f in answer.findings)
