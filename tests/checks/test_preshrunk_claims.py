"""What "pre-shrunk" is worth: no uniform standard (Smither, thesis, Pittsburg State, 1936); labels under 1 % are an example (encyclopaedia article
Sanforization); makers expect under 3 % in standard wash tests (article London shrunk). Durable-press cloth: at most 2 % (A-A-55281,
2.2.2); hospital robe cloth at most 2 % after 20 washes (A-A-54373); protective cloth 5 % by default (ASTM F1506-2018, 7.5.1)."""

from __future__ import annotations

import pytest

from advisor import prewash


def test_preshrunk_cotton_is_told_to_shrink_more_than_makers_expect(knowledge):
    told = prewash("pre-shrunk cotton", knowledge=knowledge).shrinkage.along
    assert told.low <= 1 <= told.high <= 3


def test_preshrunk_is_taken_for_not_shrinking(knowledge):
    assert prewash("pre-shrunk cotton", knowledge=knowledge).shrinkage.along.high > 1


@pytest.mark.parametrize("cloth", ["durable press cotton", "sanforised cotton twill"])
def test_a_mill_finish_is_told_to_shrink_more_than_its_specification(knowledge, cloth):
    assert prewash(cloth, knowledge=knowledge).shrinkage.along.high <= 2


def test_a_clothing_size_is_lost_unsaid(knowledge):
    """About 3 % costs one size (US Extension Service statement, quoted)."""
    found = prewash("cotton jersey", knowledge=knowledge)
    assert found.shrinkage.along.high >= 3 and found.needed
