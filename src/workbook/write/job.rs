//! Job: the settings that rules work with, each in a cell to type in, with what it counts as. Live cells of rows look at
//! what counts; a rate that stands on the Bid is typed there.

use super::as_read::{CHANGED, unless};
use super::asked::{asked_in, heading_note, list};
use super::page::{Table, headings, lines, set_up, width};
use super::shown::{Shown, shown};
use super::values::{write_live, write_live_text};
use super::{Book, Document, edge, link_text, text_of};
use crate::engine::{InputTable, RawCell};
use crate::program::{FieldId, Type, Value};
use crate::quantity::Number;
use crate::workbook::live::{in_letters, quoted};
use rust_xlsxwriter::{Format, FormatAlign, Url, Worksheet, XlsxError};

/// Name of the sheet.
pub const JOB: &str = "Job";

/// Sheet row of the first setting, from 0.
const FIRST: u32 = 1;

/// Headings, and what their notes say.
const COLUMNS: [(&str, &str); 8] = [
    ("Setting", "What the rooms workbook or the price book calls it on its sheet Job."),
    ("Yours to type in", "What was given. Blank stands for what the last column says."),
    ("Unit", "The unit of a number that is typed."),
    ("Counts as", "What live cells work with."),
    ("When priced", "What was given when the job was priced."),
    (
        "Since pricing",
        "Blank while the setting is as it was. What is built, cut and checked stays as it was priced until then.",
    ),
    ("Given in", "The cell that gave it."),
    ("What it asks for", "What it takes, within which limits, and what a blank stands for."),
];
/// Columns that other places name.
const TYPED: char = 'B';
const COUNTS: char = 'D';
const BEFORE: char = 'E';
const SINCE: char = 'F';
/// Width of the last column, in characters.
const ASKED_WIDTH: u32 = 60;

/// The settings, each with its row, from 0.
pub fn settings<'a>(doc: &Document<'a>) -> impl Iterator<Item = (FieldId, u32)> + use<'a> {
    doc.schema.settings().zip(FIRST..)
}

/// The cell of what a setting counts as, by its row, as formulas on any sheet name it.
pub fn address(row: u32) -> String {
    format!("{JOB}!${COUNTS}${}", row + 1)
}

/// Whether a workbook has the sheet.
pub fn there(doc: &Document<'_>) -> bool {
    settings(doc).next().is_some()
}

/// How many settings were changed since pricing, as a formula; nothing where that is not watched.
pub fn changed(doc: &Document<'_>) -> Option<String> {
    let last = settings(doc).last().filter(|_| doc.limits.watched_rows > 0)?.1;
    Some(format!("COUNTIF({JOB}!${SINCE}${}:${SINCE}${},\"{CHANGED}\")", FIRST + 1, last + 1))
}

