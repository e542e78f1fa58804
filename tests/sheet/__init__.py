"""Tests of the build sheet."""
