//! The variance workbook: what moved when bids were priced again, and why.

use super::edge;
use super::page::{Table, framed, headings, ruled, width};
use super::styles::{MONEY, PERCENT, Styles, WHOLE, column as column_format};
use super::{mark, text_of};
use crate::problem::Problem;
use crate::quantity::Date;
use crate::source::column_letters;
use crate::workbook::palette as color;
use crate::workbook::variance::{Bid, Done, Effects, Moved, Portion, Room, Variance};
use rust_xlsxwriter::{
    Chart, ChartAxisLabelPosition, ChartAxisTickType, ChartDataLabel, ChartFont, ChartFormat, ChartLine,
    ChartSolidFill, DocProperties, Format, Formula, Workbook, Worksheet, XlsxError,
};
use std::path::Path;
use std::sync::Arc;

/// Name of the document property that marks our variance workbooks.
const VARIANCE: &str = "hardlid.variance";

/// Whether a file is a variance workbook that we wrote.
#[must_use]
pub fn written_by_us(bytes: &[u8]) -> bool {
    mark::has_property(bytes, VARIANCE)
}

/// What the workbook says at its head.
#[derive(Clone, Copy, Debug)]
pub struct Head<'a> {
    /// What was done, in a sentence or two.
    pub said: &'a [String],
    /// The pricing date.
    pub as_of: Date,
    /// Version of the tool.
    pub tool_version: &'a str,
}

/// Rows of a sheet; what is beyond is said.
const MOST_ROWS: usize = 1_048_000;
/// Bars of the picture.
const BARS: usize = 15;
const TITLE: &str = "What moved";
const ITEMS: &str = "Items";

/// An effect in dollars; none is a dash, so that those there are stand out.
const EFFECT: &str = "$#,##0.00;-$#,##0.00;\"–\"";

/// Columns of sums that all tables have: old, new, difference, percent, four effects.
const SUMS: [(&str, &str); 8] = [
    ("Before ($)", MONEY),
    ("Now ($)", MONEY),
    ("Difference ($)", MONEY),
    ("Percent", PERCENT),
    ("By price ($)", EFFECT),
    ("By quantity ($)", EFFECT),
    ("By rules ($)", EFFECT),
    ("By hand ($)", EFFECT),
];

/// Writes the variance workbook; the same bytes for what moved in the same way.
///
/// # Errors
/// No room for temporary files.
pub fn write(variance: &Variance, head: Head<'_>) -> Result<Vec<u8>, Problem> {
    made(variance, head).map_err(|e| super::not_written("The variance workbook", TITLE, &e))
}

fn made(variance: &Variance, head: Head<'_>) -> Result<Vec<u8>, XlsxError> {
    let styles = Styles::new();
    let mut workbook = Workbook::new();
    workbook.set_zip_compression_level(super::DEFLATE_LEVEL);
    let properties = DocProperties::new()
        .set_title(TITLE)
        .set_creation_datetime(&super::made_on(head.as_of)?)
        .set_custom_property(VARIANCE, mark::EDITION);
    workbook.set_properties(&properties);
    bids(&mut workbook, &styles, variance, head)?;
    movers(&mut workbook, &styles, variance, head)?;
    rooms(&mut workbook, &styles, variance, head)?;
    items(&mut workbook, &styles, variance, head)?;
    for of in [PARTS, ALTERNATES] {
        portions(&mut workbook, &styles, variance, head, of)?;
    }
    prices(&mut workbook, &styles, variance, head)?;
    left_out(&mut workbook, &styles, variance, head)?;
    workbook.save_to_buffer()
}

fn add<'w>(workbook: &'w mut Workbook, name: &str, head: Head<'_>) -> Result<&'w mut Worksheet, XlsxError> {
    let sheet = workbook.add_worksheet();
    sheet.set_name(name)?;
    sheet.set_formula_result_default("");
    sheet.set_default_row_height_pixels(super::page::ROW_PIXELS);
    framed(sheet, TITLE, &format!("As of {}", super::page::day(head.as_of)), head.tool_version)?;
    Ok(sheet)
}