/// Writes Job.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    book.sheet(JOB, 0)?;
    let Book { styles, workbook, bid_cells, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let all: Vec<(Setting<'_>, u32)> = settings(&doc).map(|(id, row)| (Setting::new(&doc, id), row)).collect();
    let widest = |text: &dyn Fn(&Setting<'_>) -> usize| all.iter().map(|(s, _)| text(s)).max().unwrap_or(0);
    let bodies = [
        widest(&|s| s.label().chars().count()),
        widest(&|s| s.typed_width()),
        widest(&|s| s.shown.unit.chars().count()),
        widest(&|s| s.typed_width()),
        widest(&|s| s.typed_width()),
        CHANGED.len(),
        widest(&|s| s.given_in().chars().count()),
        ASKED_WIDTH as usize,
    ];
    let heads = COLUMNS.iter().zip(bodies).enumerate().map(|(at, ((heading, _), body))| {
        let style = if at == 1 { &styles.typed_heading } else { &styles.heading };
        let width = if at == COLUMNS.len() - 1 { ASKED_WIDTH } else { width(heading, body) };
        (*heading, width, style)
    });
    headings(sheet, 0, heads)?;
    for (at, (_, note)) in (0u16..).zip(&COLUMNS) {
        sheet.insert_note(0, at, &heading_note(note))?;
    }
    let rows = u32::try_from(all.len()).unwrap_or(u32::MAX);
    let columns = u16::try_from(COLUMNS.len()).unwrap_or(u16::MAX);
    set_up(sheet, &doc, styles, Table { heading: 0, rows, columns, frozen: 1, typed: &[1] })?;
    for (setting, row) in &all {
        let on_bid = bid_cells.at.get(&setting.field().name).filter(|cell| !cell.contains(JOB));
        let mut row = Row { sheet, doc: &doc, setting, row: *row };
        row.words(&styles.wrapped)?;
        match on_bid {
            Some(cell) => row.on_bid(cell, &styles.link)?,
            None => row.open_cell(&styles.typed, &styles.changed)?,
        }
    }
    Ok(())
}

/// A setting: what was given, and what it came to.
struct Setting<'a> {
    doc: Document<'a>,
    id: FieldId,
    /// The table that it was read into, and its place among those that are read.
    from: Option<(&'a InputTable, usize)>,
    raw: RawCell,
    value: Option<Value>,
    shown: Shown,
}

impl<'a> Setting<'a> {
    fn new(doc: &Document<'a>, id: FieldId) -> Self {
        let field = doc.schema.field(id);
        let inputs = || super::filled::inputs_of(doc.schema, field.kind);
        let table = doc.inputs.tables.iter().find(|t| t.kind == field.kind);
        let from = table.zip(inputs().position(|f| f == id));
        let raw = from.and_then(|(table, at)| {
            let column = table.origin.columns.iter().find(|c| c.field == Some(at))?;
            column.cells.first().copied()
        });
        let worked = doc.run.columns.get(id.0 as usize).is_some_and(Option::is_some);
        let value = match field.ty {
            _ if !worked => None,
            Type::Number { .. } => doc.run.number(doc.schema, id, 0).ok().map(Value::Number),
            Type::Text => doc.run.text(id, 0).ok().map(|t| Value::Text(t.clone())),
            Type::YesNo => doc.run.yes_no(id, 0).ok().map(Value::YesNo),
            Type::Date | Type::Thing(_) => None,
        };
        Self { doc: *doc, id, from, raw: raw.unwrap_or(RawCell::Empty), value, shown: shown(field, None) }
    }

    fn field(&self) -> &'a crate::program::Field {
        self.doc.schema.field(self.id)
    }

    fn label(&self) -> &'a str {
        let field = self.field();
        field.input.as_ref().and_then(|i| i.headings.first()).unwrap_or(&field.label)
    }

    fn is_number(&self) -> bool {
        matches!(self.field().ty, Type::Number { .. })
    }

    /// The text that was given, where it is one and no plain number.
    fn text(&self) -> Option<&'a str> {
        let RawCell::Text(id) = self.raw else { return None };
        let text: &'a str = self.doc.inputs.texts.get(id);
        let plain = self.is_number() && text.trim().parse::<f64>().is_ok_and(f64::is_finite);
        (!plain).then_some(text)
    }

    /// A number in the unit that it is shown in.
    fn float(&self, value: &Value) -> Option<f64> {
        let Value::Number(number) = value else { return None };
        let unit = Number::of_ratio(self.shown.factor).ok()?;
        Some(edge::number(&number.over(&unit).ok()?))
    }

    fn typed_width(&self) -> usize {
        let value = match &self.value {
            Some(Value::Text(text)) => text.chars().count(),
            _ => 10,
        };
        self.text().map_or(0, |t| t.chars().count()).max(value)
    }

    /// The cell that gave it, in words; blank where none did.
    fn given_in(&self) -> String {
        let Some((table, at)) = self.from.filter(|_| self.raw != RawCell::Empty) else { return String::new() };
        table.origin.cell(0, Some(at)).to_string()
    }

    /// A value as a formula writes it; nothing for a text that none can hold.
    fn written(&self, value: Option<&Value>) -> Option<String> {
        match value {
            None => Some("\"\"".to_owned()),
            Some(Value::Text(text)) => quoted(text),
            Some(Value::YesNo(v)) => Some(if *v { "\"yes\"" } else { "\"no\"" }.to_owned()),
            Some(value) => Some(edge::text(self.float(value)?)),
        }
    }

    /// What a blank stands for, as a formula writes it.
    fn blank(&self) -> Option<String> {
        if self.raw == RawCell::Empty { self.written(self.value.as_ref()) } else { self.of_blank() }
    }

    /// What a blank would stand for, whatever was given.
    fn of_blank(&self) -> Option<String> {
        let input = self.field().input.as_ref()?;
        // the longest that the price book offers is not known here
        if input.stock_of.is_some() { Some("NA()".to_owned()) } else { self.written(input.default.as_ref()) }
    }

    /// The formula of what counts, in a row from 1.
    fn formula(&self, n: u32) -> Option<String> {
        let (cell, before) = (format!("{TYPED}{n}"), format!("{BEFORE}{n}"));
        let as_given =
            |else_: &str| Some(format!("IF(EXACT({cell},{before}),{},{else_})", self.written(self.value.as_ref())?));
        let typed = match (self.field().ty, self.text()) {
            (Type::YesNo, _) => format!("IF(OR({cell}=\"yes\",{cell}=TRUE),\"yes\",\"no\")"),
            (Type::Text, Some(text)) if !matches!(&self.value, Some(Value::Text(t)) if **t == *text) => {
                as_given(&cell)?
            }
            (Type::Text, _) => match in_letters(&self.field().input.as_ref()?.one_of) {
                Some(function) => format!("{function}({cell})"),
                None => cell.clone(),
            },
            (_, Some(_)) => format!("IF(ISNUMBER({cell}),{cell},{})", as_given("NA()")?),
            (_, None) => format!("IF(ISNUMBER({cell}),{cell},NA())"),
        };
        Some(format!("IF({cell}=\"\",{},{typed})", self.blank()?))
    }
}

