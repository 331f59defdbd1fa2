//! Order: the whole job in the yard's units of sale, by supplier and by delivery.

use super::as_read::CHANGED;
use super::asked::heading_note;
use super::ordered::{Ordered, RowLive};
use super::page::{Table, headings, lines, set_up, width};
use super::styles::{MONEY, QUANTITY, RATE, Styles, WHOLE, column as column_format};
use super::{Book, Document, Limits, charged, edge, prices, text_of, values};
use crate::pricing::{BuyRule, OrderRow};
use crate::quantity::Number;
use crate::workbook::palette as color;
use rust_xlsxwriter::{Format, Worksheet, XlsxError};

/// How many columns there are before those of deliveries.
const WIDE: u16 = 15;

/// Headings, number formats (`General` for texts), and what the notes on the headings say.
const COLUMNS: [(&str, &str, &str); WIDE as usize] = [
    ("Code", "General", "The code by which the price book is asked."),
    ("Item", "General", "What the price book calls it."),
    ("Used", QUANTITY, "What the lines of the code use, with waste, or by an estimator's own quantities."),
    ("Unit", "General", "Unit of what is used."),
    (
        "Buy",
        WHOLE,
        "Whole pieces, packs and cartons, rounded up once for the job. Shaded cells are what the cutting plan takes, see Cuts, and \
         stay as they were priced.",
    ),
    ("Sold as", "General", "What one of them is."),
    ("Left over", QUANTITY, "What is bought and not used, and of use. Shaded cells are offcuts by the cutting plan."),
    ("Scrap", QUANTITY, "Saw cuts, and offcuts too short to keep, by the cutting plan."),
    ("Unit", "General", "Unit of what is left over."),
    ("Each ($)", RATE, "Dollars for one of what is bought, see Prices."),
    ("Cost ($)", MONEY, "Buy × Each, to the cent."),
    ("Left over ($)", MONEY, "The share of the cost that is left over."),
    ("Weight (lb)", WHOLE, "What is bought weighs so much, by the price book."),
    ("Supplier", "General", "Whom it is bought from."),
    (
        "Since pricing",
        "General",
        "Blank while lines use what they did when the job was priced. Where they do not, shaded cells of the row, and what comes \
         with which delivery, hold no longer: price the job again.",
    ),
];
/// Column of whether lines use something else than when the job was priced.
const SINCE: u16 = 14;

/// Widest room for what one of the bought pieces is; longer words wrap.
const SOLD_WIDTH: u32 = 32;