/// The cells of a table's sums in one row, from a column on: differences and shares are live.
fn sums(sheet: &mut Worksheet, at: (u32, u16), (old, new): (i64, i64), effects: [i64; 4]) -> Result<(), XlsxError> {
    difference(sheet, at, (old, new))?;
    for (column, cents) in (at.1 + 4..).zip(effects) {
        sheet.write_number(at.0, column, edge::cents(cents))?;
    }
    Ok(())
}

/// Before, now, the difference and its share: four cells in a row, from a column on.
fn difference(sheet: &mut Worksheet, at: (u32, u16), (old, new): (i64, i64)) -> Result<(), XlsxError> {
    let (row, column) = at;
    let letter = |n: u16| column_letters(column + n);
    let (before, now, numbered) = (letter(0), letter(1), row + 1);
    sheet.write_number(row, column, edge::cents(old))?;
    sheet.write_number(row, column + 1, edge::cents(new))?;
    let mut result = String::new();
    edge::cents_text(&mut result, new.saturating_sub(old));
    let difference = Formula::new(format!("=ROUND({now}{numbered}-{before}{numbered},2)")).set_result(&result);
    sheet.write_formula(row, column + 2, difference)?;
    percent(sheet, at, (old, new), None)
}

/// The share of the difference in what was before; nothing where that was nothing.
fn percent(
    sheet: &mut Worksheet,
    (row, column): (u32, u16),
    (old, new): (i64, i64),
    format: Option<&Format>,
) -> Result<(), XlsxError> {
    let (before, difference, numbered) = (column_letters(column), column_letters(column + 2), row + 1);
    let mut result = String::new();
    if let Some(share) = edge::share(new.saturating_sub(old), old) {
        edge::float_text(&mut result, share);
    }
    let share = Formula::new(format!("=IF({before}{numbered}=0,\"\",{difference}{numbered}/{before}{numbered})"));
    match format {
        Some(format) => sheet.write_formula_with_format(row, column + 3, share.set_result(&result), format)?,
        None => sheet.write_formula(row, column + 3, share.set_result(&result))?,
    };
    Ok(())
}

/// Sums of all rows of a table, at its foot.
fn foot(
    sheet: &mut Worksheet,
    styles: &Styles,
    (first, rows): (u32, u32),
    column: u16,
    (old, new, effects): (i64, i64, [i64; 4]),
) -> Result<(), XlsxError> {
    let row = first + rows;
    sheet.write_string_with_format(row, 0, "Together", &styles.total_label)?;
    for at in 1..column {
        sheet.write_blank(row, at, &styles.total_label)?;
    }
    let each = [old, new, new.saturating_sub(old)].into_iter().map(Some).chain([None]).chain(effects.map(Some));
    for (at, cents) in (column..).zip(each) {
        let Some(cents) = cents else { continue };
        let letter = column_letters(at);
        let mut result = String::new();
        edge::cents_text(&mut result, cents);
        let sum = if rows == 0 {
            Formula::new("=0")
        } else {
            Formula::new(format!("=ROUND(SUM({letter}{}:{letter}{row}),2)", first + 1))
        };
        sheet.write_formula_with_format(row, at, sum.set_result(&result), &styles.total_money)?;
    }
    percent(sheet, (row, column), (old, new), Some(&styles.total_money.clone().set_num_format(PERCENT)))
}

