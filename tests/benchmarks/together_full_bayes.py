"""Make tests/reference/together_full_bayes.json: the correlation of two rates by a full Bayesian fit.

Run ``python tests/benchmarks/together_full_bayes.py`` in an environment of its own with ``pip install pymc``
(it is no dependency of hitlab, and this script does not import hitlab). Takes a few minutes. The model and
the priors are those of ``hitlab.two_rates.logit_normal``, written down again for PyMC, whose No-U-Turn
sampler draws every hitter's two talents, both means, both spreads and the correlation.
"""

from __future__ import annotations

import json
import platform
from pathlib import Path

import numpy as np

TARGET = Path(__file__).resolve().parent.parent / "reference" / "together_full_bayes.json"

# Seed, hitters, correlation, means, spreads (both in log odds), exposure from and to (log-uniform).
LEAGUES = {
    "season": (11, 120, 0.5, (-1.8, -0.5), (0.30, 0.25), (20, 600)),
    "small counts": (12, 60, 0.6, (-1.6, -2.2), (0.8, 1.0), (5, 40)),
}
CHAINS, TUNE, DRAWS = 4, 2000, 5000


def draw(seed, hitters, correlation, means, spreads, exposures):
    """Draw a league's counts from the model."""
    rng = np.random.default_rng(seed)
    z = rng.standard_normal((2, hitters))
    z[1] = correlation * z[0] + np.sqrt(1 - correlation**2) * z[1]
    counts = {}
    for i, mean, spread in zip((1, 2), means, spreads, strict=True):
        n = np.rint(np.exp(rng.uniform(*np.log(exposures), hitters))).astype(int)
        counts[f"n{i}"] = n
        counts[f"k{i}"] = rng.binomial(n, 1 / (1 + np.exp(-mean - spread * z[i - 1])))
    return counts


def fit(counts, seed):
    """Sample the posterior; return the summary of the correlation and of the spreads."""
    import arviz as az
    import pymc as pm

    with pm.Model():
        mean = pm.Normal("mean", 0, 4, shape=2)
        spread = pm.HalfNormal("spread", 1, shape=2)
        correlation = pm.Uniform("correlation", -1, 1)
        z = pm.Normal("z", 0, 1, shape=(2, len(counts["k1"])))
        second = correlation * z[0] + pm.math.sqrt(1 - correlation**2) * z[1]
        pm.Binomial("events1", counts["n1"], logit_p=mean[0] + spread[0] * z[0], observed=counts["k1"])
        pm.Binomial("events2", counts["n2"], logit_p=mean[1] + spread[1] * second, observed=counts["k2"])
        sampled = pm.sample(
            DRAWS, tune=TUNE, chains=CHAINS, cores=1, random_seed=seed, target_accept=0.95, progressbar=False
        )
    draws = sampled.posterior["correlation"].to_numpy().ravel()
    size = float(az.ess(sampled, var_names=["correlation"])["correlation"])
    quantiles = (0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975)
    return {
        "mean": float(draws.mean()),
        "standard_deviation": float(draws.std()),
        "chance_positive": float((draws > 0).mean()),
        "quantiles": {str(q): float(np.quantile(draws, q)) for q in quantiles},
        "spread_means": sampled.posterior["spread"].mean(("chain", "draw")).to_numpy().tolist(),
        "effective_draws": size,
        "r_hat": float(az.rhat(sampled, var_names=["correlation"])["correlation"]),
        "divergences": int(sampled.sample_stats["diverging"].sum()),
    }


def main() -> None:
    """Draw, fit and write."""
    import pymc as pm

    found = {
        "made_by": "tests/benchmarks/together_full_bayes.py",
        "versions": {"pymc": pm.__version__, "numpy": np.__version__, "python": platform.python_version()},
        "chains": CHAINS,
        "draws_a_chain": DRAWS,
        "leagues": {},
    }
    for name, settings in LEAGUES.items():
        counts = draw(*settings)
        result = fit(counts, settings[0])
        found["leagues"][name] = {
            "true_correlation": settings[2],
            "counts": {key: value.tolist() for key, value in counts.items()},
            "posterior": result,
        }
        print(name, result)
    TARGET.parent.mkdir(exist_ok=True)
    TARGET.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
