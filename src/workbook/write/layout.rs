//! Where everything stands, settled before the first cell is written, so that sheets can refer to each other.

use super::filled::{Places, inputs_of};
use super::shown::{Shown, shown};
use super::{Document, LINES, ROOMS, as_read, printable, sheets_of};
use crate::engine::InputTable;
use crate::pricing::Line;
use crate::problem::Problem;
use crate::program::{FieldId, KindId, Schema};
use crate::source::column_letters;
use std::fmt::Write as _;

/// Columns of a sheet by the file format.
const SHEET_COLUMNS: usize = 16_384;

/// Most blocks of lines that one sum names; the file format allows 255 arguments and 8,192 characters.
const MOST_BLOCKS: usize = 200;

/// Row of the first line on its sheet, from 0, below the totals and the headings.
pub const FIRST_LINE: u32 = 2;

/// Where the sheets' cells stand.
#[derive(Debug)]
pub struct Layout {
    /// The root kind's table, on Rooms.
    pub root: Option<TableLayout>,
    /// Tables of kinds that belong to it, a sheet each.
    pub children: Vec<TableLayout>,
    /// The lines.
    pub lines: LinesLayout,
    /// Column of the costs as they were, on the sheet of what was read; nothing where they are not watched.
    pub cost_copies: Option<u16>,
    /// Where the cells of fields stand.
    pub places: Places,
}

/// A formula column.
#[derive(Debug)]
pub struct Worked {
    /// The field.
    pub field: FieldId,
    /// How it is shown.
    pub shown: Shown,
}

/// A table of rows: what was read, then what was worked out, then (rooms) what it costs.
#[derive(Debug)]
pub struct TableLayout {
    /// The kind.
    pub kind: KindId,
    /// Index into the input's tables.
    pub table: usize,
    /// Name of the sheet.
    pub sheet: String,
    /// Whether a column of numbers comes first, to which lines refer.
    pub numbered: bool,
    /// How many columns were read.
    pub raw: usize,
    /// Those of them that are watched for changes; none where they are not.
    pub watched: Vec<usize>,
    /// First column of their copies on the sheet of what was read.
    pub copies: u16,
    /// Input fields whose values stand beside the copies, and the columns that they are read from.
    pub helped: Vec<(FieldId, usize)>,
    /// First column of those values on the sheet of what was read.
    pub helps: u16,
    /// Formula columns.
    pub worked: Vec<Worked>,
    /// Row of the headings, from 0.
    pub heading: u32,
    /// How many rows.
    pub rows: u32,
}

impl TableLayout {
    fn new(doc: &Document<'_>, table: usize, sheet: String, numbered: bool, copies: u16) -> Result<Self, Problem> {
        let input = &doc.inputs.tables[table];
        let schema = doc.schema;
        let visible = |f: &&FieldId| schema.field(**f).input.is_none() && !schema.field(**f).hidden;
        let column = |f: FieldId| doc.run.columns.get(f.0 as usize).and_then(Option::as_ref);
        let worked: Vec<Worked> = schema
            .kind(input.kind)
            .fields
            .iter()
            .filter(visible)
            .filter(|f| column(**f).is_some())
            .map(|f| Worked { field: *f, shown: shown(schema.field(*f), column(*f)) })
            .collect();
        let raw = input.origin.columns.len();
        let watched = as_read::watched(doc, input);
        if raw + worked.len() + 8 > SHEET_COLUMNS {
            let what = format!("{sheet} has {raw} columns; with {} worked out they do not fit a sheet.", worked.len());
            return Err(Problem::stop("too many columns", what)
                .in_file(doc.title)
                .fix("Delete the columns that the job does not need."));
        }
        let rows = u32::try_from(input.rows).unwrap_or(u32::MAX);
        // The band above the headings gives way where the sheet is full.
        let heading = u32::from(u64::from(rows) + 2 <= u64::from(doc.limits.sheet_rows));
        if u64::from(rows) + 1 > u64::from(doc.limits.sheet_rows) {
            let what = format!("{sheet} has {rows} rows, more than a sheet holds.");
            return Err(Problem::stop("too many rows", what)
                .in_file(doc.title)
                .fix("Split the job into several files."));
        }
        let helped = helped(doc, input, &watched);
        let helps = copies.saturating_add(narrow(watched.len()));
        let kind = input.kind;
        Ok(Self { kind, table, sheet, numbered, raw, watched, copies, helped, helps, worked, heading, rows })
    }

    /// Column of an input column.
    pub fn raw_column(&self, index: usize) -> u16 {
        narrow(index + usize::from(self.numbered))
    }

