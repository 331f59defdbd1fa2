//! The priced workbook, read back. Schema, run and prices are built by hand; every expected figure is worked out
//! here by hand.
#![allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a test that cannot go on fails")]

use calamine::{Data, Range, Reader as _, Xlsx};
use hardlid::engine::column::{ColumnBuilder, Holds};
use hardlid::engine::input::RawColumn;
use hardlid::engine::{Explain, Fault, InputTable, Inputs, Origin, RawCell, Run, Texts};
use hardlid::pricing::{Finding, JobFigure, Line, OrderRow, PriceUsed, Priced, RowResult};
use hardlid::problem::Problem;
use hardlid::program::{
    BookUsed, Field, FieldId, Input, Item, KindId, LineKind, Need, Parent, Replaced, RowKind, Schema, SiteId, Type,
    Value,
};
use hardlid::quantity::show::Style;
use hardlid::quantity::{Date, Decimal, Dimension, Number, Unit};
use hardlid::source::{CellPlace, Span, Text};
use hardlid::workbook::live::JobFormula;
use hardlid::workbook::write::{self, Document, Limits, PricesFile, written_by_us};
use std::io::Cursor;

const ROOMS: KindId = KindId(0);
const OPENINGS: KindId = KindId(1);
const JOB: KindId = KindId(2);

/// What a faulty cell says.
struct Words;

impl Explain for Words {
    fn fault(&self, _: Fault) -> Problem {
        Problem::stop("blank cell", "Length is blank.")
    }
}

/// A job built by hand.
struct Job {
    schema: Schema,
    run: Run,
    inputs: Inputs,
    priced: Priced,
    job_live: Vec<(String, String)>,
    limits: Limits,
    prices: bool,
}

fn n(text: &str) -> Number {
    text.parse::<Decimal>().unwrap().into()
}

fn input() -> Input {
    Input {
        headings: Vec::new(),
        may_be_blank: false,
        default: None,
        stock_of: None,
        low: None,
        high: None,
        one_of: Vec::new(),
        missing: SiteId(0),
        unreadable: SiteId(1),
    }
}

/// Adds a field to a kind.
fn field(schema: &mut Schema, kind: KindId, name: &str, label: &str, ty: Type, is_input: bool) -> FieldId {
    let id = FieldId(u32::try_from(schema.fields.len()).unwrap());
    let dimension = ty.dimension().unwrap_or(Dimension::NONE);
    schema.fields.push(Field {
        kind,
        name: name.to_owned(),
        label: label.to_owned(),
        ty,
        unit: Unit::kept(dimension),
        style: Style::default(),
        input: is_input.then(input),
        hidden: false,
        note: None,
        source: (name == "limit").then(|| "practice".to_owned()),
        text: Text::new("house rules.lid", ""),
        span: Span::default(),
    });
    schema.kinds[kind.0 as usize].fields.push(id);
    id
}

fn kind(name: &str, sheet: Option<&str>, parent: Option<KindId>) -> RowKind {
    RowKind {
        name: name.to_owned(),
        sheet: sheet.map(str::to_owned),
        parent: parent.map(|kind| Parent { kind, headings: vec!["Room".to_owned()] }),
        fields: Vec::new(),
        key: None,
        single: name == "job",
    }
}

fn item(schema: &mut Schema, label: &str, what: LineKind, kind: KindId) {
    schema.items.push(Item {
        name: label.to_lowercase().replace(' ', "_"),
        label: label.to_owned(),
        what,
        kind,
        when: None,
        code: FieldId(0),
        need: Need::Amount(FieldId(0)),
        waste: None,
        rate: None,
        factor: None,
        height: None,
        difficulty: None,
        splice: None,
        source: (what == LineKind::Labor).then(|| "crew records of 2025".to_owned()),
        text: Text::new("house rules.lid", ""),
        span: Span::default(),
    });
}

fn numbers(values: &[Option<&str>]) -> hardlid::engine::Column {
    let mut column = ColumnBuilder::new(Holds::Numbers);
    for value in values {
        match value {
            Some(text) => column.push_number(text.parse().unwrap()),
            None => column.push_fault(SiteId(0)),
        }
    }
    column.finish()
}

fn texts(dictionary: &mut Texts, values: &[&str]) -> hardlid::engine::Column {
    let mut column = ColumnBuilder::new(Holds::Texts);
    for text in values {
        column.push_text(dictionary.intern(text));
    }
    column.finish()
}

fn raw(heading: &str, column: u16, field: Option<usize>, cells: Vec<RawCell>) -> RawColumn {
    RawColumn { heading: heading.to_owned(), column, field, cells, elsewhere: None }
}

#[allow(clippy::too_many_arguments, reason = "a line has as many figures")]
fn line(
    room: Option<u32>,
    item: u32,
    code: &str,
    kind: LineKind,
    need: &str,
    waste: &str,
    unit: &str,
    unit_cost: &str,
    cents: i64,
    hours: Option<&str>,
) -> Line {
    let (need, waste) = (n(need), n(waste));
    Line {
        of: room.map_or((JOB, 0), |r| (ROOMS, r)),
        room,
        item,
        code: code.into(),
        kind,
        need,
        waste,
        quantity: need.times(&Number::ONE.plus(&waste).unwrap()).unwrap(),
        unit: unit.into(),
        unit_cost: Some(n(unit_cost)),
        cost: Some(cents),
        hours: hours.map(n),
        price: None,
        apart: false,
        own: None,
    }
}

fn cell(sheet: &str, row: u32, column: u16) -> CellPlace {
    CellPlace { file: "rooms.xlsx".into(), sheet: sheet.into(), row, column: Some(column) }
}

fn books() -> Vec<BookUsed> {
    let book = |title: &str, edition: &str, file: &str, digest: &str| BookUsed {
        title: title.to_owned(),
        edition: edition.to_owned(),
        file: file.to_owned(),
        digest: digest.repeat(32),
    };
    vec![book("hardlid trade", "1", "built in", "5f"), book("Northgate house rules", "2026.2", "house rules.lid", "a1")]
}

