"""Cloths side by side for the same features: what differs first, and whether the hand would feel it."""

from __future__ import annotations

from collections.abc import Sequence

from advisor import report
from advisor.advise import Judgement, case_of, cloth_report, figure, findings_report, judge, score_report
from advisor.errors import Unclear
from advisor.judge import Judged
from advisor.knowledge import Knowledge
from advisor.model import Property
from advisor.ranges import Range

FELT = 1.0
"""Differences of this many `per_unit` are felt at once."""


def bands_of(value: Range, prop: Property) -> list[str]:
    """The trade words whose ranges hold the middle of this one, else the nearest."""
    inside = [word for word, band in prop.bands.items() if band.low <= value.mid <= band.high]
    if inside or not prop.bands:
        return inside
    return [min(prop.bands, key=lambda word: abs(prop.bands[word].mid - value.mid))]


def _read(judged: Judged) -> set[str]:
    return {m.demand.property for m in judged.met} | {p for part in judged.parts for p in _read(part)}


def difference(prop: Property, judgements: Sequence[Judgement], matters: bool) -> report.Difference:
    """One property of every cloth. Apart is the widest gap of two middles, in differences that would just be felt."""
    ranges = [j.case.profile.known[prop.id].range for j in judgements]
    middles = [r.mid for r in ranges]
    apart = (max(middles) - min(middles)) / prop.per_unit
    return report.Difference(
        prop.id, prop.name, prop.unit,
        [report.Span(figure(r.low, prop.decimals), figure(r.high, prop.decimals)) for r in ranges],
        [" or ".join(bands_of(r, prop)) for r in ranges], round(apart, 2), apart >= FELT, matters,
    )  # fmt: skip


def compare_for(
    cloths: Sequence[str], features: Sequence[str], knowledge: Knowledge, context: Sequence[str] = ()
) -> report.CompareReport:
    """Two cloths and more, judged for the same features; raises `Unclear` for fewer than two."""
    if len(cloths) < 2:
        raise Unclear("one cloth", "at least two to compare")
    if not features and not context:
        raise Unclear("no feature", "at least one --for", "--for 'covered buttons'")
    judgements = [judge(case_of(cloth, features, knowledge, context), knowledge) for cloth in cloths]
    asked = {p for j in judgements for judged in (*j.features, *j.circumstances) for p in _read(judged)}
    rows = [difference(prop, judgements, prop.id in asked) for prop in knowledge.properties.values()]
    rows.sort(key=lambda r: (not (r.felt and r.matters), not r.felt, -r.apart, r.property))
    compared, notes = [], {}
    for cloth, judgement in zip(cloths, judgements, strict=True):
        limit = judgement.limited_by
        read = cloth_report(judgement.case.profile, knowledge)
        compared.append(
            report.ComparedCloth(
                cloth, read.read_as, judgement.verdict, score_report(judgement.score),  # type: ignore[arg-type]
                limit.id if limit else None,
                {j.id: j.score.expected for j in (*judgement.features, *judgement.circumstances)}, read.notes, read.not_understood,
            )
        )  # fmt: skip
        notes[cloth] = [f.say for f in findings_report(judgement.findings, knowledge) if f.kind in ("stop", "caution")]
    shared = set.intersection(*(set(said) for said in notes.values()))
    best = max(compared, key=lambda c: (-("suits", "care", "avoid").index(c.verdict), c.score.expected))
    return report.CompareReport(
        [j.id for j in judgements[0].features], compared, [r for r in rows if r.felt], [r for r in rows if not r.felt],
        best.given, {cloth: [say for say in said if say not in shared] for cloth, said in notes.items()},
    )  # fmt: skip
