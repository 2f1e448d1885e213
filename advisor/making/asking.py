"""A make put together answer by answer: each answer is read as it is given, and says how it was read.

`Draft.take(key, text)` takes one answer and returns remarks for the maker; it raises `Unclear` for what is not
understood and then changes nothing. The questions stand in `knowledge/lists/make-questions.yaml`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from difflib import get_close_matches

import msgspec

from advisor.asks import Ask, read_ask, read_context
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.lists import read_list
from advisor.makes import Envelope, Make
from advisor.making.envelope import read_cloths, read_envelope, read_stretch, read_table, split_names
from advisor.making.envelope_words import envelope_words
from advisor.making.yardage import Table
from advisor.need.units import read_length
from advisor.words_form import phrase

LONGEST = 2000
"""Characters of one answer; the envelope may be longer."""


class Question(msgspec.Struct):
    """One question: the key of its answer, how it is asked, an example, and whether the answer may be several lines."""

    key: str
    ask: str
    example: str = ""
    several: bool = False
    needed: bool = False


class Questions(msgspec.Struct):
    """lists/make-questions.yaml."""

    questions: list[Question]


def questions(knowledge: Knowledge) -> list[Question]:
    """The questions in the order in which they are asked."""
    found = read_list("make-questions", Questions, knowledge.folders).questions
    for question in found:
        if not hasattr(Draft, f"_{question.key}"):
            raise Unclear(f"question '{question.key}' of lists/make-questions.yaml", "the key of an answer that a make takes")
    return found


class Draft:
    """A make in the making."""

    def __init__(self, knowledge: Knowledge, start: Make | None = None, *, units: str = "metric") -> None:
        self.knowledge, self.units = knowledge, units
        self.words = envelope_words(knowledge.folders)
        self.make = start or Make(make="", features=[])
        self.begun: set[str] = set()
        """Lists of an earlier make are replaced by the first new answer, then added to."""

    def take(self, key: str, text: str) -> list[str]:
        """Takes one answer; returns how it was read. Raises `Unclear` and changes nothing where it cannot be."""
        if len(text) > (20_000 if key in ("envelope", "table") else LONGEST):
            raise Unclear(f"an answer of {len(text)} characters", f"at most {LONGEST}")
        if text.strip() == "-":
            return self._clear(key)
        reader: Callable[[str], list[str]] = getattr(self, f"_{key}")
        return reader(text.strip() if key not in ("envelope", "table") else text)

    def present(self, key: str) -> str:
        """What the make says so far, in words; '' for nothing."""
        make, envelope = self.make, self.make.envelope
        said: dict[str, object] = {
            "name": make.make, "features": [feature_words(f) for f in make.features], "wearer": make.wearer, "season": make.season,
            "use": make.use, "care": make.care, "fabrics": envelope.suggests, "not_for": envelope.not_for,
            "kind": envelope.woven_or_knit, "table": f"{len(make.cloth_needed)} rows" if make.cloth_needed else "",
            "stretch": " and ".join(f"{v:g} % {w}" for w, v in (("along", envelope.stretch_along), ("across", envelope.stretch_across)) if v),
            "layers": [f"{k}: {v}" for k, v in make.layers.items()], "notions": make.notions, "techniques": make.techniques,
            "level": make.level, "hours": f"{make.hours:g}" if make.hours else "", "view": make.view, "size": make.size,
            "wanted_by": str(make.wanted_by or ""), "allowance": f"{make.seam_allowance_mm:g} mm", "notes": make.notes,
        }  # fmt: skip
        value = said.get(key, "")
        return "; ".join(str(v) for v in value) if isinstance(value, list) else str(value)

    def wanted(self, key: str) -> bool:
        """Whether the question still makes sense: a gauge for what may stretch, a view where there are several."""
        make = self.make
        if key in ("view", "size"):
            return len(self.choices(key)) > 1
        if key == "stretch":
            return make.envelope.woven_or_knit != "woven"
        return True

    def finished(self) -> Make:
        """The make; raises `Unclear` where it has no name or no feature."""
        if not self.make.make:
            raise Unclear("no name", "a name for the make", "--name 'Saturday skirt'")
        if not self.make.features:
            raise Unclear("no feature", "at least one --feature", "--feature 'flounce 12 cm deep at the cuff'")
        return msgspec.convert(msgspec.to_builtins(self.make), Make)

    # ---- the answers ----

    def _set(self, **values: object) -> None:
        self.make = msgspec.structs.replace(self.make, **values)

    def _set_envelope(self, **values: object) -> None:
        self._set(envelope=msgspec.structs.replace(self.make.envelope, **values))

    def _clear(self, key: str) -> list[str]:
        if key in ("fabrics", "not_for", "kind", "stretch"):
            usual = Envelope()
            names = {"fabrics": ("suggests",), "not_for": ("not_for",), "kind": ("woven_or_knit",), "stretch": ("stretch_along", "stretch_across")}
            self._set_envelope(**{n: getattr(usual, n) for n in names[key]})
            return []
        field = {"table": "cloth_needed", "allowance": "seam_allowance_mm", "name": "make", "drop": "can_drop"}.get(key, key)
        usual_make = Make(make="", features=[])
        if hasattr(usual_make, field):
            self._set(**{field: getattr(usual_make, field)})
        return []

    def _gather(self, key: str, field: str, items: list[str]) -> None:
        held = list(getattr(self.make, field)) if key in self.begun else []
        self.begun.add(key)
        self._set(**{field: list(dict.fromkeys([*held, *items]))})

    def _name(self, text: str) -> list[str]:
        name = " ".join(text.split())
        if not 1 <= len(name) <= 200:
            raise Unclear("an empty name" if not name else f"a name of {len(name)} characters", "1 to 200 characters")
        self._set(make=name)
        return []

    def _features(self, text: str) -> list[str]:
        """One feature, or several on lines of their own or with semicolons between them."""
        read = [read_ask(part, self.knowledge) for part in re.split(r"[;\n]", text) if part.strip()]
        if not read:
            raise Unclear("an empty feature", "a feature that 'advisor list features' shows", "flounce 12 cm deep")
        held = list(self.make.features) if "features" in self.begun else []
        self.begun.add("features")
        self._set(features=[*held, *(a.given for a in read if a.given not in held)])
        return [line for ask in read for line in (*_read_as(ask), *ask.notes)]

    def _context(self, kind: str, text: str) -> list[str]:
        found = read_context([(kind, text)], self.knowledge)
        self._set(**{kind: text})
        entries = [self.knowledge.context[c] for c in found]
        named = {phrase(e.names[0] if e.names else e.id) for e in entries}
        return [] if phrase(text) in named else [", ".join((e.about or e.id).rstrip(".").lower() for e in entries)]

    def _wearer(self, text: str) -> list[str]:
        return self._context("wearer", text)

    def _season(self, text: str) -> list[str]:
        return self._context("season", text)

    def _use(self, text: str) -> list[str]:
        return self._context("use", text)

    def _care(self, text: str) -> list[str]:
        return self._context("care", text)

    def _fabrics(self, text: str) -> list[str]:
        read = read_cloths(text, self.words)
        self._set_envelope(suggests=read.cloths, **({"woven_or_knit": read.kind} if read.kind else {}))
        said = ", ".join(read.cloths) + (f"; for {read.kind} cloth" if read.kind else "")
        notes = [f"suggested: {said}", *read.notes]
        if read.stretch and not (self.make.envelope.stretch_along or self.make.envelope.stretch_across):
            self._set_envelope(stretch_along=read.stretch.along, stretch_across=read.stretch.across)
            notes += read.stretch.notes
        return notes + self._not_known(read.cloths)

    def _not_for(self, text: str) -> list[str]:
        self._set_envelope(not_for=read_cloths(text, self.words).cloths)
        return []

    def _kind(self, text: str) -> list[str]:
        key = phrase(text)
        kinds = [k for k, names in self.words.kinds.items() if key in {phrase(n) for n in (k, *names)}]
        if key in ("either", "both", "any"):
            kinds = []
        elif len(kinds) != 1:
            raise Unclear(f"'{text[:40]}'", "woven, knit or either", (get_close_matches(key, ["woven", "knit", "either"], 1, 0.3) or [""])[0])
        self._set_envelope(woven_or_knit=kinds[0] if kinds else "")
        return []

    def _stretch(self, text: str) -> list[str]:
        read = read_stretch(text, self.words)
        self._set_envelope(stretch_along=read.along, stretch_across=read.across)
        said = " and ".join(f"{v:g} % {w}" for w, v in (("along", read.along), ("across", read.across)) if v)
        return [f"at least {said}", *read.notes]

    def _table(self, text: str) -> list[str]:
        table = read_table(text, self.words).table
        return self._take_table(table)

    def _take_table(self, table: Table) -> list[str]:
        if table.unread:
            first = table.unread[0]
            more = f" (and {len(table.unread) - 1} lines more)" if len(table.unread) > 1 else ""
            raise Unclear(f"line {first.line} of the table, '{first.text[:50]}'{more}: {first.why}", first.expected)
        if not table.rows:
            raise Unclear("a table without a length", "widths with their lengths", '45" 3 1/8 yd, 60" 2 3/8 yd')
        self._set(cloth_needed=table.rows)
        for key in ("view", "size"):
            if getattr(self.make, key) and getattr(self.make, key) not in self.choices(key):
                self._set(**{key: ""})
        return [_table_words(self.make), *table.notes]

    def choices(self, key: str) -> list[str]:
        """The views or sizes that the table of cloth knows; [] for other questions."""
        if key not in ("view", "size"):
            return []
        return list(dict.fromkeys(getattr(r, key) for r in self.make.cloth_needed if getattr(r, key)))

    def _choose(self, key: str, text: str) -> list[str]:
        names = self.choices(key)
        found = [n for n in names if n.casefold() == text.casefold()]
        if names and not found:
            raise Unclear(f"{key} '{text[:30]}'", f"one of {', '.join(names)}", (get_close_matches(text.upper(), names, 1, 0.3) or names)[0])
        self._set(**{key: found[0] if found else text})
        return []

    def _view(self, text: str) -> list[str]:
        return self._choose("view", text)

    def _size(self, text: str) -> list[str]:
        return self._choose("size", text)

    def _layers(self, text: str) -> list[str]:
        from advisor.words import describe

        held = dict(self.make.layers) if "layers" in self.begun else {}
        notes: list[str] = []
        for line in re.split(r"[;\n]", text):
            if not line.strip():
                continue
            role, mark, cloth = (line.partition(":") if ":" in line else line.partition("="))
            if not mark or not role.strip() or not cloth.strip():
                raise Unclear(f"'{line.strip()[:60]}'", "what it is, a colon and the cloth", "lining: viscose lining")
            read = describe(cloth.strip(), self.knowledge)
            notes += [f"'{w}' of '{cloth.strip()}' is not understood and left out" for w in read.not_understood]
            held[" ".join(role.lower().split())] = " ".join(cloth.split())
        self.begun.add("layers")
        self._set(layers=held)
        return notes

    def _notions(self, text: str) -> list[str]:
        self._gather("notions", "notions", split_names(text))
        return []

    def _techniques(self, text: str) -> list[str]:
        self._gather("techniques", "techniques", split_names(text))
        return []

    def _fills(self, text: str) -> list[str]:
        self._gather("fills", "fills", split_names(text))
        return []

    def _level(self, text: str) -> list[str]:
        if not any(c.isalpha() for c in text):
            raise Unclear(f"level '{text[:30]}'", "how hard it is, in words", "some experience")
        self._set(level=" ".join(text.split()))
        return []

    def _hours(self, text: str) -> list[str]:
        self._set(hours=_hours_of(text))
        return []

    def _wanted_by(self, text: str) -> list[str]:
        try:
            day = date.fromisoformat(text)
        except ValueError:
            raise Unclear(f"day '{text[:30]}'", "year-month-day", "2027-05-14") from None
        self._set(wanted_by=day)
        return ["that day is past"] if day < date.today() else []

    def _allowance(self, text: str) -> list[str]:
        value = read_length(text, "in" if self.units == "imperial" else "mm", "seam allowance")
        if not 0 < value <= 100:
            raise Unclear(f"seam allowance '{text[:30]}'", "more than 0 and at most 100 mm", "15 mm")
        self._set(seam_allowance_mm=round(value, 2))
        return []

    def _notes(self, text: str) -> list[str]:
        self._set(notes=text)
        return []

    def _drop(self, text: str) -> list[str]:
        match = re.fullmatch(r"(.+?)\s*[:=]\s*(.+)", text)
        if not match:
            raise Unclear(f"'{text[:60]}'", "what could be left off, a colon, the hours it saves", "patch pockets: 2")
        held = dict(self.make.can_drop) if "drop" in self.begun else {}
        self.begun.add("drop")
        self._set(can_drop={**held, match[1].strip(): _hours_of(match[2])})
        return []

    def _part_features(self, text: str) -> list[str]:
        part, mark, names = text.partition(":")
        if not mark or not names.strip():
            raise Unclear(f"'{text[:60]}'", "a part of the table, a colon, the features cut in it", "contrast: collar, cuffs")
        features = split_names(names)
        for name in features:
            read_ask(name, self.knowledge)
        held = dict(self.make.part_features) if "part_features" in self.begun else {}
        self.begun.add("part_features")
        self._set(part_features={**held, part.strip().lower(): features})
        return []

    def _envelope(self, text: str) -> list[str]:
        """The whole envelope: what it says takes the place of what was said before."""
        read = read_envelope(text, self.words)
        if not (read.suggests or read.not_for or read.rows or read.notions or read.stretch_along or read.stretch_across):
            raise Unclear("the envelope's text", "suggested cloths, cloth needed, notions or a stretch gauge in it")
        notes = list(read.notes)
        if read.suggests:
            self._set_envelope(suggests=read.suggests)
            notes.insert(0, f"suggested: {', '.join(read.suggests)}")
            notes += self._not_known(read.suggests)
        if read.not_for:
            self._set_envelope(not_for=read.not_for)
        if read.kind:
            self._set_envelope(woven_or_knit=read.kind)
        if read.stretch_along or read.stretch_across:
            self._set_envelope(stretch_along=read.stretch_along, stretch_across=read.stretch_across)
            notes.append(f"stretch: at least {self.present('stretch')}")
        if read.rows:
            self._set(cloth_needed=read.rows)
            notes.append(_table_words(self.make))
        if read.notions:
            self._set(notions=read.notions)
        if read.title and not self.make.make:
            self._set(make=" ".join(read.title.split())[:200])
        if read.advice:
            self._set(notes="\n".join(dict.fromkeys([*filter(None, [self.make.notes]), *read.advice])))
        notes += [f"line {u.line} was not read, '{u.text[:60]}': {u.why}; expected {u.expected}" for u in read.unread]
        return notes

    def _invented(self, text: str) -> list[str]:
        self._set(invented=text.lower() in ("yes", "true", "1"))
        return []

    def _not_known(self, cloths: list[str]) -> list[str]:
        """Suggested cloths in which words are not known; they are kept as printed."""
        from advisor.words import describe

        notes = []
        for name in cloths:
            try:
                read = describe(name, self.knowledge)
            except Unclear as error:
                notes.append(f"'{name}' is kept as printed, but not known{f'; nearest: {error.nearest}' if error.nearest else ''}")
                continue
            notes += [
                f"'{w}' in '{name}' is kept as printed, but not known" + (f"; nearest: {read.nearest[w]}" if w in read.nearest else "")
                for w in read.not_understood
            ]  # fmt: skip
        return notes


def _hours_of(text: str) -> float:
    match = re.fullmatch(r"(\d+(?:[.,]\d+)?)\s*(?:h|hours?|hrs?)?", text.strip())
    value = float(match[1].replace(",", ".")) if match else 0.0
    if not 0 < value <= 5000:
        raise Unclear(f"hours '{text[:30]}'", "a number above nought", "12")
    return value


def feature_words(item: object) -> str:
    """One feature of a make file as a maker says it."""
    if isinstance(item, dict):
        return ", ".join(f"{name} {' '.join(f'{k} {v}' for k, v in (details or {}).items())}".strip() for name, details in item.items())
    return str(item)


def _read_as(ask: Ask) -> list[str]:
    """How a feature was read, where its words do not already say it."""
    figures = [
        f"{name.rsplit('_', 1)[0].replace('_', ' ')} {value:g} {name.rsplit('_', 1)[1]}" if "_" in name else f"{name} {value:g}"
        for name, value in ask.figures.items()
    ]
    name = ask.feature.replace("-", " ")
    if not figures and phrase(name) == phrase(ask.given):
        return []
    places = " and ".join(p.replace("-", " ") for p in ask.places)
    return [", ".join([f"'{ask.given}' is {name}", *figures, *([f"at the {places}"] if places else [])])]


def _table_words(make: Make) -> str:
    """The table in one line: how many rows, for which views, sizes, widths and parts."""
    rows = make.cloth_needed
    of = [
        f"{label} {', '.join(names)}"
        for label, names in (
            ("view", list(dict.fromkeys(r.view for r in rows if r.view))),
            ("size", list(dict.fromkeys(r.size for r in rows if r.size))),
            ("width", [f"{w:g} cm" for w in dict.fromkeys(r.width_cm for r in rows)]),
            ("part", [p for p in dict.fromkeys(r.part for r in rows) if p != "main"]),
        )
        if names
    ]
    low, high = min(r.length_m for r in rows), max(r.length_m for r in rows)
    span = f"{low:g} m" if low == high else f"{low:g} to {high:g} m"
    return f"{len(rows)} row{'s' if len(rows) != 1 else ''}: {'; '.join(of)}; {span}"
