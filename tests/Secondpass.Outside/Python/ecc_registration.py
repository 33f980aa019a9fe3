"""Registers a moved film to a reference film with OpenCV and scikit-image, as an outside check.

    ecc_registration.py --reference A.png --moved B.png [--motion affine] [--start m11 … m33] [--mask M.png]

Prints {"ecc": {"matrix", "correlation"}, "phase_correlation": {"shift", "response"}, "phase_cross_correlation": {"shift"}}.
matrix: nine numbers, row by row, from [x, y, 1] of the moved film to the reference film, (0, 0) the centre of the top left pixel;
shift: [dx, dy], place on the moved film minus place on the reference film, for pure shifts.
OpenCV resamples at 1/32 px, so agreement below about 0.03 px proves nothing. ECC: cv2.findTransformECC (Evangelidis and Psarakis, IEEE Trans Pattern Anal Mach Intell 2008;30:1858-1865), coarse to fine.
Phase correlation: cv2.phaseCorrelate with a Hann window, and skimage.registration.phase_cross_correlation to 1/100 px.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json

import cv2
import numpy as np
from skimage.registration import phase_cross_correlation

MOTIONS = {"translation": cv2.MOTION_TRANSLATION, "euclidean": cv2.MOTION_EUCLIDEAN, "affine": cv2.MOTION_AFFINE, "homography": cv2.MOTION_HOMOGRAPHY}


def read(path):
    image = cv2.imread(path, cv2.IMREAD_UNCHANGED)
    if image is None:
        raise SystemExit(f"{path} is not an image")
    if image.ndim == 3:
        image = cv2.cvtColor(image[..., :3], cv2.COLOR_BGR2GRAY)
    return image.astype(np.float32) / np.iinfo(image.dtype).max


def ecc(reference, moved, motion, start, mask):
    """Matrix from moved to reference, and the correlation reached: three levels, each starting from the last."""
    warp = np.linalg.inv(start)
    correlation = None
    for level in (4, 2, 1):
        # Pixel centres: x of a level is (x + 0.5) / level - 0.5 of the full film.
        down = np.array([[1 / level, 0, 0.5 / level - 0.5], [0, 1 / level, 0.5 / level - 0.5], [0, 0, 1]])
        small = lambda image: cv2.resize(image, None, fx=1 / level, fy=1 / level, interpolation=cv2.INTER_AREA)
        guess = (down @ warp @ np.linalg.inv(down)).astype(np.float32)
        rows = 3 if motion == cv2.MOTION_HOMOGRAPHY else 2
        criteria = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 200, 1e-7)
        keep = None if mask is None else cv2.resize(mask, None, fx=1 / level, fy=1 / level, interpolation=cv2.INTER_NEAREST)
        correlation, found = cv2.findTransformECC(small(reference), small(moved), np.ascontiguousarray(guess[:rows]), motion, criteria, keep, 5)
        whole = np.vstack([found, [0, 0, 1]]).astype(float) if rows == 2 else found.astype(float)
        warp = np.linalg.inv(down) @ whole @ down
    matrix = np.linalg.inv(warp)
    return matrix / matrix[2, 2], float(correlation)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--reference", required=True)
    parser.add_argument("--moved", required=True)
    parser.add_argument("--motion", choices=MOTIONS, default="affine")
    parser.add_argument("--start", type=float, nargs=9, default=[1, 0, 0, 0, 1, 0, 0, 0, 1], help="first guess of the matrix")
    parser.add_argument("--mask", help="8 bit film of the moved film's size; 0 where it does not count")
    options = parser.parse_args()
    cv2.setNumThreads(1)
    reference, moved = read(options.reference), read(options.moved)
    mask = None if options.mask is None else (read(options.mask) > 0).astype(np.uint8) * 255
    matrix, correlation = ecc(reference, moved, MOTIONS[options.motion], np.array(options.start).reshape(3, 3), mask)
    answer = {"ecc": {"matrix": matrix.ravel().tolist(), "correlation": correlation}, "phase_correlation": None, "phase_cross_correlation": None}
    if reference.shape == moved.shape:
        window = cv2.createHanningWindow((reference.shape[1], reference.shape[0]), cv2.CV_32F)
        shift, response = cv2.phaseCorrelate(reference, moved, window)
        answer["phase_correlation"] = {"shift": [float(shift[0]), float(shift[1])], "response": float(response)}
        # scikit-image gives (row, column) by which the moved film must go back.
        back, _, _ = phase_cross_correlation(reference * window, moved * window, upsample_factor=100, normalization=None)
        answer["phase_cross_correlation"] = {"shift": [float(-back[1]), float(-back[0])]}
    print(json.dumps(answer))


if __name__ == "__main__":
    main()
