"""`python -m kitwright`."""

from kitwright.cli import main

main()
