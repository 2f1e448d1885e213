"""`advisor make`: write a make file by being asked, read it over, look at it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.cli.measures import in_words
from advisor.cli.options import Folders, Json, Units
from advisor.cli.words import Paper, emit, knowledge_from
from advisor.errors import Unclear
from advisor.makes import Make, read_make
from advisor.making import answers

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="The garments that you mean to sew: put one together from its pattern's envelope, read it over, look at it.",
)

END = "."
"""A line of this alone ends a pasted envelope, which may hold empty lines."""


@app.command("new")
def new(
    name: Annotated[str, typer.Option("--name", help="What the make is called.", show_default=False)] = "",
    envelope: Annotated[str, typer.Option("--envelope", help="A file with the envelope's text, '-' for what is piped in.", show_default=False)] = "",
    feature: Annotated[list[str], typer.Option("--feature", help="What it has: 'flounce 12 cm deep at the cuff'. Repeatable.", show_default=False)] = [],  # noqa: B006
    wearer: Annotated[str, typer.Option("--wearer", help="adult, child, baby, older.", show_default=False)] = "",
    season: Annotated[str, typer.Option("--season", help="summer, winter …", show_default=False)] = "",
    use: Annotated[str, typer.Option("--use", help="everyday, work, party, nightwear …", show_default=False)] = "",
    care: Annotated[str, typer.Option("--care", help="'40 machine wash, line dry'.", show_default=False)] = "",
    fabrics: Annotated[str, typer.Option("--fabrics", help="Suggested cloths, as the envelope prints them.", show_default=False)] = "",
    not_for: Annotated[str, typer.Option("--not-for", help="What the envelope says is unsuitable.", show_default=False)] = "",
    kind: Annotated[str, typer.Option("--kind", help="woven, knit or either.", show_default=False)] = "",
    stretch: Annotated[str, typer.Option("--stretch", help="The gauge: 'from 10 cm to 13.5 cm', '25 % crosswise'.", show_default=False)] = "",
    table: Annotated[list[str], typer.Option("--table", help="A line of the table of cloth: '45\" 3 1/8 yd, 60\" 2 3/8 yd'. Repeatable.", show_default=False)] = [],  # noqa: B006
    view: Annotated[str, typer.Option("--view", help="The view that you will sew.", show_default=False)] = "",
    size: Annotated[str, typer.Option("--size", help="The size that you will sew.", show_default=False)] = "",
    layer: Annotated[list[str], typer.Option("--layer", help="Another cloth in it: 'lining: CLOTH'. Repeatable.", show_default=False)] = [],  # noqa: B006
    notions: Annotated[str, typer.Option("--notions", help="As the envelope prints them.", show_default=False)] = "",
    technique: Annotated[list[str], typer.Option("--technique", help="What must be done, in your words. Repeatable.", show_default=False)] = [],  # noqa: B006
    level: Annotated[str, typer.Option("--level", help="How hard it is.", show_default=False)] = "",
    hours: Annotated[str, typer.Option("--hours", help="Hours of work.", show_default=False)] = "",
    wanted_by: Annotated[str, typer.Option("--wanted-by", help="The day: 2027-05-14.", show_default=False)] = "",
    allowance: Annotated[str, typer.Option("--allowance", help="Seam allowance: '15 mm', '5/8 in'.", show_default=False)] = "",
    fills: Annotated[list[str], typer.Option("--fills", help="What it adds to the wardrobe: 'skirt'. Repeatable.", show_default=False)] = [],  # noqa: B006
    drop: Annotated[list[str], typer.Option("--drop", help="What could be left off, and the hours it saves: 'FEATURE: 2'. Repeatable.", show_default=False)] = [],  # noqa: B006
    part: Annotated[list[str], typer.Option("--part", help="Features cut in another cloth of the table: 'contrast: collar, cuffs'. Repeatable.", show_default=False)] = [],  # noqa: B006
    notes: Annotated[str, typer.Option("--notes", help="Anything else.", show_default=False)] = "",
    start: Annotated[Path | None, typer.Option("--from", help="Begin with an earlier make's answers.", show_default=False)] = None,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="The file to write; by default named after the make.", show_default=False)] = None,
    force: Annotated[bool, typer.Option("--force", help="Put it in the place of a file that is there.")] = False,
    ask: Annotated[bool | None, typer.Option("--ask/--no-ask", help="Ask for what was not said; by default only where nothing was.", show_default=False)] = None,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Write a make file: answer what is asked, or say all with options."""
    from advisor.making.asking import Draft
    from advisor.making.writing import file_name, refuse_taken, write_make

    given: list[tuple[str, str]] = [
        ("envelope", _envelope_text(envelope)), ("name", name), ("features", "\n".join(feature)), ("wearer", wearer),
        ("season", season), ("use", use), ("care", care), ("fabrics", fabrics), ("not_for", not_for), ("kind", kind),
        ("stretch", stretch), ("table", "\n".join(table)), ("view", view), ("size", size), ("layers", "\n".join(layer)),
        ("notions", notions), ("techniques", "\n".join(technique)), ("level", level), ("hours", hours), ("wanted_by", wanted_by),
        ("allowance", allowance), *(("fills", f) for f in fills), *(("drop", d) for d in drop),
        *(("part_features", p) for p in part), ("notes", notes),
    ]  # fmt: skip
    given = [(key, text) for key, text in given if text]
    known = knowledge_from(knowledge)
    if out:
        refuse_taken(out, force)
    draft = Draft(known, read_make(start) if start else None, units=units)
    remarks: list[str] = []
    for key, text in given:
        remarks += draft.take(key, text)
    talk = ask if ask is not None else not given
    conversation = _Conversation(draft, out, force, {key for key, _ in given}) if talk else None
    if conversation:
        if name and not out:
            refuse_taken(Path(file_name(name)), force)  # before anything is asked in vain
        conversation.hold()
    made = draft.finished()
    path = out or Path(file_name(made.make))
    while True:
        try:
            write_make(made, path, over=force)
            break
        except Unclear as error:
            if not conversation:
                raise
            path = conversation.another_file(error)  # what was answered is not lost for a file that cannot be written
    if json:
        emit(answers.NewMakeReport(str(path), made, remarks))
        return
    paper = Paper(units)
    for remark in remarks:
        paper.item(remark[0].upper() + remark[1:] + ("" if remark.endswith(".") else "."))
    paper.line(f"Written: {path}", "bold")
    paper.item(f"Read it over with 'advisor make check {path}', choose a cloth with 'advisor pick {path}'.", bullet="", indent=0)
    paper.show()