fn schema() -> Schema {
    let mut s = Schema {
        kinds: vec![
            kind("rooms", Some("Rooms"), None),
            kind("openings", Some("Openings"), Some(ROOMS)),
            kind("job", Some("Job"), None),
        ],
        books: books(),
        replaced: vec![Replaced {
            what: "table tested_span".to_owned(),
            from: "hardlid trade 1".to_owned(),
            by: "Northgate house rules 2026.2".to_owned(),
            was: (Text::new("hardlid trade", ""), Span::default()),
            now: (Text::new("house rules.lid", ""), Span::default()),
        }],
        ..Schema::default()
    };
    let length = Type::of(Dimension::LENGTH);
    let id = field(&mut s, ROOMS, "id", "Room", Type::Text, true);
    s.kinds[0].key = Some(id);
    field(&mut s, ROOMS, "level", "Level", Type::Text, true);
    field(&mut s, ROOMS, "length", "Length", length, true);
    field(&mut s, ROOMS, "width", "Width", length, true);
    field(&mut s, ROOMS, "run", "Tee run", length, false);
    field(&mut s, ROOMS, "area", "Ceiling area", Type::of(Dimension::AREA), false);
    field(&mut s, ROOMS, "tees", "Tees", Type::COUNT, false);
    field(&mut s, ROOMS, "limit", "Tested span", length, false);
    field(&mut s, OPENINGS, "many", "Many", Type::COUNT, true);
    field(&mut s, JOB, "overhead", "Overhead, 10% of material", Type::of(Dimension::MONEY), false);
    field(&mut s, JOB, "total", "Total", Type::of(Dimension::MONEY), false);
    item(&mut s, "Span tee, 12 ft", LineKind::Material, ROOMS);
    item(&mut s, "Hanger wire", LineKind::Material, ROOMS);
    item(&mut s, "Board, 5/8 in.", LineKind::Material, ROOMS);
    item(&mut s, "Frame tees", LineKind::Labor, ROOMS);
    item(&mut s, "Lift rental", LineKind::Material, JOB);
    s
}

/// Room names, some of which a spreadsheet would like to read as something else.
const NAMES: [&str; 4] = ["101", "=1+1", "@x", "http://example.invalid/a"];

fn inputs() -> Inputs {
    let mut inputs = Inputs::default();
    let t = |inputs: &mut Inputs, text: &str| RawCell::Text(std::sync::Arc::make_mut(&mut inputs.texts).intern(text));
    let names: Vec<RawCell> = NAMES.iter().map(|name| t(&mut inputs, name)).collect();
    let levels =
        vec![t(&mut inputs, "Level 1"), t(&mut inputs, " level  1"), t(&mut inputs, "Level 2"), RawCell::Empty];
    let lengths = vec![t(&mut inputs, "20'"), RawCell::Number(20.0), t(&mut inputs, "10'-3 1/2\""), RawCell::Empty];
    let widths = vec![RawCell::Number(14.0), RawCell::Number(14.0), RawCell::Number(8.0), RawCell::Number(9.0)];
    let notes = vec![t(&mut inputs, "-2+3"), RawCell::YesNo(true), RawCell::Date(46_082.0), t(&mut inputs, "+cmd")];
    let columns = vec![
        raw("Room no.", 0, Some(0), names),
        raw("Level", 1, Some(1), levels),
        raw("=Length", 2, Some(2), lengths),
        raw("Width (ft)", 4, Some(3), widths),
        raw("Remarks", 6, None, notes),
    ];
    let origin = |sheet: &str, columns: Vec<RawColumn>, rows: Vec<u32>| Origin {
        file: "rooms.xlsx".into(),
        sheet: sheet.into(),
        heading_row: 3,
        rows,
        columns,
    };
    let many =
        vec![raw("Room", 0, None, vec![t(&mut inputs, "101")]), raw("Many", 1, Some(0), vec![RawCell::Number(2.0)])];
    let table =
        |kind, rows, parents, stopped, origin| InputTable { kind, rows, columns: Vec::new(), parents, stopped, origin };
    let stopped = vec![false, false, false, true];
    inputs.tables = vec![
        table(ROOMS, 4, Vec::new(), stopped, origin("Rooms", columns, vec![4, 5, 7, 8])),
        table(OPENINGS, 1, vec![0], vec![false], origin("Openings [all]", many, vec![4])),
    ];
    inputs
}

fn run(inputs: &Inputs) -> Run {
    let mut dictionary = inputs.texts.clone();
    let columns = vec![
        Some(texts(std::sync::Arc::make_mut(&mut dictionary), &NAMES)),
        Some(texts(std::sync::Arc::make_mut(&mut dictionary), &["Level 1", " level  1", "Level 2", ""])),
        // 20' = 6096 mm, 10'-3 1/2" = 3136.9 mm, 14' = 4267.2 mm, 8' = 2438.4 mm, 9' = 2743.2 mm
        Some(numbers(&[Some("6096"), Some("6096"), Some("3136.9"), None])),
        Some(numbers(&[Some("4267.2"), Some("4267.2"), Some("2438.4"), Some("2743.2")])),
        Some(numbers(&[Some("4267.2"), Some("4267.2"), Some("2438.4"), None])),
        // 280 sf, 280 sf, 82 1/3 sf; 1 sf = 92,903.04 mm²
        Some(numbers(&[Some("26012851.2"), Some("26012851.2"), Some("7649016.96"), None])),
        Some(numbers(&[Some("9"), Some("9"), Some("5"), None])),
        Some(numbers(&[Some("2286"), Some("2286"), Some("2590.8"), None])),
        Some(numbers(&[Some("2")])),
        None,
        None,
    ];
    Run { rows: vec![4, 1, 1], columns, texts: dictionary, ..Run::default() }
}

/// Lines by hand: 9 tees of 14 ft at $0.85/ft is $107.10; 5 wires of 18 in. and 5 % is 7.875 ft at $0.11/ft, $0.86625,
/// $0.87; 280 sf and 10 % is 308 sf at $0.62, $190.96; 126 ft of tees at 0.011 hr/ft is 1.386 hr at $68, $94.248, $94.25.
/// 5 tees of 8 ft at $0.85/ft is $34.00; 0.44 hr at $68 is $29.92. A lift at $450.
fn lines() -> Vec<Line> {
    use LineKind::{Labor, Material};
    let mut lines = Vec::new();
    for room in [0, 1] {
        lines.extend([
            line(Some(room), 0, "ST", Material, "126", "0", "ft", "0.85", 10_710, None),
            line(Some(room), 1, "HW-12", Material, "7.5", "0.05", "ft", "0.11", 87, None),
            line(Some(room), 2, "GB-58", Material, "280", "0.1", "sf", "0.62", 19_096, None),
            line(Some(room), 3, "L-TEE", Labor, "126", "0", "ft", "0.748", 9425, Some("1.386")),
        ]);
    }
    lines.push(line(Some(2), 0, "ST", Material, "40", "0", "ft", "0.85", 3400, None));
    lines.push(line(Some(2), 3, "L-TEE", Labor, "40", "0", "ft", "0.748", 2992, Some("0.44")));
    lines.push(line(None, 4, "LIFT", Material, "1", "0", "ea", "450", 45_000, None));
    lines
}

