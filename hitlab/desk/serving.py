"""The desk as a page: a server of our own, for this machine and for whoever has its address."""

from __future__ import annotations

import json
import os
import secrets
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from hitlab.desk.page import FILE, FOLDER
from hitlab.desk.sheet import NAME, notebook_text
from hitlab.errors import HitlabError
from hitlab.optional import lacking
from hitlab.showing import shown
from hitlab.writing import make_folder, write_file

__all__ = ["Served", "served"]

_HOST = "127.0.0.1"
_PATIENCE_S = 60.0
_PORTS = 3  # that are tried, where the first turns out to be taken
_MOST_BYTES = 500_000_000  # of an uploaded file

# Whatever the page would ask for elsewhere, the browser refuses.
_OWN_ONLY = (
    "default-src 'self' data: blob:; script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:; "
    "style-src 'self' 'unsafe-inline'; connect-src 'self' ws://{here} data: blob:; frame-ancestors 'self'"
)


@dataclass(frozen=True, slots=True)
class Served:
    """A desk that is being served.

    Attributes
    ----------
    address
        With the token that it asks for.
    process
        Of the server.
    log
        What the server writes.
    """

    address: str
    process: subprocess.Popen[bytes]
    log: Path

    def wait(self) -> None:
        """Wait until the server ends, which by itself it does not.

        Raises
        ------
        HitlabError
            Where it ended; the message says what it wrote last.
        """
        self.process.wait()
        raise HitlabError(f"the page is served no longer: {_last_line(self.log)}")


@contextmanager
def served(folder: Path, path: str = "") -> Iterator[Served]:
    """Serve the desk until the block ends.

    Parameters
    ----------
    folder
        Where what is saved goes.
    path
        The file of pitches that it begins with; the demo season where it is empty.

    Yields
    ------
    Served
        Where it is to be found, and until when.

    Raises
    ------
    MissingPackageError
        Where voila or ipywidgets is not installed.
    HitlabError
        Where the server does not come up.
    """
    for package in ("voila", "ipywidgets"):
        if find_spec(package) is None:
            raise lacking(package, "pages of the desk", "desk")
    token = secrets.token_urlsafe(24)
    with tempfile.TemporaryDirectory(prefix="hitlab-desk-") as own:
        home = Path(own)
        notebook = write_file(home / NAME, notebook_text().encode())
        # In a file of ours alone: what is typed after a command everybody on the machine can read.
        settings = {"Voila": {"token": token}}
        write_file(make_folder(home / "settings") / "voila.json", json.dumps(settings).encode())
        with ExitStack() as running:
            for further in reversed(range(_PORTS)):
                port = _free_port()
                server = running.enter_context(
                    _started(_command(notebook, port, home), home, _environment(home, folder, path))
                )
                try:
                    _wait_for(port, server, home / "log")
                except HitlabError:
                    # Between looking for it and using it, another program can take a port that was free.
                    if not further or server.poll() is None or not _answers(port):
                        raise
                else:
                    break
            yield Served(f"http://{_HOST}:{port}/?token={token}", server, home / "log")


@contextmanager
def _started(
    command: list[str], home: Path, environment: dict[str, str]
) -> Iterator[subprocess.Popen[bytes]]:
    """Start the server, and end it with the block."""
    with (home / "log").open("wb") as log:
        server = subprocess.Popen(
            command,
            env={**os.environ, **environment},
            cwd=home,
            stdout=log,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
        )
        try:
            yield server
        finally:
            server.terminate()
            try:
                server.wait(15)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait(5)


def _answers(port: int) -> bool:
    """Whether somebody listens there."""
    with socket.socket() as asked:
        asked.settimeout(1)
        return asked.connect_ex((_HOST, port)) == 0


def _command(notebook: Path, port: int, home: Path) -> list[str]:
    headers = {"Content-Security-Policy": _OWN_ONLY.format(here=f"{_HOST}:{port}")}
    settings = {"headers": headers, "websocket_max_message_size": _MOST_BYTES}
    return [
        *(sys.executable, "-m", "voila", str(notebook), "--no-browser", f"--port={port}"),
        *(f"--Voila.ip={_HOST}", "--Voila.port_retries=0", f"--Voila.tornado_settings={settings}"),
        *("--template=hitlab_desk", f"--Voila.config_file_paths={home / 'settings'}"),
        *("--VoilaConfiguration.show_tracebacks=False", "--VoilaConfiguration.file_allowlist=^$"),
        # An editor's part that the page has no use for, and that complains where there is no editor.
        "--VoilaConfiguration.extension_denylist=jupyterlab-jupytext",
    ]


def _environment(home: Path, folder: Path, path: str) -> dict[str, str]:
    """Return what the server and its page are told by the environment."""
    templates = str(Path(__file__).parent / "templates")
    before = os.environ.get("JUPYTER_PATH")
    root = str(Path(__file__).resolve().parents[2])
    python = os.environ.get("PYTHONPATH")
    return {
        "JUPYTER_PATH": templates if not before else os.pathsep.join((templates, before)),
        "JUPYTER_RUNTIME_DIR": str(make_folder(home / "runtime")),
        # The page is to be of this very package, wherever it was imported from.
        "PYTHONPATH": root if not python else os.pathsep.join((root, python)),
        FOLDER: str(folder.resolve()),
        FILE: str(Path(path).resolve()) if path else "",
    }


def _free_port() -> int:
    with socket.socket() as free:
        free.bind((_HOST, 0))
        port: int = free.getsockname()[1]
        return port


def _last_line(log: Path) -> str:
    told = log.read_text(encoding="utf-8", errors="replace").strip().splitlines()
    return shown(told[-1]) if told else "the server stopped"


def _wait_for(port: int, server: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + _PATIENCE_S
    while True:
        if server.poll() is not None:
            raise HitlabError(f"the page could not be served: {_last_line(log)}")
        try:
            urllib.request.urlopen(f"http://{_HOST}:{port}/static/", timeout=2).close()
        except urllib.error.HTTPError:  # it answers, and lets nobody in without the token
            return
        except (urllib.error.URLError, OSError):
            if time.monotonic() > end:
                raise HitlabError(
                    f"the page did not come up in {_PATIENCE_S:.0f} s; try again, or open the notebook of "
                    "the desk in JupyterLab"
                ) from None
            time.sleep(0.2)
        else:
            return
