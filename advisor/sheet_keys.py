"""The lines that a rule may set on a sheet (`sheet:` in the rules): one closed list, with the kinds of rules that may."""

from __future__ import annotations

from dataclasses import dataclass

PRESS = ("press", "safety", "stop", "caution")
PREWASH = ("prewash", "stop", "caution")
SEW = ("handling", "notion", "caution")


@dataclass(frozen=True)
class Line:
    """One line of a sheet: which kinds of rules may set it, and what it takes: text, figure, yes, list, or one of `words`."""

    kinds: tuple[str, ...]
    takes: str
    words: tuple[str, ...] = ()


UNDER = (
    "cutting", "marking", "holding", "stabilising", "machine", "seams", "hems", "interfacing", "lining", "pressing", "closures",
)  # fmt: skip
"""Headings of the sewing sheet under which a rule's own advice can stand (`under:`)."""

LINES: dict[str, Line] = {
    "steam": Line(PRESS, "word", ("yes", "care", "no")),
    "press_cloth": Line(PRESS, "yes"),
    "side": Line(PRESS, "word", ("wrong", "right", "either")),
    "max_c": Line(PRESS, "figure"),
    "takes": Line(("press", "prewash"), "word", ("nothing", "iron", "steam", "water")),
    "how": Line(PRESS, "list"),
    "never": Line(PRESS, "list"),
    "method": Line(PREWASH, "text"),
    "wash_c": Line(PREWASH, "figure"),
    "dry": Line(PREWASH, "text"),
    "before": Line(PREWASH, "list"),
    "after": Line(PREWASH, "list"),
    "times": Line(PREWASH, "figure"),
    "needed": Line(PREWASH, "yes"),
    "tools": Line((*PRESS, *SEW), "list"),
    "inspect": Line(SEW, "list"),
    "needle": Line(SEW, "text"),
    "nm_low": Line(SEW, "figure"),
    "nm_high": Line(SEW, "figure"),
    "thread": Line(SEW, "text"),
    "tex_low": Line(SEW, "figure"),
    "tex_high": Line(SEW, "figure"),
    "stitch": Line(SEW, "text"),
    "stitch_low": Line(SEW, "figure"),
    "stitch_high": Line(SEW, "figure"),
    "foot": Line(SEW, "text"),
    "plate": Line(SEW, "text"),
    "tension": Line(SEW, "text"),
    "pressure": Line(SEW, "text"),
    "hold": Line(SEW, "text"),
    "under": Line(SEW, "word", UNDER),
    "seam": Line(SEW, "text"),
    "finish": Line(SEW, "text"),
    "enclosed": Line(SEW, "yes"),
    "second_mm": Line(SEW, "figure"),
    "trim_mm": Line(SEW, "figure"),
    "allowance_mm": Line(SEW, "figure"),
    "wider_mm": Line(SEW, "figure"),
    "hem": Line(SEW, "text"),
    "hem_low": Line(SEW, "figure"),
    "hem_high": Line(SEW, "figure"),
    "hang_days": Line(SEW, "figure"),
    "fuse": Line(SEW, "word", ("fusible", "sew-in", "none", "either")),
    "interfacing": Line(SEW, "text"),
    "toile": Line(SEW, "text"),
    "toile_cloth": Line(SEW, "text"),
    "sample": Line(SEW, "list"),
    "order": Line(SEW, "list"),
}
"""Key → line. `takes` says what the rule's way of working cannot do without: a pressing rule that says nothing of it takes an
iron, a pre-wash rule water, so that neither advises what the sheet forbids; `never` holds whatever it takes. `enclosed` marks a seam of two passes, whose widths share the pattern's allowance."""


def problem_of(key: str, value: object, kind: str) -> str:
    """What is wrong with one line of a rule's sheet, or nothing."""
    line = LINES.get(key)
    if line is None:
        from difflib import get_close_matches

        near = get_close_matches(key, list(LINES), 1, 0.5)
        return f"'{key}' is not a line of a sheet" + (f"; nearest: {near[0]}" if near else "")
    if kind not in line.kinds:
        return f"'{key}' may be set by rules of kind {', '.join(line.kinds)} only"
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    fits = {
        "text": isinstance(value, str) and bool(value),
        "figure": number and float(value) >= 0,  # type: ignore[arg-type]
        "yes": isinstance(value, bool),
        "list": isinstance(value, list) and bool(value),
        "word": value in line.words,
    }[line.takes]
    wanted = f"one of {', '.join(line.words)}" if line.words else line.takes
    return "" if fits else f"'{key}' takes {wanted}, not {value!r}"
