"""What a pattern's envelope says, from its text: suggested and unsuited cloths, stretch, cloth needed, notions.

The whole back of an envelope may be given, or one of its parts. Its words stand in `knowledge/lists/envelope.yaml`.
What is read as anything but the plain words of the line is noted; what cannot be read is listed with its line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from advisor.errors import Unclear
from advisor.makes import NeededRow
from advisor.making.envelope_words import EnvelopeWords, finder, printed
from advisor.making.yardage import Unread, YardageReader, legend, opens_table
from advisor.need.units import read_length

Section = Literal["", "suggests", "not_for", "notions", "table", "stretch", "about"]
MOST_CHARACTERS, MOST_OF_A_LINE = 20_000, 1000
MOST_STRETCH = 300
"""% beyond which a stretch is a slip of reading."""


@dataclass
class Suggested:
    """Cloths as the envelope names them, and what their words say of the kind of cloth and its stretch in %."""

    cloths: list[str] = field(default_factory=list)
    kind: Literal["", "woven", "knit"] = ""
    stretch: Stretch | None = None
    notes: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Stretch:
    """The least stretch in %, along and across the cloth; None where nothing is asked."""

    along: float | None = None
    across: float | None = None
    notes: tuple[str, ...] = ()


@dataclass
class EnvelopeText:
    """All that was read from an envelope."""

    title: str = ""
    """The first line, where nothing else is read from it."""
    suggests: list[str] = field(default_factory=list)
    not_for: list[str] = field(default_factory=list)
    kind: Literal["", "woven", "knit"] = ""
    stretch_along: float | None = None
    stretch_across: float | None = None
    rows: list[NeededRow] = field(default_factory=list)
    notions: list[str] = field(default_factory=list)
    advice: list[str] = field(default_factory=list)
    """Sentences for the cutting table, kept as the make's notes."""
    notes: list[str] = field(default_factory=list)
    """How something was read, where it was not read plainly."""
    unread: list[Unread] = field(default_factory=list)


# ---- single parts ----


def split_names(text: str) -> list[str]:
    """The names of a list in words: at commas, semicolons, 'or' and the last 'and', not inside brackets."""
    found: list[str] = []
    depth, start = 0, 0
    for at, ch in enumerate(text):
        depth += (ch == "(") - (ch == ")")
        decimal = ch == "," and text[at - 1 : at].isdigit() and text[at + 1 : at + 2].isdigit()
        if ch in ",;\n" and depth <= 0 and not decimal:
            found.append(text[start:at])
            start = at + 1
    found.append(text[start:])
    found = [name for part in found for name in re.split(r"\s+or\s+", part)]
    found[-1:] = re.split(r"\s+(?:and|&)\s+", found[-1])
    cleaned = (re.sub(r"^(?:and|or|&)\s+", "", name.strip(" .:*\t-•·"), flags=re.IGNORECASE) for name in found)
    return list(dict.fromkeys(" ".join(name.split()) for name in cleaned if name))


def read_cloths(text: str, words: EnvelopeWords) -> Suggested:
    """Cloths as an envelope suggests them: 'lightweight wovens such as lawn, voile'. Raises `Unclear` for none."""
    found = Suggested()
    plain = printed(_short_enough(text))
    low = " ".join(plain.split())
    kinds = [kind for kind, names in words.kinds.items() if finder(names).search(low)]
    if len(kinds) == 1:
        found.kind = kinds[0]
    elif len(kinds) > 1:
        found.notes.append("both wovens and knits are suggested, so neither is ruled out")
    if stretch_said(low, words):
        found.stretch = read_stretch(low, words)
    low = re.sub(r"\([^()]*(?:stretch|%)[^()]*\)", " ", low)
    lead = finder(words.leads).search(low)
    groups = [low[: lead.start()], low[lead.end() :]] if lead else [low]
    ends = re.compile(rf"[\s,.]*(?:{finder(words.ends).pattern})[\s.]*$")
    for group in groups:
        for name in split_names(re.sub(r":", ",", group)):
            name = ends.sub("", re.sub(r"\s*(?:\bwith\s+)?\b\d+\s*%.*$", "", name)).strip(" .,")
            if name and name not in found.cloths and not re.fullmatch(r"[\d%\s]*", name):
                found.cloths.append(name)
    if lead and found.cloths and found.kind and finder(words.kinds[found.kind]).fullmatch(found.cloths[0]):
        found.cloths.pop(0)  # 'wovens such as …' adds nothing to the kind
    if not found.cloths:
        raise Unclear(f"'{text.strip()[:60]}'", "cloths in words", "lawn, voile, challis")
    return found


def stretch_said(text: str, words: EnvelopeWords) -> bool:
    """Whether a text gives a figure or a trade class of stretch."""
    low = printed(text)
    return bool(
        finder([n for c in words.classes for n in c.names]).search(low)
        or (re.search(r"\bstretch", low) and re.search(r"\d", low))
        or (re.search(r"\d\s*%", low) and finder([w for names in words.ways.values() for w in names]).search(low))
    )


