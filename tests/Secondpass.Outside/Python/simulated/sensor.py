"""From paths to grey values: hardening, scatter, sensor faults, film curve, sharpening, local equalisation, compression."""
import cv2
import numpy as np


def transmit(path, hardening):
    """Share of the beam that passes a path of attenuation at the mean energy.

    Over a spectrum whose attenuation spreads like a gamma distribution with mean 1 and variance `hardening`, the mean of
    exp(-k path) is (1 + hardening * path) ** (-1 / hardening): a power law, which tends to the plain exponential as the
    variance goes to 0.
    """
    if hardening < 1e-6:
        return np.exp(-path)
    return (1 + hardening * path) ** (-1 / hardening)


def add_scatter(primary, ratio, pitch, wide_mm):
    """Adds scatter: the primary smeared by two broad kernels; ratio is the mean scatter-to-primary ratio."""
    small = cv2.resize(primary, None, fx=0.125, fy=0.125, interpolation=cv2.INTER_AREA)
    s = wide_mm / (pitch * 8)
    blur = 0.6 * cv2.GaussianBlur(small, (0, 0), s, borderType=cv2.BORDER_REFLECT) + 0.4 * cv2.GaussianBlur(small, (0, 0), s * 2.5, borderType=cv2.BORDER_REFLECT)
    return primary + ratio * cv2.resize(blur, (primary.shape[1], primary.shape[0]), interpolation=cv2.INTER_CUBIC)


def expose(signal, rng, photons, blur_px, faults):
    """Quantum noise, blur of the sensor's layer, read-out noise, bands, dead columns. Signal 0 to about 1; photons per pixel at 1."""
    noisy = signal + rng.standard_normal(signal.shape, dtype=np.float32) * np.sqrt(np.maximum(signal, 1e-4) / photons)
    core = cv2.GaussianBlur(noisy, (0, 0), blur_px)
    glare = cv2.GaussianBlur(core, (0, 0), blur_px * 5)
    out = 0.93 * core + 0.07 * glare
    out += rng.standard_normal(signal.shape, dtype=np.float32) * np.float32(0.35 / np.sqrt(photons))
    if faults["bands"] > 0:
        rows = np.cumsum(rng.standard_normal(signal.shape[0])) * 0.02 + rng.standard_normal(signal.shape[0])
        columns = rng.standard_normal(signal.shape[1])
        out *= (1 + faults["bands"] * rows[:, None] + 0.7 * faults["bands"] * columns[None, :]).astype(np.float32)
    for column in faults["dead_columns"]:
        if 1 <= column < signal.shape[1] - 1:
            # Filled in by the sensor's program from its neighbours, a little off.
            out[:, column] = 0.5 * (out[:, column - 1] + out[:, column + 1]) * 1.006
    return np.maximum(out, 1e-5)


def develop(signal, processing, gamma):
    """Grey values 0 to 1, lighter where more radiopaque.

    processing: curve "film", "logarithm" or "linear", clip (percent at each end), unsharp (amount, radius), local
    equalisation (limit, tiles) or None. gamma: applied after the stretch; above 1 darkens middle greys.
    """
    reference = float(np.percentile(signal[::4, ::4], 97))
    e = signal / max(reference, 1e-4)
    if processing["curve"] == "film":
        density = e ** processing["slope"] / (processing["middle"] ** processing["slope"] + e ** processing["slope"])
        grey = 1 - density
    elif processing["curve"] == "logarithm":
        grey = -np.log(np.maximum(e, 2e-3))
    else:
        grey = -np.minimum(e, 1.2)
    lo, hi = np.percentile(grey[::3, ::3], [processing["clip"][0], 100 - processing["clip"][1]])
    # What lets through less than a fiftieth is metal to a sensor's program, and left out of the stretch.
    hi = min(hi, float(grey[e < 0.02].min())) if (e < 0.02).any() else hi
    grey = np.clip((grey - lo) / max(hi - lo, 1e-6), 0, 1).astype(np.float32)
    grey = grey ** gamma
    if processing["equalise"]:
        limit, tiles = processing["equalise"]
        wide = (grey * 65535).astype(np.uint16)
        grey = 0.4 * grey + 0.6 * cv2.createCLAHE(clipLimit=limit, tileGridSize=(tiles, tiles)).apply(wide).astype(np.float32) / 65535
    if processing["unsharp"]:
        amount, radius = processing["unsharp"]
        grey = grey + amount * (grey - cv2.GaussianBlur(grey, (0, 0), radius))
    return np.clip(grey, 0, 1)


def write(path_without_ending, grey, depth, jpeg_quality):
    """Writes an 8 or 16 bit PNG, or a JPEG when jpeg_quality is given. Returns the file's path."""
    if jpeg_quality:
        name = path_without_ending.with_suffix(".jpg")
        cv2.imwrite(str(name), np.round(grey * 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, int(jpeg_quality)])
    else:
        name = path_without_ending.with_suffix(".png")
        if depth == 16:
            # A sensor of 12 bits in a file of 16.
            values = np.round(grey * 4095).astype(np.uint16) * 16
        else:
            values = np.round(grey * 255).astype(np.uint8)
        cv2.imwrite(str(name), values, [cv2.IMWRITE_PNG_COMPRESSION, 3])
    return name
