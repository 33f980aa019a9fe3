"""The cheapest path through a grid of costs by skimage.graph.route_through_array, as an outside check.

    route_through_array.py --cost C.png|C.npy|C.txt --start x y --end x y [--straight-only] [--not-geometric] [--add A]

Prints {"path": [[x, y], …], "cost": total}. Costs are used as stored, plus A; a text file holds one row of the grid a line. A negative
cost can't be crossed. By default all eight neighbours are reached and a diagonal step counts √2 times the mean of its two costs.
"""
import sys

sys.dont_write_bytecode = True

import argparse
import json

import cv2
import numpy as np
from skimage.graph import route_through_array


def read_costs(path):
    if path.endswith(".npy"):
        return np.load(path).astype(float)
    if path.endswith(".txt"):
        return np.loadtxt(path, ndmin=2)
    image = cv2.imread(path, cv2.IMREAD_UNCHANGED)
    if image is None or image.ndim != 2:
        raise SystemExit(f"{path} is not a grey image")
    return image.astype(float)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cost", required=True)
    parser.add_argument("--start", type=int, nargs=2, required=True)
    parser.add_argument("--end", type=int, nargs=2, required=True)
    parser.add_argument("--straight-only", action="store_true", help="four neighbours only")
    parser.add_argument("--not-geometric", action="store_true", help="a step costs what the cell entered costs, whatever its length")
    parser.add_argument("--add", type=float, default=0.0)
    options = parser.parse_args()
    costs = read_costs(options.cost) + options.add
    route, total = route_through_array(
        costs, options.start[::-1], options.end[::-1], fully_connected=not options.straight_only, geometric=not options.not_geometric)
    print(json.dumps({"path": [[int(c), int(r)] for r, c in route], "cost": float(total)}))


if __name__ == "__main__":
    main()
