"""Quantities: how much cloth to buy, and the figures of bias, fullness, closures and notions.

`units`, `cloth`, `bias`, `fullness`, `closures` and `notions` compute and know nothing of words or files; `tables`
reads the published tables; `ground` is what is known of the cloth; `answers` and `buying` put a question's figures
together into one of the `reports`.
"""
