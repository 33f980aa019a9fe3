"""A jaw segment as a voxel grid: teeth, ligament, bone, gum, restorations.

Axes in mm: x along the jaw, towards the mesial side of the tooth in question; y from the X-ray source to the film
(cheek to tongue or palate); z from the crown to the root end. The tooth in question stands at x = 0, its neck at z = 0.
Arrays are indexed [y, z, x]. Shapes are held as distances in mm (negative inside) on a grid of STEP; attenuation is
made from them slice by slice, at half that step.

Sizes of teeth are the averages of the usual tooth-anatomy tables, from memory, with a spread. Attenuation values are
relative to aluminium at about 40 keV (0.154 per mm), from memory; dentine near 1 mm and root filling near 7 mm of
aluminium per mm: Katz et al., J Endod 1990;16:211-213.
"""
from dataclasses import dataclass, field

import cv2
import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import distance_transform_edt, gaussian_filter, gaussian_filter1d, map_coordinates, uniform_filter1d

STEP = 0.16

MU_TISSUE = 0.026
MU_MARROW = 0.030
MU_CORTICAL = 0.115
MU_DENTINE = 0.145
MU_ENAMEL = 0.235
MU_METAL = 3.2

FAR = 6.0


@dataclass(frozen=True)
class ToothSize:
    """Sizes in mm: height of crown, length of root, greatest width along and across the jaw, the same at the neck."""

    crown: float
    root: float
    along: float
    across: float
    neck_along: float
    neck_across: float


UPPER = {
    1: ToothSize(10.8, 13.0, 8.5, 7.0, 6.6, 6.2), 2: ToothSize(9.6, 13.2, 6.5, 6.0, 4.9, 5.2),
    3: ToothSize(10.2, 16.4, 7.6, 8.0, 5.6, 7.2), 4: ToothSize(8.5, 13.6, 7.0, 9.0, 5.0, 8.0),
    5: ToothSize(8.0, 14.0, 6.9, 9.0, 5.0, 8.0), 6: ToothSize(7.5, 13.0, 10.2, 11.0, 8.0, 9.6),
    7: ToothSize(7.3, 12.4, 9.4, 11.0, 7.4, 9.6), 8: ToothSize(6.8, 11.0, 8.6, 10.0, 6.6, 9.0),
}
LOWER = {
    1: ToothSize(8.9, 12.5, 5.3, 5.9, 3.7, 5.2), 2: ToothSize(9.4, 13.6, 5.8, 6.2, 4.0, 5.6),
    3: ToothSize(10.9, 15.9, 6.9, 7.7, 5.3, 6.9), 4: ToothSize(8.7, 14.2, 7.0, 7.6, 4.9, 6.4),
    5: ToothSize(8.1, 14.5, 7.1, 8.1, 5.2, 7.0), 6: ToothSize(7.6, 14.0, 11.2, 10.4, 9.0, 8.8),
    7: ToothSize(7.3, 13.4, 10.6, 10.2, 8.6, 8.6), 8: ToothSize(7.0, 11.4, 10.0, 9.5, 8.0, 8.2),
}


@dataclass
class Root:
    """One root: where it leaves the crown, where it ends, half widths, and how its last part bends. x mesial, mm."""

    name: str
    start: tuple
    end: tuple
    half_along: float
    half_across: float
    length: float
    bend: float

    def centre(self, z):
        """x and y of the middle of the root at heights z (neck 0, root end at length)."""
        t = np.clip(np.asarray(z, float) / self.length, -0.3, 1.15)
        late = np.clip((t - 0.45) / 0.55, 0, None)
        x = self.start[0] + (self.end[0] - self.start[0]) * t + self.bend * late ** 2
        y = self.start[1] + (self.end[1] - self.start[1]) * t
        return x, y

    def half_widths(self, z):
        """Half widths along and across the jaw at heights z; zero beyond the root end."""
        t = np.asarray(z, float) / self.length
        taper = 1 - 0.42 * np.clip(t, 0, 1)
        tip = np.sqrt(np.clip(1 - (np.clip(t - 0.80, 0, None) / 0.20) ** 2, 0, 1))
        return self.half_along * taper * tip, self.half_across * taper * tip


