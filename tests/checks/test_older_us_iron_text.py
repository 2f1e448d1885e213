"""An older US text on ironing (trade page, common practice): modacrylic at most 116 °C (240 °F), and old dials of 260 to 288 °C (500 to
550 °F) for cotton and linen, far above the 200 °C of ISO 3758:2012. Another table (from memory) has 93 °C for modacrylic, the safer."""

from __future__ import annotations

import pint
import pytest

from advisor import press

U = pint.UnitRegistry()


def test_the_printed_fahrenheit_is_another_heat():
    assert U.Quantity(240, "degF").to("degC").m == pytest.approx(116, abs=0.6)
    assert U.Quantity(500, "degF").to("degC").m == pytest.approx(260, abs=0.6)
    assert U.Quantity(550, "degF").to("degC").m == pytest.approx(288, abs=0.6)


def test_modacrylic_is_pressed_hotter_than_either(knowledge):
    assert press("modacrylic", knowledge=knowledge).iron.max_c <= 93


@pytest.mark.parametrize("fibre", ["cotton", "linen"])
def test_an_old_dial_was_followed(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c == 200
