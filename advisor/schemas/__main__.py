"""`python -m advisor.schemas` writes the schema files: of the reports, and of the knowledge as it is written."""

from advisor.knowledge import load, shipped_folder
from advisor.schemas import write, written

write()
written.write(load([], cache=False), shipped_folder() / "schemas")
