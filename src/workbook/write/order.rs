//! Order: the whole job in the yard's units of sale.

use super::page::{Table, headings, lines, set_up, width};
use super::styles::{MONEY, QUANTITY, RATE, Styles, WHOLE, column as column_format};
use super::{Book, charged, edge, text_of};
use crate::pricing::{BuyRule, OrderRow};
use rust_xlsxwriter::{Format, Formula, Worksheet, XlsxError};

/// Headings and number formats; `General` for texts.
const COLUMNS: [(&str, &str); 13] = [
    ("Code", "General"),
    ("Item", "General"),
    ("Used", QUANTITY),
    ("Unit", "General"),
    ("Buy", WHOLE),
    ("Sold as", "General"),
    ("Left over", QUANTITY),
    ("Unit", "General"),
    ("Each ($)", RATE),
    ("Cost ($)", MONEY),
    ("Left over ($)", MONEY),
    ("Weight (lb)", WHOLE),
    ("Supplier", "General"),
];

/// Widest room for what one of the bought pieces is; longer words wrap.
const SOLD_WIDTH: u32 = 32;

/// Writes Order.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let order = &doc.priced.order;
    book.sheet("Order", order.len() as u64 * 13)?;
    let Book { styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let widest = |text: fn(&OrderRow) -> usize| order.iter().map(text).max().unwrap_or(0);
    let bodies = [
        widest(|r| r.code.chars().count()),
        widest(|r| r.item.chars().count()),
        9,
        widest(|r| r.unit.chars().count()),
        7,
        widest(|r| r.sold_as.chars().count()).min(SOLD_WIDTH as usize - 2),
        9,
        widest(|r| r.unit.chars().count()),
        11,
        12,
        10,
        8,
        widest(|r| r.supplier.as_ref().map_or(0, |s| s.chars().count())),
    ];
    let heads = COLUMNS.iter().zip(bodies).map(|((heading, format), body)| {
        let style = if *format == "General" { &styles.heading } else { &styles.heading_right };
        (*heading, width(heading, body), style)
    });
    headings(sheet, 0, heads)?;
    for (at, (_, format)) in (0u16..).zip(&COLUMNS) {
        sheet.set_column_format(at, &column_format(format))?;
    }
    let rows = u32::try_from(order.len()).unwrap_or(u32::MAX).min(doc.limits.sheet_rows - 6);
    set_up(sheet, &doc, styles, Table { heading: 0, rows, columns: 13, frozen: 2, typed: &[] })?;
    let mut cost = Some(0i64);
    for (row, item) in (1..=rows).zip(order) {
        cells(sheet, styles, row, item)?;
        cost = cost.zip(item.cost).and_then(|(a, b)| a.checked_add(b));
    }
    foot(sheet, rows, order, cost, &styles.total_label, &styles.total_money)?;
    sheet.write_string_with_format(rows + 3, 0, text_of(&charged::charged(&doc)), &styles.quiet)?;
    let mut end = rows + 3;
    if let Some(from) = BuyRule::of(doc.schema, doc.run).in_words() {
        end += 1;
        sheet.write_string_with_format(end, 0, text_of(&from), &styles.quiet)?;
    }
    sheet.set_print_area(0, 0, end, 12)?;
    Ok(())
}

fn cells(sheet: &mut Worksheet, styles: &Styles, row: u32, item: &OrderRow) -> Result<(), XlsxError> {
    sheet.write_string(row, 0, text_of(&item.code))?;
    sheet.write_string(row, 1, text_of(&item.item))?;
    sheet.write_number(row, 2, edge::number(&item.used))?;
    sheet.write_string(row, 3, text_of(&item.unit))?;
    sheet.write_number(row, 4, edge::number(&item.buy))?;
    let tall = lines(&item.sold_as, SOLD_WIDTH);
    if tall > 1 {
        sheet.set_row_height(row, 15 * tall.min(6) + 2)?;
    }
    sheet.write_string_with_format(row, 5, text_of(&item.sold_as), &styles.order_words)?;
    sheet.write_number(row, 6, edge::number(&item.left_over))?;
    sheet.write_string(row, 7, text_of(&item.unit))?;
    if let Some(each) = &item.each {
        sheet.write_number(row, 8, edge::number(each))?;
    }
    let mut value = String::new();
    if let Some(cost) = item.cost {
        edge::cents_text(&mut value, cost);
    }
    let n = row + 1;
    let formula = format!("IF(I{n}=\"\",\"\",ROUND(ROUND(E{n}*I{n},8),2))");
    sheet.write_formula(row, 9, Formula::new(formula).set_result(value))?;
    let mut value = String::new();
    if let Some(left) = item.left_cost {
        edge::cents_text(&mut value, left);
    }
    let formula = format!("IF(OR(J{n}=\"\",C{n}+G{n}=0),\"\",ROUND(ROUND(J{n}*G{n}/(C{n}+G{n}),8),2))");
    sheet.write_formula(row, 10, Formula::new(formula).set_result(value))?;
    if let Some(weight) = &item.weight {
        sheet.write_number(row, 11, edge::number(weight))?;
    }
    if let Some(supplier) = &item.supplier {
        sheet.write_string(row, 12, text_of(supplier))?;
    }
    Ok(())
}

fn foot(
    sheet: &mut Worksheet,
    rows: u32,
    order: &[OrderRow],
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
    for column in [1, 2, 3, 4, 5, 6, 7, 8, 12] {
        sheet.write_blank(at, column, label)?;
    }
    let end = rows + 1;
    let left = order.iter().map(|row| row.left_cost).try_fold(0i64, |a, b| a.checked_add(b?));
    for (column, letter, cents) in [(9, 'J', cost), (10, 'K', left)] {
        let mut value = String::new();
        if let Some(cents) = cents {
            edge::cents_text(&mut value, cents);
        }
        let formula = format!("IF(COUNT({letter}2:{letter}{end})=0,\"\",SUM({letter}2:{letter}{end}))");
        sheet.write_formula_with_format(at, column, Formula::new(formula).set_result(value), money)?;
    }
    let weights: Vec<_> = order.iter().filter_map(|r| r.weight.as_ref()).collect();
    if weights.is_empty() {
        sheet.write_blank(at, 11, label)?;
        return Ok(());
    }
    let weight = weights.into_iter().try_fold(crate::quantity::Number::ZERO, |a, b| a.plus(b));
    weight_foot(sheet, at, end, weight.ok().map(|w| edge::number(&w)), money)
}

fn weight_foot(sheet: &mut Worksheet, at: u32, end: u32, weight: Option<f64>, total: &Format) -> Result<(), XlsxError> {
    let format = total.clone().set_num_format(WHOLE);
    let mut value = String::new();
    edge::float_text(&mut value, weight.unwrap_or(0.0));
    let formula = Formula::new(format!("SUM(L2:L{end})")).set_result(value);
    sheet.write_formula_with_format(at, 11, formula, &format)?;
    Ok(())
}
