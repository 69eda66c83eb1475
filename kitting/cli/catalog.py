"""`kitting catalog`: what the catalogue holds, in and out, and what answers for what."""

from types import MappingProxyType

import click

from kitting.cli.lazy import LazyGroup

# name → (module, attribute, help in a line)
COMMANDS = MappingProxyType(
    {
        "check": ("catalog_files", "check", "Read every file; name each fault by its line."),
        "load": ("catalog_files", "load", "Load a catalogue whole, or not at all."),
        "show": ("catalog_show", "show", "Show the families, or one of them."),
        "find": ("catalog_show", "find", "Find parts by number, words or figures."),
        "trace": ("catalog_trace", "trace_command", "What answers for a part, and its tree."),
        "where-used": ("catalog_uses", "where_used", "The positions that a part serves."),
        "fits": ("catalog_uses", "fits", "What fits a position, and what answers it today."),
        "compare": ("catalog_compare", "compare", "Two parts beside each other."),
        "export": ("catalog_book", "export", "Write a family as a workbook, to be edited."),
        "put-back": ("catalog_editions", "put_back", "Put an earlier edition in force again."),
        "import": ("catalog_book", "import_book", "Take a family back from its workbook."),
    }
)


@click.group(cls=LazyGroup, lazy=COMMANDS)
def catalog() -> None:
    """Check and load the catalogue, show a family, find a part and what answers for it."""