fn findings() -> Vec<Finding> {
    vec![
        Finding {
            problem: Problem::warning("check", "A tee would span 8'-0\"; the tested limit at 24\" o.c. is 7'-6\".")
                .at_cell(cell("Rooms", 7, 4))
                .found("8")
                .fix("Add a strongback, or space the tees closer."),
            name: "span".to_owned(),
            row: Some((ROOMS, 2)),
            row_name: Some("@x".into()),
        },
        Finding {
            problem: Problem::note("row left out", "The totals row at the foot was left out.").in_file("rooms.xlsx"),
            name: "row left out".to_owned(),
            row: None,
            row_name: None,
        },
    ]
}

fn prices() -> Vec<PriceUsed> {
    let used = |code: &str, item: &str, sold: &str, cost: &str| PriceUsed {
        code: code.into(),
        item: item.into(),
        kind: LineKind::Material,
        sold_by: sold.into(),
        pack: None,
        stock_length: (code == "ST").then(|| n("3657.6")),
        cost: n(cost),
        hours: None,
        reached: None,
        from: Some(Date::constant(2026, 1, 1)),
        through: None,
        overtime: None,
        supplier: Some("Millrace Supply (invented)".into()),
        prices_lines: true,
        bought: code == "ST",
        place: cell("Prices", 4, 5),
    };
    vec![used("GB-58", "Board, 5/8 in.", "MSF", "620"), used("ST", "Span tee, 12 ft", "lf", "0.85")]
}

/// Material 2 × 298.93 + 34 + 450 = $1,081.86, labor 2 × 94.25 + 29.92 = $218.42, overhead $108.186.
fn priced() -> Priced {
    let room = |cost, hours: &str| RowResult { cost: Some(cost), hours: Some(n(hours)), stopped: false, warnings: 0 };
    let figure = |field, name: &str, label: &str, value: &str| JobFigure {
        field: FieldId(field),
        name: name.to_owned(),
        label: label.to_owned(),
        value: Ok(Value::Number(n(value))),
    };
    Priced {
        lines: lines(),
        prices: prices(),
        order: vec![OrderRow {
            code: "ST".into(),
            item: "Span tee, 12 ft".into(),
            used: n("292"),
            unit: "ft".into(),
            buy: n("27"),
            sold_as: "pieces of 12'-0\"".to_owned(),
            left_over: n("32"),
            scrap: n("0"),
            each: Some(n("10.2")),
            cost: Some(27_540),
            // 275.40 x 32 / 324
            left_cost: Some(2_720),
            weight: Some(n("162")),
            supplier: Some("Millrace Supply (invented)".into()),
            place: Some(cell("Prices", 4, 5)),
            packed: None,
            deliveries: Vec::new(),
        }],
        job: vec![
            figure(9, "overhead", "Overhead, 10% of material", "108.186"),
            figure(10, "total", "Total", "1408.466"),
        ],
        rooms: vec![room(39_318, "1.386"), room(39_318, "1.386"), room(6392, "0.44"), RowResult::default()],
        material: 108_186,
        labor: 21_842,
        hours: Some(n("3.212")),
        total: Some(140_847),
        stopped: 0,
        has_prices: true,
        findings: findings(),
        ..Priced::default()
    }
}

impl Job {
    fn new() -> Self {
        let inputs = inputs();
        Self {
            schema: schema(),
            run: run(&inputs),
            inputs,
            priced: priced(),
            job_live: vec![
                ("overhead".to_owned(), "0.1*{material}".to_owned()),
                ("total".to_owned(), "ROUND({material}+{labor}+{overhead},2)".to_owned()),
            ],
            limits: Limits::default(),
            prices: true,
        }
    }

    fn stopped() -> Self {
        let mut job = Self::new();
        job.priced.rooms[3].stopped = true;
        job.priced.stopped = 1;
        job.priced.total = None;
        job
    }

    fn without_prices() -> Self {
        let mut job = Self::new();
        job.prices = false;
        let priced = &mut job.priced;
        (priced.has_prices, priced.total, priced.material, priced.labor) = (false, None, 0, 0);
        priced.lines.iter_mut().for_each(|l| (l.cost, l.unit_cost) = (None, None));
        priced.rooms.iter_mut().for_each(|r| r.cost = None);
        priced.prices.clear();
        job
    }

    fn write(&self) -> Result<Vec<u8>, Problem> {
        let prices = PricesFile { name: "yard prices.xlsx", digest: "00c0ffee00c0ffee00c0ffee00c0ffee" };
        write::priced(&Document {
            schema: &self.schema,
            run: &self.run,
            inputs: &self.inputs,
            explain: &Words,
            priced: &self.priced,
            title: "East & West wing rooms.xlsx",
            revision: 1,
            as_of: Date::constant(2026, 3, 1),
            prices_file: self.prices.then_some(prices),
            input_digest: "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef",
            tool_version: "0.1.0",
            job_live: &self.formulas(),
            live: &hardlid::workbook::live::RowFormulas::default(),
            plans: &[],
            painting: &hardlid::drawing::Painting::default(),
            carried: &[],
            limits: self.limits,
        })
    }

    fn formulas(&self) -> Vec<JobFormula> {
        self.job_live.iter().map(|(name, template)| JobFormula::new(name, template)).collect()
    }

    fn bytes(&self) -> Vec<u8> {
        self.write().unwrap()
    }

    fn book(&self) -> Book {
        Book(Xlsx::new(Cursor::new(self.bytes())).unwrap())
    }
}

/// A workbook read back.
struct Book(Xlsx<Cursor<Vec<u8>>>);

impl Book {
    fn values(&mut self, sheet: &str) -> Range<Data> {
        self.0.worksheet_range(sheet).unwrap()
    }

    fn formula(&mut self, sheet: &str, at: (u32, u32)) -> String {
        self.0.worksheet_formula(sheet).unwrap().get_value(at).cloned().unwrap_or_default()
    }

    fn value(&mut self, sheet: &str, at: (u32, u32)) -> Data {
        self.values(sheet).get_value(at).cloned().unwrap_or(Data::Empty)
    }

    /// The cell to the right of a label.
    fn beside(&mut self, sheet: &str, label: &str) -> Data {
        let at = self.find(sheet, label);
        self.value(sheet, (at.0, at.1 + 1))
    }

    /// The formula to the right of a label.
    fn formula_beside(&mut self, sheet: &str, label: &str) -> String {
        let at = self.find(sheet, label);
        self.formula(sheet, (at.0, at.1 + 1))
    }

    /// The amount of a row of the bid, two cells to the right of its label.
    fn amount(&mut self, label: &str) -> Data {
        let at = self.find("Bid", label);
        self.value("Bid", (at.0, at.1 + 2))
    }

