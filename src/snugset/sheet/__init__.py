"""The build sheet: what is left of the work."""

from snugset.sheet.as_csv import as_csv
from snugset.sheet.as_json import as_json
from snugset.sheet.contents import Sheet, sheet_of
from snugset.sheet.markdown import markdown

__all__ = ["Sheet", "as_csv", "as_json", "markdown", "sheet_of"]
