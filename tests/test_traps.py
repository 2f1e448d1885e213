"""Judging traps: what a plain property model gets wrong. Each test names the wrong answer."""

from __future__ import annotations

import pytest

import advisor
from advisor.knowledge import Knowledge


def score(cloth: str, feature: str, knowledge: Knowledge) -> float:
    return advisor.check(cloth, [feature], knowledge=knowledge).score.expected


def verdict(cloth: str, feature: str, knowledge: Knowledge) -> str:
    return advisor.check(cloth, [feature], knowledge=knowledge).verdict


@pytest.mark.parametrize(
    ("better", "worse", "feature"),
    [
        ("polyester chiffon", "linen, 150 gsm", "sunray pleats"),  # wrinkling in wear is not taking a pleat
        ("silk organza", "viscose challis", "stand-away shape"),  # weight is not drape
        ("wool crepe, 280 gsm", "silk organza", "draped folds"),
        ("silk organza", "silk charmeuse", "puff sleeve"),  # crispness flips between features
        ("viscose challis", "silk organza", "flutter sleeve"),
        ("wool felt", "cotton single jersey", "raw edge"),  # low fray is not a stable edge
        ("swim knit", "linen jersey", "negative ease"),  # stretch is not recovery
        ("wool flannel", "polyester gabardine", "eased sleeve cap"),  # not every suiting eases
        ("wool flannel", "wool gabardine", "eased sleeve cap"),
        ("cotton lawn", "polyester microfibre", "pintucks"),  # a smooth microfibre keeps pin holes
        ("cotton lawn", "soft tulle", "narrow rolled hem"),  # a rolled hem has a best weight
        ("cotton lawn", "denim, 400 gsm", "narrow rolled hem"),
        ("wool tweed", "wool melton", "fringed edge"),  # a fringe wants what other edges fear
        ("viscose challis", "taffeta", "flounce"),  # a flounce falls
        ("cotton poplin", "wool melton", "covered buttons 11 mm"),  # the back must still close
        ("cotton poplin", "silk chiffon", "covered buttons"),  # the shell shows
    ],
)
def test_the_worse_cloth_scores_as_well(better: str, worse: str, feature: str, knowledge: Knowledge) -> None:
    assert score(better, feature, knowledge) > score(worse, feature, knowledge) + 5


def test_a_firm_cloth_is_refused_a_circle_skirt(knowledge: Knowledge) -> None:
    assert verdict("taffeta", "circle skirt", knowledge) == "suits"
    assert verdict("wool crepe", "circle skirt", knowledge) == "suits"


def test_a_small_covered_button_sinks_a_whole_coat(knowledge: Knowledge) -> None:
    answer = advisor.check("wool melton", ["coat", "covered buttons 11 mm"], knowledge=knowledge)
    assert answer.features[1].verdict == "avoid"
    assert answer.verdict != "avoid"


def test_a_larger_shell_takes_no_thicker_cloth(knowledge: Knowledge) -> None:
    assert score("wool flannel", "covered buttons 29 mm", knowledge) > score(
        "wool flannel", "covered buttons 11 mm", knowledge
    )


def test_lengthwise_stretch_in_slim_trousers_goes_unsaid(knowledge: Knowledge) -> None:
    cloth = "cotton twill, 250 gsm, stretch along 25 %, stretch across 3 %"
    answer = advisor.check(cloth, ["tailored trousers"], knowledge=knowledge)
    assert any("along" in f.say.lower() for f in answer.findings if "tailored-trousers" in f.features)


def test_a_french_seam_is_said_to_save_a_slipping_seam(knowledge: Knowledge) -> None:
    answer = advisor.check("polyester satin", ["French seam", "fitted bodice"], knowledge=knowledge)
    assert any("slide" in f.say.lower() or "slip" in f.say.lower() for f in answer.findings)