    /// Column of a formula column.
    pub fn worked_column(&self, index: usize) -> u16 {
        narrow(index + self.raw + usize::from(self.numbered))
    }

    /// Column of a room's cost; hours and status follow it.
    pub fn cost(&self) -> u16 {
        self.worked_column(self.worked.len())
    }

    /// The column after the copies of what was read, and the values beside them.
    fn copies_end(&self) -> u16 {
        self.helps.saturating_add(narrow(self.helped.len()))
    }

    /// Column of whether a row was changed since it was priced.
    pub fn since(&self) -> Option<u16> {
        (!self.watched.is_empty()).then(|| self.cost() + if self.numbered { 3 } else { 0 })
    }

    /// Sheet row (from 0) of a table row.
    pub fn row(&self, row: u32) -> u32 {
        self.heading + 1 + row
    }

    /// A column's cells as a reference: `Rooms!$B$3:$B$202`.
    pub fn range(&self, column: u16) -> String {
        let letters = column_letters(column);
        let (first, last) = (self.row(0) + 1, self.row(self.rows.saturating_sub(1)) + 1);
        format!("{}!${letters}${first}:${letters}${last}", quoted(&self.sheet))
    }

    /// The cells that were read, as a reference.
    fn input_range(&self) -> Option<String> {
        let last = self.raw.checked_sub(1)?;
        let (a, b) = (column_letters(self.raw_column(0)), column_letters(self.raw_column(last)));
        let (first, end) = (self.heading + 1, self.heading + 1 + self.rows);
        Some(format!("={}!${a}${first}:${b}${end}", quoted(&self.sheet)))
    }
}

/// A column of Lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineColumn {
    /// Number of the room, as on Rooms.
    Ref,
    /// The room's name.
    Room,
    /// The part of the bid that it counts toward.
    With,
    /// The alternate that adds it or takes it out.
    Alternate,
    /// The row that belongs to the room, where it is one.
    Part,
    /// Label of the item or work.
    Item,
    /// Code in the price book.
    Code,
    /// Material or labor.
    Kind,
    /// Need without waste.
    Need,
    /// Waste.
    Waste,
    /// Need with waste.
    Quantity,
    /// Unit of the three before it.
    Unit,
    /// Dollars for one unit.
    UnitCost,
    /// The estimator's own quantity.
    OwnQuantity,
    /// The estimator's own unit cost.
    OwnUnitCost,
    /// Dollars.
    Cost,
    /// Hours for one unit.
    HoursEach,
    /// Hours.
    Hours,
    /// The estimator's own note.
    Note,
}

/// A column of Lines: heading, width in characters, number format, whether people type in it, note on the heading.
pub struct LineColumnRecord {
    /// The column.
    pub column: LineColumn,
    /// Its heading.
    pub heading: &'static str,
    /// Its width; texts make it wider.
    pub width: u32,
    /// Its number format.
    pub format: &'static str,
    /// Whether people type in it.
    pub typed: bool,
    /// What the note on its heading says: what it is, and how it comes about.
    pub note: &'static str,
}

