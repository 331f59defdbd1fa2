"""Opens a priced demo workbook with openpyxl and compares its sheets, its sums and a few cells worked out by hand."""

import sys
from decimal import ROUND_HALF_UP, Decimal

import openpyxl

SHEETS = ["Bid", "Rooms", "Openings", "Soffits", "Lines", "Order", "Checks", "Prices", "Rules", "As read", "Carried"]

# room, item, quantity with waste, cost: by hand in tests/commands/demo.rs
BY_HAND = [
    ("102", "Span tee", 719 / 24, "16.48"),
    ("102", "Plain angle", 15, "5.78"),
    ("114", "Gypsum board", 192, "84.10"),
    ("206", "Hanger wire", 12, "0.59"),
    ("206", "Frame soffit", 50 / 3, "157.94"),
]

wrong = []


def expect(what, found, wanted):
    if found != wanted:
        wrong.append(f"{what}: {found!r}, and {wanted!r} was expected")


def cents(value):
    return Decimal(repr(value)).quantize(Decimal("0.01"), ROUND_HALF_UP)


def share(rate, of):
    return (of * Decimal(rate)).quantize(Decimal("0.01"), ROUND_HALF_UP)


def figure(bid, label):
    for row in bid.iter_rows(values_only=True):
        if row[0] == label:
            numbers = [v for v in row[1:] if isinstance(v, (int, float))]
            if numbers:
                return cents(float(numbers[0]))
    wrong.append(f"Bid has no figure {label}")
    return Decimal(0)


def main(path):
    values = openpyxl.load_workbook(path, data_only=True)
    formulas = openpyxl.load_workbook(path)
    for name in SHEETS:
        if name not in values.sheetnames:
            wrong.append(f"sheet {name} is missing from {values.sheetnames}")
    if wrong:
        return

    live = 0
    for sheet in formulas:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type != "f":
                    continue
                live += 1
                stored = values[sheet.title][cell.coordinate].value
                if stored is None and "IF(" not in str(cell.value):
                    wrong.append(f"{sheet.title}!{cell.coordinate} holds a formula without its value")
    if live < 500:
        wrong.append(f"only {live} live formulas")
    for sheet in values:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "e":
                    wrong.append(f"{sheet.title}!{cell.coordinate} holds the error {cell.value}")

    lines = values["Lines"]
    all_rows = list(lines.iter_rows(values_only=True))
    at = next((i for i, row in enumerate(all_rows) if "Cost ($)" in row and "Code" in row), None)
    if at is None:
        wrong.append("Lines has no row of headings")
        return
    heads = {heading: i for i, heading in enumerate(all_rows[at])}
    rows = [row for row in all_rows[at + 1 :] if row[heads["Code"]]]
    found = {(str(row[heads["Room"]]), row[heads["Item or work"]]): row for row in rows}
    for room, item, quantity, cost in BY_HAND:
        row = found.get((room, item))
        if row is None:
            wrong.append(f"Lines has no {item} of room {room}")
            continue
        off = abs(row[heads["Quantity with waste"]] - quantity)
        expect(f"quantity of {item}, room {room}", off < 1e-9, True)
        expect(f"cost of {item}, room {room}", cents(float(row[heads["Cost ($)"]])), Decimal(cost))

    of_kind = lambda kind: sum(
        (cents(float(row[heads["Cost ($)"]])) for row in rows if row[heads["Kind"]] == kind), Decimal(0)
    )
    material, labor = of_kind("Material"), of_kind("Labor")
    bid = values["Bid"]
    expect("material of the Bid", figure(bid, "Material"), material)
    expect("labor of the Bid", figure(bid, "Labor"), labor)
    direct = material + labor + share("0.07", material) + share("0.02", material)
    before_profit = direct + share("0.10", direct)
    total = before_profit + share("0.08", before_profit)
    expect("total of the Bid", figure(bid, "Total"), total)
    print(f"{len(values.sheetnames)} sheets, {len(rows)} lines, {live} live formulas, total ${total:,}")


main(sys.argv[1])
if wrong:
    sys.exit("\n".join(wrong))
