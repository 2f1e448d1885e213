"""What to look at when a cloth arrives, while it can still be returned: driven by the rules with a line `inspect`."""

from __future__ import annotations

from advisor import report
from advisor.advise import Case, cloth_report, source_text
from advisor.errors import Unclear
from advisor.infer import inference_for
from advisor.knowledge import Knowledge

ASSUMED_WIDTH_CM = (90.0, 160.0)
"""Width of dress cloth where nothing is said (common practice); it only serves to say what the parcel should weigh."""


def inspect_sheet(case: Case, knowledge: Knowledge, metres: float) -> report.InspectReport:
    """The checks for a length of `metres`, the surest first; raises `Unclear` for a length that cannot be.

    The parcel should weigh metres x width (m) x weight (g/m²).
    """
    if not 0 < metres <= 500:
        raise Unclear(f"{metres:g} metres", "a length above 0 and up to 500 m", "3")
    findings = inference_for(knowledge).findings(case.profile, [], list(case.context), (), general=("handling",))
    checks: list[tuple[bool, int, report.InspectLine]] = []
    for finding in findings:
        lines = finding.rule.then.sheet.get("inspect")
        for place, look in enumerate(lines if isinstance(lines, list) else []):
            line = report.InspectLine(
                look, finding.rule.then.say if place == 0 else finding.rule.why, "sure" if finding.sure else "may apply",
                list(finding.because), source_text(finding.rule.source, knowledge), finding.rule.id,
            )  # fmt: skip
            checks.append((not finding.sure, place, line))
    width = _width(case, knowledge)
    low, high = width or ASSUMED_WIDTH_CM
    weight = case.profile.known["weight"].range
    return report.InspectReport(
        metres,
        report.Span(round(metres * low / 100 * weight.low), round(metres * high / 100 * weight.high)),
        report.Span(low, high) if width else None,
        sorted({0.1, round(metres / 2, 2), round(max(metres - 0.1, 0.1), 2)} if metres < 5 else {0.1, *map(float, range(2, int(metres), 2)), round(metres - 0.1, 2)}),
        [line for _, _, line in sorted(checks, key=lambda c: c[0])],
        cloth_report(case.profile, knowledge),
    )  # fmt: skip


def _width(case: Case, knowledge: Knowledge) -> tuple[float, float] | None:
    """The width said by the maker, else the usual one of the named cloth (cm)."""
    described = case.profile.described
    if described.figures.width_cm:
        return described.figures.width_cm, described.figures.width_cm
    usual = knowledge.cloths[described.cloth].width_cm if described.cloth else None
    return (usual.low, usual.high) if usual else None
