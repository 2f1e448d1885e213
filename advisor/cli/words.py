"""What the views share: nearest words, JSON out, and plain text laid out for the width of the terminal."""

from __future__ import annotations

import os
import re
import shutil
import sys
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path

import msgspec

from advisor import report
from advisor.cli.measures import celsius as celsius
from advisor.cli.measures import in_words
from advisor.knowledge import Knowledge, load

VERDICTS = {"suits": "SUITS", "care": "SUITS WITH CARE", "avoid": "AVOID"}
_STYLES = {
    "bold": "1",
    "dim": "2",
    "suits": "1;32",
    "care": "1;33",
    "avoid": "1;31",
    "stop": "1;31",
    "safety": "1",
}


def nearest(word: str, names: Iterable[str]) -> str:
    """'; nearest: …' or nothing."""
    found = get_close_matches(word, list(names), 1, 0.4)
    return f"; nearest: {found[0]}" if found else ""


def knowledge_from(folders: list[Path] | None) -> Knowledge:
    return load(tuple(folders or ()))


def emit(answer: msgspec.Struct) -> None:
    """One JSON document on standard output."""
    sys.stdout.write(msgspec.json.format(msgspec.json.encode(answer), indent=2).decode() + "\n")


class Paper:
    """Lines of text no wider than the terminal, styled only where a terminal shows it and NO_COLOR is not set.

    Figures are written in metric units, and said in yards, inches, ounces and Fahrenheit where `units` is imperial.
    """

    def __init__(self, units: str = "metric") -> None:
        self.units = units
        self.width = max(40, min(shutil.get_terminal_size((80, 24)).columns, 120))
        self.styled = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
        self.lines: list[str] = []

    def style(self, text: str, name: str) -> str:
        return f"\x1b[{_STYLES[name]}m{text}\x1b[0m" if self.styled and name in _STYLES else text

    def line(self, text: str = "", style: str = "", *, in_both: bool = False) -> None:
        """One line as it stands; `in_both` where both units are in it already."""
        text = text if in_both else in_words(text, self.units)
        self.lines.append(self.style(text, style) if style else text)

    def head(self, text: str) -> None:
        self.line()
        self.line(text, "bold")

    def item(self, text: str, *, bullet: str = "- ", indent: int = 2, style: str = "") -> None:
        """A wrapped paragraph behind a bullet."""
        first = " " * indent + bullet
        text = in_words(text, self.units)
        wrapped = textwrap.wrap(
            text,
            self.width,
            initial_indent=first,
            subsequent_indent=" " * len(first),
            break_long_words=True,
            break_on_hyphens=False,
        ) or [first]
        self.lines += [self.style(line, style) if style else line for line in wrapped]

    def hung(self, name: str, text: str, wide: int, *, indent: int = 2) -> None:
        """A name and what is said of it, the text hanging beside names of that width."""
        room = indent + wide + 2
        lines = textwrap.wrap(in_words(text, self.units), max(20, self.width - room), break_on_hyphens=False) or [""]
        first = f"{' ' * indent}{name:<{wide}}"
        self.lines += [f"{first}  {lines[0]}".rstrip()] if len(name) <= wide else [first, " " * room + lines[0]]
        self.lines += [" " * room + line for line in lines[1:]]

    def show(self) -> None:
        print("\n".join(self.lines))


def span_text(span: report.Span, unit: str = "") -> str:
    """'5' or '3 to 6', with a unit behind it."""
    figure = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return f"{figure} {unit}".rstrip()


def shrunk_text(span: report.Span) -> str:
    """Shrinkage in %, growth said as such: '3 to 5 %', 'grows 2 %', 'from 1 % longer to 5 % shorter'."""
    if span.high < 0:
        return f"grows {span_text(report.Span(-span.high, -span.low), '%')}"
    if span.low < 0:
        return f"from {-span.low:g} % longer to {span.high:g} % shorter" if span.high else f"0 to {-span.low:g} % longer"
    return span_text(span, "%")


def score_text(score: report.Scored) -> str:
    """The expected score with its range, 'how sure' at a glance."""
    low, mid, high = round(score.low), round(score.expected), round(score.high)
    return f"{mid} of 100" if high - low <= 2 else f"{mid} of 100 ({low} to {high})"


def cloth_lines(paper: Paper, cloth: report.ClothReport) -> None:
    """How the cloth was read, and what was not understood."""
    paper.item(cloth.read_as or cloth.given, bullet="", indent=0)
    if cloth.not_understood:
        words = ", ".join(
            f"{w} (nearest: {cloth.nearest[w]})" if w in cloth.nearest else w for w in cloth.not_understood
        )
        paper.item(f"Not understood, and left out: {words}.", bullet="", indent=0)
    for note in cloth.notes:
        paper.item(note[0].upper() + note[1:] + ".", bullet="", indent=0, style="dim")


def left_out(words: Sequence[str]) -> str:
    """What was not understood of a cloth among others."""
    return f"Not understood, and left out: {', '.join(words)}."


def finding_lines(paper: Paper, findings: Iterable[report.FindingReport], *, limit: int = 100) -> None:
    """Findings: what, then what to do."""
    for finding in list(findings)[:limit]:
        may = "" if finding.certainty == "sure" else " (may apply)"
        paper.item(
            f"{finding.say}{may} {finding.do}".strip(),
            bullet="- ",
            style="stop" if finding.kind == "stop" else "",
        )


def lesson_lines(paper: Paper, lessons: Sequence[report.LessonReport], *, most: int = 5) -> None:
    """What the maker's own log says of the case, marked as such."""
    if not lessons:
        return
    paper.head("From your own log")
    for lesson in lessons[:most]:
        went = {"well": " Went well.", "badly": " Went badly."}.get(lesson.went, "")
        of = "this piece" if lesson.because == "this piece" else lesson.cloth
        why = {"a like cloth": ", a like cloth", "this rule": ", about a rule that holds here"}.get(lesson.because, "")
        said = lesson.line.rstrip(".")
        paper.item(f"{said[:1].upper()}{said[1:]}.{went} ({lesson.make}, {lesson.day}, in {of}{why})")
    if len(lessons) > most:
        paper.item(f"{len(lessons) - most} more with --json.", bullet="", style="dim")


_LETTER = re.compile(r"\b([a-z])-(?=[a-z]{3})")


def label(feature_id: str) -> str:
    """An id as words; a letter that stands for a shape is a capital ('v-neck' is 'V-neck')."""
    return _LETTER.sub(lambda m: f"{m[1].upper()}~", feature_id).replace("-", " ").replace("~", "-")


def figures_text(figures: Mapping[str, float]) -> str:
    """Figures said of a feature behind its name, as a maker writes them: ', 12 mm', ', 25 cm'; its count stands before it."""
    said = ""
    for name, value in figures.items():
        what, _, unit = name.rpartition("_")
        if unit == "mm" and value >= 100:
            unit, value = "cm", value / 10
        if name != "count":
            said += f", {value:g} {unit}" if what and unit in ("mm", "cm", "m", "g") else f", {name.replace('_', ' ')} {value:g}"
    return said


def unit_text(unit: str) -> str:
    """A unit behind its figure; grades run from 0 to 5 and say so."""
    return " of 5" if unit == "grade" else f" {unit}" if unit else ""

