"""A whole list of cloth judged for one question: `sieve` judges, `output` writes and takes up again, `run` is the story."""
