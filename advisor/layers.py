"""The layers of one garment: what they must share in wash, shrinkage, heat and colour, and how shrinkage goes on.

Roles, limits and the course of shrinkage stand in `knowledge/lists/layers.yaml` and `shrinkage-course.yaml`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import msgspec

from advisor import report
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.lists import read_list
from advisor.profile import Profile
from advisor.ranges import Range
from advisor.words_form import phrase, words_of


class Sourced(msgspec.Struct, forbid_unknown_fields=True):
    """One figure with its source."""

    is_: float = msgspec.field(name="is")
    source: str


class Role(msgspec.Struct, forbid_unknown_fields=True):
    """What of a layer is held against the others."""

    compares: list[str]
    about: str = ""
    narrow: bool = False
    ignore: list[str] = []
    usual: str = ""


class Fusing(msgspec.Struct, forbid_unknown_fields=True):
    """Marks of a layer that is stuck on with heat, and that heat (°C): of the coolest resins, and the common one."""

    marks: list[str]
    from_c: Sourced
    usual_c: Sourced


class Layers(msgspec.Struct, forbid_unknown_fields=True):
    """lists/layers.yaml."""

    roles: dict[str, Role]
    also: dict[str, str]
    other: str
    fusing: Fusing
    limits: dict[str, Sourced]
    pale: list[str]
    dark: list[str]
    dry_care: list[str] = []


class Course(msgspec.Struct, forbid_unknown_fields=True):
    """One row of the course of shrinkage: whom it holds for, and what is still to come after so many washes."""

    source: str
    about: str
    marks: list[str] = []
    without: list[str] = []
    groups: dict[str, float] = {}
    after: dict[str, tuple[float, float]] = {}
    per_wash_pct: tuple[float, float] = (0.0, 0.0)


class ShrinkageCourse(msgspec.Struct, forbid_unknown_fields=True):
    """lists/shrinkage-course.yaml."""

    relaxation: list[Course]
    felting: list[Course]
    write_down: list[str]


# ---- the course of shrinkage ----


def _fits(course: Course, profile: Profile) -> bool:
    if any(not profile.marks.get(m, (False, False))[0] for m in course.marks):
        return False
    if any(profile.marks.get(m, (False, False))[0] for m in course.without):
        return False
    return all(profile.groups.get(g, Range(0, 0)).mid >= share for g, share in course.groups.items())


def left_after(profile: Profile, knowledge: Knowledge) -> tuple[dict[str, report.LeftAfter], list[str]]:
    """What is still to come (%) once the cloth has had one wash, and three; and what to write down.

    Relaxation is the first wash's shrinkage times the share of the table; felting is per further wash.
    """
    table = read_list("shrinkage-course", ShrinkageCourse, knowledge.folders)
    relaxing = next((c for c in table.relaxation if _fits(c, profile)), None)
    felting = next((c for c in table.felting if _fits(c, profile)), None)
    per_wash = report.Span(*felting.per_wash_pct) if felting else report.Span(0, 0)
    found: dict[str, report.LeftAfter] = {}
    for washes, share in (relaxing.after if relaxing else {}).items():
        along, across = (
            report.Span(*(round(v, 1) for v in Range(max(0, r.low), max(0, r.high)).times(Range(*share))))
            for r in (profile.known["shrink_along"].range, profile.known["shrink_across"].range)
        )
        about = [c.about for c in (relaxing, felting) if c]
        found[washes] = report.LeftAfter(along, across, per_wash, "; ".join(about), [c.source for c in (relaxing, felting) if c])
    return found, list(table.write_down)


# ---- layers ----


@dataclass(frozen=True)
class Layer:
    """One layer: its role as the maker says it, and its profile."""

    role: str
    given: str
    profile: Profile

    def known(self, name: str) -> Range:
        return self.profile.known[name].range


def read_layer(text: str) -> tuple[str, str]:
    """'role=cloth' as (role, cloth); raises `Unclear`."""
    role, sign, cloth = text.partition("=")
    if not sign or not role.strip() or not cloth.strip():
        raise Unclear(f"layer '{text[:60]}'", "role=cloth in your own words", 'lining="viscose lining"')
    return role.strip().lower(), cloth.strip()


def layers_of(given: Mapping[str, str], knowledge: Knowledge) -> list[Layer]:
    """The layers, each described as a cloth."""
    from advisor.advise import profile_of

    table = read_list("layers", Layers, knowledge.folders)
    return [Layer(role, cloth, profile_of(_cloth_of(role, cloth, table), knowledge)) for role, cloth in given.items()]


def _cloth_of(role: str, given: str, table: Layers) -> str:
    """The cloth of a layer without the words that only name the notion; the usual one where nothing else is said."""
    own = _role(role, table)
    if not own.ignore:
        return given
    left = re.sub(rf"\b(?:{'|'.join(own.ignore)})\b", " ", given, flags=re.I)
    return " ".join(left.split()).strip(" ,;") or own.usual


def _role(role: str, table: Layers) -> Role:
    key = phrase(role)
    names = {phrase(n): n for n in table.roles} | {phrase(n): to for n, to in table.also.items()}
    name = names.get(key) or next((names[w] for w in reversed(words_of(role)) if w in names), table.other)
    return table.roles[name]


def role_of(layer: Layer, knowledge: Knowledge) -> Role:
    """What a layer's role is held to, and what is to be minded of it."""
    return _role(layer.role, read_list("layers", Layers, knowledge.folders))


