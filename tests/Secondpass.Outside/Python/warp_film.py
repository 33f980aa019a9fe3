"""Warps a film by a given matrix with OpenCV or scikit-image: an independent resampler for checks.

    warp_film.py --in A.png --out B.png --matrix m11 … m33 [--size W H] [--library cv2|skimage] [--order linear|cubic] [--outside edge|black]

The matrix takes [x, y, 1] of A to B, row by row, (0, 0) the centre of the top left pixel. The depth of A is kept. Prints
{"width", "height", "greatest"}. OpenCV places each pixel to 1/32 px.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json

import cv2
import numpy as np
from skimage.transform import ProjectiveTransform, warp


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--in", dest="source", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--matrix", type=float, nargs=9, required=True)
    parser.add_argument("--size", type=int, nargs=2)
    parser.add_argument("--library", choices=["cv2", "skimage"], default="cv2")
    parser.add_argument("--order", choices=["linear", "cubic"], default="cubic")
    parser.add_argument("--outside", choices=["edge", "black"], default="edge")
    options = parser.parse_args()
    cv2.setNumThreads(1)
    film = cv2.imread(options.source, cv2.IMREAD_UNCHANGED)
    if film is None or film.ndim != 2:
        raise SystemExit(f"{options.source} is not a grey image")
    greatest = np.iinfo(film.dtype).max
    width, height = options.size or (film.shape[1], film.shape[0])
    matrix = np.array(options.matrix).reshape(3, 3)
    if options.library == "cv2":
        order = cv2.INTER_CUBIC if options.order == "cubic" else cv2.INTER_LINEAR
        border = cv2.BORDER_REPLICATE if options.outside == "edge" else cv2.BORDER_CONSTANT
        out = cv2.warpPerspective(film.astype(np.float32), matrix, (width, height), flags=order, borderMode=border)
    else:
        mode = "edge" if options.outside == "edge" else "constant"
        out = warp(film.astype(float), ProjectiveTransform(matrix).inverse, output_shape=(height, width), order=3 if options.order == "cubic" else 1, mode=mode, preserve_range=True)
    cv2.imwrite(options.out, np.clip(np.round(out), 0, greatest).astype(film.dtype))
    print(json.dumps({"width": int(width), "height": int(height), "greatest": int(greatest)}))


if __name__ == "__main__":
    main()
