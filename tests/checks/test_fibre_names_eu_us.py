"""Fibre names in law: one fibre has one entry whichever law names it.

EU: Regulation (EU) No 1007/2011, Annex I, tables 1 and 2. US: 16 CFR 303.7 and the notices that amended it.
French names: decree of 24 June 1998, Annex II. German names: Austrian textile labelling order, Annex 2 (1975).
"""

from __future__ import annotations

import pytest

from advisor.words import describe


def fibre_of(name, knowledge):
    read = describe(f"100% {name}", knowledge)
    assert not read.not_understood, f"{name}: {read.not_understood}"
    (fibre,) = read.mixes[0]
    return fibre


PAIRS = [  # EU name, US name, where the US name is given
    ("viscose", "rayon"),  # 60 FR 62352 (1995), 16 CFR 303.7(d)
    ("polyamide", "nylon"),  # 16 CFR 303.7(i); the EU table admits both words, Annex I table 2 no. 30
    ("elastane", "spandex"),  # Textile terms knowledge base: US term for elastane
    ("lyocell", "lyocell"),  # 61 FR 16385 (1996)
    ("acetate", "acetate"), ("triacetate", "triacetate"),  # generic-name table of man-made fibres, p. 3-1
    ("acrylic", "acrylic"), ("modacrylic", "modacrylic"),  # 16 CFR 303.7(a) and (b)
    ("polyester", "polyester"),  # 67 FR 70835 (2002)
    ("elastomultiester", "elasterell-p"),  # 67 FR 70835 (2002)
    ("elastolefin", "lastol"),  # 68 FR 3813 (2003)
    ("melamine", "melamine"),  # 63 FR 36171 (1998)
    ("flax", "linen"),  # Annex I table 1 no. 7: flax (or linen)
]  # fmt: skip


@pytest.mark.parametrize(("eu", "us"), PAIRS)
def test_the_eu_and_the_us_name_mean_one_fibre(knowledge, eu, us):
    assert fibre_of(eu, knowledge) == fibre_of(us, knowledge)


@pytest.mark.parametrize("name", [
    "wool", "alpaca", "llama", "camel", "cashmere", "mohair", "angora", "vicuna", "yak", "silk", "cotton", "kapok", "linen",
    "hemp", "jute", "abaca", "coir", "ramie", "sisal", "acetate", "alginate", "cupro", "modal", "triacetate", "viscose",
    "acrylic", "chlorofibre", "fluorofibre", "modacrylic", "polyamide", "aramid", "lyocell", "polylactide", "polyester",
    "polyethylene", "polypropylene", "polyurethane", "vinylal", "elastodiene", "elastane", "elastomultiester", "elastolefin",
    "melamine",
])  # fmt: skip
def test_a_name_of_annex_i_is_understood_and_told_as_the_eu_name(knowledge, name):
    entry = knowledge.fibres[fibre_of(name, knowledge)]
    assert name in entry.law["eu"]


@pytest.mark.parametrize(("fibre", "law"), [
    ("viscose", "rayon"), ("polyamide", "nylon"), ("elastane", "spandex"), ("elastolefin", "lastol"),
    ("elastomultiester", "elasterell-p"), ("polypropylene", "olefin"), ("polyethylene", "olefin"),  # 68 FR 3813, 16 CFR 303.7(m)
    ("azlon", "azlon"),  # Ohio Administrative Code 4101:6-1-16
])  # fmt: skip
def test_the_us_name_in_law_is_told(knowledge, fibre, law):
    assert knowledge.fibres[fibre_of(fibre, knowledge)].law["us"] == law


@pytest.mark.parametrize(("word", "english"), [
    ("laine", "wool"), ("soie", "silk"), ("coton", "cotton"), ("chanvre", "hemp"), ("acétate", "acetate"),
    ("triacétate", "triacetate"), ("acrylique", "acrylic"), ("élasthane", "elastane"),  # France 1998, Annex II
    ("Wolle", "wool"), ("Seide", "silk"), ("Baumwolle", "cotton"), ("Leinen", "linen"), ("Flachs", "linen"), ("Hanf", "hemp"),
    ("Polyamid", "polyamide"), ("Polyacryl", "acrylic"), ("Elasthan", "elastane"), ("Acetat", "acetate"),  # Austria 1975, Annex 2
])  # fmt: skip
def test_a_french_or_german_label_means_the_same_fibre(knowledge, word, english):
    assert fibre_of(word, knowledge) == fibre_of(english, knowledge)


def test_cloth_sold_as_bamboo_is_viscose_in_law(knowledge):
    """A US trade article by a lawyer of the FTC on textile labels: viscose from bamboo pulp may not be called bamboo."""
    assert knowledge.fibres[fibre_of("bamboo viscose", knowledge)].law == {"eu": "viscose", "us": "rayon"}


@pytest.mark.parametrize("code", ["AC", "CA", "HA"])
def test_a_code_that_means_two_fibres_is_not_decoded(knowledge, code):
    """AC acetate or acrylic, CA acetate or hemp, HA hair or hemp: European and Italian code lists contradict each other."""
    assert not any(code in fibre.codes for fibre in knowledge.fibres.values())
