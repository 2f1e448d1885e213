"""The table of cloth needed as an envelope prints it: widths, views, sizes, nap and parts, in yards or metres.

A table is read line by line. A line that names views, sizes, a part or widths without a length sets them for the lines
below it; a line with lengths gives rows. What cannot be read is kept with its reason, never guessed at.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from advisor.errors import Unclear
from advisor.makes import NeededRow
from advisor.making.envelope_words import EnvelopeWords, Nap, finder, printed
from advisor.need.units import MM_PER_INCH, read_length

_NUMBER = r"\d+/\d+|\d+(?:[.,]\d+)?(?:\s+\d+/\d+)?"
_UNIT = r"(?:metres?|meters?|m|yards?|yds?|cm)\b\.?"
_WIDTH = re.compile(
    r"(?<![\d/.,])(\d{2,3}(?:[.,]\d)?)(?:\s*(\"|cm|ins?)?\s*[-/]\s*(\d{2,3}(?:[.,]\d)?))?\s*(cm|inch(?:es)?|ins?|\")(?![a-z])\.?(?:\s*(?:wide|width))?"
)
_LENGTH = re.compile(rf"(?<![\d/.,])({_NUMBER})\s*({_UNIT})")
_VALUE = re.compile(rf"(?<![\d/.,])({_NUMBER})")
_VIEW_LENGTH = re.compile(rf"(?<![a-z])(?P<name>[a-h])\s*[:=]?\s+(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT})?")
_EMPTY = re.compile(r"(?<!\S)(?:-+|n/a|x)(?!\S)")
_MARKS = re.compile(r"(?:\*+)(?:\s*/\s*\*+)*")
_BRACKET = re.compile(r"\(([^()]*)\)")
SAME = 0.04
"""Two units printed side by side may differ by this share (they are rounded each for itself)."""


@dataclass(frozen=True)
class Unread:
    """A line, by its number in the text (from 1), that could not be read: what was wrong, and what was expected."""

    line: int
    text: str
    why: str
    expected: str = ""


@dataclass
class Table:
    """The rows that were read, remarks on how, and what could not be read."""

    rows: list[NeededRow] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)


@dataclass(frozen=True)
class _Width:
    """A width in cm as printed, the unit of bare lengths beside it, and the nap of its column."""

    cm: float
    bare: str
    nap: Nap | None = None


@dataclass
class _Heads:
    """What the lines above have set."""

    views: list[str] = field(default_factory=list)
    sizes: list[str] = field(default_factory=list)
    part: str = "main"
    nap: Nap | None = None
    widths: list[_Width] = field(default_factory=list)
    bare: str = ""


class YardageReader:
    """Reads the lines of one envelope; `table` fills as they come."""

    def __init__(self, words: EnvelopeWords, marks: dict[str, Nap] | None = None) -> None:
        self.words, self.table = words, Table()
        self.marks = marks or {}
        size = r"[a-z0-9]{1,4}(?:\s*(?:-|to)\s*[a-z0-9]{1,4})?"
        self._length_size = re.compile(
            rf"(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT})?\s*\(?\s*(?:for\s+)?(?:{finder(words.sizes).pattern})\s+(?P<name>{size})\s*\)?"
        )
        self.heads = _Heads()

    # ---- the ways in ----

    def line(self, number: int, raw: str) -> bool:
        """Takes one line; False where it holds nothing of a table (and nothing was noted)."""
        text = printed(raw)
        if not text.strip():
            return True
        try:
            return self._line(text)
        except Unclear as error:
            self.table.unread.append(Unread(number, raw.strip(), error.given, error.expected))
            return True

    def _line(self, text: str) -> bool:
        text = self._drop_brackets(text)
        widths, lengths = list(_WIDTH.finditer(text)), list(_LENGTH.finditer(text))
        widths = [w for w in widths if not any(n.start() <= w.start() < n.end() for n in lengths if n.group(2)[0] != "c")]
        if len(widths) == 2 and len(lengths) <= 2 and re.search(r"[:=]", text[widths[0].end() : widths[1].start()]) and widths[0].group(4) == widths[1].group(4) == "cm":
            return self._segments(text, widths[:1])  # '115 cm: 290 cm'
        real = [n for n in lengths if not any(w.start() <= n.start() < w.end() for w in widths)]
        if widths and real and real[0].start() < widths[0].start():
            return self._length_first(text, real, widths)
        if widths:
            rest = text[: widths[0].start()] + "".join(
                text[w.end() : n.start()] for w, n in zip(widths, [*widths[1:], None], strict=True) if n
            ) + text[widths[-1].end() :]  # fmt: skip
            has_value = real or _VALUE.search(self._without_heads(rest))
            if not has_value and not _EMPTY.search(text[widths[0].end() :]):
                self._heading(text[: widths[0].start()])
                self.heads.widths = [self._width(w, text[w.end() : self._until(widths, i, text)]) for i, w in enumerate(widths)]
                return True
            return self._segments(text, widths)
        return self._without_width(text)

    # ---- kinds of lines ----

    def _segments(self, text: str, widths: list[re.Match[str]]) -> bool:
        """`[heads] WIDTH lengths, WIDTH lengths …`."""
        self._heading(text[: widths[0].start()])
        self.heads.widths = []
        found: list[tuple[_Width, list[float | None]]] = []
        for i, match in enumerate(widths):
            inside = text[match.end() : self._until(widths, i, text)]
            width = self._width(match, inside)
            if self._named_lengths(width, inside):
                continue
            found.append((width, self._lengths(inside, width.bare, len(self.heads.sizes))))
        if len(found) > 1 and found[-1][0].nap and not any(w.nap for w, _ in found[:-1]):
            found = [(_Width(w.cm, w.bare, found[-1][0].nap), values) for w, values in found]
        for width, values in found:
            self._rows(width, values)
        return True

    def _named_lengths(self, width: _Width, inside: str) -> bool:
        """Takes `A 2.10 m, B 2.40 m` and `3 yards (sizes 8-12), 3 1/2 yards (sizes 14-18)` behind a width."""
        for pattern, views in ((_VIEW_LENGTH, True), (self._length_size, False)):
            left = re.sub(r"[\s,;:()]+|\band\b", "", pattern.sub("", self._take_nap(inside)[0]))
            pairs = list(pattern.finditer(inside))
            if not pairs or left:
                continue
            for pair in pairs:
                name = pair["name"].upper()
                value = self._metres(pair["number"], pair["unit"] or width.bare)
                self._rows(width, [value], views=[name] if views else None, sizes=None if views else [re.sub(r"\s*(?:-|TO)\s*", "-", name)])
            return True
        return False

    def _length_first(self, text: str, lengths: list[re.Match[str]], widths: list[re.Match[str]]) -> bool:
        """`2.4 m of 115 cm wide cloth, 1.9 m of 140 cm`."""
        if len(lengths) != len(widths):
            raise Unclear(f"{len(lengths)} lengths for {len(widths)} widths", "one length for each width")
        self._heading(text[: lengths[0].start()])
        for i, (length, width) in enumerate(zip(lengths, widths, strict=True)):
            until = lengths[i + 1].start() if i + 1 < len(lengths) else len(text)
            self._rows(self._width(width, text[width.end() : until]), [self._metres(length.group(1), length.group(2))])
        return True

    def _without_width(self, text: str) -> bool:
        heads = self.heads
        below = heads.widths and _VALUE.search(text)
        sizes = self._sizes_of(text) if not below or finder(self.words.sizes).match(text.strip()) else []
        if sizes:
            heads.sizes = sizes
            return True
        alone = re.fullmatch(rf"\s*\(?(?:in\s+)?({_UNIT})\)?\s*", text)
        if alone:
            heads.bare = self._unit(alone.group(1))
            return True
        if below:
            return self._below_widths(text)
        return self._heading(text, alone=True)

    def _below_widths(self, text: str) -> bool:
        """A line of lengths below a line of widths, with a size, a view or a part before them."""
        widths = self.heads.widths
        label, rest = self._label(text, len(widths))
        view, size = "", ""
        known = label.upper()
        if label:
            if finder(self.words.sizes).search(label):
                size = finder(self.words.sizes).sub("", label).strip(" :").upper()
            elif re.fullmatch(r"[A-Z]", known) and not self._is_size(label):
                view = known
            elif self._is_size(label):
                size = known
            else:
                self._heading(label)
        values = self._lengths(rest, widths[0].bare, len(widths))
        if len(values) != len(widths):
            raise Unclear(f"{len(values)} lengths below {len(widths)} widths", "one for each, with '-' for none")
        for width, value in zip(widths, values, strict=True):
            self._rows(width, [value], views=[view] if view else None, sizes=[size] if size else [])
        return True

    def _label(self, text: str, count: int) -> tuple[str, str]:
        """What stands before the lengths of a line, and the rest: the last `count` of its values are lengths."""
        values = [*_VALUE.finditer(text), *_EMPTY.finditer(text)]
        values.sort(key=lambda m: m.start())
        at = values[-count].start() if len(values) >= count else values[0].start()
        return text[:at].strip(" :|\t"), text[at:]

    # ---- heads ----

    def _heading(self, text: str, alone: bool = False) -> bool:
        """Takes views, sizes, part and nap from the words before the figures; whether anything was taken."""
        words, heads = self.words, self.heads
        text, nap = self._take_nap(text)
        taken = nap is not None
        left = text
        if nap:
            heads.nap = nap
        for part, names in words.parts.items():
            if finder(names).search(left):
                left = finder(names).sub(" ", left)
                heads.part, taken = part, True
                heads.views, heads.nap = [], nap
                break
        else:
            main = finder(words.main).sub(" ", left)
            if main != left:
                heads.part, left, taken = "main", main, True
        size = re.search(rf"(?:{finder(words.sizes).pattern})\s*:?\s*([a-z0-9./-]+(?:\s*(?:,|&|and|to)\s*[a-z0-9./-]+)*)", left)
        if size and (sizes := self._sizes_of(size.group(0))):
            heads.sizes, taken = sizes, True
            left = left[: size.start()] + " " + left[size.end() :]
        left = finder(words.all_sizes).sub(" ", left)
        views = re.search(
            rf"(?:{finder([*words.views, *words.garments]).pattern}|^|\s)\s*:?\s*([a-h](?:\s*(?:,|&|\+|/|and|or)\s*[a-h])*)\s*(?=$|[:,;|\t-]|\s{{2,}}|\s$)",
            left.strip() + " ",
        )
        if views:
            found = re.findall(r"(?<![a-z])[a-h](?![a-z])", views.group(1))
            left = left.replace(views.group(0).strip(), " ", 1)
            if heads.part != "main" and not any(finder(n).search(text) for n in words.parts.values()):
                heads.part = "main"  # a new view begins with its main cloth
            heads.views, taken = [v.upper() for v in found], True
        rest = finder([*words.views, *words.garments, *words.sizes, "of", "for", "cloth", "fabric", "wide"]).sub(" ", left)
        rest = re.sub(r"[\s:;,|.&()-]+", " ", rest).strip()
        if rest and not alone:
            raise Unclear(f"'{rest[:50]}' before the figures", "a view, a size, a part such as lining, or the nap")
        return taken and not rest if alone else True

    def _sizes_of(self, text: str) -> list[str]:
        """The sizes in a line that holds nothing else; [] where it holds other things, or no size."""
        said = finder(self.words.sizes).search(text)
        bare = re.sub(r"\bto\b", "-", finder(self.words.sizes).sub(" ", text)).strip(" :|\t")
        tokens = [t.strip("()|:") for t in re.split(r"(?:[\s;|&]|,(?!\d))+", re.sub(r"\s*-\s*(?=[a-z0-9])", "-", bare)) if t.strip("()|:")]
        if not tokens or not all(self._is_size(t) for t in tokens):
            return []
        if len(tokens) == 1:
            parts = tokens[0].split("-")
            if len(parts) > 2:
                return [p.upper() for p in parts]
            return [tokens[0].upper()] if said else []
        return [t.upper() for t in tokens]

    def _is_size(self, token: str) -> bool:
        parts = token.split("-")
        return all(p in self.words.size_words or re.fullmatch(r"\d{1,3}[a-z]?", p) for p in parts)

    def _without_heads(self, text: str) -> str:
        return _MARKS.sub(" ", text)

    def _take_nap(self, text: str) -> tuple[str, Nap | None]:
        nap: Nap | None = None
        for name, phrases in (("either", self.words.nap["either"]), ("without", self.words.nap["without"]), ("with", self.words.nap["with"])):
            cut = finder(phrases).sub(" ", text)
            if cut != text:
                text, nap = cut, nap or name  # type: ignore[assignment]
        marks = _MARKS.search(text)
        if marks:
            text = _MARKS.sub(" ", text)
            nap = nap or self._nap_of(marks.group(0))
        return text, nap

    def _nap_of(self, mark: str) -> Nap:
        each = [m.strip() for m in mark.split("/")]
        known = self.marks or self.words.nap_marks
        if not self.marks:
            note = "the envelope explains no asterisks: * was taken as with nap, ** as without, *** as either"
            if note not in self.table.notes:
                self.table.notes.append(note)
        found = {known[m] for m in each if m in known}
        if len({*each} - {*known}):
            raise Unclear(f"the mark '{mark}'", f"one of {', '.join(known)}")
        return "either" if len(found) > 1 else next(iter(found))

    # ---- figures ----

    def _until(self, widths: list[re.Match[str]], i: int, text: str) -> int:
        return widths[i + 1].start() if i + 1 < len(widths) else len(text)

    def _width(self, match: re.Match[str], behind: str) -> _Width:
        low, own, high, unit = match.groups()
        if own and own[0] != unit[0]:  # one width named twice, '150 cm / 60"'
            unit, high = own, None
        inch = unit[0] in 'i"'
        each = [float(v.replace(",", ".")) * (MM_PER_INCH / 10 if inch else 1) for v in (low, high) if v]
        least, most = self.words.narrowest.value, self.words.widest.value
        if not all(least <= v <= most for v in each):
            raise Unclear(f"width '{match.group(0).strip()}'", f"{least:g} to {most:g} cm ({least / 2.54:.0f} to {most / 2.54:.0f} in)")
        if len(each) > 1:
            self._note(f"{match.group(0).strip()} is taken as {min(each):.4g} cm, the narrower")
        nap = self._take_nap(behind)[1]
        return _Width(round(min(each), 1), self.heads.bare or ("yd" if inch else "m"), nap)

    def _lengths(self, text: str, bare: str, columns: int) -> list[float | None]:
        """The lengths in a stretch of a line, in m; None for an empty cell. Raises where they do not fit the columns."""
        text, _ = self._take_nap(text)
        text = finder(self.words.all_sizes).sub(" ", text)
        text = re.sub(r"^\s*(?:wide|width|of)\b", " ", text).strip(" :=,;|\t")
        if columns <= 1:
            text = re.sub(r"^-+\s*(?=\d)", "", text)
        units = [m.group(2) for m in _LENGTH.finditer(text)]
        unit = self._unit(units[-1]) if units else bare
        cells = [c.strip(" :=,;") for c in re.split(r"\t|\||\s{2,}|;", text)]
        cells = [c for c in cells if c and not re.fullmatch(_UNIT, c)]
        if len(cells) == columns > 1:
            return [self._cell(c, unit) for c in cells]
        span = re.fullmatch(rf"({_NUMBER})\s*(?:{_UNIT})?\s*(?:-|to)\s*({_NUMBER})\s*(?:{_UNIT})?", text)
        if span and columns <= 1:
            values = [self._metres(span.group(i), unit) for i in (1, 2)]
            self._note(f"'{text}' is a span of lengths: the longer was taken")
            return [max(values)]
        found: list[float | None] = []
        left = text
        marks = sorted([*_VALUE.finditer(text), *_EMPTY.finditer(text)], key=lambda m: m.start())
        for match in marks:
            found.append(None if match.re is _EMPTY else self._metres(match.group(1), unit))
            left = left.replace(match.group(0), " ", 1)
        words = re.sub(rf"{_UNIT}|[\s:=,;|.-]+|\b(?:of|and|or|for|cloth|fabric|each)\b", " ", left).strip()
        if words:
            raise Unclear(f"'{words[:40]}' among the lengths", "lengths in yards or metres")
        if not found:
            raise Unclear("a width without a length", "a length in yards or metres behind it, or '-' for none")
        return found

    def _cell(self, cell: str, unit: str) -> float | None:
        if _EMPTY.fullmatch(cell):
            return None
        own = _LENGTH.fullmatch(cell)
        if own:
            return self._metres(own.group(1), own.group(2))
        if not _VALUE.fullmatch(cell):
            raise Unclear(f"'{cell[:40]}' among the lengths", "a length in yards or metres, or '-' for none")
        return self._metres(cell, unit)

    def _unit(self, text: str) -> str:
        name = text.strip(" .").removeprefix("in ").strip()
        return "cm" if name == "cm" else "yd" if name[0] == "y" else "m"

    def _metres(self, number: str, unit: str) -> float:
        value = round(read_length(f"{number} {self._unit(unit)}", "m", "length") / 1000, 3)
        if not 0 < value <= self.words.longest.value:
            raise Unclear(f"length '{number} {unit}'", f"more than nothing and at most {self.words.longest.value:g} m")
        return value

    def _drop_brackets(self, text: str) -> str:
        """Takes out '(2.90 m)' and '(115 cm)' behind the same figure in another unit, after comparing the two."""
        def drop(match: re.Match[str]) -> str:
            inside = match.group(1).strip()
            if finder([p for phrases in self.words.nap.values() for p in phrases]).search(inside) or _MARKS.fullmatch(inside):
                return f" {inside} "
            length, before = _LENGTH.fullmatch(inside), list(_LENGTH.finditer(text[: match.start()]))
            if length and before and not text[before[-1].end() : match.start()].strip():
                one, two = (self._metres(m.group(1), m.group(2)) for m in (before[-1], length))
                if abs(one - two) > SAME * max(one, two):
                    raise Unclear(f"'{before[-1].group(0).strip()} ({inside})', two different lengths", "the same length in two units")
                return " "
            if _WIDTH.fullmatch(inside):  # behind another width it is that one again, behind a length it is the width
                named = [w for w in _WIDTH.finditer(text[: match.start()]) if not text[w.end() : match.start()].strip()]
                return " " if named else f" {inside} "
            return " " if length else match.group(0)

        return _BRACKET.sub(drop, text)

    # ---- rows ----

    def _rows(self, width: _Width, values: list[float | None], *, views: list[str] | None = None, sizes: list[str] | None = None) -> None:
        heads = self.heads
        sizes = heads.sizes if sizes is None else sizes or (heads.sizes if len(heads.sizes) == 1 else [])
        if len(values) == 1:
            named = sizes if len(sizes) == 1 else [""]
        elif len(values) == len(sizes):
            named = sizes
        else:
            what = f"{len(sizes)} sizes" if sizes else "no line of sizes above"
            raise Unclear(f"{len(values)} lengths and {what}", "one length for each size, with '-' for none, or one for all")
        nap = width.nap or heads.nap or "without"
        for view in views or heads.views or [""]:
            self.table.rows += [
                NeededRow(value, width.cm, view, size, nap, heads.part) for size, value in zip(named, values, strict=True) if value
            ]  # fmt: skip

    def _note(self, note: str) -> None:
        if note not in self.table.notes:
            self.table.notes.append(note)


def opens_table(text: str, words: EnvelopeWords) -> bool:
    """Whether a plain line without a heading can only be one of a table: it begins with a width, sizes or a view."""
    if _WIDTH.match(text):
        return True
    head = finder([*words.sizes, *words.views]).match(text)
    return head is not None and all(len(t) <= 5 for t in re.split(r"[\s,;:/&-]+", text[head.end() :]) if t)


def legend(text: str, words: EnvelopeWords) -> tuple[dict[str, Nap], str]:
    """What the envelope says that its asterisks mean, and the text without that legend."""
    found: dict[str, Nap] = {}
    phrases = {p: name for name, given in words.nap.items() for p in given}
    each = re.compile(rf"(?<!\*)(\*+)\s*[:=]?\s*({finder(phrases).pattern})[ \t]*[,;.]?", re.IGNORECASE)

    def take(match: re.Match[str]) -> str:
        found.setdefault(match.group(1), phrases[" ".join(match.group(2).lower().split())])
        return " "

    # Only a line of nothing but such pairs explains; '45"* with nap' is a row.
    lines = []
    for line in text.split("\n"):
        bare = each.sub("", line).strip(" .,;:\t")
        lines.append(each.sub(take, line).strip() if each.search(line) and not any(c.isdigit() for c in bare) else line)
    return found, "\n".join(lines)


