"""Shared by all tests: how many examples hypothesis tries, and always the same ones in CI."""

import os

import kitwright.telling  # noqa: F401 - opens the catalogue, so that errors have words
import pytest
from hypothesis import HealthCheck, settings

COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]}
settings.register_profile("ci", derandomize=True, max_examples=40, database=None, **COMMON)
settings.register_profile("desk", max_examples=40, **COMMON)
settings.load_profile("ci" if os.environ.get("CI") else "desk")


@pytest.fixture(autouse=True, scope="session")
def unsynced():
    """No test outlives a power failure, so nothing waits for the disk."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda opened: None)
        if hasattr(os, "sync"):
            patch.setattr(os, "sync", lambda: None)
        yield
