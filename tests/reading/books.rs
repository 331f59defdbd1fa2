//! A schema made by hand, workbooks built in memory, and short ways to ask what was read.

use hardlid::engine::{InputTable, Inputs, Texts};
use hardlid::problem::{Problem, Weight};
use hardlid::program::{Field, FieldId, Input, KindId, Parent, RowKind, Schema, SiteId, Type, Value};
use hardlid::quantity::show::Style;
use hardlid::quantity::{Decimal, Dimension, Number, Unit};
use hardlid::source::{Place, Span, Text};
use hardlid::workbook::open::{Book, open};
use hardlid::workbook::rows::read_rooms;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet};

pub const ROOMS: KindId = KindId(0);
pub const OPENINGS: KindId = KindId(1);
pub const JOB: KindId = KindId(2);

/// What a cell of a built sheet holds.
#[derive(Clone, Debug)]
pub enum V {
    /// A text.
    T(&'static str),
    /// A number.
    N(f64),
    /// A number in a cell with this number format.
    P(f64, &'static str),
    /// A date.
    D(u16, u8, u8),
    /// Yes or no.
    B(bool),
    /// A formula with the error that it shows.
    E(&'static str),
    /// Nothing.
    O,
}
pub use V::{B, D, E, N, O, P, T};

fn number(text: &str) -> Number {
    text.parse::<Decimal>().unwrap().into()
}

/// Adds an input field; limits and defaults are set on what comes back.
fn field<'a>(schema: &'a mut Schema, kind: KindId, name: &str, ty: Type, headings: &[&str]) -> &'a mut Input {
    let id = FieldId(u32::try_from(schema.fields.len()).unwrap());
    let unit = ty.dimension().map_or(Unit::none(), Unit::kept);
    let input = Input {
        headings: headings.iter().map(|h| (*h).to_owned()).collect(),
        may_be_blank: false,
        default: None,
        stock_of: None,
        low: None,
        high: None,
        one_of: Vec::new(),
        missing: SiteId(id.0 * 2),
        unreadable: SiteId(id.0 * 2 + 1),
    };
    schema.fields.push(Field {
        kind,
        name: name.to_owned(),
        label: headings[0].to_owned(),
        ty,
        unit,
        style: Style::default(),
        input: Some(input),
        hidden: false,
        note: None,
        source: None,
        text: Text::new("test", ""),
        span: Span::default(),
    });
    schema.kinds[kind.0 as usize].fields.push(id);
    schema.fields.last_mut().unwrap().input.as_mut().unwrap()
}

fn kind(name: &str, sheet: &str, parent: Option<Parent>, single: bool) -> RowKind {
    RowKind { name: name.to_owned(), sheet: Some(sheet.to_owned()), parent, fields: Vec::new(), key: None, single }
}

/// Rooms, their openings, and the job.
pub fn schema() -> Schema {
    let mut s = Schema::default();
    s.kinds.push(kind("rooms", "Rooms", None, false));
    let parent = Parent { kind: ROOMS, headings: vec!["Room".to_owned()] };
    s.kinds.push(kind("openings", "Openings", Some(parent), false));
    s.kinds.push(kind("job", "Job", None, true));
    let length = Type::of(Dimension::LENGTH);
    field(&mut s, ROOMS, "id", Type::Text, &["Room", "Rm", "Room no."]);
    s.kinds[0].key = Some(FieldId(0));
    field(&mut s, ROOMS, "length", length, &["Length", "L"]).low = Some((Number::ZERO, false));
    field(&mut s, ROOMS, "width", length, &["Width", "W"]).low = Some((Number::ZERO, false));
    let sdc = field(&mut s, ROOMS, "sdc", Type::Text, &["SDC", "Seismic category"]);
    sdc.one_of = ["A", "B", "C", "D", "E", "F"].map(str::to_owned).to_vec();
    sdc.default = Some(Value::Text("B".into()));
    let layers = field(&mut s, ROOMS, "layers", Type::COUNT, &["Layers"]);
    layers.default = Some(Value::Number(Number::ONE));
    (layers.low, layers.high) = (Some((Number::ONE, true)), Some((3.into(), true)));
    field(&mut s, ROOMS, "spaced", length, &["Spacing wanted"]).may_be_blank = true;
    field(&mut s, ROOMS, "hang", length, &["Drop"]).default = Some(Value::Number(number("457.2")));
    field(&mut s, ROOMS, "load", Type::of(Dimension::of(-2, 1, 0, 0)), &["Load"]).may_be_blank = true;
    field(&mut s, ROOMS, "rated", Type::YesNo, &["Rated"]).default = Some(Value::YesNo(false));
    field(&mut s, ROOMS, "due", Type::Date, &["Due"]).may_be_blank = true;
    field(&mut s, ROOMS, "waste", Type::PERCENT, &["Waste"]).may_be_blank = true;
    field(&mut s, OPENINGS, "long", length, &["Long"]).low = Some((Number::ZERO, false));
    field(&mut s, OPENINGS, "many", Type::COUNT, &["Many"]).default = Some(Value::Number(Number::ONE));
    field(&mut s, JOB, "title", Type::Text, &["Job"]).may_be_blank = true;
    field(&mut s, JOB, "overhead", Type::PERCENT, &["Overhead"]).default = Some(Value::Number(number("0.1")));
    field(&mut s, JOB, "height", length, &["Deck height"]).may_be_blank = true;
    s
}

fn put(sheet: &mut Worksheet, row: u32, column: u16, value: &V) {
    match value {
        T(text) => sheet.write_string(row, column, *text).unwrap(),
        N(n) => sheet.write_number(row, column, *n).unwrap(),
        P(n, format) => {
            sheet.write_number_with_format(row, column, *n, &Format::new().set_num_format(*format)).unwrap()
        }
        D(y, m, d) => {
            let date = ExcelDateTime::from_ymd(*y, *m, *d).unwrap();
            sheet.write_datetime_with_format(row, column, &date, &Format::new().set_num_format("d-mmm")).unwrap()
        }
        B(v) => sheet.write_boolean(row, column, *v).unwrap(),
        E(error) => sheet.write_formula(row, column, Formula::new("1/0").set_result(*error)).unwrap(),
        O => sheet,
    };
}

/// A workbook in memory, sheet by sheet.
pub fn workbook(sheets: &[(&str, &[&[V]])]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(*name).unwrap();
        for (row, cells) in rows.iter().enumerate() {
            for (column, value) in cells.iter().enumerate() {
                put(sheet, u32::try_from(row).unwrap(), u16::try_from(column).unwrap(), value);
            }
        }
    }
    book.save_to_buffer().unwrap()
}

