"""Takes the ports that a kernel is to have, before it gets to them: what a busy machine does once in a while.

Importing it is enough.
"""

from __future__ import annotations

import socket
from typing import Any

from jupyter_client.provisioning.local_provisioner import LocalProvisioner

_held: list[socket.socket] = []
_launch = LocalProvisioner.launch_kernel


async def _launched(self: LocalProvisioner, cmd: list[str], **kwargs: Any) -> Any:
    found = self.parent.get_connection_info()
    if found["transport"] == "tcp":
        taken = socket.socket()
        taken.bind((found["ip"], found["shell_port"]))
        taken.listen()
        _held.append(taken)
    return await _launch(self, cmd, **kwargs)


LocalProvisioner.launch_kernel = _launched  # type: ignore[method-assign]
