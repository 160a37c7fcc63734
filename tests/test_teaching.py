"""What is made for teachers: slides, plans, tests before and after, the marking guide, all in one folder."""

from __future__ import annotations

import base64
import hashlib
import html
import io
import itertools
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure
from matplotlib.image import imread
from matplotlib.text import Text
from pypdf import PdfReader

from hitlab.course import forms, teaching
from hitlab.course import plans as plan_pages
from hitlab.course import slides as slide_cells
from hitlab.course.__main__ import main
from hitlab.course.building import copies
from hitlab.course.classes import COLUMNS
from hitlab.course.course_plans import DAY, WEEKS, course_pages, day, weeks
from hitlab.course.marking_guide import guide_html, sentences_of
from hitlab.course.minutes import minutes_of
from hitlab.course.plans import plan_html, read_plan, write_plans
from hitlab.course.projects import projects_of
from hitlab.course.slide_pages import HEIGHT, LEAST_LETTERS, WIDTH, deck, draw_slide, too_small
from hitlab.course.slide_pictures import cuts
from hitlab.course.slides import SLIDES, Part, Picture, Slide, read_slides, write_slides
from hitlab.course.sources import CourseError, read_source, source_paths
from hitlab.course.teaching import write_teacher
from hitlab.exercises.before_after import TEMPLATES, leaders_record
from hitlab.exercises.definitions import Choice
from hitlab.exercises.library import find_exercise, find_lesson
from hitlab.pages.printing import printed, sides
from hitlab.physics import collide, offset_from_miss
from hitlab.plots import look
from hitlab.plots.card_picture import SMALLEST
from hitlab.plots.look import BACKGROUND
from tests.needs import needs_chromium, package
from tests.test_plots_look import contrast

ROOT = Path(__file__).resolve().parent.parent
NOTEBOOKS = ROOT / "notebooks"
LESSONS = source_paths()
LESSON = NOTEBOOKS / "source" / "02_weigh_small_samples.py"


SLIDE = '# %% [markdown] tags=["slide"]\n# # {title}\n#\n# {text}\n'
PLAN = """# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-8: the claim; everybody writes a verdict
# - 8-30: a draw by hand,
#   and what it shows
# - 30-50: votes and verdict again
#
# ### On the board
#
# - n / (n + m)
# - 13 of 40
#
# ### Votes
#
# - 02.how-large
# - 02.geniuses
# - 02.again-top-falls
#
# ### What to cut
#
# In 30 minutes: the claim, the draw, one sentence.
"""


def _png(width: float, height: float) -> bytes:
    figure, held = Figure((width, height), facecolor=BACKGROUND), io.BytesIO()
    figure.add_axes((0.1, 0.1, 0.8, 0.8)).plot([0, 1])
    figure.savefig(held, format="png", dpi=100)
    return held.getvalue()


def _slide(number: int, more: str = "") -> str:
    return SLIDE.format(
        title=f"Idea number {number} & its 5 %", text=f"One sentence about **{number}**.{more}"
    )


def _lesson_text() -> str:
    """Lesson 2 with ten slides and a plan of ours in the place of its own."""
    cells = LESSON.read_text(encoding="utf-8").split("\n# %%")
    kept = [cell for cell in cells if not re.match(r' \[markdown\] tags=\["(?:slide|plan)"\]', cell)]
    text, number = "", 0
    for cell in kept:
        text += f"\n# %%{cell}" if text else cell
        shows = ("plots.show(" in cell or "move_it(" in cell) and "solution" not in cell.partition("\n")[0]
        if number < 3 and shows:
            number += 1
            text += f"\n\n{_slide(number, chr(10) + '#' + chr(10) + '# picture: above')}"
    while number < SLIDES:
        number += 1
        text += f"\n\n{_slide(number)}"
    return f"{text}\n{PLAN}"


@pytest.fixture
def course(tmp_path):
    """A folder of notebooks with one lesson, its pictures in the outputs."""
    folder = tmp_path / "notebooks"
    (folder / "source").mkdir(parents=True)
    (folder / "solutions").mkdir()
    _put(folder, _lesson_text())
    return folder


def _put(folder: Path, text: str) -> None:
    path = folder / "source" / LESSON.name
    path.write_text(text, encoding="utf-8")
    solved = copies(read_source(path), folder)[1]
    for number, cell in enumerate(solved.notebook.cells):
        if cell.cell_type == "code" and ("plots.show(" in cell.source or "move_it(" in cell.source):
            uri = base64.b64encode(_png(6, 3 + number % 3)).decode()
            picture = f'<img alt="Picture &amp; {number}" width="600" src="data:image/png;base64,{uri}">'
            cell.outputs = [
                {
                    "output_type": "display_data",
                    "metadata": {},
                    "data": {"text/html": picture, "text/plain": ""},
                }
            ]
    solved.path.write_text(solved.text(), encoding="utf-8")


def _read(folder: Path):
    source = read_source(folder / "source" / LESSON.name)
    return source, *read_slides(source, folder / "solutions" / f"{LESSON.stem}.ipynb")


# --- slides


def test_a_slide_has_its_title_its_words_and_the_last_picture_above_it(course):
    source, slides, faults = _read(course)
    assert faults == []
    assert [slide.place for slide in slides] == list(range(1, 11))
    assert [slide.title for slide in slides] == [f"Idea number {n} & its 5 %" for n in range(1, 11)]
    assert slides[0].parts == (Part("One sentence about 1.", False),)
    assert {slide.lesson for slide in slides} == {"Lesson 2: Weigh small samples"}
    solved = json.loads((course / "solutions" / f"{LESSON.stem}.ipynb").read_text(encoding="utf-8"))
    ids = [cell.id for cell in source.cells]
    for slide, cell in zip(slides[:3], [c for c in source.cells if "slide" in c.tags], strict=False):
        before = [c for c in solved["cells"] if c.get("outputs") and ids.index(c["id"]) < ids.index(cell.id)]
        picture = before[-1]["outputs"][-1]["data"]["text/html"]
        assert base64.b64encode(slide.picture.png).decode() in picture
        assert html.escape(slide.picture.words) in picture
    assert [slide.picture for slide in slides[3:]] == [None] * 7


