"""The machinery behind `batch.exact`: one sheet on a whole-number lattice.

`pieces` what goes in and comes out · `points` where a cut can pay · `table` the best of
every smaller sheet · `limited` exact search when kinds run out, with `rough` for quick good
builds and `forest` for the thorough part · `whole` programmes in whole numbers, over
`linear`, which asks HiGHS · `work` what ends every search.
"""
