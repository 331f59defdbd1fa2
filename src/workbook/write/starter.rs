//! What somebody begins with: a rooms workbook that asks for all that the rules read, with an example, and a price book with
//! the codes that the rules use and no prices.

use super::asked::{asked, heading_note, list};
use super::page::{LETTER, headings, lines, pages, width};
use super::styles::{RATE, RATE_PERCENT, Styles, column as column_format};
use super::{made_on, text_of};
use crate::engine::examples::value_text;
use crate::problem::Problem;
use crate::program::schema::Flavor;
use crate::program::{FieldId, KindId, LineKind, Program, Type, Value};
use crate::quantity::Date;
use rust_xlsxwriter::{DocProperties, Format, Workbook, Worksheet, XlsxError};

/// Row of the headings, from 0; a line of help stands above them.
const HEADING: u32 = 1;
/// Rows below the headings that have lists to choose from.
const ROWS: u32 = 500;
/// Name of the sheet that explains all columns.
const COLUMNS: &str = "Columns";
/// Widths of that sheet's columns.
const WIDTHS: [u32; 4] = [14, 24, 70, 28];

/// A row of values for a kind.
pub type Row = (KindId, Vec<(FieldId, Value)>);

/// A code that the rules use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// The code.
    pub code: String,
    /// What is bought or done, by the rules.
    pub label: String,
    /// Bought or done.
    pub kind: LineKind,
    /// Unit of the need.
    pub unit: String,
}

/// The rooms workbook. `rows` are the example's, a parent before what belongs to it.
///
/// # Errors
/// What the file format refuses.
pub fn rooms(program: &Program, rows: &[Row], day: Date) -> Result<Vec<u8>, Problem> {
    written(day, |workbook, styles| {
        let schema = &program.schema;
        let read = schema.kind_ids().filter_map(|id| Some((id, schema.kind(id).sheet.as_deref()?)));
        let (job, tables): (Vec<_>, Vec<_>) = read.partition(|(id, _)| schema.kind(*id).single);
        for (id, name) in &tables {
            table(workbook.add_worksheet().set_name(*name)?, styles, program, *id, rows)?;
        }
        for (id, name) in &job {
            let texts = |f: &FieldId| schema.field(*f).ty == Type::Text;
            settings(workbook.add_worksheet().set_name(*name)?, styles, program, *id, texts)?;
        }
        let kinds: Vec<(KindId, &str)> = tables.into_iter().chain(job).collect();
        explained(workbook.add_worksheet().set_name(COLUMNS)?, styles, program, &kinds)
    })
}

/// The price book, with a row for each code.
///
/// # Errors
/// What the file format refuses.
pub fn prices(program: &Program, codes: &[Code], day: Date) -> Result<Vec<u8>, Problem> {
    written(day, |workbook, styles| {
        let bought: Vec<&Code> = codes.iter().filter(|c| c.kind == LineKind::Material).collect();
        let done: Vec<&Code> = codes.iter().filter(|c| c.kind == LineKind::Labor).collect();
        let prices = workbook.add_worksheet().set_name("Prices")?;
        let help = "What one unit of sale costs you. Sold by: ea, lf, sf, C, M, CLF, MLF, MSF, or a pack such as carton, with what it holds \
                    under Pack. Delete the rows of what you never buy.";
        let heads = [
            "Code",
            "Item",
            "Sold by",
            "Pack",
            "Stock length",
            "Cost",
            "From",
            "Through",
            "Supplier",
            "Weight",
            "Group",
        ];
        listed(prices, styles, help, &heads)?;
        prices.set_column_format(5, &column_format(RATE))?;
        for (row, code) in (HEADING + 1..).zip(&bought) {
            prices.write_string(row, 0, text_of(&code.code))?;
            prices.write_string(row, 1, text_of(&code.label))?;
            prices.write_string(row, 2, text_of(&code.unit))?;
        }
        let labor = workbook.add_worksheet().set_name("Labor")?;
        let help = "Hours of one worker for one unit of work.";
        listed(labor, styles, help, &["Code", "Work", "Hours per unit", "Unit", "Crew", "Height from", "Difficulty"])?;
        for (row, code) in (HEADING + 1..).zip(&done) {
            labor.write_string(row, 0, text_of(&code.code))?;
            labor.write_string(row, 1, text_of(&code.label))?;
            labor.write_string(row, 3, text_of(&code.unit))?;
            labor.write_string(row, 4, "Framers")?;
        }
        let crews = workbook.add_worksheet().set_name("Crews")?;
        let help = "Dollars an hour for one worker, and what comes on top of the wage.";
        listed(crews, styles, help, &["Crew", "Wage", "Burden", "Hours a week"])?;
        crews.set_column_format(1, &column_format(RATE))?.set_column_format(2, &column_format(RATE_PERCENT))?;
        crews.write_string(HEADING + 1, 0, "Framers")?;
        let job = |id: &KindId| {
            let kind = program.schema.kind(*id);
            kind.single && kind.sheet.is_some()
        };
        if let Some(id) = program.schema.kind_ids().find(job) {
            let figures = |f: &FieldId| program.schema.field(*f).ty != Type::Text;
            settings(workbook.add_worksheet().set_name("Job")?, styles, program, id, figures)?;
        }
        Ok(())
    })
}