def test_bullets_and_paragraphs_are_told_apart(course):
    text = _lesson_text().replace(
        "# One sentence about **4**.", "# Some *words*\n# go on:\n#\n# - one `m`\n#   and on\n# - two"
    )
    _put(course, text)
    assert _read(course)[1][3].parts == (
        Part("Some words go on:", False), Part("one m and on", True), Part("two", True)
    )  # fmt: skip


def test_a_picture_of_matplotlib_alone_is_taken_too(course):
    path = course / "solutions" / f"{LESSON.stem}.ipynb"
    notebook = json.loads(path.read_text(encoding="utf-8"))
    png = _png(4, 3)
    for cell in notebook["cells"]:
        for output in cell.get("outputs", []):
            output["data"] = {"image/png": base64.b64encode(png).decode() + "\n"}
    path.write_text(json.dumps(notebook), encoding="utf-8")
    slides, faults = _read(course)[1:]
    assert faults == []
    assert slides[0].picture == Picture(png, "")


SLIDE_FAULTS = [
    (_slide(10), "", "lesson 2 has 9 slides; 10 are wanted"),
    (_slide(10), _slide(10) + "\n" + _slide(11), "lesson 2 has 11 slides"),
    ("# # Idea number 4", "# ## Idea number 4", "lesson 2, slide 4: its first line has to be '# '"),
    ("# # Idea number 4", "# # One two three and Idea number 4", "slide 4: 11 words in its title; 8 is"),
    ("about **4**.", "about" + " a" * 30, "slide 4: 33 words below its title; 30 is the most"),
    ("One sentence about **4**.", "- a\n# - b\n# - c\n# - d", "slide 4: 4 bullets; 3 is the most"),
    ("One sentence about **4**.", "", "slide 4: it says nothing below its title"),
    ("picture: above", "picture: below", "slide 1: its last line is 'picture: below'; it can be"),
]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(("old", "new", "fault"), SLIDE_FAULTS, ids=[one[2][-30:] for one in SLIDE_FAULTS])
def test_a_fault_of_a_slide_is_told_by_lesson_and_slide(course, old, new, fault):
    text = _lesson_text()
    assert old in text
    _put(course, text.replace(old, new, 1))
    faults = _read(course)[2]
    assert [one for one in faults if fault in one] == faults != []
    with pytest.raises(CourseError, match=re.escape(fault)):
        list(write_slides((), course.parent / "out", course))
    assert not (course.parent / "out").exists()


def test_fewer_than_three_pictures_are_told(course):
    _put(course, _lesson_text().replace("#\n# picture: above", "#", 1))
    assert _read(course)[2] == [
        "lesson 2: 2 of its slides show a picture; at least 3 do, with the last line 'picture: above'"
    ]


def test_a_picture_that_is_not_there_is_told(course):
    head, rest = _lesson_text().split("\n# %%", 1)
    early = _slide(0, "\n#\n# picture: above")
    _put(course, f"{head}\n\n{early}\n# %%{rest}".replace(_slide(10), ""))
    assert _read(course)[2] == [
        "lesson 2, slide 1: no cell before it put out a picture in the solutions copy"
    ]


def test_a_drawing_in_svg_is_told(course):
    path = course / "solutions" / f"{LESSON.stem}.ipynb"
    text = re.sub(r"<img [^>]*>", "<svg></svg>", path.read_text(encoding="utf-8"))
    path.write_text(text, encoding="utf-8")
    faults = _read(course)[2]
    assert len(faults) == 3
    assert all(
        "is an SVG, which cannot be drawn on a slide; show it with plots.show" in one for one in faults
    )


@pytest.mark.parametrize("content", [None, "no notebook", "{}", "[1]"])
def test_a_solutions_copy_that_cannot_be_read_is_told(course, content):
    path = course / "solutions" / f"{LESSON.stem}.ipynb"
    path.unlink()
    if content is not None:
        path.write_text(content, encoding="utf-8")
    with pytest.raises(CourseError, match=r"python -m hitlab\.course build"):
        _read(course)


LONG = "incomprehensibilities characteristically misunderstanding"
HARD = [
    Slide("Lesson 99: A title of a lesson that is rather long", 10, title, parts, picture)
    for title in ("Short", "Outstanding percentages usually misrepresent hitters having few swings")
    for parts in (
        (Part("Yes.", False),),
        (Part(" ".join([LONG] * 10), False),),
        tuple(Part(LONG, True) for _ in range(3)),
    )
    for picture in (
        None, Picture(_png(9.6, 5.4), ""), Picture(_png(9, 2.4), ""), Picture(_png(4, 8), "")
    )
]  # fmt: skip


def _holds(slide: Slide) -> None:
    """Hold the boxes, letters and colours of a slide's pages, as the renderer has them."""
    pages = draw_slide(slide)
    with_picture = [page for page in pages if page.axes]
    assert len(with_picture) == (slide.picture is not None)
    assert with_picture == pages[: len(with_picture)]
    said = [text for page in pages for text in _holds_page(slide, page)]
    words = " ".join(text.get_text() for text in said if text.get_text() != "•").replace("\u00a0", " ")
    assert words.replace(" ", "") == "".join(part.text for part in slide.parts).replace(" ", "")


def _holds_page(slide: Slide, figure: Figure) -> list[Text]:
    """Hold one page; return the texts that are neither its title nor its corner."""
    renderer = figure.canvas.get_renderer()
    assert tuple(72 * figure.get_size_inches()) == pytest.approx((WIDTH, HEIGHT))
    assert 9 * WIDTH == 16 * HEIGHT
    title = [text for text in figure.texts if text.get_fontweight() == "bold"]
    corner = [text for text in figure.texts if text.get_text() in (slide.lesson, str(slide.place))]
    assert " ".join(text.get_text() for text in title) == slide.title
    assert min(text.get_fontsize() for text in title) >= 32
    assert len(corner) == 2
    assert min(text.get_fontsize() for text in corner) >= 14
    said = [text for text in figure.texts if text not in title and text not in corner]
    assert min((text.get_fontsize() for text in said), default=24) >= 24
    assert said or figure.axes
    assert all(contrast(text.get_color(), BACKGROUND) >= 4.5 for text in figure.texts)
    boxes = [text.get_window_extent(renderer) for text in figure.texts]
    boxes += [line.get_window_extent(renderer) for line in figure.lines]
    for ax in figure.axes:
        box = ax.get_window_extent(renderer)
        boxes.append(box)
        tall, wide = ax.images[0].get_array().shape[:2]
        assert box.width / box.height == pytest.approx(wide / tall, rel=1e-6)  # nothing is squeezed
        assert box.height > 150
    page = figure.bbox
    for box in boxes:
        assert page.x0 <= box.x0 < box.x1 <= page.x1, box
        assert page.y0 <= box.y0 < box.y1 <= page.y1, box
    for one, other in itertools.combinations(boxes, 2):
        assert not one.overlaps(other), (one, other)
    return said