def _says(layer: Layer, words: Iterable[str]) -> bool:
    text = layer.given.lower()
    return any(re.search(rf"\b{re.escape(w)}\b", text) for w in words)


def fused(layer: Layer, table: Layers) -> bool:
    return any(layer.profile.marks.get(m, (False, False))[0] for m in table.fusing.marks)


def _span_text(span: Range) -> str:
    low, high = round(span.low, 1), round(span.high, 1)
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def conflicts_of(
    outer: Layer, layers: Sequence[Layer], knowledge: Knowledge, wanted: int | None = None, context: Sequence[str] = ()
) -> list[report.ConflictReport]:
    """Where layers do not go together, the surest first.

    `wanted` is the wash that the garment shall get, °C; colour and water do not matter where `context` keeps it dry.
    """
    table = read_list("layers", Layers, knowledge.folders)
    every = [outer, *layers]
    dry = wanted is None and any(c in table.dry_care for c in context)
    found = [c for a, b in combinations(every, 2) for c in _between(a, b, outer, table, dry)]
    found = [c for c in found if not (dry and c.kind in ("wash", "bleed"))]
    for layer in every:
        wash = layer.known("wash_limit")
        if wanted is not None and wash.low < wanted:
            takes = f"{wash.low:.0f} °C" if wash.low >= table.limits["no_water_c"].is_ else "no water for certain"
            found.append(
                report.ConflictReport(
                    "wash", [layer.role], "sure" if wash.high < wanted else "may apply",
                    f"The {layer.role} takes {takes}; the care wanted is a wash at {wanted} °C.",
                    "Choose another cloth for this layer, or sew in a label with the milder care.",
                    [f"{layer.role}: {layer.profile.known['wash_limit'].because}"],
                )
            )  # fmt: skip
    order = ("fusing", "wash", "bleed", "shrinkage", "iron")
    return sorted(found, key=lambda c: (c.certainty != "sure", order.index(c.kind)))