/// Every column of Lines, in order.
pub const LINE_COLUMNS: &[LineColumnRecord] = {
    use super::styles::{MONEY, QUANTITY, RATE, RATE_PERCENT, WHOLE};
    const fn row(
        column: LineColumn,
        heading: &'static str,
        width: u32,
        format: &'static str,
        typed: bool,
        note: &'static str,
    ) -> LineColumnRecord {
        LineColumnRecord { column, heading, width, format, typed, note }
    }
    &[
        row(LineColumn::Ref, "Ref", 6, WHOLE, false, "The room's number on Rooms. Rooms adds up its lines by it."),
        row(
            LineColumn::Room,
            "Room",
            9,
            "General",
            false,
            "What the rooms workbook calls the room; the whole job where a line is for no room alone.",
        ),
        row(LineColumn::With, "In part", 12, "General", false, "The part of the bid that the line counts toward."),
        row(
            LineColumn::Alternate,
            "Alternate",
            14,
            "General",
            false,
            "The alternate that adds the line or takes it out. Lines that one would add are in no sum of the bid.",
        ),
        row(
            LineColumn::Part,
            "Part",
            16,
            "General",
            false,
            "What belongs to the room, such as an opening, where the line is for that alone.",
        ),
        row(LineColumn::Item, "Item or work", 16, "General", false, "What is bought or done, as the rules call it."),
        row(LineColumn::Code, "Code", 8, "General", false, "The code by which the price book is asked."),
        row(LineColumn::Kind, "Kind", 9, "General", false, "Material or labor."),
        row(
            LineColumn::Need,
            "Need",
            11,
            QUANTITY,
            false,
            "What the rules say that the room needs, without waste. Shaded cells stay as they were priced, since no worksheet can work them out; where their room was changed, it says so on Rooms.",
        ),
        row(
            LineColumn::Waste,
            "Waste",
            8,
            RATE_PERCENT,
            false,
            "Share of the need that is added for waste: by the rule, or by the price book's sheet Job.",
        ),
        row(LineColumn::Quantity, "Quantity with waste", 11, QUANTITY, false, "Need × (1 + Waste)."),
        row(LineColumn::Unit, "Unit", 6, "General", false, "Unit of Need and Quantity."),
        row(
            LineColumn::UnitCost,
            "Unit cost ($)",
            11,
            RATE,
            false,
            "Dollars for one unit: the price book's row in force on the pricing date, see Prices; of work, Hours for one × dollars an hour.",
        ),
        row(
            LineColumn::OwnQuantity,
            "Own quantity",
            11,
            QUANTITY,
            true,
            "Yours to type in: a number here serves in place of Quantity with waste, and stays when the job is priced again.",
        ),
        row(
            LineColumn::OwnUnitCost,
            "Own unit cost ($)",
            11,
            RATE,
            true,
            "Yours to type in: a number here serves in place of Unit cost, and stays when the job is priced again.",
        ),
        row(
            LineColumn::Cost,
            "Cost ($)",
            13,
            MONEY,
            false,
            "Quantity × Unit cost, or your own figures where there are any, to the cent.",
        ),
        row(
            LineColumn::HoursEach,
            "Hours for one",
            9,
            "0.0000",
            false,
            "Hours for one unit of work, by the price book's sheet Labor.",
        ),
        row(
            LineColumn::Hours,
            "Hours",
            10,
            QUANTITY,
            false,
            "Hours for one × Quantity, or your own quantity where there is one.",
        ),
        row(
            LineColumn::Note,
            "Own note",
            24,
            "General",
            true,
            "Yours to type in: words that stay with the line when the job is priced again.",
        ),
    ]
};

/// One of the sheets that hold lines.
#[derive(Debug)]
pub struct LinesSheet {
    /// Its name.
    pub name: String,
    /// Its first line.
    pub first: usize,
    /// How many lines.
    pub count: u32,
}

/// Where lines stand.
#[derive(Debug)]
pub struct LinesLayout {
    /// The sheets.
    pub sheets: Vec<LinesSheet>,
    /// Whether some line is for a row that belongs to a room.
    pub parts: bool,
    /// Whether the bid is priced in parts.
    pub divided: bool,
    /// Whether it has alternates.
    pub alternates: bool,
    /// For each room its blocks of lines (first line, how many), where rooms add up blocks instead of looking for
    /// their number.
    pub blocks: Option<Vec<Vec<(u32, u32)>>>,
}

impl LinesLayout {
    fn new(doc: &Document<'_>, root: Option<KindId>, rooms: u32) -> Self {
        let lines = &doc.priced.lines;
        let each = doc.limits.sheet_rows.saturating_sub(FIRST_LINE).max(1) as usize;
        let count = lines.len().div_ceil(each).max(1);
        let sheets = (0..count).map(|i| LinesSheet {
            name: if i == 0 { LINES.to_owned() } else { format!("{LINES} {}", i + 1) },
            first: i * each,
            count: u32::try_from(lines.len().saturating_sub(i * each).min(each)).unwrap_or(u32::MAX),
        });
        let parts = lines.iter().any(|l| l.room.is_some() && Some(l.of.0) != root);
        let many = u64::from(rooms).saturating_mul(lines.len() as u64) > doc.limits.look_ups;
        let blocks = many.then(|| blocks(lines, rooms as usize, each));
        // A formula takes so many arguments; lines scattered wider than that are looked for by number after all.
        let blocks = blocks.filter(|b| b.iter().all(|room| room.len() <= MOST_BLOCKS));
        let (divided, alternates) = (!doc.priced.parts.is_empty(), !doc.priced.alternates.is_empty());
        Self { sheets: sheets.collect(), parts, divided, alternates, blocks }
    }

