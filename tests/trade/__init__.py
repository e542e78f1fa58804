"""Tests of the trade room."""
