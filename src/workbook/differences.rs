//! What somebody has changed in a priced workbook since it was written: it is laid beside the same workbook written
//! again from what it carries.
//!
//! A spreadsheet program that saves a workbook writes all of it in a way of its own, so cells are compared by what they
//! hold, and formulas by what they say. An estimator's own figures are no difference; what formulas come to by them is
//! told by a third workbook, written with these figures.

use super::grid::Cell;
use super::hand::{is_lines, plain_heading};
use super::open::{Book, open};
use crate::problem::Problem;
use crate::quantity::spelling::decimal_of;
use crate::source::column_letters;
use rustc_hash::{FxHashMap, FxHashSet};
use std::fmt;
use std::io::{Cursor, Read as _};

/// What kind of difference it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// A sheet that was added.
    SheetAdded,
    /// A sheet that was taken out.
    SheetGone,
    /// A chart, a picture, macros and other things that are not in cells.
    Thing,
    /// A row of lines that was added.
    RowAdded,
    /// A row of lines that was taken out.
    RowGone,
    /// A cell that holds something else.
    Cell,
    /// A formula that says something else, is new, or gave way to a value.
    Formula,
    /// A worked-out value that is not what its formula comes to.
    Value,
}

/// A difference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What kind.
    pub change: Change,
    /// The sheet; empty for what is in none.
    pub sheet: String,
    /// The cell, `B12`; empty for what is in none.
    pub cell: String,
    /// Its row and column, from 0.
    pub place: Option<(u32, u16)>,
    /// What was written.
    pub written: String,
    /// What stands there now.
    pub now: String,
}

impl Difference {
    /// Whether writing the workbook anew would lose something that somebody put in.
    #[must_use]
    pub fn would_be_lost(&self) -> bool {
        match self.change {
            Change::SheetGone | Change::RowGone | Change::Value => false,
            Change::SheetAdded | Change::Thing | Change::RowAdded | Change::Cell | Change::Formula => true,
        }
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { change, sheet, cell, written, now, .. } = self;
        let shown = |text: &str| match text.chars().count() {
            0 => "nothing".to_owned(),
            n if n > 60 => format!("{}…", text.chars().take(60).collect::<String>()),
            _ => text.to_owned(),
        };
        let (was, is) = (shown(written), shown(now));
        match change {
            Change::SheetAdded => write!(f, "sheet {sheet} was added"),
            Change::SheetGone => write!(f, "sheet {sheet} was taken out"),
            Change::Thing => write!(f, "{now} was added"),
            Change::RowAdded => write!(f, "{sheet} {cell}: a row was added, {is}"),
            Change::RowGone => write!(f, "{sheet}: a row was taken out, {was}"),
            Change::Cell => write!(f, "{sheet} {cell}: {is}, where {was} was written"),
            Change::Formula => write!(f, "{sheet} {cell}: {is}, where the formula {was} was written"),
            Change::Value => write!(f, "{sheet} {cell}: shows {is}, and comes to {was}"),
        }
    }
}

/// What a workbook holds otherwise than the same workbook written again, without the values of formulas that are right by
/// what an estimator has typed beside lines, as the same workbook written with those figures says.
///
/// # Errors
/// A workbook that cannot be read.
pub fn without_right_values(
    name: &str,
    now: &[u8],
    mut all: Vec<Difference>,
    with_own: &[u8],
) -> Result<Vec<Difference>, Problem> {
    let wrong = differences(name, now, with_own)?;
    let values = wrong.iter().filter(|d| d.change == Change::Value).map(|d| (d.sheet.as_str(), d.cell.as_str()));
    let wrong: FxHashSet<(&str, &str)> = values.collect();
    all.retain(|d| d.change != Change::Value || wrong.contains(&(d.sheet.as_str(), d.cell.as_str())));
    Ok(all)
}

