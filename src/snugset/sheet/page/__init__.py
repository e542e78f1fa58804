"""The build sheet as one HTML file; loads the template engine, so it is imported when asked for."""

from snugset.sheet.page.render import html

__all__ = ["html"]