@dataclass
class Tooth:
    """A tooth in its own axes: neck at the origin."""

    position: int
    upper: bool
    size: ToothSize
    roots: list
    furcation: float
    mesial_is_plus: bool = True
    at: float = 0.0
    lean: float = 0.0
    chamber_z: tuple = (-2.5, 1.5)

    @property
    def molar(self):
        return self.position >= 6

    @property
    def front(self):
        return self.position <= 3

    def place(self, x, y, z):
        """From the tooth's axes to the jaw's."""
        sign = 1.0 if self.mesial_is_plus else -1.0
        return self.at + sign * np.asarray(x, float) + self.lean * np.asarray(z, float), y, z


def make_tooth(rng, upper, position, two_roots=False):
    """A tooth of a kind, with a person's spread of size, spacing and curvature."""
    mean = (UPPER if upper else LOWER)[position]
    spread = rng.normal(1, 0.04)
    size = ToothSize(
        mean.crown * spread, mean.root * rng.normal(1, 0.06), mean.along * spread, mean.across * spread,
        mean.neck_along * spread, mean.neck_across * spread)
    length = size.root
    na, nc = size.neck_along / 2, size.neck_across / 2
    # Most roots bend a little to the distal side (negative x); some are straight, a few bend mesially.
    bend = lambda scale: -scale * rng.gamma(2.0, 0.5) if rng.random() < 0.85 else scale * 0.3 * rng.random()
    if position >= 6 and upper:
        furcation = rng.uniform(3.2, 4.4)
        spreads = rng.uniform(0.7, 1.25)
        roots = [
            Root("MB", (na * 0.50, -nc * 0.45), (na * 0.55 + 1.3 * spreads, -nc * 0.55 - 0.6), na * 0.44, nc * 0.52, length, bend(1.7)),
            Root("DB", (-na * 0.50, -nc * 0.42), (-na * 0.55 - 0.9 * spreads, -nc * 0.5 - 0.4), na * 0.38, nc * 0.40, length * 0.95, -0.3 * bend(1.0)),
            Root("P", (-na * 0.02, nc * 0.42), (-na * 0.05, nc * 0.62 + 2.2 * spreads), na * 0.54, nc * 0.40, length * 1.05, bend(0.5)),
        ]
        chamber = (-2.6, 1.7)
    elif position >= 6:
        furcation = rng.uniform(2.8, 4.0)
        spreads = rng.uniform(0.6, 1.3)
        roots = [
            Root("M", (na * 0.53, 0.0), (na * 0.50 + 1.5 * spreads, 0.2), na * 0.42, nc * 0.84, length, bend(1.9)),
            Root("D", (-na * 0.53, 0.0), (-na * 0.55 - 1.1 * spreads, 0.2), na * 0.42, nc * 0.72, length * 0.95, bend(1.0)),
        ]
        chamber = (-2.4, 1.6)
    elif position == 4 and upper and two_roots:
        furcation = rng.uniform(5.0, 7.5)
        roots = [
            Root("B", (0.0, -nc * 0.42), (0.4, -nc * 0.62), na * 0.80, nc * 0.54, length, bend(0.9)),
            Root("P", (0.0, nc * 0.42), (-0.3, nc * 0.62), na * 0.74, nc * 0.52, length * 0.96, bend(0.7)),
        ]
        chamber = (-2.5, 1.5)
    else:
        furcation = length + 5
        roots = [Root("R", (0.0, 0.0), (rng.normal(0, 0.3), 0.0), na * 0.98, nc * 0.98, length, bend(0.9))]
        chamber = (-3.5, 0.8) if position <= 3 else (-2.8, 1.0)
    return Tooth(position, upper, size, roots, furcation, chamber_z=chamber)


@dataclass
class Jaw:
    """Distances in mm on the coarse grid, [y, z, x]; see build_jaw."""

    origin: tuple
    shape: tuple
    teeth: list
    crest: np.ndarray
    half_thick: np.ndarray
    cavity: np.ndarray
    fields: dict
    marrow: np.ndarray
    target: Tooth
    lesion: dict | None = None
    neighbour_mu: float = 0.33
    cap_mu: float = 0.3
    settings: dict = field(default_factory=dict)

    def axis(self, which):
        """Coordinates in mm of the coarse grid along axis 0 (y), 1 (z) or 2 (x)."""
        return (self.origin[which] + STEP * np.arange(self.shape[which])).astype(np.float32)

    def box(self, x_range, z_range):
        """The part of the grid between limits in mm: its index, and open axes y[n,1,1], z[1,n,1], x[1,1,n]."""
        ys, zs, xs = (self.axis(k) for k in range(3))
        i0, i1 = np.clip(np.searchsorted(xs, x_range), 0, self.shape[2])
        k0, k1 = np.clip(np.searchsorted(zs, z_range), 0, self.shape[1])
        return (slice(None), slice(k0, k1), slice(i0, i1)), ys[:, None, None], zs[None, k0:k1, None], xs[None, None, i0:i1]

    def merge(self, name, index, distance):
        """Joins a shape to a field."""
        if name not in self.fields:
            self.fields[name] = np.full(self.shape, FAR, np.float32)
        part = self.fields[name][index]
        np.minimum(part, distance, out=part)


