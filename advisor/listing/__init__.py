"""Lists of cloth as people keep them: `cells` reads the file row by row, `headings` guesses what its columns mean,
`descriptions` makes of a row the words in which a maker would describe that cloth.
"""
