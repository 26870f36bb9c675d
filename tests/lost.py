"""What a helping process does that is lost. It loads nothing, so that it begins quickly."""

import os


def lose_it_once(given: tuple[str, int]) -> int:
    """In a helping process: end at once, the first time."""
    mark, n = given
    if n == 2:
        try:
            os.close(os.open(mark, os.O_CREAT | os.O_EXCL))
        except FileExistsError:
            return n
        os._exit(9)
    return n