@pytest.mark.parametrize("slide", HARD, ids=range(len(HARD)))
def test_nothing_leaves_its_slide_or_lies_on_another_thing(slide):
    crowded = len(slide.parts[0].text.split()) > 5
    if crowded and len(slide.title) > 60:
        with pytest.raises(CourseError, match=r"Lesson 99: .*, slide 10: its text does not fit"):
            draw_slide(slide)
    else:
        _holds(slide)


def test_a_title_that_needs_three_lines_is_told():
    title = "Incomprehensibilities characteristically misunderstood notwithstanding overwhelmingly absolute"
    for picture in (None, Picture(_png(9.6, 5.4), "")):
        slide = Slide("Lesson 99: x", 3, title, (Part("Yes.", False),), picture)
        with pytest.raises(CourseError, match="slide 3: its title needs more than two lines"):
            draw_slide(slide)


def _dressed(height: float, rows: int, title: str = "A title of its own", below: str = "") -> Figure:
    """A picture as the package draws them, 9.6 inches wide."""
    ax, own = look.axes_for(None, 9.6, height)
    ax.set_yticks(range(rows), [f"hitter {row}" for row in range(rows)])
    look.rate_axis(ax.xaxis, "hard-hit balls per swing")
    ax.plot(np.linspace(0.1, 0.3, rows), range(rows), "o", color=look.ACCENTS[1])
    look.finish(ax, own, title, below, alt="x")
    return ax.figure


def _as_png(figure: Figure, dots: float = 120) -> bytes:
    held = io.BytesIO()
    figure.savefig(held, format="png", dpi=dots)
    return held.getvalue()


CAPTION = (
    "Dot: what was seen; line: in nine of ten cases the true rate lies there. It is said at some length, so "
)
CAPTION += "that it needs a second line, in which many an i has its dot."


@pytest.mark.parametrize("dots", [100, 120])
@pytest.mark.parametrize("title", ["A title of its own", "A title of its own that takes two lines, as " * 3])
@pytest.mark.parametrize("below", ["", "Dot: what was seen.", CAPTION])
def test_a_picture_loses_its_own_title_and_where_need_be_its_caption(title, below, dots):
    figure = _dressed(4, 6, title.strip(), below)
    assert {text.get_fontsize() for text in figure.findobj(Text) if text.get_text()} == {10, 14}
    png = _as_png(figure, dots)
    made = cuts(Picture(png, ""))
    assert [one.letters for one in made] == [pytest.approx(10 * dots / 72, rel=1e-4)] * len(made)
    image = imread(io.BytesIO(png))[..., :3]
    inked = np.flatnonzero((np.abs(image - image[0, 0]).max(axis=2) > 0.02).any(axis=1))
    head = [text for text in figure.axes[0].texts if text.get_text()]
    assert len(head) == len(made) == 1 + bool(below)
    # From above: below the lowest row of the title, of the caption, all that is drawn is kept.
    ends = sorted((figure.bbox.height - text.get_window_extent().y0) * dots / figure.dpi for text in head)
    for one, end in zip(made, ends, strict=True):
        kept = inked[inked > end]
        assert one.pixels.shape[0] == kept[-1] - kept[0] + 1 + 2 * 4


def test_a_picture_that_begins_with_no_title_stays_whole():
    for png in (_png(6, 4), _as_png(_dressed(4, 6, ""))):
        (only,) = cuts(Picture(png, ""))
        image = imread(io.BytesIO(png))[..., :3]
        drawn = np.abs(image - image[0, 0]).max(axis=2) > 0.02
        rows = np.flatnonzero(drawn.any(axis=1))
        assert only.pixels.shape[0] == rows[-1] - rows[0] + 1 + 2 * 4


def test_a_card_stays_whole_and_its_letters_are_those_of_its_form():
    (only,) = cuts(Picture(_as_png(_dressed(5.4, 6, below="Dot: seen.")), "Card: Nadia leads."))
    assert only.letters == pytest.approx(SMALLEST * 1152 / 1920)
    assert (
        only.pixels.shape[0]
        > cuts(Picture(_as_png(_dressed(5.4, 6, below="Dot: seen.")), ""))[0].pixels.shape[0]
    )


def _letters(slide: Slide) -> float:
    """Points of the smallest letters in a slide's picture, as its page shows them."""
    (ax,) = draw_slide(slide)[0].axes
    points = ax.get_window_extent().width * 72 / ax.figure.dpi / ax.images[0].get_array().shape[1]
    return points * cuts(slide.picture)[0].letters


@pytest.mark.slow
def test_a_picture_has_a_page_for_itself_only_where_its_letters_need_it():
    words = (Part("Some words that stand beside it.", False),)
    slides = [
        Slide(
            "Lesson 1: x",
            number,
            "A title",
            words,
            Picture(_as_png(_dressed(height, rows, below=CAPTION)), ""),
        )
        for number, (height, rows) in enumerate([(3.4, 6), (5.2, 9), (5.8, 14), (8.5, 30)], 1)
    ]
    pages = [draw_slide(slide) for slide in slides]
    assert [len(made) for made in pages] == [1, 2, 2, 2]
    corners = [
        next(text.get_position()[1] for text in made[0].texts if text.get_text() == "Lesson 1: x")
        for made in pages
    ]
    assert [corner > 0.5 for corner in corners] == [False, False, True, True]  # above where room is needed
    letters = [_letters(slide) for slide in slides]
    assert min(letters[:3]) >= LEAST_LETTERS > letters[3]
    assert too_small(slides) == [
        f"Lesson 1: x, slide 4: the letters in its picture come out at {letters[3]:.1f} points, and 12 is "
        "the least that can be read from the back row: show a picture that is less tall, or with fewer rows"
    ]
    for slide in slides:
        _holds(slide)


