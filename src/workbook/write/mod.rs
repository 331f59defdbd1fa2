//! The priced workbook: one file a sheet, live formulas with their worked-out values, the same bytes for the same
//! input and pricing date.

mod as_read;
mod asked;
pub mod edge;
pub mod mark;
pub mod shown;
pub mod starter;
pub mod styles;
pub mod variance;

mod bid;
mod blocks;
mod build_up;
mod by;
mod carried;
mod cells;
mod charged;
mod checks;
mod cuts;
mod figures;
mod filled;
mod inputs;
mod job;
mod layout;
mod lines;
mod links;
mod long;
mod order;
mod ordered;
mod page;
mod parts;
mod picture;
mod plans;
mod prices;
mod rooms;
mod rules;
mod schemes;
mod tables;
mod text;
mod told;
mod values;

use crate::drawing::{Painting, PlanOf};
use crate::engine::{Explain, Inputs, Run};
use crate::pricing::Priced;
use crate::problem::Problem;
use crate::program::Schema;
use crate::quantity::Date;
use crate::workbook::carried::Row;
use crate::workbook::live::{JobFormula, RowFormulas};
use crate::workbook::open::LONGEST_TEXT;
use layout::Layout;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use styles::Styles;

pub use inputs::InputCells;
pub use mark::{is_package, rooms_file, rooms_property, untouched, written_by_us};
pub use plans::{MOST_PLANS, painted_in};

/// Everything that a priced workbook shows.
#[derive(Clone, Copy)]
pub struct Document<'a> {
    /// What the books declare.
    pub schema: &'a Schema,
    /// The columns worked out.
    pub run: &'a Run,
    /// The rows as they were read.
    pub inputs: &'a Inputs,
    /// Turns a fault into words.
    pub explain: &'a dyn Explain,
    /// The priced job.
    pub priced: &'a Priced,
    /// Name of the rooms file: the title of the bid.
    pub title: &'a str,
    /// Which pricing of the bid it is, from 1.
    pub revision: u32,
    /// The pricing date.
    pub as_of: Date,
    /// The price book; `None` where none was given.
    pub prices_file: Option<PricesFile<'a>>,
    /// SHA-256 of the rooms file, in hex.
    pub input_digest: &'a str,
    /// Version of the tool.
    pub tool_version: &'a str,
    /// Live formulas for figures of the job. Where no figure has that name, `{material}`, `{labor}` and `{hours}` are the
    /// sums of lines. A figure without a formula, or whose formula names something that stands in no cell, is written as a
    /// value.
    pub job_live: &'a [JobFormula],
    /// Live formulas of rows.
    pub live: &'a RowFormulas,
    /// Layouts to draw, one for each different one; none makes no sheet of plans.
    pub plans: &'a [PlanOf<'a>],
    /// Their pictures, which other threads may still be painting.
    pub painting: &'a Painting,
    /// What it carries to be priced again by; nothing where that is too much.
    pub carried: &'a [Row],
    /// Where sheets end.
    pub limits: Limits,
}

/// The price book that priced the job.
#[derive(Clone, Copy, Debug)]
pub struct PricesFile<'a> {
    /// File name.
    pub name: &'a str,
    /// SHA-256 of the file, in hex.
    pub digest: &'a str,
}

/// Where sheets end and when they are written in another way.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// Rows of a sheet, headings included.
    pub sheet_rows: u32,
    /// Cells beyond which a sheet's rows go into the file one by one, without being kept in memory.
    pub cells_in_memory: u64,
    /// Most rows of a table beside which it stands whether they were changed since.
    pub watched_rows: usize,
    /// Most rows of a kind whose worked-out cells are live formulas; all are values where one has more.
    pub live_rows: usize,
    /// Most rooms times lines for which each room looks for its lines by number; beyond it each room adds up its own
    /// block of lines, which a sheet of that size needs to stay quick.
    pub look_ups: u64,
    /// Whether every cell holds its value alone, without the formula that it comes from.
    pub values_only: bool,
}

impl Limits {
    /// For a workbook that is read and not worked with: values in place of formulas, and nothing that watches them.
    #[must_use]
    pub fn values_only() -> Self {
        Self { values_only: true, watched_rows: 0, live_rows: 0, ..Self::default() }
    }
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            sheet_rows: 1_048_576,
            cells_in_memory: 1_000,
            watched_rows: 5_000,
            live_rows: 20_000,
            look_ups: 20_000_000,
            values_only: false,
        }
    }
}

