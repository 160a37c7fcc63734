"""No term is used before the cell that explains it, and no word of the trade stays unexplained.

Looked through in the order in which a learner meets it: prose, exercises with all that they may say,
comments, and what the cells put out. Left out by rule is what the words of code force: what stands in
backticks, names with an underscore or a dot, and in what is put out a heading of one word in lower case,
which is a column's name, and a cell that is a value of a column of the pitch table. The lessons' own
names, and the kind in an exercise's heading, are names.
"""

from __future__ import annotations

import io
import json
import re
import tokenize
from functools import cache
from html import unescape

import numpy as np
import pytest

from hitlab.exercises.definitions import Choice, Sentence
from hitlab.exercises.library import lessons
from hitlab.pitches.schema import COLUMNS
from tests.needs import package

package("IPython")
package("jupytext")

from hitlab.course.sources import (  # noqa: E402
    Cell,
    Source,
    checked_in,
    lessons_folder,
    read_source,
    source_paths,
)
from hitlab.course.terms import TERMS, Term, explained  # noqa: E402

DRAWS = 12  # of each question that has other numbers each time

# Words of statistics and of the trade that no lesson explains: plainer ones say the same.
UNEXPLAINED = "|".join(
    (
        "percentiles?",
        "quantiles?",
        "quartiles?",
        "deciles?",
        "medians?",
        "modal",
        "priors?",
        "likelihoods?(?! ratio)",
        "confounders?",
        "confounded",
        "confounding",
        "regression",
        "regress(?:es|ed)?",
        "standard errors?",
        "margin of error",
        "significant(?:ly)?",
        "significance",
        "hypothes[ie]s",
        "null",
        r"bootstrap\w*",
        "permutations?",
        "permuted",
        "logits?",
        "log[- ]odds",
        "residuals?",
        "outliers?",
        "covariates?",
        r"bayes\w*",
        "frequentist",
        "maximum likelihood",
        "beta[- ]binomial",
        "binomial",
        "gaussian",
        "normal distribution",
        "distributions?",
        "(?<!air )densit(?:y|ies)",
        "stochastic",
        r"heterogene\w+",
        r"homogene\w+",
        r"overdispers\w+",
        "estimators?",
        "unbiased",
        "bias(?:ed)?",
        "skew(?:ed|ness)?",
        "kurtosis",
        "covariance",
        "monte carlo",
        "credible",
        "confidence intervals?",
        "empirical",
        "z-scores?",
        "t-tests?",
        "chi-?squared?",
        "anova",
        "r-squared",
        "ops",
        "slugging",
        "slash lines?",
        "on-base percentage",
        "batting average",
        "exit velocit(?:y|ies)",
        "barrels? up",
        "platoon",
        "leverage",
        "pinch",
        "bullpen",
        "dugout",
        "sliders? (?:away|down)",
        "changeups?",
        "sinkers?",
        "splitters?",
        "knuckleballs?",
        "backdoor",
        "clutch",
        r"bloop\w*",
        "seeing-eye",
        "duck snort",
        "frozen rope",
        "can of corn",
        r"(?:top|bottom) of the (?:\w+th|first|second|third|inning)",
        "on deck",
        "in the hole",
    )
)
_UNEXPLAINED = re.compile(rf"(?<![\w-])(?:{UNEXPLAINED})(?![\w-])", re.I)

_CODE = re.compile(r"```.*?```|`[^`]*`", re.S)
_CALL = re.compile(r"\b\w+\.\w+(?:\((?:[^()]|\([^()]*\))*\))?|\[+\"\w+\"\]+")  # rng.binomial(n, p), ["fair"]
_NAME = re.compile(r"\b\w*_\w*\b")
_KIND = re.compile(r"^(### .+?) \(\w+, (?:core|optional), \d+ min\)$", re.M)
_INDEX = re.compile(r"^[a-z]+(?= {2,})", re.M)
_ADDRESS = re.compile(r"\]\([^)]*\)")
_MARK = re.compile(r"(?<!\*)\*(?!\*)")
_HEADING = re.compile(r"<th[^>]*>\s*[a-z]+\s*</th>")
_CELL = re.compile(r"<td[^>]*>([^<]*)</td>")
_ALT = re.compile(r'<img [^>]*?alt="([^"]*)"[^>]*>', re.S)
_TAG = re.compile(r"<(style|script).*?</\1>|<[^>]*>", re.S)
_VALUES = {value for column in COLUMNS.values() for value in column.words}


def plain(text: str) -> str:
    """Return prose without what is code in it."""
    for pattern, by in (
        (_CODE, " "), (_KIND, r"\1"), (_ADDRESS, "]"), (_CALL, " "), (_NAME, " "), (_MARK, ""),
        (titles(), " "),
    ):  # fmt: skip
        text = pattern.sub(by, text)
    return text


@cache
def titles() -> re.Pattern[str]:
    """Find the lessons' names: whoever reads "next: weigh small samples" need not know more."""
    return re.compile("|".join(re.escape(lesson.title) for lesson in lessons()), re.I)


def put_out(output: dict) -> str:
    """Return the words that a cell's output shows."""
    data = output.get("data", {})
    text = (
        output.get("text") or data.get("text/html") or data.get("text/markdown") or data.get("text/plain", "")
    )
    text = text if isinstance(text, str) else "".join(text)
    if "text/html" in data:
        text = _HEADING.sub(" ", text)
        text = _CELL.sub(lambda cell: " " if cell[1].strip() in _VALUES else f" {cell[1]} ", text)
        text = unescape(_TAG.sub(" ", _ALT.sub(r" \1 ", text)))
    return plain(_INDEX.sub(" ", text))


