"""The printed card to pin to a cloth, and the one-page hand-out of a class, set by typst from the reports."""
