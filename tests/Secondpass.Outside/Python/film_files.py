"""What the scripts that write film files for the reader's checks share.

Each script writes files into a folder, reads them back with somebody else's decoder, and prints one JSON list:
{"file": name, "grey": name of the expected values (uint16, little endian, row by row) or null, "width", "height",
 "greatest": greatest value of the depth, "decoder": who read it back, "tolerance": greatest difference allowed}.
"""
import json
import os
import sys

import numpy as np

FOLDER = sys.argv[1]
FILES = []


def film(width=131, height=97, greatest=255, seed=1):
    """A film-like picture: smooth shades, a bright line, noise; every bit of the depth is used."""
    rng = np.random.default_rng(seed)
    y, x = np.mgrid[0:height, 0:width].astype(float)
    shade = 0.45 + 0.25 * np.sin(x / 17.0) * np.cos(y / 23.0) + 0.2 * (x / width) - 0.1 * (y / height)
    line = 0.35 * np.exp(-((x - width / 2 - 8 * np.sin(y / 15.0)) ** 2) / 18.0)
    picture = shade + line + rng.normal(0, 0.01, (height, width))
    values = np.round(picture.clip(0, 1) * greatest).astype(np.uint16)
    values[0, 0], values[0, 1] = 0, greatest
    return values


def colours(width=131, height=97, greatest=255):
    """Three different channels."""
    return np.dstack([film(width, height, greatest, seed) for seed in (1, 2, 3)])


def luma(rgb):
    """Recommendation ITU-R BT.709-6: 0.2126 R + 0.7152 G + 0.0722 B of the encoded values, rounded to nearest, halves up."""
    r, g, b = (rgb[..., i].astype(np.int64) for i in range(3))
    return ((2126 * r + 7152 * g + 722 * b + 5000) // 10000).astype(np.uint16)


def path(name):
    return os.path.join(FOLDER, name)


def add(name, expected, greatest, decoder, tolerance=0, **more):
    """Registers a written file with the values that the foreign decoder gives for it."""
    expected = np.asarray(expected)
    expected.astype("<u2").tofile(path(name + ".grey"))
    FILES.append(dict(
        file=name, grey=name + ".grey", width=int(expected.shape[1]), height=int(expected.shape[0]),
        greatest=int(greatest), decoder=decoder, tolerance=int(tolerance), **more))


def add_refused(name, reason, decoder):
    """Registers a written file that is to be refused for the reason, which the test quotes in full."""
    FILES.append(dict(file=name, grey=None, reason=reason, decoder=decoder))


def done():
    json.dump(FILES, sys.stdout)
