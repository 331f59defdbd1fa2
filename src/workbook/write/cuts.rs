//! Cuts: what is cut from each stock piece, code by code, and level by level or room by room where the house cuts so.

use super::lines::row_name;
use super::page::{Table, headings, lines, set_up};
use super::{Book, Document, text_of};
use crate::pricing::{CutList, CutPattern};
use crate::program::{CutBy, FieldId};
use crate::quantity::length::feet_inches;
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number};
use rust_xlsxwriter::{Format, XlsxError};

/// Headings and widths.
const COLUMNS: [(&str, u32); 7] = [
    ("Code", 14),
    ("Stock piece", 12),
    ("Times", 8),
    ("Cut from each", 40),
    ("For rooms", 38),
    ("Offcut of each", 12),
    ("Offcut is", 9),
];

/// How many columns there are.
const WIDE: u16 = 7;

/// Most rooms named beside one pattern.
const ROOMS_NAMED: usize = 24;

/// Writes Cuts.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let cuts = &doc.priced.cuts;
    let all: usize = cuts.iter().map(|c| c.patterns.len() + titles(c).len()).sum();
    book.sheet("Cuts", all as u64 * u64::from(WIDE))?;
    let Book { styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let right = |at: usize| matches!(at, 1 | 2 | 5);
    let heads = COLUMNS.iter().enumerate().map(|(at, (heading, width))| {
        (*heading, *width, if right(at) { &styles.heading_right } else { &styles.heading })
    });
    headings(sheet, 0, heads)?;
    let room = doc.limits.sheet_rows.saturating_sub(4);
    let rows = u32::try_from(all).unwrap_or(u32::MAX).min(room);
    set_up(sheet, &doc, styles, Table { heading: 0, rows, columns: WIDE, frozen: 1, typed: &[] })?;
    let length = styles.text.clone().set_indent(0).set_align(rust_xlsxwriter::FormatAlign::Right);
    let mut at = 1;
    for list in cuts {
        if at > rows {
            break;
        }
        for head in titles(list) {
            for column in 1..WIDE {
                sheet.write_blank(at, column, &styles.total_label)?;
            }
            sheet.write_string_with_format(at, 0, text_of(&head), &styles.total_label)?;
            at += 1;
        }
        for pattern in &list.patterns {
            if at > rows {
                break;
            }
            let (cut, rooms) = (pieces(pattern), rooms(&doc, pattern));
            let tall = lines(&cut, COLUMNS[3].1).max(lines(&rooms, COLUMNS[4].1)).min(8);
            if tall > 1 {
                sheet.set_row_height(at, 15 * tall + 2)?;
            }
            sheet.write_string_with_format(at, 0, text_of(&list.code), &styles.text)?;
            sheet.write_string_with_format(at, 1, text(&pattern.stock), &length)?;
            sheet.write_number_with_format(at, 2, super::edge::number(&Number::from(pattern.times)), &top(&length))?;
            sheet.write_string_with_format(at, 3, text_of(&cut), &styles.wrapped)?;
            sheet.write_string_with_format(at, 4, text_of(&rooms), &styles.wrapped)?;
            sheet.write_string_with_format(at, 5, text(&pattern.offcut), &length)?;
            sheet.write_string_with_format(at, 6, offcut_is(pattern), &styles.text)?;
            at += 1;
        }
    }
    let note = match (doc.priced.has_prices, cuts.is_empty()) {
        (false, _) => "Without a price book no stock length is known, so no cutting is planned.".to_owned(),
        (true, true) => "Nothing is cut from stock lengths.".to_owned(),
        _ => rules(&doc),
    };
    sheet.write_string_with_format(at + 1, 0, text_of(&note), &styles.quiet)?;
    let note = "Quantities typed by hand are not in the plans. Measure before you cut.";
    sheet.write_string_with_format(at + 2, 0, note, &styles.quiet)?;
    sheet.set_print_area(0, 0, at + 2, WIDE - 1)?;
    Ok(())
}

