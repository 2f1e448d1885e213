"""The command line: one module a command, imported when it is called for, so that a command starts fast."""

from __future__ import annotations

import gc
import re
import sys
from collections.abc import Callable
from importlib import import_module

COMMANDS: dict[str, tuple[str, str]] = {
    "check": ("advisor.cli.check", "does this cloth suit these features?"),
    "pick": ("advisor.cli.pick", "rank cloths for a make, or write a shopping brief"),
    "sift": ("advisor.cli.sift", "judge a whole list of cloth"),
    "ideas": ("advisor.cli.ideas", "what would this cloth serve best?"),
    "compare": ("advisor.cli.compare", "cloths side by side, differences first"),
    "press": ("advisor.cli.press", "how hot, steam or not, which side"),
    "prewash": ("advisor.cli.prewash", "how to prepare the cloth before cutting"),
    "sew": ("advisor.cli.sew", "needle, thread, stitch, seams, hems, order of work"),
    "inspect": ("advisor.cli.inspect", "what to look at when the cloth arrives"),
    "swatch": ("advisor.cli.swatch", "home tests: how they are made, what their figures come to"),
    "need": ("advisor.cli.need", "how much: cloth, bias, flounces, pleats, buttons, thread"),
    "rescue": ("advisor.cli.rescue", "what went wrong, why, and what to try first"),
    "explain": ("advisor.cli.explain", "what an entry is, and where its figures come from"),
    "list": ("advisor.cli.list", "what the advisor knows"),
    "make": ("advisor.cli.make", "a make from its pattern's envelope: new, check, show, list"),
    "stash": ("advisor.cli.stash", "the cloth that you own"),
    "log": ("advisor.cli.log", "the makes that are done, and what they taught"),
    "plan": ("advisor.cli.plan", "which piece for which make, and when to sew it"),
    "wardrobe": ("advisor.cli.wardrobe", "what you own to wear, and the gaps"),
    "card": ("advisor.cli.card", "a card to print and pin to the cloth"),
    "handout": ("advisor.cli.handout", "one page for a class: what to buy, prepare and watch"),
    "page": ("advisor.cli.page", "the same on a local web page, for the cutting table"),
    "demo": ("advisor.cli.demo", "a day's work of an invented maker, from list to plan"),
    "doctor": ("advisor.cli.doctor", "versions, counts and the engine in use"),
}
"""Command → the module that holds its function `command`, or an `app` of subcommands, and what it answers."""


def _overview() -> str:
    lines = ["Does this cloth suit this garment? Ask before the scissors.", ""]
    lines += [f"  advisor {name:<9} {says}" for name, (_, says) in COMMANDS.items()]
    lines += ["", "For example:", '  advisor check "viscose challis, 95 gsm" --for "covered buttons" --for flounce',
              "Each command explains itself with --help; --json prints it for a program."]  # fmt: skip
    return "\n".join(lines)


def _fail(line: str) -> int:
    """One line on standard error; on a terminal it is broken between words rather than within them."""
    said = " ".join(line.split())
    if sys.stderr.isatty():
        import shutil
        import textwrap

        width = max(40, shutil.get_terminal_size((80, 24)).columns)
        said = textwrap.fill(said, width, break_long_words=False, break_on_hyphens=False)
    print(said, file=sys.stderr)
    return 2


def _stopped() -> int:
    """What Ctrl-C leaves: on a terminal a line of its own after the question that was not answered."""
    if sys.stderr.isatty():
        print("\nStopped.", file=sys.stderr)
    return 130


def run(arguments: list[str]) -> int:
    """Runs one command line and returns its exit code: 0 answered, 2 not understood."""
    if not arguments or arguments[0] in ("--help", "-h", "help"):
        print(_overview())
        return 0
    if arguments[0] in ("--version", "version"):
        from advisor import __version__

        print(f"fabric-advisor {__version__}")
        return 0
    name = arguments[0]
    if name not in COMMANDS:
        from advisor.cli.words import nearest

        return _fail(f"command '{name[:40]}': expected one of {', '.join(COMMANDS)}{nearest(name, COMMANDS)}.")
    import typer

    module = import_module(COMMANDS[name][0])
    app = getattr(module, "app", None)
    if app is None:
        app = typer.Typer(add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None)
        app.command()(module.command)
    elif len(arguments) == 1:
        arguments = [*arguments, "--help"]
    command = typer.main.get_command(app)
    from advisor.errors import Unclear
    from advisor.knowledge import KnowledgeError

    try:
        code = command.main(args=arguments[1:], prog_name=f"advisor {name}", standalone_mode=False)
    except Unclear as error:
        return _fail(error.line())
    except KnowledgeError as error:
        for problem in error.problems:
            _fail(str(problem))
        return 2
    except BrokenPipeError:
        return 130
    except (KeyboardInterrupt, typer.Abort):  # Ctrl-C; the second while a question was asked
        return _stopped()
    except Exception as error:
        if hasattr(error, "format_message"):  # a usage error of typer's, in our own form
            return _fail(_usage(error, command, name))
        raise
    if code == 130:  # the reader of options has caught it
        return _stopped()
    return code if isinstance(code, int) else 0


def _usage(error: Exception, command: object, name: str) -> str:
    from advisor.cli.words import nearest

    said = str(error.format_message()).rstrip(".")  # type: ignore[attr-defined]
    inner = getattr(error, "ctx", None)
    if inner is not None:  # of a subcommand, its own help and options
        command, name = inner.command, str(inner.command_path).removeprefix("advisor ")
    options = sorted(o for p in getattr(command, "params", []) for o in getattr(p, "opts", []) if o.startswith("--"))
    wrong = getattr(error, "option_name", "") or ""
    subcommands = [*getattr(command, "commands", {})]  # `list` is a module here
    if subcommands and said.startswith("No such command") and "'" in said:
        wrong, options = said.split("'")[1], subcommands
    given = _in_our_words(said[0].lower() + said[1:] if said else "the command")
    return f"{given.replace(chr(10), ' ')}: expected as 'advisor {name} --help' shows{nearest(wrong, options) if wrong else ''}."


def _bound(said: re.Match[str]) -> str:
    return f": at {'most' if said[1] == 'less' else 'least'} {said[2]} was expected"


_NOT_OUR_WORDS: tuple[tuple[str, str | Callable[[re.Match[str]], str]], ...] = (
    (r" \(Possible options?: [^)]*\)| Did you mean [^?]*\?", ""),  # the nearest is named once, at the end
    (r"got unexpected extra argument\(s\) \((.*)\)", r"more words than were expected: '\1' (quote what belongs together)"),
    (r": Input should be (less|greater) than or equal to (\S+)", _bound),
    (r": Input should be a valid (?:number|integer).*", ": a figure was expected"),
    (r": '.*' is not a valid (?:float|int(?:eger)?)( range)?", ": a figure was expected"),
)
"""What the reader of options says, and how it is said here."""


def _in_our_words(said: str) -> str:
    for theirs, ours in _NOT_OUR_WORDS:
        said = re.sub(theirs, ours, said)
    return said.rstrip(".")


def main() -> None:
    """The console script."""
    gc.disable()  # one short command: collecting garbage costs more than it frees
    try:
        code = run(sys.argv[1:])
        sys.stdout.flush()
    except KeyboardInterrupt:  # before the command was read
        code = _stopped()
    except BrokenPipeError:
        sys.stderr.close()
        code = 0
    sys.exit(code)