/// Headings of words, then of sums; the widths follow what stands below.
fn head_row<'h>(
    sheet: &mut Worksheet,
    styles: &'h Styles,
    row: u32,
    words: &[(&'h str, usize)],
    last: Option<(&'h str, usize)>,
) -> Result<(), XlsxError> {
    let words = words.iter().map(|(heading, body)| (*heading, width(heading, *body), &styles.heading));
    let sums = SUMS.iter().map(|(heading, _)| (*heading, width(heading, 13), &styles.heading_right));
    let last = last.map(|(heading, body)| (heading, width(heading, body), &styles.heading));
    headings(sheet, row, words.clone().chain(sums).chain(last))?;
    let lead = u16::try_from(words.len()).unwrap_or(0);
    for (at, (_, format)) in (lead..).zip(SUMS) {
        sheet.set_column_format(at, &column_format(format))?;
    }
    for at in (0..lead).chain([lead + 8]) {
        sheet.set_column_format(at, &column_format("General"))?;
    }
    Ok(())
}

fn file_name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

fn folder(path: &Path) -> String {
    path.parent().map(|p| p.display().to_string()).unwrap_or_default()
}

fn longest<'t>(texts: impl IntoIterator<Item = &'t str>) -> usize {
    texts.into_iter().map(|t| t.chars().count()).max().unwrap_or(0)
}

/// Each bid, with the totals over all of them.
fn bids(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let sheet = add(workbook, TITLE, head)?;
    sheet.write_string_with_format(0, 0, TITLE, &styles.section)?;
    let mut row = 1;
    for said in head.said {
        sheet.write_string_with_format(row, 0, text_of(said), &styles.quiet)?;
        row += 1;
    }
    let at = row + 1;
    let texts: Vec<(String, String, String, String)> = variance.bids.iter().map(words_of).collect();
    let words = [
        ("Bid", longest(texts.iter().map(|t| t.0.as_str()))),
        ("Folder", longest(texts.iter().map(|t| t.1.as_str()))),
        ("New workbook", longest(texts.iter().map(|t| t.2.as_str()))),
    ];
    head_row(sheet, styles, at, &words, Some(("Remarks", longest(texts.iter().map(|t| t.3.as_str())))))?;
    let rows = u32::try_from(texts.len().min(MOST_ROWS)).unwrap_or(0);
    let table = Table { heading: at, rows, columns: 12, frozen: 1, typed: &[] };
    ruled(sheet, styles, table)?;
    for ((row, bid), (name, folder, new, remarks)) in (at + 1..).zip(&variance.bids).zip(&texts).take(MOST_ROWS) {
        for (column, text) in [(0, name), (1, folder), (2, new), (11, remarks)] {
            if !text.is_empty() {
                sheet.write_string(row, column, text_of(text))?;
            }
        }
        match bid.totals() {
            Some(totals) => sums(sheet, (row, 3), totals, bid.effects().each())?,
            None => {
                for (column, total) in [(3, bid.old), (4, bid.new)] {
                    if let Some(cents) = total {
                        sheet.write_number(row, column, edge::cents(cents))?;
                    }
                }
            }
        }
    }
    let (old, new, effects) = variance.totals();
    // the sums of bids that have both totals: a bid with one alone would make a difference of its own
    let whole = variance.bids.iter().all(|b| b.totals().is_some() || b.old.is_none() && b.new.is_none());
    if whole {
        foot(sheet, styles, (at + 1, rows), 3, (old, new, effects.each()))?;
    } else {
        let row = at + 1 + rows;
        sheet.write_string_with_format(row, 0, "Together, complete bids alone", &styles.total_label)?;
        let each = [Some(old), Some(new), Some(new.saturating_sub(old)), None].into_iter();
        for (column, cents) in (3u16..).zip(each.chain(effects.each().map(Some))) {
            if let Some(cents) = cents {
                sheet.write_number_with_format(row, column, edge::cents(cents), &styles.total_money)?;
            }
        }
    }
    sheet.set_print_area(0, 0, at + 1 + rows, 11)?;
    Ok(())
}

fn words_of(bid: &Bid) -> (String, String, String, String) {
    let new = match &bid.done {
        Done::Written(path) | Done::Already(path) => file_name(path),
        Done::Same | Done::Tried => String::new(),
    };
    (file_name(&bid.path), folder(&bid.path), new, bid.remarks())
}

/// The items that moved over all bids, and a picture of those that moved the total most.
fn movers(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let all = variance.movers();
    let sheet = add(workbook, ITEMS, head)?;
    let words = [
        ("Item or work", longest(all.iter().map(Moved::label))),
        ("Code", longest(all.iter().map(|m| &*m.code))),
        ("Kind", longest(all.iter().map(|m| m.what.word()))),
    ];
    head_row(sheet, styles, 0, &words, None)?;
    let rows = u32::try_from(all.len().min(MOST_ROWS)).unwrap_or(0);
    ruled(sheet, styles, Table { heading: 0, rows, columns: 11, frozen: 1, typed: &[] })?;
    for (row, moved) in (1..).zip(&all).take(MOST_ROWS) {
        item_cells(sheet, row, 0, moved)?;
    }
    foot(sheet, styles, (1, rows), 3, summed(&all))?;
    let bars = all.iter().filter(|m| m.old != m.new).count().min(BARS);
    let mut end = rows + 1;
    if bars > 0 {
        let height = u32::try_from(bars).unwrap_or(0) * 24 + 60;
        sheet.insert_chart_with_offset(rows + 3, 0, &picture(bars, height), 8, 0)?;
        end = rows + 3 + height / 20 + 1;
    }
    sheet.set_print_area(0, 0, end, 10)?;
    Ok(())
}

fn item_cells(sheet: &mut Worksheet, row: u32, column: u16, moved: &Moved) -> Result<(), XlsxError> {
    sheet.write_string(row, column, text_of(moved.label()))?;
    if !moved.code.is_empty() {
        sheet.write_string(row, column + 1, text_of(&moved.code))?;
    }
    sheet.write_string(row, column + 2, moved.what.word())?;
    sums(sheet, (row, column + 3), (moved.old, moved.new), moved.effects.each())
}

/// Bars of the differences: what became dearer solid, what became cheaper hollow.
fn picture(bars: usize, height: u32) -> Chart {
    let last = u32::try_from(bars).unwrap_or(1);
    let mut font = ChartFont::new();
    font.set_size(9).set_color(color::INK);
    let mut chart = Chart::new_bar();
    let edge = ChartLine::new().set_color(color::INK).set_width(0.75).clone();
    chart
        .add_series()
        .set_name("Difference")
        .set_categories((ITEMS, 1, 0, last, 0))
        .set_values((ITEMS, 1, 5, last, 5))
        .set_gap(45)
        .set_invert_if_negative()
        .set_invert_if_negative_color(color::PAPER)
        .set_format(
            ChartFormat::new().set_solid_fill(ChartSolidFill::new().set_color(color::MATERIAL)).set_border(&edge),
        )
        .set_data_label(ChartDataLabel::new().show_value().set_font(&font).set_num_format("$#,##0;-$#,##0"));
    chart.title().set_name("What moved the total most, in dollars").set_font(&font);
    chart.legend().set_hidden();
    chart.x_axis().set_hidden(true).set_major_gridlines(false);
    chart.y_axis().set_font(&font).set_reverse().set_label_position(ChartAxisLabelPosition::Low);
    chart.y_axis().set_major_tick_type(ChartAxisTickType::None);
    chart.chart_area().set_format(ChartFormat::new().set_no_border());
    chart.set_width(900).set_height(height);
    chart.set_alt_text("Bars of the differences by item and work, the largest first.");
    chart
}

/// Rooms that stand otherwise, those that moved most first; no sheet where no rules were laid beside others.
fn rooms(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let all = variance.rooms();
    if all.is_empty() {
        return Ok(());
    }
    let sheet = add(workbook, "Rooms", head)?;
    let options = |room: &Room| room.options.clone().unwrap_or_default();
    let list = |checks: &[Arc<str>]| checks.join(", ");
    let texts: Vec<[String; 7]> = all
        .iter()
        .map(|(bid, room)| {
            let [before, now] = options(room);
            let text = |t: Option<Arc<str>>| t.map_or_else(String::new, |t| t.to_string());
            let [bid, folder] = [file_name(&bid.path), folder(&bid.path)];
            [bid, folder, room.name.to_string(), text(before), text(now), list(&room.fails), list(&room.holds)]
        })
        .collect();
    let heads = ["Bid", "Folder", "Room", "Built before as", "Built now as", "Fails now", "Holds now"];
    let sums = [("Before ($)", MONEY), ("Now ($)", MONEY), ("Difference ($)", MONEY), ("Percent", PERCENT)];
    let body = |at: usize| longest(texts.iter().map(|t| t[at].as_str()));
    let words = (0..heads.len()).map(|at| (heads[at], width(heads[at], body(at)), &styles.heading));
    let figures = sums.iter().map(|(heading, _)| (*heading, width(heading, 13), &styles.heading_right));
    headings(sheet, 0, words.chain(figures))?;
    for (at, (_, format)) in (7u16..).zip(sums) {
        sheet.set_column_format(at, &column_format(format))?;
    }
    let rows = u32::try_from(all.len().min(MOST_ROWS)).unwrap_or(0);
    ruled(sheet, styles, Table { heading: 0, rows, columns: 11, frozen: 3, typed: &[] })?;
    for ((row, (_, room)), texts) in (1..).zip(&all).zip(&texts).take(MOST_ROWS) {
        for (column, text) in (0..).zip(texts) {
            if !text.is_empty() {
                sheet.write_string(row, column, text_of(text))?;
            }
        }
        match (room.old, room.new) {
            (Some(old), Some(new)) => difference(sheet, (row, 7), (old, new))?,
            sides => {
                for (column, cents) in [(7, sides.0), (8, sides.1)] {
                    match cents {
                        Some(cents) => sheet.write_number(row, column, edge::cents(cents))?,
                        None => sheet.write_string(row, column, "no price")?,
                    };
                }
            }
        }
    }
    sheet.set_print_area(0, 0, rows, 10)?;
    Ok(())
}

/// Each item of each bid, those that moved it most first.
fn items(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let sheet = add(workbook, "Items by bid", head)?;
    let mut sorted: Vec<(&Bid, &Moved)> = Vec::new();
    for bid in &variance.bids {
        let from = sorted.len();
        sorted.extend(bid.within.items.iter().map(|item| (bid, item)));
        sorted[from..].sort_by_key(|(_, item)| std::cmp::Reverse(item.new.abs_diff(item.old)));
    }
    let all = || sorted.iter().copied();
    let moved = |m: &Moved| m.old != m.new || m.effects.each() != [0; 4];
    let rows = all().filter(|(_, m)| moved(m)).count().min(MOST_ROWS);
    let names: Vec<String> = variance.bids.iter().map(|b| file_name(&b.path)).collect();
    let words = [
        ("Bid", longest(names.iter().map(String::as_str))),
        ("Folder", 20),
        ("Item or work", longest(all().map(|(_, m)| m.label()))),
        ("Code", 10),
        ("Kind", 12),
    ];
    head_row(sheet, styles, 0, &words, None)?;
    let rows = u32::try_from(rows).unwrap_or(0);
    ruled(sheet, styles, Table { heading: 0, rows, columns: 13, frozen: 1, typed: &[] })?;
    for (row, (bid, item)) in (1..).zip(all().filter(|(_, m)| moved(m)).take(MOST_ROWS)) {
        sheet.write_string(row, 0, text_of(&file_name(&bid.path)))?;
        sheet.write_string(row, 1, text_of(&folder(&bid.path)))?;
        item_cells(sheet, row, 2, item)?;
    }
    foot(sheet, styles, (1, rows), 5, summed(all().map(|(_, item)| item).filter(|m| moved(m)).take(MOST_ROWS)))
}

/// Parts or alternates, on a sheet of their own.
#[derive(Clone, Copy)]
struct Of {
    sheet: &'static str,
    one: &'static str,
    /// Whether they add up to the totals of their bids.
    add_up: bool,
    of: fn(&Bid) -> &[Portion],
}

const PARTS: Of = Of { sheet: "Parts", one: "Part", add_up: true, of: |bid| &bid.within.parts };
const ALTERNATES: Of = Of { sheet: "Alternates", one: "Alternate", add_up: false, of: |bid| &bid.within.alternates };

/// Each part of each divided bid, or each alternate; no sheet where there is none.
fn portions(
    workbook: &mut Workbook,
    styles: &Styles,
    variance: &Variance,
    head: Head<'_>,
    of: Of,
) -> Result<(), XlsxError> {
    let all = || variance.bids.iter().flat_map(|bid| (of.of)(bid).iter().map(move |portion| (bid, portion)));
    let rows = u32::try_from(all().count().min(MOST_ROWS)).unwrap_or(0);
    if rows == 0 {
        return Ok(());
    }
    let sheet = add(workbook, of.sheet, head)?;
    let names: Vec<String> = variance.bids.iter().map(|b| file_name(&b.path)).collect();
    let words = [
        ("Bid", longest(names.iter().map(String::as_str))),
        ("Folder", 20),
        (of.one, longest(all().map(|(_, portion)| &*portion.name))),
    ];
    head_row(sheet, styles, 0, &words, None)?;
    ruled(sheet, styles, Table { heading: 0, rows, columns: 11, frozen: 1, typed: &[] })?;
    for (row, (bid, portion)) in (1..).zip(all().take(MOST_ROWS)) {
        sheet.write_string(row, 0, text_of(&file_name(&bid.path)))?;
        sheet.write_string(row, 1, text_of(&folder(&bid.path)))?;
        sheet.write_string(row, 2, text_of(&portion.name))?;
        sums(sheet, (row, 3), (portion.old, portion.new), portion.effects.each())?;
    }
    if of.add_up {
        let summed = all().take(MOST_ROWS).fold((0i64, 0i64, Effects::default()), |(old, new, effects), (_, p)| {
            (old.saturating_add(p.old), new.saturating_add(p.new), effects.plus(p.effects))
        });
        return foot(sheet, styles, (1, rows), 3, (summed.0, summed.1, summed.2.each()));
    }
    sheet.write_string_with_format(
        rows + 2,
        0,
        "What each adds to its bid, or takes off; none is in a total.",
        &styles.quiet,
    )?;
    Ok(())
}

/// Sums before and now, and effects.
fn summed<'m>(all: impl IntoIterator<Item = &'m Moved>) -> (i64, i64, [i64; 4]) {
    let (old, new, effects) = all.into_iter().fold((0i64, 0i64, Effects::default()), |(old, new, effects), m| {
        (old.saturating_add(m.old), new.saturating_add(m.new), effects.plus(m.effects))
    });
    (old, new, effects.each())
}

