"""How an answer and a refusal of a command look."""

from __future__ import annotations

import json


def answered(told):
    """The JSON of an answer that came without a word of fault."""
    code, out, fault = told
    assert (code, fault) == (0, "")
    return json.loads(out)


def refused(told, *words):
    """One line of fault that says these words, nothing else."""
    code, out, fault = told
    assert (code, out) == (2, "")
    assert fault.count("\n") == 1
    assert all(w in fault for w in words), fault
