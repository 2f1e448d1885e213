"""What was asked on the page: one box as on the command line, ticked features with their figures, circumstances."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from advisor.asks import Ask, check_figure, read_ask
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.words_form import phrase

SHEETS = ("check", "press", "prewash", "sew")
"""The answers that one question has, each with a page of its own."""

CIRCUMSTANCES = ("wearer", "season", "use", "care")
LONGEST_BOX = 1000
MOST_FEATURES = 60
_FLAG = re.compile(r"(?:^|\s)--[a-z]")


@dataclass(frozen=True)
class Typed:
    """The fields of the form exactly as they came, so that every page can give them back."""

    ask: str = ""
    ticked: tuple[str, ...] = ()
    figures: tuple[tuple[str, str], ...] = ()
    """('feature id.figure name', text) pairs of those that were filled in."""
    wearer: str = ""
    season: str = ""
    use: str = ""
    care: str = ""
    allowance: str = ""
    units: str = "metric"

    def figure(self, feature: str, name: str) -> str:
        return dict(self.figures).get(f"{feature}.{name}", "")

    @property
    def query(self) -> str:
        """The form as a query, for links that carry the question on."""
        pairs = [("ask", self.ask), *(("feature", f) for f in self.ticked)]
        pairs += [(f"figure.{name}", text) for name, text in self.figures]
        pairs += [(name, getattr(self, name)) for name in (*CIRCUMSTANCES, "allowance")]
        pairs += [("units", self.units)] if self.units != "metric" else []
        return urlencode([(k, v) for k, v in pairs if v])


@dataclass(frozen=True)
class Question:
    """The question as understood: it is the key under which an answer is kept for a while."""

    cloth: str
    features: tuple[Ask, ...]
    wearer: str = ""
    season: str = ""
    use: str = ""
    care: str = ""
    allowance_mm: float | None = None

    @property
    def key(self) -> tuple[object, ...]:
        asks = tuple((a.given, a.feature, tuple(a.figures.items()), a.places) for a in self.features)
        return (self.cloth, asks, self.wearer, self.season, self.use, self.care, self.allowance_mm)


def typed(pairs: Iterable[tuple[str, str]]) -> Typed:
    """The form's fields from a query or a posted form; unknown ones are passed over, long ones cut."""
    one: dict[str, str] = {}
    ticked: list[str] = []
    figures: list[tuple[str, str]] = []
    for name, value in pairs:
        if name == "feature":
            ticked.append(value[:80])
        elif name.startswith("figure.") and value.strip():
            figures.append((name.removeprefix("figure.")[:120], value[:30]))
        elif name in ("ask", *CIRCUMSTANCES, "allowance", "units"):
            one[name] = value[: LONGEST_BOX + 1] if name == "ask" else value[:120]
    one["units"] = "imperial" if one.get("units") == "imperial" else "metric"
    return Typed(ticked=tuple(dict.fromkeys(ticked)), figures=tuple(figures[: 3 * MOST_FEATURES]), **one)


def question(form: Typed, knowledge: Knowledge) -> Question:
    """The question that the form asks; raises `Unclear` for what cannot be read."""
    if len(form.ask) > LONGEST_BOX:
        raise Unclear(f"a question of more than {LONGEST_BOX} characters", f"at most {LONGEST_BOX:,} characters")
    if len(form.ticked) > MOST_FEATURES:
        raise Unclear(f"{len(form.ticked)} features", f"at most {MOST_FEATURES} at a time")
    box = read_box(form.ask, knowledge)
    if not box.cloth:
        raise Unclear("no cloth", "the cloth in your own words", "cotton poplin, 120 gsm")
    asks = [read_ask(text, knowledge) for text in box.features]
    asks += [_ticked(feature, form, knowledge) for feature in form.ticked]
    kept: dict[tuple[str, tuple[str, ...]], Ask] = {}
    for ask in asks:
        kept.setdefault((ask.feature, ask.places), ask)
    given = {name: ", ".join(p for p in (getattr(form, name), getattr(box, name)) if p) for name in CIRCUMSTANCES}
    return Question(box.cloth, tuple(kept.values()), **given, allowance_mm=_allowance(form.allowance))


@dataclass
class Box:
    """The one box, taken apart."""

    cloth: str = ""
    features: tuple[str, ...] = ()
    wearer: str = ""
    season: str = ""
    use: str = ""
    care: str = ""


