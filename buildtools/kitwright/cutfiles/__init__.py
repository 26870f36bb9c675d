"""Cut files for electronic cutters: SVG and DXF at true size.

`parts` a piece with its folds · `mats` cutting mats · `nest` the batch on a mat · `svg`,
`dxf` a pen each · `make` the whole set · `folder` puts it down. What lies where, in words: `telling.contents`.
"""

from __future__ import annotations

from kitwright.cutfiles.make import cut_files, zipped
from kitwright.cutfiles.mats import MATS, Mat, mat_named

__all__ = ["MATS", "Mat", "cut_files", "mat_named", "zipped"]
