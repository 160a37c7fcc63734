"""Writing what goes on paper: one ``.html`` that needs no network, a ``.pdf``, or its table alone."""

from __future__ import annotations

from collections.abc import Callable
from os import PathLike
from pathlib import Path
from typing import Literal

import pandas as pd

from hitlab.errors import HitlabError
from hitlab.results import save_table
from hitlab.writing import check_outputs, files_read, write_file

__all__ = ["PAPERS", "Paper", "save_paper"]

Paper = Literal["letter", "A4"]
PAPERS: tuple[Paper, ...] = ("letter", "A4")


def save_paper(
    path: str | PathLike[str],
    html: Callable[[], str],
    table: pd.DataFrame,
    *,
    paper: Paper,
    source: str,
    what: str = "page",
) -> Path:
    """Write what goes on paper.

    Parameters
    ----------
    path
        The file; its ending decides.
    html
        Makes the document; not called where the file cannot be written.
    table
        What is saved under the ending of a table.
    paper
        Of a PDF.
    source
        The file that it is made from, which is not written over; empty for none.
    what
        What it is called in messages.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    HitlabError
        Where the ending or the paper is another one, or no browser that prints is found.
    ReadingError
        Where the file cannot be written, or was read.
    """
    path = Path(path)
    inputs = (source, *files_read())
    ending = path.suffix.lower()
    if ending not in (".html", ".pdf"):
        return save_table(table, path, f", or the whole {what} as .html or .pdf", inputs=inputs)
    if paper not in PAPERS:
        raise HitlabError(f"paper={paper!r}: give one of {', '.join(PAPERS)}")
    check_outputs({what: path}, inputs=inputs)  # said before the work
    text = html()
    if ending == ".html":
        return write_file(path, text.encode(), inputs=inputs)
    from hitlab.pages.printing import printed

    return write_file(path, printed(text, paper), inputs=inputs)
