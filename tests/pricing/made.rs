//! Jobs and price books made by hand.

use hardlid::engine::column::{BLOCK, Holds};
use hardlid::engine::{Chunk, Column, ColumnBuilder, Data, Explain, Fault, InputTable, Inputs, Origin, Run};
use hardlid::pricing::{PriceBook, Priced, price_lines};
use hardlid::problem::Problem;
use hardlid::program::{
    Check, Field, FieldId, Item, KindId, LineKind, MessagePart, Need, Outcome, Parent, RowKind, Schema, SiteId, Type,
};
use hardlid::quantity::show::Style;
use hardlid::quantity::{Date, Decimal, Number, Unit};
use hardlid::source::{Span, Text};
use hardlid::workbook::grid::{Cell, Grid};
use hardlid::workbook::prices::read_price_book;
use std::ops::Deref;
use std::sync::Arc;

pub fn number(text: &str) -> Number {
    text.parse::<Decimal>().unwrap().into()
}

pub fn day(year: i16, month: i8, day: i8) -> Date {
    Date::new(year, month, day).unwrap()
}

pub fn cell(text: &str) -> Cell {
    if text.is_empty() { Cell::Empty } else { Cell::Text(text.into()) }
}

pub fn grid(sheet: &str, rows: &[&[&str]]) -> Grid {
    let rows = rows.iter().map(|row| row.iter().map(|t| cell(t)).collect()).collect();
    Grid { file: "book.xlsx".into(), sheet: sheet.into(), rows }
}

/// A price book with what was wrong in it.
pub struct Book {
    book: PriceBook,
    pub problems: Vec<Problem>,
}

impl Deref for Book {
    type Target = PriceBook;
    fn deref(&self) -> &PriceBook {
        &self.book
    }
}

impl Book {
    pub fn read(sheets: &[(&str, &[&[&str]])]) -> Self {
        let grids: Vec<Grid> = sheets.iter().map(|(name, rows)| grid(name, rows)).collect();
        let (book, problems) = read_price_book(&grids, day(2026, 1, 1));
        Self { book, problems }
    }

    pub fn prices(rows: &[&[&str]]) -> Self {
        Self::prices_on(rows, day(2026, 1, 1))
    }

    /// Rows of code, item, sold by, pack, stock length, cost, from, through, supplier, weight.
    pub fn prices_on(rows: &[&[&str]], as_of: Date) -> Self {
        let headings: &[&str] =
            &["Code", "Item", "Sold by", "Pack", "Stock length", "Cost", "From", "Through", "Supplier", "Weight"];
        let all: Vec<&[&str]> = std::iter::once(headings).chain(rows.iter().copied()).collect();
        let (book, problems) = read_price_book(&[grid("Prices", &all)], as_of);
        Self { book, problems }
    }
}

/// Names a fault by its number.
pub struct Plain;

impl Explain for Plain {
    fn fault(&self, fault: Fault) -> Problem {
        Problem::stop("missing value", format!("Row {} has no value.", fault.row))
    }
}

/// Rooms, openings that belong to them, and the job.
pub struct Made {
    pub schema: Schema,
    pub run: Run,
    pub inputs: Inputs,
    pub rooms: KindId,
    pub openings: KindId,
    pub job: KindId,
    /// The rooms' key: R0, R1, ...
    pub id: FieldId,
    text: Arc<Text>,
}

fn kind(name: &str, sheet: &str, parent: Option<KindId>, single: bool) -> RowKind {
    RowKind {
        name: name.into(),
        sheet: Some(sheet.into()),
        parent: parent.map(|kind| Parent { kind, headings: Vec::new() }),
        fields: Vec::new(),
        key: None,
        single,
    }
}

fn table(kind: KindId, sheet: &str, parents: Vec<u32>, rows: usize) -> InputTable {
    let sheet_rows = (1..=u32::try_from(rows).unwrap()).collect();
    let origin = Origin {
        file: "rooms.xlsx".into(),
        sheet: sheet.into(),
        heading_row: 0,
        rows: sheet_rows,
        columns: Vec::new(),
    };
    InputTable { kind, rows, columns: Vec::new(), parents, stopped: vec![false; rows], origin }
}

impl Made {
    pub fn new(rooms: usize) -> Self {
        let ids = (KindId(0), KindId(1), KindId(2));
        let kinds = vec![
            kind("rooms", "Rooms", None, false),
            kind("openings", "Openings", Some(ids.0), false),
            kind("job", "Job", None, true),
        ];
        let inputs = Inputs { tables: vec![table(ids.0, "Rooms", Vec::new(), rooms)], ..Inputs::default() };
        let mut made = Self {
            schema: Schema { kinds, ..Schema::default() },
            run: Run { rows: vec![rooms, 0, 1], ..Run::default() },
            inputs,
            rooms: ids.0,
            openings: ids.1,
            job: ids.2,
            id: FieldId(0),
            text: Text::new("rules.lid", "item thing\n"),
        };
        let names: Vec<String> = (0..rooms).map(|r| format!("R{r}")).collect();
        made.id = made.text(ids.0, &names.iter().map(String::as_str).collect::<Vec<_>>());
        made.schema.kinds[0].key = Some(made.id);
        made
    }

    /// Openings of the rooms given.
    pub fn openings(&mut self, parents: &[u32]) {
        self.run.rows[1] = parents.len();
        self.inputs.tables.push(table(self.openings, "Openings", parents.to_vec(), parents.len()));
    }

