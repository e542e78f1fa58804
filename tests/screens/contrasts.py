"""Contrast as in the Web Content Accessibility Guidelines 2.1, §1.4.3.

Relative luminance and contrast ratio are reckoned as defined there; the limit for text is the same.
"""

from rich.color import Color


def luminance(color: Color) -> float:
    """Give the relative luminance of a colour, 0 to 1."""
    parts = [part / 255 for part in color.get_truecolor()]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Color, two: Color) -> float:
    """Give the contrast of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(two)))
    return (high + 0.05) / (low + 0.05)