/// Writes Order.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let order = by_supplier(&doc.priced.order);
    let order = order.as_slice();
    let sent = deliveries(&doc, order);
    book.sheet("Order", order.len() as u64 * (u64::from(WIDE) + sent.len() as u64))?;
    let Book { styles, workbook, layout, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let widest = |text: fn(&OrderRow) -> usize| order.iter().map(|row| text(row)).max().unwrap_or(0);
    let bodies = [
        widest(|r| r.code.chars().count()),
        widest(|r| r.item.chars().count()),
        9,
        widest(|r| r.unit.chars().count()),
        7,
        widest(|r| r.sold_as.chars().count()).min(SOLD_WIDTH as usize - 2),
        9,
        9,
        widest(|r| r.unit.chars().count()),
        11,
        12,
        10,
        8,
        widest(|r| r.supplier.as_ref().map_or(0, |s| s.chars().count())),
        CHANGED.len(),
    ];
    let heads = COLUMNS.iter().zip(bodies).map(|((heading, format, _), body)| {
        let style = if *format == "General" { &styles.heading } else { &styles.heading_right };
        (*heading, width(heading, body), style)
    });
    let more = sent.iter().map(|s| (s.heading.as_str(), width(&s.heading, 9), &styles.heading_right));
    headings(sheet, 0, heads.chain(more))?;
    for (at, (_, format, note)) in (0u16..).zip(&COLUMNS) {
        sheet.set_column_format(at, &column_format(format))?;
        sheet.insert_note(0, at, &heading_note(note))?;
    }
    let shaded = |format: &str| match doc.limits.values_only {
        true => column_format(format),
        false => column_format(format).set_background_color(color::STILL),
    };
    for at in (WIDE..).take(sent.len()) {
        sheet.set_column_format(at, &column_format(WHOLE))?;
        sheet.insert_note(0, at, &heading_note(DELIVERY_NOTE))?;
    }
    let shaded = [QUANTITY, WHOLE].map(shaded);
    let ordered = Ordered::new(&doc, layout);
    let columns = WIDE + u16::try_from(sent.len()).unwrap_or(0);
    let rows = u32::try_from(order.len()).unwrap_or(u32::MAX).min(doc.limits.sheet_rows - 6);
    set_up(sheet, &doc, styles, Table { heading: 0, rows, columns, frozen: 2, typed: &[] })?;
    let mut cost = Some(0i64);
    for (row, item) in (1..=rows).zip(order.iter().copied()) {
        let live = ordered.as_ref().map_or_else(RowLive::default, |ordered| ordered.row(item, row + 1));
        cells(sheet, &doc, styles, row, item)?;
        followed(sheet, &doc, &shaded, row, (item, &live))?;
        for (at, delivery) in (WIDE..).zip(&sent) {
            if let Some(many) = item.deliveries.get(delivery.place) {
                sheet.write_number_with_format(row, at, edge::number(many), &shaded[1])?;
            }
        }
        cost = cost.zip(item.cost).and_then(|(a, b)| a.checked_add(b));
    }
    sheet.set_column_format(SINCE, &styles.changed)?;
    foot(sheet, &doc.limits, rows, order, cost, &styles.total_label, &styles.total_money)?;
    delivery_foot(sheet, rows, order, &sent, (&styles.total_label, &styles.total_money))?;
    sheet.write_string_with_format(rows + 3, 0, text_of(&charged::charged(&doc)), &styles.quiet)?;
    let mut end = rows + 3;
    for note in delivery_notes(&doc, &sent) {
        end += 1;
        sheet.write_string_with_format(end, 0, note, &styles.quiet)?;
    }
    if let Some(from) = BuyRule::of(doc.schema, doc.run).in_words() {
        end += 1;
        sheet.write_string_with_format(end, 0, text_of(&from), &styles.quiet)?;
    }
    let end = suppliers(sheet, &doc.limits, rows, order, end, (&styles.heading, &styles.heading_right))?;
    sheet.set_print_area(0, 0, end, columns - 1)?;
    Ok(())
}

const DELIVERY_NOTE: &str = "How many of what is bought come with it. These cells stay as they were priced, from the lines of the rooms that the \
                             delivery is for.";

/// Most deliveries that have a column.
const MOST_DELIVERIES: usize = 12;

/// A delivery that something comes with.
struct Sent {
    heading: String,
    place: usize,
}

/// Rows of one supplier together, in the order of the suppliers' names, where there are several; those without one last.
fn by_supplier(order: &[OrderRow]) -> Vec<&OrderRow> {
    let mut rows: Vec<&OrderRow> = order.iter().collect();
    rows.sort_by_cached_key(|row| (row.supplier.is_none(), row.supplier.as_ref().map(|s| s.to_lowercase())));
    rows
}

/// The deliveries that have a column.
fn deliveries(doc: &Document<'_>, order: &[&OrderRow]) -> Vec<Sent> {
    let names = &doc.priced.delivery_names;
    if names.is_empty() || names.len() > MOST_DELIVERIES {
        return Vec::new();
    }
    let field = doc.schema.dividing.as_ref().and_then(|d| d.deliveries);
    let label = field.map_or("Delivery", |f| doc.schema.field(f).label.as_str());
    let named = |name: &str| {
        if name.to_lowercase().starts_with(&label.to_lowercase()) { name.to_owned() } else { format!("{label} {name}") }
    };
    let mut out: Vec<Sent> =
        names.iter().enumerate().map(|(place, name)| Sent { heading: named(name), place }).collect();
    let rest = names.len();
    if order.iter().any(|row| row.deliveries.get(rest).is_some_and(|n| !n.is_zero())) {
        out.push(Sent { heading: format!("No {}", label.to_lowercase()), place: rest });
    }
    out
}

