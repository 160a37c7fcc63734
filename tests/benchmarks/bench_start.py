"""How long an answer takes from a cold start, against ``import pandas`` in the same run.

``python -m tests.benchmarks.bench_start``: each in a process of its own, in turn; the median of the rounds;
the first round, which fills the caches, is not counted. Modules are compiled, as an installation leaves
them, into a folder of the benchmark's own: where an environment forbids that, hitlab's would be compiled in
every round, and pandas', which its installation compiled, would not.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

ROUNDS = 7
_OPEN = 3  # the exit code of an open claim, which the demo season's leader is
COMMANDS = {
    "import pandas": (["-c", "import pandas"], 0),
    "import hitlab": (["-c", "import hitlab"], 0),
    "hitlab check leads": (["-m", "hitlab", "check", "leads"], _OPEN),
}
"""What is run, and the exit code that it ends with."""


def seconds(arguments: list[str], code: int, compiled: str) -> tuple[float, float]:
    """Return the seconds on the clock and those of the processors of a command that ends with an exit code.

    ``compiled`` is the folder of compiled modules.

    Raises
    ------
    SystemExit
        Where it ends with another one: what did not do its work has no time.
    """
    surroundings = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
    surroundings.pop("PYTHONDONTWRITEBYTECODE", None)
    start, before = time.perf_counter(), os.times()
    ended = subprocess.run(
        [sys.executable, *arguments],
        env=surroundings,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    clock, after = time.perf_counter() - start, os.times()
    if ended.returncode != code:
        raise SystemExit(
            f"python {' '.join(arguments)} ended with exit code {ended.returncode} in place of {code}:\n"
            f"{ended.stderr.strip()}"
        )
    user = after.children_user - before.children_user
    return clock, user + (after.children_system - before.children_system)


def main() -> None:
    """Print the seconds of each, and how many times ``import pandas`` they are."""
    taken: dict[str, list[tuple[float, float]]] = {name: [] for name in COMMANDS}
    with tempfile.TemporaryDirectory() as compiled:
        for number in range(ROUNDS + 1):
            for name, (arguments, code) in COMMANDS.items():
                both = seconds(arguments, code, compiled)
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
