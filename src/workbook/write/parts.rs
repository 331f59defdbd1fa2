//! Parts: the build-up of each part of the bid and of the bid with each alternate, side by side and live.

use super::build_up::{BuildUp, Cells, template};
use super::layout::{Layout, LineColumn};
use super::lines::{ALTERNATE_LABOR, ALTERNATE_MATERIAL, kind_word};
use super::page::{Table, headings, set_up, width};
use super::shown::shown;
use super::styles::{MONEY, QUANTITY};
use super::values::write_live;
use super::{Book, Document, Limits, edge, text_of};
use crate::pricing::{Figures, JobFigure};
use crate::program::{LineKind, Value};
use crate::quantity::{Dimension, Number};
use crate::source::column_letters;
use crate::workbook::live::names_in;
use rust_xlsxwriter::{Format, Worksheet, XlsxError};

/// Name of the sheet.
pub const PARTS: &str = "Parts";

const HOURS: u32 = 1;
const MATERIAL: u32 = 2;
const LABOR: u32 = 3;
const FIRST_FIGURE: u32 = 4;

/// Whether a workbook has the sheet: a whole bid with parts or alternates.
#[must_use]
pub fn there(doc: &Document<'_>) -> bool {
    let priced = doc.priced;
    priced.has_prices && priced.total.is_some() && !(priced.parts.is_empty() && priced.alternates.is_empty())
}

/// A column of the sheet.
#[derive(Clone, Copy)]
enum Of {
    /// The bid as it stands on Bid.
    Bid,
    /// A part.
    Part(usize),
    /// The bid without any lines.
    Nothing,
    /// The bid with an alternate.
    Alternate(usize),
}

/// Where things stand on the sheet.
pub struct Places<'a> {
    columns: Vec<Of>,
    /// Figures with a row of their own, with their places in the job.
    figures: Vec<(usize, &'a JobFigure)>,
}

impl<'a> Places<'a> {
    /// Settles them.
    #[must_use]
    pub fn new(doc: &Document<'a>) -> Self {
        let priced = doc.priced;
        let mut columns = vec![Of::Bid];
        columns.extend((0..priced.parts.len()).map(Of::Part));
        if !priced.parts.is_empty() {
            columns.push(Of::Nothing);
        }
        columns.extend((0..priced.alternates.len()).map(Of::Alternate));
        let plan = BuildUp::new(doc);
        let figures = priced.job.iter().enumerate().filter(|(_, f)| {
            let field = doc.schema.field(f.field);
            let told = matches!(f.value, Ok(Value::Number(_))) && field.input.is_none() && f.name != "total";
            let kinds = [Dimension::MONEY, Dimension::TIME, Dimension::NONE];
            let sums = plan.sums.iter().any(|(name, _)| *name == f.name);
            told && !sums
                && !plan.nothing.contains(&f.name.as_str())
                && field.ty.dimension().is_some_and(|d| kinds.contains(&d))
        });
        Self { columns, figures: figures.collect() }
    }

    fn total(&self) -> u32 {
        FIRST_FIGURE + u32::try_from(self.figures.len()).unwrap_or(0)
    }

    fn weight(&self) -> u32 {
        self.total() + 1
    }

    /// Row of the prices.
    fn price(&self) -> u32 {
        self.total() + 2
    }

    fn column(&self, wanted: impl Fn(&Of) -> bool) -> Option<u16> {
        self.columns.iter().position(wanted).and_then(|at| u16::try_from(at + 1).ok())
    }

    /// The cell of a part's price, as other sheets write it.
    #[must_use]
    pub fn price_of_part(&self, part: usize) -> Option<String> {
        let column = self.column(|of| matches!(of, Of::Part(i) if *i == part))?;
        Some(format!("{PARTS}!{}{}", column_letters(column), self.price() + 1))
    }

    /// The cell of an alternate's price.
    #[must_use]
    pub fn price_of_alternate(&self, alternate: usize) -> Option<String> {
        let column = self.column(|of| matches!(of, Of::Alternate(i) if *i == alternate))?;
        Some(format!("{PARTS}!{}{}", column_letters(column), self.price() + 1))
    }
}

