"""The procedures, engines and the demo that come with the program."""

from pathlib import Path

_PACKAGED = Path(__file__).parent / "shipped"
_CHECKOUT = Path(__file__).parents[2]


def root() -> Path:
    """Give the folder that holds ``procedures`` and ``demo``: installed, or the checkout's top."""
    return _PACKAGED if _PACKAGED.is_dir() else _CHECKOUT


def procedures() -> dict[str, Path]:
    """Give the procedure files by their bare names."""
    return _by_name(root() / "procedures")


def engines() -> dict[str, Path]:
    """Give the engine files by their bare names."""
    return _by_name(root() / "procedures" / "engines")


def demo() -> Path:
    """Give the answers file of the demo build."""
    return root() / "demo" / "answers.yaml"


def find(text: str, known: dict[str, Path]) -> Path | None:
    """Give the file that is meant by a path, or by the bare name of one of `known`; else None."""
    path = Path(text)
    return path if path.exists() and not path.is_dir() else known.get(text)


def _by_name(folder: Path) -> dict[str, Path]:
    return {file.stem: file for file in sorted(folder.glob("*.yaml"))}