def test_letters_that_are_too_small_are_a_fault_of_each_slide_and_nothing_is_written(course):
    path = course / "solutions" / f"{LESSON.stem}.ipynb"
    notebook = json.loads(path.read_text(encoding="utf-8"))
    uri = base64.b64encode(_as_png(_dressed(8.5, 30))).decode()
    for cell in notebook["cells"]:
        for output in cell.get("outputs", []):
            output["data"] = {"image/png": uri}
    path.write_text(json.dumps(notebook), encoding="utf-8")
    for write in (write_slides, write_teacher):
        out = course.parent / "out"
        with pytest.raises(CourseError) as raised:
            list(write((), out, course) if write is write_slides else write(out, course))
        assert [line.partition(": the letters")[0] for line in str(raised.value).splitlines()] == [
            f"Lesson 2: Weigh small samples, slide {n}" for n in (1, 2, 3)
        ]
        assert not out.exists()


def test_the_text_of_the_slides_is_text_and_the_pictures_have_words(course):
    slides = _read(course)[1]
    made = deck(slides)
    reader = PdfReader(io.BytesIO(made))
    drawn = [(slide, page) for slide in slides for page in draw_slide(slide)]
    assert len(reader.pages) == len(drawn) > 10
    for (slide, figure), page in zip(drawn, reader.pages, strict=True):
        assert float(page.mediabox.width) / float(page.mediabox.height) == pytest.approx(16 / 9, rel=1e-3)
        text = " ".join(page.extract_text().split())
        for said in (slide.title, slide.lesson, str(slide.place)):
            assert said in text
        lines = " ".join(one.get_text() for one in figure.texts).replace("\u00a0", " ")
        assert (slide.parts[0].text in text) == (slide.parts[0].text in lines)
        notes = [one.get_object()["/Contents"] for one in page.get("/Annots", [])]
        assert notes == ([slide.picture.words] if figure.axes else [])
    assert "/CreationDate" not in reader.metadata
    assert reader.metadata.title == "Lesson 2: Weigh small samples"
    assert deck(slides) == made


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_the_slides_and_the_plan_of_a_lesson_are_whole(path):
    source = read_source(path)
    slides, faults = read_slides(source, NOTEBOOKS / "solutions" / f"{path.stem}.ipynb")
    plan, wrong = read_plan(source)
    assert faults + wrong == []
    assert plan is not None
    for slide in slides:
        _holds(slide)


# --- plans


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_the_minutes_of_a_plan_cover_the_core(path):
    """Lessons 0 and 1 were planned for 50 and 70 minutes, and their core had grown to 65 and 80."""
    plan, _ = read_plan(read_source(path))
    assert plan is not None
    assert plan.core <= plan.slots[-1][1] < plan.core + 5


def test_a_plan_is_read(course):
    plan, faults = read_plan(_read(course)[0])
    assert faults == []
    assert plan.slots == (
        (0, 8, "the claim; everybody writes a verdict"),
        (8, 30, "a draw by hand, and what it shows"),
        (30, 50, "votes and verdict again"),
    )
    assert plan.board == ("n / (n + m)", "13 of 40")
    assert plan.cut == "In 30 minutes: the claim, the draw, one sentence."
    assert (plan.core, plan.optional, plan.sittings) == minutes_of(_read(course)[0]).rounded


def test_a_board_without_a_list_keeps_its_lines(course):
    _put(course, _lesson_text().replace("# - n / (n + m)\n# - 13 of 40", "# n / (n + m)\n#\n# 13 of 40"))
    plan = read_plan(_read(course)[0])[0]
    assert plan.board == ("n / (n + m)", "13 of 40")
    assert "<p>n / (n + m)</p>" in plan_html(plan, LESSON.stem)


def test_votes_are_written_out_with_the_options_in_the_printed_order(course, monkeypatch):
    plan, _ = read_plan(_read(course)[0])
    monkeypatch.setenv("HITLAB_PROGRESS", "off")
    from hitlab.exercises.letters import choices_of

    first = plan.votes[0]
    assert first.title == "How large a sample?"
    assert first.text.startswith('"After three weeks, 18 games')
    exercise = find_exercise("02.how-large")
    assert tuple(f"{one.letter}) {one.text}" for one in first.options) == choices_of(exercise).items
    texts = {wrong.says: exercise.form.options[wrong.given] for wrong in exercise.wrong}
    for option in first.options:
        assert option.right == (option.text == exercise.form.options[exercise.form.right])
        says = option.says[0].lower() + option.says[1:]
        assert option.says == exercise.solution if option.right else texts[says] == option.text
    drawn = plan.votes[2]
    assert drawn.title == ""
    assert re.match(
        r"(?:The )?\d+ (?:best of|worst of|of) 300 .* What is to be expected of their rates\?$", drawn.text
    )
    assert sum(option.right for option in drawn.options) == 1


def test_somebody_s_own_order_of_letters_changes_no_plan_and_his_progress_stays(
    course, tmp_path, monkeypatch
):
    progress = tmp_path / "progress.json"
    pages = []
    for seed in (None, 1, 2, 3):
        if seed is None:
            monkeypatch.setenv("HITLAB_PROGRESS", "off")
        else:
            monkeypatch.setenv("HITLAB_PROGRESS", str(progress))
            progress.write_text(json.dumps({"version": 1, "learner": {"order": {"seed": seed}}}))
            before = progress.read_bytes()
        source = _read(course)[0]
        pages.append(plan_html(read_plan(source)[0], source.name))
        if seed is not None:
            assert progress.read_bytes() == before
            assert os.environ["HITLAB_PROGRESS"] == str(progress)
    assert len(set(pages)) == 1


