"""Every lesson in the real thing: JupyterLab in headless Chromium, and its handout under axe-core."""

from __future__ import annotations

import contextlib
import html
import json
import os
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from hitlab.exercises.definitions import Number
from hitlab.exercises.library import find_lesson
from hitlab.lessons.merging import marked, merged
from tests.needs import needs_chromium, package
from tests.right_answers import right_answer

ROOT = Path(__file__).resolve().parent.parent
START = ROOT / "notebooks" / "start_here.ipynb"
LESSONS = sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
FIRST = next(path for path in LESSONS if path.stem.startswith("01_"))
PATIENCE_MS = 60_000

pytestmark = [pytest.mark.slow, pytest.mark.chromium, needs_chromium]

SETTINGS = {
    "@jupyterlab/apputils-extension:notification": {"checkForUpdates": False, "fetchNews": "false"},
    "@jupyterlab/notebook-extension:tracker": {"windowingMode": "none"},
}
# Only what the slider is told to do is left out: ipywidgets itself watches it by lists of names.
UNHOOKED = """import ipywidgets
_observe = ipywidgets.SelectionSlider.observe
ipywidgets.SelectionSlider.observe = lambda slider, do, names="", **given: (
    None if names == "value" else _observe(slider, do, names, **given)
)"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.fixture(scope="module")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """A JupyterLab of our own on a copy of the lessons: its address, and the folder."""
    package("jupyterlab")
    home = tmp_path_factory.mktemp("lab")
    folder = home / "lessons"
    folder.mkdir()
    shutil.copy(START, folder)
    for lesson in LESSONS:
        shutil.copy(lesson, folder)
        broken = json.loads(lesson.read_text(encoding="utf-8"))
        first = next(cell for cell in broken["cells"] if cell["cell_type"] == "code")
        first["source"] = UNHOOKED + "\n" + "".join(first["source"])
        (folder / f"unhooked_{lesson.name}").write_text(json.dumps(broken), encoding="utf-8")
    (home / "settings").mkdir()
    (home / "settings" / "overrides.json").write_text(json.dumps(SETTINGS), encoding="utf-8")
    own = {f"JUPYTER_{name}_DIR": str(home / name.lower()) for name in ("CONFIG", "DATA", "RUNTIME")}
    log = (home / "log").open("w")
    server = subprocess.Popen(
        [
            *(sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", "--ip=127.0.0.1"),
            *("--IdentityProvider.token=", "--ServerApp.disable_check_xsrf=True"),
            *(f"--ServerApp.root_dir={folder}", f"--LabApp.app_settings_dir={home / 'settings'}"),
            f"--LabApp.workspaces_dir={home / 'workspaces'}",
        ],
        env={**os.environ, **own, "HITLAB_PROGRESS": str(home / "progress.json")},
        stdout=log,
        stderr=subprocess.STDOUT,
    )
    try:
        # It takes the first port that is free, and says which: one looked for here could be taken meanwhile.
        _wait(lambda: _port_of(home) is not None, "JupyterLab", server)
        address = f"http://127.0.0.1:{_port_of(home)}"
        _wait(lambda: _get(address, "api/status") is not None, "JupyterLab", server)
        yield address, home
    finally:
        server.terminate()
        server.wait(20)
        log.close()


def _port_of(home: Path) -> int | None:
    """Return the port that a server says it has taken, once it has said all."""
    for told in (home / "runtime").glob("jpserver-*.json"):
        with contextlib.suppress(json.JSONDecodeError):
            return int(json.loads(told.read_text(encoding="utf-8"))["port"])
    return None


def _get(address: str, path: str) -> Any:
    try:
        with urllib.request.urlopen(f"{address}/{path}", timeout=5) as answer:
            return json.load(answer)
    except (urllib.error.URLError, ConnectionError):
        return None


def _wait(done: Any, what: str, server: subprocess.Popen[bytes] | None = None) -> None:
    end = time.monotonic() + PATIENCE_MS / 1000
    while not done():
        assert server is None or server.poll() is None, f"{what} stopped"
        assert time.monotonic() < end, f"{what} did not come up in {PATIENCE_MS / 1000:.0f} s"
        time.sleep(0.2)


class Open:
    """A notebook that is open in the browser; what went wrong there is noted down."""

    def __init__(self, browser: Any, address: str, name: str) -> None:
        self.page = browser.new_page(viewport={"width": 1300, "height": 1000})
        self.errors: list[str] = []
        self.away: list[str] = []
        self.page.on("console", lambda m: self.errors.append(m.text) if m.type == "error" else None)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("request", lambda request: self._note(request.url, address))
        self.address = address
        self.page.goto(f"{address}/lab/tree/{name}?reset")
        self.page.wait_for_selector(".jp-NotebookPanel .jp-CodeCell", timeout=PATIENCE_MS)
        # The indicator says idle before there is a session, so the server is asked.
        _wait(self._connected, "the kernel")

    def _note(self, url: str, address: str) -> None:
        if not url.startswith((address, address.replace("http", "ws"), "data:", "blob:")):
            self.away.append(url)

    def _connected(self) -> bool:
        kernels = _get(self.address, "api/kernels") or []
        return any(k["execution_state"] == "idle" and k["connections"] > 0 for k in kernels)

    def run_all(self, wanted: str = ".widget-slider") -> None:
        self.page.get_by_role("menuitem", name="Run", exact=True).click()
        self.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        self.page.wait_for_selector(
            f"{wanted}, .jp-OutputArea-output[data-mime-type*=error]", timeout=PATIENCE_MS
        )
        # Every cell has a number once it has run; the last has none or a star until then.
        last = self.page.locator(".jp-CodeCell .jp-InputPrompt").last
        self.page.wait_for_function(
            "node => /\\[\\d+\\]/.test(node.textContent)", arg=last.element_handle(), timeout=PATIENCE_MS
        )

    def outputs(self) -> str:
        return str(self.page.locator(".jp-Notebook").inner_text())

    def slider_moves_the_picture(self) -> bool:
        """Move the first slider by keyboard, twice; its cell has exactly one picture all the time."""
        cell = self.page.locator(".jp-CodeCell", has=self.page.locator(".widget-slider")).first
        picture = cell.locator(".jp-OutputArea img")
        handle = cell.get_by_role("slider")
        handle.focus()
        for key in ("ArrowRight", "ArrowLeft"):
            assert picture.count() == 1
            before = [picture.get_attribute(name) for name in ("src", "alt")]
            value = handle.get_attribute("aria-valuenow")
            self.page.keyboard.press(key)  # the slider has the focus still
            assert handle.get_attribute("aria-valuenow") != value, "the slider itself did not move"
            for _ in range(50):
                after = [picture.get_attribute(name) for name in ("src", "alt")]
                if all(one != other for one, other in zip(before, after, strict=True)):
                    break
                self.page.wait_for_timeout(100)
            else:
                return False
        assert picture.count() == 1
        return True

    def answer(self, exercise: str, answer: Any) -> str:
        """Type an answer into its cell, run it, and return what the cell then says."""
        cell = self.page.locator(".jp-CodeCell", has_text=f'check("{exercise}"').first
        cell.locator(".cm-content").click()
        self.page.keyboard.press("Control+A")
        self.page.keyboard.insert_text(f'answer = {answer!r}\ncheck("{exercise}", answer)')
        was = cell.locator(".jp-InputPrompt").inner_text()
        self.page.keyboard.press("Control+Enter")
        prompt = cell.locator(".jp-InputPrompt").element_handle()
        self.page.wait_for_function(
            "([node, was]) => /\\[\\d+\\]/.test(node.textContent) && node.innerText !== was",
            arg=[prompt, was],
            timeout=PATIENCE_MS,
        )
        return str(cell.locator(".jp-OutputArea").inner_text())

    def close(self) -> None:
        for kernel in _get(self.address, "api/sessions") or []:
            request = urllib.request.Request(f"{self.address}/api/sessions/{kernel['id']}", method="DELETE")
            urllib.request.urlopen(request, timeout=20).close()
        self.page.close()


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda path: path.stem)
def test_a_lesson_works_in_jupyterlab(browser: Any, lab: tuple[str, Path], lesson: Path) -> None:
    address, home = lab
    notebook = Open(browser, address, lesson.name)
    try:
        notebook.run_all()
        assert not notebook.page.locator("[data-mime-type='application/vnd.jupyter.error']").count()
        assert "NOT ANSWERED YET" in notebook.outputs()
        assert notebook.slider_moves_the_picture()
        exercise = next(
            e for e in find_lesson(lesson.name[:2]).exercises if e.wrong and isinstance(e.form, Number)
        )
        wrong = exercise.wrong[0]
        said = notebook.answer(exercise.id, wrong.answer())
        assert "NOT YET" in said
        assert wrong.says[1:40] in said
        assert "RIGHT" in notebook.answer(exercise.id, right_answer(exercise.form))
        kept = json.loads((home / "progress.json").read_text(encoding="utf-8"))
        assert kept["exercises"][exercise.id]["state"] == "right"
        shots = os.environ.get("HITLAB_SCREENSHOTS")
        if shots:
            _take_pictures(notebook.page, Path(shots), lesson.stem)
        assert notebook.errors == []
        assert notebook.away == []
    finally:
        notebook.close()


def test_the_page_to_start_from_runs_and_leads_to_the_lessons(browser: Any, lab: tuple[str, Path]) -> None:
    notebook = Open(browser, lab[0], START.name)
    try:
        notebook.run_all(".jp-OutputArea-output")
        assert "9 hard-hit balls in 50 swings are 18 %" in notebook.outputs()
        assert "Lesson 13" in notebook.outputs()
        assert notebook.errors == []
        notebook.page.get_by_role("link", name="5. Name the leader").first.click()
        notebook.page.get_by_role("heading", name="5. Name the leader").wait_for(timeout=PATIENCE_MS)
        assert notebook.away == []
    finally:
        notebook.close()


def test_what_jupyterlab_saves_is_brought_up_to_date_and_the_answer_stays(
    browser: Any, lab: tuple[str, Path]
) -> None:
    address, home = lab
    lesson = FIRST.read_bytes()
    path = home / "lessons" / f"laid_out_{FIRST.name}"
    path.write_bytes(marked(lesson.replace(b"# 1. Count", b"# 1. Count, count")))
    before = path.read_bytes()
    exercise = find_lesson("01").exercises[0]
    notebook = Open(browser, address, path.name)
    try:
        notebook.answer(exercise.id, right_answer(exercise.form))
        notebook.page.keyboard.press("Escape")
        notebook.page.keyboard.press("b")
        notebook.page.keyboard.press("Enter")
        notebook.page.keyboard.insert_text("# a cell of mine")
        notebook.page.keyboard.press("Control+s")
        _wait(lambda: b"a cell of mine" in path.read_bytes(), "the saved lesson")
    finally:
        notebook.close()
    assert path.read_bytes() != before
    result = merged(path.read_bytes(), lesson)
    assert result.kept == (f"your answers to {exercise.id}", "1 cell of your own")
    assert result.changed == ("1 cell changed", "at the top")
    assert result.content is not None
    texts = ["".join(cell["source"]) for cell in json.loads(result.content)["cells"]]
    answered = f'answer = {right_answer(exercise.form)!r}\ncheck("{exercise.id}", answer)'
    assert texts[texts.index(answered) + 1] == "# a cell of mine"
    wanted = ["".join(cell["source"]) for cell in json.loads(lesson)["cells"]]
    assert [text for text in wanted if text not in texts] == [f'answer = ...\ncheck("{exercise.id}", answer)']


def test_the_picture_that_a_slider_moved_stays_in_the_saved_notebook(
    browser: Any, lab: tuple[str, Path]
) -> None:
    address, home = lab
    path = home / "lessons" / f"moved_{FIRST.name}"
    shutil.copy(FIRST, path)
    notebook = Open(browser, address, path.name)
    try:
        notebook.run_all()
        notebook.page.get_by_role("slider").first.press("ArrowRight")
        moved = notebook.page.locator(".jp-OutputArea p", has_text="Lou's misses: 25")
        moved.wait_for(timeout=PATIENCE_MS)
        words = moved.locator("xpath=..").locator("img").get_attribute("alt")
        notebook.page.keyboard.press("Control+s")
        _wait(lambda: b"misses: 25" in path.read_bytes(), "the saved lesson")
        assert notebook.errors == []
    finally:
        notebook.close()
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    (put_out,) = [cell["outputs"] for cell in cells if "slider" in cell["metadata"].get("tags", [])]
    pictures = ["".join(one["data"].get("text/html", "")) for one in put_out]
    assert [text.count("<img") for text in pictures] == [0, 1]
    assert words
    assert words in html.unescape(pictures[1])
    again = Open(browser, address, path.name)
    try:
        again.page.locator(".jp-OutputArea p", has_text="Lou's misses: 25").wait_for(timeout=PATIENCE_MS)
    finally:
        again.close()


def _take_pictures(page: Any, folder: Path, name: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for number, part in enumerate(page.locator(".jp-Notebook h2").all()):
        part.scroll_into_view_if_needed()
        page.wait_for_timeout(200)
        page.screenshot(path=str(folder / f"{name}_{number:02d}.png"))


def test_a_slider_that_is_not_hooked_up_is_noticed(browser: Any, lab: tuple[str, Path]) -> None:
    notebook = Open(browser, lab[0], f"unhooked_{FIRST.name}")
    try:
        notebook.run_all()
        assert not notebook.slider_moves_the_picture()
    finally:
        notebook.close()


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda path: path.stem)
@pytest.mark.parametrize("copy", ["learner", "solutions"])
def test_a_handout_can_be_read_by_everybody(browser: Any, tmp_path: Path, lesson: Path, copy: str) -> None:
    from hitlab.course.handouts import handout

    axe = package("axe_playwright_python.sync_playwright").Axe()
    solved = lesson.parent / "solutions" / lesson.name
    text = handout(lesson, solved) if copy == "learner" else handout(solved)
    assert "No description has been provided" not in text
    (tmp_path / "handout.html").write_text(text, encoding="utf-8")
    page = browser.new_page()
    away: list[str] = []
    page.on("request", lambda request: away.append(request.url))
    page.goto((tmp_path / "handout.html").as_uri())
    folds = page.locator("details").all()
    assert not any(fold.locator(".jp-Cell").first.is_visible() for fold in folds)
    found = axe.run(page).response
    for fold in folds:
        fold.locator("summary").press("Enter")
        assert fold.locator(".jp-Cell").first.is_visible()
        assert "Exercise" in fold.locator("summary").inner_text()
    opened = axe.run(page).response if folds else found  # it was all open
    page.emulate_media(media="print")  # on paper it stays closed, and says where the answer is
    for fold in folds:
        assert not fold.locator(".jp-Cell").first.is_visible()
        assert "teacher's copy" in fold.locator("summary").inner_text()
    pictures = page.locator("img").count()
    described = page.locator("img[alt]:not([alt=''])").count()
    page.close()
    wrong = [*found["violations"], *opened["violations"]]
    assert [(v["id"], v["nodes"][0]["html"][:120]) for v in wrong] == []
    assert len(found["passes"]) > 10
    assert pictures == described > 0
    assert [url for url in away if not url.startswith(("file:", "data:"))] == []
