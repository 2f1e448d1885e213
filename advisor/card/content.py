"""What stands on a card: lines chosen from the check, press, pre-wash and sewing reports and from the piece's own record.

Nothing is reckoned here; every figure is one of a report's. A line's weight says how long it is kept when the paper is
small: 0 what may never be missed, 5 what is pleasant to know.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from advisor import advise, report
from advisor.card.reports import CardFigure, CardLine, CardReport, CardSection
from advisor.card.wording import SIDES, STEAM, first_sentence, of_finding, plain, said_in, sentence, span
from advisor.cli.measures import in_words
from advisor.cli.words import VERDICTS, label, score_text
from advisor.knowledge import Knowledge
from advisor.makes import Make
from advisor.stash.measures import show_length, show_width
from advisor.stash.pieces import Piece, words_for
from advisor.words_form import words_of

FOOT = "Local safety codes, your cloth's label and your iron's maker come first."
NEVER_MISSED, DANGER, SETTING, CAUTION, GOOD, PLEASANT = range(6)
"""Weights of lines, from the one kept longest."""
BLANK = "___"
"""Room to write a figure in."""
WARNINGS = {"stop": (NEVER_MISSED, DANGER), "safety": (DANGER, CAUTION), "caution": (SETTING, GOOD)}
"""Kinds of findings that are watched, the gravest first, and the weights of those that are sure and that may apply."""


@dataclass(frozen=True)
class Told:
    """The reports that one card is made from."""

    check: report.CheckReport
    press: report.PressReport
    prewash: report.PrewashReport
    sew: report.SewReport
    asked: bool


def told(words: str, features: Sequence[str], make: Make | None, knowledge: Knowledge) -> Told:
    """Asks everything that a card tells of a cloth in words."""
    case = advise.case_for(words, features, make, knowledge, make.care if make else "")
    return Told(
        advise.check_report(advise.judge(case, knowledge), knowledge),
        advise.press(words, features, make=make, knowledge=knowledge),
        advise.prewash(words, features=features, make=make, knowledge=knowledge),
        advise.sew(words, features, make=make, knowledge=knowledge),
        bool(case.asks or case.context),
    )


def card_for(
    cloth: str | Piece,
    features: Sequence[str] = (),
    *,
    make: Make | None = None,
    units: str = "metric",
    knowledge: Knowledge,
) -> CardReport:
    """The card of a cloth in words or of a piece that is owned; raises `Unclear` for what is not understood."""
    piece = cloth if isinstance(cloth, Piece) else None
    words = words_for(piece) if piece else str(cloth)
    answers = told(words, features, make, knowledge)
    check = answers.check
    plainly = advise.cloth_report(advise.profile_of(piece.description, knowledge), knowledge) if piece else check.cloth
    read = plainly.read_as or plainly.given
    shown = [s for s in sections(answers, piece) if s.lines]
    at_a_glance = figures(answers, units)
    said_in(units, at_a_glance, shown)
    return CardReport(
        title=piece.name if piece else read[0].upper() + read[1:],
        reads=in_words(read, units) if piece else "" if _same(words, read) else f"“{words}”",
        facts=facts(piece, units) if piece else [],
        kept_for=[f"{r.make}, {show_length(r.metres, units)}" for r in piece.reserved] if piece else [],
        verdict=check.verdict if answers.asked else None,
        verdict_word=VERDICTS[check.verdict] if answers.asked else "",
        verdict_text=_verdict(check, features, make) if answers.asked else "",
        figures=at_a_glance,
        sections=[*shown, *own_words(piece)] if piece else shown,
        foot=FOOT,
        not_understood=check.cloth.not_understood,
    )


def _same(words: str, read: str) -> bool:
    return words.casefold().split() == read.casefold().split()


def facts(piece: Piece, units: str) -> list[str]:
    """What is known of a piece besides its words: what is left, how wide, where it is kept."""
    found: list[str] = []
    if piece.lengths_m:
        several = f" in {len(piece.lengths_m)} lengths" if len(piece.lengths_m) > 1 else ""
        found.append(f"{show_length(piece.left_m, units)} left{several}")
    if piece.width_cm:
        found.append(f"{show_width(piece.width_cm, units)} wide")
    if piece.bought:
        found.append(f"bought {piece.bought}")
    if piece.kept:
        found.append(f"kept in {piece.kept}")
    return found


def own_words(piece: Piece) -> list[CardSection]:
    """The maker's notes, as they were written."""
    return [CardSection("Notes", [CardLine(text, text, GOOD) for text in piece.notes])] if piece.notes else []


