"""The sewing sheet: needle, thread, stitch, seams and hems with their widths, order of work, toile and tools.

Settings come from the `sheet:` lines of rules; where several set one line, the one about the feature wins, then one that
holds at the middle of the cloth's ranges, then the more specific. Sizes and order stand in `knowledge/lists/sewing.yaml`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import msgspec

from advisor import report
from advisor.advise import Case, cloth_report, findings_report, source_text, with_parts
from advisor.asks import Ask
from advisor.errors import Unclear
from advisor.infer import Finding, inference_for, record_of
from advisor.knowledge import Knowledge
from advisor.layers import Sourced
from advisor.lists import read_list
from advisor.model import FindingKind
from advisor.ranges import Range
from advisor.rules import Record, holds
from advisor.sheet_keys import UNDER

GROUPS: dict[str, tuple[str, ...]] = {
    "needle": ("nm_low", "nm_high"),
    "thread": ("tex_low", "tex_high"),
    "stitch": ("stitch_low", "stitch_high"),
    "seam": ("finish", "enclosed", "second_mm"),
    "hem": ("hem_low", "hem_high"),
    "interfacing": ("fuse",),
    "toile": (),
    "toile_cloth": (),
    "foot": (), "plate": (), "tension": (), "pressure": (), "hold": (),
}  # fmt: skip
"""A line and the figures that are taken from the same rule."""

KINDS: tuple[FindingKind, ...] = ("handling", "notion", "caution", "safety", "stop")
MM_PER_INCH = 25.4
ALLOWANCES_MM = (3.0, 60.0)
"""Seam allowances that patterns print, from knits to couture (mm)."""


class Sizes(msgspec.Struct, forbid_unknown_fields=True):
    sizes: dict[int, int]
    source: str


class Tickets(msgspec.Struct, forbid_unknown_fields=True):
    numbers: list[int]
    per: float
    source: str


class Turn(msgspec.Struct, forbid_unknown_fields=True):
    thicknesses: float
    least_mm: float
    source: str


class Narrowest(msgspec.Struct, forbid_unknown_fields=True):
    first: float
    source: str


class Phase(msgspec.Struct, forbid_unknown_fields=True):
    """One step of the order of work, and whom it concerns."""

    say: str
    always: bool = False
    hang: bool = False
    groups: list[str] = []
    features: list[str] = []


class Sewing(msgspec.Struct, forbid_unknown_fields=True):
    """lists/sewing.yaml."""

    us_of_nm: Sizes
    tickets: Tickets
    turn: Turn
    narrowest_mm: Narrowest
    hang_from_days: Sourced
    grain: dict[str, str]
    parts: dict[str, list[str]]
    usual_interfacing: list[str]
    interfaced: list[str]
    phases: list[Phase]
    tools: dict[str, list[str]]
    sample_always: list[str]


@dataclass(frozen=True)
class Setting:
    """A line that a finding sets, with its place in the order of precedence (the larger wins)."""

    finding: Finding
    rank: tuple[bool, bool, bool, int, int, bool]
    likely: bool


def _middle(record: Record) -> Record:
    return Record({name: Range(r.mid, r.mid) for name, r in record.numbers.items()}, record.marks)


def _specific(finding: Finding, record: Record) -> tuple[int, int]:
    """How much a rule asks for: different things that must be so, and how many of them are no mere figures."""
    best = (0, 0)
    for conjunction in finding.rule.conjunctions:
        if holds(conjunction, record, sure=False):
            fields = {c.field for c in conjunction if c.op != "lacks"}
            best = max(best, (len(fields), sum(not f.startswith("property.") for f in fields)))
    return best


def settings_of(findings: Iterable[Finding], record: Record) -> list[Setting]:
    """The findings with a sheet, the one that wins first; of equals the one written later in the files."""
    middle = _middle(record)
    found: list[Setting] = []
    for finding in findings:
        if not finding.rule.then.sheet:
            continue
        wants = finding.rule.conjunctions
        likely = finding.sure or any(holds(c, middle, sure=True) for c in wants) or not wants
        # Where marks are merely possible nothing is likely; then the figures decide before the count of conditions.
        fits = likely or any(holds(c, middle, sure=False) for c in wants)
        asks_for, marks = _specific(finding, record)
        found.append(Setting(finding, (bool(finding.feature), likely, fits, asks_for, marks, finding.sure), likely))
    found.reverse()
    return sorted(found, key=lambda s: s.rank, reverse=True)


class _Sheet:
    """Reads lines off the settings and remembers who set them."""

    def __init__(self, settings: Sequence[Setting], knowledge: Knowledge) -> None:
        self.settings, self.knowledge = settings, knowledge
        self.set_by: list[report.SetBy] = []

    def winner(self, line: str, feature: str | None = None) -> Setting | None:
        """The setting that decides a line: of one feature (or "" for the general ones), else of all."""
        rows = [s for s in self.settings if line in s.finding.rule.then.sheet]
        rows = [s for s in rows if s.likely] or rows
        return next((s for s in rows if feature is None or s.finding.feature == feature), None)

    def take(self, line: str, feature: str | None = None) -> dict[str, str | float | bool | list[str]]:
        """The line and its figures, or nothing; who set it is noted."""
        won = self.winner(line, feature)
        if won is None:
            return {}
        rule = won.finding.rule
        self.set_by.append(
            report.SetBy(
                line, rule.id, won.finding.feature or None, "sure" if won.finding.sure else "may apply",
                list(won.finding.because), source_text(rule.source, self.knowledge),
            )
        )  # fmt: skip
        return {key: rule.then.sheet[key] for key in (line, *GROUPS[line]) if key in rule.then.sheet}

    def text(self, line: str) -> str:
        return str(self.take(line).get(line, ""))

    def figures(self, key: str, feature: str | None = None) -> list[float]:
        """All that likely hold of one figure: of a feature, and of the cloth at large."""
        return [
            float(s.finding.rule.then.sheet[key])  # type: ignore[arg-type]
            for s in self.settings
            if s.likely and key in s.finding.rule.then.sheet and (feature is None or s.finding.feature in (feature, ""))
        ]

    def lists(self, key: str) -> list[str]:
        texts: list[str] = []
        for s in self.settings:
            value = s.finding.rule.then.sheet.get(key)
            texts += [t for t in value if t not in texts] if isinstance(value, list) and s.likely else []
        return texts


def _sheet_of(case: Case, asks: list[Ask], knowledge: Knowledge) -> tuple[list[Finding], _Sheet]:
    """All findings about how a case is sewn, and the sheet whose lines they set."""
    every = inference_for(knowledge).findings(case.profile, asks, list(case.context), KINDS)
    every = [f for f in every if "inspect" not in f.rule.then.sheet]
    record = record_of(case.profile, asks, case.context, knowledge)
    for ask in asks:
        record.marks.update({f"place.{p}": (True, True) for p in ask.places})
    return every, _Sheet(settings_of(every, record), knowledge)


def hang_days(case: Case, knowledge: Knowledge) -> int:
    """Days that the make hangs before its hem, the longest that a rule asks for; 0 where none does."""
    _, sheet = _sheet_of(case, with_parts(case.asks, knowledge), knowledge)
    return math.ceil(max(sheet.figures("hang_days"), default=0.0))


def sew_sheet(case: Case, knowledge: Knowledge, allowance_mm: float) -> report.SewReport:
    """How the cloth of a case is sewn. `allowance_mm` is the pattern's seam allowance; raises `Unclear` for what none prints."""
    if not ALLOWANCES_MM[0] <= allowance_mm <= ALLOWANCES_MM[1]:
        raise Unclear(f"a seam allowance of {allowance_mm:g} mm", f"{ALLOWANCES_MM[0]:g} to {ALLOWANCES_MM[1]:g} mm", "15")
    table = read_list("sewing", Sewing, knowledge.folders)
    asks = with_parts(case.asks, knowledge)
    every, sheet = _sheet_of(case, asks, knowledge)
    advice = [_advice(f, str(f.rule.then.sheet["under"]), knowledge) for f in every if "under" in f.rule.then.sheet]
    closing = {a.feature for a in asks if knowledge.features[a.feature].group in table.parts["closures"]}
    seams = _seams(sheet, case, asks, table, knowledge, allowance_mm)
    hems = _hems(sheet, asks, {a.feature for a in case.asks}, table, knowledge)
    toile = sheet.take("toile")
    needed = bool(toile) and bool((w := sheet.winner("toile")) and w.likely)
    return report.SewReport(
        needle=_needle(sheet.take("needle"), table),
        thread=_thread(sheet.take("thread"), table),
        stitch=_stitch(sheet.take("stitch")),
        foot=sheet.text("foot"),
        plate=sheet.text("plate"),
        tension=sheet.text("tension"),
        pressure=sheet.text("pressure"),
        hold=sheet.text("hold"),
        advice=_merged(sorted(advice, key=lambda a: (UNDER.index(a.under), a.certainty != "sure"))),
        seams=seams,
        hems=hems,
        interfacing=_interfacing(sheet.take("interfacing"), asks, table, knowledge),
        closures=_merged([_advice(f, "closures", knowledge) for f in every if f.feature in closing]),
        order=_order(sheet, asks, table, knowledge),
        sample=[*table.sample_always, *sheet.lists("sample")],
        toile=report.ToileReport(needed, str(toile.get("toile", "")) if needed else "", sheet.text("toile_cloth")),
        tools=list(dict.fromkeys([*sheet.lists("tools"), *(t for a in asks for t in table.tools.get(a.feature, ()))])),
        set_by=sheet.set_by,
        findings=findings_report([f for f in every if f.feature or f.rule.then.kind in ("safety", "stop")], knowledge),
        cloth=cloth_report(case.profile, knowledge),
    )


