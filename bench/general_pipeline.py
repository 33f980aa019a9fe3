"""What a general-purpose image library gives for the comparison of two films: the reference that `compare` is measured against.

    general_pipeline.py --before F --after F --case case.json       prints the result, in the shape of `compare`
    general_pipeline.py --pairs DIR                                 every sub-folder with a truth.json; writes general.json there
    general_pipeline.py --pair DIR                                  one such folder

OpenCV and scikit-image only: SIFT features and RANSAC, affine refinement by ECC, route_through_array along the canals, robust
gain and offset, thresholds from the canal's own surroundings. No knowledge of how films are made beyond that filling is light.
Adds "seconds", the time in this process after both files are read.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json
import pathlib
import time

import cv2
import numpy as np
from scipy.ndimage import gaussian_filter1d, map_coordinates
from skimage.graph import route_through_array

THIRDS = ("coronal", "middle", "apical")


def read_film(path):
    image = cv2.imread(str(path), cv2.IMREAD_UNCHANGED)
    if image is None:
        raise SystemExit(f"{path} is not an image")
    if image.ndim == 3:
        image = cv2.cvtColor(image[..., :3], cv2.COLOR_BGR2GRAY)
    return image.astype(np.float32) / np.iinfo(image.dtype).max


def even(image):
    """A copy of even contrast, 8 bit, for finding features."""
    lo, hi = np.percentile(image[::3, ::3], [1, 99])
    eight = (np.clip((image - lo) / max(hi - lo, 1e-6), 0, 1) * 255).astype(np.uint8)
    return cv2.createCLAHE(3.0, (8, 8)).apply(cv2.GaussianBlur(eight, (0, 0), 1.5))


def register_by_features(before, after):
    """Affine from after to before by SIFT and RANSAC, and the number of features that agree; or None."""
    a, b = even(after), even(before)
    finder = cv2.SIFT_create(4000, contrastThreshold=0.015)
    points_a, words_a = finder.detectAndCompute(a, None)
    points_b, words_b = finder.detectAndCompute(b, None)
    if words_a is None or words_b is None or len(points_a) < 8 or len(points_b) < 8:
        return None, 0
    matches = cv2.BFMatcher(cv2.NORM_L2).knnMatch(words_a, words_b, k=2)
    good = [m[0] for m in matches if len(m) == 2 and m[0].distance < 0.82 * m[1].distance]
    if len(good) < 8:
        return None, 0
    source = np.float32([points_a[m.queryIdx].pt for m in good])
    target = np.float32([points_b[m.trainIdx].pt for m in good])
    cv2.setRNGSeed(1)
    rough, _ = cv2.estimateAffinePartial2D(source, target, method=cv2.RANSAC, ransacReprojThreshold=8, maxIters=8000, confidence=0.999)
    if rough is None:
        return None, 0
    near = np.linalg.norm(cv2.transform(source[:, None], rough)[:, 0] - target, axis=1) < 14
    if near.sum() < 8:
        return rough, int(near.sum())
    fine, inliers = cv2.estimateAffine2D(source[near], target[near], method=cv2.RANSAC, ransacReprojThreshold=5, maxIters=4000, confidence=0.999)
    return (fine, int(inliers.sum())) if fine is not None else (rough, int(near.sum()))


def local_contrast(image):
    """The image without shading and with its contrast evened out, for ECC."""
    flat = image - cv2.GaussianBlur(image, (0, 0), 20)
    flat = cv2.GaussianBlur(flat, (0, 0), 1.5)
    return np.clip(flat / np.sqrt(cv2.GaussianBlur(flat * flat, (0, 0), 25) + 1e-6), -3, 3)


def likeness(template, moving, matrix, keep):
    """Correlation of the template with the moving image brought to it, where keep is set; -1 when they hardly meet."""
    size = (template.shape[1], template.shape[0])
    moved = cv2.warpAffine(moving, matrix, size, flags=cv2.INTER_LINEAR)
    use = keep & (cv2.warpAffine(np.ones_like(moving), matrix, size) > 0.99)
    return float(np.corrcoef(template[use], moved[use])[0, 1]) if use.sum() > 500 else -1.0


def refine(template, moving, matrix, keep, motion):
    """ECC over the pixels of the template that count. Returns the better of the old and the new affine, with its correlation."""
    ys, xs = np.nonzero(keep)
    before_score = likeness(template, moving, matrix, keep)
    if len(ys) < 2000:
        return matrix, before_score
    y0, y1, x0, x1 = ys.min(), ys.max() + 1, xs.min(), xs.max() + 1
    size = (template.shape[1], template.shape[0])
    moved = cv2.warpAffine(moving, matrix, size, flags=cv2.INTER_LINEAR)[y0:y1, x0:x1]
    shown = cv2.warpAffine(np.ones_like(moving), matrix, size)[y0:y1, x0:x1] > 0.99
    mask = (keep[y0:y1, x0:x1] & shown).astype(np.uint8) * 255
    start = np.eye(2, 3, dtype=np.float32)
    best, best_score = matrix, before_score
    for smooth in (9, 3):
        try:
            stop = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 50, 1e-5)
            _, start = cv2.findTransformECC(template[y0:y1, x0:x1], moved, start, motion, stop, mask, smooth)
        except cv2.error:
            break
        # From the template's part to the moved one's; back to whole films.
        shift = np.array([[1, 0, -x0], [0, 1, -y0], [0, 0, 1]], np.float64)
        part = np.vstack([start, [0, 0, 1]]).astype(np.float64)
        found = (np.linalg.inv(shift) @ np.linalg.inv(part) @ shift @ np.vstack([matrix, [0, 0, 1]]))[:2]
        corners = np.float32([[x0, y0], [x1, y0], [x0, y1], [x1, y1]])[:, None]
        there = cv2.transform(corners, np.linalg.inv(np.vstack([matrix, [0, 0, 1]]))[:2])
        if np.abs(cv2.transform(there, found) - corners).max() > 45:
            continue
        score = likeness(template, moving, found, keep)
        if score > best_score:
            best, best_score = found, score
    return best, best_score


def trace(before, marks):
    """Path [n, 2] in pixels along the light ridge through the marks."""
    x0, y0 = np.floor(marks.min(axis=0)).astype(int) - 50
    x1, y1 = np.ceil(marks.max(axis=0)).astype(int) + 51
    x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, before.shape[1]), min(y1, before.shape[0])
    # Narrow and wide fillings: two scales, so that the middle of either is the lightest.
    ridge = sum(cv2.GaussianBlur(before, (0, 0), s)[y0:y1, x0:x1] for s in (2.5, 7)) / 2 - cv2.GaussianBlur(before, (0, 0), 20)[y0:y1, x0:x1]
    ridge = np.clip((ridge - np.percentile(ridge, 30)) / (np.percentile(ridge, 99.5) - np.percentile(ridge, 30) + 1e-6), 0, 1)
    cost = 0.12 + (1 - ridge) ** 2
    whole = []
    for start, end in zip(marks[:-1], marks[1:]):
        to_index = lambda p: (int(np.clip(round(p[1]) - y0, 0, y1 - y0 - 1)), int(np.clip(round(p[0]) - x0, 0, x1 - x0 - 1)))
        route, _ = route_through_array(cost, to_index(start), to_index(end), fully_connected=True, geometric=True)
        whole += route if not whole else route[1:]
    path = np.array(whole, float)[:, ::-1] + [x0, y0]
    smooth = gaussian_filter1d(path, 8, axis=0, mode="nearest")
    smooth[0], smooth[-1] = path[0], path[-1]
    return smooth


def levels_of(path):
    return np.concatenate([[0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])


def straighten(image, path, levels, half):
    """The image along the path: rows are levels 1 px apart, columns offsets -half to half."""
    at = np.arange(0, levels[-1], 1.0)
    x, y = (np.interp(at, levels, path[:, k]) for k in (0, 1))
    dx, dy = gaussian_filter1d(np.gradient(x), 3), gaussian_filter1d(np.gradient(y), 3)
    length = np.hypot(dx, dy) + 1e-9
    offset = np.arange(-half, half + 1)
    gx, gy = x[:, None] - (dy / length)[:, None] * offset, y[:, None] + (dx / length)[:, None] * offset
    return map_coordinates(image, [gy, gx], order=1, mode="nearest"), np.stack([gx, gy], axis=-1)


def background(strip, half, inner):
    """Grey beside the canal, level by level: the line between the medians of both sides, smoothed along the canal."""
    offset = np.arange(-half, half + 1)
    left, right = offset < -inner, offset > inner
    a = gaussian_filter1d(np.median(strip[:, left], axis=1), 12)
    b = gaussian_filter1d(np.median(strip[:, right], axis=1), 12)
    ca, cb = offset[left].mean(), offset[right].mean()
    return a[:, None] + (b - a)[:, None] * (offset - ca)[None] / (cb - ca)


def segment(strip, ground):
    """Filling in a strip: above half of the contrast that the filling reaches around this level."""
    contrast = cv2.GaussianBlur((strip - ground).astype(np.float32), (0, 0), 0.8)
    top = gaussian_filter1d(np.percentile(contrast, 96, axis=1), 25)
    overall = np.percentile(top, 80)
    return contrast > np.maximum(0.5 * np.maximum(top, 0.4 * overall), 0.02)[:, None], contrast


def robust_line(x, y):
    """Gain and offset of y from x by repeated least squares without outliers."""
    keep = np.ones(len(x), bool)
    gain, offset = 1.0, 0.0
    for _ in range(8):
        gain, offset = np.polyfit(x[keep], y[keep], 1)
        left = y - gain * x - offset
        spread = 1.4826 * np.median(np.abs(left[keep] - np.median(left[keep]))) + 1e-5
        keep = np.abs(left) < 2.5 * spread
    return gain, offset


def measure_residue(before_strip, after_strip, half, own, factor=1.0):
    """Masks and contrasts of one branch. Returns dict of arrays over the strip."""
    inner = half * 0.55
    ground_before, ground_after = background(before_strip, half, inner), background(after_strip, half, inner)
    filling, contrast_before = segment(before_strip, ground_before)
    offset = np.abs(np.arange(-half, half + 1))
    filling &= (offset <= inner)[None] & own[:, None]
    contrast_after = cv2.GaussianBlur((after_strip - ground_after).astype(np.float32), (0, 0), 0.8)
    near = cv2.dilate(filling.astype(np.uint8), np.ones((3, 5), np.uint8)).astype(bool)
    outside = contrast_after[(offset > inner)[None] & own[:, None] & np.ones_like(filling)]
    noise = 1.4826 * np.median(np.abs(outside - np.median(outside))) if outside.size else 0.01
    typical = np.median(contrast_before[filling]) if filling.any() else 0.1
    threshold = max(3 * noise, 0.22 * typical) * factor
    residue = near & (contrast_after > threshold)
    return {"filling": filling, "residue": residue, "before": np.clip(contrast_before, 0, None), "after": np.clip(contrast_after, 0, None), "noise": noise, "typical": typical}


def shares(found, rows):
    """Area and mass percent over some levels; None when there was no filling."""
    filling, residue = found["filling"][rows], found["residue"][rows]
    if filling.sum() < 12:
        return None
    mass = found["before"][rows][filling].sum()
    return 100 * residue.sum() / filling.sum(), 100 * found["after"][rows][residue].sum() / max(mass, 1e-6)


def with_interval(variants, rows):
    """Value of the first variant, and the range of all of them widened for what they don't vary."""
    values = [shares(v, rows) for v in variants]
    if values[0] is None:
        return None
    known = np.array([v for v in values if v is not None])
    value = known[0]
    lo, hi = known.min(axis=0), known.max(axis=0)
    floor = np.array([4.0, 4.0]) + 0.10 * value
    lo, hi = value - 1.5 * (value - lo) - floor, value + 1.5 * (hi - value) + floor
    return {"area_percent": float(value[0]), "area_interval": [float(lo[0]), float(hi[0])], "mass_percent": float(value[1]), "mass_interval": [float(lo[1]), float(hi[1])]}


