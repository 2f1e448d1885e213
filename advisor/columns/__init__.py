"""Many cloths at once: the same rules and curves as for one cloth, run on columns with numpy (extra `lists`).

`batch` holds the cloths as columns, `firing` the plain evaluator of rules, `curves` and `judging` the score. Every answer
is that of the single path (`advisor.advise.judge`); a test holds the two against each other.
"""
