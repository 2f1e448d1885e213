"""What a cloth would serve: every garment and detail judged on it, best first, each with the property that limits it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor import report
from advisor.advise import CHECK_KINDS, cloth_report, profile_of, score_report, wants, with_parts
from advisor.asks import Ask
from advisor.decide.changes import plain_inference
from advisor.judge import Judged, Met, judge_feature
from advisor.knowledge import Knowledge
from advisor.model import Feature
from advisor.profile import Profile

NOT_WASTED = 0.9
"""A demand met as well as this does not limit anything."""


def is_garment(feature: Feature) -> bool:
    """Whether the feature is a whole garment."""
    return bool(feature.parts)


def _met(judged: Judged) -> Iterator[Met]:
    yield from judged.met
    for part in judged.parts:
        yield from _met(part)


def limiting(judged: Judged) -> Met | None:
    """The demand, of the feature or its parts, that costs most; None where all are met."""
    worst = max(_met(judged), key=lambda m: m.loss, default=None)
    return worst if worst and worst.expected < NOT_WASTED else None


def row_of(feature: Feature, profile: Profile, context: list[str], knowledge: Knowledge) -> report.IdeaRow:
    """One garment or detail judged on the cloth."""
    ask = Ask(feature.id.replace("-", " "), feature.id, {}, (feature.place,) if feature.place else ())
    inference = plain_inference(knowledge)
    findings = inference.findings(profile, with_parts([ask], knowledge), context, CHECK_KINDS, general=())
    judged = judge_feature(ask, profile, findings, knowledge)
    worst = limiting(judged)
    costly = min(
        (f for f in judged.findings if f.rule.then.effect < 1 or f.rule.then.kind == "stop"),
        key=lambda f: (f.rule.then.kind != "stop", f.rule.then.effect),
        default=None,
    )
    why = ""
    if worst:
        name = knowledge.properties[worst.demand.property].name
        why = f"{name} wanted {wants(worst, knowledge)}: {worst.demand.why}"
    if costly and (not worst or costly.rule.then.kind == "stop" or costly.rule.then.effect < worst.expected):
        why = costly.rule.then.say.rstrip(".")
    return report.IdeaRow(
        feature.id, feature.group, judged.verdict, score_report(judged.score),  # type: ignore[arg-type]
        worst.demand.property if worst else None, why,
    )  # fmt: skip


def ideas_for(cloth: str, knowledge: Knowledge, circumstances: Sequence[str] = ()) -> report.IdeasReport:
    """Every garment and detail, best first; `waste` holds the garments that the cloth would be wasted on, worst first.

    `circumstances` are ids of wearer, season, use and care, beside those that the description says.
    """
    profile = profile_of(cloth, knowledge)
    context = list(dict.fromkeys([*profile.described.context, *circumstances]))
    rows = [(is_garment(f), row_of(f, profile, context, knowledge)) for f in knowledge.features.values()]
    rows.sort(key=lambda pair: (("suits", "care", "avoid").index(pair[1].verdict), -pair[1].score.expected, pair[1].feature))
    garments = [row for whole, row in rows if whole]
    details = [row for whole, row in rows if not whole]
    return report.IdeasReport(
        cloth_report(profile, knowledge), garments, details, [row for row in reversed(garments) if row.verdict == "avoid"]
    )
