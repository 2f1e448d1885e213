"""Cross-checks of a read knowledge base: every name resolves, every figure has a source, nothing contradicts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from advisor import model
from advisor.ranges import Range
from advisor.reading import Problem
from advisor.rules import MARK_FIELDS, BadRule, normalise
from advisor.sheet_keys import problem_of

ALWAYS_SOURCES = ("common practice", "from memory")
Tables = Mapping[str, Mapping[str, model.Entry]]


def nearest(word: str, names: Iterable[str]) -> str:
    """'; nearest: …' for a name that does not exist."""
    found = get_close_matches(word, list(names), 1, 0.5)
    return f"; nearest: {found[0]}" if found else ""


class Linter:
    """One pass over all entries; `problems` holds what was found."""

    def __init__(self, tables: Tables) -> None:
        self.tables = tables
        self.problems: list[Problem] = []
        self.kinds = {kind for s in tables["structures"].values() for kind in s.kinds}  # type: ignore[attr-defined]
        self.groups = {group for f in tables["fibres"].values() for group in f.groups}  # type: ignore[attr-defined]
        self.entry: model.Entry = model.Entry()

    def wrong(self, field: str, what: str) -> None:
        self.problems.append(Problem(self.entry.origin, self.entry.id, field, what))

    def known(self, kind: str, word: str, field: str, extra: Iterable[str] = ()) -> bool:
        names = [*self.tables[kind], *extra]
        if word in names:
            return True
        self.wrong(field, f"'{word}' is not one of the {kind}{nearest(word, names)}")
        return False

    def sourced(self, source: str, field: str) -> None:
        """A source is 'common practice', 'from memory', or an id of sources.yaml, with ', locator' behind it."""
        if source in ALWAYS_SOURCES:
            return
        word = source.split(",")[0].strip()
        names = [*self.tables["sources"], *ALWAYS_SOURCES]
        if word not in names:
            self.wrong(field, f"source '{word}' does not exist{nearest(word, names)}" if word else "has no source")

    def figures(self, given: Mapping[str, model.Figure | str], field: str, *, bounded: bool = True) -> None:
        for name, figure in given.items():
            if isinstance(figure, str):
                continue
            self.sourced(figure.source, f"{field}.{name}")
            if figure.low > figure.high:
                self.wrong(f"{field}.{name}", f"low {figure.low} above high {figure.high}")
            if bounded and self.known("properties", name, field):
                domain = self.tables["properties"][name].domain  # type: ignore[attr-defined]
                if not (domain.low <= figure.low and figure.high <= domain.high):
                    self.wrong(f"{field}.{name}", f"outside what is possible, {domain.low:g} to {domain.high:g}")

    def traits(self, words: Iterable[str], field: str) -> None:
        for word in words:
            self.known("traits", word, field)

    def effect(self, effect: model.Effect) -> None:
        self.figures(effect.sets, "sets")
        self.figures(effect.narrows, "narrows")
        self.figures(effect.adds, "adds", bounded=False)
        self.figures(effect.times, "times", bounded=False)
        self.figures(effect.caps, "caps")
        for name in (*effect.adds, *effect.times):
            self.known("properties", name, "adds or times")
        self.traits((*effect.traits, *effect.may, *effect.clears), "traits")

    def demands(self, entry: model.Feature | model.Context) -> None:
        figures = entry.figures if isinstance(entry, model.Feature) else {}
        for demand in entry.demands:
            name = f"demands.{demand.property}"
            self.known("properties", demand.property, name)
            self.sourced(demand.source, name)
            if demand.over and demand.over not in figures:
                self.wrong(name, f"'{demand.over}' is not a figure of this feature{nearest(demand.over, figures)}")
            curves = [points for _, points in demand.curves] if demand.over else [demand.curve]
            if not curves or not all(curves):
                self.wrong(name, "has no curve")
            for points in curves:
                if any(not 0 <= met <= 1 for _, met in points):
                    self.wrong(name, "how well it serves must be from 0 to 1")
                if len(points) > 1 and len({met for _, met in points}) == 1:
                    self.wrong(name, "the curve is flat: it asks nothing")
            if not 0 < demand.importance <= 5:
                self.wrong(name, "importance must be above 0 and at most 5")

    def property_(self, entry: model.Property) -> None:
        for word, band in {"assumed": entry.assumed, **entry.bands}.items():
            if not (entry.domain.low <= band.low and band.high <= entry.domain.high):
                self.wrong(word, "outside the domain")

    def fibre(self, entry: model.Fibre) -> None:
        self.figures(entry.gives, "gives")
        self.figures(entry.usual, "usual")
        self.figures(entry.per_share, "per_share", bounded=False)
        self.figures(entry.facts, "facts", bounded=False)
        self.traits((*entry.traits, *entry.may), "traits")
        melts, limit = entry.facts.get("melts_c"), entry.gives.get("heat_limit")
        if isinstance(melts, model.Figure) and limit and limit.high >= melts.low:
            self.wrong("heat_limit", f"safe iron {limit.high:g} °C is not below melting {melts.low:g} °C")
        for name in entry.goes_into:
            self.known("structures", name, "goes_into")

    def cloth(self, entry: model.Cloth) -> None:
        self.figures(entry.ranges, "ranges")
        self.traits((*entry.traits, *entry.may, *entry.lacks), "traits")
        for word in entry.structure:
            self.known("structures", word, "structure")
        for word in entry.finishes:
            self.known("finishes", word, "finishes")
        for mix in entry.fibres:
            for fibre in mix:
                self.known("fibres", fibre, "fibres")
            if sum(share.low for share in mix.values()) > 100 or sum(s.high for s in mix.values()) < 100:
                self.wrong("fibres", "the shares cannot add up to 100")
        both = set(entry.traits) & set(entry.lacks)
        if both:
            self.wrong("traits", f"both has and lacks {', '.join(sorted(both))}")

    def feature(self, entry: model.Feature) -> None:
        self.demands(entry)
        for part in entry.parts:
            self.known("features", part, "parts")
        for other in entry.swappable:
            self.known("features", other, "swappable")
        if entry.place:
            self.known("places", entry.place, "place")
        for name in entry.context:
            self.known("context", name, "context")
        if not entry.demands and not entry.parts:
            self.wrong("demands", "asks nothing of a cloth")

    def parts_have_no_cycle(self) -> None:
        features = self.tables["features"]

        def walk(name: str, above: tuple[str, ...]) -> None:
            if name in above:
                self.entry = features[name]
                self.wrong("parts", f"goes round in a circle: {' > '.join((*above, name))}")
                return
            for part in getattr(features.get(name), "parts", {}):
                walk(part, (*above, name))

        for name in features:
            walk(name, ())

    def condition(self, when: object, field: str, figures: Iterable[str]) -> None:
        """Names used in a condition."""
        if not isinstance(when, dict):
            return
        for key, body in when.items():
            if key in ("all", "any"):
                for part in body if isinstance(body, list) else ():
                    self.condition(part, field, figures)
            elif key == "not":
                self.condition(body, field, figures)
            elif key in ("has", "lacks"):
                self.known("traits", str(body), field)
            elif key in ("fibre", "group"):
                names = [body] if isinstance(body, str) else list(body) if isinstance(body, dict) else []
                for name in names:
                    if key == "fibre":
                        self.known("fibres", name, field)
                    elif name not in self.groups:
                        self.wrong(field, f"no fibre is in the group '{name}'{nearest(name, self.groups)}")
            elif key == "structure":
                self.known("structures", str(body), field, self.kinds)
            elif key == "finish":
                self.known("finishes", str(body), field)
            elif key == "place":
                self.known("places", str(body), field)
            elif key == "with":
                self.known("features", str(body), field)
            elif key in MARK_FIELDS:
                names = [i for i, c in self.tables["context"].items() if c.kind == key]  # type: ignore[attr-defined]
                if body not in names:
                    self.wrong(field, f"'{body}' is not a {key}{nearest(str(body), names)}")
            elif key == "figure":
                for name in body if isinstance(body, dict) else ():
                    if name not in figures:
                        self.wrong(field, f"'{name}' is not a figure of what it is about{nearest(name, figures)}")
            else:
                self.known("properties", str(key), field)

    def rule(self, entry: model.Rule) -> None:
        figures: set[str] = set()
        for feature in entry.features:
            if self.known("features", feature, "about"):
                figures |= set(self.tables["features"][feature].figures)  # type: ignore[attr-defined]
        self.condition(entry.when, "when", figures)
        try:
            if entry.when:
                normalise(entry.when)
        except BadRule as error:
            self.wrong("when", str(error))
        if not entry.when and not entry.features:
            self.wrong("when", "a rule needs conditions, or features that it is about")
        then = entry.then
        if bool(then.derive) == bool(then.kind):
            self.wrong("then", "needs either a kind of finding or a trait to derive")
        if then.derive:
            self.traits([then.derive], "then.derive")
        elif not then.say:
            self.wrong("then.say", "is empty")
        for remedy in then.remedies:
            self.known("remedies", remedy, "then.remedies")
        for key, value in then.sheet.items():
            if problem := problem_of(key, value, then.kind or "derive"):
                self.wrong("then.sheet", problem)
        if not entry.examples.fires or not entry.examples.quiet:
            self.wrong("examples", "needs at least one that fires and one that stays quiet")

    def remedy(self, entry: model.Remedy) -> None:
        self.effect(entry.effect)
        for feature in entry.features:
            self.known("features", feature, "features")
        for rule in entry.answers:
            self.known("rules", rule, "answers")
        for prop in (*entry.lifts, *entry.eases):
            self.known("properties", prop, "lifts or eases")
        for prop in set(entry.where) - {*entry.lifts}:
            self.wrong("where", f"'{prop}' is not one of the properties that this remedy lifts")
        if entry.swap:
            self.known("features", entry.swap, "swap")

    def symptom(self, entry: model.Symptom) -> None:
        for feature in entry.features:
            self.known("features", feature, "features")
        for cause in entry.causes:
            self.condition(cause.likelier, "likelier", ())

    def synonyms(self) -> None:
        """Two entries of one kind may share a name only where each says its sense."""
        for kind in ("fibres", "structures", "finishes", "cloths", "features", "places", "words", "traits"):
            owners: dict[str, list[model.Entry]] = defaultdict(list)
            for entry in self.tables[kind].values():
                for name in {n.lower() for n in entry.names}:
                    owners[name].append(entry)
            for name, entries in owners.items():
                if len(entries) > 1 and not all(getattr(e, "sense", "") for e in entries):
                    self.entry = entries[-1]
                    others = ", ".join(e.id for e in entries[:-1])
                    self.wrong("names", f"'{name}' is also a name of {others}; give each a sense")

    def alike(self) -> None:
        """Two entries that say the same add nothing."""
        for kind in ("cloths", "rules", "features"):
            seen: dict[bytes, model.Entry] = {}
            for entry in self.tables[kind].values():
                key = _substance(entry)
                if key in seen:
                    self.entry = entry
                    self.wrong("", f"says nothing that {seen[key].id} does not")
                seen.setdefault(key, entry)

    def run(self) -> list[Problem]:
        check = {
            "properties": self.property_, "fibres": self.fibre, "cloths": self.cloth, "features": self.feature,
            "context": self.demands, "rules": self.rule, "remedies": self.remedy, "symptoms": self.symptom,
        }  # fmt: skip
        for kind, table in self.tables.items():
            for entry in table.values():
                self.entry = entry
                if kind != "sources":
                    self.sourced(entry.source, "source")
                if kind in ("structures", "finishes", "words"):
                    self.effect(entry.effect)  # type: ignore[attr-defined]
                if kind == "words":
                    self.figures(entry.suggests, "suggests")  # type: ignore[attr-defined]
                if kind == "tests":
                    self.known("properties", entry.property, "property")  # type: ignore[attr-defined]
                if kind in check:
                    check[kind](entry)  # type: ignore[operator]
        self.parts_have_no_cycle()
        self.synonyms()
        self.alike()
        return sorted(set(self.problems))


def _substance(entry: model.Entry) -> bytes:
    import msgspec

    body = msgspec.to_builtins(entry)
    for key in ("id", "origin", "names", "about", "source", "sense", "likelier", "examples", "why", "wrong"):
        body.pop(key, None)
    if "then" in body:
        body["then"] = {k: body["then"].get(k) for k in ("kind", "derive", "say")}
    return msgspec.json.encode(body)


def range_text(value: Range) -> str:
    return f"{value.low:g} to {value.high:g}" if value.low != value.high else f"{value.low:g}"
