"""Make files: read off the pattern's envelope, asked for in plain words, checked by line, and written whole."""