_SIZE = r"(?<!\d)\d{1,2}/\d{1,2}|(?<!\d)\d{1,3}(?:[.,]\d{1,3})?(?:\s+\d{1,2}/\d{1,2})?(?!\d)"
_LEN = rf"((?:{_SIZE})\s*(?:cm|mm|\"|in(?:ch(?:es)?)?|ins)?)(?![a-z%])"
_FROM_TO = re.compile(rf"{_LEN}[^%]*?(?:\bto\b(?:\s+(?:at\s+least|a\s+minimum\s+of))?|->|→|\breach(?:es)?\b)\s*{_LEN}")
_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:%|per\s?cent)")


def read_stretch(text: str, words: EnvelopeWords) -> Stretch:
    """The stretch gauge: 'from 10 cm to 13.5 cm', '25 % crosswise and 10 % lengthwise', 'moderate stretch knits only'.

    Stretched length over length at rest, less one, in %. Without a direction it is across, as a gauge is printed.
    Raises `Unclear` for what is no stretch.
    """
    if len(text) > MOST_OF_A_LINE:
        raise Unclear(f"a stretch gauge of {len(text)} characters", f"a sentence of at most {MOST_OF_A_LINE}")
    low = " ".join(re.sub(r"\([^()]*\)", lambda m: m.group(0) if "%" in m.group(0) else " ", printed(text)).split())
    found: dict[str, float] = {}
    notes: list[str] = []
    clauses = [c for c in re.split(r"[;,](?!\d)|\band\b(?!\s+(?:crosswise|lengthwise)\s*$)", low) if c.strip()]
    if finder(words.ways["both"]).search(low):
        clauses = [low]
    for clause in clauses:
        value = _stretch_of(clause, words, notes)
        if value is None:
            continue
        if not 0 < value <= MOST_STRETCH:
            raise Unclear(f"a stretch of {value:.0f} % in '{text.strip()[:60]}'", f"more than 0 and at most {MOST_STRETCH} %")
        ways = [w for w in ("both", "along", "across") if finder(words.ways[w]).search(clause)]
        if "both" in ways or {"along", "across"} <= set(ways):
            ways = ["along", "across"]
        if not ways:
            ways = ["across"]
            notes.append("no direction is said, so the stretch is taken across the cloth")
        for way in ways:
            found.setdefault(way, round(value, 1))
    if not found:
        raise Unclear(
            f"stretch '{text.strip()[:60]}'", "two lengths, a percentage, or a class", "from 10 cm to 13.5 cm crosswise"
        )
    return Stretch(found.get("along"), found.get("across"), tuple(dict.fromkeys(notes)))


def _stretch_of(clause: str, words: EnvelopeWords, notes: list[str]) -> float | None:
    percent = _PERCENT.search(clause)
    if percent:
        return float(percent.group(1).replace(",", "."))
    pair = _FROM_TO.search(clause)
    if pair:
        unit = next((u for u in (re.sub(r"[\d\s.,/]", "", g) for g in pair.groups()) if u), "cm")
        rest, long = (read_length(g if re.search(r"[a-z\"]", g) else f"{g} {unit}", "cm", "length") for g in pair.groups())
        if rest <= 0 or long <= rest:
            raise Unclear(f"'{clause.strip()[:60]}'", "the length at rest first, then the longer one", "from 10 cm to 13.5 cm")
        return (long / rest - 1) * 100
    best: tuple[int, float, str] | None = None
    for kind in words.classes:
        match = finder(kind.names).search(clause)
        if match and (best is None or len(match.group(0)) > best[0]):
            best = (len(match.group(0)), kind.at_least_pct, match.group(0))
    if best is None:
        return None
    notes.append(f"'{best[2]}' is taken as at least {best[1]:g} %; put the printed gauge in its place if there is one")
    return best[1]


def read_table(text: str, words: EnvelopeWords) -> YardageReader:
    """A pasted table of cloth needed; its rows, notes and unread lines are in `.table`."""
    marks, text = legend(_short_enough(text), words)
    reader = YardageReader(words, marks)
    for number, line in enumerate(text.split("\n"), 1):
        heading, rest = _heading_of(line, words)
        line = rest if heading == "table" else line
        if not reader.line(number, line):
            reader.table.unread.append(Unread(number, line.strip(), "nothing of a table in it", "a width with a length, a view, sizes or a part"))
    return reader


def _short_enough(text: str) -> str:
    if len(text) > MOST_CHARACTERS:
        raise Unclear(f"a text of {len(text)} characters", f"an envelope of at most {MOST_CHARACTERS}")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > MOST_OF_A_LINE:
            raise Unclear(f"line {number} of {len(line)} characters", f"lines of at most {MOST_OF_A_LINE}, as they are printed")
    return text