/// A sheet of the workbook: its name, what it is for, and who writes it.
pub struct SheetRecord {
    /// Name.
    pub name: &'static str,
    /// What it is for, one sentence; shown on the Rules sheet.
    pub purpose: &'static str,
    /// Whether a workbook has it.
    there: fn(&Document<'_>) -> bool,
    write: fn(&mut Book<'_>) -> Result<(), XlsxError>,
}

/// The Rooms sheet, to which other sheets refer.
pub const ROOMS: &str = "Rooms";
/// The Lines sheet, to which other sheets refer.
pub const LINES: &str = "Lines";

/// Every sheet, in the order of their tabs. A sheet is added by a row here.
pub const SHEETS: &[SheetRecord] = &[
    SheetRecord {
        name: "Bid",
        purpose: "The total and how it is built up, where the money goes, cautions, and a line to sign.",
        there: always,
        write: bid::write,
    },
    SheetRecord {
        name: parts::PARTS,
        purpose: "The parts of the bid and its alternates, each with its own build-up and its price.",
        there: parts::there,
        write: parts::write,
    },
    SheetRecord {
        name: ROOMS,
        purpose: "Each room as it was read, what was worked out for it, its cost and its status. What belongs to rooms, \
                  such as openings, follows on sheets of its own.",
        there: always,
        write: rooms::write,
    },
    SheetRecord {
        name: job::JOB,
        purpose: "The settings of the job that rules work with, each in a cell to type in, with what it counts as.",
        there: job::there,
        write: job::write,
    },
    SheetRecord {
        name: "Schemes",
        purpose: "Each room under every way to build it: which one is taken, what each costs, and why the others lost.",
        there: |doc| doc.schema.options.is_some(),
        write: schemes::write,
    },
    SheetRecord {
        name: LINES,
        purpose: "Each item and each work of each room. A quantity or unit cost typed into the dotted columns wins over \
                  the worked-out one.",
        there: always,
        write: lines::write,
    },
    SheetRecord {
        name: "Order",
        purpose: "The whole job in the yard's units of sale, with what is left over.",
        there: always,
        write: order::write,
    },
    SheetRecord {
        name: "Cuts",
        purpose: "What is cut from each stock piece, with the rooms that the pieces are for and the least stock that is \
                  proved to be needed.",
        there: always,
        write: cuts::write,
    },
    SheetRecord {
        name: "Plans",
        purpose: "A drawn plan for each different layout: walls, angle and tabs, tees, what carries and hangs them, openings.",
        there: |doc| !doc.plans.is_empty(),
        write: plans::write,
    },
    SheetRecord {
        name: "Checks",
        purpose: "Every check and problem, with the cell it speaks of.",
        there: always,
        write: checks::write,
    },
    SheetRecord {
        name: prices::PRICES,
        purpose: "The price and labor rows that were used.",
        there: always,
        write: prices::write,
    },
    SheetRecord {
        name: tables::TABLES,
        purpose: "Tables of the rules, as live cells look things up in them.",
        there: tables::there,
        write: tables::write,
    },
    SheetRecord {
        name: "Rules",
        purpose: "The rule books, what replaced what, where figures come from, and what the bid was worked out from.",
        there: always,
        write: rules::write,
    },
    SheetRecord {
        name: as_read::AS_READ,
        purpose: "Not shown: the cells that rules read, as they were, by which a row that was changed since is known.",
        there: as_read::there,
        write: as_read::write,
    },
    SheetRecord {
        name: crate::workbook::carried::SHEET,
        purpose: "Not shown: the rooms workbook, the price book and the rules, packed as text, so that this bid can be priced again.",
        there: carried::there,
        write: carried::write,
    },
];

fn always(_: &Document<'_>) -> bool {
    true
}

/// The sheets that a workbook has, in the order of their tabs.
pub fn sheets_of<'a>(doc: &'a Document<'a>) -> impl Iterator<Item = &'static SheetRecord> + 'a {
    SHEETS.iter().filter(|sheet| (sheet.there)(doc))
}

/// A workbook in the making.
struct Book<'a> {
    doc: Document<'a>,
    styles: Styles,
    layout: Layout,
    workbook: Workbook,
    /// Where the job's figures stand on the Bid, once it is written.
    bid_cells: build_up::Cells,
    /// Texts of the rows of large sheets.
    numbered: cells::Numbered,
    /// Sheets whose rows are put in at the end.
    long: Vec<long::Long>,
}

/// How hard parts are packed: a seventh larger than by the usual level, in half the time.
const DEFLATE_LEVEL: u8 = 2;

