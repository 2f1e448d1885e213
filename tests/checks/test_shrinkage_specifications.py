"""Shrinkage published for cloths, %, positive = shorter. Each figure's source stands beside it."""

from __future__ import annotations

import pytest

from advisor import prewash


def along(cloth, knowledge):
    return prewash(cloth, knowledge=knowledge).shrinkage.along


def across(cloth, knowledge):
    return prewash(cloth, knowledge=knowledge).shrinkage.across


def test_sanforised_denim_keeps_1_to_3_and_raw_denim_up_to_10(knowledge):
    """Denim finishing, textile teaching article, p. 2: sanforised 1 to 3, shrink to fit 10."""
    assert along("sanforised denim", knowledge).high <= 3
    assert along("raw denim", knowledge).high == 10


def test_sanforised_cotton_keeps_within_one_percent(knowledge):
    """The same list: compressively shrunk within 1 %; R. E. Smither, thesis, Pittsburg State, 1936, abstract: not over 0.75 %."""
    told = along("sanforised cotton", knowledge)
    assert told.low <= 0.75
    assert told.high <= 1


def test_raw_denim_is_told_to_shrink_more_than_sanforised(knowledge):
    assert along("raw denim", knowledge).low > along("sanforised denim", knowledge).high


@pytest.mark.parametrize(("direction", "limit"), [(along, 6.5), (across, 4.0)])
def test_wool_relaxes_no_more_than_the_uniform_specification_allows(knowledge, direction, limit):
    """MIL-DTL-3738L, table I: wool uniform cloth, warp 5.5 to 6.5, filling 3.0 to 4.0 at most."""
    assert direction("wool", knowledge).high <= limit


def test_washable_wool_stays_within_3_percent(knowledge):
    """Woolmark SF-2:2016, note on DC: -3 < DC; New Zealand wool research interview: not over 3 % after 50 washes."""
    assert along("superwash wool", knowledge).high <= 3


@pytest.mark.parametrize("direction", [along, across])
def test_polyester_cotton_twill_stays_within_3_percent(knowledge, direction):
    """A-A-55095A, table I: 65/35 polyester/cotton twill, 3 % at most; Commonwealth of Pennsylvania, 2015, section 3: 3 %."""
    assert direction("65/35 polyester cotton twill", knowledge).high <= 3


def test_heat_set_polyester_hardly_shrinks(knowledge):
    """Testing-instrument article on fabric shrinkage: polyester staple 1 % in boiling water."""
    assert along("polyester", knowledge).high <= 1


def test_lyocell_is_steadier_than_viscose(knowledge):
    """Tomljenovic, Zivicnjak and Skenderi, Fibers 12, 83, 2024, abstract."""
    assert along("lyocell", knowledge).high < along("viscose", knowledge).high


def test_what_has_been_prewashed_is_not_sent_to_be_washed_again(knowledge):
    assert not prewash("prewashed cotton poplin", knowledge=knowledge).needed


def test_cotton_by_the_metre_shrinks_by_what_unfinished_mills_tell_at_most(knowledge):
    """Denim finishing article: bleached woven about 5, dyed 5 to 8, unfinished up to 10 %."""
    assert along("cotton", knowledge).high <= 8
    assert along("cotton calico", knowledge).high <= 10.5
