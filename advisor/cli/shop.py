"""`advisor pick MAKE --shop`: the shopping brief."""

from __future__ import annotations

import re

from advisor import report
from advisor.cli.words import VERDICTS, Paper, label, score_text
from advisor.decide.shop import in_words


def _wish(row: report.WantedRow) -> str:
    unit = "" if row.unit == "grade" else f" {row.unit}"
    if row.low is None and row.high is None:
        return "any"
    if row.low is None:
        return f"at most {row.high:g}{unit}"
    if row.high is None:
        return f"at least {row.low:g}{unit}"
    return f"{row.low:g} to {row.high:g}{unit}"


_FIGURE = re.compile(r"(?<=[a-z]) (?=\d|none)")


def _reason(why: str) -> tuple[str, str]:
    """The property that a fibre is chosen or left for, and what it is wanted for."""
    first, _, wanted = why.partition(": ")
    return _FIGURE.split(first, maxsplit=1)[0], wanted


def show(answer: report.ShopReport, units: str = "metric", most: int = 9) -> None:
    """What to look for, first what matters most."""
    paper = Paper(units)
    paper.line(f"Shopping for {answer.make}", "bold")
    for line in answer.envelope:
        paper.item(line[0].upper() + line[1:] + ".", bullet="", indent=0)
    paper.head("The cloth")
    for row in answer.wanted[:most]:
        paper.item(f"{row.name}: {in_words(row.words)}, {_wish(row)}; {row.why[0]}.")
        for pull in row.pulls[:2]:
            paper.item(f"But {pull}.", bullet="", indent=6)
        for way in row.resolve[:2]:
            paper.item(way, bullet="> ", indent=6)
    if len(answer.wanted) > most:
        paper.item(f"{len(answer.wanted) - most} more, of less weight, with --json.", bullet="", style="dim")
    for title, rows in (("Fibres to prefer", answer.prefer), ("Fibres to leave", answer.leave)):
        if rows:
            paper.head(title)
            for reason in dict.fromkeys(_reason(row.why) for row in rows):
                same = [row for row in rows if _reason(row.why) == reason]
                named = (f"{label(row.fibre)} ({row.why.partition(': ')[0].removeprefix(reason[0]).strip()})" for row in same)
                paper.item(f"{reason[0]}: {', '.join(named)}; {reason[1]}.")
    if answer.metres:
        paper.head("How much")
        for line in answer.metres:
            paper.item(line + ".")
    if answer.notions:
        paper.item(f"Notions: {', '.join(answer.notions)}.")
    paper.head("Feel and try in the shop")
    for test in answer.feel[:4]:
        safety = f" {test.safety.rstrip('.')}." if test.safety else ""
        paper.item(f"{test.how} You want it {test.wants}.{safety}")
    paper.head("Cloths that fit best")
    for cloth in answer.cloths[:8]:
        paper.item(f"{cloth.cloth}: {VERDICTS[cloth.verdict].lower()}, {score_text(cloth.score)}.")
    paper.show()
