"""Pages for a teacher as HTML: one file each that needs no network, put together from templates."""

from __future__ import annotations

from functools import cache
from typing import Any

from hitlab import __version__
from hitlab.optional import load
from hitlab.pages.html import kept_together

__all__ = ["from_markdown", "page"]

_PURPOSE = ("a teacher's pages", "course")


def page(template: str, title: str, **told: Any) -> str:
    """Return a page as one HTML document.

    Parameters
    ----------
    template
        Its name.
    title
        Of the page.
    told
        What the template takes.

    Raises
    ------
    MissingPackageError
        Where Jinja2 is not installed.
    """
    text: str = (
        _templates().get_template(f"{template}.html.jinja").render(title=title, version=__version__, **told)
    )
    return f"{text.strip()}\n"


def from_markdown(text: str) -> Any:
    """Return prose of a lesson as HTML; what is HTML in it is shown as it is written.

    Raises
    ------
    MissingPackageError
        Where the reader of Markdown is not installed.
    """
    reader = load("markdown_it", *_PURPOSE).MarkdownIt("commonmark", {"html": False}).enable("table")
    # A table's empty corner is no heading, which a screen reader would announce.
    made = reader.render(text).replace("<th></th>", "<td></td>")
    return load("markupsafe", *_PURPOSE).Markup(kept_together(made))


@cache
def _templates() -> Any:
    jinja2 = load("jinja2", *_PURPOSE)

    def told(value: Any) -> Any:
        safe = not isinstance(value, str) or hasattr(value, "__html__")
        return value if safe else kept_together(value)

    return jinja2.Environment(
        loader=jinja2.ChoiceLoader(
            [
                jinja2.PackageLoader("hitlab.course", "templates/teacher"),
                jinja2.PackageLoader("hitlab.pages", "templates"),
            ]
        ),
        autoescape=True,
        finalize=told,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
