"""The next best test: of all the tests that can be made at home, the one that settles most for its minutes.

What a test is worth = points by which the range of the score narrows on average + 20 × the chance that the verdict
changes. Its outcome is one of eight equally likely figures across the property's range, each known to the test's
spread. Minutes are reckoned with two more for setting out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor import report
from advisor.advise import Judgement
from advisor.decide.narrowing import Narrowing
from advisor.knowledge import Knowledge
from advisor.model import HomeTest
from advisor.ranges import Range

STRATA = 8
VERDICT_WORTH = 20.0
SETTING_OUT = 2.0
LEAST = 0.05
"""A test that is worth less than this, in points, is not worth making."""
ORDER = ("suits", "care", "avoid")


@dataclass(frozen=True)
class Worth:
    """What one test is worth: points, points per minute, and the verdicts that its outcomes lead to."""

    test: HomeTest
    value: float
    verdicts: tuple[str, ...]

    @property
    def rate(self) -> float:
        return self.value / (self.test.minutes + SETTING_OUT)


def outcomes(known: Range, spread: float) -> Iterator[Range]:
    """The ranges that the test may leave, equally likely."""
    for place in range(STRATA):
        middle = known.low + known.width * (place + 0.5) / STRATA
        yield Range(max(known.low, middle - spread), min(known.high, middle + spread))


def best(judgement: Judgement, knowledge: Knowledge) -> Worth | None:
    """The test worth most for its minutes, or None where nothing that matters is uncertain."""
    uncertain = {p for p, known in judgement.case.profile.known.items() if known.range.width > 0}
    narrowing = Narrowing(judgement, knowledge)
    matter = narrowing.properties() & uncertain
    tests = sorted((t for t in knowledge.tests.values() if t.property in matter), key=lambda t: (t.minutes, t.spread, t.id))
    width = judgement.score.high - judgement.score.low
    found: Worth | None = None
    for test in tests:
        minutes = test.minutes + SETTING_OUT
        total, verdicts, given_up = 0.0, set(), False
        for place, value in enumerate(outcomes(judgement.case.profile.known[test.property].range, test.spread)):
            if found and (total + (STRATA - place) * (width + VERDICT_WORTH)) / STRATA / minutes <= found.rate:
                given_up = True  # even if every outcome left were sure, it could not be the best
                break
            score, verdict = narrowing.at(test.property, value)
            total += width - (score.high - score.low) + (VERDICT_WORTH if verdict != judgement.verdict else 0)
            verdicts.add(verdict)
        if not given_up and total / STRATA >= LEAST:
            worth = Worth(test, total / STRATA, tuple(v for v in ORDER if v in verdicts))
            if found is None or worth.rate > found.rate:
                found = worth
    return found


def next_test(judgement: Judgement, knowledge: Knowledge) -> report.NextTest | None:
    """The next best test as it is reported."""
    found = best(judgement, knowledge)
    if found is None:
        return None
    test = found.test
    return report.NextTest(
        test.id, test.property, test.minutes, list(found.verdicts),  # type: ignore[arg-type]
        " ".join(step.rstrip(".") + "." for step in test.how),
        (test.names or [test.id.replace("-", " ")])[0], round(found.value, 1), test.safety,
    )  # fmt: skip
