"""Scores results in the shape of `compare` against the truth of simulated pairs.

    score.py --pairs DIR --result general.json [--result mine.json] [--json]

Every sub-folder with a truth.json and that result counts. Errors are estimate minus truth, in percent of the filling before;
displacement errors in px, compared at
equal levels from the orifice, so a path that wanders across a wide filling on a turned film counts too; the matrix alone beside it. Coverage: share of 95 % intervals that hold the truth. Interval
score: width plus 40 times how far the truth lies outside (Winkler, J Am Stat Assoc 1972;67:187-191; alpha 0.05); lower is
better. All figures are on simulated films.
"""
import argparse
import json
import pathlib

import numpy as np

ALPHA = 0.05
THIRDS = ("coronal", "middle", "apical")


def winkler(low, high, value):
    """Interval score of one 95 % interval."""
    return high - low + 2 / ALPHA * (max(low - value, 0) + max(value - high, 0))


def first_mark(case, name):
    """The mark [x, y] at the orifice of the trunk that a branch belongs to."""
    def names(canal):
        yield canal["name"]
        for branch in canal.get("branches") or []:
            yield from names(branch)

    trunk = next(c for c in case["canals"] if name in names(c))
    return np.array(trunk["trace_px"][0], float)


def displacement_error(result, truth, orifice_mark, spacing):
    """Root mean square, px, of the displacement's error at the levels with filling that the result reaches.

    Places are compared at equal levels, counted from the result's first row: that is the mark at the orifice, or where the
    branch leaves its trunk, whichever fits. A detour past the end of the filling therefore does no harm.
    """
    rows = np.array(result["displacement_px"], float)
    known = np.array(truth["displacement_px"], float)
    if len(rows) < 2:
        return None
    line = np.array(truth["centre_line_px"], float)
    dense = np.column_stack([np.interp(np.arange(0, len(line) - 1, 0.05), np.arange(len(line)), line[:, k]) for k in (0, 1)])
    levels = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(dense, axis=0).T))])
    at_orifice = levels[np.argmin(np.hypot(*(dense - orifice_mark).T))]
    rows = rows[np.argsort(-rows[:, 0])]
    reach = rows[0, 0] / spacing
    whole = abs(truth["length_px"] - reach) <= abs(truth["length_px"] - truth["own_from_px"] - reach)
    result_levels = (rows[0, 0] - rows[:, 0]) / spacing + (at_orifice if whole else truth["own_from_px"])
    known_levels = truth["length_px"] - known[:, 0] / spacing
    last = truth["length_px"] if truth["filled_to_px"] is None else truth["filled_to_px"]
    inside = (known_levels >= result_levels[0] - 5) & (known_levels <= min(result_levels[-1] + 5, last))
    if not inside.any():
        return None
    error = [np.interp(known_levels[inside], result_levels, rows[:, k]) - known[inside, k] for k in (1, 2)]
    return float(np.sqrt((np.square(error[0]) + np.square(error[1])).mean()))


def matrix_error(matrix, truth):
    """Root mean square, px of the film before, of where the one matrix puts all true centre lines; it can't follow roots at several depths."""
    given, best = (np.array(m, float).reshape(3, 3) for m in (matrix, truth["after_to_before"]))
    before = np.vstack([c["centre_line_px"] for c in truth["canals"]])
    after = np.column_stack([before, np.ones(len(before))]) @ np.linalg.inv(best).T
    back = after @ given.T
    return float(np.sqrt(np.square(back[:, :2] / back[:, 2:] - before).sum(axis=1).mean()))


def score_pair(result, truth, case):
    """Rows (measure, estimate, truth, low, high) of one pair, and what was refused."""
    rows, registration, counts = [], [], {"branches": 0, "refused": 0, "third_without_filling_wrong": 0}
    if not result["registration"]["ok"]:
        return rows, registration, {**counts, "branches": len(truth["canals"]), "refused": len(truth["canals"])}
    by_name = {c["name"]: c for c in result["canals"]}
    for known in truth["canals"]:
        counts["branches"] += 1
        found = by_name.get(known["name"])
        if found is None or found["status"] != "ok":
            counts["refused"] += 1
            continue
        error = displacement_error(found, known, first_mark(case, known["name"]), truth["pixel_spacing_mm"])
        if error is not None:
            registration.append(error)
        for measure in ("mass", "area"):
            if known["residual"] and found[f"{measure}_percent"] is not None:
                rows.append((measure, found[f"{measure}_percent"], known["residual"][f"{measure}_percent"], *found[f"{measure}_interval"]))
            for third in THIRDS:
                mine, true = found["thirds"][third], known["thirds"][third]
                # A third that holds next to nothing of the filling may be called empty or not.
                slight = true is not None and known["residual"] and true["area_before_mm2"] < 0.05 * known["residual"]["area_before_mm2"]
                if (mine is None) != (true is None):
                    counts["third_without_filling_wrong"] += 0 if slight or measure == "area" else 1
                elif mine is not None and mine[f"{measure}_percent"] is not None and not slight:
                    rows.append((f"{measure} {third}", mine[f"{measure}_percent"], true[f"{measure}_percent"], *mine[f"{measure}_interval"]))
    return rows, registration, counts


