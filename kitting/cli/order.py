"""`kitting order`: orders to suppliers, their replies, and what arrives."""

from __future__ import annotations

from types import MappingProxyType

import click

from kitting.cli.lazy import LazyGroup

# name → (module, attribute, help in a line), in the order of an order
_COMMANDS = MappingProxyType(
    {
        "plan": ("order_plan", "plan", "Cheapest, soonest, fewest parcels: each proved."),
        "make": ("order_making", "make", "Draft what a job's kit still needs."),
        "list": ("order_showing", "list_orders", "The orders and how far each is."),
        "show": ("order_showing", "show_order", "One order: lines, replies, what came."),
        "approve": ("order_making", "approve", "Freeze a draft, by a named person."),
        "sheet": ("order_papers", "sheet", "The workbook that the supplier fills in."),
        "xml": ("order_papers", "xml", "The order as Order-X or UBL 2.1."),
        "csv": ("order_papers", "as_csv", "The order as plain comma-separated text."),
        "sent": ("order_making", "sent", "Note that it was sent."),
        "reply": ("order_replies", "reply", "Read the supplier's filled workbook."),
        "answer": ("order_replies", "answer", "Accept or refuse what a reply changes."),
        "delivery-sheet": ("order_papers", "delivery_sheet", "The sheet to count a parcel on."),
        "receive": ("order_arrivals", "receive", "Count and measure what came."),
        "measure": ("order_proving", "measure", "Measure what came before, or again."),
        "settle": ("order_proving", "settle", "A named person's word on what is in doubt."),
        "return": ("order_arrivals", "send_back", "Send pieces back to the supplier."),
        "cancel": ("order_making", "cancel", "Cancel what has not come."),
    }
)


@click.group(cls=LazyGroup, lazy=_COMMANDS)
def order() -> None:
    """Orders to suppliers: drafted, approved, answered, delivered.

    What was approved stays as it was; replies, answers, deliveries and returns are added to it, and
    whatever falls short is open again for the next order.

    \b
    Example:
      kitting order make 26-041
      kitting order approve P1001 --who "K. Ferris"
      kitting order sheet P1001
      kitting order reply order-P1001.xlsx
      kitting order receive P1001 --all --who "J. Marlowe"
    """
