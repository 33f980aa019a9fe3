"""Scores results in the shape of `compare` against the truth of simulated pairs.

    score.py --pairs DIR --result general.json [--result mine.json] [--json]

Every sub-folder with a truth.json and that result counts. Errors are estimate minus truth, in percent of the filling before;
registration errors in px of the film after, along the canals. Coverage: share of 95 % intervals that hold the truth. Interval
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


def mark_at_end(case, name):
    """The mark [x, y] that was set at the end of a branch, or None."""
    canals = list(case["canals"])
    while canals:
        canal = canals.pop()
        if canal["name"] == name:
            return np.array(canal["trace_px"][-1], float)
        canals += canal.get("branches") or []
    return None


def registration_error(result, truth, end_mark, spacing):
    """Root mean square, px, of the displacement's error at the levels of the truth that the result reaches.

    The result counts from where the end was marked, the truth from where it is; a mark some pixels short is no error of
    registration, so levels are shifted by where on the true centre line the mark lies.
    """
    rows = np.array(result["displacement_px"], float)
    known = np.array(truth["displacement_px"], float)
    if len(rows) < 2:
        return None
    line = np.array(truth["centre_line_px"], float)
    dense = np.column_stack([np.interp(np.arange(0, len(line) - 1, 0.05), np.arange(len(line)), line[:, k]) for k in (0, 1)])
    levels = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(dense, axis=0).T))])
    short = 0.0 if end_mark is None else (levels[-1] - levels[np.argmin(np.hypot(*(dense - end_mark).T))]) * spacing
    rows = rows[np.argsort(rows[:, 0])]
    rows[:, 0] += short
    inside = (known[:, 0] >= rows[0, 0] - 0.3) & (known[:, 0] <= rows[-1, 0] + 0.3)
    if not inside.any():
        return None
    known = known[inside]
    error = [np.interp(known[:, 0], rows[:, 0], rows[:, k]) - known[:, k] for k in (1, 2)]
    return float(np.sqrt((np.square(error[0]) + np.square(error[1])).mean()))


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
        error = registration_error(found, known, mark_at_end(case, known["name"]), truth["pixel_spacing_mm"])
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
    rows, registration, seconds = [], [], []
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
        for key, value in c.items():
            counts[key] += value
    groups = {}
    for row in rows:
        groups.setdefault(row[0], []).append(row)
    order = [f"{m}{t}" for m in ("mass", "area") for t in ("", *(f" {t}" for t in THIRDS))]
    return {
        "result": name, "counts": counts,
        "measures": {m: summary(groups[m]) for m in order if m in groups},
        "registration_px": {"n": len(registration), "median": float(np.median(registration)), "p95": float(np.percentile(registration, 95))} if registration else None,
        "seconds_median": float(np.median(seconds)) if seconds else None,
    }


def print_table(figures):
    c = figures["counts"]
    print(f"{figures['result']}: {c['pairs']} pairs ({c['pairs_refused']} refused), {c['branches']} branches ({c['refused']} without result), "
          f"{c['bad_pairs_refused']} of {c['bad_pairs']} bad pairs refused, {c['third_without_filling_wrong']} thirds wrongly empty or not. On simulated films.")
    print(f"{'measure':15}{'n':>5}{'median |e|':>12}{'95 % |e|':>10}{'bias':>8}{'coverage':>10}{'width':>8}{'score':>8}")
    for name, m in figures["measures"].items():
        print(f"{name:15}{m['n']:5d}{m['median_abs_error']:12.2f}{m['p95_abs_error']:10.2f}{m['bias']:8.2f}{m['coverage']:10.3f}{m['median_width']:8.2f}{m['interval_score']:8.1f}")
    if figures["registration_px"]:
        r = figures["registration_px"]
        print(f"registration along canals, rms px: median {r['median']:.2f}, 95 % {r['p95']:.2f} (n {r['n']})")
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
