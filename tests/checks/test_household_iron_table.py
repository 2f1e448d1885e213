"""A household magazine's table of ironing temperatures (common practice): linen 230, cotton 204, triacetate 200, viscose 190, wool,
polyester and silk 148, acetate 143, acrylic, elastane and polyamide 135 °C. These are heats of old dials: ISO 3758:2012 ends at 200 °C,
and puts acetate, acrylic and polyamide at 110 °C. The lower figure of the two is followed for each."""

from __future__ import annotations

import pytest

from advisor import press

PRINTED_C = {
    "linen": 230, "cotton": 204, "triacetate": 200, "viscose": 190, "wool": 148, "polyester": 148, "silk": 148, "acetate": 143,
    "acrylic": 135, "elastane": 135, "polyamide": 135,
}  # fmt: skip
DOT_C = {"linen": 200, "cotton": 200, "wool": 150, "silk": 150, "viscose": 150, "polyester": 150, "acetate": 110, "acrylic": 110, "polyamide": 110}


@pytest.mark.parametrize("fibre", PRINTED_C)
def test_the_iron_is_hotter_than_both_the_table_and_its_dot(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= max(PRINTED_C[fibre], DOT_C.get(fibre, 0))


@pytest.mark.parametrize("fibre", DOT_C)
def test_the_table_was_followed_where_the_dot_is_cooler(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= DOT_C[fibre]


def test_changing_to_a_cooler_cloth_is_not_said_to_take_time(knowledge):
    """The same page: at least five minutes to cool. A household leaflet: begin with the coolest cloth."""
    said = press("acetate lining", knowledge=knowledge)
    assert any("cool" in text.lower() for text in said.how)
