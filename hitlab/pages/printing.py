"""A PDF of a page: printed by a browser that is installed, with nothing fetched from anywhere."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import warnings
from pathlib import Path

from hitlab.errors import HitlabError, HitlabWarning
from hitlab.showing import shown
from hitlab.wording import percent

__all__ = ["SidesWarning", "browser", "demand_browser", "printed", "sides"]

_NAMES = (
    *("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"),
    *("microsoft-edge", "microsoft-edge-stable", "msedge"),
)
_MAC = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
_WINDOWS = (r"Google\Chrome\Application\chrome.exe", r"Microsoft\Edge\Application\msedge.exe")
_PATIENCE_S = 90
_SIZES = (1, 0.9, 0.8, 0.7, 0.6, 0.5)


class SidesWarning(HitlabWarning):
    """A page needs more sides than it was to have, even at the smallest size that is printed."""


def browser() -> str:
    """Return the path of an installed browser that prints to PDF; empty where none is found."""
    found = next((path for name in _NAMES if (path := shutil.which(name))), "")
    if found:
        return found
    places = list(_MAC) if sys.platform == "darwin" else []
    if os.name == "nt":
        roots = [os.environ.get(name) for name in ("ProgramFiles", "ProgramFiles(x86)", "LocalAppData")]
        places = [os.path.join(root, place) for root in roots if root for place in _WINDOWS]
    return next((place for place in places if Path(place).is_file()), "")


def demand_browser() -> str:
    """Return the path of an installed browser that prints to PDF.

    Raises
    ------
    HitlabError
        Where none is found.
    """
    program = browser()
    if not program:
        raise HitlabError(
            "no browser that prints a PDF was found: install Chromium, Chrome or Edge; or save the page as "
            ".html, open it in any browser and print it from there"
        )
    return program


def printed(html: str, paper: str, most_sides: int | None = None) -> bytes:
    """Print a page, smaller where it would need more sides than it may have.

    Parameters
    ----------
    html
        The page.
    paper
        A name that style sheets know: ``letter`` or ``A4``.
    most_sides
        How many sides it may have; ``None`` for any number. No page is printed at less than half its size.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    HitlabError
        Where no browser is found, or it did not print.

    Warns
    -----
    SidesWarning
        If it needs more sides even at half its size; it is printed at that.
    """
    program = demand_browser()
    for size in _SIZES:
        made = _printed(program, html, paper, size)
        if most_sides is None or sides(made) <= most_sides:
            return made
    warnings.warn(
        f"the page has {sides(made)} sides, and was to have {most_sides}: at {percent(_SIZES[-1])} of its "
        "size, the smallest that is printed, it did not fit. Nothing is left out",
        SidesWarning,
        stacklevel=3,
    )
    return made


def sides(pdf: bytes) -> int:
    """Return how many sides a browser's PDF has; it writes each as an object that is not packed."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


def _printed(program: str, html: str, paper: str, size: float) -> bytes:
    sheet = f"<style>@page {{ size: {paper}; }} @media print {{ body {{ zoom: {size}; }} }}</style></head>"
    with tempfile.TemporaryDirectory(prefix="hitlab-page-", ignore_cleanup_errors=True) as folder:
        page, out = Path(folder) / "page.html", Path(folder) / "page.pdf"
        page.write_bytes(html.replace("</head>", sheet, 1).encode())
        command = [
            program,
            "--headless",
            "--disable-gpu",
            "--no-first-run",
            "--disable-extensions",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--host-resolver-rules=MAP * ~NOTFOUND",
            f"--user-data-dir={Path(folder) / 'profile'}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={out}",
            page.as_uri(),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:  # it refuses to put the administrator in a box
            command.insert(1, "--no-sandbox")
        try:
            done = subprocess.run(command, capture_output=True, timeout=_PATIENCE_S, check=False)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise HitlabError(f"{shown(program)} did not print the page: {shown(error)}") from error
        made = out.read_bytes() if out.is_file() else b""
    if not made.startswith(b"%PDF"):
        last = re.sub(r"\s+", " ", done.stderr.decode(errors="replace")).strip()[-200:]
        raise HitlabError(
            f"{shown(program)} did not print the page (exit code {done.returncode}): {shown(last)}. Save it "
            "as .html and print it from a browser"
        )
    return made