def read_box(text: str, knowledge: Knowledge) -> Box:
    """'viscose challis, 95 gsm for a flounce and covered buttons', or with the command line's own options."""
    said = " ".join(text.split())
    if _FLAG.search(said):
        return _with_options(said)
    said = verb(said)[1]
    cloth, _, rest = (part.strip() for part in _at_for(said))
    features: list[str] = []
    for part in re.split(r"[;,](?=\D|\s|$)\s*", rest):
        features += _joined(part.strip(), knowledge)
    circumstances = [f for f in features if _is_circumstance(f, knowledge)]
    box = Box(", ".join([cloth, *circumstances]) if cloth else "", tuple(f for f in features if f not in circumstances))
    return box


def verb(text: str) -> tuple[str, str]:
    """The sheet named by the first word ('' where none is), and the text without it."""
    match = re.match(r"(?:advisor\s+)?(check|press|pre-?wash|sew)\b[\s:]+(?=\S)", text, re.I)
    if not match:
        return "", text
    return match.group(1).lower().replace("-", ""), text[match.end() :]


def _at_for(text: str) -> tuple[str, str, str]:
    parts = re.split(r"\s+for\s+(?:an?\s+|the\s+)?", f" {text}", maxsplit=1, flags=re.I)
    return (parts[0], "for", parts[1]) if len(parts) == 2 else (text, "", "")


def _joined(part: str, knowledge: Knowledge) -> list[str]:
    """'a flounce and covered buttons' as two, 'hooks and eyes' as the one name that it is."""
    pieces = re.split(r"\s+(?:and|with)\s+", part)
    if len(pieces) == 1 or phrase(part) in knowledge.feature_words:
        return [part] if part else []
    for at in range(len(pieces) - 1):
        both = " and ".join(pieces[at : at + 2])
        if phrase(both) in knowledge.feature_words:
            return [*pieces[:at], both, *pieces[at + 2 :]]
    return [p for p in pieces if p]


def _is_circumstance(text: str, knowledge: Knowledge) -> bool:
    key = phrase(text)
    return key not in knowledge.feature_words and any(kind == "context" for kind, _ in knowledge.words.get(key, ()))


def _with_options(said: str) -> Box:
    """The box with `--for` and the circumstances as the command line writes them."""
    try:
        parts = shlex.split(said.replace("'", "\u2019") if said.count("'") % 2 else said)
    except ValueError:
        raise Unclear(f"'{said[:60]}'", "every quotation mark closed") from None
    box, place, words = Box(), 0, []
    while place < len(parts):
        word = parts[place]
        name, equals, value = word.partition("=")
        if name.startswith("--"):
            if not equals:
                place += 1
                if place >= len(parts):
                    raise Unclear(f"{name} with nothing behind it", "a word or words in quotation marks")
                value = parts[place]
            if name == "--for":
                box.features = (*box.features, value)
            elif name.removeprefix("--") in CIRCUMSTANCES:
                setattr(box, name.removeprefix("--"), value)
            else:
                raise Unclear(f"{name[:30]} in the box", "--for, --wearer, --season, --use or --care", "--for")
        else:
            words.append(word)
        place += 1
    box.cloth = verb(" ".join(words))[1]
    return box


def _ticked(feature: str, form: Typed, knowledge: Knowledge) -> Ask:
    """A ticked feature with the figures that were filled in for it."""
    if feature not in knowledge.features:
        raise Unclear(f"the ticked feature '{feature[:40]}'", "a feature that the list shows")
    entry = knowledge.features[feature]
    name = entry.names[0] if entry.names else entry.id.replace("-", " ")
    figures: dict[str, float] = {}
    for figure in entry.figures:
        text = form.figure(feature, figure).strip().replace(",", ".")
        if text:
            try:
                value = float(text)
            except ValueError:
                raise Unclear(f"{figure.replace('_', ' ')} '{text}' of {name}", "a figure") from None
            check_figure(entry, figure, value, name)
            figures[figure] = value
    return Ask(name, feature, figures, (entry.place,) if entry.place else ())


def _allowance(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        value = float(text.replace(",", ".").removesuffix("mm"))
    except ValueError:
        raise Unclear(f"seam allowance '{text[:20]}'", "a figure in mm", "15") from None
    if not 1 <= value <= 60:
        raise Unclear(f"seam allowance {value:g} mm", "1 to 60 mm", "15")
    return value
