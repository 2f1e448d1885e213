"""A case under other circumstances: a figure known better, or something done to the cloth."""

from __future__ import annotations

from collections.abc import Mapping
from weakref import WeakKeyDictionary

from advisor.infer import Inference
from advisor.knowledge import Knowledge
from advisor.model import Effect
from advisor.profile import Known, Profile, changed, copy_of
from advisor.ranges import Range

_plain: WeakKeyDictionary[Knowledge, Inference] = WeakKeyDictionary()


def plain_inference(knowledge: Knowledge) -> Inference:
    """The plain evaluator, for the many small trials here: it answers as the engine does and has nothing to build."""
    found = _plain.get(knowledge)
    if found is None:
        found = _plain[knowledge] = Inference(knowledge, use_engine=False)
    return found


def with_known(profile: Profile, figures: Mapping[str, Range], knowledge: Knowledge) -> Profile:
    """The profile with these properties measured so, and the traits that follow."""
    made = copy_of(profile)
    for prop, value in figures.items():
        made.known[prop] = Known(value.clamp(knowledge.properties[prop].domain), "measured", "as tested", "")
    plain_inference(knowledge).derive(made)
    return made


def with_effect(profile: Profile, effect: Effect, because: str, knowledge: Knowledge) -> Profile:
    """The profile after something was done to the cloth, and the traits that follow."""
    made = changed(profile, effect, because, knowledge)
    plain_inference(knowledge).derive(made)
    return made
