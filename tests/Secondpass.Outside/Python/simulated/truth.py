"""What is true of a simulated pair, measured on the voxels themselves."""
import cv2
import numpy as np
from scipy.spatial import cKDTree

from .beam import splat
from .canals import ALONG

SILHOUETTE_MM = 0.02
RESIDUE_MM = 0.10
THIRDS = ("coronal", "middle", "apical")


def path_levels(pixels):
    """Length in px along a path [n, 2] up to each of its points."""
    return np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(pixels, axis=0), axis=1))])


def _share(left, before):
    return None if before <= 0 else float(100 * left / before)


def _thickness(view, cloud, mask):
    t = splat(view, cloud["xyz"][mask], cloud["weight"][mask])
    return cv2.GaussianBlur(t, (0, 0), 0.7) if mask.any() else t


def _areas(view, cloud, held, left, pixels, levels):
    """Area in px of filling's silhouette, of filling and of residue at least RESIDUE_MM thick: whole and by third."""
    before, after = _thickness(view, cloud, held), _thickness(view, cloud, left)
    outline = before >= SILHOUETTE_MM
    y, x = np.nonzero(outline | (after >= RESIDUE_MM))
    if len(x) == 0:
        return np.zeros((4, 3)), before
    _, nearest = cKDTree(pixels).query(np.column_stack([x, y]))
    third = np.minimum((3 * levels[nearest] / levels[-1]).astype(int), 2)
    rows = []
    for mask in (outline, before >= RESIDUE_MM, after >= RESIDUE_MM):
        by_third = np.bincount(third, weights=mask[y, x], minlength=3)[:3]
        rows.append([by_third.sum(), *by_third])
    return np.array(rows).T, before


def _widths(thickness, pixels, levels, spacing, own_from_level):
    """Rows [mm from end, mm] of the silhouette's width across the path, every half millimetre."""
    rows = []
    for level in np.arange(own_from_level, levels[-1], 0.5 / spacing):
        at = np.array([np.interp(level, levels, pixels[:, k]) for k in (0, 1)])
        ahead = np.array([np.interp(level + 4, levels, pixels[:, k]) for k in (0, 1)])
        behind = np.array([np.interp(level - 4, levels, pixels[:, k]) for k in (0, 1)])
        d = (ahead - behind) / max(np.linalg.norm(ahead - behind), 1e-6)
        reach = np.arange(-60, 60.01, 0.1)
        mx, my = at[0] - d[1] * reach, at[1] + d[0] * reach
        line = cv2.remap(thickness, mx.astype(np.float32)[None], my.astype(np.float32)[None], cv2.INTER_LINEAR)[0]
        if (line >= SILHOUETTE_MM).any():
            rows.append([round(float((levels[-1] - level) * spacing), 3), round(float((line >= SILHOUETTE_MM).sum() * 0.1 * spacing), 4)])
    return rows


def branch_truth(branch, before_view, after_view, spacing, step_mm=0.5):
    """Truth of one branch. spacing: mm per pixel of the film before at the tooth. Returns (dict, thickness map before)."""
    cloud = branch.cloud
    whole = branch.whole_path
    pixels = before_view.project(whole)
    levels = path_levels(pixels)
    on_after = after_view.project(whole)
    own = np.clip(branch.own_from + cloud["s"] / ALONG, 0, len(whole) - 1)
    level = np.interp(own, np.arange(len(whole)), levels)
    third = np.minimum((3 * level / levels[-1]).astype(int), 2)
    held = cloud["before"] & cloud["within"]
    left = cloud["after"] & cloud["within"]
    w, mu = cloud["weight"], cloud["mu"]
    areas, thickness = _areas(before_view, cloud, held, left, pixels, levels)
    after_areas, _ = _areas(after_view, cloud, held, left, on_after, path_levels(on_after))
    # Straight parts of the map: how well one affine carries this canal's points from the film after to the film before.
    part = {}
    for k, name in enumerate(("whole",) + THIRDS):
        here = np.ones(len(w), bool) if k == 0 else third == k - 1
        b, a = held & here, left & here
        if not b.any():
            part[name] = None
            continue
        outline, thick, residue = areas[k]
        part[name] = {
            "mass_before_mm3": float(w[b].sum()),
            "mass_after_mm3": float(w[a].sum()),
            "mass_percent": _share(w[a].sum(), w[b].sum()),
            "attenuation_percent": _share((w * mu)[a].sum(), (w * mu)[b].sum()),
            "area_before_mm2": float(outline * spacing ** 2),
            "area_after_mm2": float(residue * spacing ** 2),
            "area_percent": _share(residue, outline),
            "area_percent_of_thick": _share(residue, thick),
            "area_percent_after_view": _share(after_areas[k][2], after_areas[k][0]),
        }
    filled_to = level[held].max() if held.any() else None
    rows = []
    for at in np.arange(levels[branch.own_from], levels[-1] + 1e-6, step_mm / spacing):
        place = [np.interp(at, levels, p) for p in (pixels[:, 0], pixels[:, 1], on_after[:, 0], on_after[:, 1])]
        rows.append([round(float((levels[-1] - at) * spacing), 4), round(float(place[2] - place[0]), 3), round(float(place[3] - place[1]), 3)])
    thin = np.unique(np.concatenate([np.arange(0, len(whole), 10), [branch.own_from, len(whole) - 1]]))
    length = float((len(whole) - 1) * ALONG)
    return {
        "name": branch.name,
        "parent": branch.parent.name if branch.parent is not None else None,
        "root": branch.root,
        "own_from_px": float(levels[branch.own_from]),
        "length_px": float(levels[-1]),
        "length_mm": float(levels[-1] * spacing),
        "true_length_mm": length,
        "filled_to_px": None if filled_to is None else float(filled_to),
        "fill_end_mm": None if filled_to is None else float((levels[-1] - filled_to) * spacing) if branch.facts["short_mm"] >= 0 else float(branch.facts["short_mm"]),
        "residual": part["whole"],
        "thirds": {name: part[name] for name in THIRDS},
        "centre_line_px": [[round(float(x), 2), round(float(y), 2)] for x, y in pixels[thin]],
        "displacement_px": rows,
        "filling_width": _widths(thickness, pixels, levels, spacing, levels[branch.own_from]),
        **branch.facts,
    }, thickness


def overlap_shares(thickness):
    """Share of each branch's silhouette that lies over another branch's."""
    outlines = [t >= SILHOUETTE_MM for t in thickness]
    shares = []
    for k, mine in enumerate(outlines):
        others = np.zeros_like(mine)
        for m, other in enumerate(outlines):
            if m != k:
                others |= other
        shares.append(float((mine & others).sum() / max(1, mine.sum())))
    return shares


def best_affine(after_pixels, before_pixels):
    """Nine numbers of the least-squares affine from after to before, and what it leaves, root mean square in px."""
    a = np.column_stack([after_pixels, np.ones(len(after_pixels))])
    solution, *_ = np.linalg.lstsq(a, before_pixels, rcond=None)
    left = a @ solution - before_pixels
    m = solution.T
    return [*map(float, m[0]), *map(float, m[1]), 0.0, 0.0, 1.0], float(np.sqrt((left ** 2).sum(axis=1).mean()))
