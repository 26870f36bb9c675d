"""The whole batch from one paper: the fewest sheets, proved, and cut as hands like to cut.

`paper` the lattice · `natural` layouts as makers cut them · `exact` and `frontier` what a sheet
can yield at most · `prices` bounds · `cover` the integer part · `search` fewest sheets, then
fewest layouts · `builds` order, laying and judging · `verdict` and `exhaust` what is proved and why ·
`table` sheets for batches of every size.

Its face are `plan.plan_batch`, `table.sheets_table` and `proof.Proof`. The solvers take a while to
load, so nothing is loaded from here: a plan that was made before is read without them.
"""
