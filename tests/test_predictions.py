"""Whoever is asked to predict a number reads it nowhere before, and not in the next words either."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from hitlab.exercises.definitions import Bounds
from hitlab.exercises.library import lessons
from hitlab.wording import percent, rate_text
from tests.needs import package

package("IPython")

SOLUTIONS = Path(__file__).resolve().parent.parent / "notebooks" / "solutions"
PREDICT = [e for lesson in lessons() for e in lesson.exercises if isinstance(e.form, Bounds)]
CELLS_AFTER = 4

SHARE = "share"
# What the number is of: a share (per cent or a correlation), or the words that follow a whole number.
ASKED_IN = {
    "00.within-one": SHARE,
    "01.both-lists": r" (?:of the (?:ten|twenty|names)|hitters|names)",
    "02.still-on-top": r" of the eight",
    "03.first-and-best": SHARE,
    "04.nine-in-ten": SHARE,
    "05.second-throw": r" sixes",
    "06.tenth-of-an-inch": r"(?:°| degrees)",
    "07.best-angle": r"(?:°| degrees)",
    "08.fair-window": r" (?:ms|milliseconds)",
    "09.the-fast-ones": SHARE,
    "10.fifty-swings": SHARE,
    "11.missed-again": SHARE,
    "12.bases-full": r" runs",
    "13.by-luck": SHARE,
}
_TAG = re.compile(r'<img [^>]*?alt="([^"]*)"[^>]*>|<style.*?</style>|<[^>]*>', re.S)
_WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]


def patterns(truth, asked_in):
    """Return how a lesson would print a number: per cent and rate, or whole with its unit; one decimal."""
    out = [re.escape(f"{truth:.1f}")]
    if asked_in == SHARE:
        share = truth if 0 < truth < 1 else truth / 100
        one = [re.escape(rate_text(share)), re.escape(percent(share)), f"{share:.2f}"]
        return [*one, f"{100 * share:.0f} of (?:100|a hundred)", *(out if truth > 1 else [])]
    whole = round(truth)
    words = [str(whole), *_WORDS[whole : whole + 1]]
    return [*out, *(word + asked_in for word in words)]


def stands_in(text, truth, asked_in):
    """Say whether the number stands in a text, as a number of its own and no part of a longer one."""
    either = "|".join(patterns(truth, asked_in))
    return re.search(rf"(?<![\w.,/])(?:{either})(?![\w/]|[.,]\d)", text, re.I) is not None


def read_of(cell):
    """Return what is read of a cell: its prose, or what it put out, words of pictures among it."""
    if cell["cell_type"] == "markdown":
        return "".join(cell["source"])
    parts = []
    for output in cell["outputs"]:
        data = output.get("data", {})
        value = output.get("text") or data.get("text/html") or data.get("text/plain") or ""
        parts.append(_TAG.sub(lambda tag: f" {tag[1] or ''} ", "".join(value)))
    return "\n".join(parts)


def given_away(cells, exercise, truth, asked_in):
    """Return the ids of the cells that tell a prediction's number too early."""
    tags = [set(cell["metadata"].get("tags", ())) for cell in cells]
    answer = next(i for i, cell in enumerate(cells) if f'check("{exercise}"' in "".join(cell["source"]))
    question = max(i for i in range(answer) if "exercise" in tags[i])
    after = [cell for cell, tag in zip(cells, tags, strict=True) if "asserted" not in tag]
    after = after[after.index(cells[answer]) + 1 :][:CELLS_AFTER]
    early = [*cells[:question], *(cell for cell in after if cell["cell_type"] == "markdown")]
    return {cell["id"] for cell in early if stands_in(read_of(cell), truth, asked_in)}


def test_every_prediction_is_looked_at():
    assert sorted(ASKED_IN) == sorted(exercise.id for exercise in PREDICT)


@pytest.mark.parametrize("exercise", PREDICT, ids=lambda exercise: exercise.id)
def test_a_number_that_is_to_be_predicted_is_not_told_before(exercise):
    (path,) = SOLUTIONS.glob(f"{exercise.id[:2]}_*.ipynb")
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    assert given_away(cells, exercise.id, exercise.form.truth(), ASKED_IN[exercise.id]) == set()


LUCK = dict.fromkeys(["54 %", ".543", "54.3", "0.54", "54 of 100"], True) | dict.fromkeys(
    ["154 %", "54.9", ".5432", "54 inches", "1.543", "54 %x", "54/100"], False
)


@pytest.mark.parametrize(("text", "there"), LUCK.items())
def test_a_number_is_found_as_the_lessons_print_it(text, there):
    assert stands_in(f"Luck gives {text}.", 54.32, SHARE) is there


def test_a_count_is_found_in_digits_and_words_with_what_it_counts():
    for text, there in {"Seven of the ten": 1, "7 hitters": 1, "at bat 7": 0, "17 hitters": 0}.items():
        assert stands_in(text, 7.0, ASKED_IN["01.both-lists"]) is bool(there)


@pytest.mark.parametrize("where", range(10))
def test_a_number_is_found_before_and_shortly_after_and_nowhere_else(where):
    prose, code = {"cell_type": "markdown"}, {"cell_type": "code"}
    kinds = [prose, code, prose, code, prose, code, prose, code, prose, prose]
    cells = [{"id": f"c{at}", "source": "", "metadata": {}, "outputs": [], **kinds[at]} for at in range(10)]
    cells[2]["metadata"] = {"tags": ["exercise"]}
    cells[3] |= {"source": 'check("13.x", answer)', "metadata": {"tags": ["solution"]}}
    cells[5]["metadata"] = {"tags": ["asserted"]}  # in no learner's copy, and not counted
    if cells[where]["cell_type"] == "markdown":
        cells[where]["source"] = "It is 54 %."
    else:
        cells[where]["outputs"] = [{"data": {"text/html": '<img alt="It is 54 %." src="data:x">'}}]
    found = given_away(cells, "13.x", 54.32, SHARE)
    assert found == ({f"c{where}"} if where in (0, 1, 4, 6, 8) else set())