    /// The formula of that amount.
    fn amount_formula(&mut self, label: &str) -> String {
        let at = self.find("Bid", label);
        self.formula("Bid", (at.0, at.1 + 2))
    }

    fn find(&mut self, sheet: &str, text: &str) -> (u32, u32) {
        let range = self.values(sheet);
        let start = range.start().unwrap();
        let found = range.used_cells().find(|(_, _, c)| **c == Data::String(text.to_owned()));
        let (row, column, _) = found.unwrap_or_else(|| panic!("{text} on {sheet}"));
        (start.0 + u32::try_from(row).unwrap(), start.1 + u32::try_from(column).unwrap())
    }

    /// The cells below a heading.
    fn column(&mut self, sheet: &str, heading: &str) -> Vec<Data> {
        let at = self.find(sheet, heading);
        let range = self.values(sheet);
        let end = range.end().unwrap().0;
        (at.0 + 1..=end).map(|row| range.get_value((row, at.1)).cloned().unwrap_or(Data::Empty)).collect()
    }
}

fn text(s: &str) -> Data {
    Data::String(s.to_owned())
}

#[test]
fn sheets_stand_in_order() {
    let book = Job::new().book();
    let names = book.0.sheet_names();
    assert_eq!(
        names,
        ["Bid", "Rooms", "Openings all", "Lines", "Order", "Cuts", "Checks", "Prices", "Rules", "As read"]
    );
}

#[test]
fn worked_out_values_stand_in_the_unit_of_their_heading() {
    let mut book = Job::new().book();
    let f = Data::Float;
    assert_eq!(book.column("Rooms", "Tee run (ft)"), [f(14.0), f(14.0), f(8.0), text("Length is blank")]);
    // 10'-3 1/2" × 8' = 82 1/3 sf
    assert_eq!(book.column("Rooms", "Ceiling area (sf)")[..3], [f(280.0), f(280.0), f(247.0 / 3.0)]);
    assert_eq!(book.column("Rooms", "Tees")[..3], [f(9.0), f(9.0), f(5.0)]);
    assert_eq!(book.column("Rooms", "Cost ($)")[..3], [f(393.18), f(393.18), f(63.92)]);
    assert_eq!(book.column("Openings all", "Many"), [f(2.0)]);
}

#[test]
fn text_from_the_input_stays_text() {
    let mut book = Job::new().book();
    let names: Vec<Data> = NAMES.iter().map(|n| text(n)).collect();
    assert_eq!(book.column("Rooms", "Room no."), names);
    assert_eq!(book.column("Rooms", "=Length")[2], text("10'-3 1/2\""));
    assert_eq!(book.column("Rooms", "Remarks")[0], text("-2+3"));
    // Ref and five columns that were read stand before the first formula may.
    let formulas = book.0.worksheet_formula("Rooms").unwrap();
    assert!(formulas.start().unwrap().1 >= 6, "a formula stands among what was read");
}

#[test]
fn no_link_leads_out_of_the_workbook() {
    let mut archive = zip::ZipArchive::new(Cursor::new(Job::new().bytes())).unwrap();
    for i in 0..archive.len() {
        let mut part = archive.by_index(i).unwrap();
        let mut content = Vec::new();
        std::io::Read::read_to_end(&mut part, &mut content).unwrap();
        assert!(!String::from_utf8_lossy(&content).contains("TargetMode=\"External\""), "part {i}");
    }
}

#[test]
fn totals_are_live_and_foot() {
    let mut book = Job::new().book();
    assert_eq!(book.amount("Material"), Data::Float(1081.86));
    assert_eq!(book.amount("Labor"), Data::Float(218.42));
    assert_eq!(book.amount("Overhead, 10% of material"), Data::Float(108.186));
    assert_eq!(book.amount("Total"), Data::Float(1408.47));
    assert_eq!(book.amount("Labor hours"), Data::Float(3.212));
    // $1,408.47 over 280 + 280 + 82 1/3 sf
    assert_eq!(book.amount("Cost per sf"), Data::Float(1408.47 * 3.0 / 1927.0));
    let costs = book.column("Lines", "Cost ($)");
    let cents = costs.iter().map(|c| if let Data::Float(f) = c { (f * 100.0).round() } else { 0.0 }).sum::<f64>();
    assert_eq!(cents.to_bits(), (108_186.0_f64 + 21_842.0).to_bits());
    assert_eq!(book.amount_formula("Material"), "SUMIF(Lines!$E$3:$E$13,\"Material\",Lines!$M$3:$M$13)");
    assert_eq!(book.amount_formula("Overhead, 10% of material"), "0.1*C7");
    assert_eq!(book.amount_formula("Total"), "ROUND(C7+C8+C9,2)");
}

#[test]
fn a_figure_without_a_cell_for_each_name_stays_a_value() {
    let mut job = Job::new();
    job.job_live = vec![("overhead".to_owned(), "{bond}*2".to_owned())];
    let mut book = job.book();
    assert_eq!(book.amount("Overhead, 10% of material"), Data::Float(108.186));
    assert_eq!(book.amount_formula("Overhead, 10% of material"), "");
    assert_eq!((book.amount("Total"), book.amount_formula("Total")), (Data::Float(1408.47), String::new()));
    book.find("Bid", "not live");
}

#[test]
fn levels_sum_to_the_lines() {
    let mut book = Job::new().book();
    assert_eq!(book.amount("Level 1"), Data::Float(786.36));
    assert_eq!(book.amount("Level 2"), Data::Float(63.92));
    assert_eq!(book.amount("(no level)"), Data::Float(0.0));
    assert_eq!(book.amount("Whole job"), Data::Float(450.0));
}

#[test]
fn a_line_cost_is_live_and_an_own_figure_wins() {
    let mut book = Job::new().book();
    let (row, column) = book.find("Lines", "Cost ($)");
    assert_eq!(
        book.formula("Lines", (row + 1, column)),
        "IF(COUNT(J3,L3)=0,\"\",ROUND(ROUND(IF(ISNUMBER(K3),K3,H3)*IF(ISNUMBER(L3),L3,J3),8),2))"
    );
    assert_eq!(book.column("Lines", "Own quantity"), vec![Data::Empty; 11]);
    assert_eq!(book.column("Lines", "Quantity with waste")[2], Data::Float(308.0));
}

#[test]
fn a_stopped_row_holds_the_total_back() {
    let mut book = Job::stopped().book();
    assert_eq!(book.beside("Bid", "Total"), text("INCOMPLETE"));
    assert_eq!(book.column("Rooms", "Status"), [text("ok"), text("ok"), text("ok"), text("STOPPED")]);
    book.find("Bid", "1 row is stopped, so there is no total until it is dealt with: see Checks.");
}