    /// The columns that this workbook has.
    pub fn columns(&self) -> impl Iterator<Item = &'static LineColumnRecord> {
        LINE_COLUMNS.iter().filter(|c| self.has(c.column))
    }

    /// Where a column stands.
    pub fn column(&self, column: LineColumn) -> u16 {
        let at = LINE_COLUMNS.iter().position(|c| c.column == column).unwrap_or(0);
        narrow(LINE_COLUMNS.iter().take(at).filter(|c| self.has(c.column)).count())
    }

    /// Whether this workbook has a column.
    fn has(&self, column: LineColumn) -> bool {
        match column {
            LineColumn::Part => self.parts,
            LineColumn::With => self.divided,
            LineColumn::Alternate => self.alternates,
            _ => true,
        }
    }

    /// Hours of the bid: those of alternates are left out.
    pub fn hours(&self) -> String {
        self.sum(LineColumn::Hours, self.alternates.then_some("Labor"))
    }

    /// A column's cells on one sheet, as a reference.
    pub fn range(&self, sheet: &LinesSheet, column: LineColumn) -> String {
        let letters = column_letters(self.column(column));
        let (first, last) = (FIRST_LINE + 1, sheet.count.max(1) + FIRST_LINE);
        format!("{}!${letters}${first}:${letters}${last}", quoted(&sheet.name))
    }

    /// A formula for each sheet of lines, joined by plus signs.
    pub fn over_sheets(&self, one: impl Fn(&LinesSheet) -> String) -> String {
        self.sheets.iter().map(one).collect::<Vec<_>>().join("+")
    }

    /// Sum of a column over all lines, or those of a kind of line.
    pub fn sum(&self, column: LineColumn, kind: Option<&str>) -> String {
        self.over_sheets(|s| match kind {
            Some(kind) => {
                format!("SUMIF({},\"{kind}\",{})", self.range(s, LineColumn::Kind), self.range(s, column))
            }
            None => format!("SUM({})", self.range(s, column)),
        })
    }

    /// Sum of a column over a room's lines. `number` is the cell that holds the room's number; `fixed` holds the parts
    /// of the formula that every room has.
    pub fn room_sum(&self, out: &mut String, fixed: &[(String, String)], number: &str, room: u32, column: LineColumn) {
        match &self.blocks {
            None => {
                for (i, (values, refs)) in fixed.iter().enumerate() {
                    let plus = if i > 0 { "+" } else { "" };
                    let _ = write!(out, "{plus}SUMIF({refs},{number},{values})");
                }
            }
            Some(blocks) => {
                let letters = column_letters(self.column(column));
                let none = Vec::new();
                let blocks = blocks.get(room as usize).unwrap_or(&none);
                out.push_str("SUM(");
                for (i, (first, count)) in blocks.iter().enumerate() {
                    let Some(sheet) = self.sheet_of(*first as usize) else { continue };
                    let top = *first as usize - sheet.first + FIRST_LINE as usize + 1;
                    let comma = if i > 0 { "," } else { "" };
                    let end = top + *count as usize - 1;
                    let _ = write!(out, "{comma}{}!{letters}{top}:{letters}{end}", quoted(&sheet.name));
                }
                if blocks.is_empty() {
                    out.push('0');
                }
                out.push(')');
            }
        }
    }

    /// The parts of a look-up by number that all rooms share.
    pub fn room_sum_parts(&self, column: LineColumn) -> Vec<(String, String)> {
        self.sheets.iter().map(|s| (self.range(s, column), self.range(s, LineColumn::Ref))).collect()
    }

    /// The first cell of a line, as a reference.
    pub fn address(&self, line: usize) -> Option<String> {
        let sheet = self.sheet_of(line)?;
        Some(format!("{}!A{}", quoted(&sheet.name), line - sheet.first + FIRST_LINE as usize + 1))
    }

    fn sheet_of(&self, line: usize) -> Option<&LinesSheet> {
        self.sheets.iter().rev().find(|s| s.first <= line)
    }
}

/// Blocks of neighboring lines by room; a block ends with its sheet.
fn blocks(lines: &[Line], rooms: usize, each: usize) -> Vec<Vec<(u32, u32)>> {
    let mut out: Vec<Vec<(u32, u32)>> = vec![Vec::new(); rooms];
    let mut last = None;
    for (i, line) in lines.iter().enumerate() {
        let here = line.room.and_then(|r| out.get_mut(r as usize));
        if let (Some(blocks), Ok(at)) = (here, u32::try_from(i)) {
            match blocks.last_mut() {
                Some(block) if last == line.room && i % each != 0 => block.1 += 1,
                _ => blocks.push((at, 1)),
            }
        }
        last = line.room;
    }
    out
}