def comments(code: str) -> str:
    """Return a code cell's comments and the explanations of its functions."""
    tokens = tokenize.generate_tokens(io.StringIO(code).readline)
    kept = [t.string for t in tokens if t.type == tokenize.COMMENT or t.string.startswith('"""')]
    return plain(" ".join(kept))


def of_exercise(exercise) -> str:
    """Return all that an exercise may say."""
    said = [exercise.way(), exercise.praise, *exercise.hints, *(wrong.says for wrong in exercise.wrong)]
    if isinstance(exercise.form, Choice):
        said += exercise.form.options.values()
    if isinstance(exercise.form, Sentence):
        said.append(exercise.form.said())
        said += [f"{point.name} {point.asks}" for point in exercise.form.points]
        said += [much.why for much in exercise.form.too_much]
    return plain("\n".join(said))


@cache
def sources() -> tuple[Source, ...]:
    return tuple(read_source(path) for path in source_paths())


@cache
def texts() -> tuple[tuple[str, int, str, str], ...]:
    """Return lesson, place of the cell, where, and the words there, in the order of the lessons."""
    by_id = {exercise.id: exercise for lesson in lessons() for exercise in lesson.exercises}
    found = []
    for source, lesson in zip(sources(), lessons(), strict=True):
        outputs = committed(source.name)
        for place, cell in enumerate(source.cells):
            if "plan" in cell.tags:  # the teacher's, who has read the lesson
                continue
            found += [
                (source.number, place, f"{cell.id} {what}", text) for what, text in in_cell(cell, outputs)
            ]
            if cell.kind == "code" and "answer" in cell.tags:
                for name in checked_in(cell.text):
                    found.append((source.number, place, f"exercise {name}", of_exercise(by_id[name])))
        rng = np.random.default_rng(1)
        end = len(source.cells)  # they are asked in later lessons
        found.append((source.number, end, "because", plain(lesson.because)))
        for again in lesson.again:
            for _ in range(DRAWS):
                question, exercise = again.draw(rng)
                found.append((source.number, end, again.id, f"{plain(question)}\n{of_exercise(exercise)}"))
    return tuple(found)


def in_cell(cell: Cell, outputs: dict[str, str]) -> list[tuple[str, str]]:
    if cell.kind == "markdown":
        return [("prose", plain(cell.text))]
    kept = [] if "asserted" in cell.tags else [("comment", comments(cell.text))]
    return [*kept, ("output", outputs.get(cell.id, ""))]


@cache
def committed(name: str) -> dict[str, str]:
    path = lessons_folder() / "solutions" / f"{name}.ipynb"
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return {
        cell["id"]: "\n".join(map(put_out, cell["outputs"])) for cell in cells if cell["cell_type"] == "code"
    }


def around(text: str, match: re.Match) -> str:
    return " ".join(text[max(match.start() - 40, 0) : match.end() + 30].split())


def early(number: str, found_at: tuple[tuple[str, int, str, str], ...]) -> list[str]:
    """Return what one lesson's texts say before it is explained, one line each."""
    return [
        f"{number} {where}: {one.term.name!r} (lesson {one.lesson}): {around(text, match)}"
        for one in explained(list(sources()))
        for lesson, place, where, text in found_at
        if lesson == number and (lesson, place) < (one.lesson, one.cell)
        for match in one.term.pattern.finditer(text)
    ]


NUMBERS = [path.stem[:2] for path in source_paths()]


@pytest.mark.slow
@pytest.mark.parametrize("number", NUMBERS)
def test_no_term_is_used_before_it_is_explained(number):
    found = early(number, texts())
    assert not found, "\n".join(found)


@pytest.mark.slow
@pytest.mark.parametrize("number", NUMBERS)
def test_no_word_stays_unexplained(number):
    found = [
        f"{lesson} {where}: {around(text, match)}"
        for lesson, _, where, text in texts()
        if lesson == number
        for match in _UNEXPLAINED.finditer(text)
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "words",
    [
        "His true rates differ.",
        "after fouling, he whiffed",
        "the intervals",
        "on balls in play",
        "two innings",
    ],
)
def test_what_is_said_too_early_is_found(words):
    assert early("00", (("00", 0, "planted", words),))
    assert not early("13", (("13", 99, "planted", words),))


@pytest.mark.parametrize(
    "words", ["the upper quantile", "regression to the mean", "bottom of the eighth", "an OPS"]
)
def test_what_nobody_explains_is_found(words):
    assert _UNEXPLAINED.search(words)


def test_every_term_has_one_place_and_a_meaning():
    found = explained(list(sources()))
    assert [one.term for one in found] == list(TERMS)
    anchors = [one.term.anchor for one in found]
    assert len(set(anchors)) == len(anchors)
    assert all(one.meaning for one in found)


@pytest.mark.parametrize("term", TERMS, ids=lambda term: term.anchor)
def test_each_term_is_found_in_the_lesson_that_explains_it(term: Term):
    """A pattern that finds nothing would hold nothing."""
    one = next(one for one in explained(list(sources())) if one.term is term)
    assert any(term.pattern.search(text) for lesson, _, _, text in texts() if lesson >= one.lesson)


def test_what_code_forces_is_left_out_and_prose_is_not():
    table = "<table><th>spread</th><th>Spread of all</th><td>foul</td><td>a foul</td></table>"
    assert put_out({"data": {"text/html": table}}).split() == ["Spread", "of", "all", "a", "foul"]
    assert plain("the `spread` of half_weight_size, *spread*").split() == ["the", "of", ",", "spread"]
    assert comments("x = 'spread'  # the spread").split() == ["#", "the", "spread"]