def _between(a: Layer, b: Layer, outer: Layer, table: Layers, dry_cleaned: bool) -> list[report.ConflictReport]:
    found: list[report.ConflictReport] = []
    shared = [x for x in _role(a.role, table).compares if x in _role(b.role, table).compares]
    limits = {name: figure.is_ for name, figure in table.limits.items()}

    def add(kind: str, sure: bool, say: str, do: str, because: list[str]) -> None:
        certainty: report.Certainty = "sure" if sure else "may apply"
        found.append(report.ConflictReport(kind, [a.role, b.role], certainty, say, do, because))  # type: ignore[arg-type]

    if "wash" in shared and outer in (a, b):
        dry, wet = sorted((a, b), key=lambda x: x.known("wash_limit").low)
        d, w = dry.known("wash_limit"), wet.known("wash_limit")
        if d.low < limits["no_water_c"] <= w.low:
            add("wash", d.high < limits["no_water_c"],
                f"The {wet.role} can be washed; the {dry.role} must be kept out of water.",
                f"Choose a washable {dry.role}, or clean the whole garment dry.",
                [f"{x.role}: {_span_text(x.known('wash_limit'))} °C" for x in (dry, wet)])  # fmt: skip
    if "shrinkage" in shared and outer in (a, b):
        worst, sure = 0.0, False
        for way in ("shrink_along", "shrink_across"):
            one, two = a.known(way), b.known(way)
            apart = max(0.0, one.low - two.high, two.low - one.high)
            worst = max(worst, abs(one.mid - two.mid))
            sure = sure or apart > limits["shrinkage_pct"]
        if sure or worst > limits["shrinkage_pct"]:
            more = max((a, b), key=lambda x: x.known("shrink_along").mid + x.known("shrink_across").mid)
            about = next((_role(x.role, table).about for x in (a, b) if _role(x.role, table).about), "")
            say = f"The {a.role} and the {b.role} shrink differently: the layer that shrinks more pulls the other into bubbles."
            do = f"Shrink both before cutting, the {more.role} twice, as the garment will be washed; or choose one that shrinks alike."
            if dry_cleaned:
                do = f"Steam both all over before cutting, the {more.role} twice, or have both cleaned once; or choose one that shrinks alike."
            add("shrinkage", sure, say, do, [
                f"{x.role}: along {_span_text(x.known('shrink_along'))} %, across {_span_text(x.known('shrink_across'))} %"
                for x in (a, b)] + ([about] if about else []))  # fmt: skip
    if fused(a, table) != fused(b, table) and outer in (a, b):
        glue, cloth = (a, b) if fused(a, table) else (b, a)
        heat = cloth.known("heat_limit")
        low, usual = table.fusing.from_c.is_, table.fusing.usual_c.is_
        if heat.low < usual:
            add("fusing", heat.high < low,
                f"The {glue.role} is fused at {low:.0f} °C and more, commonly {usual:.0f} °C; the {cloth.role} is safe only to {heat.low:.0f} °C.",
                "Choose a sew-in, or a resin that sets below that heat, and fuse a scrap before you buy the length.",
                [f"{cloth.role}: {cloth.profile.decided.get('heat_limit', cloth.profile.known['heat_limit'].because)} decides its heat"])  # fmt: skip
    if "iron" in shared and outer in (a, b) and not fused(a, table) and not fused(b, table):
        cool, hot = sorted((a, b), key=lambda x: x.known("heat_limit").low)
        c, h = cool.known("heat_limit"), hot.known("heat_limit")
        if h.low - c.low > limits["iron_gap_c"]:
            add("iron", h.low - c.high > limits["iron_gap_c"],
                f"The {cool.role} bears {c.low:.0f} °C, the {hot.role} {h.low:.0f} °C: once joined, the cooler one sets the iron.",
                f"Press the {hot.role} before they are joined; afterwards keep to the heat of the {cool.role}.",
                [f"{x.role}: {_span_text(x.known('heat_limit'))} °C" for x in (cool, hot)])  # fmt: skip
    if "bleed" in shared:
        for runs, beside in ((a, b), (b, a)):
            grade = runs.known("bleed")
            pale = _says(beside, table.pale)
            deep = runs.profile.marks.get("trait.deep-dye", (False, False))[0] or _says(runs, table.dark)
            if _says(runs, table.pale) or grade.low >= limits["bleed_grade"] or not (pale or grade.high < limits["bleed_grade"]):
                continue
            if not (deep or grade.mid < limits["bleed_grade"]):
                continue
            add("bleed", pale and grade.high < limits["bleed_grade"],
                f"The {runs.role} may lose colour into the {beside.role}.",
                f"Wash the {runs.role} by itself until the water stays clear, and test it wet on a scrap of the {beside.role} before buying.",
                [f"{runs.role}: grade {_span_text(grade)}, wanted {limits['bleed_grade']:g} beside a pale layer"])  # fmt: skip
    return found


def together(outer: Layer, layers: Sequence[Layer], knowledge: Knowledge) -> report.TogetherReport:
    """The care of the finished garment: that of its weakest part."""
    from advisor.sheets import iron_for

    every = [outer, *layers]
    table = read_list("layers", Layers, knowledge.folders)

    def bears(layer: Layer) -> float:
        """What is stuck on with heat has borne that heat already, and lets go again above it."""
        least = layer.known("heat_limit").low
        return max(least, table.fusing.from_c.is_) if fused(layer, table) else least

    wash = min(every, key=lambda x: x.known("wash_limit").low)
    heat = min(every, key=bears)
    limit = bears(heat)
    return report.TogetherReport(
        int(wash.known("wash_limit").low), wash.role, iron_for(limit, f"{heat.role}: {heat.profile.decided.get('heat_limit', '')}".rstrip(": "), knowledge), heat.role,
    )  # fmt: skip