/// The house's rules of cutting, in a sentence or two.
fn rules(doc: &Document<'_>) -> String {
    let rule = doc.schema.cutting.as_ref();
    let length = |field: Option<FieldId>| {
        let mm = field.and_then(|f| doc.run.number(doc.schema, f, 0).ok());
        mm.filter(|mm| !mm.is_zero()).map(|mm| text(&mm))
    };
    let together = match rule.map_or(CutBy::WholeJob, |r| r.by) {
        CutBy::WholeJob => "Cut together for the whole job.".to_owned(),
        CutBy::Rows => "Each room is cut by itself.".to_owned(),
        CutBy::Field(field) => format!("Each {} is cut by itself.", doc.schema.field(field).label.to_lowercase()),
    };
    let kerf = match length(rule.and_then(|r| r.kerf)) {
        Some(kerf) => format!("A saw cut takes {kerf}."),
        None => "No saw cut is reckoned.".to_owned(),
    };
    let keep = match length(rule.and_then(|r| r.keep)) {
        Some(keep) => format!("Offcuts of {keep} and longer are kept; shorter ones are scrap."),
        None => "Every offcut is kept.".to_owned(),
    };
    format!("{together} {kerf} {keep}")
}

fn offcut_is(pattern: &CutPattern) -> &'static str {
    match (pattern.offcut.is_zero(), pattern.kept) {
        (true, _) => "",
        (false, true) => "kept",
        (false, false) => "scrap",
    }
}

fn top(format: &Format) -> Format {
    format.clone().set_num_format(super::styles::WHOLE)
}

/// `ST, Span tee, level 2: 31 stock, at least 31 needed.`, and a line of what more there is to say.
fn titles(list: &CutList) -> Vec<String> {
    let item = if list.item.is_empty() { String::new() } else { format!(", {}", list.item) };
    let group = list.group.as_ref().map_or_else(String::new, |g| format!(", {g}"));
    let money = |n: &Number| show(n, Dimension::MONEY, &Style::default()).text;
    let cost = match &list.cost {
        None => String::new(),
        Some((cost, least)) if least >= cost => format!("They cost {}, and no plan costs less.", money(cost)),
        Some((cost, least)) => format!("They cost {}; no plan costs less than {}.", money(cost), money(least)),
    };
    let spliced = match (list.spliced, list.joints) {
        (0, _) => String::new(),
        (1, 1) => "1 piece longer than stock is spliced, with 1 joint.".to_owned(),
        (1, joints) => format!("1 piece longer than stock is spliced, with {joints} joints."),
        (n, joints) => format!("{n} pieces longer than stock are spliced, with {joints} joints."),
    };
    let first = format!("{}{item}{group}: {} stock, at least {} needed.", list.code, list.used, list.at_least);
    let more = [cost, spliced].iter().filter(|t| !t.is_empty()).map(String::as_str).collect::<Vec<_>>().join(" ");
    if more.is_empty() { vec![first] } else { vec![first, more] }
}

fn pieces(pattern: &CutPattern) -> String {
    let one = |p: &crate::pricing::CutPiece| match p.count {
        1 => text(&p.length),
        n => format!("{n} x {}", text(&p.length)),
    };
    pattern.pieces.iter().map(one).collect::<Vec<_>>().join(" + ")
}

/// The rooms that the pieces are for, each once.
fn rooms(doc: &Document<'_>, pattern: &CutPattern) -> String {
    let Some(root) = super::layout::root_kind(doc.schema) else { return String::new() };
    let mut rows: Vec<u32> = pattern.pieces.iter().flat_map(|p| p.rooms.iter().copied()).collect();
    rows.sort_unstable();
    rows.dedup();
    let mut names: Vec<String> =
        rows.iter().take(ROOMS_NAMED).map(|row| row_name(doc, root, *row).to_string()).collect();
    if rows.len() > ROOMS_NAMED {
        names.push(format!("and {} more", rows.len() - ROOMS_NAMED));
    }
    names.join(", ")
}

fn text(mm: &Number) -> String {
    feet_inches(mm, 16).map_or_else(|_| "too long".to_owned(), |printed| printed.text)
}
