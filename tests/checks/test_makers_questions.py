"""Questions that home sewers asked in forums, comments and columns (the source stands in each row of asked.csv).

Cloth and feature are in the askers' words. Every one must be read whole. Where the thread gives an experienced answer,
the advisor's verdict agrees or the row stands in `disagreements.csv` with the reason; a row that newly disagrees fails,
and so does one that stands in the list although it now agrees. A score within `NEAR` points of the line between two
verdicts counts as either.
"""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import advisor
from advisor.asks import read_asks
from advisor.errors import Unclear

if TYPE_CHECKING:
    from advisor.knowledge import Knowledge
    from advisor.report import CheckReport

FOLDER = Path(__file__).parent / "questions"
KINDS = {
    "can I use", "what fabric", "lining", "prewash", "interfacing", "too light", "needle", "seam", "hem", "press",
    "too heavy", "buttons", "cutting",
}  # fmt: skip
VERDICTS = {"suits", "care", "avoid"}
AGREED = 0.64
"""The least share of the experienced answers met; makers answer of sewing and wearing too, which no verdict weighs."""
OPPOSITE = 0.07
NEAR = 2.5


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    with (FOLDER / name).open(newline="", encoding="utf-8") as file:
        return tuple(csv.DictReader(file))


ASKED = rows("asked.csv")
ANSWERED = [row for row in ASKED if row["answer_verdict"]]


@pytest.fixture(scope="module")
def reports(knowledge: Knowledge) -> dict[str, CheckReport]:
    return {r["id"]: advisor.check(r["cloth"], [r["feature"]], knowledge=knowledge) for r in ANSWERED}


@pytest.fixture(scope="module")
def said(reports: dict[str, CheckReport], knowledge: Knowledge) -> dict[str, set[str]]:
    """The verdict on each, and beside it the one across a line that the score lies near."""
    settings = knowledge.settings
    found = {}
    for number, report in reports.items():
        found[number] = {str(report.verdict)}
        for line, both in ((settings.suits_from, {"suits", "care"}), (settings.care_from, {"care", "avoid"})):
            if abs(report.score.expected - line) <= NEAR and report.verdict in both:
                found[number] |= both
    return found


def test_the_table_is_whole() -> None:
    assert len(ASKED) >= 200
    assert len({row["id"] for row in ASKED}) == len(ASKED)
    assert {row["kind"] for row in ASKED} <= KINDS
    assert {row["answer_verdict"] for row in ANSWERED} <= VERDICTS
    assert all(row["cloth"] and row["source"] for row in ASKED)
    assert all(row["feature"] and row["answer"] for row in ANSWERED)


@pytest.mark.parametrize("row", ASKED, ids=[row["id"] for row in ASKED])
def test_a_question_is_not_read_whole(row: dict[str, str], knowledge: Knowledge) -> None:
    sheet = advisor.press if row["kind"] == "press" else advisor.prewash
    try:
        cloth = sheet(row["cloth"], knowledge=knowledge).cloth
        unread = [word for ask in read_asks(row["feature"], knowledge) for word in ask.unread] if row["feature"] else []
    except Unclear as error:
        pytest.fail(error.line())
    assert not cloth.not_understood
    assert not unread


def test_a_row_disagrees_that_is_not_listed_with_its_reason(said: dict[str, set[str]]) -> None:
    listed = {row["id"] for row in rows("disagreements.csv")}
    new = [r for r in ANSWERED if r["answer_verdict"] not in said[r["id"]] and r["id"] not in listed]
    assert not new, [(r["id"], r["cloth"], r["feature"], r["answer_verdict"], said[r["id"]]) for r in new]


def test_a_listed_disagreement_is_none_any_more(said: dict[str, set[str]]) -> None:
    answers = {row["id"]: row["answer_verdict"] for row in ANSWERED}
    assert not [row["id"] for row in rows("disagreements.csv") if said[row["id"]] == {answers[row["id"]]}]


def test_every_disagreement_tells_its_reason_and_both_verdicts(said: dict[str, set[str]]) -> None:
    answers = {row["id"]: row["answer_verdict"] for row in ANSWERED}
    listed = rows("disagreements.csv")
    assert not [n for n, times in Counter(row["id"] for row in listed).items() if times > 1]
    assert all(row["reason"].strip() for row in listed)
    assert not [r for r in listed if r["answered"] != answers[r["id"]] or r["said"] not in said[r["id"]]]


def test_agreement_with_experienced_makers_has_fallen(reports: dict[str, CheckReport]) -> None:
    verdicts = [(str(reports[row["id"]].verdict), row["answer_verdict"]) for row in ANSWERED]
    assert sum(one == other for one, other in verdicts) / len(verdicts) >= AGREED
    assert sum({"suits", "avoid"} == set(both) for both in verdicts) / len(verdicts) <= OPPOSITE
