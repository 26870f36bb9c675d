"""The sets that no other set contains, against looking at every pair."""

import numpy as np
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.batch.frontier import _largest


@tried(60)
@given(st.integers(1, 4).flatmap(lambda n: st.lists(st.tuples(*[st.integers(0, 4)] * n), min_size=1, max_size=60)), st.booleans())
def test_only_what_nothing_contains_is_kept(rows, huge):
    # With limits beyond what one number can tell apart the rows are sorted as they are.
    most = np.array([2**30 if huge else 4] * len(rows[0]), np.int32)
    found = [tuple(map(int, row)) for row in _largest(np.array(rows, np.int32), most, 10**9)[0]]
    alone = {row for row in rows if not any(other != row and all(a <= b for a, b in zip(row, other)) for other in rows)}
    assert len(found) == len(set(found)) and set(found) == alone
    assert [sum(row) for row in found] == sorted(map(sum, found), reverse=True)