def _advice(finding: Finding, under: str, knowledge: Knowledge) -> report.AdviceReport:
    rule = finding.rule
    return report.AdviceReport(
        under, rule.then.say, rule.then.do, "sure" if finding.sure else "may apply", list(finding.because),
        source_text(rule.source, knowledge), rule.id, [finding.feature] if finding.feature else [],
    )  # fmt: skip


def _merged(advice: Iterable[report.AdviceReport]) -> list[report.AdviceReport]:
    """One rule about several features is said once."""
    kept: dict[str, report.AdviceReport] = {}
    for item in advice:
        if item.rule in kept:
            kept[item.rule].features += [f for f in item.features if f not in kept[item.rule].features]
        else:
            kept[item.rule] = item
    return list(kept.values())


def _number(line: dict[str, str | float | bool | list[str]], key: str) -> float:
    return float(line.get(key, 0.0))  # type: ignore[arg-type]


def _needle(line: dict[str, str | float | bool | list[str]], table: Sewing) -> report.NeedleReport | None:
    if "nm_low" not in line:
        return None
    sizes = table.us_of_nm.sizes

    def us(nm: float) -> float:
        return float(sizes[min(sizes, key=lambda size: abs(size - nm))])

    low, high = _number(line, "nm_low"), _number(line, "nm_high")
    return report.NeedleReport(str(line["needle"]), report.Span(low, high), report.Span(us(low), us(high)))