def test_a_plan_s_page_says_all_of_it(course):
    source = _read(course)[0]
    plan = read_plan(source)[0]
    page = plan_html(plan, source.name)
    text = " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).replace("\u00a0", " ").split())
    for said in (
        "In class 50 minutes", "8 to 30", "a draw by hand, and what it shows", "13 of 40", "n / (n + m)",
        f"{LESSON.stem}_slides.pdf", "the facility's staff and licensed medical", "In 30 minutes: the claim",
    ):  # fmt: skip
        assert said in text
    for vote in plan.votes:
        for option in vote.options:
            said = "right." if option.right else f"To those who say {option.letter}:"
            between = ": " if option.right else " "
            assert f"{option.letter}) {option.text}{between}{said} {option.says}" in text


PLAN_FAULTS = [
    (PLAN, "", "one cell of prose is tagged plan, the last of the lesson; found 0"),
    (PLAN, PLAN + "\n# %% [markdown]\n# the end\n", "the last of the lesson; found 1"),
    (PLAN, PLAN + PLAN, "the last of the lesson; found 2"),
    ("### On the board", "### At the board", "its headings are ['Minutes', 'At the board',"),
    ("- 8-30:", "- 9-30:", "its minutes are lines '- 0-8: ...', each beginning where the one before ends"),
    ("- 8-30:", "- eight to thirty:", "its minutes are lines"),
    ("- 0-8:", "- 0-0:", "its minutes are lines"),
    ("# - 13 of 40", "# - a\n# - b\n# - c\n# - d\n# - e\n# - f", "7 lines for the board; 6 is the most"),
    ("# - 02.geniuses\n", "", "3 ids are wanted, as lines '- ID'"),
    ("02.geniuses", "02.how-large", "3 ids are wanted"),
    ("02.geniuses", "02.genius", "this lesson has no exercise or review question 02.genius"),
    ("02.geniuses", "02.pull-her", "02.pull-her is no choice, and cannot be voted on"),
    ("02.again-top-falls", "02.again-own-weight", "02.again-own-weight is no choice"),
    ("one sentence.", "one sentence." + " more" * 300, "words; 300 is the most"),
]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(("old", "new", "fault"), PLAN_FAULTS, ids=[one[2][-30:] for one in PLAN_FAULTS])
def test_a_fault_of_a_plan_is_told_by_lesson(course, old, new, fault):
    text = _lesson_text()
    assert old in text
    _put(course, text[: text.rindex(old)] + new + text[text.rindex(old) + len(old) :])
    plan, faults = read_plan(_read(course)[0])
    assert plan is None
    assert [one for one in faults if one.startswith("lesson 2, plan: ") and fault in one] == faults != []
    with pytest.raises(CourseError, match=re.escape(fault)):
        list(write_plans((), course.parent / "out", course))
    assert not (course.parent / "out").exists()


# --- the two plans of the course


def test_every_lesson_has_its_week_and_the_minutes_are_those_of_the_lessons():
    sources = [read_source(path) for path in LESSONS]
    planned = [number for week in WEEKS for number in week.lessons]
    assert len(WEEKS) == 12
    # The reviews of a lesson ask what those before it in number taught.
    assert planned == sorted(set(planned))
    assert {source.number for source in sources} <= set(planned)
    projects = projects_of(NOTEBOOKS)
    capstone = sum(one.minutes for one in projects if one.name == "capstone")
    entries = weeks(sources, projects)
    core = sum(minutes_of(source).rounded[0] for source in sources)
    assert sum(one.minutes for one in entries) == core + 2 * forms.MINUTES + capstone
    assert sum(one.home_minutes for one in entries) == sum(minutes_of(one).rounded[1] for one in sources)
    for one in entries:
        assert 100 * (one.meetings - 1) < one.minutes <= 100 * one.meetings
        assert one.meetings <= 2
    assert "test before" in entries[0].what[0]
    assert entries[-1].what[0] == "capstone: ten claims" + (f" ({capstone} min)" if capstone else "")
    assert "test after" in entries[-1].what[-1]
    needs = {"project 1": "13", "project 2": "05"}
    for project, lesson in needs.items():
        there = [number for number, one in enumerate(entries) if project in one.home]
        assert there == list(range(there[0], there[-1] + 1))
        assert any("handed in" in entries[number].home for number in there)
        assert "comes back with its marks" in entries[there[-1]].home
        assert there[0] >= next(number for number, week in enumerate(WEEKS) if lesson in week.lessons)


def test_the_day_follows_the_clock_and_ends_on_it():
    sources = [read_source(path) for path in LESSONS]
    projects = projects_of(NOTEBOOKS)
    steps = day(sources, projects)
    clock = [int(hour) * 60 + int(minute) for hour, _, minute in (one.name.partition(":") for one in steps)]
    assert clock[0] == 9 * 60
    assert np.diff(clock).tolist() == [one.minutes for one in steps[:-1]]
    assert clock[-1] <= 17 * 60
    said = " ".join(one.what[0] for one in steps)
    for step in DAY:
        if isinstance(step, tuple):
            assert step[0] in said
        else:
            assert (step if step.startswith("capstone") else f"lesson {int(step[:2])}, ") in said
    whole = next(one for one in steps if one.what[0].startswith("lesson 3"))
    source = next(source for source in sources if source.number == "03")
    assert (whole.minutes, whole.what[0]) == (minutes_of(source).rounded[0], "lesson 3, check a claim")
    short = [one for one in steps if one.what[0].endswith(", cut short")]
    assert len(short) == 5
    assert {one.minutes for one in short} == {30}
    pages = course_pages(sources, NOTEBOOKS)
    assert pages.keys() == {"twelve_weeks", "one_day"}
    assert all(f">{one.name}<" in pages["one_day"] for one in steps)