def _envelope_text(given: str) -> str:
    if not given:
        return ""
    if given == "-":
        return sys.stdin.read()
    try:
        return Path(given).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise Unclear(f"envelope '{given[:80]}'", f"a text file in UTF-8 ({error.__class__.__name__})") from None


class _Conversation:
    """Asks on standard error, reads from standard input; an answer that is not understood is asked for again."""

    def __init__(self, draft: object, out: Path | None, force: bool, said: set[str]) -> None:
        from advisor.making.asking import Draft

        assert isinstance(draft, Draft)
        self.draft, self.out, self.force, self.said = draft, out, force, said

    def hold(self) -> None:
        from advisor.making.asking import questions

        self._say("Answer, or press Enter to leave it open or as it is; '-' empties an answer. A list ends with an empty line. Nothing is written until the end.")
        if "envelope" not in self.said:
            self._envelope()
        for question in questions(self.draft.knowledge):
            if question.key in self.said or not self.draft.wanted(question.key):
                continue
            self._say("")
            example = f"  (for example: {question.example})" if question.example else ""
            self._say(question.ask + example)
            choices = self.draft.choices(question.key)
            if choices:
                self._say(f"  one of {', '.join(choices)}")
            if question.key == "features":
                self._line_by_line(question.key, needed=True)
            elif question.key == "layers":
                self._line_by_line(question.key)
            else:
                self._once(question.key, question.several, question.needed)
            if question.key == "name" and not self.out:
                self._free_file()

    def _envelope(self) -> None:
        self._say("")
        self._say(f"Have you the text of the pattern's envelope? Paste it, and end with a line of '{END}' alone; or press Enter.")
        while True:
            first = self._read("envelope")
            if not first.strip():
                return
            lines = [first]
            while first.strip() != END and (line := self._read("envelope")).strip() != END:
                lines.append(line)
            if self._take("envelope", "\n".join(lines)):
                return

    def _once(self, key: str, several: bool, needed: bool) -> None:
        """One answer of one line, or of lines up to an empty one."""
        while True:
            lines = [self._read(key)]
            while several and lines[-1].strip() and lines[-1].strip() != "-":
                lines.append(self._read(key, more=True))
            text = "\n".join(lines).strip("\n") if key == "table" else "\n".join(lines).strip()
            if not text.strip():
                if not needed or self.draft.present(key):
                    return
                self._say("This is needed.")
            elif self._take(key, text):
                return

    def _line_by_line(self, key: str, needed: bool = False) -> None:
        """Answers of one line each, read at once, up to an empty line."""
        while True:
            line = self._read(key, more=key in self.draft.begun)
            if line.strip():
                self._take(key, line)
            elif needed and not self.draft.present(key):
                self._say("At least one is needed.")
            else:
                return

    def _free_file(self) -> None:
        from advisor.making.writing import file_name, refuse_taken

        path = Path(file_name(self.draft.make.make))
        while True:
            try:
                refuse_taken(path, self.force)
                self.out = path
                return
            except Unclear as error:
                self._say(error.line())
                self._say("Another name for the make?")
                self._once("name", False, True)
                path = Path(file_name(self.draft.make.make))

    def another_file(self, error: Unclear) -> Path:
        """Another file's name, where the one meant cannot be written."""
        self._say(error.line())
        self._say("Which file then?")
        while not (given := self._read("out").strip()):
            pass
        return Path(given)

    def _take(self, key: str, text: str) -> bool:
        try:
            remarks = self.draft.take(key, text)
        except Unclear as error:
            self._say(f"  {error.line()}")
            return False
        for remark in remarks:
            self._say(f"  = {in_words(remark, self.draft.units)}")
        return True

    def _read(self, key: str, *, more: bool = False) -> str:
        present = "" if more else in_words(self.draft.present(key), self.draft.units)
        sys.stderr.write(f"  [{present[:60]}] > " if present else "  > ")
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not line:
            sys.stderr.write("\n")
            raise Unclear(f"the answers ended at '{key.replace('_', ' ')}', and nothing was written", "an answer, or Enter, for each question")
        return line.rstrip("\r\n")

    def _say(self, text: str) -> None:
        import textwrap

        for line in textwrap.wrap(text, 80, subsequent_indent="  ", break_on_hyphens=False) or [""]:
            sys.stderr.write(line + "\n")


