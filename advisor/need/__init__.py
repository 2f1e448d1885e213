"""Quantities: how much cloth to buy, and the figures of bias, fullness, closures and notions.

`units`, `cloth`, `bias`, `fullness`, `closures` and `notions` compute and know nothing of words or files. `tables` reads
the published tables, `ground` is what is known of the cloth, `reports` what every view shows. Between them, `buying`,
`strips`, `rings`, `frills`, `fastenings` and `haberdashery` answer one kind of question each; `answers` lists them.
"""
