"""The reports: what every view shows. Their fields are the JSON contract; more may be added, none taken away."""

from __future__ import annotations

from typing import Any, Literal

import msgspec

from advisor.plan.answers import PlanReport
from advisor.wardrobe.answers import WardrobeReport

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
    figures: dict[str, float] = {}
    """The figures that were said of it, by the feature's own names (`depth_cm`, `count`)."""


class NextTest(msgspec.Struct):
    """The home test that settles most for its minutes; `could_become` holds every verdict that its outcomes lead to."""

    test: str
    property: str
    minutes: float
    could_become: list[VerdictWord]
    how: str
    name: str = ""
    value: float = 0.0
    safety: str = ""


class Effort(msgspec.Struct):
    """What a remedy costs the maker."""

    minutes: float
    money: Literal["none", "low", "some", "much"]


class RemedyReport(msgspec.Struct):
    """Something that can be done (two ids joined by ` + ` are done together), and the verdict of the whole after it.

    `tools` is all that it takes, `missing` what of that is not owned; `helps` the features it was chosen for.
    """

    id: str
    do: str
    verdict_after: VerdictWord
    score_after: Scored
    effort: Effort
    cost_to_cloth: str
    swap: str | None = None
    keeps: str | None = None
    helps: list[str] = []
    name: str = ""
    why: str = ""
    tools: list[str] = []
    missing: list[str] = []
    sources: list[str] = []


class WhatIf(msgspec.Struct):
    """What was supposed, how it was read, and the answer without it."""

    given: list[str]
    read_as: list[str]
    verdict_before: VerdictWord
    score_before: Scored


class CurveReport(msgspec.Struct):
    """One demand in full: the curve as (figure, met) points and what the cloth has."""

    feature: str
    property: str
    name: str
    unit: str
    curve: list[tuple[float, float]]
    has: Span
    met: MetReport
    importance: float
    why: str
    source: str


class NearReport(msgspec.Struct):
    """A rule that would have fired but for one condition."""

    rule: str
    feature: str
    kind: Kind
    say: str
    missing: str
    has: str


class WhyReport(msgspec.Struct):
    """The whole reasoning, beside what the check itself says: curves, and rules that nearly fired."""

    curves: list[CurveReport]
    nearly: list[NearReport]


class LessonReport(msgspec.Struct):
    """A line of the maker's own log that bears on the case, and why: what was seen, in which make and cloth, and when.

    `apart` is how far that cloth is from this one, in differences that would just be felt; `entry` its number in the log.
    """

    line: str
    went: Literal["", "well", "badly"]
    because: Literal["this piece", "a like cloth", "this feature", "this rule"]
    make: str
    day: str
    cloth: str
    features: list[str]
    property: str | None
    rule: str | None
    apart: float
    entry: int


class CheckReport(msgspec.Struct):
    """The answer to: does this cloth suit these features?"""

    verdict: VerdictWord
    score: Scored
    features: list[FeatureReport]
    findings: list[FindingReport]
    cloth: ClothReport
    circumstances: list[FeatureReport] = []
    limited_by: str | None = None
    next_test: NextTest | None = None
    remedies: list[RemedyReport] = []
    what_if: WhatIf | None = None
    why: WhyReport | None = None
    lessons: list[LessonReport] = []


class IronReport(msgspec.Struct):
    """The iron: its level (0 none to 3 high), the hottest sole-plate, and which part of the cloth decides.

    `otherwise_c` is what it could be at most where that part is not certain and the cloth turns out to be without it (else 0).
    """

    level: int
    max_c: int
    max_f: int
    decided_by: str
    dial: str
    dots: str
    edition_2023_c: int
    otherwise_c: int = 0


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


class LeftAfter(msgspec.Struct):
    """What is still to come after so many washes, %: relaxation along and across, and felting for each further wash."""

    along: Span
    across: Span
    felting_each_wash: Span
    because: str
    sources: list[str]


class LayerReport(msgspec.Struct):
    """One layer of the garment: its limits, and how it is prepared before cutting. A `narrow` one has a length only."""

    role: str
    cloth: ClothReport
    wash_c: Span
    iron_c: Span
    shrinkage: Shrinkage
    bleed: Span
    needed: bool
    method: str
    how: str
    max_c: int
    note: str = ""
    narrow: bool = False


class ConflictReport(msgspec.Struct):
    """Two layers that do not go together, or one that does not bear the care wanted."""

    kind: Literal["wash", "shrinkage", "iron", "fusing", "bleed"]
    between: list[str]
    certainty: Certainty
    say: str
    do: str
    because: list[str]


