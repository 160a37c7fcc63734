"""Commands that take an option of one value once, with an example behind their help.

Click takes the last of ``--file a --file b`` without a word, and an answer about the wrong table looks like
any other. Here it is an error.
"""

from __future__ import annotations

from collections import Counter
from typing import Any

import click

from hitlab.cli.examples import EXAMPLES
from hitlab.errors import HardnessError

__all__ = ["OnceCommand", "OnceGroup"]


class OnceCommand(click.Command):
    """A command that refuses an option of one value that is given twice."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Look at the options in the order in which they were typed, then parse as any command does.

        Raises
        ------
        click.UsageError
            Where an option that takes one value is given more than once, unless help is asked for.
        """
        _, _, typed = self.make_parser(ctx).parse_args(args=list(args))
        options = [option for option in typed if isinstance(option, click.Option)]
        if not ctx.resilient_parsing and not any(option.is_eager for option in options):
            _refuse_repeated(options, self.get_params(ctx), ctx)
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        """Do the work; where no hardness is known, note which option asks for another rate."""
        try:
            return super().invoke(ctx)
        except HardnessError as error:
            if any("--event" in parameter.opts for parameter in self.params):
                error.add_note("Another rate needs none of it: --event whiffs")
            raise


class OnceGroup(click.Group):
    """A group whose commands are :class:`OnceCommand`; it has no option of one value itself."""

    command_class = OnceCommand

    def add_command(self, cmd: click.Command, name: str | None = None) -> None:
        """Take in a command, with its example behind its help."""
        example = EXAMPLES.get(name or cmd.name or "")
        if example:
            cmd.epilog = f"Example: {example}"
        super().add_command(cmd, name)


def _refuse_repeated(typed: list[click.Option], known: list[click.Parameter], ctx: click.Context) -> None:
    for option, times in Counter(typed).items():
        # A flag given twice says the same twice.
        if times == 1 or option.multiple or option.is_flag or option.count:
            continue
        name = max(option.opts, key=len)
        several = [max(one.opts, key=len) for one in known if isinstance(one, click.Option) and one.multiple]
        more = f" What may be given several times here: {', '.join(several)}." if several else ""
        raise click.UsageError(f"{name} is given {times} times and takes one value. Give it once.{more}", ctx)