def test_the_day_names_every_lesson_that_it_leaves_out_and_counts_its_questions_out():
    sources = [read_source(path) for path in LESSONS]
    taught = {step[:2] for step in DAY if isinstance(step, str)} & {source.number for source in sources}
    page = html.unescape(course_pages(sources, NOTEBOOKS)["one_day"])
    rows = dict(re.findall(r'<th scope="row">Lesson (\d+), [^<]+</th><td>([^<]+)</td>', page))
    assert sorted(rows, key=int) == [str(int(one.number)) for one in sources if one.number not in taught]
    assert len(rows) == len(sources) - 6
    for lesson, questions in rows.items():
        of_it = [str(n) for n, one in enumerate(TEMPLATES, 1) if int(one.lesson) == int(lesson)]
        assert questions == (", ".join(of_it) or "none")
    kept = [n for n, one in enumerate(TEMPLATES, 1) if one.lesson in taught]
    left = [str(n) for n in range(1, len(TEMPLATES) + 1) if n not in kept]
    text = " ".join(page.split())
    assert f"The day teaches what {len(kept)} of the {len(TEMPLATES)} questions ask." in text
    assert f"Questions {', '.join(left[:-1])} and {left[-1]} belong to lessons that it leaves out" in text
    takes, place, charts = re.search(
        r"takes lesson (\d+ or \d+) in the place of lesson (\d+); .* takes lesson (\d+)\.", text
    ).groups()
    assert {*takes.split(" or "), charts} <= rows.keys()
    assert place.zfill(2) in taught
    swapped = [str(n) for n, one in enumerate(TEMPLATES, 1) if one.lesson == place.zfill(2)]
    assert f"and takes question {swapped[0]} out." in text
    assert len(swapped) == 1


# --- tests before and after


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda one: one.idea)
@given(seed=st.integers(0, 2**32 - 1))
def test_whatever_is_drawn_has_one_right_answer_and_four_different_options(template, seed):
    drawn = template.draw(np.random.default_rng(seed))
    options = [drawn.right, *(wrong.option for wrong in drawn.wrong)]
    assert len({" ".join(option.lower().split()) for option in options}) == 4
    assert len({wrong.believes for wrong in drawn.wrong}) == 3
    assert all(wrong.believes[-1] not in ".?!" for wrong in drawn.wrong)
    assert drawn.why.endswith(".")
    assert drawn.text.endswith("?")
    assert drawn == template.draw(np.random.default_rng(seed))
    _RIGHT[template.idea](drawn.facts, drawn.right, [wrong.option for wrong in drawn.wrong])


def _numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d*\.?\d+", text)]


def _is_the_share_of_swings(facts, right, wrong):
    shares = [_numbers(option)[0] / 100 for option in (right, *wrong)]
    below = [facts[name] for name in ("swings", "in_play", "touched", "pitches")]
    assert np.allclose(shares, [facts["hard"] / one for one in below])
    assert facts["hard"] < facts["in_play"] < facts["touched"] < facts["swings"] < facts["pitches"]


def _brings_more(facts, right, wrong):
    first = facts["handed"] * facts["timely"] / 100
    second = facts["more_handed"] * facts["less_timely"] / 100
    assert first < second
    assert facts["timely"] > facts["less_timely"]
    assert _numbers(right) == [second, first]
    assert _numbers(right) not in [_numbers(one) for one in wrong]
    assert right.split(",")[0] != wrong[0].split(",")[0]


def _lies_between(facts, right, wrong):
    assert _numbers(right) == [facts["town"], facts["top"]]
    assert 0.6 < facts["top"] - facts["town"] < 0.8
    assert facts["top"] <= 5


def _misses_as_promised(facts, right, wrong):
    assert _numbers(right)[0] == pytest.approx(facts["centres"] * (1 - facts["level"] / 100))
    assert facts["missing"] == _numbers(right)[0] >= 10


def _is_the_highest_of_equals(facts, right, wrong):
    best = _numbers(right)[0]
    exact = leaders_record(facts["hitters"], facts["swings"], facts["chance"])
    assert abs(best - exact) <= 0.005 + 1e-9
    assert abs(_numbers(wrong[1])[0] - exact) > 0.08
    # Rounded to hundredths, and no digit is shown that was rounded away.
    assert all(len(found) == 2 for one in (right, *wrong) for found in re.findall(r"\.(\d+)", one))


def _is_steeper(facts, right, wrong):
    under = offset_from_miss(facts["under"], 85, 6, 70, 0)
    level = collide(85, 6, 70, 0, [under, facts["under"]]).launch_deg
    met = offset_from_miss(0, 85, 6, 70, facts["rising"])
    rising = collide(85, 6, 70, facts["rising"], [met, 0.0]).launch_deg
    assert level.min() > rising.max() + 5
    assert rising.min() > 0


def _is_the_better_in_both_parts(facts, right, wrong):
    assert facts["mild"] > facts["other_mild"]
    assert facts["severe"] > facts["other_severe"]
    assert facts["total"] == facts["mild"] + 3 * facts["severe"]
    assert facts["other_total"] == 3 * facts["other_mild"] + facts["other_severe"]
    assert facts["other_total"] > facts["total"]
    assert _numbers(right)[:2] == [facts["mild"], facts["severe"]]


def _finds_what_luck_makes(facts, right, wrong):
    assert _numbers(right) == [facts["looks"] / 20]
    assert _numbers(right)[0] >= 2


def _was_kept(facts, right, wrong):
    assert facts["right"] == facts["calls"] * facts["sure"] / 100


def _holds_all_that_may_be(facts, right, wrong):
    assert _numbers(right) == [facts["hard"], facts["hard"] + facts["in_play"] - facts["judged"]]
    assert facts["hard"] < facts["alike"] < facts["hard"] + facts["blank"]
    assert facts["alike"] == facts["hard"] / facts["judged"] * facts["in_play"]


def _rises(facts, right, wrong):
    # Each mark is of n questions, half of it skill at the shorter length: the link shown grows with n.
    shown = [facts["seen"] * n / (n + facts["short"]) * 2 for n in (facts["short"], 10 * facts["short"])]
    assert shown[0] == pytest.approx(facts["seen"])
    assert shown[1] > shown[0] + 0.1


def _wins_more_often(facts, right, wrong):
    assert facts["more"] > facts["brings"]
    assert facts["strong"] > facts["weak"]
    assert _numbers(right) == [facts["more"], facts["brings"]]


