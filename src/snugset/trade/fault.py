"""A figure that cannot be computed from what was given."""


class FigureError(ValueError):
    """One plain sentence that names the key, what is wrong and the likely fix."""

    def __init__(self, key: str, problem: str) -> None:
        super().__init__(f"{key}: {problem}")
        self.key = key
        """The key at fault, as it is typed before the equals sign."""
        self.problem = problem
        """The sentence without the key, for a field that shows its own name."""