def _smooth_minimum(a, b, reach):
    """The lower of two distances with a rounded valley of the given reach in mm: how two roots grow into one trunk."""
    h = np.clip(0.5 + 0.5 * (b - a) / reach, 0, 1)
    return b * (1 - h) + a * h - reach * h * (1 - h)


def _ellipse_distance(x, y, half_x, half_y, square=0.0):
    """Distance in mm, to first order, from an ellipse in each layer; square, 0 to 1, turns it towards a rounded rectangle."""
    hx, hy = np.maximum(half_x, 1e-3), np.maximum(half_y, 1e-3)
    ax, ay = x / hx, y / hy
    ax, ay = ax * ax, ay * ay
    q = np.sqrt(ax + ay) + 1e-6
    slope = np.sqrt(ax / (hx * hx) + ay / (hy * hy)) / q + 1e-3
    if square:
        q = (1 - square) * q + square * np.sqrt(np.sqrt(ax * ax + ay * ay))
    return (q - 1) / slope


def _rounded(a, b, reach):
    """The overlap of two shapes, their common edge rounded over reach in mm."""
    return -_smooth_minimum(-a, -b, reach)


def _crown_half_widths(tooth, z):
    s = tooth.size
    h = s.crown
    if tooth.front:
        incisor = tooth.position <= 2
        along = PchipInterpolator([-h - 2, -h, -0.8 * h, -0.55 * h, 0, 3],
                                  [0.88 * s.along / 2 if incisor else 0.2, (0.92 if incisor else 0.30) * s.along / 2, (0.99 if incisor else 0.86) * s.along / 2, 0.96 * s.along / 2, s.neck_along / 2, s.neck_along / 2])
        across = PchipInterpolator([-h - 2, -h, -0.7 * h, -0.3 * h, 0, 3],
                                   [0.4, 0.65, 0.28 * s.across, 0.47 * s.across, s.neck_across / 2, s.neck_across / 2])
    else:
        along = PchipInterpolator([-h - 2, -h, -0.62 * h, -0.30 * h, 0, 3],
                                  [0.70 * s.along / 2, 0.82 * s.along / 2, s.along / 2, 0.94 * s.along / 2, s.neck_along / 2, s.neck_along / 2])
        across = PchipInterpolator([-h - 2, -h, -0.45 * h, -0.2 * h, 0, 3],
                                   [0.40 * s.across / 2, 0.62 * s.across / 2, s.across / 2, 0.97 * s.across / 2, s.neck_across / 2, s.neck_across / 2])
    return along(z), across(z)


def _tooth_distance(tooth, x, y, z):
    """Signed distance of one tooth on open axes x[1,n,m], y[n,1,1], z[1,n,1] in the tooth's own coordinates."""
    ca, cc = _crown_half_widths(tooth, z)
    s = tooth.size
    across = y + 0.06 * z if tooth.front else y
    crown = _ellipse_distance(x, across, ca, cc, 0.45 if not tooth.front else 0.3)
    if tooth.front:
        edge = -s.crown + 0.25 * (x / (s.along / 2)) ** 2 * (4.0 if tooth.position == 3 else 0.7)
    else:
        cusp = 0.0
        fx = 0.27 * s.along if tooth.molar else 0.0
        for cx in (-fx, fx) if tooth.molar else (0.0,):
            for cy in (-0.24 * s.across, 0.24 * s.across):
                low = 0.30 if (not tooth.molar and cy > 0) else 0.08 if cx < 0 else 0.0
                wide = 0.19 if tooth.molar else 0.30
                cusp = np.maximum(cusp, (1 - low) * np.exp(-((x - cx) ** 2 / (2 * (wide * s.along) ** 2) + (y - cy) ** 2 / (2 * (0.17 * s.across) ** 2))))
        edge = -s.crown + (2.1 if tooth.molar else 2.6) * (1 - cusp)
    crown = _rounded(crown, (edge - z) * 0.85, 0.9 if not tooth.front else 0.4)
    if len(tooth.roots) > 1:
        na, nc = s.neck_along / 2, s.neck_across / 2
        narrowing = 1 - 0.045 * np.clip(z, 0, None)
        trunk = _ellipse_distance(x, y, na * narrowing, nc * narrowing, 0.35)
        # The roof of the furcation: an arch between the roots.
        trunk = np.maximum(np.maximum(trunk, z - tooth.furcation + 0.25 * x ** 2 / max(na, 1) ** 2), -1.5 - z)
        whole = _smooth_minimum(np.maximum(crown, z - 0.6), trunk, 0.6)
        reach = 0.9
    else:
        whole = np.maximum(crown, z - 0.6)
        reach = 0.5
    for root in tooth.roots:
        cx, cy = root.centre(z)
        ha, hc = root.half_widths(z)
        part = _ellipse_distance(x - cx, y - cy, ha, hc)
        part = np.maximum(part, np.maximum(z - root.length, -1.0 - z))
        whole = _smooth_minimum(whole, part, reach)
    return whole