    fn field(&mut self, kind: KindId, ty: Type, unit: Unit, column: Column) -> FieldId {
        let id = FieldId(u32::try_from(self.schema.fields.len()).unwrap());
        self.schema.fields.push(Field {
            kind,
            name: format!("f{}", id.0),
            label: format!("F{}", id.0),
            ty,
            unit,
            style: Style::default(),
            input: None,
            hidden: false,
            note: None,
            source: None,
            text: Arc::clone(&self.text),
            span: Span::new(0, 4),
        });
        self.run.columns.push(Some(column));
        id
    }

    /// Amounts in a unit, kept as the engine keeps them; `?` is a fault.
    pub fn amount(&mut self, kind: KindId, unit: &str, values: &[&str]) -> FieldId {
        let unit = Unit::read(unit).unwrap();
        let kept = Unit::kept(unit.dimension);
        let in_kept = |text: &str| number(text).scaled(unit.factor).unwrap().scaled(kept.factor.recip()).unwrap();
        let numbers: Vec<Number> = values.iter().filter(|v| **v != "?").map(|v| in_kept(v)).collect();
        // pounds of newtons do not end: such a column holds exact numbers
        if numbers.iter().any(|n| n.exact_decimal().is_none_or(|d| d.scale() > 12)) {
            let chunk = Chunk { data: Data::Wide(numbers), faults: None };
            return self.field(kind, Type::of(unit.dimension), kept, Column { chunks: vec![chunk] });
        }
        let mut column = ColumnBuilder::new(Holds::Numbers);
        for value in values {
            match *value {
                "?" => column.push_fault(SiteId(7)),
                text => column.push_number(in_kept(text).to_decimal()),
            }
        }
        self.field(kind, Type::of(unit.dimension), kept, column.finish())
    }

    /// Amounts kept as exact numbers.
    pub fn wide(&mut self, kind: KindId, unit: &str, values: &[&str]) -> FieldId {
        let unit = Unit::read(unit).unwrap();
        let chunks = values
            .chunks(BLOCK)
            .map(|block| Chunk { data: Data::Wide(block.iter().map(|v| number(v)).collect()), faults: None })
            .collect();
        self.field(kind, Type::of(unit.dimension), unit, Column { chunks })
    }

    /// Percents, as fractions or with their sign.
    pub fn percent(&mut self, kind: KindId, values: &[&str]) -> FieldId {
        let mut column = ColumnBuilder::new(Holds::Numbers);
        for value in values {
            let fraction = match value.strip_suffix('%') {
                Some(percent) => percent.parse::<Decimal>().unwrap() / Decimal::from(100),
                None => value.parse().unwrap(),
            };
            column.push_number(fraction);
        }
        self.field(kind, Type::PERCENT, Unit::none(), column.finish())
    }

    pub fn yes_no(&mut self, kind: KindId, values: &[bool]) -> FieldId {
        let mut column = ColumnBuilder::new(Holds::YesNo);
        values.iter().for_each(|v| column.push_yes_no(*v));
        self.field(kind, Type::YesNo, Unit::none(), column.finish())
    }

    pub fn text(&mut self, kind: KindId, values: &[&str]) -> FieldId {
        let mut column = ColumnBuilder::new(Holds::Texts);
        for value in values {
            let id = Arc::make_mut(&mut self.run.texts).intern(value);
            column.push_text(id);
        }
        self.field(kind, Type::Text, Unit::none(), column.finish())
    }

    /// A code that serves all rows of a kind: one value a block.
    fn code(&mut self, kind: KindId, code: &str) -> FieldId {
        let id = Arc::make_mut(&mut self.run.texts).intern(code);
        let blocks = self.run.rows[kind.0 as usize].div_ceil(BLOCK);
        let chunk = Chunk { data: Data::Text(vec![id]), faults: None };
        self.field(kind, Type::Text, Unit::none(), Column { chunks: vec![chunk; blocks] })
    }

    fn item(&mut self, what: LineKind, name: &str, code: &str, need: Need) -> usize {
        let code = self.code(self.rooms, code);
        let mut label = name.to_owned();
        label[..1].make_ascii_uppercase();
        self.schema.items.push(Item {
            name: name.to_owned(),
            label,
            what,
            kind: self.rooms,
            when: None,
            code,
            need,
            waste: None,
            rate: None,
            factor: None,
            height: None,
            difficulty: None,
            splice: None,
            source: None,
            text: Arc::clone(&self.text),
            span: Span::new(0, 10),
        });
        self.schema.items.len() - 1
    }

    pub fn material(&mut self, name: &str, code: &str, need: Need) -> usize {
        self.item(LineKind::Material, name, code, need)
    }

    pub fn labor(&mut self, name: &str, code: &str, need: Need) -> usize {
        self.item(LineKind::Labor, name, code, need)
    }

    pub fn check(&mut self, name: &str, holds: FieldId, outcome: Outcome, message: Vec<MessagePart>) {
        self.schema.checks.push(Check {
            name: name.to_owned(),
            kind: self.rooms,
            holds,
            outcome,
            message,
            source: None,
            text: Arc::clone(&self.text),
            span: Span::new(0, 4),
        });
    }

    pub fn price(&self, book: Option<&PriceBook>) -> Priced {
        price_lines(&self.schema, &self.run, &self.inputs, book, &Plain)
    }
}
