"""Fixtures shared by the tests of this folder."""

from release.bench import quick  # noqa: F401
