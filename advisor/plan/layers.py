"""How well a piece serves as a layer for which the make names a cloth in words, such as its lining."""

from __future__ import annotations

from advisor.judge import verdict_of
from advisor.knowledge import Knowledge
from advisor.log.likeness import STRUCTURE, felt, likeness_of
from advisor.profile import Profile


def layer_fit(wanted: Profile, piece: Profile, knowledge: Knowledge) -> tuple[float, str]:
    """(score 0 to 100, verdict): how far the piece lies within what is known of the cloth that was named.

    For each property of likeness.yaml, how far the piece lies outside the range of the named cloth is counted in
    differences that would just be felt, at best (the gap between the ranges) and at worst (its end that sticks out
    most), none being a full match and `most` of them no match; the middle of the two counts. The weighted mean is drawn
    towards the worst as everywhere (`weakest_share`), and a structure that the named cloth surely has and the piece
    cannot have takes its share away.
    """
    terms, per_unit = likeness_of(knowledge), felt(knowledge)
    total = weights = 0.0
    worst = 1.0
    for name, weight in terms.weights.items():
        if name not in wanted.known or name not in piece.known:
            continue
        one, other = wanted.known[name].range, piece.known[name].range
        gap = max(0.0, one.low - other.high, other.low - one.high)
        out = max(0.0, one.low - other.low, other.high - one.high)
        met = 1 - sum(min(d / per_unit[name], terms.most) for d in (gap, out)) / 2 / terms.most
        total, weights, worst = total + weight * met, weights + weight, min(worst, met)
    if not weights:
        return 0.0, "avoid"
    share = knowledge.settings.weakest_share
    score = 100 * ((1 - share) * total / weights + share * worst)
    sure = [m for m, (known, _) in wanted.marks.items() if known and m.startswith(STRUCTURE)]
    if sure:
        score *= sum(piece.marks.get(m, (False, False))[1] for m in sure) / len(sure)
    return score, verdict_of(score, knowledge.settings)
