"""Trying a rule on an example as it stands in the knowledge files: `description | wearer child, place hem, depth_mm 40`.

A property named behind the bar has just that figure (`cotton poplin | weight 185`), so that an example can stand close
to a rule's figure.
"""

from __future__ import annotations

from advisor.advise import profile_of
from advisor.asks import Ask
from advisor.infer import GENERAL, record_of
from advisor.knowledge import Knowledge
from advisor.model import Rule
from advisor.ranges import Range
from advisor.rules import Record, fired

CONTEXT = ("wearer", "season", "use", "care")


class BadExample(ValueError):
    """An example that cannot be tried."""


def record_for(rule: Rule, example: str, knowledge: Knowledge) -> list[Record]:
    """The records on which the rule is tried: one for each feature it is about (one where it is about every cloth)."""
    text, _, more = example.partition("|")
    profile = profile_of(text, knowledge)
    if profile.described.not_understood:
        raise BadExample(f"not understood: {', '.join(profile.described.not_understood)}")
    context: list[str] = list(profile.described.context)
    places: list[str] = []
    others: list[str] = []
    figures: dict[str, float] = {}
    measured: dict[str, Range] = {}
    for item in filter(None, (part.strip() for part in more.split(","))):
        kind, _, value = item.partition(" ")
        if kind in CONTEXT and value in knowledge.context:
            context.append(value)
        elif kind == "place" and value in knowledge.places:
            places.append(value)
        elif kind == "with" and value in knowledge.features:
            others.append(value)
        else:
            try:
                figure = float(value)
            except ValueError:
                raise BadExample(
                    f"'{item}' is not wearer, season, use, care, place, with, a property or a figure"
                ) from None
            if kind in knowledge.properties:
                measured[f"property.{kind}"] = Range(figure, figure)
            else:
                figures[kind] = figure
    records = []
    for feature in rule.features or [GENERAL]:
        asks = [Ask(o, o) for o in others] + ([Ask(feature, feature)] if feature else [])
        record = record_of(profile, asks, context, knowledge)
        record.numbers |= measured
        if feature:
            taken = knowledge.features[feature].figures
            values = {name: figure.typical for name, figure in taken.items()} | figures
            record.numbers |= {f"figure.{name}": Range(value, value) for name, value in values.items()}
            own = knowledge.features[feature].place
            for place in places or ([own] if own else []):
                record.marks[f"place.{place}"] = (True, True)
        records.append(record)
    return records


def fires(rule: Rule, example: str, knowledge: Knowledge) -> bool:
    """Whether the rule fires, surely or possibly, on the example."""
    return any(fired({rule.id: rule.conjunctions}, record) for record in record_for(rule, example, knowledge))
