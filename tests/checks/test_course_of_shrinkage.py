"""Collins, Journal of the Textile Institute, 1939 (abstract): cotton tends to a limit over successive washes, most of it in the
first. Wool research interview, New Zealand science education site: shrink-resist wool is held to 3 % in the equivalent of fifty
machine washes."""

from __future__ import annotations

from advisor import advise


def test_cotton_shrinks_most_in_the_first_wash(knowledge):
    found = advise.prewash("cotton poplin", knowledge=knowledge)
    assert found.left_after["1"].along.high < 0.5 * found.shrinkage.along.high
    assert found.left_after["3"].along.high < found.left_after["1"].along.high


def test_shrink_resist_wool_is_held_to_three_per_cent_in_fifty_washes(knowledge):
    left = advise.prewash("wool flannel, superwash", knowledge=knowledge).left_after["1"]
    assert 50 * left.felting_each_wash.high <= 3.01
