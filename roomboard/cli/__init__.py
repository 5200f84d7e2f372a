"""The command line: check a project, work it out, print it, or measure a new one."""

import argparse
import os
import sys
from collections.abc import Sequence

import roomboard
from roomboard.cli.estimating import add_estimating
from roomboard.cli.exporting import add_exporting
from roomboard.cli.figures import add_figures
from roomboard.cli.issuing import add_issuing
from roomboard.cli.measuring import add_measuring
from roomboard.cli.on_site import add_on_site
from roomboard.cli.printing import add_printing
from roomboard.cli.stopping import DONE, UNUSABLE, StopError
from roomboard.cli.way_in import add_carry_in
from roomboard.cli.working_out import add_working_out

_ABOUT = (
    "Sets out plasterboard linings: from a measured room to a cut sheet and an order. "
    "It aids the layout; it replaces neither your local code nor a licensed person."
)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its answer to the shell.

    Args:
        argv: The words after the program's name; None for those of the shell.

    Returns:
        0 if all is done, 1 if a finding blocks the set-out, 2 if the input cannot be used.
    """
    for stream in (sys.stdout, sys.stderr):
        _never_fail_on_signs(stream)
    try:
        answer = _run(argv)
        sys.stdout.flush()
    except StopError as stop:
        for line in stop.lines:
            print(line, file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        # Whoever was reading (a pager, head) has read enough; the interpreter must not complain.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    return answer


def _run(argv: Sequence[str] | None) -> int:
    try:
        asked = _parser().parse_args(argv)
    except SystemExit as stop:  # argparse has said what is wrong, or has printed its help
        return stop.code if isinstance(stop.code, int) else UNUSABLE
    answer: int = asked.run(asked)
    return answer


def _never_fail_on_signs(stream: object) -> None:
    """Let a terminal that lacks a sign (m², ″) show an escape instead of ending the program."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="roomboard", description=_ABOUT, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"roomboard {roomboard.__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    add_working_out(commands)
    add_printing(commands)
    add_exporting(commands)
    add_issuing(commands)
    add_carry_in(commands)
    add_estimating(commands)
    add_measuring(commands)
    add_on_site(commands)
    add_figures(commands)
    return parser