def _verdict(check: report.CheckReport, features: Sequence[str], make: Make | None) -> str:
    wanted = ", ".join([*([make.make] if make else []), *features])
    limit = f", weakest {label(check.limited_by)}" if check.limited_by and len(check.features) > 1 else ""
    return score_text(check.score) + limit + (f"; for {wanted}" if wanted else "")


def figures(answers: Told, units: str) -> list[CardFigure]:
    """The four figures that are looked for most: iron, wash, needle, stitch."""
    iron, wash, sew = answers.press.iron, answers.prewash, answers.sew
    found = [
        CardFigure("iron", f"{iron.max_c} °C" if iron.level else "none", iron.dots if iron.level else "no iron", iron.level),
        CardFigure("wash", f"{wash.max_c} °C" if wash.max_c else "none", "at most" if wash.max_c else label(wash.method)),
    ]
    if sew.needle:
        found.append(CardFigure("needle", span(sew.needle.nm), f"US {span(sew.needle.us)}, {sew.needle.type}"))
    if sew.stitch:
        whole = report.Span(round(sew.stitch.per_inch.low), round(sew.stitch.per_inch.high))
        in_mm, per_inch = f"{span(sew.stitch.length_mm)} mm", f"{span(whole)} to the inch"
        first, second = (f"{span(whole)} / in", f"stitch {in_mm}") if units == "imperial" else (in_mm, per_inch)
        found.append(CardFigure("stitch", first, f"{second}, {sew.stitch.type}"))
    return found


def sections(answers: Told, piece: Piece | None) -> list[CardSection]:
    """The card's headings: what to watch, then the order of the work."""
    every = (answers.check, answers.press, answers.prewash, answers.sew)
    warnings = list(unlike(f for answer in every for f in answer.findings if f.kind in WARNINGS))
    return [
        CardSection("Watch", watch(warnings)),
        CardSection("Before cutting", prepare(answers.prewash, piece)),
        CardSection("Press", press(answers.press)),
        CardSection("Sew", sew(answers.sew, {f.id for f in warnings})),
        CardSection("Tests", tests(answers.check.cloth, piece)),
    ]


def unlike(findings: Iterable[report.FindingReport]) -> Iterator[report.FindingReport]:
    """Findings once each, by rule."""
    seen: set[str] = set()
    for finding in findings:
        if finding.id not in seen:
            seen.add(finding.id)
            yield finding


def watch(warnings: Iterable[report.FindingReport]) -> list[CardLine]:
    """Stops, dangers and cautions, the gravest first."""
    ordered = sorted(warnings, key=lambda f: [*WARNINGS].index(f.kind))
    return [of_finding(f, WARNINGS[f.kind][f.certainty != "sure"]) for f in ordered]


def prepare(wash: report.PrewashReport, piece: Piece | None) -> list[CardLine]:
    """How the cloth is prepared; of a piece that was washed, what the wash took."""
    if piece and piece.prewashed:
        ways = (("along", piece.shrank_along_pct), ("across", piece.shrank_across_pct))
        took = " and ".join(f"{value:g} % {way}" for way, value in ways if value is not None)
        return [plain("pre-washed" + (f": it shrank {took}" if took else ""), NEVER_MISSED), *_clashes(wash)]
    most = f", at most {wash.max_c} °C" if wash.max_c else ""
    often = f", {wash.times} times" if wash.times > 1 else ""
    needless = "" if wash.needed else "nothing needed before cutting; the garment: "
    short = sentence(f"{needless}{label(wash.method)}{most}{often}")
    lines = [CardLine(f"{short} {sentence(wash.how)} Dry: {sentence(wash.dry)}", short, NEVER_MISSED)]
    lost = wash.shrinkage
    if lost.along.high > 0 or lost.across.high > 0:
        buy = f"; buy {wash.buy_factor.low:.2f}–{wash.buy_factor.high:.2f} times the length" if wash.buy_factor.high > 1 else ""
        lines.append(plain(f"expect to lose {_loss(lost.along)} along, {_loss(lost.across)} across{buy}", SETTING))
    return [*lines, *_clashes(wash), *(plain(t, GOOD) for t in wash.before), *(plain(t, GOOD) for t in wash.after)]


def _loss(value: report.Span) -> str:
    """A shrinkage; where the cloth may as well grow, its upper end."""
    return f"{span(value)} %" if value.low >= 0 else f"at most {max(0.0, value.high):g} %"


def _clashes(wash: report.PrewashReport) -> list[CardLine]:
    """Layers of the make that do not go together."""
    return [CardLine(f"{sentence(c.say)} {c.do}", sentence(c.say), SETTING) for c in wash.conflicts]


