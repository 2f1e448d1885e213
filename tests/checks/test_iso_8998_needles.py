"""Machine needles: Nm is the blade in hundredths of a millimetre (ISO 8998; here from an apparel-science article on the
needle number system, first section), and US size to Nm as published: article, American number system; craft wiki,
metric / US table; question-and-answer page, list of sizes. Nm = 60 + 5 (US - 8) from US 8 to 18 (article); US 17 or
18 are both printed for Nm 110.
"""

from __future__ import annotations

import re

import pytest

US_OF = {
    60: {8}, 65: {9}, 70: {10}, 75: {11}, 80: {12}, 85: {13}, 90: {14}, 95: {15}, 100: {16}, 105: {17}, 110: {17, 18}, 120: {19},
    125: {20}, 130: {21}, 140: {22},
}  # fmt: skip
PAIR = re.compile(r"(\d{2,3})(?: to (\d{2,3}))?(?: mm)? \(US (\d{1,2})(?: to (\d{1,2}))?\)")


def pairs(knowledge):
    for rule in knowledge.rules.values():
        for text in (rule.then.say, rule.then.do):
            for match in PAIR.finditer(text):
                metric = [int(g) for g in match.groups()[:2] if g]
                american = [int(g) for g in match.groups()[2:] if g]
                yield rule.id, metric, american


def test_every_needle_size_is_given_in_both_systems_and_they_agree(knowledge):
    found = list(pairs(knowledge))
    assert len(found) >= 10, "the rules hardly name needle sizes"
    for rule, metric, american in found:
        assert len(metric) == len(american), rule
        for nm, us in zip(metric, american, strict=True):
            assert us in US_OF[nm], f"{rule}: Nm {nm} is US {sorted(US_OF[nm])}, not {us}"


def test_a_us_size_never_stands_without_its_metric_size(knowledge):
    for rule in knowledge.rules.values():
        for text in (rule.then.say, rule.then.do):
            assert len(re.findall(r"\bUS \d", text)) == len(PAIR.findall(text)), rule.id


def test_thicker_cloth_is_never_given_a_thinner_needle(knowledge):
    """Textile reference article, needles for stitching textiles: light woven 65-75, medium 80-90, heavy 100-110."""
    from advisor.advise import CHECK_KINDS, profile_of
    from advisor.infer import inference_for

    largest = []
    for weight in (30, 80, 140, 220, 330, 500):
        found = inference_for(knowledge).findings(
            profile_of(f"cotton, measured {weight} gsm", knowledge), [], [], CHECK_KINDS
        )
        ids = {f.rule.id for f in found if f.sure}
        sizes = [max(metric) for rule, metric, _ in pairs(knowledge) if rule in ids and "jeans" not in rule]
        if sizes:
            largest.append(max(sizes))
    assert len(largest) >= 4
    assert largest == sorted(largest)


@pytest.mark.parametrize(("weight", "published"), [(90, (65, 75)), (240, (80, 90)), (500, (100, 110))])
def test_the_needle_for_a_weight_meets_the_published_range(knowledge, weight, published):
    """The same article: shirts and blouses 65-75, suits 80-90, coats 100-110."""
    from advisor.advise import CHECK_KINDS, profile_of
    from advisor.infer import inference_for

    found = inference_for(knowledge).findings(
        profile_of(f"wool plain weave, measured {weight} gsm", knowledge), [], [], CHECK_KINDS
    )
    ids = {f.rule.id for f in found if f.sure}
    given = [metric for rule, metric, _ in pairs(knowledge) if rule in ids]
    assert any(min(m) <= published[1] and published[0] <= max(m) for m in given), given