class TogetherReport(msgspec.Struct):
    """The care of the finished garment, with the layer that decides each."""

    wash_c: int
    wash_decided_by: str
    iron: IronReport
    iron_decided_by: str


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
    layers: list[LayerReport] = []
    conflicts: list[ConflictReport] = []
    together: TogetherReport | None = None
    left_after: dict[str, LeftAfter] = {}
    write_down: list[str] = []


class NeedleReport(msgspec.Struct):
    """The machine needle: type, metric size (hundredths of a millimetre) and US size."""

    type: str
    nm: Span
    us: Span


class ThreadReport(msgspec.Struct):
    """The thread: fibre, Tex (g per 1000 m) and metric ticket number (3000 / Tex)."""

    fibre: str
    tex: Span
    ticket: Span


class StitchReport(msgspec.Struct):
    """The stitch: which, its length in mm and in stitches per inch."""

    type: str
    length_mm: Span
    per_inch: Span


class SeamReport(msgspec.Struct):
    """One seam: where, its widths in mm (allowance = first + turn + second where it is enclosed), and its finish."""

    place: str
    seam: str
    finish: str
    allowance_mm: float
    passes: list[str]
    feature: str | None = None
    first_mm: float | None = None
    trim_mm: float | None = None
    second_mm: float | None = None
    turn_mm: float | None = None


class HemReport(msgspec.Struct):
    """One hem: where, which, its depth, and how many days it hangs before it is levelled."""

    place: str
    hem: str
    depth_mm: Span | None
    hang_days: Span | None
    feature: str | None = None


class InterfacingReport(msgspec.Struct):
    """Interfacing: what, stuck or sewn in, where and on which grain."""

    what: str
    kind: Literal["fusible", "sew-in", "either", "none"]
    where: list[str]
    grain: str


class AdviceReport(msgspec.Struct):
    """One piece of advice, its heading, and the facts behind it."""

    under: str
    say: str
    do: str
    certainty: Certainty
    because: list[str]
    source: str
    rule: str
    features: list[str] = []


class ToileReport(msgspec.Struct):
    """Whether to make a toile first, why, and in what cloth."""

    needed: bool
    why: str
    cloth: str


class SetBy(msgspec.Struct):
    """Which rule set a line of the sheet."""

    line: str
    rule: str
    feature: str | None
    certainty: Certainty
    because: list[str]
    source: str


class SewReport(msgspec.Struct):
    """How the cloth is sewn into what is asked."""

    needle: NeedleReport | None
    thread: ThreadReport | None
    stitch: StitchReport | None
    foot: str
    plate: str
    tension: str
    pressure: str
    hold: str
    advice: list[AdviceReport]
    seams: list[SeamReport]
    hems: list[HemReport]
    interfacing: InterfacingReport | None
    closures: list[AdviceReport]
    order: list[str]
    sample: list[str]
    toile: ToileReport
    tools: list[str]
    set_by: list[SetBy]
    findings: list[FindingReport]
    cloth: ClothReport
    lessons: list[LessonReport] = []


class InspectLine(msgspec.Struct):
    """One thing to look at on arrival."""

    look: str
    why: str
    certainty: Certainty
    because: list[str]
    source: str
    rule: str


class InspectReport(msgspec.Struct):
    """What to check of a cloth while it can still be returned."""

    metres: float
    weight_g: Span
    width_cm: Span | None
    measure_at_m: list[float]
    checks: list[InspectLine]
    cloth: ClothReport


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
    lessons: list[LessonReport] = []
    not_understood: list[str] = []


class SiftRow(msgspec.Struct):
    """One cloth of a list: its first row, its answer, and how many rows describe it so."""

    row: int
    cloth: str
    verdict: VerdictWord
    score: Scored
    limited_by: str | None
    watch: str | None
    watch_say: str | None
    certainty: Certainty
    against: str | None = None
    times: int = 1


class UnreadRow(msgspec.Struct):
    """A row of a list that could not be read, and why."""

    row: int
    reason: str


class SiftReport(msgspec.Struct):
    """A whole list judged for one question: how many rows got which verdict, the best, and what could not be read.

    `columns` says what each heading was taken to mean; `resumed` is the row after which an interrupted sift went on.
    """

    file: str
    make: str
    features: list[str]
    rows: int
    verdicts: dict[VerdictWord, int]
    ranking: list[SiftRow]
    unread: int
    unread_rows: list[UnreadRow]
    columns: dict[str, str]
    remarks: list[str]
    out: str | None = None
    unread_out: str | None = None
    resumed: int = 0


class Three(msgspec.Struct):
    """One figure at best, as expected, and to be on the safe side."""

    low: float
    expected: float
    high: float