def branches_of(canals, parent=None):
    for canal in canals:
        yield canal, parent
        yield from branches_of(canal.get("branches") or [], canal)


def refused_branch(name):
    nothing = {"area_percent": None, "area_interval": None, "mass_percent": None, "mass_interval": None}
    return {"name": name, "status": "refused", **nothing, "thirds": {t: None for t in THIRDS}, "displacement_px": [], "detection_limit_mm2": None, "overlap_share": 0.0}


def compare(before, after, case):
    """The result for two films in 0..1 and a case document."""
    refused = lambda why, remedy: {"schema": 1, "registration": {"ok": False, "reason": why, "remedy": remedy, "matrix": None, "self_rms_px": None}, "canals": [], "notices": []}
    spacing = case.get("pixel_spacing_mm") or 0.03
    half = int(round(1.7 / spacing))
    paths = {}
    for canal, parent in branches_of(case["canals"]):
        path = trace(before, np.array(canal["trace_px"], float))
        start = 0
        if parent is not None:
            trunk = paths[parent["name"]][0]
            start = int(np.argmin(np.hypot(*(trunk - path[0]).T)))
            path = np.vstack([trunk[:start], path])
        paths[canal["name"]] = (path, start)
    everything = np.vstack([p for p, _ in paths.values()])
    matrix, agreeing = register_by_features(before, after)
    if matrix is None or agreeing < 12:
        return refused(f"Only {agreeing} features agree between the films.", "Take the film again, closer to the first one's direction.")
    scale = np.sqrt(abs(np.linalg.det(matrix[:, :2])))
    if np.linalg.det(matrix[:, :2]) < 0 or not 0.6 < scale < 1.6:
        return refused("The films do not fit by a plausible scale.", "Check that both films show the same tooth.")
    band = lambda path, width_mm: cv2.polylines(np.zeros(before.shape, np.uint8), [np.round(path).astype(np.int32)], False, 1, int(round(width_mm / spacing))) > 0
    drawn = {name: band(path, 0.5) for name, (path, _) in paths.items()}
    changed, around = np.zeros(before.shape, bool), np.zeros(before.shape, bool)
    for path, _ in paths.values():
        changed |= band(path, 1.4)
        around |= band(path, 8.0)
    template, moving = local_contrast(before), local_contrast(after)
    # What is white or black altogether says nothing of place.
    around &= ~changed & (before < 0.97) & (before > 0.02)
    matrix, score = refine(template, moving, matrix, around, cv2.MOTION_AFFINE)
    if score < 0.25:
        return refused(f"The films' structures agree only to {score:.2f}.", "Check that both films show the same tooth.")
    size = (before.shape[1], before.shape[0])
    there = cv2.transform(everything[:, None], np.linalg.inv(np.vstack([matrix, [0, 0, 1]]))[:2])[:, 0]
    shown = ((there >= 0) & (there <= [after.shape[1] - 1, after.shape[0] - 1])).all(axis=1).mean()
    if shown < 0.8:
        return refused(f"The film after shows only {100 * shown:.0f} % of the canals.", "Take a film that shows the whole tooth.")
    results = []
    for canal, parent in branches_of(case["canals"]):
        path, start = paths[canal["name"]]
        levels = levels_of(path)
        state = canal.get("after_state") or case.get("after_state") or "removed"
        before_strip, places = straighten(before, path, levels, half)
        own = np.arange(len(before_strip)) >= levels[min(start, len(levels) - 1)]
        # Roots at other depths move differently: each canal once more by itself.
        near = band(path, 5.0) & around
        local, local_score = refine(template, moving, matrix, near, cv2.MOTION_AFFINE)
        if local_score < score - 0.1:
            local = matrix
        moved = cv2.warpAffine(after, local, size, flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
        sample = np.argwhere(near & (cv2.warpAffine(np.ones_like(after), local, size) > 0.99))
        sample = sample[:: max(1, len(sample) // 20000)]
        gain, offset = robust_line(moved[sample[:, 0], sample[:, 1]], before[sample[:, 0], sample[:, 1]]) if len(sample) > 500 else (0.0, 0.0)
        if gain <= 0.05:
            results.append({**refused_branch(canal["name"]), "reason": "The films' greys do not fit around this canal."})
            continue
        moved = gain * moved + offset
        back = np.linalg.inv(np.vstack([local, [0, 0, 1]]))
        variants = []
        for dx, dy, factor in ((0, 0, 1.0), (1.2, 0, 1.0), (-1.2, 0, 1.0), (0, 1.2, 1.0), (0, -1.2, 1.0), (0, 0, 0.75), (0, 0, 1.3)):
            after_strip = map_coordinates(moved, [places[..., 1] + dy, places[..., 0] + dx], order=1, mode="nearest")
            variants.append(measure_residue(before_strip, after_strip, half, own, factor))
        count = len(before_strip)
        third = np.minimum(3 * np.arange(count) // max(count, 1), 2)
        rows = np.array([[np.interp(l, levels, path[:, 0]), np.interp(l, levels, path[:, 1])] for l in np.arange(0, levels[-1], 0.5 / spacing)])
        on_after = rows @ back[:2, :2].T + back[:2, 2]
        mine = drawn[canal["name"]]
        others = np.zeros_like(mine)
        for name, area in drawn.items():
            others |= area if name != canal["name"] else False
        base = {
            "name": canal["name"], "status": "ok", "reason": None,
            "displacement_px": [[float((levels[-1] - l) * spacing), *map(float, q - p)] for l, p, q in zip(np.arange(0, levels[-1], 0.5 / spacing), rows, on_after)],
            "detection_limit_mm2": float(9 * spacing ** 2 * max(1.0, (variants[0]["noise"] * 3 / max(0.1 * variants[0]["typical"], 1e-4)))),
            "overlap_share": float((mine & others).sum() / max(1, mine.sum())),
        }
        whole = with_interval(variants, np.ones(count, bool))
        if state != "removed" or whole is None:
            why = "No residue can be read in this state." if state != "removed" else "No filling was found before."
            results.append({**refused_branch(canal["name"]), "reason": why})
            continue
        results.append({**base, **whole, "thirds": {t: with_interval(variants, (third == k) & own) for k, t in enumerate(THIRDS)}})
    flat = [*map(float, matrix[0]), *map(float, matrix[1]), 0.0, 0.0, 1.0]
    return {"schema": 1, "registration": {"ok": True, "reason": None, "remedy": None, "matrix": flat, "self_rms_px": float(2.0 * (1 - score))}, "canals": results, "notices": []}


def run(before_file, after_file, case_file):
    before, after = read_film(before_file), read_film(after_file)
    case = json.loads(pathlib.Path(case_file).read_text(encoding="utf-8"))
    started = time.perf_counter()
    result = compare(before, after, case)
    result["seconds"] = time.perf_counter() - started
    return result


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--before")
    parser.add_argument("--after")
    parser.add_argument("--case")
    parser.add_argument("--pairs", type=pathlib.Path)
    parser.add_argument("--pair", type=pathlib.Path)
    options = parser.parse_args()
    if options.pairs is None and options.pair is None:
        print(json.dumps(run(options.before, options.after, options.case)))
        return
    for truth_file in [options.pair / "truth.json"] if options.pair else sorted(options.pairs.glob("*/truth.json")):
        folder = truth_file.parent
        truth = json.loads(truth_file.read_text(encoding="utf-8"))
        result = run(folder / truth["before"], folder / truth["after"], folder / "case.json")
        (folder / "general.json").write_text(json.dumps(result) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
