"""The projective map from a rectangle to four corners by OpenCV's getPerspectiveTransform, as an outside check.

    perspective.py --size W H --corners x1 y1 … x4 y4 --at X Y

The corners are those of (0, 0), (W, 0), (W, H), (0, H). Prints {"x": …, "y": …}: where (X, Y) goes. OpenCV takes corners in single
precision and solves eight equations.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json

import cv2
import numpy as np


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--size", type=float, nargs=2, required=True)
    parser.add_argument("--corners", type=float, nargs=8, required=True)
    parser.add_argument("--at", type=float, nargs=2, required=True)
    options = parser.parse_args()
    width, height = options.size
    matrix = cv2.getPerspectiveTransform(
        np.float32([[0, 0], [width, 0], [width, height], [0, height]]),
        np.array(options.corners, np.float32).reshape(4, 2))
    seen = cv2.perspectiveTransform(np.array([[options.at]]), matrix)[0, 0]
    print(json.dumps({"x": float(seen[0]), "y": float(seen[1])}))


if __name__ == "__main__":
    main()
