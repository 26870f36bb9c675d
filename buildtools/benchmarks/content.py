"""Writes the whole content tree of a site, of which a build hands MkDocs what differs, and builds nothing: `content.py ROOT DIR`."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import sys
import tempfile
from pathlib import Path

from kitwright.archive import build


class Written(Exception):
    """The tree is there."""


def main() -> int:
    root, folder = Path(sys.argv[1]), Path(sys.argv[2])

    def instead(tree, *_) -> None:
        shutil.copytree(tree.complete(), folder)
        raise Written

    build.make_pages = instead
    with tempfile.TemporaryDirectory(dir=root.parent) as passing:
        try:
            build.build_archive(root, Path(passing) / "site", as_of=dt.datetime.now(dt.UTC))
        except Written:
            return 0
    return 1


if __name__ == "__main__":
    status = main()
    sys.stdout.flush()
    # Helpers of the build end with it.
    os._exit(status)
