"""The plan: pieces of the stash allotted to several makes at once, and the days on which the work falls."""
