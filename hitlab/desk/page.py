"""The page itself: fields, buttons and what happens when they are used."""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import partial, wraps
from html import escape
from pathlib import Path
from typing import Any

from hitlab.asking import Asked, ask
from hitlab.asking.reading import asked_in_words
from hitlab.claims import Claim
from hitlab.desk import answers, form, saving
from hitlab.desk.notes import Notebook
from hitlab.desk.tables import LOOKED_AHEAD, SENTENCE, OpenTable, open_table
from hitlab.errors import HitlabError, ReadingError
from hitlab.optional import load
from hitlab.pitches.regular import TABLE_ENDINGS
from hitlab.questions import Question
from hitlab.showing import shown, shown_name
from hitlab.wording import capitalised
from hitlab.writing import write_new_file

__all__ = ["FILE", "FOLDER", "Desk", "open_desk"]

FILE, FOLDER = "HITLAB_DESK_FILE", "HITLAB_DESK_FOLDER"
"""Names in the environment by which ``hitlab desk`` tells its page what to open, and where to save."""

_MOST_SHOWN = 300  # characters of a sentence that is repeated
_PAUSE_S = 0.3
_MOST_LINES = 100  # of what was asked


_WIDE = "calc(100% - 4px)"
"""Of a field: the page without the 2 pixels beside a field, which else cut off its edge."""


def _in_plain_words(work: Callable[..., None]) -> Callable[..., None]:
    """Have a button say in a sentence what went wrong; nothing else changes on the page then."""

    @wraps(work)
    def done(desk: Desk, *given: Any) -> None:
        try:
            work(desk, *given)
        except HitlabError as error:
            desk.say(str(error))
        except Exception as error:  # whatever it is, who has no code cannot read a traceback
            desk.say(
                f"an unexpected {type(error).__name__}: {error}. This is a fault of hitlab; please report it "
                "with what you asked"
            )

    return done


