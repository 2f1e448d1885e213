"""What is printed in imperial units, from metric sentences: advisor.cli.measures."""

from __future__ import annotations

import random
import re
from fractions import Fraction

import pint
import pytest

from advisor.cli.measures import celsius, in_words, inches, measure

U = pint.UnitRegistry()


@pytest.mark.parametrize(("metric", "imperial"), [
    ("a 15 mm allowance", "a 5/8 in allowance"),
    ("hem 12 to 25 mm deep", "hem 1/2 to 1 in deep"),
    ("a 25 x 25 cm square", "a 10 x 10 in square"),
    ("between 3 and 4 cm", "between 1 1/4 and 1 1/2 in"),
    ("at 0.1, 1.37 and 2.7 m", "at 1/8, 1 1/2 and 3 yd"),
    ("every 12-15 mm", "every 1/2 to 5/8 in"),
    ("weight 90 to 110 g/m²", "weight 2.7 to 3.2 oz/yd²"),
    ("a wash at 30 °C", "a wash at 86 °F"),
    ("Weight: 439 ± 19 g/m²", "Weight: 12.9 ± 0.6 oz/yd²"),
    ("150 ± 10 °C", "300 ± 18 °F"),
    ("Usually right within 20 °C", "Usually right within 36 °F"),
    ("at most 110 °C (230 °F)", "at most 230 °F (110 °C)"),
    ("6 mm (1/4 in)", "1/4 in (6 mm)"),
    ("stitch on the seam line, 15 mm from the edge", "stitch on the seam line, 5/8 in from the edge"),
])  # fmt: skip
def test_a_metric_figure_stays_or_turns_into_another(metric, imperial):
    assert in_words(metric, "imperial") == imperial
    assert in_words(metric, "metric") == metric


@pytest.mark.parametrize("said", [
    "230 °F (110 °C)", "2 yd (1.8 m)", "Nm 70 to 80 (US 10 to 12)", "stitch 3 to 3.5 mm", "thickness 0.3 mm", "12 to 24 hours",
    "100 N/m", "5 mm²", "3 washes", "1.4 times", "ISO 3758:2012", "Tex 27 to 40", "a 4 mg grain", "150 g/m a running metre",
])  # fmt: skip
def test_what_is_no_metric_measure_or_is_already_imperial_is_changed(said):
    assert in_words(said, "imperial") == said


def test_imperial_words_are_turned_twice():
    once = in_words("press at 110 °C, hem 15 mm, 2 m at 140 cm, 95 g/m²", "imperial")
    assert in_words(once, "imperial") == once


def _as_number(said: str) -> float:
    return float(sum(Fraction(part) for part in said.split()))


@pytest.mark.parametrize("seed", range(200))
def test_inches_yards_and_heat_differ_from_pint(seed):
    rng = random.Random(seed)
    mm, metres, heat = rng.uniform(1, 3000), rng.uniform(0.3, 40), rng.uniform(0, 260)
    exact = (mm * U.mm).to("inch").m
    step = 1 / 16 if exact < 2 else 1 / 8 if exact < 20 else 1 / 4
    assert _as_number(inches(mm)) == pytest.approx(exact, abs=step / 2 + 1e-9)
    assert _as_number(measure(metres, "m", "imperial").removesuffix(" yd")) == pytest.approx((metres * U.m).to("yard").m, abs=1 / 16 + 1e-9)
    found = re.fullmatch(r"(-?\d+) °F \((\d+) °C\)", celsius(heat, "imperial"))
    assert found and float(found[1]) == pytest.approx(U.Quantity(heat, "degC").to("degF").m, abs=0.5)
