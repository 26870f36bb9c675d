"""The planner behind `auto`: the one place that says which it is."""

from __future__ import annotations

from kitwright.cutting.strips import plan_paper

__all__ = ["plan_paper"]
