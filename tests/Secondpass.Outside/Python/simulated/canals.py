"""Canals of one tooth as clouds of small voxels in curved tubes: lumen, old filling, what is left of it.

A canal is a tree of branches. Each branch is held in its own curved frame (along, across in x, across in y) at steps of
0.03 and 0.025 mm, far finer than the jaw's grid. Widths are of the order of the medians of Wu et al., Oral Surg 2000;
89:739-743 (0.2 to 0.5 mm at the end), from memory further up.
"""
from dataclasses import dataclass, field

import numpy as np
from scipy.interpolate import CubicSpline

ALONG, ACROSS = 0.03, 0.025


@dataclass
class Branch:
    """One branch. path: points [n, 3] in jaw mm (x, y, z), ALONG apart, from its orifice or its place on the trunk to its end."""

    name: str
    path: np.ndarray
    half_x: np.ndarray
    half_y: np.ndarray
    parent: "Branch | None" = None
    parent_index: int = 0
    filled: bool = True
    root: str = ""
    cloud: dict = field(default_factory=dict)
    facts: dict = field(default_factory=dict)

    @property
    def whole_path(self):
        """The way from the trunk's orifice to this branch's end."""
        if self.parent is None:
            return self.path
        return np.vstack([self.parent.whole_path[: self.parent_index + 1], self.path[1:]])

    @property
    def own_from(self):
        """Index on whole_path at which the branch's own part begins."""
        return 0 if self.parent is None else self.parent_index


def _resample(points, step=ALONG):
    lengths = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    count = max(8, int(round(lengths[-1] / step)) + 1)
    return CubicSpline(lengths, points)(np.linspace(0, lengths[-1], count))


def _canal_in_root(rng, tooth, root, side=0.0, wander=0.12):
    """Centre line in a root. side: -1 cheek, +1 tongue side of a broad root, 0 its middle."""
    top = tooth.chamber_z[1] - 0.55
    end = root.length - rng.uniform(0.2, 0.7)
    z = np.linspace(top, end, 40)
    cx, cy = root.centre(z)
    _, hc = root.half_widths(z)
    t = (z - top) / (end - top)
    y = cy + side * 0.44 * hc * (1 - 0.35 * t)
    x = cx + side * rng.normal(0.0, 0.25) * np.sin(np.pi * t)
    for _ in range(2):
        phase, turns = rng.uniform(0, 2 * np.pi), rng.uniform(0.4, 1.4)
        x = x + wander * np.sin(2 * np.pi * turns * t + phase) * t * (1 - 0.4 * t)
        y = y + wander * np.cos(2 * np.pi * turns * t + phase) * t
    x = x + rng.normal(0, 0.35) * np.clip((t - 0.9) / 0.1, 0, 1) ** 2
    # The orifices of molars lean towards the middle of the chamber.
    if tooth.molar:
        x = x * (1 - 0.18 * (1 - t) ** 3)
    px, py, pz = tooth.place(x, y, z)
    return _resample(np.column_stack([px, py, pz]))


def _widths(rng, count, wide, oval):
    """Half widths along a branch, from its mouth to its end."""
    end = rng.uniform(0.10, 0.19)
    taper = rng.uniform(0.017, 0.030)
    up = np.arange(count)[::-1] * ALONG
    half = end + taper * up
    mouth = np.clip((up - 0.8 * up[0]) / (0.2 * up[0] + 1e-6), 0, 1)
    half = np.minimum(half + 0.07 * mouth, 0.75) * wide
    ratio = 1 + (oval - 1) * np.clip(up / 8, 0.15, 1)
    return half, half * ratio


