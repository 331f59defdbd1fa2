//! Texts that a spreadsheet, an XML reader or a person's eye would like to take for something else: they are written as
//! the texts that they are, or a problem names their cell.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use calamine::{Data, Range, Reader as _, Xlsx};
use hardlid::command::{Ended, run};
use hardlid::quantity::Date;
use hardlid::system::Memory;
use hardlid::workbook::open::open;
use rust_xlsxwriter::Workbook;
use std::io::Cursor;

const HOUSE: &str = "\
book \"House\"  edition \"1\"
rows job  from \"Job\"
    project  text  heading \"Project\"  may be blank
end
rows rooms  from \"Rooms\"
    id     text    heading \"Room\"   key
    level  text    heading \"Level\"  may be blank
    sort   text    heading \"Sort\"
    long   length  heading \"Long\"
end
for rooms
    item tee  \"Tee\"  code sort  need long
end
for job
    material  \"Material\"  =  sum of lines (cost) where kind is material
    total     \"Total\"     =  material
end
";

/// Texts of which each is a room's name, level, code, remark, and an item and supplier of the price book.
fn texts() -> Vec<String> {
    let mut out: Vec<String> = [
        "=1+1",
        "+1+1",
        "-2+3",
        "@SUM(A1)",
        "=HYPERLINK(\"http://example.invalid\",\"see\")",
        "=run|' /C calc'!A0",
        "{=1+1}",
        "'=1",
        "http://example.invalid/a",
        "internal:Bid!A1",
        "mailto:a@example.invalid",
        "tab\there",
        "two\nlines",
        "bell\u{7}and\u{1}more",
        "_x0041_",
        "_x000D_",
        "quotes \" ' '' \"\" end",
        "<b>&amp;</b>",
        "]]><![CDATA[x]]>",
        "&#x41;&lt;",
        "  leading",
        "trailing  ",
        "in  the  middle",
        "\u{a0}hard spaces\u{a0}",
        "👩‍👩‍👧 🏗️ ∅",
        "\u{202e}from the right\u{202c}",
        "\u{200f}אבג",
        "\u{feff}mark first",
        "e\u{301}",
        "TRUE",
        "1e5",
        "0012",
        "%s{0}\\n",
    ]
    .map(str::to_owned)
    .to_vec();
    out.push("x".repeat(32_767));
    // two units of UTF-16 each
    out.push("🏗".repeat(16_383));
    out
}

fn workbook(sheets: &[(&str, Vec<Vec<String>>)]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows) {
            for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
                sheet.write_string(row, column, text).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

fn row(cells: &[&str]) -> Vec<String> {
    cells.iter().map(|c| (*c).to_owned()).collect()
}

fn machine(texts: &[String], project: &str) -> Memory {
    let rooms = texts.iter().map(|t| row(&[t, t, t, "10'", t]));
    let rooms = std::iter::once(row(&["Room", "Level", "Sort", "Long", "Remarks"])).chain(rooms).collect();
    let prices = texts.iter().map(|t| row(&[t, t, "ft", "1.00", t]));
    let prices = std::iter::once(row(&["Code", "Item", "Sold by", "Cost", "Supplier"])).chain(prices).collect();
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", vec![row(&["Project", project])])]))
        .with("yard.xlsx", workbook(&[("Prices", prices)]))
        .with("house.lid", HOUSE)
}

struct Read(Xlsx<Cursor<Vec<u8>>>);

impl Read {
    fn sheet(&mut self, name: &str) -> Range<Data> {
        self.0.worksheet_range(name).unwrap()
    }

    /// The texts below a heading.
    fn column(&mut self, sheet: &str, heading: &str) -> Vec<String> {
        let range = self.sheet(sheet);
        let rows: Vec<&[Data]> = range.rows().collect();
        let is = |c: &Data| matches!(c, Data::String(t) if t == heading);
        let at = rows.iter().position(|r| r.iter().any(is)).unwrap_or_else(|| panic!("no {heading} on {sheet}"));
        let column = rows[at].iter().position(is).unwrap();
        rows[at + 1..]
            .iter()
            .map(|r| if let Data::String(t) = &r[column] { t.clone() } else { format!("{:?}", r[column]) })
            .collect()
    }
}

/// A text of the price book as its sheets show it: one line, one space between words.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn price(machine: &Memory) -> (Ended, Read) {
    let ended = run("hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx".split(' '), machine);
    (ended, Read(Xlsx::new(Cursor::new(machine.bytes("rooms.priced.xlsx").unwrap())).unwrap()))
}

