"""The papers of each demo kit are told apart in grey and by colour-blind readers.

Simulation: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, “A Physiologically-based Model
for Simulation of Color Vision Deficiency”, IEEE Trans. Visualization and Computer Graphics
15 (2009) 1291–1298: their matrices for severity 1.0, on linear RGB. Reference and matrices
from memory; each row adds up to 1, so that grey stays grey, which is checked. Grey: relative
luminance of WCAG 2.2.
"""

import itertools
from fractions import Fraction as F

import demo
import numpy as np
import pytest
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.png import image
from kitwright.drawing.scene import Box, Draft

MACHADO = {
    "protanopia": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deuteranopia": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritanopia": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
}
LUMINANCE = [[0.2126, 0.7152, 0.0722]] * 3
SIGHTS = {**MACHADO, "grey": LUMINANCE}
APART = 12
"""Mean difference of two patches that a reader tells apart, of 255."""


def patch(face) -> np.ndarray:
    """An inch and a half of a paper as the pictures draw it, linear RGB."""
    box, draft = Box(F(0), F(0), F(108), F(108)), Draft()
    draft.shapes.append(lay(DrawnLook(face.look, face.colours, face.up), box.corners, (F(0), F(0)), F(1)))
    pixels = np.asarray(image(draft.scene(F(108), F(108), "", ""), F(1)), dtype=float) / 255
    return np.where(pixels <= 0.04045, pixels / 12.92, ((pixels + 0.055) / 1.055) ** 2.4)


def seen(linear: np.ndarray, matrix) -> np.ndarray:
    """What a reader sees, as sRGB 0 to 255."""
    light = np.clip(linear @ np.array(matrix).T, 0, 1)
    return 255 * np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


@pytest.mark.parametrize("sight", SIGHTS)
def test_grey_stays_grey(sight):
    assert np.allclose(np.sum(SIGHTS[sight], axis=1), 1, atol=2e-6)


@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("name", demo.BY_ID)
def test_papers_that_can_change_places_are_told_apart(name, sight):
    kit = demo.BY_ID[name]
    shown = {
        (p.paper, side)
        for face in demo.worked(name).faces
        for p in face.pieces
        for side in ("front", "back")
        if kit.papers[p.paper].face(side)
    }
    patches = {key: seen(patch(kit.papers[key[0]].face(key[1])), SIGHTS[sight]) for key in sorted(shown)}
    for a, b in itertools.combinations(patches, 2):
        # However the one is shifted against the other: a pattern is no help only where it lies just so.
        least = min(np.abs(patches[a] - np.roll(patches[b], shift, axis=(0, 1))).mean() for shift in ((0, 0), (7, 5), (13, 17)))
        assert least > APART, (a, b, round(float(least), 1))
