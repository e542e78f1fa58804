"""Tests of the full screen."""