def _redistance(inside_field):
    """True distances from a field that is only right in sign; smoothed over about one step of the grid."""
    inside = inside_field < 0
    if not inside.any():
        return np.full(inside_field.shape, FAR, np.float32)
    d = ((distance_transform_edt(~inside) - distance_transform_edt(inside)) * STEP).astype(np.float32)
    # The field itself is good near its surface; far from it the transform is.
    near = np.clip(1 - np.abs(d) / (3 * STEP), 0, 1) * 0.7
    blend = near * np.clip(inside_field, -1, 1) + (1 - near) * d
    return gaussian_filter(blend.astype(np.float32), 0.8, truncate=3)


def _pulp_distance(tooth, x, y, z, canal_half):
    """The pulp of a sound tooth: a chamber with horns and one thread per root."""
    s = tooth.size
    top, floor = tooth.chamber_z
    middle, half = (top + floor) / 2, (floor - top) / 2
    width = 0.30 if not tooth.front else 0.20
    flare = 1.0 + 0.25 * np.clip(-(z - middle) / half, -1, 1)
    w, d = width * s.neck_along / 2, 0.40 * s.neck_across / 2
    horns = 0.9 * (np.clip(np.abs(x) / w, 0, 1.3) ** 2) if not tooth.front else 0.4 * np.clip(np.abs(x) / w, 0, 1.3) ** 2
    chamber = _rounded(_ellipse_distance(x, y, w * flare, d * flare, 0.3), np.maximum(top + 0.9 - horns - z, z - floor - 0.4 * np.abs(x) / w), 0.7)
    whole = chamber
    for root in tooth.roots:
        cx, cy = root.centre(z)
        t = np.clip(z / root.length, 0, 1)
        r = canal_half * (1 - 0.72 * t) + 0.05
        part = _ellipse_distance(x - cx, y - cy, r, r * 1.6)
        part = np.maximum(part, np.maximum(z - root.length + 0.5, top + 1 - z))
        whole = _smooth_minimum(whole, part, 0.5)
    return whole


