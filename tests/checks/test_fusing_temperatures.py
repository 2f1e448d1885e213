"""Fusing: common industrial heat 150 °C (NIMI, CITS Dress Making trade theory, 2024, p. 145); 120 to 180 °C by resin
(interlining teaching slides). A cloth held at one dot (110 °C, ISO 3758:2012) takes none of these."""

from __future__ import annotations

import pytest

from advisor import check, press

COMMON_C, COOLEST_C = 150, 120


@pytest.mark.parametrize("cloth", ["acetate lining", "acrylic", "polyamide taffeta", "polypropylene"])
def test_a_cloth_that_ends_below_the_coolest_resin_is_warned_of_fusing(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c < COOLEST_C
    found = check(cloth, ["fusible interfacing"], knowledge=knowledge).findings
    warned = [
        f
        for f in found
        if f.kind in ("stop", "caution") and "fusible-interfacing" in f.features and f.certainty == "sure"
    ]
    assert any("heat" in f.say.lower() for f in warned), [f.id for f in found]


@pytest.mark.parametrize("cloth", ["cotton poplin", "linen, 180 gsm", "wool flannel"])
def test_a_cloth_that_bears_the_common_heat_is_not_warned_of_it(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c >= COMMON_C
    found = check(cloth, ["fusible interfacing"], knowledge=knowledge).findings
    assert not any("more heat than this cloth" in f.say for f in found)


def test_heat_and_moisture_of_fusing_shrink_what_is_not_yet_shrunk(knowledge):
    """NIMI, p. 145: many fabrics can shrink at this heat."""
    found = press("viscose challis", ["fusible interfacing"], knowledge=knowledge)
    assert any(
        "shrink" in f"{f.say} {f.do} {f.why}".lower() for f in found.findings if "fusible-interfacing" in f.features
    )
