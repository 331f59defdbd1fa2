//! Prices: the price and labor rows that were used.

use super::page::{Table, headings, set_up, width};
use super::styles::{DATE, QUANTITY, RATE, column as column_format};
use super::{Book, Document, as_read, edge, lines::kind_word, text_of, values};
use crate::pricing::PriceUsed;
use crate::quantity::length::MM_PER_INCH;
use crate::quantity::show::decimal_text;
use crate::quantity::{Decimal, Number};
use crate::source::column_letters;
use rust_xlsxwriter::{Worksheet, XlsxError};

/// Headings and number formats; `General` for texts.
const COLUMNS: [(&str, &str); 16] = [
    ("Code", "General"),
    ("Item or work", "General"),
    ("Kind", "General"),
    ("Sold by", "General"),
    ("Pack", "General"),
    ("Stock length (ft)", QUANTITY),
    ("Cost ($)", RATE),
    ("Hours", HOURS_FORMAT),
    ("for one", "General"),
    ("Holds from", QUANTITY),
    ("From", DATE),
    ("Through", DATE),
    ("Supplier or crew", "General"),
    ("Serves", "General"),
    ("In the price book", "General"),
    ("Since pricing", "General"),
];

/// Name of the sheet.
pub const PRICES: &str = "Prices";

/// Hours for one unit of work.
const HOURS_FORMAT: &str = "0.0000";

/// Columns that other places name: what a unit of sale costs, the hours for one unit of work, and whether they were changed
/// since.
pub const COST: u16 = 6;
/// See [`COST`].
pub const HOURS: u16 = 7;
const SINCE: u16 = 15;

/// Writes Prices.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let prices = &doc.priced.prices;
    book.sheet(PRICES, prices.len() as u64 * COLUMNS.len() as u64)?;
    let Book { styles, workbook, layout, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let widest = |text: fn(&PriceUsed) -> usize| prices.iter().map(text).max().unwrap_or(0);
    let bodies = [
        widest(|p| p.code.chars().count()),
        widest(|p| p.item.chars().count()),
        8,
        widest(|p| p.sold_by.chars().count()),
        widest(|p| p.pack.as_ref().map_or(0, |t| t.chars().count())),
        7,
        11,
        7,
        widest(|p| p.hours.as_ref().map_or(0, |(_, per)| per.chars().count())),
        8,
        10,
        10,
        widest(|p| p.supplier.as_ref().map_or(0, |t| with_overtime(t, p).chars().count())),
        widest(|p| serves(p).len()),
        widest(|p| p.place.sheet.chars().count() + 8),
        as_read::CHANGED.len(),
    ];
    let heads = COLUMNS.iter().zip(bodies).map(|((heading, format), body)| {
        let style =
            if matches!(*format, QUANTITY | RATE | HOURS_FORMAT) { &styles.heading_right } else { &styles.heading };
        (*heading, width(heading, body), style)
    });
    headings(sheet, 0, heads)?;
    for (at, (_, format)) in (0u16..).zip(&COLUMNS) {
        sheet.set_column_format(at, &column_format(format))?;
    }
    sheet.set_column_format(10, &styles.date)?;
    sheet.set_column_format(11, &styles.date)?;
    let rows = shown(&doc);
    set_up(sheet, &doc, styles, Table { heading: 0, rows: rows.max(1), columns: SINCE + 1, frozen: 2, typed: &[] })?;
    if prices.is_empty() {
        let why = if doc.priced.has_prices { "No price row was used." } else { "No price book: costs are blank." };
        sheet.write_string(1, 0, why)?;
    }
    for (row, price) in (FIRST..FIRST + rows).zip(prices) {
        cells(sheet, row, price)?;
        if let Some(copy) = layout.cost_copies {
            let n = row + 1;
            let same = [(COST, copy), (HOURS, copy + 1)].map(|(here, there)| as_read::same(here, there, n));
            let since = as_read::unless(&format!("AND({})", same.join(",")));
            values::write_live(sheet, &doc.limits, (row, SINCE), (&since, ""), None)?;
        }
    }
    sheet.set_column_format(SINCE, &styles.changed)?;
    let mut end = rows + 1;
    let choices = "Of several rows of a code, the one that costs least for what is used prices the lines, of equals the first \
                   in the price book.";
    let breaks = "What the whole job uses of a code, in whole purchases, decides which cost holds: the first, or one from a \
                  quantity up. Ways to build a room are compared at the first.";
    let notes = [
        (prices.iter().any(|p| p.bought && !p.prices_lines), choices),
        (prices.iter().any(|p| p.reached.is_some()), breaks),
    ];
    for (_, note) in notes.into_iter().filter(|(there, _)| *there) {
        end += 1;
        sheet.write_string_with_format(end, 0, note, &styles.quiet)?;
    }
    sheet.set_print_area(0, 0, end, SINCE)?;
    Ok(())
}

/// Sheet row of the first price, from 0.
const FIRST: u32 = 1;

