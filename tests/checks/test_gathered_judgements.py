"""Published judgements gathered after the curves were drawn: how well the advisor agrees with what it was not taught by.

`gathered.csv` holds statements of tutorials, columns and single sewers; `institutions.csv` those of leaflets, school
books and manuals (each row names its source). Many sources give one maker's taste and contradict each other, so that
the floors are low; they stand a little below what was measured, and hold the agreement from falling unseen.
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
FLOORS = {"gathered.csv": (0.50, 0.13, 0.97), "institutions.csv": (0.50, 0.12, 0.97)}
"""File → least mean recall of the three verdicts, most opposite answers, least share read."""


@pytest.mark.parametrize("name", FLOORS)
def test_agreement_with_judgements_gathered_later_has_fallen(name: str, knowledge: Knowledge) -> None:
    balanced, opposite, read = FLOORS[name]
    with (FOLDER / name).open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    said = []
    for row in rows:
        cloth = ", ".join(part for part in (row["fabric"], row["condition"]) if part)
        try:
            said.append(advisor.check(cloth, [row["feature"]], knowledge=knowledge).verdict)
        except Unclear:
            said.append("unread")
    pairs = list(zip((row["verdict"] for row in rows), said, strict=True))
    total, right = Counter(w for w, _ in pairs), Counter(w for w, s in pairs if w == s)
    mean = sum(right[v] / n for v, n in total.items()) / len(total)
    against = sum({w, s} == {"suits", "avoid"} for w, s in pairs) / len(pairs)
    understood = sum(s != "unread" for _, s in pairs) / len(pairs)
    assert mean >= balanced and understood >= read and against <= opposite, (mean, against, understood)
    assert all(row["source"] for row in rows)
