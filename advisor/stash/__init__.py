"""The stash: the cloth that a maker owns, kept in one SQLite file.

`pieces` says what a piece is and how it changes, `measures` reads and writes figures in metric and imperial,
`store` keeps pieces, `backup` copies the file and brings it back, `importing` and `exporting` read and write lists.
"""
