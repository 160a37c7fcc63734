"""A page as HTML: the parts put into a template, with their pictures inside."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from hitlab import __version__
from hitlab.optional import load
from hitlab.showing import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["kept_together", "page_html", "sheet_html"]

_PURPOSE = ("pages about a hitter", "pages")
_FORM_IN = (9.6, 2.7)
_NUMBERS = (
    *("Record", "Observed", "Best estimate", "Everybody else", "Own record decides"),
    *("There", "Elsewhere", "Estimate there", "Everybody there"),
    *("Swings", "Missed", "Fouled", "Fair", "Hit hard", "Off the bat", "Count"),
)
"""Columns that are set to the right."""


class Part(NamedTuple):
    """A part under its heading."""

    name: str
    heading: str
    section: Any


def page_html(page: Any, headings: dict[str, str]) -> str:
    """Return a page as one HTML document.

    Parameters
    ----------
    page
        A ``HitterPage``.
    headings
        Of its parts, in the order in which they stand.

    Raises
    ------
    MissingPackageError
        Where Jinja2 or matplotlib is not installed.
    """
    template = _templates().get_template(f"{page.reader}.html.jinja")
    text: str = template.render(
        page=page,
        parts=[
            Part(name, text, page.sections[name]) for name, text in headings.items() if name in page.sections
        ],
        pictures=dict(_pictures(page)),
        numbers=_NUMBERS,
        version=__version__,
    )
    return f"{text.strip()}\n"


def sheet_html(name: str, sheet: Any, **told: Any) -> str:
    """Return a board list or a dugout sheet as one HTML document.

    Parameters
    ----------
    name
        Of its template.
    sheet
        What is on it.
    told
        What the template takes beside it.

    Raises
    ------
    MissingPackageError
        Where Jinja2 is not installed.
    """
    template = _templates().get_template(f"{name}.html.jinja")
    text: str = template.render(sheet=sheet, version=__version__, **told)
    return f"{text.strip()}\n"


def kept_together(text: str) -> str:
    """Return a text in which no line ends between a number and its per cent."""
    return text.replace(" %", "\N{NO-BREAK SPACE}%")


@cache
def _templates() -> Any:
    jinja2 = load("jinja2", *_PURPOSE)

    def told(value: Any) -> Any:
        # What is from the data is shown by the one rule before it is escaped; what is safe was made by us.
        if not isinstance(value, str) or hasattr(value, "__html__"):
            return value
        return kept_together(shown(value))

    return jinja2.Environment(
        loader=jinja2.PackageLoader("hitlab.pages", "templates"),
        autoescape=True,
        finalize=told,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _pictures(page: Any) -> Iterator[tuple[str, Any]]:
    """Draw the pictures of a page, each by the part in which it stands."""
    markup = load("markupsafe", *_PURPOSE).Markup
    load("matplotlib", *_PURPOSE)
    from hitlab import plots

    def inside(ax: Axes, name: str, title: str) -> Any:
        figure = ax.get_figure(root=True)
        for one in figure.axes if figure else ():
            one.patch.set_visible(False)  # the page has its own ground
        return markup(plots.inline_svg(ax, name, title))

    plain = page.reader == "player"
    if len(page.became) and page.became["number"].sum():
        yield (
            "became",
            inside(plots.swings_became(page.became, plain=plain), "became", "What became of every swing"),
        )
    if len(page.field):
        ax = plots.standing(page.field, plain=plain)
        yield "standing", inside(ax, "standing", "Where the rates stand among all hitters")
    if page.form is not None and not plain:
        yield "form", inside(_form(page), "form", "The rate over time")


def _form(page: Any) -> Axes:
    from hitlab import plots

    figure_ax, _ = plots.look.axes_for(None, *_FORM_IN)
    figure_ax.set_position((0.07, 0.17, 0.87, 0.53))
    drawn: Axes = plots.moving_rate(page.form, figure_ax)
    return drawn
