"""`advisor doctor`: versions, counts, and which inference engine is in use and why."""

from __future__ import annotations

import platform
from collections import Counter
from importlib.metadata import PackageNotFoundError, version
from typing import Annotated, Any

import msgspec
import typer

from advisor import __version__, engine, evidence
from advisor.cli.options import Folders, Json
from advisor.cli.words import Paper, emit
from advisor.errors import Unclear
from advisor.infer import inference_for
from advisor.knowledge import KIND_TYPES, Knowledge, folders_to_read, load, user_folder
from advisor.owned import read_owned, settings_file

LIBRARIES = ("durable-rules", "msgspec", "PyYAML", "typer", "rich", "rapidfuzz")


class DoctorReport(msgspec.Struct):
    """How the advisor stands on this machine."""

    version: str
    python: str
    engine: str
    engine_why: str
    libraries: dict[str, str]
    folders: list[str]
    counts: dict[str, int]
    figures: dict[str, int]
    problems: list[str]
    settings: str = ""


class RuleFlaw(msgspec.Struct):
    """One flaw of one rule; `reason` says why an excused one may stay."""

    rule: str
    kind: str
    what: str
    reason: str = ""


class RulesReport(msgspec.Struct):
    """The rule set examined: how many rules, what is wrong with it, and what is excused."""

    rules: int
    flaws: list[RuleFlaw]
    excused: list[RuleFlaw]


def command(
    rules: Annotated[
        bool, typer.Option("--rules", help="Examine the rule set: idle, repeated, contradicting rules.")
    ] = False,
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Versions, knowledge counts, and which inference engine is in use and why."""
    if rules:
        examined = examine_rules(list(knowledge))
        if json:
            emit(examined)
        else:
            show_rules(examined)
        if examined.flaws:
            raise typer.Exit(2)
        return
    answer = examine(list(knowledge))
    if json:
        emit(answer)
    else:
        paper = Paper()
        paper.line(f"fabric-advisor {answer.version} on Python {answer.python}")
        paper.item(f"engine: {answer.engine} ({answer.engine_why})", bullet="", indent=0)
        paper.item("libraries: " + ", ".join(f"{k} {v}" for k, v in answer.libraries.items()), bullet="", indent=0)
        paper.item("knowledge: " + ", ".join(answer.folders), bullet="", indent=0)
        paper.item(f"settings: {answer.settings}", bullet="", indent=0)
        paper.item("entries: " + ", ".join(f"{n} {k}" for k, n in answer.counts.items()), bullet="", indent=0)
        paper.item("figures: " + ", ".join(f"{n} {k}" for k, n in answer.figures.items()), bullet="", indent=0)
        for problem in answer.problems:
            paper.item(problem, bullet="! ", indent=0)
        paper.line("All is well." if not answer.problems else f"{len(answer.problems)} problem{'s' if len(answer.problems) > 1 else ''}.")
        paper.show()
    if answer.problems:
        raise typer.Exit(2)


def examine_rules(folders: list[Any]) -> RulesReport:
    """The rule set read as a whole; see `advisor.ruleset`."""
    from advisor import ruleset

    known = load(tuple(folders))
    found, reasons = ruleset.flaws(known), ruleset.excuses(known)
    return RulesReport(
        len(known.rules),
        [RuleFlaw(f.rule, f.kind, f.what) for f in ruleset.unexcused(known, found)],
        [RuleFlaw(f.rule, f.kind, f.what, reasons[f.rule][f.kind]) for f in found if f.kind in reasons.get(f.rule, {})],
    )


def show_rules(examined: RulesReport) -> None:
    """The flaws, then what is excused and why."""
    paper = Paper()
    for flaw in examined.flaws:
        paper.item(f"{flaw.rule}: {flaw.kind}: {flaw.what}", bullet="! ", indent=0)
    for flaw in examined.excused:
        paper.item(f"{flaw.rule}: {flaw.kind}, excused: {flaw.reason}", indent=0)
    count = len(examined.flaws)
    paper.line(f"{examined.rules} rules examined, {f'{count} flaws' if count else 'none at fault'}.")
    paper.show()


def examine(folders: list[Any]) -> DoctorReport:
    from advisor.compiling import problems_of

    problems = [str(p) for p in problems_of(folders_to_read(folders))]
    counts: dict[str, int] = {}
    figures: dict[str, int] = {}
    if problems:
        used, why = "none", "the knowledge does not hold together"
    else:
        knowledge = load(tuple(folders))
        counts = {kind: len(knowledge.table(kind)) for kind in KIND_TYPES}
        figures = dict(sum((c.figures for c in evidence.counts(knowledge)), Counter[str]()))
        used, why = engine_in_use(knowledge)
    libraries = {}
    for name in LIBRARIES:
        try:
            libraries[name] = version(name)
        except PackageNotFoundError:
            libraries[name] = "not installed"
    places = [str(f) for f in folders_to_read(folders)]
    if not user_folder().is_dir():
        places.append(f"(own knowledge would be read from {user_folder()})")
    return DoctorReport(
        __version__, platform.python_version(), used, why, libraries, places, counts, figures, problems, _settings(problems)
    )


def _settings(problems: list[str]) -> str:
    """Where the settings are looked for and what they say of the units; what is wrong with them joins the problems."""
    place = settings_file()
    if not place.is_file():
        return f"none (they would be read from {place}), metric units"
    try:
        return f"{place}, {read_owned(place).units} units"
    except Unclear as error:
        problems.append(error.line())
        return f"{place}, not understood"


def engine_in_use(knowledge: Knowledge) -> tuple[str, str]:
    """(name, reason), found by building and firing all rules once."""
    from advisor.rules import Record

    if not engine.available():
        return "plain evaluator", f"{engine.WHY_NOT}; the answers are the same"
    everything = tuple(r for r in knowledge.rules)
    stratum = inference_for(knowledge).stratum(everything)
    stratum.fire(Record())
    if not stratum.engine_in_use or engine.faults:
        return "plain evaluator", "; ".join(engine.faults) or "durable-rules did not build the rules"
    return "durable-rules", f"built {len(everything)} rules and fired them"