# ---- the whole envelope ----


def read_envelope(text: str, words: EnvelopeWords) -> EnvelopeText:
    """The back of an envelope as pasted; each line is taken by its heading, or by what it holds."""
    marks, text = legend(_short_enough(text), words)
    reader = YardageReader(words, marks)
    found = EnvelopeText()
    section: Section = ""
    gathered: dict[str, list[tuple[int, str]]] = {}
    for number, raw in _sentences(text, words):
        if not raw.strip():
            if section not in ("", "table"):
                section = ""  # a list of words ends at a blank line; a table may hold one
            continue
        heading, rest = _heading_of(raw, words)
        if heading:
            section, raw = heading, rest
            if not raw.strip():
                continue
        low = printed(raw).strip()
        if section not in ("", "table", "about") and opens_table(low, words):
            section = "table"
        if finder(words.advice).match(low):
            found.advice.append(raw.strip())
        elif section == "about":
            continue
        elif section in ("", "table") and reader.line(number, raw):
            pass
        elif not section and stretch_said(low, words):
            gathered.setdefault("stretch", []).append((number, raw))
        elif section in ("", "table"):
            if found.title or number > 3 or gathered or reader.table.rows:
                found.unread.append(Unread(number, raw.strip(), "no heading, and no width with a length", "words behind a heading, or a line of the table"))
            else:
                found.title = raw.strip()
        else:
            gathered.setdefault(section, []).append((number, raw))
    _take_words(gathered, found, words)
    found.rows = reader.table.rows
    found.notes += reader.table.notes
    found.unread = sorted([*found.unread, *reader.table.unread], key=lambda u: u.line)
    return found


def _sentences(text: str, words: EnvelopeWords) -> Iterator[tuple[int, str]]:
    """(line number, text): lines, parted where a new sentence opens another section."""
    for number, line in enumerate(text.split("\n"), 1):
        start = 0
        for match in re.finditer(r"[.;]\s+", line):
            rest = line[match.end() :]
            if _heading_of(rest, words)[0] or finder(words.advice).match(printed(rest).strip()):
                yield number, line[start : match.start()]
                start = match.end()
        yield number, line[start:]


def _heading_of(raw: str, words: EnvelopeWords) -> tuple[Section, str]:
    """The section that a line opens, and what stands behind the heading."""
    low = printed(raw).strip()
    best: tuple[int, Section] = (0, "")
    for section, names in words.headings.items():
        for name in names:
            if low.startswith(name) and len(name) > best[0]:
                behind = low[len(name) :]
                if re.match(r"\s*(?:[:.-]\s|[:.-]?$|:)", behind) or (len(name.split()) > 1 and re.match(r"\s", behind)):
                    best = (len(name), section)  # type: ignore[assignment]
    if not best[0]:
        return "", raw
    match = re.search(re.escape(low[: best[0]]).replace(r"\ ", r"\s+"), raw, re.IGNORECASE)
    behind = raw[match.end() :] if match else raw[best[0] :]
    return best[1], re.sub(r"^\s*[:.\-–—]\s*", "", behind)


def _take_words(gathered: dict[str, list[tuple[int, str]]], found: EnvelopeText, words: EnvelopeWords) -> None:
    """The sections that are words: cloths, what is unsuited, notions and stretch."""
    stretches: list[Stretch] = []
    for section, lines in gathered.items():
        text = _joined([raw for _, raw in lines])
        try:
            if section == "suggests":
                read = read_cloths(text, words)
                found.suggests, found.kind = read.cloths, read.kind
                found.notes += read.notes
                stretches += [read.stretch] if read.stretch else []
            elif section == "not_for":
                found.not_for = read_cloths(text, words).cloths
            elif section == "notions":
                found.notions = split_names(text)
            elif section == "stretch":
                stretches.insert(0, read_stretch(text, words))  # the gauge counts before a class of stretch
        except Unclear as error:
            found.unread.append(Unread(lines[0][0], text, error.given, error.expected))
    for stretch in stretches:
        if found.stretch_along is None and found.stretch_across is None:
            found.stretch_along, found.stretch_across = stretch.along, stretch.across
            found.notes += stretch.notes
    if stretches and not found.kind and not found.suggests:
        found.notes.append("a stretch is asked for: say whether the pattern is for knits or for stretch wovens")


def _joined(lines: list[str]) -> str:
    """Lines of one list as one: a line's end parts two items unless a comma, a joining word or a lower-case word follows on."""
    text = ""
    for line in (line.strip() for line in lines):
        follows = text.endswith((",", ";", "-")) or re.search(r"\b(?:and|or|of|with|as|for|in)$", text) or re.match(r"(?:and|or)\b", line)
        text += (" " if follows or not text else ", ") + line
    return text.strip()