fn written(
    day: Date,
    sheets: impl FnOnce(&mut Workbook, &Styles) -> Result<(), XlsxError>,
) -> Result<Vec<u8>, Problem> {
    let mut workbook = Workbook::new();
    let fail = |e: XlsxError| Problem::stop("workbook not written", format!("The workbook cannot be written: {e}."));
    let styles = Styles::new();
    sheets(&mut workbook, &styles).map_err(fail)?;
    for sheet in workbook.worksheets_mut() {
        // the file's name, the sheet's, and the page's number
        sheet.set_header("&L&9&F&R&9&A").set_footer("&C&9Page &P of &N");
        sheet.set_paper_size(LETTER);
    }
    let made = made_on(day).map_err(fail)?;
    workbook.set_properties(&DocProperties::new().set_creation_datetime(&made));
    workbook.save_to_buffer().map_err(fail)
}

/// A sheet that asks for the rows of a kind.
fn table(sheet: &mut Worksheet, styles: &Styles, program: &Program, id: KindId, rows: &[Row]) -> Result<(), XlsxError> {
    let schema = &program.schema;
    let kind = schema.kind(id);
    let fields: Vec<FieldId> = kind.fields.iter().copied().filter(|f| schema.field(*f).input.is_some()).collect();
    let parent = kind.parent.as_ref();
    let mut heads: Vec<(String, Option<FieldId>)> = Vec::new();
    heads.extend(parent.and_then(|p| p.headings.first()).map(|h| (h.clone(), None)));
    heads.extend(fields.iter().map(|f| (heading(program, *f), Some(*f))));
    let what = match parent {
        Some(_) => "One row for each, with the room that it belongs to. Leave the sheet empty where there are none.",
        None if rows.iter().any(|(k, _)| *k == id) => {
            "One row for each. Hold the pointer over a heading to see what it asks for, or see the sheet Columns. \
             The first row is an example: type over it."
        }
        None => "One row for each. Leave the sheet empty where there are none.",
    };
    sheet.write_string_with_format(0, 0, what, &styles.quiet)?;
    let widths: Vec<u32> = heads.iter().map(|(h, _)| width(h, 9)).collect();
    let shown = heads.iter().zip(&widths).map(|((h, _), width)| (h.as_str(), *width, &styles.typed_heading));
    headings(sheet, HEADING, shown)?;
    let text = column_format("General");
    for (at, (_, field)) in (0u16..).zip(&heads) {
        let Some(id) = *field else { continue };
        sheet.set_column_format(at, &text)?;
        sheet.insert_note(HEADING, at, &heading_note(&asked(schema, id)))?;
        if let Some(list) = list(schema, id)? {
            sheet.add_data_validation(HEADING + 1, at, HEADING + ROWS, at, &list)?;
        }
    }
    let key_of = |kind: KindId| {
        let key = schema.kind(kind).key?;
        let (_, values) = rows.iter().find(|(k, _)| *k == kind)?;
        values.iter().find(|(f, _)| *f == key).map(|(_, v)| v)
    };
    for (row, (_, values)) in (HEADING + 1..).zip(rows.iter().filter(|(k, _)| *k == id)) {
        for (at, (_, field)) in (0u16..).zip(&heads) {
            let value = match field {
                None => parent.and_then(|p| key_of(p.kind)).map(|v| (v, Type::Text)),
                Some(f) => values.iter().find(|(id, _)| id == f).map(|(_, v)| (v, schema.field(*f).ty)),
            };
            if let Some((value, ty)) = value {
                let style = field.map(|f| schema.field(f).style.clone()).unwrap_or_default();
                sheet.write_string(row, at, text_of(&value_text(value, ty, &style)))?;
            }
        }
    }
    sheet.set_freeze_panes(HEADING + 1, u16::from(!heads.is_empty()))?;
    sheet.set_landscape();
    sheet.set_repeat_rows(HEADING, HEADING)?;
    pages(sheet, &widths, u16::from(!heads.is_empty()), 0)
}