def _thread(line: dict[str, str | float | bool | list[str]], table: Sewing) -> report.ThreadReport | None:
    """Metric ticket = 3000 / Tex, to the nearest that is sold."""
    if "tex_low" not in line:
        return None
    low, high = _number(line, "tex_low"), _number(line, "tex_high")
    tickets = [float(min(table.tickets.numbers, key=lambda n: abs(n - table.tickets.per / tex))) for tex in (high, low)]
    return report.ThreadReport(str(line["thread"]), report.Span(low, high), report.Span(*tickets))


def _stitch(line: dict[str, str | float | bool | list[str]]) -> report.StitchReport | None:
    """Stitches per inch = 25.4 / length in mm."""
    if "stitch_low" not in line:
        return None
    low, high = _number(line, "stitch_low"), _number(line, "stitch_high")
    return report.StitchReport(
        str(line["stitch"]), report.Span(low, high), report.Span(round(MM_PER_INCH / high, 1), round(MM_PER_INCH / low, 1))
    )


def _named(ids: Iterable[str], kind: str, knowledge: Knowledge) -> str:
    entries = (knowledge.table(kind)[i] for i in ids)
    return ", ".join(e.names[0] if e.names else e.id.replace("-", " ") for e in entries)


def _seams(
    sheet: _Sheet, case: Case, asks: Sequence[Ask], table: Sewing, knowledge: Knowledge, allowance: float
) -> list[report.SeamReport]:
    """The seams asked for, then the one that the cloth likes for all others."""
    rows: list[report.SeamReport] = []
    wanted = [a for a in asks if knowledge.features[a.feature].group in table.parts["seams"]]
    turn = max(table.turn.least_mm, table.turn.thicknesses * case.profile.known["thickness"].range.mid)
    for ask in wanted:
        line = sheet.take("seam", ask.feature)
        place = _named(ask.places, "places", knowledge) or "where the pattern has it"
        if line:
            rows.append(_seam(line, ask.feature, place, sheet, allowance, turn, table))
        elif sheet.winner("seam", "") and ask in case.asks and not any(r.feature == ask.feature for r in rows):
            rows.append(
                report.SeamReport(
                    place, _named([ask.feature], "features", knowledge), "", allowance,
                    ["no settings fit this seam in this cloth; see what is said of it, or take the seam for all others"], ask.feature,
                )
            )  # fmt: skip
    general = sheet.take("seam", "")
    if general:
        rows.append(_seam(general, None, "all other seams" if rows else "all seams", sheet, allowance, turn, table))
    return rows


