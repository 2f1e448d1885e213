"""Over the whole grid of cloth and feature: an answer exists and is explained, and it moves as the trade says."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from advisor.advise import Case, Judgement, findings_report, judge, profile_of
from advisor.asks import Ask
from advisor.knowledge import Knowledge
from advisor.profile import Profile
from advisor.ranges import Range

CI_PAIRS = 800


def judged(profile: Profile, feature: str, knowledge: Knowledge) -> Judgement:
    return judge(Case(profile, (Ask(feature.replace("-", " "), feature),)), knowledge)


def explained(answer: Judgement, knowledge: Knowledge) -> bool:
    """Something says why the score is below the best: a demand, a part or a finding."""
    (feature,) = answer.features
    if feature.score.expected >= 99:
        return True
    reasons = [m for m in feature.met if m.expected < 0.995 and m.demand.why]
    parts = [p for p in feature.parts if p.score.expected < 99.5]
    return bool(reasons or parts or [f for f in findings_report(answer.findings, knowledge) if f.effect < 1 and f.say])


def test_a_cloth_and_a_feature_have_no_explained_answer(knowledge: Knowledge, request: pytest.FixtureRequest) -> None:
    named = [c.id for c in knowledge.cloths.values() if c.kind == "cloth"]
    pairs = [(cloth, feature) for cloth in named for feature in knowledge.features]
    if not request.config.getoption("--full"):
        pairs = random.Random(3).sample(pairs, CI_PAIRS)
    profiles: dict[str, Profile] = {}
    dumb = []
    for cloth, feature in sorted(pairs):
        profile = profiles.get(cloth) or profiles.setdefault(cloth, profile_of(cloth.replace("-", " "), knowledge))
        answer = judged(profile, feature, knowledge)
        low, expected, high = answer.score.low, answer.score.expected, answer.score.high
        if not 0 <= low <= expected <= high <= 100 or not explained(answer, knowledge):
            dumb.append((cloth, feature, answer.score))
    assert not dumb, dumb[:5]


EVERYDAY = [
    "silk chiffon", "cotton lawn", "cotton poplin", "linen", "denim", "corduroy", "silk velvet", "silk satin",
    "taffeta", "wool crepe", "wool flannel", "tweed", "wool melton", "viscose challis", "cotton jersey", "ponte",
    "sweater knit", "fleece", "lace", "tulle", "faux fur", "leather", "softshell", "swimwear knit",
]  # fmt: skip
PLAIN = {"plain-seam", "simple-style", "stay-tape", "stabilised-knit-seam", "sew-in-interfacing"}
"""What nearly any cloth takes with the needle and thread that it asks for."""


@pytest.fixture(scope="module")
def verdicts(knowledge: Knowledge) -> dict[str, dict[str, str]]:
    profiles = {cloth: profile_of(cloth, knowledge) for cloth in EVERYDAY}
    return {
        cloth: {feature: judged(profile, feature, knowledge).verdict for feature in knowledge.features}
        for cloth, profile in profiles.items()
    }


@pytest.mark.parametrize("cloth", EVERYDAY)
def test_a_cloth_suits_everything_or_nothing(cloth: str, verdicts: dict[str, dict[str, str]]) -> None:
    said = list(verdicts[cloth].values())
    assert said.count("avoid") >= 8 and said.count("suits") >= 20


def test_a_feature_refuses_every_cloth(verdicts: dict[str, dict[str, str]], knowledge: Knowledge) -> None:
    refused = [f for f in knowledge.features if not any(verdicts[c][f] == "suits" for c in EVERYDAY)]
    assert not refused


def test_a_garment_takes_every_cloth(verdicts: dict[str, dict[str, str]], knowledge: Knowledge) -> None:
    garments = [f.id for f in knowledge.features.values() if f.group == "whole garment" and f.id not in PLAIN]
    assert not [f for f in garments if all(verdicts[c][f] == "suits" for c in EVERYDAY)]


def at(profile: Profile, prop: str, value: float, feature: str, knowledge: Knowledge) -> float:
    """The score where one property is measured and all the others stay."""
    known = dict(profile.known) | {prop: profile.known[prop]._replace(range=Range(value, value), evidence="measured")}
    return judged(replace(profile, known=known), feature, knowledge).score.expected


MONOTONE = [
    ("raw-edge", "fray", -1), ("buttonholes", "fray", -1), ("pinked-seam", "fray", -1), ("fringed-edge", "fray", +1),
    ("gathers", "thickness", -1), ("french-seam", "thickness", -1), ("rouleau-loops", "thickness", -1),
    ("facing", "opacity", +1), ("darts", "opacity", +1), ("many-seams", "opacity", +1), ("leggings", "recovery", +1),
    ("swimsuit", "stretch_across", +1), ("corset", "stretch_across", -1), ("deep-turned-hem", "stretch_across", -1),
    ("pencil-skirt", "slippage", -1), ("fitted-bodice", "slippage", -1), ("baby-wear", "softness", +1),
    ("eased-sleeve-cap", "ease", +1), ("knife-pleats", "crease", +1), ("sundress", "breath", +1),
    ("fusible-interfacing", "heat_limit", +1), ("raw-edge", "curl", -1),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "prop", "way"), MONOTONE)
def test_more_of_what_harms_makes_it_better(feature: str, prop: str, way: int, knowledge: Knowledge) -> None:
    domain = knowledge.properties[prop].domain
    steps = [domain.low + domain.width * i / 12 for i in range(13)]
    for cloth in ("cotton poplin", "wool flannel", "cotton jersey", "silk satin"):
        scores = [at(profile_of(cloth, knowledge), prop, value, feature, knowledge) for value in steps]
        rises = [b - a for a, b in pairwise(scores)]
        assert all(way * rise >= -1e-6 for rise in rises), (cloth, list(zip(steps, scores, strict=True)))


@pytest.mark.parametrize(
    ("feature", "prop", "below", "best", "above"),
    [("narrow-rolled-hem", "thickness", 0.02, 0.12, 0.6), ("narrow-rolled-hem", "weight", 10, 70, 260),
     ("covered-buttons", "thickness", 0.03, 0.3, 1.4), ("pencil-skirt", "weight", 60, 240, 800),
     ("shirt", "weight", 15, 120, 400), ("tailored-jacket", "drape", 10, 60, 100)],
)  # fmt: skip
def test_a_best_figure_is_not_a_peak(
    feature: str, prop: str, below: float, best: float, above: float, knowledge: Knowledge
) -> None:
    profile = profile_of("cotton poplin", knowledge)
    low, top, high = (at(profile, prop, value, feature, knowledge) for value in (below, best, above))
    assert low < top - 10 and high < top - 10