/// All that a workbook holds otherwise than the same workbook written again.
///
/// # Errors
/// A workbook that cannot be read.
pub fn differences(name: &str, now: &[u8], again: &[u8]) -> Result<Vec<Difference>, Problem> {
    let mut out = things(now, again);
    let (mut now, mut again) = (open(name, now.to_vec())?, open(name, again.to_vec())?);
    let (here, there) = (now.sheet_names().to_vec(), again.sheet_names().to_vec());
    let whole = |change, sheet: &str| Difference {
        change,
        sheet: sheet.to_owned(),
        cell: String::new(),
        place: None,
        written: String::new(),
        now: String::new(),
    };
    out.extend(here.iter().filter(|s| !there.contains(s)).map(|s| whole(Change::SheetAdded, s)));
    out.extend(there.iter().filter(|s| !here.contains(s)).map(|s| whole(Change::SheetGone, s)));
    for sheet in there.iter().filter(|s| here.contains(s) && &***s != super::carried::SHEET) {
        let (written, found) = (Sheet::read(&mut again, sheet)?, Sheet::read(&mut now, sheet)?);
        if is_lines(sheet) {
            by_line(&written, &found, &mut out);
        } else {
            by_place(&written, &found, &mut out);
        }
    }
    Ok(out)
}

/// What stands in a workbook outside of cells, by the parts of its file.
const THINGS: &[(&str, &str)] = &[
    ("xl/charts/chart", "a chart"),
    ("xl/chartsheets/", "a sheet of a chart"),
    ("xl/vbaproject.bin", "a macro project"),
    ("xl/comments", "notes on cells"),
    ("xl/threadedcomments/", "remarks on cells"),
    ("xl/pivottables/", "a table that sums up another"),
    ("xl/externallinks/externallink", "a link to another workbook"),
    ("xl/activex/", "a control"),
    ("xl/ctrlprops/", "a control"),
    ("xl/embeddings/", "an embedded file"),
    ("xl/media/", "a picture"),
    ("xl/diagrams/data", "a diagram"),
];

fn things(now_bytes: &[u8], again_bytes: &[u8]) -> Vec<Difference> {
    let (now, again) = (parts(now_bytes), parts(again_bytes));
    let count = |parts: &[String], start: &str| parts.iter().filter(|p| p.starts_with(start)).count();
    let shapes = shapes(now_bytes) > shapes(again_bytes);
    let shape = shapes.then_some("a shape or a box with text").into_iter();
    let more = THINGS.iter().filter(|(start, _)| count(&now, start) > count(&again, start));
    more.map(|(_, what)| *what)
        .chain(shape)
        .map(|what| Difference {
            change: Change::Thing,
            sheet: String::new(),
            cell: String::new(),
            place: None,
            written: String::new(),
            now: what.to_owned(),
        })
        .collect()
}

/// Most bytes of a drawing that is looked at.
const LARGEST_DRAWING: u64 = 16 << 20;

/// How many shapes are drawn, which are in no part of their own.
fn shapes(bytes: &[u8]) -> usize {
    let Ok(mut archive) = zip::ZipArchive::new(Cursor::new(bytes)) else { return 0 };
    let mut many = 0;
    for at in 0..archive.len() {
        let Ok(part) = archive.by_index(at) else { continue };
        if part.name().is_ok_and(|n| n.starts_with("xl/drawings/drawing")) {
            let mut text = String::new();
            if part.take(LARGEST_DRAWING).read_to_string(&mut text).is_ok() {
                many +=
                    ["<xdr:sp>", "<xdr:sp ", "<xdr:cxnSp"].iter().map(|tag| text.matches(tag).count()).sum::<usize>();
            }
        }
    }
    many
}

fn parts(bytes: &[u8]) -> Vec<String> {
    let Ok(archive) = zip::ZipArchive::new(Cursor::new(bytes)) else { return Vec::new() };
    let names = archive.file_names().filter_map(Result::ok).map(|name| name.to_lowercase());
    // what belongs to a part stands in a part of its own, which is none of ours to count
    names.filter(|name| !name.ends_with(".rels")).collect()
}

/// A sheet's cells and formulas.
struct Sheet {
    name: String,
    rows: Vec<Vec<Cell>>,
    formulas: FxHashMap<(u32, u32), String>,
    /// The last column with a formula, by row.
    ends: FxHashMap<u32, u32>,
}

