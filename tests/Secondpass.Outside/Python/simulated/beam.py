"""The beam: a point source, a flat sensor that may be tilted, and paths through a stack of slices and through voxel clouds."""
from dataclasses import dataclass

import cv2
import numpy as np


@dataclass
class View:
    """Where source and sensor stand. Source and centre in jaw mm (x, y, z); right, down: unit vectors of the film's axes in jaw mm."""

    source: np.ndarray
    centre: np.ndarray
    right: np.ndarray
    down: np.ndarray
    pitch: float
    width: int
    height: int

    @property
    def normal(self):
        n = np.cross(self.right, self.down)
        return n / np.linalg.norm(n)

    def matrix(self):
        """3 x 4: jaw mm [x, y, z, 1] to film pixels, homogeneous."""
        n = self.normal
        to_plane = (self.centre - self.source) @ n
        # Q = S + (P - S) * to_plane / ((P - S).n)
        rows = np.empty((3, 4))
        w = np.concatenate([n, [-self.source @ n]])
        for k, axis in enumerate((self.right, self.down)):
            half = ((self.width if k == 0 else self.height) - 1) / 2
            start = (self.source - self.centre) @ axis / self.pitch + half
            move = np.concatenate([axis, [-self.source @ axis]]) * to_plane / self.pitch
            rows[k] = start * w + move
        rows[2] = w
        return rows

    def project(self, xyz):
        """Pixels [n, 2] of jaw points [n, 3]."""
        m = self.matrix()
        h = xyz @ m[:, :3].T + m[:, 3]
        return h[:, :2] / h[:, 2:]

    def magnification(self, xyz):
        """How much larger than life each jaw point is on the film."""
        n = self.normal
        return ((self.centre - self.source) @ n) / ((xyz - self.source) @ n)

    def pixel_rays(self):
        """Unit directions [h, w, 3] of the rays to all pixels."""
        i = (np.arange(self.width) - (self.width - 1) / 2) * self.pitch
        j = (np.arange(self.height) - (self.height - 1) / 2) * self.pitch
        at = self.centre + i[None, :, None] * self.right + j[:, None, None] * self.down
        d = at - self.source
        return d / np.linalg.norm(d, axis=2, keepdims=True)


def make_view(angle_x, angle_z, right_sign, down_sign, rotation, pitch, width, height, follow, distance, behind, look_at=(0, 0, 8), shift=(0, 0)):
    """A view of the jaw.

    angle_x, angle_z: degrees by which the source swings along the jaw and towards the root ends. right_sign, down_sign: whether
    the film's axes run with +x and +z. rotation: degrees in the film's plane. follow: share of the swing that the sensor
    takes part in. distance: source to object, behind: object to sensor, mm. look_at: jaw point in the film's middle; shift: px.
    """
    ax, az = np.deg2rad([angle_x, angle_z])
    aim = np.array([-np.tan(ax), 1.0, -np.tan(az)])
    aim /= np.linalg.norm(aim)
    look = np.asarray(look_at, float)
    source = look - aim * distance
    lean_x, lean_z = ax * follow, az * follow
    facing = np.array([-np.tan(lean_x), 1.0, -np.tan(lean_z)])
    facing /= np.linalg.norm(facing)
    right = np.array([right_sign, 0, 0], float)
    right -= facing * (right @ facing)
    right /= np.linalg.norm(right)
    down = np.array([0, 0, down_sign], float)
    down -= facing * (down @ facing) + right * (down @ right)
    down /= np.linalg.norm(down)
    r = np.deg2rad(rotation)
    right, down = np.cos(r) * right + np.sin(r) * down, -np.sin(r) * right + np.cos(r) * down
    centre = look + aim * behind
    centre = centre + right * shift[0] * pitch + down * shift[1] * pitch
    return View(source, centre, right, down, pitch, width, height)


class StackSum:
    """Adds up attenuation along the rays of one view, slice after slice, at half the film's resolution.

    The grid is coarser than a film's pixels; only the canals need them, and they are added apart.
    """

    def __init__(self, view, origin, step, slice_step):
        self.view, self.origin, self.step = view, origin, step
        self.size = ((view.width + 1) // 2, (view.height + 1) // 2)
        self.total = np.zeros((self.size[1], self.size[0]), np.float32)
        # Length of ray per slice: its thickness over the cosine to the slices' normal.
        self.length = (slice_step / view.pixel_rays()[:, :, 1]).astype(np.float32)
        # Full pixels (x, y) -> half pixels ((x - 0.5) / 2, (y - 0.5) / 2), whose centres lie between two full ones.
        self.to_film = np.array([[0.5, 0, -0.25], [0, 0.5, -0.25], [0, 0, 1]]) @ view.matrix()

    def add(self, y, mu):
        """One slice of attenuation per mm [z, x] at depth y."""
        half = self.step / 2
        m = self.to_film
        ox, oz = self.origin[2] - half / 2, self.origin[1] - half / 2
        # Slice pixels (ix, iz) -> jaw mm (ox + ix*half, y, oz + iz*half) -> film pixels.
        flat = np.column_stack([m[:, 0] * half, m[:, 2] * half, m[:, 0] * ox + m[:, 1] * y + m[:, 2] * oz + m[:, 3]])
        self.total += cv2.warpPerspective(mu, flat, self.size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)

    def path(self):
        """Attenuation summed along each pixel's ray [height, width]."""
        full = cv2.resize(self.total, (self.size[0] * 2, self.size[1] * 2), interpolation=cv2.INTER_CUBIC)
        return full[: self.view.height, : self.view.width] * self.length


def splat(view, xyz, amount):
    """Sum of amount (mm³, or mm³ times attenuation) per ray, as mm (times attenuation) of path: [height, width]."""
    out = np.zeros((view.height, view.width), np.float32)
    if len(xyz) == 0:
        return out
    p = view.project(xyz)
    ray = xyz - view.source
    cosine = np.abs(ray @ view.normal) / np.linalg.norm(ray, axis=1)
    thick = amount * view.magnification(xyz) ** 2 / (cosine * view.pitch ** 2)
    # A voxel is about one pixel wide: a tent of one pixel would ripple, so each is spread over a slightly wider one.
    i = np.floor(p[:, 0]).astype(np.int64)
    j = np.floor(p[:, 1]).astype(np.int64)
    fx, fy = p[:, 0] - i, p[:, 1] - j
    x0, y0 = int(i.min()), int(j.min())
    w, h = int(i.max()) - x0 + 2, int(j.max()) - y0 + 2
    i -= x0
    j -= y0
    flat = j * w + i
    patch = np.zeros(w * h)
    for dx, dy, part in ((0, 0, (1 - fx) * (1 - fy)), (1, 0, fx * (1 - fy)), (0, 1, (1 - fx) * fy), (1, 1, fx * fy)):
        patch += np.bincount(flat + dy * w + dx, weights=thick * part, minlength=w * h)[: w * h]
    patch = patch.reshape(h, w)
    a0, b0 = max(0, x0), max(0, y0)
    a1, b1 = min(view.width, x0 + w), min(view.height, y0 + h)
    if a1 > a0 and b1 > b0:
        out[b0:b1, a0:a1] = patch[b0 - y0 : b1 - y0, a0 - x0 : a1 - x0]
    return out
