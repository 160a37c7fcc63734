"""How long an answer takes from a cold start, against ``import pandas`` in the same run.

``python -m tests.benchmarks.bench_start``: each in a process of its own, in turn; the median of the rounds;
the first round, which fills the caches, is not counted.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time

ROUNDS = 7
COMMANDS = {
    "import pandas": ["-c", "import pandas"],
    "import hitlab": ["-c", "import hitlab"],
    "hitlab check leads": ["-m", "hitlab", "check", "leads"],
}


def _seconds(arguments: list[str]) -> tuple[float, float]:
    """Return the seconds on the clock and those of the processors."""
    start, before = time.perf_counter(), os.times()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    clock, after = time.perf_counter() - start, os.times()
    spent = after.children_user + after.children_system - before.children_user - before.children_system
    return clock, spent


def main() -> None:
    """Print the seconds of each, and how many times ``import pandas`` they are."""
    taken: dict[str, list[tuple[float, float]]] = {name: [] for name in COMMANDS}
    for number in range(ROUNDS + 1):
        for name, arguments in COMMANDS.items():
            both = _seconds(arguments)
            if number:
                taken[name].append(both)
    middle = {
        name: [statistics.median(each) for each in zip(*rows, strict=True)] for name, rows in taken.items()
    }
    first = middle["import pandas"]
    for name, (clock, spent) in middle.items():
        print(
            f"{name}: {clock:.2f} s, {clock / first[0]:.2f} times import pandas; "
            f"{spent:.2f} s of processors, {spent / first[1]:.2f} times"
        )


if __name__ == "__main__":
    main()