/// Every text in every place, and no formula but those of a workbook with plain texts in their stead.
#[test]
fn hostile_texts_stay_the_texts_that_they_are() {
    let texts = texts();
    let (ended, mut read) = price(&machine(&texts, "=1+1"));
    assert_eq!(ended, Ended::Done);
    for heading in ["Room", "Level", "Sort", "Remarks"] {
        assert_eq!(read.column("Rooms", heading), texts, "{heading}");
    }
    assert_eq!(read.column("Lines", "Room"), texts);
    let lines: Vec<String> = texts.iter().map(|t| one_line(t)).collect();
    assert_eq!(read.column("Lines", "Code"), lines);
    let places = [
        ("Prices", "Code"),
        ("Prices", "Item or work"),
        ("Prices", "Supplier or crew"),
        ("Order", "Code"),
        ("Order", "Supplier"),
    ];
    for (sheet, heading) in places {
        let column = read.column(sheet, heading);
        let missing: Vec<&String> = lines.iter().filter(|t| !column.contains(t)).collect();
        assert!(missing.is_empty(), "{sheet}, {heading}: {missing:?}");
    }
    assert!(read.sheet("Bid").rows().flatten().any(|c| matches!(c, Data::String(t) if t == "=1+1")));
    let plain: Vec<String> = (0..texts.len()).map(|i| format!("N{i}")).collect();
    let (ended, mut of_plain) = price(&machine(&plain, "Project"));
    assert_eq!(ended, Ended::Done);
    assert_eq!(read.0.sheet_names(), of_plain.0.sheet_names());
    for sheet in read.0.sheet_names() {
        let places = |read: &mut Read| {
            let range = read.0.worksheet_formula(&sheet).unwrap();
            let (row, column) = range.start().unwrap_or_default();
            let used = range.used_cells().filter(|c| !c.2.is_empty());
            used.map(|(r, c, f)| (row as usize + r, column as usize + c, wherever_priced(f))).collect::<Vec<_>>()
        };
        assert_eq!(places(&mut read), places(&mut of_plain), "{sheet}");
    }
    // prices stand in order of code: each line looks at the row of its own
    let (lines, formulas) = (read.sheet("Lines"), read.0.worksheet_formula("Lines").unwrap());
    let codes = read.sheet("Prices");
    let looks: Vec<(u32, u32)> = (2..lines.end().unwrap().0 + 1)
        .filter_map(|row| {
            let mut cells = (0..lines.end().unwrap().1).filter_map(|c| formulas.get_value((row, c)));
            let cell = cells.find_map(|f| f.strip_prefix("Prices!$G$"))?;
            Some((row, cell.parse::<u32>().unwrap() - 1))
        })
        .collect();
    assert_eq!(looks.len(), texts.len());
    let code = (0..9).find(|c| lines.get_value((1, *c)) == Some(&Data::String("Code".to_owned()))).unwrap();
    for (line, price) in looks {
        assert_eq!(lines.get_value((line, code)), codes.get_value((price, 0)), "line {line}");
    }
}

/// A formula that looks at a price, without the row that the price stands in.
fn wherever_priced(formula: &str) -> String {
    match formula.strip_prefix("Prices!$G$") {
        Some(row) if row.parse::<u32>().is_ok() => "Prices!$G$n".to_owned(),
        _ => formula.to_owned(),
    }
}

/// A cell holds 32,767 units of UTF-16; a csv text may hold more of them. One letter less or more decides, and letters of
/// two bytes count as one.
#[test]
fn a_csv_text_too_long_for_a_cell_is_refused_by_its_line() {
    let remark = |text: String| {
        let rooms = format!("Room,Sort,Long,Remarks\n1,A,10',{text}\n");
        let machine = machine(&["A".to_owned()], "P").with("rooms.csv", rooms);
        let words = "hardlid price rooms.csv --rules house.lid --prices yard.xlsx -o out.xlsx";
        let ended = run(words.split(' '), &machine);
        (ended, machine.bytes("out.xlsx"))
    };
    for long in ["x".repeat(32_767), "א".repeat(32_767)] {
        let (ended, bytes) = remark(long.clone());
        assert_eq!(ended, Ended::Done);
        let mut read = Read(Xlsx::new(Cursor::new(bytes.unwrap())).unwrap());
        assert!(read.column("Rooms", "Remarks") == [long]);
    }
    assert_eq!(remark("x".repeat(32_768)), (Ended::Failed, None));
    // blank lines are lines, whatever they end with
    for end in ["\n", "\r\n"] {
        let text = ["Room", "", "", &"x".repeat(32_768), ""].join(end);
        let told = open("rooms.csv", text.into_bytes()).and_then(|mut book| book.grid("rooms")).unwrap_err();
        assert!(told.what.contains("A text on line 4 is longer than"), "{}", told.what);
    }
}

/// A cell of a csv text is named by its line, and blank lines are lines: line 5 in both.
#[test]
fn a_cell_below_blank_lines_of_a_csv_text_is_named_by_its_line() {
    for end in ["\n", "\r\n"] {
        let rooms = ["Room,Sort,Long", "", "1,A,10'", "", "2,A,ten", ""].join(end);
        let machine = machine(&["A".to_owned()], "P").with("rooms.csv", rooms);
        let words = "hardlid price rooms.csv --rules house.lid --prices yard.xlsx -o out.xlsx";
        assert_eq!(run(words.split(' '), &machine), Ended::WithStops);
        let mut read = Read(Xlsx::new(Cursor::new(machine.bytes("out.xlsx").unwrap())).unwrap());
        let checks = read.sheet("Checks");
        let place = |c: &Data| matches!(c, Data::String(t) if t.contains("C5"));
        assert!(checks.rows().flatten().any(place), "{:?}", checks.rows().collect::<Vec<_>>());
    }
}