/// What a cell holds.
#[derive(Clone, Copy)]
struct Held<'a> {
    value: &'a Cell,
    formula: Option<&'a str>,
}

/// An empty cell.
const NOTHING: Held<'static> = Held { value: &Cell::Empty, formula: None };

impl Sheet {
    fn read(book: &mut Book, name: &str) -> Result<Self, Problem> {
        let rows = book.grid(name)?.rows;
        let (mut formulas, mut ends) = (FxHashMap::default(), FxHashMap::default());
        book.formulas(name, &mut |row, column, text| {
            formulas.insert((row, column), plain_formula(text));
            let end = ends.entry(row).or_insert(column);
            *end = column.max(*end);
        })?;
        Ok(Self { name: name.to_owned(), rows, formulas, ends })
    }

    fn at(&self, row: usize, column: usize) -> Held<'_> {
        let value = self.rows.get(row).and_then(|r| r.get(column)).unwrap_or(NOTHING.value);
        let place = (u32::try_from(row).unwrap_or(u32::MAX), u32::try_from(column).unwrap_or(u32::MAX));
        Held { value, formula: self.formulas.get(&place).map(String::as_str) }
    }

    /// The columns of a row to its last used cell.
    fn width_of(&self, row: usize) -> usize {
        let place = u32::try_from(row).unwrap_or(u32::MAX);
        let formulas = self.ends.get(&place).map_or(0, |column| *column as usize + 1);
        self.rows.get(row).map_or(0, Vec::len).max(formulas)
    }

    fn width(&self) -> usize {
        let formulas = self.formulas.keys().map(|(_, column)| *column as usize + 1).max();
        self.rows.iter().map(Vec::len).max().unwrap_or(0).max(formulas.unwrap_or(0))
    }

    fn height(&self) -> usize {
        let formulas = self.formulas.keys().map(|(row, _)| *row as usize + 1).max();
        self.rows.len().max(formulas.unwrap_or(0))
    }
}

/// Sheets whose cells have their places.
fn by_place(written: &Sheet, now: &Sheet, out: &mut Vec<Difference>) {
    for row in 0..written.height().max(now.height()) {
        for column in 0..written.width_of(row).max(now.width_of(row)) {
            compare(&now.name, (row, column), written.at(row, column), now.at(row, column), false, out);
        }
    }
}

/// Compares two cells; `moved` where rows may have moved, and with them what formulas of the same row say.
fn compare(
    sheet: &str,
    place: (usize, usize),
    written: Held<'_>,
    now: Held<'_>,
    moved: bool,
    out: &mut Vec<Difference>,
) {
    let change = match (written.formula, now.formula) {
        (Some(a), Some(b)) => {
            // rows put in among the lines move the ends of ranges over them, wherever these stand
            let may_move = moved || a.contains("LINES") && b.contains("LINES");
            let says_the_same = says_the_same(a, b) || may_move && says_the_same(&without_rows(a), &without_rows(b));
            match (says_the_same, same(written.value, now.value)) {
                (true, true) => return,
                (true, false) => Change::Value,
                (false, _) => Change::Formula,
            }
        }
        (None, None) if same(written.value, now.value) => return,
        (None, None) => Change::Cell,
        // a formula that comes to nothing may go with nothing
        (Some(_), None) if text(written.value).is_empty() && text(now.value).is_empty() => return,
        _ => Change::Formula,
    };
    let shown = |held: Held<'_>| match (change, held.formula) {
        (Change::Formula, Some(formula)) => format!("={formula}"),
        _ => text(held.value),
    };
    out.push(Difference {
        change,
        sheet: sheet.to_owned(),
        cell: cell_name(place),
        place: u32::try_from(place.0).ok().zip(u16::try_from(place.1).ok()),
        written: shown(written),
        now: shown(now),
    });
}