def _seam(
    line: dict[str, str | float | bool | list[str]], feature: str | None, place: str, sheet: _Sheet,
    allowance: float, turn: float, table: Sewing,
) -> report.SeamReport:  # fmt: skip
    """Widths of one seam (mm). Of two passes: first = allowance - turn - second; the first is trimmed narrower than the second."""
    trims = sheet.figures("trim_mm", feature or "")
    seam, finish = str(line["seam"]), str(line.get("finish", ""))
    if line.get("enclosed"):
        second, turn = _number(line, "second_mm"), round(turn, 1)
        first = round(allowance - turn - second, 1)
        trim = min([*trims, second - 1])
        if first < table.narrowest_mm.first:
            least = table.narrowest_mm.first + turn + second
            say = [f"an allowance of {allowance:g} mm is too narrow for two passes: cut {least:g} mm, or take another seam"]
            return report.SeamReport(place, seam, finish, allowance, say, feature, turn_mm=turn, second_mm=second, trim_mm=trim)
        say = [
            f"first {first:g} mm, wrong sides together",
            f"trim to {trim:g} mm, press, fold right sides together",
            f"second {second:g} mm ({first:g} mm + {turn:g} mm for the fold + {second:g} mm = {allowance:.3g} mm)",
        ]
        return report.SeamReport(place, seam, finish, allowance, say, feature, first, trim, second, turn)
    cut = max([allowance + max(sheet.figures("wider_mm", ""), default=0.0), *sheet.figures("allowance_mm", "")])
    own = sheet.figures("trim_mm", feature) if feature else []
    own = [t for t in own if t not in sheet.figures("trim_mm", "")]
    trim_to = min(own, default=None)
    second_at = _number(line, "second_mm") or None
    say = [f"stitch on the seam line, {cut:g} mm from the edge" + (f" (cut {cut - allowance:g} mm wider than the pattern: it frays)" if cut > allowance else "")]
    say += [f"trim to {trim_to:g} mm"] if trim_to else []
    say += [f"second row {second_at:g} mm away"] if second_at else []
    return report.SeamReport(place, seam, finish, cut, say, feature, cut, trim_to, second_at)


