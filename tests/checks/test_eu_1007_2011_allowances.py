"""Regulation (EU) No 1007/2011, Annex IX: agreed allowances (%) for the mass of fibres, by fibre number."""

from __future__ import annotations

import pytest

from advisor.words import describe

ALLOWANCES = {  # name: (least, most), where carded and combed, staple and filament, or thick and thin differ
    "wool": (17.00, 18.25),  # nos. 1-2, carded 17.00, combed 18.25
    "cashmere": (17.00, 18.25),  # no. 3 other animal hair
    "mohair": (17.00, 18.25), "alpaca": (17.00, 18.25), "camel": (17.00, 18.25), "yak": (17.00, 18.25),
    "horsehair": (15.00, 16.00),  # no. 3, carded, combed
    "silk": (11.00, 11.00),  # no. 4
    "cotton": (8.50, 8.50),  # no. 5, normal fibres
    "kapok": (10.90, 10.90),  # no. 6
    "linen": (12.00, 12.00),  # no. 7
    "hemp": (12.00, 12.00),  # no. 8
    "jute": (17.00, 17.00),  # no. 9
    "abaca": (14.00, 14.00),  # no. 10
    "coir": (13.00, 13.00),  # no. 12
    "ramie": (8.50, 8.50),  # no. 14, bleached
    "sisal": (14.00, 14.00),  # no. 15
    "acetate": (9.00, 9.00),  # no. 19
    "alginate": (20.00, 20.00),  # no. 20
    "cupro": (13.00, 13.00),  # no. 21
    "modal": (13.00, 13.00),  # no. 22
    "azlon": (17.00, 17.00),  # no. 23, regenerated protein
    "triacetate": (7.00, 7.00),  # no. 24
    "viscose": (13.00, 13.00),  # no. 25
    "acrylic": (2.00, 2.00),  # no. 26
    "chlorofibre": (2.00, 2.00),  # no. 27
    "fluorofibre": (0.00, 0.00),  # no. 28
    "modacrylic": (2.00, 2.00),  # no. 29
    "polyamide": (5.75, 6.25),  # no. 30, filament, discontinuous
    "aramid": (8.00, 8.00),  # no. 31
    "lyocell": (13.00, 13.00),  # no. 33
    "polylactide": (1.50, 1.50),  # no. 34
    "polyester": (1.50, 1.50),  # no. 35
    "polyethylene": (1.50, 1.50),  # no. 36
    "polypropylene": (2.00, 2.00),  # no. 37
    "polyurethane": (3.00, 3.50),  # no. 39, filament, discontinuous
    "vinylal": (5.00, 5.00),  # no. 40
    "elastodiene": (1.00, 1.00),  # no. 42
    "elastane": (1.50, 1.50),  # no. 43
    "glass": (2.00, 3.00),  # no. 44, over 5 micrometres, 5 or less
    "elastomultiester": (1.50, 1.50),  # no. 45
    "elastolefin": (1.50, 1.50),  # no. 46
    "melamine": (7.00, 7.00),  # no. 47
    "metallised": (2.00, 2.00),  # no. 48
    "paper": (13.75, 13.75),  # no. 48, paper yarn
}  # fmt: skip


@pytest.mark.parametrize("name", ALLOWANCES)
def test_the_allowance_shown_for_a_fibre_is_that_of_annex_ix(knowledge, name):
    read = describe(f"100% {name}", knowledge)
    (fibre,) = read.mixes[0]
    figure = knowledge.fibres[fibre].facts["allowance_eu_pct"]
    assert (figure.low, figure.high) == ALLOWANCES[name]


@pytest.mark.parametrize("name", ALLOWANCES)
def test_the_allowance_names_the_regulation_as_its_source(knowledge, name):
    (fibre,) = describe(f"100% {name}", knowledge).mixes[0]
    source = knowledge.fibres[fibre].facts["allowance_eu_pct"].source.split(",")[0]
    assert "1007/2011" in knowledge.sources[source].number