_RIGHT = {
    "what to divide by": _is_the_share_of_swings,
    "per try against per success": _brings_more,
    "small samples and the way back to the mean": _lies_between,
    "the leader's excess": _is_the_highest_of_equals,
    "what an interval promises": _misses_as_promised,
    "launch angle from contact": _is_steeper,
    "comparing like with like": _is_the_better_in_both_parts,
    "searching many": _finds_what_luck_makes,
    "a chance as a forecast": _was_kept,
    "what a blank means": _holds_all_that_may_be,
    "two rates and luck": _rises,
    "what the situation asks": _wins_more_often,
}


def test_the_highest_of_equals_is_what_a_simulation_gives():
    rng = np.random.default_rng(8)
    played = rng.binomial(40, 0.15, (20_000, 30)).max(axis=1) / 40
    exact = leaders_record(30, 40, 0.15)
    assert abs(played.mean() - exact) < 4 * played.std() / np.sqrt(len(played))
    assert leaders_record(1, 40, 0.15) == pytest.approx(0.15)


def test_the_two_forms_ask_the_same_with_other_numbers():
    one, other = forms.form("A"), forms.form("B")
    assert [item.template for item in one] == [item.template for item in other] == list(TEMPLATES)
    assert len(TEMPLATES) == 12 == len({template.idea for template in TEMPLATES})
    assert sum(template.in_the_sport for template in TEMPLATES) == 6
    for a, b, template in zip(one, other, TEMPLATES, strict=True):
        facts = [
            template.draw(np.random.default_rng([forms._SEEDS[name], a.number])).facts for name in forms.FORMS
        ]
        assert facts[0] != facts[1]
        assert facts[0].keys() == facts[1].keys()
        for name, value in facts[0].items():  # as many digits
            digits = [len(f"{each:.2f}".strip("0").replace(".", "")) for each in (value, facts[1][name])]
            assert abs(digits[0] - digits[1]) <= 1, (template.idea, name)
        assert abs(len(a.text.split()) - len(b.text.split())) <= 3
        assert a.text != b.text
        # Who had the other form before finds nothing to remember: no number and no name comes again.
        of_a, of_b = (
            {option.text for option in item.options if re.search("[0-9A-Z]", option.text)} for item in (a, b)
        )
        assert of_a
        assert not of_a & of_b, (template.idea, of_a & of_b)


def test_no_letter_is_right_often_and_no_question_has_one_letter_in_both_forms():
    letters = {name: [item.right.letter for item in forms.form(name)] for name in forms.FORMS}
    for name, each in letters.items():
        assert each == forms.letters_of(name)
        assert {letter: each.count(letter) for letter in "abcd"} == dict.fromkeys("abcd", 3)
        assert not any(a == b == c for a, b, c in zip(each, each[1:], each[2:], strict=False))
    assert all(one != other for one, other in zip(*letters.values(), strict=True))


@pytest.mark.parametrize("name", forms.FORMS)
def test_the_right_option_is_not_told_by_its_length(name):
    ranks = []
    for item in forms.form(name):
        lengths = sorted((len(option.text), option.right) for option in item.options)
        ranks.append(next(place for place, (_, right) in enumerate(lengths) if right))
    assert max(ranks.count(0), ranks.count(3)) <= 4


def test_every_key_is_complete(tmp_path):
    written = list(forms.write_forms(tmp_path))
    assert [path.name for path in written] == ["form_a.html", "key_a.html", "form_b.html", "key_b.html"]
    for name in forms.FORMS:
        text = {
            kind: html.unescape((tmp_path / f"{kind}_{name.lower()}.html").read_text(encoding="utf-8"))
            for kind in ("form", "key")
        }
        text = {kind: said.replace("\u00a0", " ") for kind, said in text.items()}
        for item in forms.form(name):
            assert item.text in text["form"]
            assert [option.letter for option in item.options] == list("abcd")
            assert sum(option.right for option in item.options) == 1
            for option in item.options:
                assert f"{option.letter}) {option.text}" in text["form"]
                assert option.tells in text["key"]
                assert option.tells not in text["form"]
                assert option.right or option.tells.startswith("believes that ")
            assert f"{item.right.letter}) {item.right.text}: right." in text["key"]
            lesson = find_lesson(item.template.lesson)
            assert f"lesson {int(lesson.number)}, {lesson.title.lower()}" in text["key"]
        row = "".join(f"<td>{item.right.letter}</td>" for item in forms.form(name))
        assert row in text["key"]
        assert ": right." not in text["form"]
        assert "believes" not in text["form"]


# --- the marking guide


def test_the_marking_guide_has_every_sentence_with_what_the_marker_says():
    sources = [read_source(path) for path in LESSONS]
    page = html.unescape(guide_html(sources, NOTEBOOKS)).replace("\u00a0", " ")
    found = [guided for source in sources for guided in sentences_of(source)]
    assert "02.for-air" in [guided.id for guided in found]
    for guided in found:
        assert guided.title
        for said in (guided.id, guided.title, guided.model, *guided.form.good):
            assert said in page
        for point in guided.form.points:
            assert f">{point.name}<" in page
            assert f">{point.asks}<" in page
        for (text, lines), (_, lacks) in zip(guided.told, guided.form.bad, strict=True):
            assert text in page
            assert " ".join(lines) in page
            assert ("More than was shown" if lacks == "too much" else f"Missing: {lacks} ") in " ".join(lines)
    assert "compare the two" in page
    for name, words in COLUMNS.items():
        assert f"<code>{name}</code>" in page
        assert words in page