class StashRow(msgspec.Struct):
    """One piece of the stash for a make, in m and cm. Where it is turned down, `why_not` says so in a line.

    `needed_m` is what the main cloth takes of this piece as it lies there; `verdict` is null where it is so short that
    it was not judged. `merit` is the score with the points that `because` names; `gives` what could give where it is
    short, the least change first.
    """

    piece: str
    cloth: str
    verdict: VerdictWord | None
    score: Scored | None
    limited_by: str | None
    watch: str | None
    watch_say: str | None
    enough: Literal["yes", "maybe", "no", "not known"]
    needed_m: Three | None
    longest_m: float | None
    free_m: float
    left_m: float
    short_m: float | None
    width_cm: float | None
    prewashed: bool | None
    reserved: list[str]
    reserved_here: bool
    days_on_shelf: int | None
    kept: str
    merit: float = 0.0
    because: list[str] = []
    why_not: str = ""
    gives: list[str] = []
    notes: list[str] = []
    lessons: list[LessonReport] = []


class StashPart(msgspec.Struct):
    """The stash ranked for a make: the pieces that would do, those turned down, those not read; `held` in all, without those used up."""

    stash: str
    held: int
    ranking: list[StashRow]
    rejected: list[StashRow]
    not_read: list[str]
    notes: list[str] = []


class PickReport(msgspec.Struct):
    """Cloths ranked for a make, and the lines that could not be read; the maker's own stash, and the log's lessons."""

    make: str
    features: list[str]
    ranking: list[PickRow]
    not_read: list[str]
    candidates: int
    what_if: list[str] = []
    stash: StashPart | None = None
    lessons: list[LessonReport] = []


class IdeaRow(msgspec.Struct):
    """One garment or detail that the cloth might serve; `limited_by` is the property that costs most."""

    feature: str
    group: str
    verdict: VerdictWord
    score: Scored
    limited_by: str | None
    why: str = ""


class IdeasReport(msgspec.Struct):
    """What the cloth would serve, best first, whole garments and details apart; `waste`: garments it is wrong for."""

    cloth: ClothReport
    garments: list[IdeaRow]
    details: list[IdeaRow]
    waste: list[IdeaRow]


class ComparedCloth(msgspec.Struct):
    """One cloth beside the others."""

    given: str
    read_as: str
    verdict: VerdictWord
    score: Scored
    limited_by: str | None
    features: dict[str, float]
    notes: list[str] = []
    not_understood: list[str] = []


class Difference(msgspec.Struct):
    """One property over all the cloths. `apart` counts differences that would just be felt; `matters` if it is asked for."""

    property: str
    name: str
    unit: str
    values: list[Span]
    words: list[str]
    apart: float
    felt: bool
    matters: bool


class CompareReport(msgspec.Struct):
    """Cloths side by side, in the order given; differences first, the widest of those that matter at the top."""

    features: list[str]
    cloths: list[ComparedCloth]
    differences: list[Difference]
    alike: list[Difference]
    best: str
    findings: dict[str, list[str]] = {}


class WantedRow(msgspec.Struct):
    """The wanted range of one property, in figures and trade words, and the features that ask for it.

    An open end is null. Where no cloth can please two features, `pulls` tells what each wants and `resolve` how
    dressmakers get out of it.
    """

    property: str
    name: str
    unit: str
    low: float | None
    high: float | None
    words: list[str]
    features: list[str]
    why: list[str]
    pulls: list[str] = []
    resolve: list[str] = []


class FibreAdvice(msgspec.Struct):
    """A fibre to look for or to leave, and why."""

    fibre: str
    met: float
    why: str
    source: str = ""


class ShopTest(msgspec.Struct):
    """One thing to feel or try at the counter."""

    property: str
    test: str
    minutes: float
    how: str
    wants: str
    safety: str = ""


class ShopReport(msgspec.Struct):
    """A shopping brief for a make."""

    make: str
    wanted: list[WantedRow]
    prefer: list[FibreAdvice]
    leave: list[FibreAdvice]
    metres: list[str]
    feel: list[ShopTest]
    cloths: list[PickRow]
    notions: list[str] = []
    envelope: list[str] = []


class ListReport(msgspec.Struct):
    """Entries of one kind."""

    kind: str
    entries: list[dict[str, Any]]
    counts: dict[str, int] = {}


REPORTS: dict[str, type[msgspec.Struct]] = {
    "check": CheckReport, "press": PressReport, "prewash": PrewashReport, "pick": PickReport, "list": ListReport,
    "ideas": IdeasReport, "compare": CompareReport, "shop": ShopReport,
    "sew": SewReport, "inspect": InspectReport,
    "sift": SiftReport, "wardrobe": WardrobeReport, "plan": PlanReport,
}  # fmt: skip
"""The report of each command, for its JSON schema."""