class Desk:
    """The desk: its fields, by name, and the table that lies on it.

    Parameters
    ----------
    path
        The file that it begins with; the demo season where it is empty.
    folder
        Where what is saved goes; the folder that one is in where not given.

    Attributes
    ----------
    table
        The open table; ``None`` until a file could be read.
    claim
        The answer that is shown; ``None`` where none is.
    notes
        What was asked.
    whole
        The widget that holds all the others.

    Raises
    ------
    MissingPackageError
        Where ipywidgets is not installed.
    """

    def __init__(self, path: str = "", folder: str | os.PathLike[str] | None = None) -> None:
        self.folder = Path.cwd() if folder is None else Path(folder)
        self.table: OpenTable | None = None
        self.claim: Claim | None = None
        self.notes = Notebook()
        self._uploads: tempfile.TemporaryDirectory[str] | None = None
        self._make_fields(load("ipywidgets", "the desk's fields", "desk"))
        self._lay_out()
        self._hook_up()
        self.path.value = path
        self._open()
        if self.table is None:
            why = self.live.value
            self._take(open_table())
            self.live.value = f"{why}{self.live.value}"

    def _make_fields(self, widgets: Any) -> None:
        wide = {"style": {"description_width": "13em"}, "layout": {"width": _WIDE, "max_width": "52em"}}
        text, choose, press = (
            partial(widgets.Text, continuous_update=False, **wide),
            partial(widgets.Dropdown, **wide),
            widgets.Button,
        )
        self._box, self._row, self._html, self._press = widgets.VBox, widgets.HBox, widgets.HTML, press
        self.path = text(description="File", placeholder="a path; empty for the demo season")
        self.open = press(description="Open the file")
        self.upload = widgets.FileUpload(
            description="Choose a file to upload", accept=",".join(TABLE_ENDINGS)
        )
        self.demo = press(description="Use the demo season")
        self.sentence = text(description=SENTENCE, placeholder="such as: Izezno owns breaking balls")
        self.ask = press(description="Ask")
        self.season = choose(description="Season", options=[("all of the table", ("", "ids"))])
        named = partial(widgets.Combobox, continuous_update=False, ensure_option=False, **wide)
        self.who = named(description="Who", placeholder="a hitter")
        claims = [(one.words, name) for name, one in form.CLAIMS.items()]
        self.claimed = choose(description="What is claimed", options=claims, value="leads")
        self.way = choose(description="Which way", options=[("more often", False), ("less often", True)])
        self.rate = choose(description="Does what", options=form.rate_choices())
        self.when = choose(description="Situation", options=[("all pitches", "")])
        self.since = text(description="Since", placeholder="a day, such as May 15")
        self.value = text(description="Share", placeholder="16% or one in five, where the claim has one")
        self.other = named(description="Other hitter", placeholder="where two are compared")
        self.check = press(description="Check")
        self.saves = {what: press(description=f"Save the {what}", disabled=True) for what in saving.SAVED}
        names = ("table_said", "live", "read", "verdict", "picture", "numbers", "pitches", "saved", "log")
        for name in names:
            setattr(self, name, widgets.HTML())
        self.choices = widgets.VBox([])

    table_said: Any
    live: Any
    read: Any
    verdict: Any
    picture: Any
    numbers: Any
    pitches: Any
    saved: Any
    log: Any

    def _lay_out(self) -> None:
        def head(text: str, level: int = 2) -> Any:
            return self._html(f"<h{level}>{text}</h{level}>")

        self.whole = self._box(
            [
                self._html(answers.STYLE),
                head("The pitches"),
                self.path,
                self._row([self.open, self.upload, self.demo], layout={"flex_flow": "row wrap"}),
                self.table_said,
                head("The claim"),
                self.season,
                self.sentence,
                self._row([self.ask]),
                head("Or put it together from choices", 3),
                *(self.who, self.claimed, self.way, self.rate, self.when, self.since, self.value, self.other),
                self._row([self.check]),
                head("The answer"),
                *(self.live, self.read, self.choices, self.verdict, self.picture, self.numbers, self.pitches),
                head("Keep it"),
                self._row(list(self.saves.values()), layout={"flex_flow": "row wrap"}),
                self.saved,
                head("Asked so far"),
                self.log,
            ]
        )
        self.whole.add_class("desk")
        self._show_log()

    def _hook_up(self) -> None:
        self.open.on_click(lambda _: self._open())
        self.demo.on_click(lambda _: self._use_demo())
        self.upload.observe(lambda _: self._open_upload(), names="value")
        self.ask.on_click(lambda _: self._ask())
        self.check.on_click(lambda _: self._check())
        _on_enter(self.path, self._open)
        _on_enter(self.sentence, self._ask)
        for field in (self.who, self.since, self.value, self.other):
            _on_enter(field, self._check)
        for what, button in self.saves.items():
            button.on_click(lambda _, what=what: self._save(what))

    def say(self, text: str, *, seen: bool = True) -> None:
        """Say something where a screen reader reads it out at once; not ``seen`` where the page shows it."""
        told = shown(text.strip())
        told = capitalised(told)
        ended = told if told.endswith((".", "?", "!", "”")) or not told else f"{told}."
        # What is new in a page and has this role is read out, wherever the keyboard is.
        look = "" if seen else ' class="desk-heard"'
        self.live.value = f'<p role="alert"{look}>{escape(ended)}</p>' if ended else ""

    @_in_plain_words
    def _open(self) -> None:
        self._take(open_table(self.path.value))

    @_in_plain_words
    def _use_demo(self) -> None:
        self.path.value = ""
        self._take(open_table())

    @_in_plain_words
    def _open_upload(self) -> None:
        if not self.upload.value:
            return
        given = self.upload.value[-1]
        if self._uploads is None:
            self._uploads = tempfile.TemporaryDirectory(prefix="hitlab-desk-")
        name = re.sub(r"[^\w.-]+", "-", Path(str(given["name"])).name)[-80:].lstrip(".-") or "upload"
        # The table on the desk may still be read from a file of this name.
        path = write_new_file(Path(self._uploads.name) / name, bytes(given["content"]))
        self._take(open_table(path))

    def _take(self, table: OpenTable) -> None:
        """Lay a table on the desk; the answer from the one before goes, what was asked stays."""
        self.table = table
        fold = (
            f"<details><summary>All that reading found</summary>{table.report}</details>"
            if table.report
            else ""
        )
        self.table_said.value = answers.paragraphs(table.said) + fold
        self.who.options = self.other.options = tuple(table.hitters)
        chosen = self.season.value
        self.season.options = table.seasons
        self.season.value = chosen if chosen in dict(table.seasons).values() else table.seasons[0][1]
        self.season.layout.display = None if len(table.seasons) > 1 else "none"
        chosen = self.when.value
        self.when.options = [("all pitches", ""), *table.situations]
        if chosen in dict(self.when.options).values():
            self.when.value = chosen
        self._clear()
        self.say(f"Ready: {table.said[0]}")
        with suppress(RuntimeError):  # no loop is running: this is no notebook
            for turn, kind in enumerate(LOOKED_AHEAD, start=1):  # a click in between is answered in between
                asyncio.get_running_loop().call_later(turn * _PAUSE_S, table.look_ahead, kind)

    def _clear(self) -> None:
        self.claim = None
        self.choices.children = ()
        for name in ("read", "verdict", "picture", "numbers", "pitches", "saved"):
            getattr(self, name).value = ""
        for button in self.saves.values():
            button.disabled = True

    @_in_plain_words
    def _ask(self) -> None:
        words = self.sentence.value
        self._clear()
        if not words.strip():
            self.say("Nothing was asked yet: type what somebody says, such as “Izezno owns breaking balls”")
            return
        asked = self._understood(words)
        self.read.value = _read_html(asked)
        if asked.outcome != "understood":
            self.say(asked.said)
            self.notes.add(words, None, asked.outcome)
            self._show_log()
            self._offer(asked)
            return
        self._answer(words, asked.readings[0])

    def _understood(self, words: str) -> Asked:
        assert self.table is not None
        season, history = self.season.value
        return ask(words, self.table.known, season=season, history=history)

    def _offer(self, asked: Asked) -> None:
        """Show what can be asked instead, one button each."""
        offered = []
        for question in asked.choices:
            words = asked_in_words(question)
            button = self._press(description=shown(capitalised(words), _MOST_SHOWN))
            button.on_click(lambda _, words=words, question=question: self._chosen(words, question))
            offered.append(button)
        self.choices.children = tuple(offered)
        if asked.nearly:
            offered[0].focus()  # Enter takes it.

    @_in_plain_words
    def _chosen(self, words: str, question: Question) -> None:
        self._clear()
        self.read.value = answers.paragraphs([f"You chose: {words}"])
        self._answer(words, question)

    @_in_plain_words
    def _check(self) -> None:
        self._clear()
        question = form.question_of(
            self.claimed.value,
            who=self.who.value,
            rate=self.rate.value,
            when=self.when.value,
            since=self.since.value,
            value=self.value.value,
            other=self.other.value,
            less=self.way.value,
            season=self.season.value[0],
            history=self.season.value[1],
        )
        assert self.table is not None
        words = asked_in_words(question)
        self.read.value = answers.paragraphs([f"I read this as: {words}"])
        self._answer(words, question)

    def _answer(self, words: str, question: Question) -> None:
        """Work it out and show it, the verdict first."""
        assert self.table is not None
        self.say("Working it out")
        try:
            claim = self.table.answer(question, self.notes.looks)
        except HitlabError:
            self.notes.add(words, None)
            self._show_log()
            raise
        self.claim = claim
        self.notes.add(words, claim)
        for button in self.saves.values():  # first: who sees the verdict may press one at once
            button.disabled = False
        self.verdict.value = answers.verdict_html(claim) + answers.paragraphs([self.notes.explanation])
        self.say(f"{claim.verdict_words}. {claim.say}", seen=False)
        self._show_log()
        self.numbers.value = answers.details_html(claim)
        self.pitches.value = answers.pitches_html(claim, self.table.pitches)
        self.picture.value = answers.picture_html(claim)

    @_in_plain_words
    def _save(self, what: str) -> None:
        if self.claim is None or self.table is None:
            self.say("There is no answer yet to be saved")
            return
        try:
            path = saving.save(what, self.claim, self.table.pitches, self.folder)
            told = f"The {what} is saved: {path.resolve()}"
        except HitlabError as error:
            told = f"The {what} is not saved: {error}"
        self.saved.value = f'<p role="alert">{escape(shown(told))}</p>'

    def _show_log(self) -> None:
        lines = self.notes.lines[-_MOST_LINES:]
        rows = "".join(
            f"<tr><td>{line.time:%H:%M}</td><td>{escape(shown(line.words, _MOST_SHOWN))}</td>"
            f"<td>{escape(shown_name(line.verdict))}</td></tr>"
            for line in reversed(lines)
        )
        head = "<tr><th>When</th><th>What</th><th>Answer</th></tr>"
        table = f"<table><thead>{head}</thead><tbody>{rows}</tbody></table>" if rows else ""
        self.log.value = answers.paragraphs([self.notes.explanation]) + table

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.whole._repr_mimebundle_(**options)


