"""Fixtures that several test files share."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings

from tests.needs import package


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


# Speed is measured by benchmarks, never by tests: an example may take its time on a busy machine.
settings.register_profile("hitlab", deadline=None)
settings.load_profile("hitlab")