def summary(rows):
    """Figures of one measure."""
    e = np.array([r[1] - r[2] for r in rows])
    low, high, true = (np.array([r[k] for r in rows]) for k in (3, 4, 2))
    return {
        "n": len(rows), "median_abs_error": float(np.median(np.abs(e))), "p95_abs_error": float(np.percentile(np.abs(e), 95)), "bias": float(e.mean()),
        "coverage": float(((low <= true) & (true <= high)).mean()), "median_width": float(np.median(high - low)),
        "interval_score": float(np.mean([winkler(*t) for t in zip(low, high, true)])),
    }


def score_all(pairs, name):
    """All figures for the results called name under the folder pairs."""
    rows, registration, matrices, seconds = [], [], [], []
    counts = {"pairs": 0, "pairs_refused": 0, "bad_pairs": 0, "bad_pairs_refused": 0, "branches": 0, "refused": 0, "third_without_filling_wrong": 0}
    for truth_file in sorted(pairs.glob("*/truth.json")):
        result_file = truth_file.parent / name
        if not result_file.exists():
            continue
        truth = json.loads(truth_file.read_text(encoding="utf-8"))
        result = json.loads(result_file.read_text(encoding="utf-8"))
        ok = result["registration"]["ok"]
        if "seconds" in result:
            seconds.append(result["seconds"])
        if not truth["comparable"]:
            counts["bad_pairs"] += 1
            counts["bad_pairs_refused"] += not ok
            continue
        counts["pairs"] += 1
        counts["pairs_refused"] += not ok
        case = json.loads((truth_file.parent / "case.json").read_text(encoding="utf-8"))
        r, g, c = score_pair(result, truth, case)
        rows += r
        registration += g
        if ok and result["registration"].get("matrix"):
            matrices.append(matrix_error(result["registration"]["matrix"], truth))
        for key, value in c.items():
            counts[key] += value
    groups = {}
    for row in rows:
        groups.setdefault(row[0], []).append(row)
    order = [f"{m}{t}" for m in ("mass", "area") for t in ("", *(f" {t}" for t in THIRDS))]
    spread = lambda values: {"n": len(values), "median": float(np.median(values)), "p95": float(np.percentile(values, 95))} if values else None
    return {
        "result": name, "counts": counts,
        "measures": {m: summary(groups[m]) for m in order if m in groups},
        "displacement_px": spread(registration), "matrix_px": spread(matrices),
        "seconds_median": float(np.median(seconds)) if seconds else None,
    }


def print_table(figures):
    c = figures["counts"]
    print(f"{figures['result']}: {c['pairs']} pairs ({c['pairs_refused']} refused), {c['branches']} branches ({c['refused']} without result), "
          f"{c['bad_pairs_refused']} of {c['bad_pairs']} bad pairs refused, {c['third_without_filling_wrong']} thirds wrongly empty or not. On simulated films.")
    if not figures["measures"]:
        return
    print(f"{'measure':15}{'n':>5}{'median |e|':>12}{'95 % |e|':>10}{'bias':>8}{'coverage':>10}{'width':>8}{'score':>8}")
    for name, m in figures["measures"].items():
        print(f"{name:15}{m['n']:5d}{m['median_abs_error']:12.2f}{m['p95_abs_error']:10.2f}{m['bias']:8.2f}{m['coverage']:10.3f}{m['median_width']:8.2f}{m['interval_score']:8.1f}")
    for key, words in (("displacement_px", "displacement along each branch by level"), ("matrix_px", "one matrix over all canals")):
        if figures[key]:
            r = figures[key]
            print(f"{words}, rms px: median {r['median']:.2f}, 95 % {r['p95']:.2f} (n {r['n']})")
    if figures["seconds_median"] is not None:
        print(f"seconds in process: median {figures['seconds_median']:.2f}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=pathlib.Path, required=True)
    parser.add_argument("--result", action="append", required=True, help="file name of the results in each sub-folder")
    parser.add_argument("--json", action="store_true")
    options = parser.parse_args()
    all_figures = [score_all(options.pairs, name) for name in options.result]
    if options.json:
        print(json.dumps(all_figures))
        return
    for figures in all_figures:
        print_table(figures)


if __name__ == "__main__":
    main()