/// What has no price, and prices that are old.
fn prices(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let sheet = add(workbook, "Prices", head)?;
    let widths = [14, 34, 24, 12, 10, 8];
    for (at, width) in (0u16..).zip(widths) {
        sheet.set_column_width(at, width)?;
    }
    let mut row = 0;
    sheet.write_string_with_format(row, 0, "Without a price", &styles.section)?;
    let unpriced = variance.unpriced();
    if unpriced.is_empty() {
        row += 1;
        sheet.write_string_with_format(row, 0, "Every line has a price.", &styles.quiet)?;
    }
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    let words = widths.iter().take(5).sum::<u32>() + 10;
    told(sheet, styles, &mut row, words, &unpriced)?;
    let warned = variance.warned();
    if !warned.is_empty() {
        row += 2;
        sheet.write_string_with_format(row, 0, "What rules and price books warn of", &styles.section)?;
        told(sheet, styles, &mut row, words, &warned)?;
    }
    // what a change of rules would do asks for no ages
    let Some(days) = variance.older_than else { return Ok(()) };
    row += 2;
    let old = format!("Older than {days} days");
    sheet.write_string_with_format(row, 0, &old, &styles.section)?;
    let aged = variance.aged();
    row += 1;
    if aged.is_empty() {
        sheet.write_string_with_format(
            row,
            0,
            "No price in use is; those without a first day are not counted.",
            &styles.quiet,
        )?;
        return Ok(());
    }
    for (at, heading) in (0u16..).zip(["Code", "Item", "Supplier or crew", "From", "Days", "Bids"]) {
        let style = if at < 4 { &styles.heading } else { &styles.heading_right };
        sheet.write_string_with_format(row, at, heading, style)?;
    }
    let whole = Format::new().set_num_format(WHOLE);
    for (aged, bids) in aged {
        row += 1;
        sheet.write_string_with_format(row, 0, text_of(&aged.code), &styles.text)?;
        sheet.write_string_with_format(row, 1, text_of(&aged.item), &styles.text)?;
        sheet.write_string_with_format(row, 2, text_of(aged.supplier.as_deref().unwrap_or("")), &styles.text)?;
        sheet.write_number_with_format(row, 3, edge::date(aged.from), &styles.date)?;
        sheet.write_number_with_format(row, 4, edge::ratio(aged.days.into(), 1), &whole)?;
        sheet.write_number_with_format(row, 5, edge::ratio(bids as i128, 1), &whole)?;
    }
    Ok(())
}

