//! `hardlid audit PRICED.xlsx`

use super::price::dollars;
use super::{Ended, books, failed, out};
use crate::pricing::{Own, OwnEntry};
use crate::quantity::show::decimal_text;
use crate::quantity::{Decimal, Number};
use crate::reprice::audit::{Audit, Typed, TypedCell, audit};
use crate::source::column_letters;
use crate::system::Outside;
use crate::workbook::differences::{Change, Difference};
use serde_json::{Value, json};
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hardlid audit rooms.priced.xlsx\n\n\
                        The workbook is worked out again from the rooms, prices and rules that it carries, and laid beside what stands in it: figures typed beside lines, cells and formulas that were changed, values that are not what their formulas come to, sheets and charts that were added.\n\
                        Exit 0: nothing was changed since it was written; 1: something was; 2: could not run.\n\n\
                        An estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern.")]
pub struct Arguments {
    /// The priced workbook.
    #[arg(value_name = "PRICED.xlsx")]
    workbook: PathBuf,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let read = books::file(&arguments.workbook, outside).map_err(|p| vec![p]);
    match read.and_then(|file| audit(&file.name, &file.bytes)) {
        Ok(audit) => {
            if arguments.json {
                out::value(&as_json(&audit));
            } else {
                report(&audit);
            }
            if audit.is_changed() { Ended::WithStops } else { Ended::Done }
        }
        Err(problems) => failed(&problems, arguments.json),
    }
}

/// Differences that are printed; JSON has them all.
const PRINTED: usize = 200;

fn report(audit: &Audit) {
    let carried = &audit.carried;
    let prices = carried.prices.as_ref().map_or_else(|| "no price book".to_owned(), |p| p.name.to_string());
    let rules = carried.rules.as_ref().map_or_else(|| "the built-in books".to_owned(), |r| r.name.to_string());
    out::line(&format!(
        "Priced as of {} from {} with {prices} by {rules}; revision {}.",
        carried.as_of, carried.rooms.file.name, carried.revision
    ));
    for typed in &audit.typed {
        let OwnEntry { room, item, code, .. } = &typed.entry;
        let before = if typed.before { ", there when it was written" } else { "" };
        let gone = if typed.ours.is_none() { "; it has no line any more" } else { "" };
        out::line(&format!("{}: {item} ({code}) in room {room}, {}{before}{gone}", place(&typed.entry), said(typed)));
    }
    for typed in audit.cells.iter().take(PRINTED) {
        out::line(&cell_line(typed));
    }
    if audit.cells.len() > PRINTED {
        out::line(&format!("… and {} more.", audit.cells.len() - PRINTED));
    }
    for difference in audit.differences.iter().take(PRINTED) {
        out::line(&difference.to_string());
    }
    if audit.differences.len() > PRINTED {
        out::line(&format!("… and {} more.", audit.differences.len() - PRINTED));
    }
    for gone in &audit.removed {
        let OwnEntry { room, item, code, .. } = gone;
        let was = said(&Typed { entry: gone.clone(), ours: None, before: true });
        out::line(&format!("{item} ({code}) in room {room}: {was} was there when it was written, and was taken out"));
    }
    if audit.not_worked_out > 0 {
        let formulas = out::counted(audit.not_worked_out, "formula has no value", "formulas have no value");
        out::line(&format!("{formulas}: the program that saved it did not work them out."));
    }
    let none = audit.typed.is_empty() && audit.cells.is_empty();
    if none && audit.removed.is_empty() && audit.differences.is_empty() {
        let saved = if audit.untouched { "" } else { " It was saved since, with nothing changed." };
        out::line(&format!("Every number is what it was written as.{saved}"));
    } else {
        let typed = out::counted(audit.typed.len(), "entry beside lines", "entries beside lines");
        let other = out::counted(audit.differences.len(), "other change", "other changes");
        let cells = match audit.cells.len() {
            0 => String::new(),
            n => format!("{}, ", out::counted(n, "cell typed over what was read", "cells typed over what was read")),
        };
        out::line(&format!("{cells}{typed}, {other}."));
    }
    if let (Some(written), Some(now)) = (carried.total, audit.total) {
        if written == now {
            out::line(&format!("Total {}, as written.", dollars(now)));
        } else {
            out::line(&format!("Total {} as written, {} with what was typed.", dollars(written), dollars(now)));
        }
    }
}

