"""`advisor swatch`: home tests, how they are made, and what their figures come to."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor import hometests
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from
from advisor.errors import Unclear
from advisor.model import HomeTest

Given = list[str]
ALSO = {"side_for_5_pct": "side of a square that gives 5 %", "dimensional_change": "change of dimension, minus for shorter"}
"""How figures that come along are called; the others go by their own name."""


def _figure(name: str, says: str) -> typer.models.OptionInfo:
    found: typer.models.OptionInfo = typer.Option(f"--{name}", help=says)
    return found


def command(
    test: Annotated[str, typer.Argument(help="The test: weight, drape-fall, shrink-along … Left out: the list.")] = "",
    reading: Annotated[str, typer.Option("--reading", help="The stage that was seen, by its number or its words.")] = "",
    mass_g: Annotated[Given, _figure("mass-g", "Mass.")] = [],  # noqa: B006
    length_m: Annotated[Given, _figure("length-m", "Length of the piece.")] = [],  # noqa: B006
    width_cm: Annotated[Given, _figure("width-cm", "Width.")] = [],  # noqa: B006
    length_cm: Annotated[Given, _figure("length-cm", "Length of a scrap.")] = [],  # noqa: B006
    scale_g: Annotated[Given, _figure("scale-g", "Step of the scale.")] = [],  # noqa: B006
    overhang_mm: Annotated[Given, _figure("overhang-mm", "How far the strip hangs over.")] = [],  # noqa: B006
    gsm: Annotated[Given, _figure("gsm", "Weight of the cloth.")] = [],  # noqa: B006
    shadow_cm: Annotated[Given, _figure("shadow-cm", "Width of the shadow.")] = [],  # noqa: B006
    disc_cm: Annotated[Given, _figure("disc-cm", "Width of the plate.")] = [],  # noqa: B006
    cloth_cm: Annotated[Given, _figure("cloth-cm", "Width of the round of cloth.")] = [],  # noqa: B006
    ring_g: Annotated[Given, _figure("ring-g", "Mass of the whole paper ring.")] = [],  # noqa: B006
    shadow_g: Annotated[Given, _figure("shadow-g", "Mass of its shadowed part.")] = [],  # noqa: B006
    rest_cm: Annotated[Given, _figure("rest-cm", "Between the marks at rest.")] = [],  # noqa: B006
    stretched_cm: Annotated[Given, _figure("stretched-cm", "Between the marks, stretched.")] = [],  # noqa: B006
    after_cm: Annotated[Given, _figure("after-cm", "Between the marks afterwards.")] = [],  # noqa: B006
    before_cm: Annotated[Given, _figure("before-cm", "Between the marks before.")] = [],  # noqa: B006
    lost_mm: Annotated[Given, _figure("lost-mm", "Depth of the fringe.")] = [],  # noqa: B006
    gap_mm: Annotated[Given, _figure("gap-mm", "Gap beside the stitches.")] = [],  # noqa: B006
    stack_mm: Annotated[Given, _figure("stack-mm", "Height of the stack.")] = [],  # noqa: B006
    layers: Annotated[Given, _figure("layers", "Layers in the stack.")] = [],  # noqa: B006
    rise_cm: Annotated[Given, _figure("rise-cm", "Height of the raised end.")] = [],  # noqa: B006
    board_cm: Annotated[Given, _figure("board-cm", "Length of the board.")] = [],  # noqa: B006
    save: Annotated[
        str, typer.Option("--save", help="Keep the result with this piece of the stash, in place of an earlier one.")
    ] = "",
    stash: Annotated[
        Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)
    ] = None,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Home tests: alone it lists them, with a test it guides, with figures it reckons and explains.

    Figures may be given several times and with a unit ('14 oz'); each test takes its own, as 'advisor swatch TEST' tells.
    """
    said: dict[str, Given] = {
        "mass_g": mass_g, "length_m": length_m, "width_cm": width_cm, "length_cm": length_cm, "scale_g": scale_g,
        "overhang_mm": overhang_mm, "gsm": gsm, "shadow_cm": shadow_cm, "disc_cm": disc_cm, "cloth_cm": cloth_cm,
        "ring_g": ring_g, "shadow_g": shadow_g, "rest_cm": rest_cm, "stretched_cm": stretched_cm, "after_cm": after_cm,
        "before_cm": before_cm, "lost_mm": lost_mm, "gap_mm": gap_mm, "stack_mm": stack_mm, "layers": layers,
        "rise_cm": rise_cm, "board_cm": board_cm,
    }  # fmt: skip
    known = knowledge_from(knowledge)
    given = {name: texts for name, texts in said.items() if texts}
    if test.strip().lower() in ("", "list"):
        if given or reading or save:
            raise Unclear("figures without a test", "a test first", "advisor swatch weight")
        everything = hometests.list_tests(known)
        return emit(everything) if json else show_list(everything, units)
    chosen: HomeTest = hometests.find_test(test, known)
    if not given and not reading:
        if save:
            raise Unclear(f"--save '{save[:60]}' without a result", "the test's figures or its --reading")
        how = hometests.guide(chosen, known)
        return emit(how) if json else show_guide(how, units)
    specs = hometests.recipes(known).figures
    figures = {name: [hometests.quantity(text, name, specs[name]) for text in texts] for name, texts in given.items()}
    answer = hometests.measure(chosen, known, figures, reading)
    if save and answer.phrase:
        from advisor.stash.place import default_path
        from advisor.stash.testing import keep_result

        answer.saved = keep_result((stash or default_path()).absolute(), save, answer.phrase, known).name
    elif save:
        raise Unclear(f"--save '{save[:60]}'", "a result that carries over to a description; this one does not")
    return emit(answer) if json else show(answer, known.properties[answer.property].name, by_reading=bool(reading), units=units)