/// Sentences with in how many bids each holds.
fn told(
    sheet: &mut Worksheet,
    styles: &Styles,
    row: &mut u32,
    width: u32,
    all: &[(&str, usize)],
) -> Result<(), XlsxError> {
    for (what, bids) in all {
        *row += 1;
        sheet.write_number(*row, 5, edge::ratio(*bids as i128, 1))?;
        sheet.merge_range(*row, 0, *row, 4, text_of(what), &styles.wrapped)?;
        sheet.set_row_height(*row, 15 * super::page::lines(what, width) + 3)?;
    }
    Ok(())
}

/// Workbooks that were left as they are, with why.
fn left_out(workbook: &mut Workbook, styles: &Styles, variance: &Variance, head: Head<'_>) -> Result<(), XlsxError> {
    let sheet = add(workbook, "Left out", head)?;
    let columns = [("Workbook", 40u32), ("Why", 70), ("What would be right", 50)];
    headings(sheet, 0, columns.iter().map(|(heading, width)| (*heading, *width, &styles.heading)))?;
    let mut row = 0;
    let mut said = |sheet: &mut Worksheet, texts: [&str; 3]| -> Result<(), XlsxError> {
        row += 1;
        for (column, text) in (0u16..).zip(texts) {
            sheet.write_string_with_format(row, column, text_of(text), &styles.wrapped)?;
        }
        let tallest = texts.iter().zip(columns).map(|(t, (_, w))| super::page::lines(t, w)).max().unwrap_or(1);
        sheet.set_row_height(row, 15 * tallest.min(20) + 3)?;
        Ok(())
    };
    if variance.left_out.is_empty() {
        said(sheet, ["None.", "", ""])?;
    }
    for (bid, added) in variance.bids.iter().flat_map(|bid| bid.without.iter().map(move |added| (bid, added))) {
        let what = format!("Priced, and left behind: {added}");
        said(sheet, [&bid.path.display().to_string(), &what, ""])?;
    }
    for left in &variance.left_out {
        let path = left.path.display().to_string();
        for problem in &left.problems {
            said(sheet, [&path, &problem.what, problem.fix.as_deref().unwrap_or("")])?;
        }
        for added in &left.added {
            said(sheet, [&path, &added.to_string(), ""])?;
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}
