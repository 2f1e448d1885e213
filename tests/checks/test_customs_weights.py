"""Weights of cloths that importers sent to the US Customs, g/m², as its tariff classification rulings state them (the
number stands beside each; most were weighed by its laboratory). The weight told for a cloth of that name meets them all.
"""

from __future__ import annotations

import pytest

from advisor import press
from advisor.knowledge import Knowledge

WEIGHED = [
    ("denim", 263.6, "NY F89399"),
    ("denim", 356, "NY 885739"),
    ("denim", 373, "NY D84303"),
    ("denim", 405.3, "NY C86581"),
    ("denim", 491, "NY 885739"),
    ("cotton twill", 177, "NY B82845"),
    ("cotton twill", 273.8, "NY F84955"),
    ("cotton twill", 342.5, "NY 880714"),
    ("oxford cloth", 125.8, "NY 886625"),
    ("oxford cloth", 165, "NY K81429"),
    ("oxford cloth", 191, "HQ 084769"),
    ("brushed cotton flannel", 143, "NY J87646"),
    ("brushed cotton flannel", 208.1, "NY H86855"),
    ("pinwale corduroy", 180, "NY J80168"),
    ("stretch needlecord", 186, "NY I82363"),
    ("stretch needlecord", 215.2, "NY L85749"),
    ("bedford cord", 312, "NY L80735"),
    ("cotton poplin", 128, "NY H89340"),
    ("cotton cambric", 80, "NY N295386"),
    ("cotton ripstop", 215.5, "NY 870666"),
    ("cotton ripstop", 217, "NY 886470"),
    ("stretch poplin", 135, "NY I83170"),
    ("polycotton poplin", 118, "NY M84046"),
    ("polycotton poplin", 122.1, "NY D86434"),
    ("ticking", 280, "NY J87646"),
    ("barkcloth", 205, "NY J89188"),
    ("cotton canvas", 310, "NY 808345"),
    ("cotton canvas", 396.7, "NY 810111"),
    ("stretch canvas", 293, "NY I82363"),
    ("cotton organdie", 50, "NY J84697"),
    ("madras check", 95, "NY 856296"),
    ("heavy linen", 230, "NY K83864"),
    ("heavy linen", 298.4, "NY 810111"),
    ("medium linen", 197, "NY 877729"),
    ("linen viscose", 179, "NY 876169"),
    ("silk dupion", 82, "NY I86073"),
    ("silk taffeta", 69, "NY I86073"),
    ("wool tartan", 306.4, "NY N247469"),
    ("herringbone tweed", 340, "NY C89615"),
    ("wool boucle", 350, "NY D87630"),
    ("hair canvas", 195, "NY I80805"),
    ("hair canvas", 264, "NY 892199"),
    ("viscose challis", 125, "NY 860453"),
    ("viscose lining", 78, "NY C81809"),
    ("polyester satin", 100, "NY L82105"),
    ("peachskin", 102.2, "NY E81724"),
    ("peachskin", 174, "NY B83075"),
    ("nylon ripstop", 67.8, "NY 886259"),
    ("swim knit", 185, "NY 895493"),
    ("swim knit", 198.6, "NY H81548"),
    ("cotton elastane jersey", 190, "NY H86907"),
    ("1x1 rib", 250, "NY H89236"),
    ("cotton interlock", 200, "NY H89236"),
    ("cotton french terry", 328.6, "NY I86294"),
    ("polyester fleece", 254, "NY J89632"),
    ("polyester double knit", 172, "NY J80083"),
    ("nonwoven suede", 300, "NY J81405"),
]


@pytest.mark.parametrize(("cloth", "weighed", "ruling"), WEIGHED)
def test_the_weight_told_for_a_cloth_leaves_out_one_that_was_weighed(
    cloth: str, weighed: float, ruling: str, knowledge: Knowledge
) -> None:
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    assert told.low - 0.5 <= weighed <= told.high + 0.5, (ruling, told)
