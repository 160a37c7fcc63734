"""Fixtures that several test files share."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings

from tests.needs import package

# One process of the tests for each processor: were NumPy's threads let loose beside, they would wait for
# each other. It counts where it is set before NumPy is loaded, and for every process that a test starts.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


@pytest.fixture(scope="session")
def spark() -> Iterator[Any]:
    sql = package("pyspark.sql")
    session = (
        sql.SparkSession.builder.master("local[1]")
        .appName("hitlab tests")
        .config("spark.ui.enabled", "false")
        .config("spark.sql.shuffle.partitions", "1")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .getOrCreate()
    )
    yield session
    session.stop()


NUMERICS = [
    "air",
    "calibration",
    "calibration_kinds",
    "calibration_report",
    "contact",
    "dependence",
    "exercises",
    "flight",
    "form",
    "form_claims",
    "half_weights",
    "innings",
    "innings_simulated",
    "intervals",
    "league_counts",
    "league_rules",
    "league_truth",
    "ledger",
    "many_splits",
    "margin",
    "matched",
    "names",
    "prior_laws",
    "questions",
    "ranking",
    "readiness",
    "responses",
    "responses_power",
    "sentences_on_air",
    "sequence",
    "sequence_patterns",
    "shapes",
    "shrinkage",
    "splits",
    "timing",
    "together",
]
"""Files that test the package's own arithmetic; left out where other versions of other packages are tried."""

LONGEST = [
    "notebooks",
    "lab",
    "cluster",
    "damage",
    "functions_of_ones_own",
    "calibration_report",
    "pages",
    "calibration",
    "together",
    "gallery",
    "desk",
    "eye",
    "usual",
    "showing",
    "questions",
    "split_verdicts",
    "splits_on_engines",
    "recipes",
]
"""Files that take longest with their slow tests. A file goes to one process whole: these come first, that no
process is left alone with one at the end."""


@pytest.hookimpl(tryfirst=True)  # before it is chosen by marks
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    seen = set()
    for item in items:
        if item.get_closest_marker("slow_beyond_first"):
            function = item.nodeid.split("[")[0]
            if function in seen:
                item.add_marker(pytest.mark.slow)
            seen.add(function)
        if _of(item) in NUMERICS:
            item.add_marker(pytest.mark.numerics)
    items.sort(key=lambda item: LONGEST.index(_of(item)) if _of(item) in LONGEST else len(LONGEST))


def _of(item: pytest.Item) -> str:
    """Return what a test's file is called after."""
    return item.path.stem.removeprefix("test_")


# Speed is measured by benchmarks, never by tests: an example may take its time on a busy machine.
settings.register_profile("hitlab", deadline=None)
settings.load_profile("hitlab")