@app.command("check")
def check(
    files: Annotated[list[Path], typer.Argument(help="Make files.", show_default=False)],
    cloth: Annotated[list[str], typer.Option("--cloth", help="Hold this cloth against the envelope. Repeatable.", show_default=False)] = [],  # noqa: B006
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Read make files over: every fault with its line, all at once. The exit code is 2 where there is one."""
    from advisor.advise import profile_of
    from advisor.making.checking import check_file
    from advisor.picking import fits_envelope

    known = knowledge_from(knowledge)
    profiles = [(words, profile_of(words, known)) for words in cloth]
    checked: list[answers.CheckedFile] = []
    for path in files:
        read = check_file(path, known)
        made = read.make
        checked.append(
            answers.CheckedFile(
                str(path), read.wrong, len(read.found) - read.wrong,
                [answers.Remark(f.line, f.field, f.what, f.expected, f.nearest, f.kind) for f in read.found],
                made.make if made else "", len(made.features) if made else 0, len(made.cloth_needed) if made else 0,
                [answers.ClothFits(words, fits_envelope(profile, made)) for words, profile in profiles] if made else [],
            )
        )  # fmt: skip
    if json:
        emit(answers.MakeCheckReport(checked))
    else:
        _show_checked(checked, units)
    if any(c.wrong for c in checked):
        raise typer.Exit(2)


def _show_checked(checked: list[answers.CheckedFile], units: str) -> None:
    paper = Paper(units)
    for done in checked:
        for remark in done.found:
            where = f"{done.file}:{remark.line}: {remark.field or 'the file'}: "
            tail = f"; expected {remark.expected}" if remark.expected else ""
            near = f"; nearest: {remark.nearest}" if remark.nearest else ""
            look = "look at this: " if remark.kind == "look" else ""
            paper.item(f"{where}{look}{remark.what}{tail}{near}.", bullet="", indent=0, style="stop" if remark.kind == "wrong" else "")
        for fit in done.cloths:
            said = f"not what the envelope asks for: {'; '.join(fit.against)}" if fit.against else "nothing on the envelope speaks against it"
            paper.item(f"{fit.cloth}: {said}.", bullet="", indent=0, style="stop" if fit.against else "")
        looks = f", {done.look} to look at" if done.look else ""
        if done.wrong:
            paper.item(f"{done.file}: {done.wrong} {'fault' if done.wrong == 1 else 'faults'}{looks}.", bullet="", indent=0, style="bold")
        else:
            rows = f", {done.rows} {'row' if done.rows == 1 else 'rows'} of cloth needed" if done.rows else ", no table of cloth needed"
            features = f"{done.features} {'feature' if done.features == 1 else 'features'}"
            paper.item(f"{done.file}: in order{looks} ({done.make}; {features}{rows}).", bullet="", indent=0, style="bold")
    paper.show()


@app.command("show")
def show(
    file: Annotated[Path, typer.Argument(help="A make file.", show_default=False)],
    units: Units = "",
    json: Json = False,
) -> None:
    """A make in plain words."""
    made = read_make(file)
    if json:
        emit(answers.ShownMakeReport(str(file), made))
        return
    _paper_of(made, units).show()


def _paper_of(made: Make, units: str) -> Paper:
    from advisor.making.asking import feature_words

    paper = Paper(units)
    paper.line(made.make, "bold")
    envelope = made.envelope
    for_whom = ", ".join(v for v in (made.wearer, made.season, made.use) if v)
    gauge = " and ".join(f"{v:g} % {w}" for w, v in (("along", envelope.stretch_along), ("across", envelope.stretch_across)) if v)
    chosen = ", ".join(f"{n} {v}" for n, v in (("view", made.view), ("size", made.size)) if v)
    for label, text in (
        ("for", for_whom), ("care", made.care), ("wanted by", str(made.wanted_by or "")), ("to be sewn", chosen),
        ("work", f"{made.hours:g} hours" if made.hours else ""), ("level", made.level),
        ("features", "; ".join(feature_words(f) for f in made.features)), ("techniques", ", ".join(made.techniques)),
        ("envelope suggests", ", ".join(envelope.suggests)), ("not for", ", ".join(envelope.not_for)),
        ("drafted for", f"{envelope.woven_or_knit} cloth" if envelope.woven_or_knit else ""), ("stretch", f"at least {gauge}" if gauge else ""),
        ("other cloths", "; ".join(f"{k}: {v}" for k, v in made.layers.items())), ("notions", ", ".join(made.notions)),
        ("adds to the wardrobe", ", ".join(made.fills)),
        ("could be left off", "; ".join(f"{k} ({v:g} h)" for k, v in made.can_drop.items())),
        ("seam allowance", f"{made.seam_allowance_mm:g} mm"),
    ):  # fmt: skip
        if text:
            paper.item(f"{label}: {text}")
    if made.cloth_needed:
        paper.head("Cloth needed")
        rows = [
            (f"view {r.view}" if r.view else "", f"size {r.size}" if r.size else "", "" if r.part == "main" else r.part,
             f"{r.width_cm:g} cm", f"{r.length_m:g} m", {"with": "with nap", "without": "", "either": "with or without nap"}[r.nap])
            for r in made.cloth_needed
        ]  # fmt: skip
        wide = [max(len(row[i]) for row in rows) for i in range(6)]
        for row in rows:
            paper.line("  " + "  ".join(f"{cell:>{w}}" if i in (3, 4) else f"{cell:<{w}}" for i, (cell, w) in enumerate(zip(row, wide, strict=True)) if w).rstrip())
    for line in made.notes.splitlines():
        paper.item(line, bullet="", indent=0)
    return paper


@app.command("list")
def list_(
    folder: Annotated[Path, typer.Argument(help="The folder with your make files.")] = Path("."),
    json: Json = False,
) -> None:
    """The make files of a folder; where it holds none, the examples that come with the advisor."""
    from advisor.knowledge import shipped_folder

    if not folder.is_dir():
        raise Unclear(f"folder '{folder}'", "a folder that exists")
    found = _listed(folder, False) or _listed(shipped_folder() / "makes", True)
    if json:
        emit(answers.MakeListReport(str(folder), found))
        return
    paper = Paper()
    if found and found[0].example:
        paper.item(f"No make file in '{folder}'. 'advisor make new' writes one; these come as examples:", bullet="", indent=0)
    for made in found:
        if made.problem:
            paper.item(f"{made.file}: cannot be read; 'advisor make check {made.file}' says why")
            continue
        parts = [f"{made.features} {'feature' if made.features == 1 else 'features'}"]
        parts += [f"{made.hours:g} h"] if made.hours else []
        parts += [f"wanted by {made.wanted_by}"] if made.wanted_by else []
        paper.item(f"{made.make}: {', '.join(parts)} ({made.file})")
    paper.show()


def _listed(folder: Path, example: bool) -> list[answers.ListedMake]:
    """The make files of a folder, soonest wanted first; other YAML files are passed over."""
    found = []
    for path in sorted(folder.glob("*.yaml")):
        try:
            made = read_make(path)
        except Unclear as error:
            try:
                if any(line.startswith("make:") for line in path.read_text(encoding="utf-8").splitlines()):
                    found.append(answers.ListedMake(str(path), "", example=example, problem=error.line()))
            except (OSError, UnicodeDecodeError):
                pass
            continue
        found.append(answers.ListedMake(str(path), made.make, len(made.features), made.hours, str(made.wanted_by or ""), example))
    return sorted(found, key=lambda m: (m.wanted_by or "9", m.make))
