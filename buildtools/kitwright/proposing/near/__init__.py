"""Near a kit: the same cards and cuts with a few sizes moved, so that every sum of every face goes on holding."""
