"""Makes pairs of simulated periapical films with known truth: an independent second generator.

    second_generator.py --seed 7 --out DIR                 one pair into DIR
    second_generator.py --seed 100 --many 60 --out DIR     pairs 100 ... 159 into DIR/0100 ...; --processes 2 shares the work

A pair is before.png and after.png (or .jpg), case.json (what a person would mark) and truth.json. Jaw segment and teeth are a
voxel grid, canals are finer voxel clouds, rays run from a point source through both; then hardening by a power law, scatter,
blur, noise, bands and dead columns, a film or sensor curve, sharpening, sometimes local equalisation and JPEG.
Everything follows from the seed. All of it is invented; no film of a person is used.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json
import pathlib
import time
from concurrent.futures import ProcessPoolExecutor

import cv2
import numpy as np

from simulated import beam, canals, jaw as jaws, sensor, truth

TEETH = ["11", "12", "21", "14", "15", "24", "25", "34", "35", "44", "45", "16", "26", "17", "27", "36", "46", "37", "47", "31", "42"]


def arguments():
    p = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    p.add_argument("--seed", type=int, required=True)
    p.add_argument("--out", type=pathlib.Path, required=True)
    p.add_argument("--many", type=int, default=0, help="number of pairs, in sub-folders by seed")
    p.add_argument("--processes", type=int, default=1)
    p.add_argument("--tooth", help="tooth after ISO 3950, such as 16; drawn by default")
    p.add_argument("--split", action="store_true", help="a canal that divides, where the tooth can have one")
    p.add_argument("--residual", type=float, help="percent of each branch's filling left; drawn by default")
    p.add_argument("--angulation", type=float, help="degrees between the two beams, at most 8")
    p.add_argument("--rotation", type=float, help="degrees in the film's plane")
    p.add_argument("--scale", type=float, help="film after to film before, 0.9 to 1.1")
    p.add_argument("--gamma", type=float, help="film after to film before, 0.6 to 1.6")
    p.add_argument("--exposure", type=float, help="film after to film before")
    p.add_argument("--crop", type=float, help="share of width and height missing from the film after, 0 to 0.2")
    p.add_argument("--noise", type=float, help="factor on the noise of both films")
    p.add_argument("--processing", choices=["plain", "sharpened", "equalised"], help="how the sensor's program treats both films")
    p.add_argument("--format", choices=["png8", "png16", "jpg"], help="file format of both films")
    p.add_argument("--clamp", choices=["yes", "no"], help="a clamp on the tooth on the film after")
    kind = p.add_mutually_exclusive_group()
    kind.add_argument("--clean", action="store_true", help="nothing left")
    kind.add_argument("--untouched", action="store_true", help="the same tooth taken again, nothing done to it")
    kind.add_argument("--other-tooth", action="store_true", help="the film after shows another tooth of somebody else")
    kind.add_argument("--mirrored", action="store_true", help="the film after is mirrored")
    kind.add_argument("--no-overlap", action="store_true", help="the film after does not show the tooth")
    return p.parse_args()


def pick(forced, drawn):
    return drawn if forced is None else forced


def make_tooth_model(seed, tooth, options, extent=None):
    """Jaw, canals and works of one tooth."""
    rng = np.random.default_rng([seed, 1])
    quadrant, position = int(tooth[0]), int(tooth[1])
    upper = quadrant in (1, 2)
    two_roots = bool(rng.random() < 0.6)
    model = jaws.build_jaw(rng, upper, position, two_roots, extent)
    rng = np.random.default_rng([seed, 2])
    branches = canals.make_canals(rng, model.target, options.split or rng.random() < 0.35)
    shares = {}
    overall = rng.choice(["clean", "little", "much", "most"], p=[0.12, 0.58, 0.24, 0.06])
    for branch in branches:
        drawn = {"clean": 0.0, "little": rng.uniform(0.0, 0.22), "much": rng.uniform(0.1, 0.6), "most": rng.uniform(0.5, 1.0)}[overall]
        if rng.random() < 0.15:
            drawn = 0.0
        shares[branch.name] = 0.0 if options.clean else 1.0 if options.untouched else pick(options.residual, 100 * drawn) / 100
    enlarge = 0.0 if options.untouched else rng.uniform(0.03, 0.14)
    mu = rng.uniform(0.80, 1.15)
    for branch in branches:
        short = rng.choice([rng.uniform(0, 1.5), rng.uniform(1.5, 6.0), -rng.uniform(0.2, 0.9)], p=[0.62, 0.30, 0.08])
        if branch.parent is not None:
            short = min(short, 0.6 * (len(branch.path) * canals.ALONG))
        fill = {"short_mm": short, "voids": int(rng.integers(0, 7)), "mu": mu * rng.uniform(0.93, 1.07)}
        canals.fill_branch(np.random.default_rng([seed, 20 + len(branch.name) + ord(branch.name[0])]), branch, shares[branch.name], enlarge if branch.filled else 0.0, fill)
    rng = np.random.default_rng([seed, 3])
    if rng.random() < 0.55:
        root = model.target.roots[rng.integers(len(model.target.roots))]
        x, y = root.centre(root.length)
        r = rng.uniform(1.0, 2.8)
        cx, cy, cz = model.target.place(float(x), float(y), root.length + 0.35 * r)
        jaws.add_lesion(model, (cx, cy, cz), (r * rng.uniform(0.8, 1.2), min(r, 3.0), r * rng.uniform(0.8, 1.2)))
    kinds = ["composite", "amalgam", "metal crown", "ceramic crown", "none"]
    restoration = rng.choice(kinds, p=[0.6, 0, 0.0, 0.1, 0.3] if position <= 3 else [0.42, 0.18, 0.12, 0.16, 0.12])
    jaws.add_target_works(model, rng, restoration, rng.uniform(0.6, 0.9) if position <= 3 else rng.uniform(0.8, 1.3))
    model.settings["core_mu"] = float(rng.choice([0.20, 0.34, 1.6], p=[0.4, 0.45, 0.15]))
    model.settings["restoration"] = str(restoration)
    jaws.add_neighbour_restorations(model, rng)
    return model, branches


def keep_on_film(view, points, margin):
    """Shifts the sensor so that all points lie on the film."""
    p = view.project(points)
    size = np.array([view.width, view.height]) - 1
    low, high = p.min(axis=0) - margin, p.max(axis=0) + margin
    move = np.where(low < 0, low, np.where(high > size, high - size, 0.0))
    view.centre = view.centre + view.right * move[0] * view.pitch + view.down * move[1] * view.pitch
    return view


def make_views(seed, tooth, model, branches, options):
    rng = np.random.default_rng([seed, 4])
    quadrant, position = int(tooth[0]), int(tooth[1])
    right = 1 if quadrant in (1, 4) else -1
    down = -1 if quadrant in (1, 2) else 1
    landscape = position >= 4
    width, height = (1300, 900) if landscape else (900, 1300)
    pitch = rng.uniform(0.031, 0.034)
    many = len(branches) > 1
    swing_x = rng.choice([-1, 1]) * rng.uniform(5, 18) if many else rng.normal(0, 5)
    swing_z = rng.normal(0, 4)
    distance, behind = rng.uniform(220, 380), rng.uniform(8, 14)
    # The crown's end lies some millimetres inside the film's edge.
    look = np.array([rng.normal(0, 2.0), 0, height * pitch / 2.08 - model.target.size.crown - rng.uniform(1.5, 4.5)])
    follow = rng.uniform(0.6, 1.0)
    points = np.vstack([b.whole_path for b in branches])
    before = beam.make_view(swing_x, swing_z, right, down, rng.normal(0, 2), pitch, width, height, follow, distance, behind, look)
    keep_on_film(before, points, 18)
    angle = pick(options.angulation, 8 * np.sqrt(rng.random()) * (0.25 if rng.random() < 0.25 else 1.0))
    towards = rng.uniform(0, 2 * np.pi)
    rotation = pick(options.rotation, float(np.clip(rng.normal(0, 6), -15, 15)))
    scale = pick(options.scale, rng.uniform(0.9, 1.1))
    crop = pick(options.crop, rng.uniform(0, 0.14) if rng.random() < 0.5 else 0.0)
    w2, h2 = int(width * (1 - crop * rng.uniform(0.5, 1))), int(height * (1 - crop * rng.uniform(0.3, 0.8)))
    rotated = before_rotation(before, right, down) + rotation
    after = beam.make_view(
        swing_x + angle * np.cos(towards), swing_z + angle * np.sin(towards), right, down, rotated, pitch / scale, w2, h2,
        follow, distance * rng.uniform(0.95, 1.05), behind, look, (rng.normal(0, 30), rng.normal(0, 20)))
    if options.angulation == 0 and options.rotation == 0 and options.scale == 1 and options.crop == 0:
        after = beam.View(before.source, before.centre, before.right, before.down, before.pitch, before.width, before.height)
    elif options.no_overlap:
        # Along the jaw until no part of a canal is left on the film.
        step = after.right * right * 2.0
        for count in range(1, 18):
            moved = beam.View(after.source + step * count, after.centre + step * count, after.right, after.down, after.pitch, after.width, after.height)
            x, y = moved.project(points).T
            if count >= 12 and not ((x > -20) & (x < w2 + 20) & (y > -20) & (y < h2 + 20)).any():
                break
        after = moved
    else:
        keep_on_film(after, points, 14)
    changes = {"angulation_deg": float(angle), "angulation_towards_deg": float(np.rad2deg(towards)), "rotation_deg": float(rotation), "scale": float(scale), "crop": float(crop),
               "base_swing_deg": [float(swing_x), float(swing_z)]}
    return before, after, changes


def before_rotation(view, right, down):
    """In-plane rotation, degrees, that a view was made with."""
    flat = np.array([view.right[0] * right, view.right[2] * down])
    return float(np.rad2deg(np.arctan2(flat[1], flat[0])))


def canal_paths(view, model, branches, after, wet_mu):
    """What the canals add to or take from the paths of the jaw: their lumen instead of dentine, filling in it."""
    total = np.zeros((view.height, view.width), np.float32)
    for b in branches:
        c = b.cloud
        held = c["after"] if after else c["before"]
        outside = ~c["within"]
        # At its mouth a canal opens into the chamber, which the jaw's grid has already hollowed out.
        hollow = jaws.chamber_share(model, c["xyz"])
        chamber_mu = 0.0 if after else model.settings["core_mu"]
        ground = np.where(outside, jaws.MU_TISSUE, jaws.MU_DENTINE + (chamber_mu - jaws.MU_DENTINE) * hollow)
        open_space = np.ones(len(held), bool) if after else c["lumen"]
        lumen_mu = wet_mu if after and b.filled else jaws.MU_TISSUE
        empty = np.where(hollow > 0.5, ground, lumen_mu)
        content = np.where(held, c["mu"], np.where(open_space & ~outside, empty, ground))
        total += beam.splat(view, c["xyz"], c["weight"] * (content - ground))
    return total


def clamp_path(rng, view, tooth):
    """A rubber-dam clamp on the neck: two jaws and a bow."""
    s = tooth.size
    half = s.neck_across / 2 + 0.5
    side = rng.choice([-1, 1])
    cloud, amount = [], []
    for sign in (-1, 1):
        n = 40000
        x = rng.uniform(-0.52 * s.along, 0.52 * s.along, n)
        y = sign * (half + rng.uniform(0, 1.6, n))
        z = -0.9 - 0.08 * x ** 2 + rng.uniform(-0.35, 0.35, n)
        cloud.append(np.column_stack([x, y, z]))
        amount.append(np.full(n, 1.04 * s.along * 1.6 * 0.7 / n))
    n = 120000
    t = rng.uniform(0, np.pi, n)
    reach = side * (0.35 * s.along + (2.5 + 0.25 * s.along) * np.sin(t))
    x = reach + rng.uniform(-0.9, 0.9, n)
    y = -np.cos(t) * (half + 0.8) + rng.uniform(-0.3, 0.3, n)
    z = -1.0 - 5.5 * np.sin(t) ** 0.7 + rng.uniform(-0.3, 0.3, n)
    cloud.append(np.column_stack([x, y, z]))
    amount.append(np.full(n, 24 * 1.8 * 0.36 / n))
    xyz = np.vstack(cloud)
    px, py, pz = tooth.place(xyz[:, 0], xyz[:, 1], xyz[:, 2])
    return cv2.GaussianBlur(beam.splat(view, np.column_stack([px, py, pz]), np.concatenate(amount)), (0, 0), 2.0) * jaws.MU_METAL


def draw_processing(rng, options):
    kind = options.processing or rng.choice(["plain", "sharpened", "equalised"], p=[0.35, 0.43, 0.22])
    curve = rng.choice(["film", "logarithm", "linear"], p=[0.4, 0.4, 0.2])
    form = options.format or rng.choice(["png8", "png16", "jpg"], p=[0.4, 0.3, 0.3])
    return {
        "kind": str(kind),
        "curve": str(curve), "slope": float(rng.uniform(1.1, 1.7)), "middle": float(rng.uniform(0.12, 0.24)),
        "clip": [float(rng.uniform(0.1, 1.0)), float(rng.uniform(0.0, 0.3))],
        "unsharp": [float(rng.uniform(0.25, 0.8)), float(rng.uniform(1.6, 5.0))] if kind != "plain" else None,
        "equalise": [float(rng.uniform(1.4, 2.6)), int(rng.integers(3, 8))] if kind == "equalised" else None,
        "format": str(form), "jpeg_quality": int(rng.integers(80, 96)) if form == "jpg" else None,
    }


def clicks(rng, view, branch):
    """What a person marks of one branch: its ends and up to two points between, each up to 3 px off."""
    p = view.project(branch.path)
    between = sorted(rng.uniform(0.25, 0.8, rng.integers(0, 3)))
    marks = [p[0], *(p[int(t * (len(p) - 1))] for t in between), p[-1]]
    return [[round(float(np.clip(m[0] + rng.uniform(-3, 3) * 0.7071, 0, view.width - 1)), 1), round(float(np.clip(m[1] + rng.uniform(-3, 3) * 0.7071, 0, view.height - 1)), 1)] for m in marks]


def case_of(tooth, spacing, rng, view, branches):
    marked = {b.name: {"name": b.name, "trace_px": clicks(rng, view, b), "pin": "soft", "branches": []} for b in branches if b.filled}
    roots = []
    for b in branches:
        if b.name in marked:
            (marked[b.parent.name]["branches"] if b.parent is not None else roots).append(marked[b.name])
    return {"schema": 1, "tooth": tooth, "pixel_spacing_mm": round(spacing, 5), "after_spacing_mm": None, "after_state": "removed", "canals": roots}


def make_pair(seed, out, options):
    """Writes one pair into the folder out. Returns seconds taken."""
    started = time.perf_counter()
    out.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng([seed, 0])
    tooth = options.tooth or str(rng.choice(TEETH))
    model, branches = make_tooth_model(seed, tooth, options, 110.0 if options.no_overlap else None)
    before, after, changes = make_views(seed, tooth, model, branches, options)
    after_model, after_branches, after_view = model, branches, after
    if options.other_tooth:
        other = str(rng.choice([t for t in TEETH if (int(t[1]) >= 4) == (int(tooth[1]) >= 4) and t[1] != tooth[1]]))
        after_model, after_branches = make_tooth_model(seed + 500_000, other, options)
        _, after_view, _ = make_views(seed + 500_000, other, after_model, after_branches, options)
    rng = np.random.default_rng([seed, 5])
    opened = not options.untouched
    hardening, scatter, wide = rng.uniform(0.05, 0.18), rng.uniform(0.12, 0.40), rng.uniform(3, 6)
    wet = float(rng.choice([0.0, jaws.MU_TISSUE]))
    processing = draw_processing(rng, options)
    blur = rng.uniform(0.7, 1.25)
    noise = pick(options.noise, float(np.exp(rng.normal(0, 0.25))))
    exposure = pick(options.exposure, float(np.exp(rng.uniform(np.log(0.55), np.log(1.7)))))
    gamma = pick(options.gamma, float(np.exp(np.clip(rng.normal(0, 0.22), np.log(0.6), np.log(1.6)))))
    base_gamma = rng.uniform(0.85, 1.2)
    photons = rng.uniform(4000, 16000) / noise ** 2
    clamp = (options.clamp == "yes") if options.clamp else bool(opened and rng.random() < 0.2)
    faults = {"bands": float(rng.choice([0.0, rng.uniform(0.0005, 0.0025)])), "dead_columns": [int(c) for c in rng.integers(5, min(before.width, after_view.width) - 5, rng.integers(0, 3))]}
    clamp_rng = np.random.default_rng([seed, 6])
    noise_rng = np.random.default_rng([seed, 7])
    stack_before = beam.StackSum(before, model.origin, jaws.STEP, jaws.STEP)
    stack_after = beam.StackSum(after_view, after_model.origin, jaws.STEP, jaws.STEP)
    for y, mu_before, mu_after in jaws.slices(model, opened):
        stack_before.add(y, mu_before)
        if after_model is model:
            stack_after.add(y, mu_after)
    if after_model is not model:
        for y, _, mu_after in jaws.slices(after_model, opened):
            stack_after.add(y, mu_after)
    files = []
    for name, view, stack, m, bs, late in (("before", before, stack_before, model, branches, False), ("after", after_view, stack_after, after_model, after_branches, True)):
        path = stack.path() + canal_paths(view, m, bs, late and opened, wet)
        path += jaws.MU_TISSUE * jaws.soft_cover(m, view.width, view.height)
        if late and clamp:
            path += clamp_path(clamp_rng, view, m.target)
        path = np.maximum(path, 0)
        signal = sensor.add_scatter(sensor.transmit(path, hardening), scatter * (1 if not late else rng.uniform(0.85, 1.15)), view.pitch, wide)
        film = sensor.expose(signal.astype(np.float32), noise_rng, photons * (exposure if late else 1), blur, faults)
        shown = dict(processing)
        if late:
            shown["clip"] = [processing["clip"][0] * rng.uniform(0.6, 1.6), processing["clip"][1] * rng.uniform(0.6, 1.6)]
            # A film curve moves with the exposure; a sensor's program stretches it away.
            shown["middle"] = processing["middle"] / exposure ** 0.35
        grey = sensor.develop(film, shown, base_gamma * (gamma if late else 1.0))
        if late and options.mirrored:
            grey = np.ascontiguousarray(grey[:, ::-1])
        files.append(sensor.write(out / name, grey, 16 if processing["format"] == "png16" else 8, processing["jpeg_quality"]))
    middle = np.vstack([b.path[len(b.path) // 2] for b in branches])
    spacing = round(float(before.pitch / before.magnification(middle).mean()), 5)
    case_rng = np.random.default_rng([seed, 8])
    case = case_of(tooth, spacing, case_rng, before, branches)
    (out / "case.json").write_text(json.dumps(case) + "\n", encoding="utf-8")
    known, maps = [], []
    for b in branches:
        if b.filled:
            facts, thickness = truth.branch_truth(b, before, after, spacing)
            known.append(facts)
            maps.append(thickness)
    for facts, share in zip(known, truth.overlap_shares(maps)):
        facts["overlap_share"] = share
    points = np.vstack([b.whole_path for b in branches])
    affine, rms = truth.best_affine(after.project(points), before.project(points))
    bad = "other_tooth" if options.other_tooth else "mirrored" if options.mirrored else "no_overlap" if options.no_overlap else None
    document = {
        "schema": 1, "seed": seed, "simulated": True, "tooth": tooth, "before": files[0].name, "after": files[1].name,
        "comparable": bad is None, "bad_pair": bad, "pixel_spacing_mm": spacing, "after_pixel_mm": float(after.pitch),
        "after_to_before": affine, "after_to_before_rms_px": rms,
        "definitions": {
            "mass_percent": "volume of old filling left, percent of its volume before, within the canal",
            "attenuation_percent": "the same weighted by attenuation",
            "area_percent": f"residue at least {truth.RESIDUE_MM} mm thick along the ray, percent of the filling's outline (at least {truth.SILHOUETTE_MM} mm) before, both as the film before sees them",
            "area_percent_of_thick": "the same residue, percent of filling at least as thick",
            "area_percent_after_view": "as area_percent, both as the film after sees them",
            "thirds": "equal lengths of the projected path from the trunk's orifice to the branch's end; of the branch's own part",
        },
        "changes": {**changes, "gamma": float(gamma), "exposure": float(exposure), "noise": float(noise), "clamp": clamp},
        "physics": {"hardening": float(hardening), "scatter_ratio": float(scatter), "photons": float(photons), "blur_px": float(blur), **faults, "processing": processing},
        "scene": {"restoration": model.settings["restoration"], "cavity": model.settings["cavity"], "lesion": model.lesion, "unfilled_canals": [b.name for b in branches if not b.filled]},
        "canals": known,
    }
    (out / "truth.json").write_text(json.dumps(document) + "\n", encoding="utf-8")
    return time.perf_counter() - started


def _one(job):
    cv2.setNumThreads(1)
    return make_pair(*job)


def main():
    options = arguments()
    if options.many <= 0:
        make_pair(options.seed, options.out, options)
        return
    jobs = [(seed, options.out / f"{seed:04d}", options) for seed in range(options.seed, options.seed + options.many)]
    if options.processes <= 1:
        times = [make_pair(*job) for job in jobs]
    else:
        with ProcessPoolExecutor(options.processes) as pool:
            times = list(pool.map(_one, jobs))
    print(json.dumps({"pairs": len(times), "median_seconds": round(float(np.median(times)), 2)}))


if __name__ == "__main__":
    main()
