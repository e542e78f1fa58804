"""Snugset: a step-by-step assembly guide for the top end of pushrod engines."""

__version__ = "0.1.0"