def _marrow_texture(rng, shape, coarse):
    """Share of bone, 0 to about 1, of a spongy network: the thin walls between cells of marrow."""
    small = (shape[0], int(np.ceil(shape[1] * 0.75)) + 2, int(np.ceil(shape[2] * 0.75)) + 2)
    noise = rng.standard_normal(small, dtype=np.float32)
    s = 1.1 * coarse
    fine = gaussian_filter(noise, (s, s * 0.95, s * 1.25), mode="wrap", truncate=3)
    wide = uniform_filter1d(uniform_filter1d(uniform_filter1d(fine, 5, 0), 5, 1), 7, 2)
    band = fine - wide
    band /= band[::3, ::3, ::3].std()
    walls = np.exp(-((band / 0.40) ** 2))
    # Uneven over larger areas.
    patchy = cv2.resize(gaussian_filter(rng.standard_normal((small[1] // 6, small[2] // 6)), 2.2).astype(np.float32), (small[2], small[1]), interpolation=cv2.INTER_CUBIC)
    walls *= np.clip(0.75 + 0.22 * patchy / patchy.std(), 0.25, 1.4)
    out = np.empty(shape, np.float32)
    for i in range(shape[0]):
        out[i] = cv2.resize(walls[i], (shape[2] + 2, shape[1] + 2), interpolation=cv2.INTER_LINEAR)[: shape[1], : shape[2]]
    return out


def _row_of_teeth(rng, target, upper, position, span):
    """The tooth in question and its neighbours to both sides of it."""
    teeth = [target]
    for side in (1, -1):
        place = side * target.size.along / 2
        number, plus = position, True
        while abs(place) < span / 2 + 2:
            if side > 0 and plus and number > 1:
                number -= 1
            elif side > 0 and plus:
                plus = False
            else:
                number += 1
            if number > 8:
                break
            tooth = make_tooth(rng, upper, number, two_roots=rng.random() < 0.5)
            gap = rng.uniform(0.0, 0.35) if rng.random() < 0.85 else rng.uniform(0.4, 1.5)
            tooth.at = place + side * (tooth.size.along / 2 + gap - 0.12)
            tooth.mesial_is_plus = plus
            # Roots of molars lean back, crowns forward.
            tooth.lean = target.lean + rng.normal(-0.03 if tooth.molar and plus else 0, 0.035)
            teeth.append(tooth)
            place = tooth.at + side * tooth.size.along / 2
    return teeth


def build_jaw(rng, upper, position, two_roots=False, extent=None):
    """A jaw segment around one tooth.

    rng: numpy Generator. upper: whether an upper jaw. position: 1 to 8, the second digit of the tooth after ISO 3950.
    two_roots: for an upper first premolar. extent: length along the jaw in mm.
    Returns a Jaw with distances of teeth, enamel and pulp, the outlines of bone, and the marrow's texture.
    """
    span_x = extent or (50.0 if position >= 4 else 42.0)
    span_y, z_low, z_high = 16.0, -13.0, 26.0 if position >= 4 else 31.0
    shape = (int(span_y / STEP), int((z_high - z_low) / STEP), int(span_x / STEP))
    origin = (-span_y / 2, z_low, -span_x / 2)
    target = make_tooth(rng, upper, position, two_roots)
    target.lean = rng.normal(0, 0.03)
    teeth = _row_of_teeth(rng, target, upper, position, span_x)
    jaw = Jaw(origin, shape, teeth, None, None, None, {}, None, target)
    ys, zs, xs = (jaw.axis(k) for k in range(3))
    for tooth in teeth:
        reach = max(tooth.size.along / 2, max(abs(r.end[0]) + abs(r.bend) + r.half_along for r in tooth.roots)) + 1.4
        reach += abs(tooth.lean) * 14
        index, y, z, x = jaw.box((tooth.at - reach, tooth.at + reach), (-tooth.size.crown - 1.2, max(r.length for r in tooth.roots) + 1.4))
        if x.shape[2] < 4:
            continue
        x = (1.0 if tooth.mesial_is_plus else -1.0) * (x - tooth.at - tooth.lean * z)
        d = _redistance(_tooth_distance(tooth, x, y, z))
        jaw.merge("tooth", index, d)
        neck = 0.55 * np.cos(np.clip(y / (tooth.size.neck_across / 2), -1.2, 1.2) * np.pi)
        above = -(z + 0.2 - neck)
        thick = np.clip(above * 0.40, 0, 1.0) + np.clip((above - 0.6 * tooth.size.crown) * 0.35, 0, 0.7)
        jaw.merge("enamel", index, np.where(above > 0, np.maximum(d, -d - thick), FAR))
        canal_half = rng.uniform(0.25, 0.5)
        if tooth is not target:
            jaw.merge("pulp", index, _pulp_distance(tooth, x, y, z, canal_half))
    loss = rng.gamma(1.6, 0.45)
    along = np.linspace(origin[2], -origin[2], 200)
    crest_line = np.full(200, 1.3 + loss) + gaussian_filter1d(rng.standard_normal(200), 18) * 1.8
    for tooth in teeth:
        crest_line += 0.7 * np.exp(-(((along - tooth.at) / (0.30 * tooth.size.along)) ** 2))
    jaw.crest = np.interp(xs, along, crest_line).astype(np.float32)
    base = rng.uniform(4.2, 5.0) if position >= 4 else rng.uniform(3.2, 4.0)
    base += 0.8 if position >= 6 else 0.0
    half_thick = base + 0.14 * np.clip(zs[:, None], 0, 20) + gaussian_filter(rng.standard_normal((shape[1], shape[2])), 22) * 6
    # Roots stay inside the bone: it bulges over them.
    inside = jaw.fields["tooth"] < 0.5
    depth = np.abs(ys)
    bulge = np.where(inside.any(axis=0), np.maximum(depth[np.argmax(inside, axis=0)], depth[::-1][np.argmax(inside[::-1], axis=0)]), 0)
    half_thick = np.maximum(half_thick, np.where(zs[:, None] > 2.5, bulge, 0))
    jaw.half_thick = np.minimum(cv2.GaussianBlur(half_thick.astype(np.float32), (0, 0), 6), span_y / 2 - 0.8)
    jaw.cavity = np.full((shape[1], shape[2]), FAR, np.float32)
    kind = None
    if upper and position >= 5 and rng.random() < 0.8:
        kind = "sinus"
        floor = rng.uniform(9.5, 14.5) + gaussian_filter1d(rng.standard_normal(shape[2]), 28) * 9 + 0.7 * np.clip(xs - rng.uniform(2, 10), 0, None)
        jaw.cavity = (floor[None, :] - zs[:, None]).astype(np.float32)
    elif not upper and position >= 5 and rng.random() < 0.75:
        kind = "canal of the lower jaw"
        middle = rng.uniform(17.5, 20.5) + 0.06 * xs + gaussian_filter1d(rng.standard_normal(shape[2]), 40) * 4
        jaw.cavity = (np.abs(zs[:, None] - middle[None, :]) - rng.uniform(1.0, 1.5)).astype(np.float32)
    jaw.marrow = _marrow_texture(rng, shape, rng.uniform(0.95, 1.25) * (1.0 if upper else 1.35))
    jaw.settings = {
        "cavity": kind, "cortical": rng.uniform(0.7, 1.1) if upper else rng.uniform(1.1, 1.9), "crest_loss_mm": float(loss),
        "sinus_wall": rng.uniform(1.6, 3.0),
        "spongy": rng.uniform(0.13, 0.18), "cheek_mm": rng.uniform(6, 14), "lamina": rng.uniform(0.7, 1.0), "ligament_mm": rng.uniform(0.17, 0.26)}
    return jaw


def add_lesion(jaw, centre, radius):
    """Bone lost around a root end: jaw coordinates in mm, radii in mm along x, y, z."""
    jaw.lesion = {"centre": [float(c) for c in centre], "radius": [float(r) for r in radius]}
    index, y, z, x = jaw.box((centre[0] - radius[0] - 2, centre[0] + radius[0] + 2), (centre[2] - radius[2] - 2, centre[2] + radius[2] + 2))
    q = np.sqrt(((x - centre[0]) / radius[0]) ** 2 + ((y - centre[1]) / radius[1]) ** 2 + ((z - centre[2]) / radius[2]) ** 2)
    jaw.merge("lesion", index, ((q - 1) * min(radius)).astype(np.float32))


def add_target_works(jaw, rng, restoration, access_half):
    """What treatment did to the crown of the tooth in question: chamber, access and restoration as distances.

    restoration: "composite", "amalgam", "metal crown", "ceramic crown" or "none". access_half: half width in mm of the opening.
    """
    tooth = jaw.target
    s = tooth.size
    reach = s.along / 2 + 1.0 + abs(tooth.lean) * 10
    index, y, z, x = jaw.box((tooth.at - reach, tooth.at + reach), (-s.crown - 1.2, 3.0))
    x = x - tooth.at - tooth.lean * z
    top, floor = tooth.chamber_z
    width = 0.42 if tooth.molar else 0.24 if tooth.front else 0.30
    depth = 0.50 if not tooth.front else 0.34
    w, d = width * s.neck_along / 2, depth * s.neck_across / 2
    flare = 1 + 0.12 * np.clip(-(z - floor) / 3, -0.5, 1.5)
    wall = _ellipse_distance(x, y, w * flare, d * flare, 0.3)
    bowl = 0.35 * (np.clip(np.abs(x) / w, 0, 1.2) ** 2)
    jaw.merge("chamber", index, _rounded(wall, np.maximum(top - z, z - floor - bowl + 0.3), 0.6))
    if tooth.front:
        # The access of a front tooth comes from the tongue's side and ends below the edge.
        opening = _ellipse_distance(x, y - np.clip(-(z + 3.0) * 0.5, 0, 3), access_half * (1 + 0.05 * np.clip(-z, 0, 8)), 1.7)
        access = _rounded(opening, np.maximum(-0.66 * s.crown - z, z - floor + 0.8), 0.8)
    else:
        slope = rng.normal(0, 0.05)
        widen = 1 + 0.06 * np.clip(-z, 0, 9)
        opening = _ellipse_distance(x - slope * z, y, np.maximum(access_half, w * 0.8) * widen, d * 0.9 * widen, 0.3)
        access = _rounded(opening, np.maximum(-s.crown - 1 - z, z - floor + 1.2), 0.6)
    jaw.merge("access", index, access)
    tooth_d = jaw.fields["tooth"][index]
    jaw.merge("plug", index, np.maximum(access, tooth_d))
    mine = _ellipse_distance(x, y, s.along / 2 + 0.3, s.across / 2 + 1.0, 1.0)
    if restoration in ("metal crown", "ceramic crown"):
        skin = 0.5 if restoration == "metal crown" else 0.85
        margin = z + rng.uniform(0.4, 1.0) - 0.5 * np.cos(np.clip(y / (s.across / 2), -1, 1) * np.pi)
        jaw.merge("cap", index, np.maximum(np.maximum(tooth_d, -tooth_d - skin), np.maximum(mine, margin)))
        jaw.cap_mu = MU_METAL if restoration == "metal crown" else 1.0
    elif restoration in ("amalgam", "composite"):
        shift = rng.choice((-1, 0, 1)) * 0.22 * s.along if not tooth.front else 0
        low = rng.uniform(1.6, 2.8) if not tooth.front else 3.2
        widen = 0.85 + 0.06 * np.clip(-z, 0, 8)
        cut = _ellipse_distance(x - shift, y, 0.27 * s.along * widen, (0.24 * s.across if not tooth.front else 1.6) * widen, 0.6)
        cut = _rounded(cut, z + low + rng.normal(0, 0.10) * x, 0.7)
        cut = np.minimum(cut, access)
        jaw.merge("cap", index, np.maximum(np.maximum(cut, tooth_d), mine))
        jaw.cap_mu = 2.2 if restoration == "amalgam" else rng.uniform(0.26, 0.40)


def add_neighbour_restorations(jaw, rng):
    """Fillings in some neighbours, so that a film shows what films show."""
    jaw.neighbour_mu = 2.2 if rng.random() < 0.5 else 0.33
    for tooth in jaw.teeth[1:]:
        if rng.random() > (0.45 if not tooth.front else 0.12):
            continue
        s = tooth.size
        reach = s.along / 2 + 0.3 + abs(tooth.lean) * 10
        index, y, z, x = jaw.box((tooth.at - reach, tooth.at + reach), (-s.crown - 1.2, 1.0))
        x = x - tooth.at - tooth.lean * z
        shift = rng.choice((-1, 0, 1)) * 0.26 * s.along
        widen = 0.8 + 0.07 * np.clip(-z, 0, 8)
        cut = _ellipse_distance(x - shift, y, 0.22 * s.along * widen, 0.20 * s.across * widen, 0.6)
        cut = _rounded(cut, z + rng.uniform(2.8, 4.2) + rng.normal(0, 0.12) * x, 0.8)
        jaw.merge("neighbour filling", index, np.maximum(cut, np.maximum(jaw.fields["tooth"][index], np.abs(x) - s.along / 2 - 0.1)))


def _cover(distance, width):
    """Share of a voxel inside a surface, from the distance of its middle and the voxel's width."""
    return np.clip(0.5 - distance * (1 / width), 0, 1)


def slices(jaw, opened_after):
    """Yields (y, attenuation before, attenuation after) per slice; attenuation per mm, [z, x], at half the coarse step.

    opened_after: whether the chamber and the access of the tooth in question are empty on the film after.
    Before, the chamber holds a core and the crown its restoration.
    """
    size = (jaw.shape[2] * 2, jaw.shape[1] * 2)
    st = jaw.settings
    edge = STEP * 1.1

    def fine(field):
        return cv2.resize(field, size, interpolation=cv2.INTER_LINEAR)

    def blend(mu, name, i, value, edge=edge):
        # Only where the shape is: most shapes fill a small part of a slice.
        part = jaw.fields.get(name)
        if part is None:
            return
        rows = np.nonzero((part[i] < edge).any(axis=1))[0]
        if len(rows) == 0:
            return
        columns = np.nonzero((part[i] < edge).any(axis=0))[0]
        k0, k1 = max(rows[0] - 1, 0), min(rows[-1] + 2, part.shape[1])
        i0, i1 = max(columns[0] - 1, 0), min(columns[-1] + 2, part.shape[2])
        d = cv2.resize(part[i, k0:k1, i0:i1], None, fx=2, fy=2, interpolation=cv2.INTER_LINEAR)
        view = mu[2 * k0 : 2 * k1, 2 * i0 : 2 * i1]
        view += (value - view) * _cover(d, edge)

    cavity, half_thick = fine(jaw.cavity), fine(jaw.half_thick)
    crest = cv2.resize(jaw.crest[None], (size[0], 1), interpolation=cv2.INTER_LINEAR)
    zs = (jaw.origin[1] + (np.arange(size[1], dtype=np.float32) + 0.5) * (STEP / 2) - STEP / 2)[:, None]
    below_neck = _cover(1.0 - zs, 1.0)
    for i, y in enumerate(jaw.axis(0)):
        side = np.abs(y) - half_thick
        # The crest is rounded: lower towards both plates.
        rim = crest - zs + 1.6 * np.square(y / half_thick)
        tooth = fine(jaw.fields["tooth"][i])
        cortical = np.maximum(_cover(-side - st["cortical"], 0.7), 0.6 * _cover(-rim - 0.35, 0.5))
        spongy = MU_MARROW + st["spongy"] * fine(jaw.marrow[i])
        mu = spongy + (MU_CORTICAL - spongy) * cortical
        if st["cavity"] == "sinus":
            mu *= 1 - _cover(cavity + 0.2, 0.3) * _cover(side + st["sinus_wall"], 1.0)
            mu += (MU_CORTICAL - mu) * (_cover(np.abs(cavity) - 0.2, 0.2) * _cover(side + st["sinus_wall"] - 0.5, 1.0))
        elif st["cavity"] and abs(y - 0.8) < 2.2:
            mu += (MU_TISSUE - mu) * (_cover(cavity, 0.2) * _cover(abs(y - 0.8) - 1.4, 0.5))
            mu += (MU_CORTICAL - mu) * (_cover(np.abs(cavity) - 0.25, 0.2) * _cover(abs(y - 0.8) - 1.7, 0.5) * 0.7)
        lamina = _cover(tooth - (st["ligament_mm"] + 0.38), edge) * st["lamina"]
        if "lesion" in jaw.fields:
            gone = _cover(fine(jaw.fields["lesion"][i]), 0.5)
            mu += (MU_TISSUE - mu) * gone * 0.92
            lamina *= 1 - gone
        mu += (MU_CORTICAL * 1.05 - mu) * lamina
        in_bone = _cover(np.maximum(side, rim), 0.3)
        gum = MU_TISSUE * _cover(np.maximum(side - 1.5, rim - 2.6), 2.0)
        mu = gum + (mu - gum) * in_bone
        mu += (MU_TISSUE - mu) * (_cover(tooth - st["ligament_mm"], edge) * below_neck)
        mu += (MU_DENTINE - mu) * _cover(tooth, edge)
        blend(mu, "enamel", i, MU_ENAMEL)
        blend(mu, "pulp", i, MU_TISSUE)
        blend(mu, "neighbour filling", i, jaw.neighbour_mu)
        before = mu
        blend(before, "cap", i, jaw.cap_mu, 0.3)
        after = before.copy() if opened_after else before
        blend(before, "chamber", i, st["core_mu"])
        if "cap" not in jaw.fields:
            blend(before, "plug", i, st["core_mu"])
        if opened_after:
            blend(after, "chamber", i, 0.0)
            blend(after, "access", i, 0.0)
        yield y, before, after


def chamber_share(jaw, xyz):
    """Share, 0 to 1, of each point [n, 3] (x, y, z in mm) that lies in the hollowed chamber."""
    at = np.stack([(xyz[:, k] - jaw.origin[j]) / STEP for j, k in enumerate((1, 2, 0))])
    return _cover(map_coordinates(jaw.fields["chamber"], at, order=1, mode="nearest"), STEP)


def soft_cover(jaw, width, height):
    """Path in mm of lips and cheek over the film: smooth, thicker towards one end."""
    rows = np.linspace(0, 1, height, dtype=np.float32)[:, None]
    return jaw.settings["cheek_mm"] * (0.75 + 0.5 * rows) * np.ones((1, width), np.float32)
