"""The nouns of the knowledge base, each defined once.

One set of structs serves three ends: reading the YAML (a wrong field is named), the JSON schema for
editors, and the compiled cache. Every figure keeps the source that it came from; every entry keeps the
file that it came from (`origin`).
"""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from advisor.ranges import Range

Grade = Annotated[float, Meta(ge=0, le=1)]
FindingKind = Literal["stop", "caution", "handling", "press", "prewash", "notion", "safety"]
Blend = Literal["none", "weakest", "mean", "strongest"]


class Entry(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """What every entry has. `id` and `origin` are filled in by the reader, never written by hand."""

    id: str = ""
    origin: str = ""
    names: list[str] = []
    about: str = ""
    source: str = ""


class Source(Entry, kw_only=True):
    """A publication that figures may name."""

    title: str
    number: str = ""
    year: int | None = None
    seen: Literal["read", "quoted"] = "quoted"


class Figure(msgspec.Struct, forbid_unknown_fields=True):
    """A range with the source that gives it."""

    low: float
    high: float
    source: str

    @property
    def range(self) -> Range:
        return Range(self.low, self.high)


class Property(Entry, kw_only=True):
    """Something measurable of a cloth."""

    name: str
    unit: str
    domain: Range
    assumed: Range
    decimals: int
    bands: dict[str, Range]
    per_unit: float
    blend: Blend = "none"
    scales: dict[str, float] = {}
    tolerance: float = 0.0
    safer: Literal["", "low", "high"] = ""
    home_test: str = ""
    lab_method: str = ""


class Trait(Entry, kw_only=True):
    """A yes-or-no mark."""


class Effect(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """How something changes a cloth: ranges it sets, adds to, multiplies or caps; traits it gives or takes.

    `sets` replaces, `narrows` intersects, `adds` shifts both ends, `times` multiplies, `caps` is the most
    the figure can be.
    """

    sets: dict[str, Figure] = {}
    narrows: dict[str, Figure] = {}
    adds: dict[str, Figure] = {}
    times: dict[str, Figure] = {}
    caps: dict[str, Figure] = {}
    traits: list[str] = []
    may: list[str] = []
    clears: list[str] = []


class Fibre(Entry, kw_only=True):
    """A fibre: its names in law, its codes, and how it behaves.

    `per_share` is what each hundredth of it adds to a property where it is not usual in the cloth named.
    """

    law: dict[str, str] = {}
    codes: list[str] = []
    groups: list[str]
    gives: dict[str, Figure]
    usual: dict[str, Figure] = {}
    facts: dict[str, Figure | str] = {}
    traits: list[str] = []
    may: list[str] = []
    per_share: dict[str, Figure] = {}
    burns: str = ""
    goes_into: list[str] = []
    """The structures that a cloth with some of it may have where none is named; woven where this is empty."""


class Structure(Entry, kw_only=True):
    """A weave, a knit or another way of making cloth, and what it does."""

    kinds: list[str]
    effect: Effect = msgspec.field(default_factory=Effect)


class Finish(Entry, kw_only=True):
    """Something done to a cloth, or a state that it is in."""

    effect: Effect = msgspec.field(default_factory=Effect)


class Word(Entry, kw_only=True):
    """A describing word. `suggests` holds only where nothing better is known about the cloth."""

    effect: Effect = msgspec.field(default_factory=Effect)
    suggests: dict[str, Figure] = {}


class Sewing(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """How easy a cloth is to sew, from 1 (easy) to 5 (hard), and why."""

    ease: Annotated[int, Meta(ge=1, le=5)]
    why: str
    source: str = ""


class Cloth(Entry, kw_only=True):
    """A named cloth, or a class of cloths.

    `fibres` lists the usual make-ups, each fibre id with its share in %; where several are usual, each is
    one map. `ranges` holds what is usual for this cloth.
    """

    kind: Literal["cloth", "class"] = "cloth"
    family: str = ""
    fibres: list[dict[str, Range]] = []
    structure: list[str] = []
    finishes: list[str] = []
    ranges: dict[str, Figure] = {}
    traits: list[str] = []
    may: list[str] = []
    lacks: list[str] = []
    width_cm: Range | None = None
    sewing: Sewing | None = None
    sense: str = ""
    likelier: int = 0


class Demand(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """What a feature asks of one property: how well each figure serves, 0 to 1.

    `curve` is a list of (figure, met) points, straight lines between them and flat beyond. Where the wish
    depends on a figure of the feature, `over` names it and `curves` holds one curve for each of its values;
    between two values the curves are blended.
    """

    property: str
    importance: float
    why: str
    source: str
    curve: list[tuple[float, float]] = []
    over: str = ""
    curves: list[tuple[float, list[tuple[float, float]]]] = []


class FigureOf(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """A figure that a feature takes: the one assumed when none is given, and what is possible."""

    typical: float
    possible: Range
    about: str = ""


class Feature(Entry, kw_only=True):
    """Something a garment has. A whole garment is a feature with `parts`; `context` holds what it is always worn for or by."""

    group: str
    figures: dict[str, FigureOf] = {}
    demands: list[Demand] = []
    parts: dict[str, float] = {}
    swappable: list[str] = []
    wrong: list[str] = []
    place: str = ""
    context: list[str] = []


class Context(Entry, kw_only=True):
    """A circumstance: wearer, season, use or care."""

    kind: Literal["wearer", "season", "use", "care"]
    demands: list[Demand] = []
    wash: int | None = None


class Place(Entry, kw_only=True):
    """A place on a garment."""

    shape: Literal["straight", "curved", "bias"]
    strain: Literal["none", "some", "much"]


class Then(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """What a rule concludes: a finding, or a derived trait.

    `effect` multiplies the fit of the features that the rule is about (1 leaves it). `sheet` carries
    settings for the pressing and pre-wash sheets; where rules disagree the safer setting wins.
    """

    kind: FindingKind | None = None
    derive: str = ""
    say: str = ""
    do: str = ""
    effect: Annotated[float, Meta(gt=0, le=1.25)] = 1.0
    remedies: list[str] = []
    sheet: dict[str, str | float | bool | list[str]] = {}


class Examples(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """Descriptions, as a maker would type them, on which the rule must fire and must stay quiet."""

    fires: list[str]
    quiet: list[str]


class Condition(msgspec.Struct, frozen=True, array_like=True):
    """One condition of the normal form: an operator, a field and its value.

    `op` is `lt`, `ge`, `gt`, `le` on a numeric field, or `has`, `lacks` on a mark (value 0).
    """

    op: str
    field: str
    value: float = 0.0


class Rule(Entry, kw_only=True):
    """When these conditions hold, this finding follows.

    `features` (written `about` in the files) names what the rule is about; empty means every cloth.
    `when` is what the file says, `conjunctions` its normal form: the rule holds when all conditions of any
    one conjunction hold.
    """

    then: Then
    why: str
    examples: Examples
    features: list[str] = []
    when: dict[str, object] = {}
    conjunctions: list[list[Condition]] = []


class RemedyCost(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """What a remedy costs: minutes of work, a money band (none, low, some, much), and what it does to the cloth."""

    minutes: float
    money: Literal["none", "low", "some", "much"] = "none"
    cloth: str = ""


class Remedy(Entry, kw_only=True):
    """Something the maker can do.

    `features` says for which features it can be done (empty: any). `effect` changes the cloth, `answers`
    names rules that it settles, `eases` multiplies the importance of demands, `lifts` raises how well a
    demand is met (share of what is missing), `swap` replaces the feature by another. `where` limits a lift to
    cloth that has too little (low) or too much (high) of the property.
    """

    do: str
    cost: RemedyCost
    features: list[str] = []
    effect: Effect = msgspec.field(default_factory=Effect)
    answers: list[str] = []
    lifts: dict[str, float] = {}
    where: dict[str, Literal["low", "high"]] = {}
    eases: dict[str, float] = {}
    swap: str = ""
    keeps: str = ""
    tools: list[str] = []
    why: str = ""


class Band(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """One reading of a home test and the range that it stands for."""

    says: str
    range: Range


class HomeTest(Entry, kw_only=True):
    """A test that can be made at home: what it settles, how long it takes, how, and how sure it is."""

    property: str
    minutes: float
    needs: list[str]
    how: list[str]
    spread: float
    readings: list[Band] = []
    safety: str = ""


class Cause(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """One likely cause of a symptom, what makes it likelier, how to tell, what to try and when to stop."""

    cause: str
    tell: str
    try_first: str
    stop: str = ""
    likelier: dict[str, object] = {}
    after: list[str] = []
    conjunctions: list[list[Condition]] = []


class Symptom(Entry, kw_only=True):
    """Something that has gone wrong."""

    causes: list[Cause]
    features: list[str] = []
    safety: str = ""


class IronLevel(Entry, kw_only=True):
    """One setting of the iron, its heat in both editions of the standard, and its words on a dial."""

    level: int
    max_c: float
    max_c_2023: float
    dial: str
    dots: str


class Method(Entry, kw_only=True):
    """One way of preparing cloth, ranked from the roughest (low) to the gentlest (high)."""

    rank: int
    how: str
    dry: str = ""
    water: bool = True


class Settings(Entry, kw_only=True):
    """Figures that steer the judging."""

    suits_from: float
    care_from: float
    sample_points: int
    floor: float
    worst_margin: float
    weakest_share: Annotated[float, Meta(ge=0, le=1)]
    weakest_from: Annotated[float, Meta(gt=0)]
    possible_effect: float