/// "Rooms C4: 12, where 10 was written".
fn cell_line(typed: &TypedCell) -> String {
    let of = |text: &str| if text.is_empty() { "nothing".to_owned() } else { text.to_owned() };
    let TypedCell { cell, now, written } = typed;
    match written {
        Some(written) => format!("{cell}: {}, where {} was written", of(now), of(written)),
        None => format!("{cell}: {}, there when it was written", of(now)),
    }
}

fn place(entry: &OwnEntry) -> String {
    let column = entry.place.column.map_or_else(String::new, column_letters);
    format!("{} {column}{}", entry.place.sheet, entry.place.row + 1)
}

fn number(n: &Number) -> String {
    decimal_text(n, 4).text
}

/// "own quantity 90 ft, where 80 ft was worked out".
fn said(typed: &Typed) -> String {
    let (OwnEntry { own, unit, .. }, ours) = (&typed.entry, &typed.ours);
    let of = |get: fn(&Own) -> Option<Number>| ours.as_ref().and_then(get);
    let mut all = Vec::new();
    if let Some(n) = &own.quantity {
        let was =
            of(|o| o.quantity).map_or_else(String::new, |w| format!(", where {} {unit} was worked out", number(&w)));
        all.push(format!("own quantity {} {unit}{was}", number(n)));
    }
    if let Some(n) = &own.unit_cost {
        let was = of(|o| o.unit_cost).map_or_else(String::new, |w| format!(", where ${} was worked out", number(&w)));
        all.push(format!("own unit cost ${}{was}", number(n)));
    }
    if let Some(note) = &own.note {
        all.push(format!("note \"{note}\""));
    }
    all.join("; ")
}

fn as_json(audit: &Audit) -> Value {
    let own = |own: &Own| {
        json!({
            "quantity": own.quantity.as_ref().map(|n| n.to_decimal().normalize().to_string()),
            "unit cost": own.unit_cost.as_ref().map(|n| n.to_decimal().normalize().to_string()),
            "note": own.note.as_deref(),
        })
    };
    let typed = audit.typed.iter().map(|typed| {
        let OwnEntry { room, item, code, unit, own: figures, .. } = &typed.entry;
        json!({
            "cell": place(&typed.entry), "room": room, "item": item, "code": code, "unit": unit,
            "own": own(figures), "worked out": typed.ours.as_ref().map(own), "when written": typed.before,
        })
    });
    let difference = |d: &Difference| json!({ "change": change(d.change), "sheet": d.sheet, "cell": d.cell, "written": d.written, "now": d.now });
    let money = |cents: i64| Decimal::new(cents, 2).to_string();
    json!({
        "as of": audit.carried.as_of.to_string(),
        "revision": audit.carried.revision,
        "written by version": audit.carried.version,
        "untouched": audit.untouched,
        "typed": typed.collect::<Vec<_>>(),
        "typed cells": audit.cells.iter().map(|c| json!({ "cell": c.cell, "written": c.written, "now": c.now, "when written": c.written.is_none() })).collect::<Vec<_>>(),
        "taken out": audit.removed.iter().map(|e| json!({ "room": e.room, "item": e.item, "code": e.code, "own": own(&e.own) })).collect::<Vec<_>>(),
        "formulas without a value": audit.not_worked_out,
        "differences": audit.differences.iter().map(difference).collect::<Vec<_>>(),
        "total as written": audit.carried.total.map(money),
        "total": audit.total.map(money),
    })
}

fn change(change: Change) -> &'static str {
    match change {
        Change::SheetAdded => "sheet added",
        Change::SheetGone => "sheet taken out",
        Change::Thing => "added",
        Change::RowAdded => "row added",
        Change::RowGone => "row taken out",
        Change::Cell => "cell",
        Change::Formula => "formula",
        Change::Value => "value",
    }
}
