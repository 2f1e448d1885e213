"""`advisor card`: a printed card to pin to a piece of cloth."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor.card.content import card_for
from advisor.card.papers import CARDS, SHEETS, alone, on_sheet, one_of
from advisor.card.reports import CardAnswer, CardReport
from advisor.cli.options import Features, Folders, MakeFile, Units
from advisor.cli.printing import Force, Json, Out, deliver
from advisor.cli.words import Paper, emit, knowledge_from
from advisor.errors import Unclear
from advisor.makes import read_make
from advisor.stash.pieces import Piece, key_of, nearest_names

MOST = 200
"""Cards in one file."""


def command(
    cloths: Annotated[
        list[str], typer.Argument(help="Pieces of your stash by name, or cloths in your own words.", show_default=False)
    ],
    features: Features = [],  # noqa: B006
    make: MakeFile = None,
    size: Annotated[str, typer.Option("--size", help=f"The card: {', '.join(CARDS)}.")] = "a6",
    sheet: Annotated[
        str, typer.Option("--sheet", help=f"Several cards on one sheet, with marks to cut by: {', '.join(SHEETS)}.", show_default=False)
    ] = "",
    out: Out = None,
    force: Force = False,
    stash: Annotated[
        Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)
    ] = None,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Print a card to pin to the cloth: iron, wash, needle, seams, what to watch, and the make it is kept for.

    Of a piece in your stash it also says what is left, what was measured and what it is reserved for. With --json and
    no --out nothing is written.
    """
    size = one_of(size, CARDS, "size")
    sheet = one_of(sheet, SHEETS, "sheet") if sheet else ""
    laid = on_sheet(size, sheet) if sheet else alone(size)
    if len(cloths) > MOST:
        raise Unclear(f"{len(cloths)} cards", f"at most {MOST} at once")
    known, made = knowledge_from(knowledge), read_make(make) if make else None
    pieces = _pieces(stash)
    cards = []
    for given in cloths:
        piece = pieces.get(key_of(given))
        try:
            cards.append(card_for(piece or given, features, make=made, units=units, knowledge=known))
        except Unclear as error:
            near = nearest_names(given, [p.name for p in pieces.values()]) if piece is None else ""
            if not near:
                raise
            raise Unclear(error.given, "a piece of your stash, or a cloth in words", near) from None
    answer = CardAnswer(cards, size, sheet or None, -(-len(cards) // len(laid.places)))
    if out is None and json:
        emit(answer)
        return
    from advisor.card import setting

    title = cards[0].title if len(cards) == 1 else ""
    written = deliver(lambda form: setting.cards(cards, size, laid, form), out, "card" if title else "cards", title, force)
    answer.file = str(written)
    if json:
        emit(answer)
    else:
        show(answer, written)


def _pieces(stash: Path | None) -> dict[str, Piece]:
    """The pieces of the stash by key; none where the usual stash was never begun."""
    from advisor.stash import store

    path = (stash or store.default_path()).absolute()
    if stash is None and not path.exists():
        return {}
    with store.reading(path) as db:
        return {key_of(piece.name): piece for piece in store.pieces(db)}


def show(answer: CardAnswer, written: Path) -> None:
    """Where the cards are, and what did not fit on them."""
    paper = Paper()
    count = f"{len(answer.cards)} cards" if len(answer.cards) > 1 else "one card"
    sheet = f" on {answer.pages} {'sheets' if answer.pages > 1 else 'sheet'} of {answer.sheet.upper()}" if answer.sheet else ""
    paper.item(f"{written}: {count}, {answer.size.upper() if len(answer.size) == 2 else answer.size}{sheet}.", bullet="", indent=0, style="bold")
    if answer.sheet:
        paper.item("Print it at 100 %, without fitting it to the page, and cut from cross to cross.", bullet="", indent=0)
    for card in answer.cards:
        for line in _said(card):
            paper.item(f"{card.title[:60]}: {line}" if len(answer.cards) > 1 else line[0].upper() + line[1:], bullet="", indent=0)
    paper.show()


def _said(card: CardReport) -> list[str]:
    lines = []
    if card.left_out or card.shortened:
        counts = [f"{len(t)} {word}" for t, word in ((card.left_out, "left out"), (card.shortened, "said in short")) if t]
        lines.append(f"the lines that matter most are on it; {' and '.join(counts)} for want of room.")
    if card.not_understood:
        lines.append(f"not understood, and left out: {', '.join(card.not_understood)}.")
    return lines
