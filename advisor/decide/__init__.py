"""What a judged case leads to: the next test worth making, what can be done about it, what would change the answer."""
