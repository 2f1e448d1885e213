"""What stands on the hand-out of a class: what to buy, what to prepare, what to watch, from a make and the cloths brought to it.

What holds for every cloth is said plainly; what holds for some names them. Nothing is reckoned here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from advisor import report
from advisor.card.content import CAUTION, DANGER, FOOT, GOOD, NEVER_MISSED, PLEASANT, SETTING, WARNINGS, Told, told
from advisor.card.reports import CardLine, CardSection, ClothRow, HandoutReport
from advisor.card.wording import first_sentence, of_finding, plain, said_in, sentence, span
from advisor.cli.measures import in_words
from advisor.cli.words import VERDICTS, label, score_text
from advisor.decide.shop import in_words as trade_words
from advisor.decide.shop import shop_for
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.makes import Make

MOST_CLOTHS, USUAL_CLOTHS = 8, 4
WANTED, TESTS = 6, 3


def handout_for(
    make: Make, cloths: Sequence[str] = (), *, units: str = "metric", knowledge: Knowledge
) -> HandoutReport:
    """The hand-out for a make and the cloths of the class, else those that fit it best; raises `Unclear`."""
    if len(cloths) > MOST_CLOTHS:
        raise Unclear(f"{len(cloths)} cloths on one hand-out", f"at most {MOST_CLOTHS}")
    shop = shop_for(make, knowledge)
    names = list(dict.fromkeys(cloths)) or [row.cloth for row in shop.cloths if row.verdict == "suits"][:USUAL_CLOTHS]
    names = names or [row.cloth for row in shop.cloths][:USUAL_CLOTHS]
    answers = {name: told(name, [], make, knowledge) for name in names}
    shown = [s for s in sections(make, shop, answers) if s.lines]
    said_in(units, [], shown)
    rows = [row_of(name, answer) for name, answer in answers.items()]
    for row in rows:
        row.iron, row.wash, row.watch = (in_words(text, units) for text in (row.iron, row.wash, row.watch))
    return HandoutReport(make.make, about(make), rows, shown, FOOT)


def about(make: Make) -> list[str]:
    """For whom and how long, as the make says."""
    found = [make.level] if make.level else []
    found += [f"about {make.hours:g} hours"] if make.hours else []
    found += [f"for {', '.join(t for t in (make.wearer, make.season, make.use) if t)}"] if make.wearer or make.season or make.use else []
    return [*found, f"care: {make.care}"] if make.care else found


def row_of(name: str, answer: Told) -> ClothRow:
    """One cloth's settings."""
    iron, wash, sew, check = answer.press.iron, answer.prewash, answer.sew, answer.check
    first = next((f for kind in WARNINGS if kind != "safety" for f in check.findings if f.kind == kind), None)
    needle = f"{span(sew.needle.nm)} {sew.needle.type}" if sew.needle else ""
    washed = f"{label(wash.method)}, {wash.max_c} °C" if wash.max_c else label(wash.method)
    return ClothRow(
        name, check.verdict, VERDICTS[check.verdict].lower(), score_text(check.score),
        f"{iron.max_c} °C" if iron.level else "none", iron.level, washed, needle,
        first_sentence(first.say) if first else "—",
    )  # fmt: skip


def sections(make: Make, shop: report.ShopReport, answers: dict[str, Told]) -> list[CardSection]:
    """The headings of the hand-out."""
    return [
        CardSection("Buy", buy(make, shop)),
        CardSection("Prepare", prepare(answers)),
        CardSection("Watch", watch(answers)),
        CardSection("In this order", [plain(text, GOOD) for text in _common({n: a.sew.order for n, a in answers.items()}, SETTING)[0]]),
        CardSection("How", how(answers)),
    ]


