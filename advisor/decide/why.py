"""The whole reasoning behind a check: every demand's curve, and the rules that fired or nearly did."""

from __future__ import annotations

from collections.abc import Iterator

from advisor import report
from advisor.advise import CHECK_GENERAL, CHECK_KINDS, Judgement, figure, with_parts
from advisor.decide.changes import plain_inference
from advisor.infer import GENERAL, _holds, fact, own_record, record_of
from advisor.judge import Judged
from advisor.knowledge import Knowledge
from advisor.model import Condition, Rule
from advisor.ranges import Range
from advisor.rules import Record

COMPARED = {"lt": "below", "le": "at most", "gt": "above", "ge": "at least"}


def _all(judged: Judged) -> Iterator[Judged]:
    yield judged
    for part in judged.parts:
        yield from _all(part)


def curves(judgement: Judgement, knowledge: Knowledge) -> list[report.CurveReport]:
    """Every demand with its curve, those of a garment's parts behind its own."""
    found = []
    for top in (*judgement.features, *judgement.circumstances):
        for judged in _all(top):
            for met in sorted(judged.met, key=lambda m: -m.loss):
                prop = knowledge.properties[met.demand.property]
                known = judgement.case.profile.known[prop.id].range
                found.append(
                    report.CurveReport(
                        judged.id, prop.id, prop.name, prop.unit, [(x, round(y, 3)) for x, y in met.curve],
                        report.Span(figure(known.low, prop.decimals), figure(known.high, prop.decimals)),
                        report.MetReport(round(met.low, 3), round(met.expected, 3), round(met.high, 3)),
                        met.demand.importance, met.demand.why, met.demand.source,
                    )
                )  # fmt: skip
    return found


def wanted(condition: Condition, knowledge: Knowledge) -> str:
    """What a condition asks, in words."""
    kind, _, name = condition.field.partition(".")
    shown = name.replace("-", " ").replace("_", " ")
    if condition.op == "has":
        return shown
    if condition.op == "lacks":
        return f"not {shown}"
    unit = ""
    if kind == "property":
        prop = knowledge.properties[name]
        shown, unit = prop.name, "" if prop.unit == "grade" else f" {prop.unit}"
    elif kind in ("fibre", "group"):
        unit = " %"
    return f"{shown} {COMPARED[condition.op]} {condition.value:g}{unit}"


def had(condition: Condition, record: Record, knowledge: Knowledge) -> str:
    """What the case has instead, in words."""
    if condition.op == "has":
        return f"not {wanted(condition, knowledge)}"
    if condition.op == "lacks":
        return fact(Condition("has", condition.field), record, knowledge)
    low, high = record.numbers.get(condition.field, Range(0, 0))
    return f"{low:.3g}" if low == high else f"{low:.3g} to {high:.3g}"


def near(rule: Rule, record: Record) -> Condition | None:
    """The one condition that keeps a rule from firing, even possibly; None where none or more than one does."""
    found: Condition | None = None
    for conjunction in rule.conjunctions:
        failed = [c for c in conjunction if not _holds(c, record, False)]
        if not failed:
            return None
        if len(failed) == 1 and len(conjunction) > 1 and found is None:
            found = failed[0]
    return found


def nearly(judgement: Judgement, knowledge: Knowledge) -> list[report.NearReport]:
    """The rules one condition short, those that would cost most first."""
    case, inference = judgement.case, plain_inference(knowledge)
    asks = with_parts(case.asks, knowledge)
    base = record_of(case.profile, asks, case.context, knowledge)
    records = [(GENERAL, base, inference.select(GENERAL, CHECK_GENERAL))]
    for ask in asks:
        own = own_record(base, ask, knowledge)
        records.append((ask.feature, own, inference.select(ask.feature, CHECK_KINDS)))
    found: dict[str, tuple[float, report.NearReport]] = {}
    for feature, record, rules in records:
        for rule_id in rules:
            rule = knowledge.rules[rule_id]
            missing = near(rule, record)
            if missing is not None and rule.then.kind and rule_id not in found:
                line = report.NearReport(
                    rule_id, feature, rule.then.kind, rule.then.say,
                    wanted(missing, knowledge), had(missing, record, knowledge),
                )  # fmt: skip
                found[rule_id] = (rule.then.effect, line)
    return [line for _, line in sorted(found.values(), key=lambda pair: (pair[0], pair[1].rule))]


def reasoning(judgement: Judgement, knowledge: Knowledge) -> report.WhyReport:
    """Curves and near misses; ranges and findings stand in the check's own report."""
    return report.WhyReport(curves(judgement, knowledge), nearly(judgement, knowledge))
