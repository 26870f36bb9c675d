"""Every sentence: records turned into a maker's words."""
