"""Tabs in a file that is written: YAML takes some of them, and no two editors show them alike."""

from snugset.files.problems import Mark, Problems


def check_tabs(text: str, file: str, into: Problems) -> None:
    """Add the first tab of each line that is no comment, where nothing else was told."""
    if "\t" not in text:
        return
    told = {problem.mark.line for problem in into.items if problem.mark.file == file}
    for number, line in enumerate(text.split("\n"), 1):
        column = line.find("\t")
        if (
            column >= 0
            and number not in told
            and "#" not in line[:column].split()
            and line.strip()[:1] != "#"
        ):
            into.add(Mark(file, number, column + 1), "a tab stands here; write spaces")
