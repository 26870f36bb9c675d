"""The `kitwright` command: the group, and the process around it. Each command is a module of its own, loaded when it is called."""

from __future__ import annotations

import errno
import signal
import sys
from collections.abc import Iterator, Mapping
from importlib import import_module
from keyword import iskeyword
from pathlib import Path
from typing import Any

import click

import kitwright.telling  # noqa: F401 - opens the catalogue
from kitwright.cli.streams import patient_streams
from kitwright.cli.terminal import BAD_INPUT, FINDINGS, say, tell
from kitwright.errors import STOPS, Stopped, UserError
from kitwright.memory import sweep_seldom
from kitwright.telling.help import COMMANDS, STOPPED, WHOLE
from kitwright.telling.terminal import NOTHING_CHANGED


class Loaded(Mapping[str, click.Command]):
    """Every command by name; its module is loaded when it is asked for."""

    def __getitem__(self, name: str) -> click.Command:
        if name not in COMMANDS:
            raise KeyError(name)
        # “import” is a word of Python's own, so its module is called import_.
        module = f"{name}_" if iskeyword(name) else name
        command: click.Command = import_module(f"{__name__}.{module}").command
        return command

    def __iter__(self) -> Iterator[str]:
        return iter(COMMANDS)

    def __len__(self) -> int:
        return len(COMMANDS)


class Examples(click.Group):
    """A command group whose user errors end in one clear message and status 2."""

    asked: str | None = None
    """The command that was typed."""

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self.commands = Loaded()  # type: ignore[assignment]  # click only reads it, but says that it may write

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        # As click does it, but from the table alone.
        limit = formatter.width - 6 - max(map(len, COMMANDS))
        rows = [(name, click.Command(name, help=COMMANDS[name].about).get_short_help_str(limit)) for name in self.list_commands(ctx)]
        with formatter.section("Commands"):
            formatter.write_dl(rows)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except UserError as error:
            tell(error)
            ctx.exit(BAD_INPUT)
        except click.Abort:
            # A question that got no answer.
            say(f"\n{NOTHING_CHANGED}", err=True)
            ctx.exit(FINDINGS)
        except KeyboardInterrupt as stop:
            say(STOPPED, err=True)
            ctx.exit(128 + (stop.number if isinstance(stop, Stopped) else signal.SIGINT))
        except UnicodeEncodeError:
            tell(UserError("commands.not-letters"))
            ctx.exit(BAD_INPUT)
        except OSError as error:
            # Whatever the machine refuses where nobody could do better.
            from kitwright.files import trouble

            tell(trouble(error, "disk.anything"))
            ctx.exit(BAD_INPUT)
        finally:
            self.asked = ctx.invoked_subcommand


@click.group(cls=Examples, help=WHOLE.about, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="kitwright", prog_name="kitwright")
@click.option("--root", type=click.Path(path_type=Path, file_okay=False), help=WHOLE.options["--root"])
@click.pass_context
def cli(ctx: click.Context, root: Path | None) -> None:
    ctx.obj = root


# --- the process ----------------------------------------------------------------------------------


def main() -> None:
    """The console command."""
    sweep_seldom()
    printed = patient_streams()
    for number in STOPS:
        if signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, _stop)
    try:
        cli(prog_name="kitwright")
    finally:
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        # `| head` is no failure; a disk that took only half of what was asked for is one.
        lost = printed.failed if printed else None
        if lost is not None and lost.errno != errno.EPIPE and cli.asked is not None:
            tell(UserError("commands.output-lost", why=lost.strerror))
            sys.stderr.flush()
            if getattr(cli.commands.get(cli.asked), "prints", False) and "--ics" not in sys.argv:
                sys.exit(BAD_INPUT)


def _stop(number: int, frame: object) -> None:
    raise Stopped(number)
