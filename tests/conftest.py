"""Shared by all tests: how many examples hypothesis tries, and always the same ones in CI."""

import os

from hypothesis import HealthCheck, settings

COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]}
settings.register_profile("ci", derandomize=True, max_examples=40, database=None, **COMMON)
settings.register_profile("desk", max_examples=40, **COMMON)
settings.load_profile("ci" if os.environ.get("CI") else "desk")