/// A row of the sheet.
struct Row<'a, 'w> {
    sheet: &'w mut Worksheet,
    doc: &'w Document<'a>,
    setting: &'w Setting<'a>,
    row: u32,
}

impl Row<'_, '_> {
    /// What is said of the setting.
    fn words(&mut self, format: &Format) -> Result<(), XlsxError> {
        let (setting, row) = (self.setting, self.row);
        let asked = asked_in(self.doc.schema, setting.id, &setting.shown.unit);
        self.sheet.set_row_height(row, 15 * lines(&asked, ASKED_WIDTH) + 3)?;
        self.sheet.write_string_with_format(row, 0, text_of(setting.label()), format)?;
        self.sheet.write_string_with_format(row, 2, text_of(&setting.shown.unit), format)?;
        self.sheet.write_string_with_format(row, 6, text_of(&setting.given_in()), format)?;
        self.sheet.write_string_with_format(row, 7, text_of(&asked), format)?;
        Ok(())
    }

    /// The format of a value.
    fn format(&self) -> Format {
        let format = Format::new().set_align(FormatAlign::Left).set_align(FormatAlign::Top).set_indent(1);
        // 1/8 in. keeps its places
        let percent = self.setting.shown.format.contains('%');
        if percent { format.set_num_format(&self.setting.shown.format) } else { format }
    }

    /// What it counts as where it is typed on the Bid.
    fn on_bid(&mut self, cell: &str, link: &Format) -> Result<(), XlsxError> {
        let url = Url::new(format!("internal:Bid!{cell}")).set_text(link_text("on Bid"));
        self.sheet.write_url_with_format(self.row, 1, url, link)?;
        let format = self.format();
        let of_blank = self.setting.of_blank().filter(|blank| blank != "0");
        let formula = match of_blank {
            Some(blank) => format!("IF(Bid!{cell}=\"\",{blank},Bid!{cell})"),
            None => format!("Bid!{cell}"),
        };
        self.counts(&formula, &format)?;
        if let Some(value) = self.setting.value.as_ref().and_then(|v| self.setting.float(v)) {
            self.sheet.write_number_with_format(self.row, 4, value, &format)?;
        }
        Ok(())
    }

    /// A cell to type in, and whether it was changed.
    fn open_cell(&mut self, typed: &Format, changed: &Format) -> Result<(), XlsxError> {
        let (setting, row, n) = (self.setting, self.row, self.row + 1);
        let format = self.format();
        let own = format.clone().merge(typed);
        for (at, format) in [(1, &own), (4, &format)] {
            self.given(at, format)?;
        }
        if let Some(list) = list(self.doc.schema, setting.id)? {
            self.sheet.add_data_validation(row, 1, row, 1, &list)?;
        }
        match setting.formula(n) {
            Some(formula) => self.counts(&formula, &format)?,
            None => self.sheet.write_string_with_format(row, 3, "", &format).map(|_| ())?,
        }
        if self.doc.limits.watched_rows > 0 {
            let since = unless(&format!("EXACT({TYPED}{n},{BEFORE}{n})"));
            write_live(self.sheet, &self.doc.limits, (row, 5), (&since, ""), Some(changed))?;
        }
        Ok(())
    }

    /// What counts, live.
    fn counts(&mut self, formula: &str, format: &Format) -> Result<(), XlsxError> {
        let (setting, limits, at) = (self.setting, &self.doc.limits, (self.row, 3));
        match &setting.value {
            None => write_live(self.sheet, limits, at, (formula, ""), Some(format)),
            Some(Value::Text(text)) => write_live_text(self.sheet, limits, at, (formula, text_of(text)), format),
            Some(Value::YesNo(v)) => {
                write_live(self.sheet, limits, at, (formula, if *v { "yes" } else { "no" }), Some(format))
            }
            value => {
                let value = setting.written(value.as_ref()).unwrap_or_default();
                write_live(self.sheet, limits, at, (formula, &value), Some(format))
            }
        }
    }

    /// What was given, as it stands in a cell.
    fn given(&mut self, at: u16, format: &Format) -> Result<(), XlsxError> {
        let (setting, row) = (self.setting, self.row);
        let number = setting.value.as_ref().and_then(|v| setting.float(v));
        match (setting.raw, setting.text(), number) {
            (RawCell::Empty, ..) => self.sheet.write_blank(row, at, format)?,
            (_, Some(text), _) => self.sheet.write_string_with_format(row, at, text_of(text), format)?,
            (RawCell::YesNo(v), ..) => self.sheet.write_boolean_with_format(row, at, v, format)?,
            (_, _, Some(number)) => self.sheet.write_number_with_format(row, at, number, format)?,
            (RawCell::Number(n) | RawCell::Percent(n), ..) => {
                self.sheet.write_number_with_format(row, at, n, format)?
            }
            _ => self.sheet.write_blank(row, at, format)?,
        };
        Ok(())
    }
}