impl Layout {
    /// Settles where everything stands.
    pub fn new(doc: &Document<'_>) -> Result<Self, Problem> {
        let schema = doc.schema;
        let root_kind = root_kind(schema);
        let mut taken: Vec<String> = sheets_of(doc).map(|s| s.name.to_lowercase()).collect();
        let (mut root, mut children, mut copies) = (None, Vec::new(), 0);
        for (i, table) in doc.inputs.tables.iter().enumerate() {
            if Some(table.kind) == root_kind {
                let table = TableLayout::new(doc, i, ROOMS.to_owned(), true, copies)?;
                copies = table.copies_end();
                root = Some(table);
            } else if !schema.kind(table.kind).single && table.rows > 0 {
                let sheet = sheet_name(schema, table, &mut taken);
                let table = TableLayout::new(doc, i, sheet, false, copies)?;
                copies = table.copies_end();
                children.push(table);
            }
        }
        let rooms = root.as_ref().map_or(0, |r: &TableLayout| r.rows);
        let cost_copies = as_read::there(doc).then_some(copies).filter(|_| !doc.priced.prices.is_empty());
        let lines = LinesLayout::new(doc, root_kind, rooms);
        let places = Places::new(doc, root.iter().chain(&children));
        Ok(Self { root, children, lines, cost_copies, places })
    }

    /// All tables, the root's first.
    pub fn tables(&self) -> impl Iterator<Item = &TableLayout> {
        self.root.iter().chain(&self.children)
    }

    /// The table of a kind.
    pub fn table_of(&self, kind: KindId) -> Option<&TableLayout> {
        self.tables().find(|t| t.kind == kind)
    }

    /// Names for the cells that were read, so that a later reading finds them among what was worked out.
    pub fn names(&self) -> Vec<(String, String)> {
        self.tables()
            .enumerate()
            .filter_map(|(i, t)| Some((format!("hardlid_input_{}", i + 1), t.input_range()?)))
            .collect()
    }
}

/// Watched columns whose cells are no plain numbers, by the fields that live formulas look at.
fn helped(doc: &Document<'_>, input: &InputTable, watched: &[usize]) -> Vec<(FieldId, usize)> {
    let fields: Vec<FieldId> = inputs_of(doc.schema, input.kind).collect();
    let field = |at: &usize| input.origin.columns.get(*at)?.field.and_then(|f| fields.get(f)).copied();
    let mut out: Vec<(FieldId, usize)> = Vec::new();
    for at in watched {
        if let Some(id) = field(at).filter(|id| doc.live.helped.contains_key(id) && out.iter().all(|(i, _)| i != id)) {
            out.push((id, *at));
        }
    }
    out
}

/// The kind that the job is a list of: `rooms` where there is one, else the first that stands by itself.
#[must_use]
pub fn root_kind(schema: &Schema) -> Option<KindId> {
    let stands = |k: &crate::program::RowKind| k.sheet.is_some() && k.parent.is_none() && !k.single;
    let first = schema.kinds.iter().position(|k| k.name == "rooms" && stands(k));
    let index = first.or_else(|| schema.kinds.iter().position(stands))?;
    u32::try_from(index).ok().map(KindId)
}

/// A name that the file format allows and no other sheet has.
fn sheet_name(schema: &Schema, table: &InputTable, taken: &mut Vec<String>) -> String {
    let kind = schema.kind(table.kind);
    let wanted =
        if table.origin.sheet.is_empty() { kind.sheet.as_deref().unwrap_or(&kind.name) } else { &table.origin.sheet };
    let clean: String = printable(wanted).filter(|c| !"[]:*?/\\".contains(*c)).take(24).collect();
    let clean = clean.trim_matches(['\'', ' ']);
    let clean = if clean.is_empty() || clean.eq_ignore_ascii_case("history") { &kind.name } else { clean };
    let mut name = clean.to_owned();
    let mut n = 2;
    while taken.contains(&name.to_lowercase()) || name.to_lowercase().starts_with("lines") {
        name = format!("Read {clean} {n}");
        n += 1;
    }
    taken.push(name.to_lowercase());
    name
}

/// A sheet name as formulas write it.
#[must_use]
pub fn quoted(name: &str) -> String {
    // A short name may read as a column or as a cell.
    let plain = name.len() > 3 && name.chars().all(|c| c.is_ascii_alphabetic());
    if plain { name.to_owned() } else { format!("'{}'", name.replace('\'', "''")) }
}

fn narrow(column: usize) -> u16 {
    u16::try_from(column).unwrap_or(u16::MAX)
}
