"""The desk's notebook: one heading, one line, and one folded cell. It is made here and nowhere else."""

from __future__ import annotations

import json

__all__ = ["NAME", "notebook_text"]

NAME = "desk.ipynb"

_HEADING = "# The desk"
_WORDS = (
    "Type what somebody says of a hitter, and read what is safe to say. In JupyterLab choose Run, then "
    "Run All Cells; `hitlab desk` in a terminal opens this as a page."
)
_CODE = "import hitlab\n\nhitlab.desk.open_desk()"


def notebook_text() -> str:
    """Return the notebook of the desk, as it is kept in the file.

    Returns
    -------
    str
        JSON; the same every time.

    Examples
    --------
    >>> import json
    >>> [cell["cell_type"] for cell in json.loads(notebook_text())["cells"]]
    ['markdown', 'markdown', 'code']
    """
    cells = [
        {"cell_type": "markdown", "id": "heading", "metadata": {}, "source": _lines(_HEADING)},
        {"cell_type": "markdown", "id": "words", "metadata": {}, "source": _lines(_WORDS)},
        {
            "cell_type": "code",
            "execution_count": None,
            "id": "desk",
            # The page is held by tests of its own, not cell by cell.
            "metadata": {"jupyter": {"source_hidden": True}, "tags": ["nbval-skip"]},
            "outputs": [],
            "source": _lines(_CODE),
        },
    ]
    metadata = {
        "kernelspec": {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
        "title": "The desk",
    }
    whole = {"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _lines(text: str) -> list[str]:
    return text.splitlines(keepends=True)
