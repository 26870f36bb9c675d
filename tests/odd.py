"""The makers of odd pictures, odd prose and invented papers, which live beside the scripts that use them for longer than tests can."""

import odd_pictures as pictures
import odd_prose as prose
import scan as papers

__all__ = ["papers", "pictures", "prose"]
