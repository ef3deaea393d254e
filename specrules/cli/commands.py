"""Every command: where it lives, and what its group says of it. A run imports only the one that is called."""

from __future__ import annotations

from copy import copy
from importlib import import_module
from typing import Any

import click

from specrules import VERSION


class ListedCommand(click.Command):
    """A command as its group lists it. `where`: the module and the name under which the command itself is found; its
    docstring is what its help says after what the group says of it."""

    def __init__(self, name: str, where: str, about: str) -> None:
        super().__init__(name, help=about)
        self.where = where

    def imported(self) -> click.Command:
        """The command itself."""
        module, name = self.where.split(":")
        command: click.Command = copy(getattr(import_module(f"specrules.cli.{module}"), name))
        command.help = f"{self.help}\n\n{command.help}"
        return command

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        """The context of the command itself: what is called from here on is that."""
        return self.imported().make_context(info_name, args, parent, **extra)


class CommandGroup(click.Group):
    """A group that offers the nearest of its commands for one that there is not."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names."""
        if args[0] not in self.commands:
            from specrules.document import shown
            from specrules.quantity import nearest

            offered = nearest(args[0], self.commands) or ", ".join(self.list_commands(ctx))
            raise click.UsageError(f"{shown(args[0])} is no command; write {offered}", ctx)
        return super().resolve_command(ctx, args)


class OutermostGroup(CommandGroup):
    """The outermost group: its commands in the order in which a job needs them."""

    def list_commands(self, _ctx: click.Context) -> list[str]:
        return list(self.commands)


@click.group(
    cls=CommandGroup,
    commands=[
        ListedCommand("blank", "form_commands:blank", "Make a form of a sheet, to print and to write on."),
        ListedCommand("import", "import_command:import_table", "Enter the readings of a table: CSV, or a spreadsheet."),
        ListedCommand(
            "limits", "form_commands:limits", "Make a card of the limits of one sheet, to print and to hang up."
        ),
        ListedCommand("new", "sheet_command:new", "Write a new sheet, with a cell for every reading of the job."),
        ListedCommand("take", "take_command:take", "Enter readings at the bench, one place after another."),
    ],
)
def sheet() -> None:
    """Start a build sheet, enter its readings, and print forms of it.

    \b
    specrules sheet new my.sheet.yaml
    specrules sheet take my.sheet.yaml
    specrules sheet import my.sheet.yaml mains.csv --map mains.map.yaml
    specrules sheet blank my.sheet.yaml --out form.html
    specrules sheet limits my.sheet.yaml --out limits.html
    """


@click.group(
    cls=CommandGroup,
    commands=[
        ListedCommand("add", "bundle_commands:add", "Look at a bundle of packs, and take it."),
        ListedCommand("bundle", "bundle_commands:bundle", "Put a pack of your own into one file, for another shop."),
        ListedCommand("compare", "pack_commands:compare", "Show which limits of two packs differ, and for whom."),
        ListedCommand("exercise", "exercise_command:exercise", "Take a lesson or an exercise of a pack."),
        ListedCommand("language", "pack_commands:language", "Tell what the language of packs says of a word."),
        ListedCommand("list", "pack_commands:list_", "List the packs that a sheet here may name."),
        ListedCommand("new", "pack_commands:new", "Write a pack of your own, with how to fill it in."),
        ListedCommand("prove", "prove_command:prove", "Prove packs: limits, likely slips, worked examples."),
        ListedCommand(
            "schema", "pack_commands:schema", "Print the schema by which an editor checks a sheet, or a pack."
        ),
        ListedCommand("show", "pack_commands:show", "Show one pack whole, as a person reads it."),
    ],
)
def pack() -> None:
    """Read, write, prove, compare and hand on tolerance packs.

    \b
    specrules pack list
    specrules pack show towing
    specrules pack new packs/house.pack.yaml --on towing
    specrules pack prove packs/house.pack.yaml
    specrules pack compare towing house my.sheet.yaml
    """


@click.group(
    cls=CommandGroup,
    commands=[
        ListedCommand("able", "gauge_commands:able", "Say which tolerances the gauges of a sheet cannot decide."),
        ListedCommand(
            "study", "gauge_commands:study", "Take a repeatability study apart: repeatability, operators, parts."
        ),
    ],
)
def gauge() -> None:
    """Find out what a gauge can do.

    \b
    specrules gauge study mic.study.yaml
    specrules gauge able my.sheet.yaml
    """


@click.group(
    cls=CommandGroup,
    commands=[
        ListedCommand("check", "record_commands:check", "Say whether a record is still of what is there."),
        ListedCommand("compare", "record_commands:compare", "Say what changed from one record to the next."),
    ],
)
def record() -> None:
    """See whether a record still stands, or compare two.

    \b
    specrules inspect my.sheet.yaml --form json --out as-built.json
    specrules record check as-built.json
    specrules record compare as-found.json as-built.json
    """


@click.group(
    cls=OutermostGroup,
    commands=[
        ListedCommand("demo", "demo_command:demo", "Judge the demo engine, an invented V8 on the bench."),
        ListedCommand("inspect", "inspect_command:inspect", "Judge build sheets and say whether the work may go on."),
        ListedCommand("working", "working_command:working", "Show one rule whole, worked with a sheet's numbers."),
        sheet,
        pack,
        gauge,
        record,
    ],
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
)
@click.version_option(VERSION, message="specrules %(version)s")
def specrules() -> None:
    """Judge a measured build against tolerance packs, station by station.

    \b
    Look first:             specrules demo
    Start your own sheet:   specrules sheet new my.sheet.yaml
    Enter your readings:    specrules sheet take my.sheet.yaml
    Judge it:               specrules inspect my.sheet.yaml
    See one rule whole:     specrules working RULE my.sheet.yaml

    The maker's figure for the actual part, local codes and licensed practice
    come before every limit in the packs.
    """