def _hems(
    sheet: _Sheet, asks: Sequence[Ask], said: set[str], table: Sewing, knowledge: Knowledge
) -> list[report.HemReport]:
    """The edges that were `said`; else the hems of the garment; else of its parts; else the one that the cloth likes."""
    days = max(sheet.figures("hang_days"), default=0.0)
    hang = report.Span(min(table.hang_from_days.is_, days), days) if days else None
    rows: list[tuple[int, report.HemReport]] = []
    for ask in asks:
        line = sheet.take("hem", ask.feature)
        if line:
            edge = knowledge.features[ask.feature].group in table.parts["hems"]
            place = _named(ask.places, "places", knowledge) or _named([ask.feature], "features", knowledge)
            near = 0 if edge and ask.feature in said else 2 if ask.feature not in said else 1
            rows.append((near, _hem(line, place, hang, ask.feature)))
    nearest = min((near for near, _ in rows), default=0)
    chosen = [row for near, row in rows if near == nearest]
    general = sheet.take("hem", "")
    if not chosen and general:
        chosen = [_hem(general, "all hems", hang, None)]
    return chosen


def _hem(
    line: dict[str, str | float | bool | list[str]], place: str, hang: report.Span | None, feature: str | None
) -> report.HemReport:
    depth = report.Span(_number(line, "hem_low"), _number(line, "hem_high")) if "hem_low" in line else None
    return report.HemReport(place, str(line["hem"]), depth, hang, feature)


def _interfacing(
    line: dict[str, str | float | bool | list[str]], asks: Iterable[Ask], table: Sewing, knowledge: Knowledge
) -> report.InterfacingReport | None:
    if not line:
        return None
    what = str(line["interfacing"])
    where = [_named([a.feature], "features", knowledge) for a in asks if a.feature in table.interfaced]
    kinds = [k for k in table.grain if k != "source"]
    kind = next((k for k in kinds if k in what), kinds[0])
    return report.InterfacingReport(what, str(line.get("fuse", "either")), where or list(table.usual_interfacing), table.grain[kind])  # type: ignore[arg-type]


def _order(sheet: _Sheet, asks: Sequence[Ask], table: Sewing, knowledge: Knowledge) -> list[str]:
    """The phases that the features need; what a rule changes stands right before the phase of its feature."""
    asked = {a.feature: knowledge.features[a.feature].group for a in asks}
    hangs = bool(sheet.figures("hang_days"))
    changes: dict[int, list[str]] = {}
    hem_at = next((i for i, p in enumerate(table.phases) if p.hang), len(table.phases) - 1)
    for s in sheet.settings:
        steps = s.finding.rule.then.sheet.get("order")
        if isinstance(steps, list) and s.likely:
            feature = s.finding.feature
            at = next((i for i, p in enumerate(table.phases) if feature in p.features), None)
            at = at if at is not None else next((i for i, p in enumerate(table.phases) if asked.get(feature) in p.groups), hem_at)
            at = hem_at if "hang_days" in s.finding.rule.then.sheet else at
            changes.setdefault(at, []).extend(t for t in steps if t not in changes.get(at, []))
    lines: list[str] = []
    for place, phase in enumerate(table.phases):
        lines += changes.get(place, [])
        concerned = any(f in phase.features or g in phase.groups for f, g in asked.items())
        if phase.always or concerned or (phase.hang and hangs and place not in changes):
            lines.append(phase.say)
    return lines