#[test]
fn without_prices_costs_are_blank() {
    let mut book = Job::without_prices().book();
    book.find("Bid", "Priced as of March 1, 2026, no price book: costs are blank");
    let blank = |value: &Data| *value == Data::Empty || *value == text("");
    for label in ["Material", "Labor", "Overhead, 10% of material", "Total"] {
        let value = book.amount(label);
        assert!(blank(&value), "{label}: {value:?}");
    }
    for sheet in ["Lines", "Rooms"] {
        assert!(book.column(sheet, "Cost ($)").iter().all(blank), "{sheet}");
    }
    assert_eq!(book.amount("Labor hours"), Data::Float(3.212));
}

#[test]
fn findings_link_to_their_cell() {
    let mut book = Job::new().book();
    // The third room stands in sheet row 5, below the band and the headings; Width (ft), the fourth column read,
    // stands after Ref.
    assert_eq!(book.column("Checks", "In this workbook")[0], text("Rooms!E5"));
    assert_eq!(book.column("Checks", "Cell as read")[0], text("Rooms!E8"));
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    assert!(Job::new().bytes() == Job::new().bytes());
    let mut large = Job::new();
    large.limits.cells_in_memory = 0;
    assert!(large.bytes() == large.bytes());
}

#[test]
fn a_sheet_written_row_by_row_holds_the_same() {
    let mut by_row = Job::stopped();
    by_row.limits.cells_in_memory = 0;
    let (mut by_row, mut kept) = (by_row.book(), Job::stopped().book());
    for sheet in kept.0.sheet_names() {
        assert_eq!(by_row.values(&sheet), kept.values(&sheet), "{sheet}");
        let formulas = [&mut by_row, &mut kept].map(|b| b.0.worksheet_formula(&sheet).unwrap());
        assert_eq!(formulas[0], formulas[1], "{sheet}");
    }
}

#[test]
fn a_workbook_carries_our_mark() {
    assert!(written_by_us(&Job::new().bytes()));
}

#[test]
fn lines_go_on_and_every_total_knows_it() {
    let mut job = Job::new();
    // Six rows a sheet, totals and headings included: 11 lines take three sheets of four, four and three.
    job.limits.sheet_rows = 6;
    let mut book = job.book();
    let counts = ["Lines", "Lines 2", "Lines 3"].map(|s| book.column(s, "Item or work").len());
    assert_eq!(counts, [4, 4, 3]);
    let room = book.find("Rooms", "Cost ($)");
    for formula in [
        book.amount_formula("Material"),
        book.amount_formula("Labor hours"),
        book.formula_beside("Bid", "Frame tees"),
        book.formula("Rooms", (room.0 + 1, room.1)),
    ] {
        for sheet in ["Lines!", "'Lines 2'!", "'Lines 3'!"] {
            assert!(formula.contains(sheet), "{formula} leaves out {sheet}");
        }
    }
}

#[test]
fn large_jobs_add_up_blocks_of_lines() {
    let mut job = Job::new();
    job.limits.look_ups = 0;
    let mut book = job.book();
    let (row, column) = book.find("Rooms", "Cost ($)");
    let costs = [1, 2, 3].map(|room| book.formula("Rooms", (row + room, column)));
    assert_eq!(costs, ["SUM(Lines!M3:M6)", "SUM(Lines!M7:M10)", "SUM(Lines!M11:M12)"]);
}

/// Adds an input of the job with a value to the top of the build-up.
fn setting(job: &mut Job, name: &str, label: &str, ty: Type, value: Value) {
    let id = field(&mut job.schema, JOB, name, label, ty, true);
    if let (Type::PERCENT, Some(input)) = (ty, &mut job.schema.fields[id.0 as usize].input) {
        input.default = Some(Value::Number(Number::ZERO));
    }
    let figure = JobFigure { field: id, name: name.to_owned(), label: label.to_owned(), value: Ok(value) };
    job.priced.job.insert(0, figure);
    job.run.columns.push(None);
}

/// Adds an amount of money to the build-up, before the total.
fn amount(job: &mut Job, name: &str, label: &str, value: &str, live: &str) {
    let id = field(&mut job.schema, JOB, name, label, Type::of(Dimension::MONEY), false);
    let value = Ok(Value::Number(n(value)));
    let figure = JobFigure { field: id, name: name.to_owned(), label: label.to_owned(), value };
    let total = job.priced.job.len() - 1;
    job.priced.job.insert(total, figure);
    job.job_live.push((name.to_owned(), live.to_owned()));
    job.run.columns.push(None);
}

#[test]
fn the_head_says_what_the_bid_is_for() {
    let mut job = Job::new();
    setting(&mut job, "dated", "Drawings dated", Type::Date, Value::Date(Date::constant(2026, 2, 3)));
    setting(&mut job, "bid_to", "Bid to", Type::Text, Value::Text("=Invented Builders".into()));
    setting(&mut job, "project", "Project", Type::Text, Value::Text("East wing".into()));
    let mut book = job.book();
    assert_eq!(book.value("Bid", (0, 0)), text("East wing"));
    assert_eq!(book.beside("Bid", "Bid to"), text("=Invented Builders"));
    assert_eq!(book.beside("Bid", "Drawings dated"), text("February 3, 2026"));
    let (facts, money) = (book.find("Bid", "Drawings dated").0, book.find("Bid", "Material").0);
    assert!(facts < money);
    // Two facts move the money two rows down.
    assert_eq!(book.amount_formula("Overhead, 10% of material"), "0.1*C9");
}

#[test]
fn a_rate_stands_beside_the_one_amount_that_uses_it() {
    let mut job = Job::new();
    setting(&mut job, "tax", "Sales tax", Type::PERCENT, Value::Number(n("0.0825")));
    setting(&mut job, "margin", "Margin", Type::PERCENT, Value::Number(n("0.12")));
    // 8.25 % of $1,081.86 is $89.25345; 12 % of $1,500 is no matter here, the figure is what the job says.
    amount(&mut job, "tax_amount", "Sales tax on material", "89.25", "ROUND(ROUND({tax}*{lines material},8),2)");
    amount(&mut job, "profit", "Profit", "180", "{margin}*{tax_amount}");
    let mut book = job.book();
    assert_eq!(book.beside("Bid", "Sales tax on material"), Data::Float(0.0825));
    assert_eq!(book.amount("Sales tax on material"), Data::Float(89.25));
    assert_eq!(book.amount_formula("Sales tax on material"), "ROUND(ROUND(B10*C7,8),2)");
    // The label says which rate it is where the amount's own does not.
    assert_eq!(book.beside("Bid", "Profit (margin)"), Data::Float(0.12));
    assert_eq!(book.amount_formula("Profit (margin)"), "B11*C10");
}