def show_list(answer: hometests.TestList, units: str = "metric") -> None:
    """Every test with what it settles and how long it takes."""
    paper = Paper(units)
    paper.line("Home tests, and what each settles", "bold")
    wide = max(len(row.test) for row in answer.tests)
    for row in answer.tests:
        time = f"{row.minutes:g} min" if row.minutes < 90 else f"{row.minutes / 60:g} h"
        paper.line(f"  {row.test:<{wide}}  {row.property_name} ({time})")
    paper.line()
    paper.item("'advisor swatch TEST' tells how it is made and which figures to give.", bullet="", indent=0, style="dim")
    paper.show()


def show_guide(answer: hometests.TestGuide, units: str = "metric") -> None:
    """How the test is made, then what to type."""
    paper = Paper(units)
    settles = "" if answer.test == answer.property_name else f": {answer.property_name}"
    minutes = "1 minute" if answer.minutes == 1 else f"{answer.minutes:g} minutes" if answer.minutes < 90 else f"{answer.minutes / 60:g} hours"
    paper.line(f"{answer.test}{settles}, {minutes}", "bold")
    if answer.about:
        paper.item(answer.about, bullet="", indent=0)
    if answer.safety:
        paper.head("Safety")
        paper.item(answer.safety)
    paper.head("To hand")
    for need in answer.needs:
        paper.item(need)
    paper.head("How")
    for number, step in enumerate(answer.how, 1):
        paper.item(step, bullet=f"{number}. ")
    if answer.readings:
        paper.head("Which is it? Give its number with --reading")
        for stage in answer.readings:
            paper.item(stage.says, bullet=f"{stage.number}. ")
    if answer.figures:
        paper.head("Figures to give")
        for figure in answer.figures:
            paper.item(f"{figure.option} ({figure.unit}){'' if figure.needed else ', if you have it'}: {figure.about}")
    paper.line()
    unit = "" if answer.unit == "grade" else f" {answer.unit}"
    paper.item(f"Usually right within {answer.spread:g}{unit or ' of a grade'}. For example:", bullet="", indent=0)
    paper.item(answer.example, bullet="", indent=2)
    paper.show()


def show(answer: hometests.SwatchReport, name: str, *, by_reading: bool, units: str = "metric") -> None:
    """The result first, then the working, then the phrase to paste."""
    paper = Paper(units)
    unit = "" if answer.unit == "grade" else f" {answer.unit}"
    title = name[0].upper() + name[1:]
    if not answer.plus_minus:
        paper.line(f"{title}: {answer.says}", "bold")
    elif by_reading:
        paper.line(f"{title}: {answer.low:g} to {answer.high:g}{unit}  ({answer.says})", "bold")
    else:
        paper.line(f"{title}: {answer.value:g} ± {answer.plus_minus:g}{unit}  ({answer.says})", "bold")
    for text in answer.working:
        paper.item(text[0].upper() + text[1:] + ".", bullet="", indent=2)
    for key, amount in answer.also.items():
        spread = f" ± {amount.plus_minus:.2g}" if amount.plus_minus else ""
        paper.item(f"{ALSO.get(key, key.replace('_', ' '))}: {float(f'{amount.value:.3g}'):g}{spread} {amount.unit}".replace(" ratio", "").replace(" °", "°"))
    for note in answer.notes:
        paper.item(note[0].upper() + note[1:].rstrip(".") + ".")
    if answer.safety:
        paper.item(answer.safety, style="safety")
    paper.line()
    if answer.saved:
        paper.item(f"Kept with '{answer.saved}': {answer.phrase}", bullet="", indent=0)
    elif answer.phrase:
        paper.item("Add to the description of the cloth:", bullet="", indent=0)
        paper.item(answer.phrase, bullet="", indent=2, style="bold")
    else:
        paper.item("Nothing to add to the description: this result does not carry over safely.", bullet="", indent=0)
    paper.show()
