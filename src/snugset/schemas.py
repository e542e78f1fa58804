"""JSON Schemas of the file kinds and of the build sheet, from what reads and makes them.

``python -m snugset.schemas docs/schemas`` writes them.
"""

import json
import sys
from collections.abc import Mapping
from pathlib import Path

from snugset.files.answers import ANSWERS
from snugset.files.engine_shape import DRAFT
from snugset.files.procedure import procedure_schema
from snugset.files.shapes import Schema
from snugset.files.shared import shared_schema
from snugset.files.specs import SPECS
from snugset.guide.kinds import BLOCKS
from snugset.sheet.schema import sheet_schema

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> Mapping[str, Schema]:
    """Give the schema of each sort of file, and of the sheet that is written."""
    found = {
        "engine": DRAFT.schema(),
        "procedure": procedure_schema(BLOCKS),
        "steps": shared_schema(BLOCKS),
        "specs": SPECS.schema(),
        "answers": ANSWERS.schema(),
        "build-sheet": sheet_schema(),
    }
    return {
        sort: {"$schema": _DIALECT, "title": f"snugset: {sort}/1", **schema}
        for sort, schema in found.items()
    }


def written() -> Mapping[str, str]:
    """Give the schemas as files: names and texts."""
    return {
        f"{sort}.json": json.dumps(schema, ensure_ascii=False, indent=1) + "\n"
        for sort, schema in schemas().items()
    }


def main(folder: Path) -> None:
    """Write the schemas into a folder that is there."""
    for name, text in written().items():
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