#[test]
fn a_choice_that_hangs_on_what_was_given_is_live() {
    let (layers, _) = hardlid::program::library::built_in("hardlid ceilings");
    let (program, _) = hardlid::program::compile(layers, None, hardlid::natives()).unwrap();
    let live = |given: &[JobFigure]| {
        let formulas = hardlid::workbook::live::job_formulas(&program, given);
        let JobFormula { template, on, .. } = formulas.into_iter().find(|f| f.name == "profit_amount").unwrap();
        (template, on.join(" "))
    };
    let margin = JobFigure {
        field: program.schema.field_named(program.job, "margin").unwrap(),
        name: "margin".to_owned(),
        label: "Margin".to_owned(),
        value: Ok(Value::Number(n("0.12"))),
    };
    // The book: margin when it is given, else profit as a markup; either may be typed later.
    let by_margin = "ROUND(ROUND((({before_profit}*{margin})/(1-{margin})),8),2)";
    let by_profit = "ROUND(ROUND(({profit}*{before_profit}),8),2)";
    let either = format!("IF({{margin}}<>\"\",{by_margin},{by_profit})");
    assert_eq!(live(&[margin]), (either.clone(), "before_profit margin margin".to_owned()));
    assert_eq!(live(&[]), (either, "profit before_profit".to_owned()));
}

#[test]
fn a_rate_that_nobody_gave_stays_out_of_the_money() {
    let mut job = Job::new();
    setting(&mut job, "freight", "Freight", Type::PERCENT, Value::Number(Number::ZERO));
    setting(&mut job, "unused", "Bond", Type::PERCENT, Value::Number(Number::ZERO));
    amount(&mut job, "freight_amount", "Freight", "0", "ROUND({freight}*{lines material},2)");
    job.job_live[1].1 = "ROUND({material}+{labor}+{overhead}+{freight_amount},2)".to_owned();
    let mut book = job.book();
    let (total, freight) = (book.find("Bid", "Total").0, book.find("Bid", "Freight").0);
    assert!(freight > total, "freight stands in row {freight}, the total in row {total}");
    let rate = freight + 1;
    assert_eq!(book.amount_formula("Freight"), format!("ROUND(B{rate}*C7,2)"));
    assert_eq!(book.amount_formula("Total"), format!("ROUND(C7+C8+C9+C{rate},2)"));
    assert!(!book.values("Bid").used_cells().any(|(_, _, c)| *c == text("Bond")));
}

#[test]
fn a_figure_that_is_a_sum_of_lines_stands_once() {
    let mut job = Job::new();
    // The book's own words for the sums, and in its own order.
    let id = field(&mut job.schema, JOB, "stuff", "Stuff", Type::of(Dimension::MONEY), false);
    let value = Ok(Value::Number(n("1081.86")));
    job.priced.job.insert(0, JobFigure { field: id, name: "stuff".to_owned(), label: "Stuff".to_owned(), value });
    job.job_live.push(("stuff".to_owned(), "{lines material}".to_owned()));
    job.run.columns.push(None);
    let mut book = job.book();
    assert_eq!(book.amount("Stuff"), Data::Float(1081.86));
    assert!(!book.values("Bid").used_cells().any(|(_, _, c)| *c == text("Material")));
    assert_eq!(book.amount_formula("Overhead, 10% of material"), "0.1*C7");
}

#[test]
fn wires_saved_are_summed_over_the_rooms() {
    let mut job = Job::new();
    let id = field(&mut job.schema, ROOMS, "grid_saved", "Wires saved", Type::of(Dimension::NONE), false);
    job.run.columns.resize(id.0 as usize, None);
    // 10 + 10 - 3, and a row that has none
    job.run.columns.push(Some(numbers(&[Some("10"), Some("10"), Some("-3"), None])));
    let mut book = job.book();
    assert_eq!(book.amount("Wires saved"), Data::Float(17.0));
    assert!(book.amount_formula("Wires saved").starts_with("SUM(Rooms!"));
}

#[test]
fn checks_that_stop_are_named_on_the_bid() {
    let mut job = Job::stopped();
    for i in 0..7 {
        job.priced.findings.insert(
            0,
            Finding {
                problem: Problem::stop("check", format!("Finding {i} of seven.")),
                name: "span".to_owned(),
                row: Some((ROOMS, 3)),
                row_name: Some("@x".into()),
            },
        );
    }
    let mut book = job.book();
    book.find("Bid", "7 checks stop");
    assert_eq!(book.value("Bid", book_row(&mut job.book(), "Finding 6 of seven.", 0)), text("@x"));
    book.find("Bid", "and 2 more: see Checks.");
    assert!(!book.values("Bid").used_cells().any(|(_, _, c)| *c == text("Finding 1 of seven.")));
}

/// The first column's cell in the row of a text.
fn book_row(book: &mut Book, of: &str, column: u32) -> (u32, u32) {
    (book.find("Bid", of).0, column)
}

#[test]
fn lines_have_a_total_that_follows_a_filter() {
    let mut book = Job::new().book();
    let cost = book.find("Lines", "Cost ($)");
    assert_eq!(book.formula("Lines", (0, cost.1)), "SUBTOTAL(109,Lines!$M$3:$M$13)");
    // $1,081.86 and $218.42
    assert_eq!(book.value("Lines", (0, cost.1)), Data::Float(1300.28));
}

#[test]
fn sorting_is_warned_of_where_rooms_add_up_blocks() {
    let words = "Filters are safe. Do not sort: each room adds up its own rows here.";
    let mut job = Job::new();
    let there = |job: &Job| job.book().values("Lines").used_cells().any(|(_, _, c)| *c == text(words));
    assert!(!there(&job));
    job.limits.look_ups = 0;
    assert!(there(&job));
}

#[test]
fn a_fault_is_short_in_its_cell_and_whole_in_its_note() {
    let bytes = Job::new().bytes();
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut notes = String::new();
    std::io::Read::read_to_string(&mut archive.by_name("xl/comments1.xml").unwrap(), &mut notes).unwrap();
    // The first of the row's faulty cells alone bears it.
    assert_eq!(notes.matches("Length is blank.").count(), 1);
}

#[test]
fn a_wide_table_prints_over_pages_with_its_first_columns_on_each() {
    let part = |job: &Job, name: &str| {
        let mut archive = zip::ZipArchive::new(Cursor::new(job.bytes())).unwrap();
        let mut content = String::new();
        std::io::Read::read_to_string(&mut archive.by_name(name).unwrap(), &mut content).unwrap();
        content
    };
    let narrow = Job::new();
    assert!(part(&narrow, "xl/worksheets/sheet3.xml").contains("fitToHeight=\"0\""));
    let mut wide = Job::new();
    for i in 0..20 {
        let id = field(&mut wide.schema, ROOMS, &format!("f{i}"), &format!("Figure {i}"), Type::COUNT, false);
        wide.run.columns.resize(id.0 as usize, None);
        wide.run.columns.push(Some(numbers(&[Some("1"), Some("1"), Some("1"), Some("1")])));
    }
    assert!(part(&wide, "xl/worksheets/sheet2.xml").contains("scale=\"73\""));
    // Ref and the room's number
    assert!(part(&wide, "xl/workbook.xml").contains("Rooms!$A:$B,Rooms!$1:$2"));
}