def _on_enter(field: Any, work: Callable[[], None]) -> None:
    """Do something when Enter is pressed in a field, with all that was typed there.

    The browser tells of the key first and of the text afterwards, or of the key alone where the text is as
    it was: so the text is waited for, a moment.
    """
    waiting: list[asyncio.TimerHandle] = []

    def now() -> None:
        while waiting:
            waiting.pop().cancel()
        work()

    def pressed(_: Any, content: Any, __: Any) -> None:
        if not isinstance(content, dict) or content.get("event") != "submit":
            return
        try:
            waiting.append(asyncio.get_running_loop().call_later(_PAUSE_S, now))
        except RuntimeError:  # no loop is running: this is no notebook
            work()

    field.on_msg(pressed)
    field.observe(lambda _: now() if waiting else None, names="value")


def _read_html(asked: Asked) -> str:
    told = [asked.read_as] if asked.outcome == "understood" else []
    if asked.found and asked.outcome != "understood":
        told.append(f"Understood of it: {'; '.join(asked.found)}")
    if asked.left_out:
        told.append(f"Left out: {', '.join(shown_name(word) for word in asked.left_out[:12])}")
    return answers.paragraphs(told)


def open_desk(path: str | os.PathLike[str] = "", folder: str | os.PathLike[str] | None = None) -> Desk:
    """Open the desk in a notebook: ask in your own words or by choices, and read what is safe to say.

    Parameters
    ----------
    path
        The file of pitches that it begins with; the demo season where it is empty. ``hitlab desk`` tells it
        by the environment.
    folder
        Where what is saved goes; beside the notebook where not given.

    Returns
    -------
    Desk
        The page; a notebook shows it.

    Raises
    ------
    MissingPackageError
        Where ipywidgets is not installed.
    ReadingError
        Where something else than a path is given.

    Examples
    --------
    >>> desk = open_desk()
    >>> desk.sentence.value = "Izezno owns breaking balls"
    >>> desk.ask.click()
    >>> desk.claim.verdict_words
    'Open'
    """
    if not isinstance(path, str | os.PathLike):
        raise ReadingError(
            f"the desk opens a file and this is a {type(path).__name__}: give the path of the table, or of a "
            "folder of saved tables"
        )
    folder = os.environ.get(FOLDER) if folder is None else folder
    return Desk(os.fspath(path) or os.environ.get(FILE, ""), folder)
