"""Area, way round, largest diameter and width across it of a closed polygon, by OpenCV and SciPy, as an outside check.

    outline_measures.py --points P.txt

The file holds one corner "x y" a line. Prints {"area": …, "perimeter": …, "diameter": …, "across": …}, in the points' unit.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json

import cv2
import numpy as np
from scipy.spatial import ConvexHull
from scipy.spatial.distance import pdist, squareform


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--points", required=True)
    points = np.loadtxt(parser.parse_args().points, ndmin=2)
    contour = points.astype(np.float32).reshape(-1, 1, 2)
    hull = points[ConvexHull(points).vertices]
    distances = squareform(pdist(hull))
    first, second = np.unravel_index(np.argmax(distances), distances.shape)
    along = (hull[second] - hull[first]) / distances[first, second]
    print(json.dumps({
        "area": cv2.contourArea(contour),
        "perimeter": cv2.arcLength(contour, True),
        "diameter": float(distances[first, second]),
        "across": float(np.ptp(hull @ np.array([-along[1], along[0]]))),
    }))


if __name__ == "__main__":
    main()