def test_how_projects_are_marked_is_taken_from_their_sources(course):
    source = _read(course)[0]
    assert "This copy of the course has no projects." in guide_html([source], course)
    folder = course / "source" / "projects"
    folder.mkdir()
    (folder / "project_1_spoiled_sheet.py").write_text(
        "# %% [markdown]\n# # Project 1: a spoiled sheet\n#\n# Look.\n#\n# Time: about 90 minutes.\n\n"
        "# %% [markdown]\n# ## The rubric\n#\n# | | 3 |\n# |---|---|\n# | blanks | both bounds |\n\n"
        '# %% [markdown] tags=["solution"]\n# ### The first, weak\n#\n# Marks: 2.\n\n'
        "# %% [markdown]\n# ## The end\n#\n# Go home.\n",
        encoding="utf-8",
    )
    (folder / "capstone.py").write_text(
        "# %% [markdown]\n# # Capstone: ten claims\n#\n# Time: about 75 minutes.\n", encoding="utf-8"
    )
    assert [(one.name, one.title, one.minutes, len(one.marking)) for one in projects_of(course)] == [
        ("capstone", "Capstone: ten claims", 75, 0),
        ("project_1_spoiled_sheet", "Project 1: a spoiled sheet", 90, 2),
    ]
    page = guide_html([source], course)
    for said in (
        "<td>both bounds</td>",
        "<h3>Capstone: ten claims</h3>",
        "<h5>The first, weak</h5>",
        "Marks: 2.",
    ):
        assert said in page
    assert "Look." not in page
    assert "Go home." not in page
    pages = course_pages([source], course)
    assert "capstone: ten claims (75 min)" in pages["twelve_weeks"]
    assert "Project 1: a spoiled sheet: about 90 minutes." in pages["twelve_weeks"]
    half = r'capstone: five of its claims</td>\s*<td class="number">38<'
    assert re.search(half, pages["one_day"])


# --- commands


@pytest.fixture
def here(course, monkeypatch, tmp_path):
    for module in (slide_cells, plan_pages, teaching):
        monkeypatch.setattr(module, "lessons_folder", lambda: course)
    monkeypatch.chdir(tmp_path)
    return course


@pytest.mark.parametrize(
    ("command", "files"),
    [
        (["slides", "2", "--to", "out"], [f"{LESSON.stem}_slides.pdf"]),
        (["plans", "2", "--to", "out"], [f"{LESSON.stem}_plan.html"]),
        (["plans", "--to", "out"], [f"{LESSON.stem}_plan.html", "twelve_weeks.html", "one_day.html"]),
        (["tests", "--to", "out"], ["form_a.html", "key_a.html", "form_b.html", "key_b.html"]),
        (["guide", "--to", "out"], ["marking_guide.html"]),
    ],
)
def test_a_command_writes_its_files_and_names_them(here, command, files):
    done = CliRunner().invoke(main, command, catch_exceptions=False)
    assert done.exit_code == 0
    assert [Path(line) for line in done.output.split()] == [Path("out") / name for name in files]
    assert sorted(path.name for path in Path("out").iterdir()) == sorted(files)


@pytest.mark.parametrize("command", ["slides", "plans", "teacher"])
def test_all_faults_are_said_and_nothing_is_written(here, command):
    _put(here, _lesson_text().replace(_slide(10), "").replace("- 02.geniuses", "- 02.nobody"))
    done = CliRunner().invoke(main, [command, "--to", "out"])
    assert isinstance(done.exception, CourseError)
    assert ("lesson 2 has 9 slides" in str(done.exception)) == (command != "plans")
    assert ("question 02.nobody" in str(done.exception)) == (command != "slides")
    assert not Path("out").exists()


# --- all of it


BUILD = (
    "import sys; from pathlib import Path; from hitlab.course.teaching import write_teacher; "
    "print(*write_teacher(Path(sys.argv[1]), Path(sys.argv[2])), sep='\\n')"
)


def _digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.slow
def test_all_for_a_teacher_is_the_same_bytes_in_another_process(course, tmp_path):
    package("nbconvert")
    made = []
    for seed in ("1", "2"):
        out = tmp_path / f"teacher-{seed}"
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
        done = subprocess.run(
            [sys.executable, "-c", BUILD, str(out), str(course)],
            capture_output=True, text=True, env=environment, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        made.append(_digests(out))
    assert made[0] == made[1]
    name = LESSON.stem
    assert sorted(made[0]) == sorted(
        [
            "index.html", "marking_guide.html", "plans/twelve_weeks.html", "plans/one_day.html",
            "tests/form_a.html", "tests/form_b.html", "tests/key_a.html", "tests/key_b.html",
            f"plans/{name}_plan.html", f"slides/{name}_slides.pdf", f"handouts/{name}_solutions.html",
        ]
    )  # fmt: skip
    index = (tmp_path / "teacher-1" / "index.html").read_text(encoding="utf-8")
    assert sorted(re.findall(r'href="([^"]+)"', index)) == sorted(made[0].keys() - {"index.html"})


@pytest.fixture(scope="module")
def teacher(tmp_path_factory):
    """All pages for a teacher, of the lesson above and of those that have slides and a plan."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "source").mkdir()
    (folder / "solutions").mkdir()
    _put(folder, _lesson_text())
    package("nbconvert")
    list(write_teacher(folder / "out", folder))
    for path in LESSONS:
        list(write_plans((path.stem[:2],), folder / "out" / "plans"))
    shutil.rmtree(folder / "out" / "handouts")  # tests/test_lab.py has those
    return folder / "out"


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_every_page_can_be_read_by_everybody_and_fetches_nothing(teacher):
    axe = package("axe_playwright_python.sync_playwright").Axe()
    pages = sorted(teacher.rglob("*.html"))
    assert len(pages) >= 9
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for path in pages:
            page = chromium.new_page(bypass_csp=True)  # the checker is a script, and the page allows none
            away: list[str] = []
            page.on("request", lambda request, away=away: away.append(request.url))
            page.goto(path.as_uri())
            found = axe.run(page).response
            page.close()
            assert [(v["id"], v["nodes"][0]["html"][:120]) for v in found["violations"]] == [], path.name
            assert len(found["passes"]) > 10
            assert [url for url in away if not url.startswith(("file:", "data:"))] == []
        chromium.close()


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_a_plan_has_at_most_two_sides(teacher):
    pages = sorted((teacher / "plans").glob("*.html"))
    assert len(pages) >= 3
    for path in pages:
        assert sides(printed(path.read_text(encoding="utf-8"), "A4")) <= 2, path.name
    for name in forms.FORMS:
        text = (teacher / "tests" / f"form_{name.lower()}.html").read_text(encoding="utf-8")
        assert sides(printed(text, "A4")) == 2


def test_choices_alone_are_voted_on():
    """The ids of the fixture stay choices of lesson 2, so that its tests are about what they say."""
    ids = {one.id for one in find_lesson("02").exercises if isinstance(one.form, Choice)}
    assert {"02.how-large", "02.geniuses"} <= ids
