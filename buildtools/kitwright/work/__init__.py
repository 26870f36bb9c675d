"""A kit worked out, as values only: each computed when it is first asked for, and once."""
