"""`advisor press`: how hot, steam or not, which side, and what never to do."""

from __future__ import annotations

from advisor import advise, report
from advisor.cli.measures import celsius
from advisor.cli.options import Cloth, Features, Folders, Json, MakeFile, Units
from advisor.cli.words import Paper, cloth_lines, emit, finding_lines, knowledge_from
from advisor.makes import read_make

STEAM = {"yes": "steam: yes", "care": "steam: only after trying a scrap", "no": "steam: no"}
SIDES = {"wrong": "from the wrong side", "right": "from the right side", "either": "from either side"}


def command(
    cloth: Cloth,
    features: Features = [],  # noqa: B006
    make: MakeFile = None,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """How the cloth is pressed: iron, steam, press cloth, side, and what never to do."""
    answer = advise.press(
        cloth, features, make=read_make(make) if make else None, knowledge=knowledge_from(knowledge)
    )
    if json:
        emit(answer)
    else:
        show(answer, units)


def _decided(iron: report.IronReport, units: str) -> str:
    """Which part decides; and how far the iron may go if the cloth turns out to be without it."""
    said = f"Decided by {iron.decided_by}, the most heat-sensitive part."
    if iron.otherwise_c:
        said += (
            f" This cloth may be without it: name its fibres as on the label and ask again (it could be up to {celsius(iron.otherwise_c, units)})."
        )
    return said


def show(answer: report.PressReport, units: str) -> None:
    paper = Paper(units)
    iron = answer.iron
    if iron.level == 0:
        paper.line("NO IRON", "avoid")
        paper.item(_decided(iron, units), bullet="", indent=0)
    else:
        paper.line(
            f"{iron.dial.upper()}, {iron.dots}: at most {celsius(iron.max_c, units)} at the sole-plate",
            "bold",
        )
        paper.item(_decided(iron, units), bullet="", indent=0)
        cloth_word = "through a press cloth" if answer.press_cloth else "no press cloth needed"
        paper.item(f"{STEAM[answer.steam].capitalize()}; {cloth_word}; {SIDES[answer.side]}.", bullet="", indent=0)
    cloth_lines(paper, answer.cloth)
    for title, texts in (("How", answer.how), ("Never", answer.never), ("To hand", answer.tools)):
        if texts:
            paper.head(title)
            for text in texts:
                paper.item(text[0].upper() + text[1:])
    said = [f for f in answer.findings if f.kind == "press"]
    if said:
        paper.head("Notes")
        finding_lines(paper, said, limit=9)
    safety = [f for f in answer.findings if f.kind in ("safety", "stop")]
    if safety:
        paper.head("Safety")
        finding_lines(paper, safety, limit=5)
    if iron.level == 0:  # no setting, so no word of its heat
        paper.show()
        return
    paper.line()
    paper.item(
        f"Heat by ISO 3758:2012, the cooler edition (2023 allows {celsius(iron.edition_2023_c, units)} at this setting). "
        "Irons swing round their setting, so try a scrap first.",
        bullet="", indent=0, style="dim",
    )  # fmt: skip
    paper.show()
