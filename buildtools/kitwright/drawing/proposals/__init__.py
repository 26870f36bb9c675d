"""Proposed layouts to look at: the card in small, dressed in her papers, and beside it the sheets with their cuts."""
