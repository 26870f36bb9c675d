"""The whole batch from one paper: the fewest sheets, proved, and cut as hands like to cut.

`paper` the lattice · `natural` layouts as makers cut them · `exact` and `frontier` what a sheet
can yield at most · `prices` bounds · `cover` the integer part · `search` fewest sheets, then
fewest layouts · `builds` order, laying and judging · `verdict` and `exhaust` what is proved and why ·
`table` sheets for batches of every size.
"""

from __future__ import annotations

from kitwright.cutting.batch.plan import plan_batch
from kitwright.cutting.batch.proof import PROOF_LEVELS, Proof, ProofLevel
from kitwright.cutting.batch.table import SheetsFor, sheets_table

__all__ = ["PROOF_LEVELS", "Proof", "ProofLevel", "SheetsFor", "plan_batch", "sheets_table"]
