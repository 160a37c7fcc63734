"""A full Bayesian fit of one league by PyMC, kept in a file that the tests compare with.

    python -m tests.benchmarks.full_bayes

writes ``tests/reference/full_bayes.json``: means, 90 % intervals and chances of best of 40 hitters, by four
chains of the no-U-turn sampler on the hierarchical model itself (true rates are parameters, nothing is
integrated by hand), with the same prior: flat on the law's mean and on its spread. Needs ``pip install
pymc``, which nothing else does.
"""

from __future__ import annotations

import json
import time
from pathlib import Path

import numpy as np

REFERENCE = Path(__file__).resolve().parent.parent / "reference" / "full_bayes.json"


def league() -> tuple[np.ndarray, np.ndarray]:
    """Draw events and exposure of 40 hitters."""
    rng = np.random.default_rng(40)
    exposure = np.rint(np.exp(rng.uniform(np.log(20), np.log(600), 40))).astype(int)
    return rng.binomial(exposure, rng.beta(27, 165, 40)), exposure


def main() -> None:
    """Sample and write the file."""
    import pymc as pm

    events, exposure = league()
    start = time.perf_counter()
    with pm.Model():
        mean = pm.Uniform("mean", 0, 1)
        r = pm.Uniform("r", 0, 1 / np.sqrt(3))
        size = 1 / r**2 - 1
        truth = pm.Beta("truth", mean * size, (1 - mean) * size, shape=len(events))
        pm.Binomial("events", exposure, truth, observed=events)
        trace = pm.sample(
            4_000, tune=2_000, chains=4, cores=1, target_accept=0.97, random_seed=1, progressbar=False
        )
    seconds = time.perf_counter() - start
    truths = trace.posterior["truth"].to_numpy().reshape(-1, len(events))
    best = np.bincount(truths.argmax(axis=1), minlength=len(events)) / len(truths)
    import arviz as az

    effective = az.ess(trace, var_names=["truth"])["truth"].to_numpy()
    answer = {
        "made_with": f"pymc {pm.__version__}, 4 chains of 4,000 draws",
        "seconds": round(seconds, 1),
        "smallest_effective_draws": float(effective.min()),
        "largest_rhat": float(az.rhat(trace)["truth"].max()),
        "divergences": int(trace.sample_stats["diverging"].sum()),
        "events": events.tolist(),
        "exposure": exposure.tolist(),
        "mean": truths.mean(axis=0).round(6).tolist(),
        "spread": truths.std(axis=0).round(6).tolist(),
        "low": np.quantile(truths, 0.05, axis=0).round(6).tolist(),
        "high": np.quantile(truths, 0.95, axis=0).round(6).tolist(),
        "chance_best": best.round(6).tolist(),
    }
    REFERENCE.parent.mkdir(exist_ok=True)
    REFERENCE.write_text(json.dumps(answer, indent=1) + "\n")
    print(
        {key: answer[key] for key in ("seconds", "smallest_effective_draws", "largest_rhat", "divergences")}
    )


if __name__ == "__main__":
    main()
