"""Tests of the files room."""