#[test]
fn too_many_rows_are_refused_in_words() {
    let mut job = Job::new();
    job.limits.sheet_rows = 4;
    let problem = job.write().unwrap_err();
    assert_eq!(problem.what, "Rooms has 4 rows, more than a sheet holds.");
}

/// Writes the workbooks into the folder that HARDLID_LOOK names, for a person to look at.
#[test]
#[ignore = "writes files to look at"]
fn workbooks_to_look_at() {
    let folder = std::path::PathBuf::from(std::env::var_os("HARDLID_LOOK").expect("HARDLID_LOOK names a folder"));
    let files: &dyn hardlid::system::Outside = &hardlid::system::Machine;
    for (name, job) in
        [("plain", Job::new()), ("stopped", Job::stopped()), ("unpriced", Job::without_prices()), ("large", large(150))]
    {
        files.write_whole(&folder.join(format!("{name}.xlsx")), &job.bytes()).unwrap();
    }
}

/// The job with many more rooms like its first.
fn large(rooms: u32) -> Job {
    let mut job = Job::new();
    let (count, table) = (rooms as usize, &mut job.inputs.tables[0]);
    table.rows = count;
    table.stopped = vec![false; count];
    table.origin.rows = (4..4 + rooms).collect();
    for column in &mut table.origin.columns {
        column.cells = vec![column.cells[0]; count];
    }
    table.origin.columns[0].cells = (0..rooms).map(|r| RawCell::Number(f64::from(101 + r))).collect();
    let levels: Vec<u32> =
        (1..=6).map(|l| std::sync::Arc::make_mut(&mut job.inputs.texts).intern(&format!("Level {l}"))).collect();
    table.origin.columns[1].cells = (0..count).map(|r| RawCell::Text(levels[r * 6 / count])).collect();
    job.run.texts = job.inputs.texts.clone();
    let names: Vec<String> = (0..rooms).map(|r| (101 + r).to_string()).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let same = |text: &'static str| Some(numbers(&vec![Some(text); count]));
    job.run.columns[..8].clone_from_slice(&[
        Some(texts(std::sync::Arc::make_mut(&mut job.run.texts), &names)),
        Some(texts(std::sync::Arc::make_mut(&mut job.run.texts), &vec!["Level 1"; count])),
        same("6096"),
        same("4267.2"),
        same("4267.2"),
        same("26012851.2"),
        same("9"),
        same("2286"),
    ]);
    job.run.rows[0] = count;
    let one = lines();
    job.priced.lines = (0..rooms)
        .flat_map(|room| one[..4].iter().cloned().map(move |l| Line { of: (ROOMS, room), room: Some(room), ..l }))
        .chain([one[10].clone()])
        .collect();
    job.priced.rooms = vec![job.priced.rooms[0].clone(); count];
    let each = i64::from(rooms);
    job.priced.material = 29_893 * each + 45_000;
    job.priced.labor = 9425 * each;
    job.priced.hours = n("1.386").times(&each.into()).ok();
    let tenth = Number::from(job.priced.material).over(&1000.into()).unwrap();
    job.priced.job[0].value = Ok(Value::Number(tenth));
    let direct = Number::from(job.priced.material + job.priced.labor).over(&100.into()).unwrap();
    job.priced.total = tenth.plus(&direct).and_then(|t| t.cents()).ok();
    job
}

/// Writes 100,000 rooms with four lines each and says how long it took.
#[test]
#[ignore = "takes a while"]
fn a_large_workbook_is_written_in_time() {
    let job = large(100_000);
    let start = std::time::Instant::now();
    let bytes = job.bytes();
    println!("{:?}, {} MB", start.elapsed(), bytes.len() / 1_000_000);
    assert!(bytes.len() > 1_000_000);
}

/// A part of a workbook as text.
fn part_of(bytes: &[u8], name: &str) -> String {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut content = String::new();
    std::io::Read::read_to_string(&mut archive.by_name(name).unwrap(), &mut content).unwrap();
    content
}

/// The part of a sheet, by the order of the tabs.
fn sheet_part(bytes: &[u8], name: &str) -> String {
    let names = Xlsx::new(Cursor::new(bytes)).unwrap().sheet_names();
    let at = names.iter().position(|n| n == name).unwrap_or_else(|| panic!("no sheet {name}"));
    part_of(bytes, &format!("xl/worksheets/sheet{}.xml", at + 1))
}

/// Internal links of a sheet: cell, place.
fn links_of(bytes: &[u8], sheet: &str) -> Vec<(String, String)> {
    let part = sheet_part(bytes, sheet);
    let of = |tag: &str, name: &str| {
        let (_, rest) = tag.split_once(&format!("{name}=\"")).unwrap_or_default();
        rest.split('"').next().unwrap_or("").to_owned()
    };
    part.split("<hyperlink ").skip(1).map(|tag| (of(tag, "ref"), of(tag, "location"))).collect()
}

/// Lines begin in row 3, below the totals and the headings. The first room has four, so the second's begin in row 7, and the
/// third's in row 11; the fourth room has none. Rooms stand from row 3 on.
#[test]
fn a_room_leads_to_its_lines() {
    let mut job = Job::new();
    let wanted =
        [("A3", "Lines!A3"), ("A4", "Lines!A7"), ("A5", "Lines!A11")].map(|(a, b)| (a.to_owned(), b.to_owned()));
    assert_eq!(links_of(&job.bytes(), "Rooms"), wanted);
    // the numbers of the rooms are still numbers, by which sums look for lines
    assert_eq!(job.book().column("Rooms", "Ref")[..3], [1.0, 2.0, 3.0].map(Data::Float));
    job.limits.cells_in_memory = 3;
    assert_eq!(links_of(&job.bytes(), "Rooms"), wanted);
    assert_eq!(job.book().column("Rooms", "Ref")[..3], [1.0, 2.0, 3.0].map(Data::Float));
    // six lines fit a sheet below its two rows, so the third room begins with the third line of the second sheet
    job.limits.sheet_rows = 8;
    assert_eq!(links_of(&job.bytes(), "Rooms")[2].1, "'Lines 2'!A5");
}