fn cell_name((row, column): (usize, usize)) -> String {
    let letters = u16::try_from(column).map_or_else(|_| column.to_string(), column_letters);
    format!("{letters}{}", row + 1)
}

/// Headings of lines by which a row is known again, and those of an estimator's own figures.
const KNOWN_BY: [&str; 4] = ["room", "item or work", "code", "unit"];
const OWN: [&str; 3] = ["own quantity", "own unit cost", "own note"];

/// A sheet of lines: rows are known by what they are for, so that they may be sorted, and rows come in between.
fn by_line(written: &Sheet, now: &Sheet, out: &mut Vec<Difference>) {
    let (Some(heads), Some(heads_now)) = (Headings::of(written), Headings::of(now)) else {
        return by_place(written, now, out);
    };
    let columns: Vec<(usize, Option<usize>)> = (0..written.width())
        .filter(|c| !heads.own.contains(c))
        .map(|c| (c, heads_now.column_like(&heads, c)))
        .collect();
    let taken: Vec<usize> = columns.iter().filter_map(|(_, c)| *c).chain(heads_now.own.iter().copied()).collect();
    let added: Vec<usize> = (0..now.width()).filter(|c| !taken.contains(c)).collect();
    let mut wanted: FxHashMap<(String, u32), usize> = FxHashMap::default();
    for (key, row) in heads.rows(written) {
        wanted.insert(key, row);
    }
    for (key, row) in heads_now.rows(now) {
        let cells = || (0..now.width()).map(|c| (c, now.at(row, c)));
        let Some(of) = wanted.remove(&key) else {
            let held: Vec<String> = cells().map(|(_, held)| text(held.value)).filter(|t| !t.is_empty()).collect();
            if !held.is_empty() {
                let now = held.join(", ");
                let (sheet, cell) = (written.name.clone(), cell_name((row, 0)));
                out.push(Difference {
                    change: Change::RowAdded,
                    sheet,
                    cell,
                    place: None,
                    written: String::new(),
                    now,
                });
            }
            continue;
        };
        for (a, b) in
            columns.iter().filter(|(a, b)| *a < written.width_of(of) || b.is_some_and(|b| b < now.width_of(row)))
        {
            let found = b.map_or(NOTHING, |b| now.at(row, b));
            compare(&now.name, (row, b.unwrap_or(*a)), written.at(of, *a), found, true, out);
        }
        for column in added.iter().filter(|c| **c < now.width_of(row)) {
            compare(&now.name, (row, *column), NOTHING, now.at(row, *column), true, out);
        }
        for column in &heads_now.own {
            let found = now.at(row, *column);
            // a figure is taken as it is; a formula cannot be carried, nor a remark above the headings
            let above = row < heads_now.row;
            if above || found.formula.is_some() {
                let written = if above && heads.own.contains(column) { written.at(of, *column) } else { NOTHING };
                compare(&now.name, (row, *column), written, found, true, out);
            }
        }
    }
    let mut gone: Vec<usize> = wanted.into_values().collect();
    gone.sort_unstable();
    for row in gone {
        let held: Vec<String> = heads.known_by.iter().map(|c| text(written.at(row, *c).value)).collect();
        let (sheet, cell) = (written.name.clone(), cell_name((row, 0)));
        let written = held.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ");
        if written.is_empty() {
            continue;
        }
        out.push(Difference { change: Change::RowGone, sheet, cell, place: None, written, now: String::new() });
    }
}

/// Where the headings of lines stand.
struct Headings {
    row: usize,
    texts: Vec<String>,
    known_by: Vec<usize>,
    own: Vec<usize>,
}

impl Headings {
    fn of(sheet: &Sheet) -> Option<Self> {
        let plain = |cell: &Cell| plain_heading(&text(cell));
        sheet.rows.iter().enumerate().find_map(|(row, cells)| {
            let texts: Vec<String> = cells.iter().map(plain).collect();
            let column = |name: &&str| texts.iter().position(|t| t == name);
            let known_by: Vec<usize> = KNOWN_BY.iter().filter_map(column).collect();
            let own: Vec<usize> = OWN.iter().filter_map(column).collect();
            let all = known_by.len() == KNOWN_BY.len() && own.len() == OWN.len();
            all.then_some(Self { row, texts, known_by, own })
        })
    }

