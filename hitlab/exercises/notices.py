"""What an exercise says: a state in words and a few lines, as text and as small HTML."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from html import escape
from typing import Literal

from hitlab.wording import capitalised

__all__ = ["COMPARE", "COMPARED", "NOT_ANSWERED", "NOT_YET", "RIGHT", "Notice", "State"]

State = Literal[
    "not answered yet",
    "right",
    "not yet",
    "compare the two",
    "compared",
    "hint",
    "solution",
    "progress",
    "confidence",
    "choose",
    "review",
    "note",
]

NOT_ANSWERED: State = "not answered yet"
RIGHT: State = "right"
NOT_YET: State = "not yet"
COMPARE: State = "compare the two"
"""A sentence with all its points and words that the list does not know: neither right nor wrong."""
COMPARED: State = "compared"
"""Such a sentence, given again after the model was shown beside it: done, neither right nor wrong."""

# The state stands in words; the line at the side only repeats it.
_LINES = {RIGHT: "6px solid #2e6b4f", NOT_YET: "6px dashed #9a5b00", NOT_ANSWERED: "6px dotted #6b6b6b"}
_LINES |= dict.fromkeys((COMPARE, COMPARED), "6px double #1f4e79")


@dataclass(frozen=True, slots=True)
class Notice:
    """A state word and what goes with it; prints as text, renders as HTML in a notebook.

    Attributes
    ----------
    state
        One of the state words.
    lines
        What is said, a paragraph each.
    mistake
        The name of the mistake behind a wrong answer, where the marking tells it; not shown.
    items
        A list below, a line each, as they are.
    code
        Lines of code below, as they are.
    picture
        An HTML element below, in a notebook alone; what it shows is said in ``lines``, too.
    """

    state: State
    lines: tuple[str, ...]
    mistake: str = ""
    items: tuple[str, ...] = ()
    code: str = ""
    picture: str = ""

    @property
    def _sentences(self) -> tuple[str, ...]:
        return tuple(capitalised(line) for line in self.lines) or ("",)

    def __str__(self) -> str:
        first, *rest = self._sentences
        text = [f"{self.state.upper()}. {first}".strip(), *rest]
        text = [textwrap.fill(line, 100, subsequent_indent="  ", break_on_hyphens=False) for line in text]
        text += [_item(one) for one in self.items]
        text += ["", textwrap.indent(self.code, "    ")] if self.code else []
        return "\n".join(text)

    def __repr__(self) -> str:
        return str(self)

    def _repr_html_(self) -> str:
        first, *rest = (escape(line) for line in self._sentences)
        body = f"<strong>{self.state.upper()}.</strong> {first}" + "".join(f"<br>{line}" for line in rest)
        body += "".join(f"<br>{escape(one)}" for one in self.items)
        body += f"<pre>{escape(self.code)}</pre>" if self.code else ""
        body += self.picture
        line = _LINES.get(self.state, "6px solid #6b6b6b")
        return f'<div style="border-left:{line};padding:.3em .8em;max-width:46em">{body}</div>'


def _item(text: str) -> str:
    return textwrap.fill(
        text,
        100,
        initial_indent="  ",
        subsequent_indent="     ",
        break_on_hyphens=False,
        break_long_words=False,
    )
