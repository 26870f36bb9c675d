"""kitwright: from a kit folder to a printable and a published archive."""