/// What leads to a result folds into it: the worked-out columns of rooms (G to J, after Ref and five that were read) into the price, need and
/// waste (G and H) into the quantity, hours for one (N) into the hours.
#[test]
fn working_columns_fold() {
    let folded = |sheet: &str| {
        let part = sheet_part(&Job::new().bytes(), sheet);
        let (columns, _) = part.split_once("</cols>").unwrap();
        let number = |tag: &str, name: &str| {
            tag.split_once(&format!("{name}=\"")).and_then(|(_, r)| r.split('"').next()?.parse::<u16>().ok()).unwrap()
        };
        let level = columns.split("<col ").filter(|c| c.contains("outlineLevel=\"1\""));
        level.flat_map(|c| number(c, "min")..=number(c, "max")).collect::<Vec<u16>>()
    };
    assert_eq!(folded("Rooms"), [7, 8, 9, 10]);
    assert_eq!(folded("Lines"), [6, 7, 14]);
}

/// Each heading of Rooms and Lines bears a note; a worked-out column's says its statement.
#[test]
fn every_heading_bears_a_note() {
    let job = Job::new();
    let bytes = job.bytes();
    for (sheet, row) in [("Rooms", 1u32), ("Lines", 1)] {
        let names = job.book().0.sheet_names();
        let at = names.iter().position(|n| n == sheet).unwrap() + 1;
        let rels = part_of(&bytes, &format!("xl/worksheets/_rels/sheet{at}.xml.rels"));
        let (_, rest) = rels.split_once("../comments").unwrap();
        let comments = part_of(&bytes, &format!("xl/comments{}", rest.split('"').next().unwrap()));
        let range = job.book().values(sheet);
        for (column, heading) in range.rows().nth(row as usize).unwrap().iter().enumerate() {
            let cell =
                format!("ref=\"{}{}\"", hardlid::source::column_letters(u16::try_from(column).unwrap()), row + 1);
            // columns that no field reads have nothing to tell
            let travels = ["Remarks"].contains(&heading.to_string().as_str());
            assert_eq!(comments.contains(&cell), !travels, "{sheet}, {heading}");
        }
    }
}

/// A workbook with values only has no formula, and the same values.
#[test]
fn a_workbook_of_values_only_has_no_formula() {
    for in_memory in [Limits::default().cells_in_memory, 3] {
        let mut job = Job::new();
        job.limits.cells_in_memory = in_memory;
        let mut live = job.book();
        job.limits = Limits { cells_in_memory: in_memory, ..Limits::values_only() };
        let (bytes, mut values) = (job.bytes(), job.book());
        for sheet in ["Bid", "Rooms", "Lines", "Order"] {
            let part = sheet_part(&bytes, sheet);
            assert!(!part.contains("<f>") && !part.contains("<f "), "{sheet}");
        }
        assert_eq!(values.amount("Material"), Data::Float(1081.86));
        for (sheet, heading) in
            [("Rooms", "Cost ($)"), ("Lines", "Cost ($)"), ("Lines", "Hours"), ("Order", "Cost ($)")]
        {
            assert_eq!(values.column(sheet, heading), live.column(sheet, heading), "{sheet}, {heading}");
        }
    }
}

/// Contrast of two colors by WCAG 2.
fn contrast(a: u32, b: u32) -> f64 {
    let light = |color: u32| {
        let channel = |shift: u32| {
            let c = f64::from((color >> shift) & 0xFF) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(16) + 0.7152 * channel(8) + 0.0722 * channel(0) + 0.05
    };
    let (a, b) = (light(a), light(b));
    if a > b { a / b } else { b / a }
}

/// Every format of the file: letters against what they stand on, as the part of styles has them.
#[test]
fn every_format_of_the_file_can_be_read() {
    let styles = part_of(&Job::stopped().bytes(), "xl/styles.xml");
    let list = |tag: &str| {
        styles.split_once(&format!("<{tag} ")).unwrap().1.split_once(&format!("</{tag}>")).unwrap().0.to_owned()
    };
    let rgb = |part: &str, tag: &str| {
        let (_, rest) = part.split_once(&format!("<{tag} rgb=\"FF"))?;
        u32::from_str_radix(rest.get(..6)?, 16).ok()
    };
    let fonts: Vec<u32> = list("fonts").split("<font>").skip(1).map(|f| rgb(f, "color").unwrap_or(0)).collect();
    let fills: Vec<u32> =
        list("fills").split("<fill>").skip(1).map(|f| rgb(f, "fgColor").unwrap_or(0xFF_FFFF)).collect();
    let number = |xf: &str, name: &str| {
        let (_, rest) = xf.split_once(&format!("{name}=\"")).unwrap();
        rest.split('"').next().unwrap().parse::<usize>().unwrap()
    };
    let formats = list("cellXfs");
    let pairs: Vec<(u32, u32)> =
        formats.split("<xf ").skip(1).map(|xf| (fonts[number(xf, "fontId")], fills[number(xf, "fillId")])).collect();
    // headings and the word for what stops are among them
    assert!(pairs.contains(&(0xFF_FFFF, 0x25_4E5A)) && pairs.contains(&(0xFF_FFFF, 0x64_2A4F)));
    for (text, fill) in pairs {
        assert!(contrast(text, fill) >= 4.5, "{text:06X} on {fill:06X}");
    }
}

/// Every sheet that is shown prints its headings, the job's name and the page's number; the Bid is one page.
#[test]
fn every_sheet_prints_with_headings_and_numbered_pages() {
    let mut book = Job::new().book();
    let bytes = Job::new().bytes();
    let workbook = part_of(&bytes, "xl/workbook.xml");
    for sheet in book.0.sheet_names() {
        let metadata = book.0.sheets_metadata();
        if metadata.iter().any(|s| s.name == sheet && s.visible != calamine::SheetVisible::Visible) {
            continue;
        }
        let part = sheet_part(&bytes, &sheet);
        // a sign that headers take for a code stands twice
        assert!(part.contains("East &amp;&amp; West wing rooms.xlsx"), "{sheet}");
        assert!(part.contains("Page &amp;P of &amp;N"), "{sheet}");
        let titles = format!(
            "_xlnm.Print_Titles\" localSheetId=\"{}\"",
            book.0.sheet_names().iter().position(|n| *n == sheet).unwrap()
        );
        // a bid is a page, and plans have their name each
        assert_eq!(workbook.contains(&titles), !["Bid", "Plans"].contains(&sheet.as_str()), "{sheet}");
    }
    let bid = sheet_part(&bytes, "Bid");
    assert!(bid.contains("fitToPage=\"1\"") && !bid.contains("fitToHeight=\"0\"") && !bid.contains("fitToWidth=\"0\""));
    book.find("Bid", "Total");
}
