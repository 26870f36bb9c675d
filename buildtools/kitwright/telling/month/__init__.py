"""The texts of the month, from a kit's values: what stands in them, in which form, and all of them as files.

The wording stands in `theme/briefs/`, hers to change; here is what the templates are given.
"""