def make_canals(rng, tooth, split):
    """The canals of a tooth. split: whether a canal that can divide does so. Returns branches, parents before children."""
    made = []

    def add(name, root, side=0.0, wide=1.0, oval=1.2, filled=True):
        path = _canal_in_root(rng, tooth, root, side)
        hx, hy = _widths(rng, len(path), wide, oval)
        made.append(Branch(name, path, hx, hy, filled=filled, root=root.name))
        return made[-1]

    def divide(trunk, name, level_share, towards_y):
        at = int(level_share * (len(trunk.path) - 1))
        rest = trunk.path[at:]
        t = np.linspace(0, 1, len(rest))
        away = np.clip(t / 0.45, 0, 1)
        away = away * away * (3 - 2 * away) * (1 - 0.35 * np.clip((t - 0.6) / 0.4, 0, 1))
        shift = np.zeros_like(rest)
        shift[:, 1] = towards_y * away
        shift[:, 0] = rng.uniform(0.9, 1.6) * rng.choice((-1, 1)) * away
        # Two canals where there was one: the trunk is narrower from there on.
        trunk.path = np.vstack([trunk.path[:at], rest - 0.45 * shift])
        trunk.half_x[at:] *= 1 - 0.30 * away
        trunk.half_y[at:] *= 1 - 0.40 * away
        path = _resample(rest + 0.55 * shift)
        hx, hy = _widths(rng, len(path), 0.95, 1.1)
        made.append(Branch(name, path, hx, hy, parent=trunk, parent_index=at, root=trunk.root))

    roots = {r.name: r for r in tooth.roots}
    if "MB" in roots:
        add("MB1", roots["MB"], -0.75, 0.95)
        add("DB", roots["DB"], 0, 1.0)
        add("P", roots["P"], 0, 1.35)
        if rng.random() < 0.6:
            add("MB2", roots["MB"], 0.75, 0.6, filled=bool(rng.random() < 0.35))
    elif "M" in roots:
        if split:
            trunk = add("MB", roots["M"], 0, 1.1, 1.6)
            divide(trunk, "ML", rng.uniform(0.25, 0.45), rng.uniform(1.6, 2.4))
        else:
            add("MB", roots["M"], -1)
            add("ML", roots["M"], 1)
        add("D", roots["D"], 0, 1.35, 1.7)
    elif "B" in roots:
        add("B", roots["B"])
        add("P", roots["P"], 0, 1.1)
    elif tooth.position in (4, 5) and split:
        trunk = add("B", roots["R"], 0, 1.25, 1.5)
        divide(trunk, "L" if not tooth.upper else "P", rng.uniform(0.35, 0.6), rng.uniform(1.4, 2.2))
    elif tooth.position == 4 and tooth.upper:
        add("B", roots["R"], -1)
        add("P", roots["R"], 1)
    else:
        add("C", roots["R"], 0, 1.5 if tooth.upper and tooth.front else 1.15, 1.15 if tooth.front else 1.6)
    return made


def _frames(path):
    tangent = np.gradient(path, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1, keepdims=True)
    across_x = np.array([1.0, 0, 0]) - tangent * tangent[:, :1]
    across_x /= np.linalg.norm(across_x, axis=1, keepdims=True)
    across_y = np.cross(tangent, across_x)
    bend = np.gradient(tangent, ALONG, axis=0)
    return across_x, across_y, bend


def _patch_score(rng, s, u, v, hx, hy, length):
    """How firmly each voxel of filling stays: ragged patches on the wall, more of them towards the end."""
    score = np.full(s.shape, -1e3, np.float32)
    pu, pv = u / hx, v / hy
    radius = np.sqrt(pu * pu + pv * pv)
    # Ragged edges: places are shifted by a few waves before they are compared with a patch.
    waves = rng.uniform(0, 2 * np.pi, 6)
    ragged_s = s + 0.12 * np.sin(5 * s + 3 * pu + waves[0]) + 0.05 * np.sin(11 * s - 4 * pv + waves[1])
    ragged_u = pu + 0.16 * np.sin(3 * s + waves[2]) + 0.08 * np.sin(8 * s + 3 * pv + waves[3])
    ragged_v = pv + 0.16 * np.sin(4 * s + waves[4]) + 0.08 * np.sin(9 * s + 3 * pu + waves[5])
    for _ in range(rng.integers(6, 22)):
        at = length * rng.beta(1.5, 1.0)
        angle = rng.uniform(0, 2 * np.pi)
        long = np.exp(rng.uniform(np.log(0.12), np.log(1.5)))
        broad = rng.uniform(0.25, 1.1)
        firm = rng.uniform(0.0, 1.0)
        d = ((ragged_s - at) / long) ** 2 + ((ragged_u - np.cos(angle)) ** 2 + (ragged_v - np.sin(angle)) ** 2) / broad ** 2
        score = np.maximum(score, firm - d)
    return score + 0.35 * radius