fn delivery_notes(doc: &Document<'_>, sent: &[Sent]) -> Vec<&'static str> {
    if !sent.is_empty() {
        return vec![
            "Whole pieces and packs are rounded once, for the job. One that serves two deliveries comes with the first that needs it;",
            "what is left over comes with the last.",
        ];
    }
    if doc.priced.delivery_names.len() > MOST_DELIVERIES {
        return vec!["There are more deliveries than columns for them: the order is not split."];
    }
    Vec::new()
}

/// The weight of each delivery, where weights are known.
fn delivery_foot(
    sheet: &mut Worksheet,
    rows: u32,
    order: &[&OrderRow],
    sent: &[Sent],
    (label, money): (&Format, &Format),
) -> Result<(), XlsxError> {
    if rows == 0 {
        return Ok(());
    }
    let weighs = order.iter().any(|row| row.weight.is_some());
    let format = money.clone().set_num_format("#,##0 \"lb\"");
    for (at, delivery) in (WIDE..).zip(sent) {
        if !weighs {
            sheet.write_blank(rows + 1, at, label)?;
            continue;
        }
        let mut weight = Number::ZERO;
        for row in order {
            let part = row.weight.zip(row.deliveries.get(delivery.place).copied());
            let part = part.and_then(|(weight, many)| weight.times(&many).ok()?.over(&row.buy).ok());
            weight = part.and_then(|part| weight.plus(&part).ok()).unwrap_or(weight);
        }
        sheet.write_number_with_format(rows + 1, at, edge::number(&weight), &format)?;
    }
    Ok(())
}

/// What each supplier's part comes to and weighs, where there are several. Gives the last row written.
fn suppliers(
    sheet: &mut Worksheet,
    limits: &Limits,
    rows: u32,
    order: &[&OrderRow],
    end: u32,
    (head, head_right): (&Format, &Format),
) -> Result<u32, XlsxError> {
    let mut names: Vec<&str> = order.iter().filter_map(|row| row.supplier.as_deref()).collect();
    names.dedup_by(|a, b| a.to_lowercase() == b.to_lowercase());
    if names.len() < 2 {
        return Ok(end);
    }
    let mut row = end + 2;
    sheet.write_string_with_format(row, 1, "By supplier", head)?;
    sheet.write_string_with_format(row, 10, "Cost ($)", head_right)?;
    sheet.write_string_with_format(row, 12, "Weight (lb)", head_right)?;
    for name in names {
        row += 1;
        let of =
            order.iter().filter(|r| r.supplier.as_deref().is_some_and(|s| s.to_lowercase() == name.to_lowercase()));
        let cents = of.clone().filter_map(|r| r.cost).fold(0i64, i64::saturating_add);
        let weight = of.filter_map(|r| r.weight).try_fold(Number::ZERO, |a, b| a.plus(&b)).unwrap_or(Number::ZERO);
        sheet.write_string(row, 1, text_of(name))?;
        let last = rows + 1;
        for (column, letter, value) in [(10, 'K', edge::cents(cents)), (12, 'M', edge::number(&weight))] {
            let text = edge::text(value);
            // the name is looked for as it is: a sign in it is no wild card
            let formula = format!("SUMPRODUCT(--($N$2:$N${last}=$B{}),{letter}$2:{letter}${last})", row + 1);
            values::write_live(sheet, limits, (row, column), (&formula, &text), None)?;
        }
    }
    Ok(row)
}

fn cells(
    sheet: &mut Worksheet,
    doc: &Document<'_>,
    styles: &Styles,
    row: u32,
    item: &OrderRow,
) -> Result<(), XlsxError> {
    sheet.write_string(row, 0, text_of(&item.code))?;
    sheet.write_string(row, 1, text_of(&item.item))?;
    sheet.write_string(row, 3, text_of(&item.unit))?;
    let tall = lines(&item.sold_as, SOLD_WIDTH);
    if tall > 1 {
        sheet.set_row_height(row, 15 * tall.min(6) + 2)?;
    }
    sheet.write_string_with_format(row, 5, text_of(&item.sold_as), &styles.order_words)?;
    sheet.write_string(row, 8, text_of(&item.unit))?;
    if let Some(each) = &item.each {
        let of = item.place.as_ref().and_then(|place| doc.priced.prices.iter().position(|p| p.place == *place));
        let live = of.and_then(|at| prices::live(doc, u32::try_from(at).ok()?, each));
        match live {
            Some(live) => {
                let value = edge::text(edge::number(each));
                values::write_live(sheet, &doc.limits, (row, 9), (&live, &value), None)?;
            }
            None => {
                sheet.write_number(row, 9, edge::number(each))?;
            }
        }
    }
    let mut value = String::new();
    if let Some(cost) = item.cost {
        edge::cents_text(&mut value, cost);
    }
    let n = row + 1;
    let formula = format!("IF(J{n}=\"\",\"\",ROUND(ROUND(E{n}*J{n},8),2))");
    values::write_live(sheet, &doc.limits, (row, 10), (&formula, &value), None)?;
    let mut value = String::new();
    if let Some(left) = item.left_cost {
        edge::cents_text(&mut value, left);
    }
    let formula = format!("IF(OR(K{n}=\"\",C{n}+G{n}+H{n}=0),\"\",ROUND(ROUND(K{n}*G{n}/(C{n}+G{n}+H{n}),8),2))");
    values::write_live(sheet, &doc.limits, (row, 11), (&formula, &value), None)?;
    if let Some(supplier) = &item.supplier {
        sheet.write_string(row, 13, text_of(supplier))?;
    }
    Ok(())
}

/// What follows from the lines: live where it can be, a value that is shaded where a cutting plan says it.
fn followed(
    sheet: &mut Worksheet,
    doc: &Document<'_>,
    [quantity, whole]: &[Format; 2],
    row: u32,
    (item, live): (&OrderRow, &RowLive),
) -> Result<(), XlsxError> {
    let cells = [
        (2, Some(&item.used), &live.used, quantity),
        (4, Some(&item.buy), &live.buy, whole),
        (6, Some(&item.left_over), &live.left, quantity),
        // a plan's alone
        (7, Some(&item.scrap), &None, quantity),
        (12, item.weight.as_ref(), &live.weight, whole),
    ];
    for (at, value, formula, shaded) in cells {
        let Some(value) = value.map(edge::number) else { continue };
        match formula {
            Some(formula) => {
                let text = edge::text(value);
                values::write_live(sheet, &doc.limits, (row, at), (formula, &text), None)?;
            }
            None if item.packed.is_some() && at == 7 => {
                sheet.write_number(row, at, value)?;
            }
            None => {
                sheet.write_number_with_format(row, at, value, shaded)?;
            }
        }
    }
    if let Some(since) = &live.since {
        values::write_live(sheet, &doc.limits, (row, SINCE), (since, ""), None)?;
    }
    Ok(())
}

fn foot(
    sheet: &mut Worksheet,
    limits: &Limits,
    rows: u32,
    order: &[&OrderRow],
    cost: Option<i64>,
    label: &Format,
    money: &Format,
) -> Result<(), XlsxError> {
    if rows == 0 {
        sheet.write_string(1, 0, "Nothing is bought.")?;
        return Ok(());
    }
    let at = rows + 1;
    sheet.write_string_with_format(at, 0, "Total", label)?;
    for column in [1, 2, 3, 4, 5, 6, 7, 8, 9, 13, SINCE] {
        sheet.write_blank(at, column, label)?;
    }
    let end = rows + 1;
    let left = order.iter().map(|row| row.left_cost).try_fold(0i64, |a, b| a.checked_add(b?));
    for (column, letter, cents) in [(10, 'K', cost), (11, 'L', left)] {
        let mut value = String::new();
        if let Some(cents) = cents {
            edge::cents_text(&mut value, cents);
        }
        let formula = format!("IF(COUNT({letter}2:{letter}{end})=0,\"\",SUM({letter}2:{letter}{end}))");
        values::write_live(sheet, limits, (at, column), (&formula, &value), Some(money))?;
    }
    let weights: Vec<_> = order.iter().filter_map(|r| r.weight.as_ref()).collect();
    if weights.is_empty() {
        sheet.write_blank(at, 12, label)?;
        return Ok(());
    }
    let weight = weights.into_iter().try_fold(Number::ZERO, |a, b| a.plus(b));
    weight_foot(sheet, limits, (at, end), weight.ok().map(|w| edge::number(&w)), money)
}

fn weight_foot(
    sheet: &mut Worksheet,
    limits: &Limits,
    (at, end): (u32, u32),
    weight: Option<f64>,
    total: &Format,
) -> Result<(), XlsxError> {
    let format = total.clone().set_num_format(WHOLE);
    let value = edge::text(weight.unwrap_or(0.0));
    values::write_live(sheet, limits, (at, 12), (&format!("SUM(M2:M{end})"), &value), Some(&format))
}
