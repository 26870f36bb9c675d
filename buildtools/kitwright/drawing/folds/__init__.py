"""A fold in three drawings at one scale: the base flat with its score lines, the card closed, the card opened."""
