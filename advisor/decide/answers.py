"""The check's report with what it leads to: the next test, the remedies, what was supposed, and why."""

from __future__ import annotations

from collections.abc import Sequence

from advisor import report
from advisor.advise import Judgement, check_report, score_report
from advisor.knowledge import Knowledge


def decided(
    judgement: Judgement, knowledge: Knowledge, *, what_if: Sequence[str] = (), deciding: bool = True, why: bool = False
) -> report.CheckReport:
    """The report of a judged case; each part is worked out only where it is wanted."""
    supposed = None
    if what_if:
        from advisor.decide.whatif import supposing

        before = judgement
        judgement, read_as = supposing(judgement, what_if, knowledge)
        supposed = report.WhatIf(list(what_if), read_as, before.verdict, score_report(before.score))  # type: ignore[arg-type]
    answer = check_report(judgement, knowledge)
    answer.what_if = supposed
    if deciding:
        from advisor.decide.testing import next_test
        from advisor.owned import read_owned

        answer.next_test = next_test(judgement, knowledge)
        if any(f.verdict != "suits" for f in judgement.features):
            from advisor.decide.remedies import remedies_report

            answer.remedies = remedies_report(judgement, read_owned(), knowledge)
    if why:
        from advisor.decide.why import reasoning

        answer.why = reasoning(judgement, knowledge)
    return answer
