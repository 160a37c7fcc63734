"""Writing what goes on paper: one ``.html`` that needs no network, a ``.pdf``, or its table alone."""

from __future__ import annotations

from os import PathLike
from pathlib import Path
from typing import ClassVar, Literal

import pandas as pd

from hitlab.errors import HitlabError
from hitlab.results import save_table
from hitlab.writing import check_outputs, files_read, write_file

__all__ = ["PAPERS", "OnPaper", "Paper"]

Paper = Literal["letter", "A4"]
PAPERS: tuple[Paper, ...] = ("letter", "A4")


class OnPaper:
    """What is printed or opened offline: one file that asks nothing of any other machine."""

    __slots__ = ()

    CALLED: ClassVar[str] = "page"
    """What it is called in messages."""

    data: pd.DataFrame
    """What is saved under the ending of a table."""
    source: str
    """The file that it is made from, which is not written over; empty for none."""

    @property
    def most_sides(self) -> int | None:
        """How many sides it is printed on at most; ``None`` for any number."""
        return None

    def html(self) -> str:
        """Return the document.

        Raises
        ------
        MissingPackageError
            Where Jinja2, or for pictures matplotlib, is not installed.
        """
        raise NotImplementedError

    def save(self, path: str | PathLike[str], *, paper: Paper = "letter") -> Path:
        """Write it.

        Parameters
        ----------
        path
            The file; its ending decides: ``.html``, ``.pdf`` (printed by a Chromium, Chrome or Edge that is
            installed), or for the numbers alone one of those of :meth:`hitlab.results.Result.save`.
        paper
            Of a PDF: ``letter`` or ``A4``.

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
        MissingPackageError
            Where Jinja2, or for pictures matplotlib, is not installed.

        Warns
        -----
        SidesWarning
            If a PDF has more sides than it was to have, even at half its size.
        """
        path = Path(path)
        inputs = (self.source, *files_read())
        ending = path.suffix.lower()
        if ending not in (".html", ".pdf"):
            also = f", or the whole {self.CALLED} as .html or .pdf"
            return save_table(self.data, path, also, inputs=inputs)
        if paper not in PAPERS:
            raise HitlabError(f"paper={paper!r}: give one of {', '.join(PAPERS)}")
        check_outputs({self.CALLED: path}, inputs=inputs)  # said before the work
        text = self.html()
        if ending == ".html":
            return write_file(path, text.encode(), inputs=inputs)
        from hitlab.pages.printing import printed

        return write_file(path, printed(text, paper, self.most_sides), inputs=inputs)
