"""The log of makes done: what was sewn of which cloth, what was seen, and how it is remembered at the next make.

`done` says what an entry is, `grammar` reads a line of it, `keeping` writes it into the stash's file, `likeness` says
how near two cloths are, `lessons` brings back what bears on the case in hand.
"""