    /// The column here whose heading is that of another sheet's column, the nth of that heading.
    fn column_like(&self, other: &Self, column: usize) -> Option<usize> {
        let heading = other.texts.get(column).map_or("", String::as_str);
        if heading.is_empty() {
            return self.texts.get(column).is_none_or(String::is_empty).then_some(column);
        }
        let nth = other.texts[..column].iter().filter(|t| *t == heading).count();
        self.texts.iter().enumerate().filter(|(_, t)| *t == heading).nth(nth).map(|(c, _)| c)
    }

    /// The rows below the headings, each with what it is known by and which of those alike it is; and the rows above.
    fn rows(&self, sheet: &Sheet) -> Vec<((String, u32), usize)> {
        let mut seen: FxHashMap<String, u32> = FxHashMap::default();
        let mut out = Vec::new();
        for row in 0..sheet.height() {
            let key = if row <= self.row {
                format!("above {}", self.row - row)
            } else {
                let parts: Vec<String> = self.known_by.iter().map(|c| text(sheet.at(row, *c).value)).collect();
                parts.join("\n")
            };
            let nth = seen.entry(key.clone()).or_default();
            out.push(((key, *nth), row));
            *nth += 1;
        }
        out
    }
}

/// Whether two cells hold the same, as far as a spreadsheet program keeps it.
#[allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
fn same(a: &Cell, b: &Cell) -> bool {
    let number = |cell: &Cell| match cell {
        Cell::Number(n) | Cell::Date(n) => Some(*n),
        _ => None,
    };
    match (number(a), number(b)) {
        (Some(a), Some(b)) => near(a, b),
        _ => a == b || text(a) == text(b),
    }
}

/// Whether two numbers are the same: programs work with binary fractions, and what differs in the twelfth figure is.
#[allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-11 * a.abs().max(b.abs()).max(1.0)
}

/// Whether two formulas say the same: programs write the numbers in them to fifteen figures, or to seventeen.
fn says_the_same(a: &str, b: &str) -> bool {
    a == b || {
        let (mut a, mut b) = (Words { rest: a, quoted: false }, Words { rest: b, quoted: false });
        loop {
            match (a.next(), b.next()) {
                (None, None) => break true,
                (Some(a), Some(b)) if a == b => {}
                (Some(Word::Number(a)), Some(Word::Number(b))) if near(a, b) => {}
                _ => break false,
            }
        }
    }
}

/// A formula in numbers and all that stands between them.
struct Words<'f> {
    rest: &'f str,
    quoted: bool,
}

#[derive(PartialEq)]
enum Word<'f> {
    Number(f64),
    Text(&'f str),
}

impl<'f> Iterator for Words<'f> {
    type Item = Word<'f>;

    fn next(&mut self) -> Option<Word<'f>> {
        let first = self.rest.chars().next()?;
        let of_a_name = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '$' | '!' | ':');
        let is_number = |text: &str| text.parse::<f64>().ok().filter(|n| n.is_finite());
        // a name or a number; any other sign stands alone
        let end = match first {
            '"' => {
                self.quoted = !self.quoted;
                1
            }
            _ if self.quoted => self.rest.find('"').unwrap_or(self.rest.len()),
            c if of_a_name(c) => self.rest.find(|c| !of_a_name(c)).unwrap_or(self.rest.len()),
            c => c.len_utf8(),
        };
        let (word, rest) = self.rest.split_at(end);
        self.rest = rest;
        let number = if self.quoted { None } else { is_number(word) };
        Some(number.map_or(Word::Text(word), Word::Number))
    }
}

fn text(cell: &Cell) -> String {
    match cell {
        Cell::Empty => String::new(),
        Cell::Text(text) | Cell::Error(text) => text.replace("\r\n", "\n").trim().to_owned(),
        Cell::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Cell::Number(n) | Cell::Date(n) => decimal_of(*n).map_or_else(|| n.to_string(), |d| d.normalize().to_string()),
    }
}

