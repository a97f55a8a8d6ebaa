"""The columns of the Stock sheet, and the lines of the Saw sheet that say how the shop buys."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_material import FAMILY, FINISH, LENGTH, LENGTH_UNIT, PART, QUANTITY

STOCK = SheetPlan(
    kind=SheetKind.STOCK,
    needs=("length",),
    tabs=("bars", "stock lengths", "stock list", "bar list", "price list", "prices"),
    columns=(
        FAMILY,
        FINISH,
        PART,
        Column(
            field="length",
            heading="Length",
            accepts=("bar length", "stock length", "nominal length", "bar", "len"),
            weak=LENGTH.weak,
            length=True,
            width=14,
        ),
        LENGTH_UNIT,
        Column(
            field="price",
            heading="Price",
            accepts=(
                *("price each", "price per bar", "unit price", "list price", "net price", "price net"),
                *("cost", "unit cost", "bar price", "rate"),
            ),
            weak=("cost each",),
            money=True,
            hint="List price of one bar, the same currency throughout.",
        ),
        Column(
            field="count",
            heading="Count",
            accepts=("available", "bars", "can be had", *QUANTITY.accepts),
            weak=("no", "number"),
            hint="Bars that can be had, those on hand included; blank means as many as needed.",
        ),
        Column(
            field="on_hand",
            heading="On hand",
            accepts=("in stock", "bars on hand", "on shelf", "own stock"),
            hint="Bars already paid for; they are used before any are bought.",
        ),
        Column(
            field="hand_value",
            heading="Value on hand",
            accepts=("on hand value", "stock value", "value each"),
            money=True,
            hint="What taking one of them costs the job; blank: nothing.",
        ),
        Column(
            field="pack",
            heading="Pack",
            accepts=("pack size", "bars per pack", "bundle", "bundle size"),
            width=8,
            hint="Bars sold together; blank: one by one.",
        ),
        Column(
            field="minimum",
            heading="Minimum",
            accepts=("minimum order", "min order", "moq", "minimum bars"),
            width=9,
            hint="Fewest bars that can be ordered when any are.",
        ),
        Column(
            field="breaks",
            heading="Price breaks",
            accepts=("breaks", "price break", "quantity price", "discount", "discounts"),
            money=True,
            width=26,
            hint="10 % from 60; 13.00 from 100. All bars of the material counted: 10 % from 60 in all.",
        ),
        Column(
            field="supplier",
            heading="Supplier",
            accepts=("vendor", "from", "maker"),
            width=14,
            hint="Breaks on the total count one supplier's bars.",
        ),
        Column(
            field="lead_days",
            heading="Lead days",
            accepts=("lead time", "lead time days", "delivery days"),
            width=9,
            hint="Days from order to delivery.",
        ),
    ),
)

BUYING_TEXTS = {
    "needed_by": (
        "Needed by",
        ("bars needed by", "due date"),
        "Date by which the bars must be there, such as 2027-03-31.",
    ),
    "spare_bars": ("Reserve bars", ("spare bars",), "Least number of reserve bars of each material."),
    "spare_share": (
        "Reserve share",
        ("spare share", "reserve", "spares"),
        "Reserve bars as a share of the new bars needed, such as 3 %.",
    ),
    "from_tails": (
        "Spares from tails",
        ("spares from offcuts",),
        "yes lists repeat lengths that the tails give at no extra bar.",
    ),
    "fetch": ("Fetch cost", ("fetch", "cost of fetching"), "Cost of finding and fetching one offcut."),
    "offcut_low": (
        "Offcut value from",
        ("offcut value low",),
        "Share of a new bar's price an offcut of keep length counts for, such as 50 %.",
    ),
    "offcut_high": (
        "Offcut value to",
        ("offcut value high",),
        "The same at the longest stock length, below 100 %; shares rise in between.",
    ),
    "least_order": (
        "Least order sum",
        ("minimum order value", "minimum order sum", "minimum order amount", "least order"),
        "Least sum every supplier charges for an order, all its lines together.",
    ),
    "budget": ("Budget", ("budget for bars",), "What the order may come to; compared, it limits nothing."),
}