pub fn opened(name: &str, bytes: Vec<u8>) -> Book {
    open(name, bytes).unwrap_or_else(|p| panic!("{p:?}"))
}

/// Reads rooms from sheets that are sound as a whole.
pub fn read(sheets: &[(&str, &[&[V]])]) -> Inputs {
    let mut book = opened("rooms.xlsx", workbook(sheets));
    read_rooms(&mut book, &schema(), Texts::default()).unwrap_or_else(|p| panic!("{p:?}"))
}

/// Reads one sheet of rooms.
pub fn rooms(rows: &[&[V]]) -> Inputs {
    read(&[("Rooms", rows)])
}

/// What keeps a workbook from being read.
pub fn refused(sheets: &[(&str, &[&[V]])]) -> Vec<Problem> {
    let mut book = opened("rooms.xlsx", workbook(sheets));
    read_rooms(&mut book, &schema(), Texts::default()).unwrap_err()
}

pub fn csv(text: &str) -> Inputs {
    let mut book = opened("rooms.csv", text.as_bytes().to_vec());
    read_rooms(&mut book, &schema(), Texts::default()).unwrap_or_else(|p| panic!("{p:?}"))
}

/// A number of a table in base units, as a decimal text.
pub fn base(inputs: &Inputs, kind: KindId, name: &str, row: usize) -> Option<String> {
    let schema = schema();
    let at = schema.kind(kind).fields.iter().position(|f| schema.field(*f).name == name).unwrap();
    let field = schema.field(schema.kind(kind).fields[at]);
    let (chunk, at) = inputs.tables[kind.0 as usize].columns[at].locate(row);
    if chunk.fault(at).is_some() {
        return None;
    }
    let kept = chunk.number(at)?;
    Some(kept.scaled(field.unit.factor).unwrap().to_decimal().normalize().to_string())
}

pub fn mm(inputs: &Inputs, name: &str, row: usize) -> Option<String> {
    base(inputs, ROOMS, name, row)
}

pub fn text(inputs: &Inputs, name: &str, row: usize) -> String {
    let schema = schema();
    let at = schema.kind(ROOMS).fields.iter().position(|f| schema.field(*f).name == name).unwrap();
    let (chunk, at) = inputs.tables[0].columns[at].locate(row);
    inputs.texts.get(chunk.text(at).unwrap()).to_string()
}

pub fn table(inputs: &Inputs, kind: KindId) -> &InputTable {
    &inputs.tables[kind.0 as usize]
}

/// The problems of one kind.
pub fn of_kind<'a>(inputs: &'a Inputs, kind: &str) -> Vec<&'a Problem> {
    inputs.problems.iter().map(|p| &p.problem).filter(|p| p.kind == kind).collect()
}

/// The only problem of a kind.
pub fn only<'a>(inputs: &'a Inputs, kind: &str) -> &'a Problem {
    let all = of_kind(inputs, kind);
    assert_eq!(all.len(), 1, "{kind}: {:#?}", inputs.problems);
    all[0]
}

pub fn stops(inputs: &Inputs) -> Vec<&Problem> {
    inputs.problems.iter().map(|p| &p.problem).filter(|p| p.weight == Weight::Stop).collect()
}

/// The place of a problem as a person reads it.
pub fn place(problem: &Problem) -> String {
    match problem.places.first() {
        Some(Place::Cell(cell)) => cell.to_string(),
        Some(Place::File(file)) => file.to_string(),
        other => panic!("{other:?}"),
    }
}