/// The rows of the sheet, from 0, with the price of each.
pub fn rows<'a>(doc: &Document<'a>) -> impl Iterator<Item = (u32, &'a PriceUsed)> {
    (FIRST..FIRST + shown(doc)).zip(&doc.priced.prices)
}

/// How many prices were changed since pricing, as a formula.
pub fn changed(doc: &Document<'_>) -> String {
    let letter = column_letters(SINCE);
    let last = FIRST + shown(doc).max(1);
    format!("COUNTIF(Prices!${letter}${}:${letter}${last},\"{}\")", FIRST + 1, as_read::CHANGED)
}

/// How many of the prices the sheet has.
fn shown(doc: &Document<'_>) -> u32 {
    u32::try_from(doc.priced.prices.len()).unwrap_or(u32::MAX).min(doc.limits.sheet_rows - 6)
}

/// An amount that is a price times a plain number, as a formula that looks at the price: `Prices!$G$5/12`. Nothing
/// where there is no such number, and the amount is written as a value.
pub fn live(doc: &Document<'_>, price: u32, amount: &Number) -> Option<String> {
    let used = doc.priced.prices.get(price as usize)?;
    told(doc, (price, COST), &used.cost, amount)
}

/// The same of hours for one unit of work.
pub fn live_hours(doc: &Document<'_>, price: u32, rate: &Number) -> Option<String> {
    let used = doc.priced.prices.get(price as usize)?;
    told(doc, (price, HOURS), &used.hours.as_ref()?.0, rate)
}

fn told(doc: &Document<'_>, (price, column): (u32, u16), whole: &Number, amount: &Number) -> Option<String> {
    if price >= shown(doc) {
        return None;
    }
    let cell = format!("{PRICES}!${}${}", column_letters(column), FIRST + price + 1);
    let (times, over) = (amount.over(whole).ok()?, whole.over(amount).ok()?);
    let plain = |n: &Number| n.exact_decimal().filter(|d| d.scale() <= PLACES && d.mantissa().unsigned_abs() < LARGEST);
    match (plain(&times), plain(&over)) {
        (Some(times), _) if times == Decimal::ONE => Some(cell),
        (Some(times), over) if over.is_none_or(|n| !n.is_integer()) => Some(format!("{cell}*{times}")),
        (_, Some(over)) => Some(format!("{cell}/{over}")),
        _ => None,
    }
}

/// Most places of a number that a formula multiplies or divides a price by, and what its digits stay below: binary
/// floats hold it.
const PLACES: u32 = 9;
const LARGEST: u128 = 1_000_000_000_000;

/// What a row is used for. Of several stock lengths or suppliers one prices the lines, and any may be bought.
fn serves(price: &PriceUsed) -> &'static str {
    match (price.prices_lines, price.bought) {
        (true, true) => "prices lines; bought",
        (false, true) => "bought",
        (_, false) => "prices lines",
    }
}

/// A supplier, or a crew with what its overtime comes to: `Framers, 52 hr paid for 48`.
#[must_use]
pub fn with_overtime(name: &str, price: &PriceUsed) -> String {
    match &price.overtime {
        Some((paid, worked)) => {
            format!("{name}, {} hr paid for {}", decimal_text(paid, 2).text, decimal_text(worked, 2).text)
        }
        None => name.to_owned(),
    }
}

fn cells(sheet: &mut Worksheet, row: u32, price: &PriceUsed) -> Result<(), XlsxError> {
    sheet.write_string(row, 0, text_of(&price.code))?;
    sheet.write_string(row, 1, text_of(&price.item))?;
    sheet.write_string(row, 2, kind_word(price.kind))?;
    sheet.write_string(row, 3, text_of(&price.sold_by))?;
    if let Some(pack) = &price.pack {
        sheet.write_string(row, 4, text_of(pack))?;
    }
    let foot = Number::from(MM_PER_INCH * Decimal::from(12));
    if let Some(feet) = price.stock_length.and_then(|mm| mm.over(&foot).ok()) {
        sheet.write_number(row, 5, edge::number(&feet))?;
    }
    sheet.write_number(row, COST, edge::number(&price.cost))?;
    if let Some((hours, per)) = &price.hours {
        sheet.write_number(row, HOURS, edge::number(hours))?;
        sheet.write_string(row, HOURS + 1, text_of(per))?;
    }
    if let Some(from) = &price.reached {
        sheet.write_number(row, 9, edge::number(from))?;
    }
    for (column, date) in [(10, price.from), (11, price.through)] {
        if let Some(date) = date {
            sheet.write_number(row, column, edge::date(date))?;
        }
    }
    if let Some(supplier) = &price.supplier {
        sheet.write_string(row, 12, text_of(&with_overtime(supplier, price)))?;
    }
    let place = &price.place;
    let at = if place.sheet.is_empty() { place.address() } else { format!("{} {}", place.sheet, place.address()) };
    sheet.write_string(row, 13, serves(price))?;
    sheet.write_string(row, 14, text_of(&at))?;
    Ok(())
}
