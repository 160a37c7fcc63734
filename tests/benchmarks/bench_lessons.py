"""How long each lesson runs, one kernel start counted: ``python -m tests.benchmarks.bench_lessons [NN ...]``.

Processor seconds stand beside the clock, since on a busy machine the clock measures the neighbours.
"""

from __future__ import annotations

import asyncio
import os
import sys
import tempfile
import time
from pathlib import Path

import nbclient
import nbformat
from traitlets.config import Config

from hitlab.course.kernels import reached_by_files

FOLDER = Path(__file__).parents[2] / "notebooks"


def run(path: Path, folder: str) -> tuple[float, float]:
    """Run one notebook; return processor seconds and seconds by the clock."""
    with tempfile.TemporaryDirectory(prefix="hitlab-") as home:
        return _run(path, folder, Config({"ConnectionFileMixin": reached_by_files(Path(home))}))


def _run(path: Path, folder: str, config: Config) -> tuple[float, float]:
    notebook = nbformat.read(path, as_version=4)
    client = nbclient.NotebookClient(notebook, timeout=300, kernel_name="python3", config=config)
    clock, before = time.perf_counter(), os.times()
    asyncio.run(client.async_execute(env={**os.environ, "HITLAB_PROGRESS": "off"}, cwd=folder))
    after = os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return used, time.perf_counter() - clock


def main() -> None:
    """Run the lessons that were named, or all, learner's copies and solutions."""
    wanted = tuple(sys.argv[1:]) or ("",)
    with tempfile.TemporaryDirectory() as folder:
        for path in sorted((*FOLDER.glob("[0-9]*.ipynb"), *FOLDER.glob("solutions/*.ipynb"))):
            if path.name.startswith(wanted):
                used, clock = run(path, folder)
                print(
                    f"{path.relative_to(FOLDER)!s:62} {used:5.1f} s of processor, {clock:5.1f} s by the clock"
                )


if __name__ == "__main__":
    main()