/// A formula without what programs write each in their own way: spaces, case, quotes around names of sheets.
fn plain_formula(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut quoted = false;
    for c in text.trim_start_matches('=').chars() {
        match c {
            '"' => {
                quoted = !quoted;
                out.push(c);
            }
            _ if quoted => out.push(c),
            ' ' | '\n' | '\r' | '\t' | '\'' => {}
            _ => out.extend(c.to_uppercase()),
        }
    }
    for (theirs, ours) in [("_XLFN.", ""), ("_XLWS.", ""), ("TRUE()", "TRUE"), ("FALSE()", "FALSE")] {
        out = out.replace(theirs, ours);
    }
    out
}

/// A formula without the rows of its cells, which move when rows are sorted or put in.
fn without_rows(formula: &str) -> String {
    let mut out = String::with_capacity(formula.len());
    let (mut quoted, mut before) = (false, ' ');
    for c in formula.chars() {
        if c == '"' {
            quoted = !quoted;
        }
        let of_a_cell = c.is_ascii_digit() && (before.is_ascii_alphabetic() || before == '$');
        if quoted || !of_a_cell {
            out.push(c);
            before = c;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use rust_xlsxwriter::{Chart, Formula, Workbook, Worksheet};

    const HEADS: [&str; 8] =
        ["Room", "Item or work", "Code", "Unit", "Quantity (ft)", "Own quantity", "Own unit cost", "Own note"];

    fn line(sheet: &mut Worksheet, row: u32, room: &str, quantity: f64) {
        for (column, text) in (0u16..).zip([room, "Span tee", "ST-12", "ft"]) {
            sheet.write_string(row, column, text).unwrap();
        }
        sheet.write_number(row, 4, quantity).unwrap();
        let sum = Formula::new(format!("=IF(F{0}=\"\",E{0},F{0})", row + 1)).set_result(quantity.to_string());
        sheet.write_formula(row, 8, sum).unwrap();
    }

    /// A workbook of two lines and a total, changed.
    fn book(change: impl FnOnce(&mut Workbook)) -> Vec<u8> {
        let mut book = Workbook::new();
        let bid = book.add_worksheet().set_name("Bid").unwrap();
        bid.write_string(0, 0, "Total").unwrap();
        bid.write_formula(0, 1, Formula::new("=SUM(Lines!I2:I3)").set_result("30")).unwrap();
        let lines = book.add_worksheet().set_name("Lines").unwrap();
        for (column, text) in (0u16..).zip(HEADS) {
            lines.write_string(0, column, text).unwrap();
        }
        line(lines, 1, "101", 10.0);
        line(lines, 2, "102", 20.0);
        change(&mut book);
        book.save_to_buffer().unwrap()
    }

    fn told(change: impl FnOnce(&mut Workbook)) -> Vec<String> {
        let all = differences("bid.xlsx", &book(change), &book(|_| {})).unwrap();
        all.iter().map(ToString::to_string).collect()
    }

    fn sheet<'w>(book: &'w mut Workbook, name: &str) -> &'w mut Worksheet {
        book.worksheet_from_name(name).unwrap()
    }

    #[test]
    fn nothing_changed_is_nothing_told() {
        assert!(told(|_| {}).is_empty());
        // own figures, and what programs write in their own way
        let same = told(|book| {
            sheet(book, "Lines").write_number(1, 5, 12.0).unwrap();
            sheet(book, "Lines").write_string(2, 7, "measured").unwrap();
            let bid = sheet(book, "Bid");
            bid.write_formula(0, 1, Formula::new("=SUM('Lines'!I2:I3)").set_result("30.000000000001")).unwrap();
        });
        assert!(same.is_empty(), "{same:?}");
    }

    #[test]
    fn lines_may_be_sorted_and_moved() {
        let moved = told(|book| {
            let lines = sheet(book, "Lines");
            for column in 0..9 {
                lines.write_blank(1, column, &rust_xlsxwriter::Format::new()).unwrap();
            }
            line(lines, 3, "101", 10.0);
            sheet(book, "Bid").write_formula(0, 1, Formula::new("=SUM(Lines!I2:I4)").set_result("30")).unwrap();
        });
        assert!(moved.is_empty(), "{moved:?}");
    }

    #[test]
    fn what_was_changed_is_named() {
        let changed = told(|book| {
            let bid = sheet(book, "Bid");
            bid.write_string(0, 0, "Grand total").unwrap();
            bid.write_number(0, 1, 31.0).unwrap();
            bid.write_formula(4, 2, Formula::new("=B1*2").set_result("60")).unwrap();
            let lines = sheet(book, "Lines");
            lines.write_number(1, 4, 11.0).unwrap();
            line(lines, 3, "103", 5.0);
            book.add_worksheet()
                .set_name("Mine")
                .unwrap()
                .insert_chart(0, 0, &{
                    let mut chart = Chart::new_bar();
                    chart.add_series().set_values("Bid!$B$1:$B$1");
                    chart
                })
                .unwrap();
        });
        assert_eq!(
            changed,
            [
                "a chart was added",
                "sheet Mine was added",
                "Bid A1: Grand total, where Total was written",
                "Bid B1: 31, where the formula =SUM(LINES!I2:I3) was written",
                "Bid C5: =B1*2, where the formula nothing was written",
                "Lines E2: 11, where 10 was written",
                "Lines A4: a row was added, 103, Span tee, ST-12, ft, 5, 5",
            ]
        );
    }

    #[test]
    fn a_formula_on_a_sheet_that_keeps_its_rows_is_compared_whole() {
        let book = |formula: &str| {
            let mut book = Workbook::new();
            let bid = book.add_worksheet().set_name("Bid").unwrap();
            bid.write_formula(2, 2, Formula::new(formula).set_result("4")).unwrap();
            book.save_to_buffer().unwrap()
        };
        let all = differences("bid.xlsx", &book("=A1*B2"), &book("=A1*B1")).unwrap();
        assert_eq!(
            all.iter().map(ToString::to_string).collect::<Vec<_>>(),
            ["Bid C3: =A1*B2, where the formula =A1*B1 was written"]
        );
    }

    #[test]
    fn numbers_in_formulas_are_the_same_to_fifteen_figures() {
        let long = "IF(ISNUMBER(OPENINGS!C3),OPENINGS!C3*0.08333333333333333,16.666666666666668)&\"1.5\"";
        let short = "IF(ISNUMBER(OPENINGS!C3),OPENINGS!C3*0.0833333333333333,16.6666666666667)&\"1.5\"";
        assert!(says_the_same(long, short));
        assert!(!says_the_same(long, &short.replace("0.0833333333333333", "0.0833333")));
        assert!(!says_the_same(long, &short.replace("C3*", "C4*")), "another cell");
        assert!(!says_the_same("A1*1", "A1*1.0+B1"));
        // what is quoted is a text, whatever it looks like
        assert!(!says_the_same("IF(A1=\"1.50\",1,2)", "IF(A1=\"1.5\",1,2)"));
    }

    #[test]
    fn one_cell_in_the_last_corner_takes_no_time() {
        let far = told(|book| {
            sheet(book, "Bid").write_number(1_048_575, 16_383, 1.0).unwrap();
        });
        assert_eq!(far, ["Bid XFD1048576: 1, where nothing was written"]);
    }

    #[test]
    fn what_is_gone_is_no_loss() {
        let written = book(|_| {});
        let more = book(|book| {
            line(sheet(book, "Lines"), 3, "103", 5.0);
            book.add_worksheet().set_name("Order").unwrap();
        });
        let all = differences("bid.xlsx", &written, &more).unwrap();
        let told: Vec<String> = all.iter().map(ToString::to_string).collect();
        assert_eq!(told, ["sheet Order was taken out", "Lines: a row was taken out, 103, Span tee, ST-12, ft"]);
        assert!(!all.iter().any(Difference::would_be_lost));
    }
}