/// Writes Parts.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let places = Places::new(&doc);
    book.sheet(PARTS, 0)?;
    let Book { layout, styles, workbook, bid_cells, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let names: Vec<String> = places.columns.iter().map(|of| heading(&doc, *of)).collect();
    let first = std::iter::once(("", 30, &styles.heading));
    let heads = names.iter().map(|name| (name.as_str(), width(name, 13), &styles.heading_right));
    headings(sheet, 0, first.chain(heads))?;
    let columns = u16::try_from(places.columns.len() + 1).unwrap_or(u16::MAX);
    let rows = places.price();
    set_up(sheet, &doc, styles, Table { heading: 0, rows, columns, frozen: 1, typed: &[] })?;
    let writer = Writer { doc, layout, places: &places, bid: bid_cells, money: Format::new().set_num_format(MONEY) };
    writer.labels(sheet, &Format::new().set_bold())?;
    for (at, of) in (1u16..).zip(&places.columns) {
        writer.column(sheet, at, *of)?;
    }
    let mut end = rows + 1;
    for note in notes(&doc) {
        end += 1;
        sheet.write_string_with_format(end, 0, note, &styles.quiet)?;
    }
    sheet.set_print_area(0, 0, end, columns - 1)?;
    Ok(())
}

/// How prices come about, in words.
fn notes(doc: &Document<'_>) -> Vec<&'static str> {
    let mut out = Vec::new();
    if !doc.priced.parts.is_empty() {
        out.push("Each part is worked out by itself. The total is shared out by what each adds to a bid without lines; running");
        out.push("sums are rounded to the cent, so that the prices of the parts add up to the total.");
    }
    if !doc.priced.alternates.is_empty() {
        out.push("An alternate's price is what the total of the bid changes by when it is taken, with its mark-ups.");
    }
    out
}

fn heading(doc: &Document<'_>, of: Of) -> String {
    match of {
        Of::Bid => "The bid".to_owned(),
        Of::Part(i) => doc.priced.parts[i].name.to_string(),
        Of::Nothing => "Without lines".to_owned(),
        Of::Alternate(i) => doc.priced.alternates[i].name.to_string(),
    }
}

struct Writer<'a, 'w> {
    doc: Document<'a>,
    layout: &'w Layout,
    places: &'w Places<'a>,
    bid: &'w Cells,
    money: Format,
}

impl Writer<'_, '_> {
    fn labels(&self, sheet: &mut Worksheet, bold: &Format) -> Result<(), XlsxError> {
        sheet.write_string(HOURS, 0, "Hours")?;
        sheet.write_string(MATERIAL, 0, "Material")?;
        sheet.write_string(LABOR, 0, "Labor")?;
        for (row, (_, figure)) in (FIRST_FIGURE..).zip(&self.places.figures) {
            sheet.write_string(row, 0, text_of(&figure.label))?;
        }
        sheet.write_string(self.places.total(), 0, "Total, worked out alone")?;
        sheet.write_string(self.places.weight(), 0, "Shared out by")?;
        sheet.write_string_with_format(self.places.price(), 0, "Price", bold)?;
        Ok(())
    }

    fn figures(&self, of: Of) -> Option<&Figures> {
        match of {
            Of::Bid => None,
            Of::Part(i) => self.doc.priced.parts.get(i).map(|p| &p.figures),
            Of::Nothing => self.doc.priced.without_lines.as_ref(),
            Of::Alternate(i) => self.doc.priced.alternates.get(i).map(|a| &a.figures),
        }
    }

    fn column(&self, sheet: &mut Worksheet, at: u16, of: Of) -> Result<(), XlsxError> {
        let Some(figures) = self.figures(of) else { return self.bid_column(sheet, at) };
        let hours = Format::new().set_num_format(QUANTITY);
        let sums = [
            (HOURS, LineColumn::Hours, LineKind::Labor, edge::number(&figures.hours), &hours),
            (MATERIAL, LineColumn::Cost, LineKind::Material, edge::cents(figures.material), &self.money),
            (LABOR, LineColumn::Cost, LineKind::Labor, edge::cents(figures.labor), &self.money),
        ];
        for (row, column, kind, value, format) in sums {
            put(sheet, &self.doc.limits, (row, at), &self.sum(of, at, row, column, kind), value, format)?;
        }
        for (row, (place, figure)) in (FIRST_FIGURE..).zip(&self.places.figures) {
            let Some(value) = figures.job.get(*place).copied().flatten() else { continue };
            self.figure(sheet, row, at, figure, &value)?;
        }
        let total = self.places.total();
        let value = edge::cents(figures.total);
        match self.template(at, "total") {
            Some(formula) => put(sheet, &self.doc.limits, (total, at), &formula, value, &self.money)?,
            None => {
                sheet.write_number_with_format(total, at, value, &self.money)?;
            }
        }
        self.prices(sheet, at, of, figures)
    }

    /// The bid's own figures, from Bid.
    fn bid_column(&self, sheet: &mut Worksheet, at: u16) -> Result<(), XlsxError> {
        let priced = self.doc.priced;
        let hours = Format::new().set_num_format(QUANTITY);
        let from_bid = |name: &str| self.bid.at.get(name).filter(|c| *c != "0").map(|cell| format!("Bid!{cell}"));
        let sums = [
            (HOURS, "lines hours", priced.hours.as_ref().map_or(0.0, edge::number), &hours),
            (MATERIAL, "lines material", edge::cents(priced.material), &self.money),
            (LABOR, "lines labor", edge::cents(priced.labor), &self.money),
            (self.places.total(), "total", edge::cents(priced.total.unwrap_or(0)), &self.money),
            (self.places.price(), "total", edge::cents(priced.total.unwrap_or(0)), &self.money),
        ];
        for (row, name, value, format) in sums {
            if let Some(formula) = from_bid(name) {
                put(sheet, &self.doc.limits, (row, at), &formula, value, format)?;
            }
        }
        for (row, (_, figure)) in (FIRST_FIGURE..).zip(&self.places.figures) {
            let Ok(Value::Number(value)) = &figure.value else { continue };
            match from_bid(&figure.name) {
                Some(formula) => self.shown(sheet, row, at, figure, value, Some(&formula))?,
                None => self.shown(sheet, row, at, figure, value, None)?,
            }
        }
        Ok(())
    }

    /// The live sum of a kind of lines for a column.
    fn sum(&self, of: Of, at: u16, row: u32, column: LineColumn, kind: LineKind) -> String {
        let (lines, letters) = (&self.layout.lines, column_letters(at));
        let word = kind_word(kind);
        let where_is = |of: LineColumn, test: String, word: &str| {
            lines.over_sheets(|s| {
                let (which, kinds, values) =
                    (lines.range(s, of), lines.range(s, LineColumn::Kind), lines.range(s, column));
                format!("SUMPRODUCT(--({which}={test}),--({kinds}=\"{word}\"),{values})")
            })
        };
        match of {
            Of::Bid | Of::Nothing => "0".to_owned(),
            Of::Part(_) => where_is(LineColumn::With, format!("{letters}$1"), word),
            Of::Alternate(_) => {
                let apart = if kind == LineKind::Material { ALTERNATE_MATERIAL } else { ALTERNATE_LABOR };
                let add = where_is(LineColumn::Alternate, format!("\"add \"&{letters}$1"), apart);
                let deduct = where_is(LineColumn::Alternate, format!("\"deduct \"&{letters}$1"), word);
                format!("$B{}+{add}-({deduct})", row + 1)
            }
        }
    }

    /// A figure's live formula with the cells of a column, where each of its names has one.
    fn template(&self, at: u16, name: &str) -> Option<String> {
        let text = template(&self.doc, name)?;
        let mut out = text.to_owned();
        for name in names_in(text) {
            out = out.replace(&format!("{{{name}}}"), &self.cell(at, name)?);
        }
        Some(out)
    }

    /// Where a name stands for a column: in it, or on Bid where it is the same for all.
    fn cell(&self, at: u16, name: &str) -> Option<String> {
        let letters = column_letters(at);
        let plan = BuildUp::new(&self.doc);
        let sum = plan.sums.iter().find(|(n, _)| *n == name).map_or(name, |(_, sum)| sum);
        let row = match sum.strip_prefix("lines ").unwrap_or(sum) {
            "material" => Some(MATERIAL),
            "labor" => Some(LABOR),
            "hours" => Some(HOURS),
            _ => (FIRST_FIGURE..).zip(&self.places.figures).find(|(_, (_, f))| f.name == name).map(|(row, _)| row),
        };
        match row {
            Some(row) => Some(format!("{letters}{}", row + 1)),
            None => match self.bid.at.get(name)?.as_str() {
                "0" => Some("0".to_owned()),
                cell if cell.contains('!') => Some(cell.to_owned()),
                cell => Some(format!("Bid!{cell}")),
            },
        }
    }

    fn figure(
        &self,
        sheet: &mut Worksheet,
        row: u32,
        at: u16,
        figure: &JobFigure,
        value: &Number,
    ) -> Result<(), XlsxError> {
        let live = self.template(at, &figure.name);
        self.shown(sheet, row, at, figure, value, live.as_deref())
    }

    fn shown(
        &self,
        sheet: &mut Worksheet,
        row: u32,
        at: u16,
        figure: &JobFigure,
        value: &Number,
        live: Option<&str>,
    ) -> Result<(), XlsxError> {
        let how = shown(self.doc.schema.field(figure.field), None);
        let format = Format::new().set_num_format(&how.format);
        let Ok(value) = value.scaled(how.factor.recip()) else { return Ok(()) };
        let value = edge::number(&value);
        match live {
            Some(formula) => put(sheet, &self.doc.limits, (row, at), formula, value, &format),
            None => sheet.write_number_with_format(row, at, value, &format).map(|_| ()),
        }
    }

    /// What a part is shared out by and its price; what an alternate changes the total by.
    fn prices(&self, sheet: &mut Worksheet, at: u16, of: Of, figures: &Figures) -> Result<(), XlsxError> {
        let places = self.places;
        let (total, weight, price) = (places.total() + 1, places.weight() + 1, places.price() + 1);
        let here = column_letters(at);
        let bold = Format::new().set_num_format(MONEY).set_bold();
        match of {
            Of::Bid | Of::Nothing => Ok(()),
            Of::Alternate(i) => {
                let value = self.doc.priced.alternates.get(i).map_or(0.0, |a| edge::cents(a.price));
                put(
                    sheet,
                    &self.doc.limits,
                    (places.price(), at),
                    &format!("ROUND({here}{total}-$B{total},2)"),
                    value,
                    &bold,
                )
            }
            Of::Part(i) => {
                let nothing = places.column(|of| matches!(of, Of::Nothing)).map_or_else(String::new, column_letters);
                let without = self.doc.priced.without_lines.as_ref().map_or(0, |f| f.total);
                let own = edge::cents(figures.total.saturating_sub(without));
                put(
                    sheet,
                    &self.doc.limits,
                    (places.weight(), at),
                    &format!("ROUND({here}{total}-{nothing}{total},2)"),
                    own,
                    &self.money,
                )?;
                let parts = self.doc.priced.parts.len();
                let first = column_letters(2);
                let last = column_letters(u16::try_from(parts + 1).unwrap_or(u16::MAX));
                let before = match i {
                    0 => String::new(),
                    _ => format!("-SUM(${first}{price}:{}{price})", column_letters(at - 1)),
                };
                let whole = format!("SUM(${first}{weight}:${last}{weight})");
                let so_far = format!("SUM(${first}{weight}:{here}{weight})");
                let formula = if i + 1 == parts {
                    format!("ROUND($B{total}{before},2)")
                } else {
                    format!("ROUND(IF({whole}=0,0,ROUND(ROUND($B{total}*{so_far}/{whole},8),2)){before},2)")
                };
                let value = self.doc.priced.parts.get(i).map_or(0.0, |p| edge::cents(p.price));
                put(sheet, &self.doc.limits, (places.price(), at), &formula, value, &bold)
            }
        }
    }
}

fn put(
    sheet: &mut Worksheet,
    limits: &Limits,
    (row, at): (u32, u16),
    formula: &str,
    value: f64,
    format: &Format,
) -> Result<(), XlsxError> {
    let text = edge::text(value);
    write_live(sheet, limits, (row, at), (formula, &text), Some(format))
}
