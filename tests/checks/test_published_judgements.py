"""Published judgements of cloth and feature (the source stands in each row of published.csv).

`disagreements.csv` lists every row on which the advisor says something else, with the reason. A row that newly
disagrees fails, and so does one that stands in the list although it now agrees. A third of the rows, chosen by
source, was held out while calibrating.
"""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

import pytest

import advisor
from advisor.errors import Unclear
from advisor.knowledge import Knowledge

FOLDER = Path(__file__).parent / "judgements"
BALANCED = {"no": 0.72, "yes": 0.50}
"""The least mean recall of the three verdicts, on the rows calibrated on and on those held out."""
OPPOSITE = 0.08


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def said(knowledge: Knowledge) -> dict[str, str]:
    answers = {}
    for row in rows("published.csv"):
        cloth = ", ".join(part for part in (row["cloth"], row["condition"]) if part)
        try:
            answers[row["no"]] = advisor.check(cloth, [row["feature"]], knowledge=knowledge).verdict
        except Unclear:
            answers[row["no"]] = "unread"
    return answers


def test_a_row_disagrees_that_is_not_listed_with_its_reason(said: dict[str, str]) -> None:
    listed = {row["no"]: row for row in rows("disagreements.csv")}
    new = [r for r in rows("published.csv") if said[r["no"]] != r["verdict"] and r["no"] not in listed]
    assert not new, [(r["no"], r["cloth"], r["feature"], r["verdict"], said[r["no"]]) for r in new]
    assert all(row["reason"] for row in listed.values())


def test_a_listed_disagreement_is_none_any_more(said: dict[str, str]) -> None:
    published = {row["no"]: row["verdict"] for row in rows("published.csv")}
    assert not [r["no"] for r in rows("disagreements.csv") if said[r["no"]] == published[r["no"]]]


@pytest.mark.parametrize("held_out", ["no", "yes"])
def test_agreement_with_published_judgement_has_fallen(held_out: str, said: dict[str, str]) -> None:
    mine = [row for row in rows("published.csv") if row["held_out"] == held_out]
    total = Counter(row["verdict"] for row in mine)
    right = Counter(row["verdict"] for row in mine if said[row["no"]] == row["verdict"])
    opposite = [r for r in mine if {said[r["no"]], r["verdict"]} == {"suits", "avoid"}]
    assert sum(right[v] / total[v] for v in total) / len(total) >= BALANCED[held_out]
    assert held_out == "yes" or len(opposite) / len(mine) <= OPPOSITE