def buy(make: Make, shop: report.ShopReport) -> list[CardLine]:
    """Lengths, notions, and what to look for in the cloth."""
    lines = [plain(text, NEVER_MISSED) for text in shop.metres]
    lines += [plain(f"notions: {', '.join(shop.notions)}", NEVER_MISSED)] if shop.notions else []
    lines += [plain(text, SETTING) for text in shop.envelope]
    for row in shop.wanted[:WANTED]:
        full = f"{row.name}: {trade_words(row.words)}; {row.why[0]}"
        lines.append(CardLine(sentence(full), sentence(f"{row.name}: {trade_words(row.words)}"), SETTING))
    if shop.leave:
        lines.append(plain(f"fibres to leave: {', '.join(label(f.fibre) for f in shop.leave)}", CAUTION))
    for test in shop.feel[:TESTS]:
        wants = f"You want it {test.wants.partition(' (')[0]}."
        lines.append(CardLine(f"Try in the shop: {test.how} {wants}", f"Try in the shop: {first_sentence(test.how)}", PLEASANT))
    return lines


def prepare(answers: dict[str, Told]) -> list[CardLine]:
    """Tools, sample and what is done to the cloth before the class."""
    lines: list[CardLine] = []
    for weight, texts_of in (
        (NEVER_MISSED, lambda a: [f"pre-wash: {a.prewash.how}"] if a.prewash.needed else []),
        (SETTING, lambda a: a.prewash.before),
        (CAUTION, lambda a: [f"{c.say} {c.do}" for c in a.prewash.conflicts]),
        (SETTING, lambda a: [f"a toile first: {a.sew.toile.why}"] if a.sew.toile.needed else []),
        (CAUTION, lambda a: a.sew.sample),
        (CAUTION, lambda a: [f"bring: {tool}" for tool in a.sew.tools]),
    ):  # type: tuple[int, Callable[[Told], list[str]]]
        common, some = _common({name: texts_of(answer) for name, answer in answers.items()}, weight)
        lines += [plain(text, weight) for text in common]
        lines += [plain(f"{text.rstrip('.')} ({', '.join(names)})", weight + 1) for text, names in some]
    return lines


def _common(texts: dict[str, list[str]], weight: int) -> tuple[list[str], list[tuple[str, list[str]]]]:
    """Texts that all the cloths share, and the others with the cloths they hold for, in order."""
    held: dict[str, list[str]] = {}
    for name, said in texts.items():
        for text in said:
            held.setdefault(text, []).append(name)
    everywhere = [text for text, names in held.items() if len(names) == len(texts)]
    return everywhere, [(text, names) for text, names in held.items() if len(names) < len(texts)]


def watch(answers: dict[str, Told]) -> list[CardLine]:
    """Stops, dangers and cautions: those of all the cloths first."""
    return _of_kinds(answers, lambda f: f.kind in WARNINGS, lambda f: WARNINGS[f.kind][f.certainty != "sure"])


def how(answers: dict[str, Told]) -> list[CardLine]:
    """How the features of the make are sewn."""
    return _of_kinds(answers, lambda f: f.kind == "handling" and bool(f.features), lambda f: GOOD)


def _of_kinds(
    answers: dict[str, Told],
    wanted: Callable[[report.FindingReport], bool],
    weight: Callable[[report.FindingReport], int],
) -> list[CardLine]:
    found: dict[str, report.FindingReport] = {}
    names: dict[str, list[str]] = {}
    for name, answer in answers.items():
        every = [*answer.check.findings, *answer.press.findings, *answer.prewash.findings, *answer.sew.findings]
        for finding in _once(f for f in every if wanted(f)):
            known = found.setdefault(finding.id, finding)
            if finding.certainty == "sure":
                known.certainty = "sure"
            names.setdefault(finding.id, []).append(name)
    kinds = [*WARNINGS, "handling"]
    lines = []
    for finding in sorted(found.values(), key=lambda f: (kinds.index(f.kind), -len(names[f.id]), f.effect)):
        line = of_finding(finding, weight(finding))
        if len(names[finding.id]) < len(answers):
            of = f" ({', '.join(names[finding.id])})"
            line.text, line.short, line.weight = line.text.rstrip(".") + of + ".", line.short.rstrip(".") + of + ".", max(line.weight, DANGER)
        lines.append(line)
    return lines


def _once(findings: Iterable[report.FindingReport]) -> list[report.FindingReport]:
    return list({f.id: f for f in findings}.values())