def fill_branch(rng, branch, residual_share, enlarge, fill):
    """Makes the branch's voxels and says which hold old filling before and after.

    residual_share: share of the filling's volume to be left, 0 to 1. enlarge: dentine cut per side in mm.
    fill: dict with short_mm (end of filling short of the end; negative: beyond), voids (count), mu (attenuation per mm).
    Fills branch.cloud: xyz [n, 3], s (mm along the own path), weight (mm³), before, after, lumen, lumen_after (bool), mu.
    """
    path = branch.path
    beyond = max(0.0, -fill["short_mm"])
    extra = int(np.ceil(beyond / ALONG))
    if extra:
        step = path[-1] - path[-2]
        path = np.vstack([path, path[-1] + step * np.arange(1, extra + 1)[:, None]])
    n = len(path)
    hx = np.concatenate([branch.half_x, np.linspace(branch.half_x[-1], 0.08, extra)]) if extra else branch.half_x
    hy = np.concatenate([branch.half_y, np.linspace(branch.half_y[-1], 0.08, extra)]) if extra else branch.half_y
    widest = float(max(hx.max(), hy.max()) + enlarge + 0.05)
    grid = np.arange(-widest, widest + ACROSS, ACROSS)
    gu, gv = (g.ravel() for g in np.meshgrid(grid, grid, indexing="ij"))
    across_x, across_y, bend = _frames(path)
    total = (len(branch.path) - 1) * ALONG
    growth = enlarge * (0.55 + 0.45 * (1 - np.clip(np.arange(n) * ALONG / total, 0, 1)))
    shape_phase = rng.uniform(0, 2 * np.pi, 3)
    chunks = []
    for i in range(n):
        # A slightly irregular wall.
        theta = np.arctan2(gv / hy[i], gu / hx[i])
        rough = 1 + 0.05 * np.sin(3 * theta + shape_phase[0] + i * ALONG * 0.5) + 0.04 * np.sin(2 * theta + shape_phase[1] - i * ALONG * 0.8)
        r = np.sqrt((gu / hx[i]) ** 2 + (gv / hy[i]) ** 2)
        r_after = np.sqrt((gu / (hx[i] + growth[i])) ** 2 + (gv / (hy[i] + growth[i])) ** 2)
        keep = np.nonzero((r < rough) | (r_after < rough))[0]
        chunks.append((np.full(len(keep), i, np.int32), keep, (r[keep] < rough[keep])))
    index = np.concatenate([c[0] for c in chunks])
    cell = np.concatenate([c[1] for c in chunks])
    lumen = np.concatenate([c[2] for c in chunks])
    count = len(index)
    u = gu[cell] + rng.uniform(-0.5, 0.5, count) * ACROSS
    v = gv[cell] + rng.uniform(-0.5, 0.5, count) * ACROSS
    offset = across_x[index] * u[:, None] + across_y[index] * v[:, None]
    slip = rng.uniform(-0.5, 0.5, count) * ALONG
    tangent = np.cross(across_x, across_y)
    xyz = path[index] + offset + tangent[index] * slip[:, None]
    s = index * ALONG
    weight = ALONG * ACROSS ** 2 * np.clip(1 - np.einsum("ij,ij->i", bend[index], offset), 0.3, 2.0)
    if branch.parent is not None:
        # What lies inside the trunk belongs to the trunk.
        trunk = branch.parent
        near = np.clip(np.searchsorted(trunk.path[:, 2], xyz[:, 2]), 0, len(trunk.path) - 1)
        d = xyz - trunk.path[near]
        inside = (d[:, 0] / (trunk.half_x[near] + growth.max())) ** 2 + (d[:, 1] / (trunk.half_y[near] + growth.max())) ** 2 < 1
        keep = ~inside
        index, u, v, xyz, s, weight, lumen = (a[keep] for a in (index, u, v, xyz, s, weight, lumen))
    hxi, hyi = hx[index], hy[index]
    # The filling's end is a blunt, uneven tip; its mouth is cut at a slant.
    tip = 0.35 * ((u / hxi) ** 2 + (v / hyi) ** 2) * rng.uniform(0.3, 1.2) + 0.12 * u / hxi * rng.normal()
    mouth = 0.45 + 0.35 * rng.random() + 0.15 * rng.normal() * u / hxi
    if branch.parent is not None:
        mouth = -1.0
    before = lumen & (s <= total - fill["short_mm"] - tip) & (s >= mouth) if branch.filled else np.zeros(len(s), bool)
    for _ in range(fill["voids"] if branch.filled else 0):
        at = rng.uniform(0.05, 0.95) * total
        long = rng.uniform(0.15, 0.9)
        angle = rng.uniform(0, 2 * np.pi)
        out = rng.uniform(0.2, 1.1)
        size = rng.uniform(0.35, 0.9)
        hole = ((s - at) / long) ** 2 + ((u / hxi - out * np.cos(angle)) / size) ** 2 + ((v / hyi - out * np.sin(angle)) / size) ** 2 < 1
        before &= ~hole
    after = np.zeros(len(s), bool)
    within = s <= total
    if residual_share >= 1:
        after = before.copy()
    elif residual_share > 0 and before.any():
        score = _patch_score(rng, s, u, v, hxi, hyi, total)
        if rng.random() < 0.3:
            # The last part was not reached: a plug.
            score += 3.0 * np.clip((s - total * (1 - residual_share * rng.uniform(0.3, 0.9))) / 0.4, -0.2, 1)
        held = np.nonzero(before)[0]
        order = held[np.argsort(-score[held], kind="stable")]
        # The share counts what lies within the canal; filling beyond the end follows the same score.
        mass = np.cumsum(weight[order] * within[order])
        after[order[: np.searchsorted(mass, residual_share * mass[-1]) + 1]] = True
    mu = fill["mu"] * (1 + 0.05 * np.sin(2 * np.pi * s / rng.uniform(3, 9) + rng.uniform(0, 6)))
    branch.cloud = {"xyz": xyz, "s": s, "weight": weight, "before": before, "after": after, "lumen": lumen, "mu": mu, "within": within}
    branch.facts = {"short_mm": float(fill["short_mm"]), "voids": int(fill["voids"]), "mu_per_mm": float(fill["mu"]), "enlarged_mm": float(enlarge)}
