"""What a general-purpose image library gives for the measures of a canal: the reference that `measure` is measured against.

    general_measure.py DIR      every sub-folder with a film.png and a case.json; writes general.json there

The path is that of general_pipeline.py, by scikit-image's route_through_array. Widths are taken at half of the contrast across it,
the filling's end where the contrast along it falls to half, Schneider's angle from the coronal third's line to the place where the
path leaves it by 3 pixels. "trace_seconds" is the time of the path, "seconds" that of everything, after the film is read.
"""
import sys

sys.dont_write_bytecode = True

import json
import pathlib
import time

import numpy as np
from general_pipeline import background, branches_of, levels_of, read_film, straighten, trace


def schneider(path, levels):
    """Angle in degrees."""
    first = path[levels <= levels[-1] / 3]
    middle = first.mean(axis=0)
    axis = np.linalg.svd(first - middle)[2][0]
    axis *= np.sign(axis @ (path[-1] - path[0]))
    aside = np.abs((path - middle) @ np.array([-axis[1], axis[0]]))
    near = np.nonzero(aside < 3)[0]
    leaves = path[near[-1]] if len(near) else path[0]
    chord = path[-1] - leaves
    if np.hypot(*chord) < 10:
        return 0.0
    return float(np.degrees(np.arccos(np.clip(chord @ axis / np.hypot(*chord), -1, 1))))


def width_at(row, middle):
    """Width in pixels at half of the contrast around the middle; None where there is none."""
    top = row[middle - 3 : middle + 4].max()
    if top <= 0:
        return None
    edges = []
    for side in (-1, 1):
        at = middle
        while 0 < at < len(row) - 1 and row[at] > top / 2:
            at += side
        inner, outer = row[at - side], row[at]
        edges.append(abs(at - middle) - (top / 2 - outer) / max(inner - outer, 1e-9))
    return float(sum(edges))


def measure(film, canal, start, spacing):
    """All measures of a branch whose first part, before the level start, is its trunk's."""
    path, begun = start(canal)
    traced = time.perf_counter() - begun
    levels = levels_of(path)
    half = int(round(1.2 / spacing))
    strip, places = straighten(film, path, levels, half)
    contrast = strip - background(strip, half, 0.55 * half)
    along = contrast[:, half - 2 : half + 3].mean(axis=1)
    usual = np.median(along[len(along) // 4 : 3 * len(along) // 4])
    filled = np.nonzero(along > usual / 2)[0]
    end = int(filled[-1]) + 1 if len(filled) else 0
    rows = range(0, end, max(1, int(round(0.1 / spacing))))
    widths = [[*map(float, places[r, half]), w * spacing] for r in rows if (w := width_at(contrast[r], half)) is not None]
    return path, {
        "name": canal["name"],
        "length_mm": float(levels[-1] * spacing),
        "schneider_deg": schneider(path, levels),
        "fill_end_mm": float((levels[-1] - end) * spacing),
        "widths": widths,
        "trace_seconds": traced,
        "seconds": time.perf_counter() - begun,
    }


def over(folder):
    film = read_film(folder / "film.png")
    case = json.loads((folder / "case.json").read_text(encoding="utf-8"))
    paths, found = {}, []
    for canal, parent in branches_of(case["canals"]):
        def start(one):
            begun = time.perf_counter()
            path = trace(film, np.array(one["trace_px"], float))
            if parent is not None:
                trunk = paths[parent["name"]]
                path = np.vstack([trunk[: int(np.argmin(np.hypot(*(trunk - path[0]).T)))], path])
            return path, begun

        paths[canal["name"]], measured = measure(film, canal, start, case["pixel_spacing_mm"])
        found.append(measured)
    (folder / "general.json").write_text(json.dumps(found), encoding="utf-8")


if __name__ == "__main__":
    for folder in sorted(pathlib.Path(sys.argv[1]).iterdir()):
        if (folder / "film.png").exists():
            over(folder)
