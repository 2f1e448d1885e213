"""How a plan is weighed, and how work falls on days: `knowledge/lists/plan.yaml`."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.layers import Sourced
from advisor.lists import read_list

MOST_POINTS = 1000.0


class Weights(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """Points; see the file's first lines."""

    fit: float
    stash: float
    gap: float
    tight: float
    late: float
    bought: float
    uneasy: float
    reserved: float = 0.0
    source: str = ""


class Shares(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """Shares of a make's hours."""

    cut: float
    sew: float
    finish: float
    source: str = ""


class PlanTable(msgspec.Struct, forbid_unknown_fields=True):
    """lists/plan.yaml."""

    weights: Weights
    shares: Shares
    hours: Sourced
    bought_days: Sourced
    wash_days: dict[str, int]
    wash_days_again: Sourced
    wash_days_source: str
    keep: int
    heavier: Sourced


def plan_table(knowledge: Knowledge) -> PlanTable:
    """The table; raises `Unclear` where it contradicts itself."""
    table = read_list("plan", PlanTable, knowledge.folders)
    shares = table.shares
    if min(shares.cut, shares.sew, shares.finish) < 0 or abs(shares.cut + shares.sew + shares.finish - 1) > 1e-6:
        raise Unclear("shares in lists/plan.yaml", "three shares that make 1 together")
    missing = [m for m in knowledge.methods if m not in table.wash_days]
    if missing:
        raise Unclear(f"wash_days in lists/plan.yaml without {', '.join(missing)}", "days for every method of methods.yaml")
    return table


def weights_from(table: PlanTable, given: Iterable[str]) -> Weights:
    """The weights with those that were said in place of the table's: 'gap=40'. Raises `Unclear`."""
    names = [f for f in Weights.__struct_fields__ if f != "source"]
    said: dict[str, float] = {}
    for text in given:
        name, sign, figure = text.partition("=")
        name = name.strip().lower()
        try:
            value = float(figure)
        except ValueError:
            value = -1.0
        if name not in names or not sign or not 0 <= value <= MOST_POINTS:
            from difflib import get_close_matches

            near = (get_close_matches(name, names, 1, 0.4) or [""])[0]
            raise Unclear(
                f"weight '{text.strip()[:40]}'", f"one of {', '.join(names)} with 0 to {MOST_POINTS:g} points, such as gap=40", near
            )
        said[name] = value
    return msgspec.structs.replace(table.weights, **said)