/// Writes the priced workbook.
///
/// # Errors
/// More columns or rows than a sheet holds; no room for temporary files.
pub fn priced(doc: &Document<'_>) -> Result<Vec<u8>, Problem> {
    priced_with_inputs(doc).map(|(bytes, _)| bytes)
}

/// As [`priced`], with which of its cells stand for what was read.
///
/// # Errors
/// As [`priced`].
pub fn priced_with_inputs(doc: &Document<'_>) -> Result<(Vec<u8>, InputCells), Problem> {
    let layout = Layout::new(doc)?;
    let workbook = Workbook::new();
    let (numbered, long) = (cells::Numbered::default(), Vec::new());
    let bid_cells = build_up::Cells::default();
    let mut book = Book { doc: *doc, styles: Styles::new(), layout, workbook, bid_cells, numbered, long };
    book.workbook.set_zip_compression_level(DEFLATE_LEVEL);
    let fail = |sheet: &str, e: &XlsxError| not_written(doc.title, sheet, e);
    let properties = properties(doc).map_err(|e| fail("properties", &e))?;
    book.workbook.set_properties(&properties);
    for sheet in sheets_of(doc) {
        (sheet.write)(&mut book).map_err(|e| fail(sheet.name, &e))?;
    }
    for (name, range) in book.layout.names() {
        book.workbook.define_name(name, &range).map_err(|e| fail("names", &e))?;
    }
    let cells = InputCells::new(doc, &book.layout, &book.bid_cells);
    let package = book.workbook.save_to_buffer().map_err(|e| fail("file", &e))?;
    // what the crate holds goes before the rows come
    book.workbook = Workbook::new();
    let bytes = book.with_rows(package).and_then(mark::sealed).map_err(|e| fail("file", &e))?;
    Ok((bytes, cells))
}

fn properties(doc: &Document<'_>) -> Result<DocProperties, XlsxError> {
    let date = doc.as_of;
    let mut properties = DocProperties::new()
        .set_title(text_of(doc.title))
        .set_creation_datetime(&made_on(date)?)
        .set_custom_property(mark::MARK, mark::EDITION)
        .set_custom_property("hardlid.version", doc.tool_version)
        .set_custom_property("hardlid.as of", date.to_string().as_str())
        .set_custom_property("hardlid.input", doc.input_digest)
        .set_custom_property(mark::SEAL, mark::UNSEALED)
        .set_custom_property(mark::ROOMS, mark::rooms_property(doc.title).as_str());
    if let Some(prices) = doc.prices_file {
        properties = properties.set_custom_property("hardlid.prices", prices.digest);
    }
    Ok(properties)
}

/// When a workbook was made: the pricing date stands in for the clock, so that the same job gives the same bytes.
fn made_on(date: Date) -> Result<ExcelDateTime, XlsxError> {
    let year = u16::try_from(date.year()).unwrap_or(1900).max(1900);
    let month = u8::try_from(date.month()).unwrap_or(1);
    let day = u8::try_from(date.day()).unwrap_or(1);
    ExcelDateTime::from_ymd(year, month, day)
}

fn not_written(title: &str, sheet: &str, error: &XlsxError) -> Problem {
    let problem = Problem::stop("workbook not written", format!("The priced workbook could not be made: {error}."))
        .in_file(format!("{title}, {sheet}"));
    match error {
        XlsxError::IoError(_) | XlsxError::ZipError(_) => {
            problem.fix("Free some space on the disk that holds temporary files.")
        }
        _ => problem,
    }
}

/// A text without what a name or an attribute of the file cannot hold: control characters, and the two that are none.
fn printable(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|c| !c.is_control() && !matches!(c, '\u{FFFE}' | '\u{FFFF}'))
}

/// Letters of a picture's description, by the file format; the crate leaves out a longer one.
const LONGEST_ALT: usize = 255;

/// The description of a picture.
fn alt_text(text: &str) -> String {
    printable(text).take(LONGEST_ALT).collect()
}

/// The words of a link: they stand in an attribute as well, which the format lets be so long.
fn link_text(text: &str) -> String {
    printable(text).take(200).collect()
}

/// A text as a cell can hold it.
fn text_of(text: &str) -> &str {
    if text.len() <= LONGEST_TEXT {
        return text;
    }
    let mut units = 0;
    let end = text.char_indices().find(|(_, c)| {
        units += c.len_utf16();
        units > LONGEST_TEXT
    });
    end.map_or(text, |(at, _)| &text[..at])
}