/// Best heading of a column that is read.
fn heading(program: &Program, id: FieldId) -> String {
    let field = program.schema.field(id);
    let named = field.input.as_ref().and_then(|i| i.headings.first());
    named.unwrap_or(&field.label).clone()
}

/// A list of names with room for a value beside each. A name's note says what it asks for: a third column would be read.
fn settings(
    sheet: &mut Worksheet,
    styles: &Styles,
    program: &Program,
    id: KindId,
    wanted: impl Fn(&FieldId) -> bool,
) -> Result<(), XlsxError> {
    let schema = &program.schema;
    for (at, width) in [(0u16, 34u32), (1, 40)] {
        sheet.set_column_width(at, width)?;
    }
    let typed = styles.typed.clone();
    let fields = schema.kind(id).fields.iter().filter(|f| schema.field(**f).input.is_some()).filter(|f| wanted(f));
    for (row, id) in (0u32..).zip(fields) {
        let field = schema.field(*id);
        sheet.write_string(row, 0, text_of(&heading(program, *id)))?;
        let percent = matches!(field.ty, Type::Number { flavor: Flavor::Percent, .. });
        let format: Format = if percent { typed.clone().set_num_format(RATE_PERCENT) } else { typed.clone() };
        sheet.write_blank(row, 1, &format)?;
        sheet.insert_note(row, 0, &heading_note(&asked(schema, *id)))?;
        if let Some(list) = list(schema, *id)? {
            sheet.add_data_validation(row, 1, row, 1, &list)?;
        }
    }
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// A sheet with a line of help above its headings.
fn listed(sheet: &mut Worksheet, styles: &Styles, help: &str, heads: &[&str]) -> Result<(), XlsxError> {
    sheet.write_string_with_format(0, 0, help, &styles.quiet)?;
    let wide = |h: &str| if matches!(h, "Item" | "Work") { 40 } else { width(h, 9) };
    headings(sheet, HEADING, heads.iter().map(|h| (*h, wide(h), &styles.typed_heading)))?;
    sheet.set_freeze_panes(HEADING + 1, 0)?;
    sheet.set_repeat_rows(HEADING, HEADING)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// All columns in a line each.
fn explained(
    sheet: &mut Worksheet,
    styles: &Styles,
    program: &Program,
    kinds: &[(KindId, &str)],
) -> Result<(), XlsxError> {
    let heads = ["Sheet", "Column", "What it asks for", "Also read as"];
    headings(sheet, 0, heads.iter().zip(WIDTHS).map(|(h, w)| (*h, w, &styles.heading)))?;
    let schema = &program.schema;
    let mut row = 1;
    for (kind, name) in kinds {
        for id in schema.kind(*kind).fields.iter().filter(|f| schema.field(**f).input.is_some()) {
            let asked = asked(schema, *id);
            let best = heading(program, *id);
            let mut others: Vec<&str> = Vec::new();
            for other in schema.field(*id).input.iter().flat_map(|i| &i.headings) {
                if !std::iter::once(best.as_str()).chain(others.iter().copied()).any(|h| h.eq_ignore_ascii_case(other))
                {
                    others.push(other);
                }
            }
            let cells = [*name, &best, &asked, &others.join(", ")];
            for (at, cell) in (0u16..).zip(cells) {
                sheet.write_string_with_format(row, at, text_of(cell), &styles.wrapped)?;
            }
            sheet.set_row_height(row, 15 * lines(&asked, WIDTHS[2]).max(lines(&others.join(", "), WIDTHS[3])) + 3)?;
            row += 1;
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.set_repeat_rows(0, 0)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}
