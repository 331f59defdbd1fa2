//! What somebody begins with, by the rules that will price it.

use super::rules::read_rows;
use crate::engine::Engine;
use crate::engine::examples::own_examples;
use crate::pricing::Measured;
use crate::problem::Problem;
use crate::program::{Need, Program};
use crate::quantity::Date;
use crate::workbook::open::open;
use crate::workbook::rows::read_rooms_and_job;
use crate::workbook::write::starter::{Code, Row, prices, rooms};

/// Name of the rooms workbook, which messages about the example show.
const ROOMS: &str = "rooms.xlsx";

/// The files of a starter.
#[derive(Debug)]
pub struct Starter {
    /// The rooms workbook, with an example.
    pub rooms: Vec<u8>,
    /// The price book, with the codes that the rules use and no prices.
    pub prices: Vec<u8>,
}

/// Makes a starter for rules.
///
/// # Errors
/// Rules by which nothing is read; what the file format refuses.
pub fn starter(program: &Program, day: Date) -> Result<Starter, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    read_rows(program, "so there is no rooms workbook to begin with").map_err(one)?;
    let rooms = rooms(program, &example(program), day).map_err(one)?;
    let codes = codes(program, &rooms)?;
    let prices = prices(program, &codes, day).map_err(one)?;
    Ok(Starter { rooms, prices })
}

/// Rows of the books' own examples: the first row of each kind by which something is bought or done, the uppermost
/// book's first.
fn example(program: &Program) -> Vec<Row> {
    let schema = &program.schema;
    let mut rows: Vec<Row> = Vec::new();
    let kinds = schema.kind_ids().map(|id| (id, schema.kind(id)));
    for (id, kind) in kinds.filter(|(_, k)| k.sheet.is_some() && !k.single) {
        let serves = schema.items.iter().any(|i| i.kind == id);
        let under = kind.parent.as_ref().is_none_or(|p| rows.iter().any(|(k, _)| *k == p.kind));
        let mut examples = own_examples(program).chain(&program.examples).flat_map(|e| &e.rows);
        let found = examples.find(|(k, _)| *k == id);
        if let Some(row) = found.filter(|_| serves && under) {
            rows.push(row.clone());
        }
    }
    rows
}

/// The codes that the rules use for the example, under every option.
fn codes(program: &Program, rooms: &[u8]) -> Result<Vec<Code>, Vec<Problem>> {
    let schema = &program.schema;
    let mut rooms = open(ROOMS, rooms.to_vec()).map_err(|p| vec![p])?;
    let mut inputs = read_rooms_and_job(&mut rooms, None, schema, program.texts.clone())?;
    let mut engine = Engine::start(program, &mut inputs);
    engine.rows_alone();
    let options = schema.options.as_ref().map_or(1, |o| o.choices.len().max(1));
    let mut codes: Vec<Code> = Vec::new();
    for option in 0..options {
        engine.under_one_option(option);
        // a sum of money has no row in a price book
        for item in schema.items.iter().filter(|i| !matches!(i.need, Need::Lump(_))) {
            for row in 0..engine.run().rows_of(item.kind) {
                let Ok(code) = engine.run().text(item.code, row) else { continue };
                if !codes.iter().any(|c| c.code == **code && c.kind == item.what) {
                    let unit = Measured::of(schema, item).unit.to_string();
                    codes.push(Code { code: code.to_string(), label: item.label.clone(), kind: item.what, unit });
                }
            }
        }
    }
    codes.sort_by(|a, b| a.code.cmp(&b.code));
    Ok(codes)
}
