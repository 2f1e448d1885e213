"""`python -m advisor.schemas` writes the schema files."""

from advisor.schemas import write

write()