def press(answer: report.PressReport) -> list[CardLine]:
    """The iron's setting in full, what never to do, and how."""
    iron = answer.iron
    if iron.level == 0:
        first = CardLine(f"No iron, for {iron.decided_by}.", "No iron.", NEVER_MISSED)
    else:
        through = "press cloth" if answer.press_cloth else "no press cloth needed"
        how = sentence(f"{STEAM[answer.steam]}, {through}, {SIDES[answer.side]}")
        dial = sentence(f"{iron.dial}, {iron.dots}, at most {iron.max_c} °C (for {iron.decided_by})")
        first = CardLine(f"{dial} {how}", how, NEVER_MISSED)
    tools = [plain(f"to hand: {', '.join(t[0].lower() + t[1:] for t in answer.tools)}", PLEASANT)] if answer.tools else []
    return [
        first,
        *(plain(f"never {text[0].lower()}{text[1:]}", SETTING) for text in _unlike_words(answer.never)),
        *(plain(text, GOOD) for text in answer.how),
        *tools,
    ]


def _unlike_words(texts: Sequence[str]) -> list[str]:
    """Texts, but none whose words all stand in another."""
    held = [set(words_of(text)) for text in texts]
    return [t for i, t in enumerate(texts) if not any(held[i] < other for other in held)]


def sew(answer: report.SewReport, said: set[str]) -> list[CardLine]:
    """Thread, seams and hems with their widths, then what holds and what helps; rules that were `said` are not repeated."""
    lines: list[CardLine] = []
    if answer.toile.needed:
        lines.append(CardLine(sentence(f"a toile first: {answer.toile.why}"), "A toile first.", CAUTION))
    if answer.thread:
        thread = answer.thread
        ticket = span(report.Span(thread.ticket.high, thread.ticket.low))
        lines.append(plain(f"thread: {thread.fibre}, Tex {span(thread.tex)}, ticket {ticket}", SETTING))
    lines += [_seam(seam) for seam in answer.seams]
    for edge in answer.hems:
        place = f"edge ({edge.place.lower()})" if edge.feature else edge.place
        depth = f", {span(edge.depth_mm)} mm" if edge.depth_mm else ""
        hang = f"; hang it {span(edge.hang_days)} days first, then level it" if edge.hang_days else ""
        lines.append(plain(f"{place}: {edge.hem}{depth}{hang}", SETTING))
    if answer.interfacing:
        facing = answer.interfacing
        short = sentence(f"back with {facing.what} ({facing.kind})")
        lines.append(CardLine(f"{short[:-1]}, for {', '.join(facing.where)}.", short, CAUTION))
    for name in ("foot", "plate", "tension", "pressure", "hold"):
        if getattr(answer, name):
            lines.append(plain(f"{'pins or clips' if name == 'hold' else name}: {getattr(answer, name)}", CAUTION))
    for advice in (a for a in answer.advice if a.rule not in said):
        sure = advice.certainty == "sure"
        full = f"{sentence(advice.say)}{'' if sure else ' (may apply)'} {advice.do}".strip()
        lines.append(CardLine(full, first_sentence(advice.do or advice.say), GOOD if sure else PLEASANT))
    return lines


def _seam(seam: report.SeamReport) -> CardLine:
    """A seam with its widths."""
    short = f"{seam.place}: {seam.seam}, allowance {seam.allowance_mm:g} mm"
    steps = [f"edges: {seam.finish}"] if seam.finish else []
    if seam.first_mm is None:
        steps += seam.passes
    elif seam.turn_mm is not None:
        steps.append(f"first row {seam.first_mm:g} mm, wrong sides together")
    steps += [f"trim to {seam.trim_mm:g} mm"] if seam.trim_mm is not None else []
    steps += [f"second row {seam.second_mm:g} mm"] if seam.second_mm is not None else []
    return CardLine(sentence("; ".join([short, *steps])), sentence(short), SETTING)


def tests(cloth: report.ClothReport, piece: Piece | None) -> list[CardLine]:
    """What was measured, and room to write down what was not."""
    measured = [
        f"{label(name)} {p.low:g}" + ("" if p.unit == "grade" else f" {p.unit}")
        for name, p in cloth.properties.items()
        if p.evidence == "measured"
    ]
    lines = [plain(f"measured: {', '.join(measured)}", SETTING)] if measured else []
    known = cloth.properties.get("weight")
    blanks = [] if known and known.evidence in ("stated", "measured") else [f"weight {BLANK} g/m²"]
    along = [] if piece and piece.shrank_along_pct is not None else [f"{BLANK} % along"]
    across = [] if piece and piece.shrank_across_pct is not None else [f"{BLANK} % across"]
    blanks += [f"shrank {', '.join(along + across)}"] if along or across else []
    text = sentence(", ".join(blanks))
    return [*lines, CardLine(text, text, CAUTION, "blank")] if blanks else lines
