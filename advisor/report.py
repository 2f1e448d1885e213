"""The reports: what every view shows. Their fields are the JSON contract; more may be added, none taken away."""

from __future__ import annotations

from typing import Any, Literal

import msgspec

VerdictWord = Literal["suits", "care", "avoid"]
Certainty = Literal["sure", "may apply"]
Kind = Literal["stop", "caution", "handling", "press", "prewash", "notion", "safety"]


class Span(msgspec.Struct):
    """A range of one figure."""

    low: float
    high: float


class Scored(msgspec.Struct):
    """0 to 100: 10th centile, mean and 90th centile of the cloths that the description allows."""

    low: float
    expected: float
    high: float


class PropertyReport(msgspec.Struct):
    """One property of the cloth, in its metric unit, with the evidence."""

    low: float
    high: float
    unit: str
    evidence: str
    because: str = ""
    source: str = ""


class ClothReport(msgspec.Struct):
    """The cloth as it was read."""

    given: str
    read_as: str
    not_understood: list[str]
    nearest: dict[str, str]
    properties: dict[str, PropertyReport]
    fibres: dict[str, Span]
    traits: dict[str, Certainty]
    structures: list[str]
    notes: list[str]
    cloth: str | None = None


class FindingReport(msgspec.Struct):
    """One finding."""

    id: str
    kind: Kind
    certainty: Certainty
    features: list[str]
    say: str
    do: str
    because: list[str]
    sources: list[str]
    why: str = ""
    effect: float = 1.0
    remedies: list[str] = []


class MetReport(msgspec.Struct):
    """How well a demand is met, 0 to 1."""

    low: float
    expected: float
    high: float


class DemandReport(msgspec.Struct):
    """One demand: what the cloth has, what is wanted, how well that serves."""

    property: str
    unit: str
    has: Span
    wants: str
    met: MetReport
    importance: float
    why: str
    source: str


class FeatureReport(msgspec.Struct):
    """One feature (or circumstance) judged."""

    feature: str
    given: str
    verdict: VerdictWord
    score: Scored
    demands: list[DemandReport]
    parts: list[FeatureReport] = []
    notes: list[str] = []


class CheckReport(msgspec.Struct):
    """The answer to: does this cloth suit these features?"""

    verdict: VerdictWord
    score: Scored
    features: list[FeatureReport]
    findings: list[FindingReport]
    cloth: ClothReport
    circumstances: list[FeatureReport] = []
    limited_by: str | None = None


class IronReport(msgspec.Struct):
    """The iron: its level (0 none to 3 high), the hottest sole-plate, and which part of the cloth decides."""

    level: int
    max_c: int
    max_f: int
    decided_by: str
    dial: str
    dots: str
    edition_2023_c: int


class PressReport(msgspec.Struct):
    """How the cloth is pressed."""

    iron: IronReport
    steam: Literal["yes", "care", "no"]
    press_cloth: bool
    side: Literal["wrong", "right", "either"]
    how: list[str]
    never: list[str]
    tools: list[str]
    findings: list[FindingReport]
    cloth: ClothReport


class Shrinkage(msgspec.Struct):
    """Shrinkage in the first wash in %, positive = shorter."""

    along: Span
    across: Span
    evidence: str


class PrewashReport(msgspec.Struct):
    """How the cloth is prepared before it is cut."""

    needed: bool
    method: str
    how: str
    max_c: int
    dry: str
    times: int
    shrinkage: Shrinkage
    buy_factor: Span
    before: list[str]
    after: list[str]
    findings: list[FindingReport]
    cloth: ClothReport
    decided_by: str = ""


class PickRow(msgspec.Struct):
    """One cloth in a ranking."""

    cloth: str
    verdict: VerdictWord
    score: Scored
    limited_by: str | None
    watch: str | None
    watch_say: str | None = None
    read_as: str = ""
    notes: list[str] = []


class PickReport(msgspec.Struct):
    """Cloths ranked for a make, and the lines that could not be read."""

    make: str
    features: list[str]
    ranking: list[PickRow]
    not_read: list[str]
    candidates: int


class ListReport(msgspec.Struct):
    """Entries of one kind."""

    kind: str
    entries: list[dict[str, Any]]
    counts: dict[str, int] = {}


REPORTS: dict[str, type[msgspec.Struct]] = {
    "check": CheckReport, "press": PressReport, "prewash": PrewashReport, "pick": PickReport, "list": ListReport,
}  # fmt: skip
"""The report of each command, for its JSON schema."""
