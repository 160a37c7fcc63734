"""How long a step of each slider in the lessons takes, with its picture.

``python -m tests.benchmarks.bench_sliders 06 07 08 09``, or all lessons. The solutions are run with every
slider caught; then each is moved over all its places, as a learner would who goes where it has not been:
worked out, drawn, written as PNG and put into HTML. Counted are milliseconds of the processor, which on an
idle machine are those of the clock, and of a place's ``--rounds`` the shortest: on a busy machine the rest
measures the neighbours. Printed are the middle place and the slowest, and the very first round, in which no
letter has been drawn before. A last line names those that are not under ``--most``.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import statistics
import time
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes

from hitlab.course.sources import read_source, source_paths
from hitlab.exercises import sliders


@dataclass(frozen=True, slots=True)
class Slider:
    """One slider of a lesson: what it is called, what it draws, and its places."""

    lesson: str
    name: str
    draw: Callable[[Any], Axes]
    places: tuple[Any, ...]

    def seconds(self) -> list[float]:
        """Seconds of the processor for a step to each place."""
        taken = []
        for place in self.places:
            start = time.process_time()
            sliders.picture_of(self.draw(place), quick=True)
            taken.append(time.process_time() - start)
        return taken


def sliders_of(number: str) -> list[Slider]:
    """Run a lesson's solutions and return its sliders, with all that they draw on."""
    found: list[Slider] = []
    (path,) = source_paths((number,))

    def caught(draw: Callable[[Any], Axes], name: str, values: Sequence[Any], start: Any = None) -> None:
        found.append(Slider(number, name, draw, tuple(values)))

    shown, sliders.move_it = sliders.move_it, caught
    try:
        space: dict[str, Any] = {"__name__": "__main__"}
        with contextlib.redirect_stdout(io.StringIO()):
            for cell in read_source(path).cells:
                if cell.kind == "code" and "answer" not in cell.tags:
                    exec(compile(cell.text, path.name, "exec"), space)
    finally:
        sliders.move_it = shown
    return found


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("lessons", nargs="*", help="numbers of lessons; all where none is given")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--most", type=float, default=100.0, help="milliseconds that a step may take")
    asked = parser.parse_args()
    os.environ["HITLAB_PROGRESS"] = "off"
    warnings.simplefilter("ignore")
    over = []
    for number in [path.stem[:2] for path in source_paths(tuple(asked.lessons))]:
        for slider in sliders_of(number):
            first, *again = (slider.seconds() for _ in range(asked.rounds))
            best = [1000 * min(times) for times in zip(first, *again, strict=True)]
            print(
                f"lesson {number}, {slider.name}: {statistics.median(best):.0f} ms a step, "
                f"the slowest of {len(best)} places {max(best):.0f}; "
                f"in the first round {1000 * statistics.median(first):.0f} and {1000 * max(first):.0f}",
                flush=True,
            )
            if max(best) >= asked.most:
                over.append(f"lesson {number}, {slider.name}")
    print(f"{asked.most:.0f} ms or more at some place: {'; '.join(over) or 'no slider'}")


if __name__ == "__main__":
    main()
