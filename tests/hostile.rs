//! Texts that a spreadsheet, an XML reader or a person's eye would like to take for something else: they are written as
//! the texts that they are, or a problem names their cell.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use calamine::{Data, Range, Reader as _, Xlsx};
use common::{parts, with_part, with_parts, workbook, workbook_of};
use hardlid::command::{Ended, run};
use hardlid::quantity::Date;
use hardlid::reprice::audit::audit;
use hardlid::system::Memory;
use hardlid::workbook::carried::carried_in;
use hardlid::workbook::open::open;
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
        "nothing\0between",
        "\0",
        "carriage\rreturn",
        "both\r\nof them",
        "no letter \u{fffe}\u{ffff}",
        "\u{ffff}",
        "line\u{2028}and paragraph\u{2029}",
        "next\u{85}line",
        "_x0041_",
        "_x000D_",
        "_x001f_",
        "_x005F_x000D_",
        "_x_x0000__x0000_",
        "_xD800_",
        "_xFFFE_",
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

fn row(cells: &[&str]) -> Vec<String> {
    cells.iter().map(|c| (*c).to_owned()).collect()
}

fn machine(texts: &[String], project: &str) -> Memory {
    let rooms = texts.iter().map(|t| row(&[t, t, t, "10'", t]));
    let rooms: Vec<_> = std::iter::once(row(&["Room", "Level", "Sort", "Long", "Remarks"])).chain(rooms).collect();
    let prices = texts.iter().map(|t| row(&[t, t, "ft", "1.00", t]));
    let prices: Vec<_> = std::iter::once(row(&["Code", "Item", "Sold by", "Cost", "Supplier"])).chain(prices).collect();
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook_of(&[("Rooms", rooms), ("Job", vec![row(&["Project", project])])]))
        .with("yard.xlsx", workbook_of(&[("Prices", prices)]))
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

/// What every reader of XML refuses in a part: control characters, and the two that are none. A reference to one is no
/// way around it.
fn is_xml(name: &str, part: &[u8]) {
    if ![".xml", ".rels", ".vml", ".svg"].iter().any(|end| name.ends_with(end)) {
        return;
    }
    let text = std::str::from_utf8(part).unwrap_or_else(|e| panic!("{name}: {e}"));
    let bad = |c: &char| *c < ' ' && !matches!(c, '\t' | '\n' | '\r') || matches!(c, '\u{fffe}' | '\u{ffff}');
    if let Some((at, c)) = text.char_indices().find(|(_, c)| bad(c)) {
        let from = text[..at].char_indices().rev().nth(80).map_or(0, |(i, _)| i);
        panic!("{name} has {c:?} after {}", &text[from..at]);
    }
    for piece in text.split("&#").skip(1) {
        let reference = piece.split(';').next().unwrap();
        let digits = reference.strip_prefix('x');
        let code = digits.map_or_else(|| reference.parse(), |hex| u32::from_str_radix(hex, 16)).unwrap();
        assert!(char::from_u32(code).is_some_and(|c| !bad(&c)), "{name}: &#{reference};");
    }
}

fn all_xml(bytes: &[u8]) {
    parts(bytes).iter().for_each(|(name, part)| is_xml(name, part));
}

/// The same texts where a name or an attribute may come of them: headings, the job's names and values, notes typed beside
/// lines, rooms with plans, and a sheet whose name the house book gives.
#[test]
fn hostile_texts_leave_every_part_a_part_of_a_workbook() {
    let texts = texts();
    let heads: Vec<String> = texts.iter().filter(|t| !one_line(t).is_empty()).cloned().collect();
    // headings that nobody asked for, and lines of the job that nobody knows
    let first: Vec<String> = row(&["Room", "Sort", "Long"]).into_iter().chain(heads.iter().cloned()).collect();
    let second: Vec<String> = row(&["1", "A", "10'"]).into_iter().chain(heads.iter().map(|_| "x".to_owned())).collect();
    let job: Vec<_> = texts.iter().map(|t| vec![t.clone(), t.clone()]).chain([row(&["Project", "P"])]).collect();
    let machine = machine(&["A".to_owned()], "P")
        .with("rooms.xlsx", workbook_of(&[("Rooms", vec![first, second]), ("Job", job)]));
    let (ended, mut read) = price(&machine);
    assert_eq!(ended, Ended::Done);
    all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
    let rooms = read.sheet("Rooms");
    let found: Vec<String> = rooms.rows().nth(1).unwrap().iter().map(ToString::to_string).collect();
    for heading in &heads {
        assert!(found.contains(&one_line(heading)), "{heading:?} is no heading of Rooms");
    }
    for project in &texts {
        let machine = self::machine(&["A".to_owned()], project);
        let (ended, mut read) = price(&machine);
        assert_eq!(ended, Ended::Done, "{project:?}");
        all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
        let shown = one_line(project);
        let is = |c: &Data| matches!(c, Data::String(t) if one_line(t) == shown);
        assert!(shown.is_empty() || read.sheet("Bid").rows().flatten().any(is), "{project:?} is not on the Bid");
    }
}

/// Rooms that are stopped are links on the Bid and on Checks.
#[test]
fn stopped_rooms_with_hostile_names_are_told() {
    for some in texts().chunks(5) {
        let rooms = some.iter().map(|t| row(&[t, "A", "ten"]));
        let rooms: Vec<_> = std::iter::once(row(&["Room", "Sort", "Long"])).chain(rooms).collect();
        let machine = machine(&["A".to_owned()], "P").with("rooms.xlsx", workbook_of(&[("Rooms", rooms)]));
        let (ended, mut read) = price(&machine);
        assert_eq!(ended, Ended::WithStops);
        all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
        assert_eq!(read.column("Checks", "Row"), some);
    }
}

/// A note of each text beside the line of a room of its own stays with it.
#[test]
fn hostile_notes_stay_with_their_lines() {
    let texts = texts();
    let plain: Vec<String> = (0..texts.len()).map(|i| format!("N{i}")).collect();
    let machine = machine(&plain, "P");
    let heads = ["Room", "Item or work", "Code", "Unit", "Own quantity", "Own unit cost ($)", "Own note"];
    let lines = plain.iter().zip(&texts).map(|(name, note)| row(&[name, "Tee", name, "ft", "", "", note]));
    let earlier = workbook_of(&[("Lines", std::iter::once(row(&heads)).chain(lines).collect::<Vec<_>>())]);
    // the mark of a workbook that we wrote
    assert_eq!(price(&machine).0, Ended::Done);
    let first = machine.bytes("rooms.priced.xlsx").unwrap();
    let lines_of = |bytes: &[u8], sheet: usize| {
        let name = format!("xl/worksheets/sheet{sheet}.xml");
        parts(bytes).into_iter().find(|(part, _)| *part == name).unwrap().1
    };
    let at =
        Read(Xlsx::new(Cursor::new(first.clone())).unwrap()).0.sheet_names().iter().position(|s| s == "Lines").unwrap()
            + 1;
    // inline texts, since the table of texts is the other workbook's
    let mut inline = String::from_utf8(lines_of(&earlier, 1)).unwrap();
    let table = parts(&earlier).into_iter().find(|(part, _)| part == "xl/sharedStrings.xml").unwrap().1;
    let table = String::from_utf8(table).unwrap();
    let strings: Vec<&str> = table.split("<si>").skip(1).map(|si| si.split("</si>").next().unwrap()).collect();
    for (number, text) in strings.iter().enumerate().rev() {
        inline = inline.replace(&format!(" t=\"s\"><v>{number}</v>"), &format!(" t=\"inlineStr\"><is>{text}</is>"));
    }
    let typed = with_parts(&first, |name, held| {
        Some(if name == format!("xl/worksheets/sheet{at}.xml") { inline.clone().into_bytes() } else { held })
    });
    let machine = machine.with("rooms.priced.xlsx", typed);
    let (ended, mut read) = price(&machine);
    assert_eq!(ended, Ended::Done);
    all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
    let notes = read.column("Lines", "Own note");
    for (note, found) in texts.iter().zip(&notes) {
        // a note of blanks alone is none
        let kept = if note.trim().is_empty() { "Empty" } else { note.as_str() };
        assert!(found == kept, "{note:?} came back as {found:?}");
    }
    // and is carried along, however long
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let carried = carried_in(&mut open("rooms.priced.xlsx", bytes.clone()).unwrap()).unwrap();
    let carried: Vec<&str> = carried.own.iter().filter_map(|entry| entry.own.note.as_deref()).collect();
    let kept: Vec<&str> = texts.iter().map(String::as_str).filter(|note| !note.trim().is_empty()).collect();
    assert!(carried == kept);
    let found = audit("rooms.priced.xlsx", &bytes).unwrap();
    assert!(found.typed.iter().all(|typed| typed.before) && !found.is_changed());
}

/// Plans say what room they are for, as a title, beside the picture and in the file's name.
#[test]
fn rooms_with_hostile_names_have_plans_that_open() {
    let texts = texts();
    let sizes = (0u32..).map(|i| (format!("{}'", 8 + i % 5), format!("{}'-{}\"", 7 + i / 12, i % 12)));
    let rooms = texts.iter().zip(sizes).map(|(t, (long, wide))| row(&[t, &long, &wide]));
    let rooms: Vec<_> = std::iter::once(row(&["Room", "Length", "Width"])).chain(rooms).collect();
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap()).with("rooms.xlsx", workbook_of(&[("Rooms", rooms)]));
    assert_eq!(run("hardlid price rooms.xlsx --plans plans".split(' '), &machine), Ended::Done);
    all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
    let plans: Vec<_> = machine.names().into_iter().filter(|p| p.starts_with("plans")).collect();
    assert_eq!(plans.len(), texts.len());
    for plan in plans {
        is_xml("plan.svg", &machine.bytes(plan.display().to_string()).unwrap());
        let name = plan.file_name().unwrap().to_string_lossy().into_owned();
        assert!(name.len() <= 255 && !name.contains(|c: char| c.is_control() || "/\\:*?\"<>|".contains(c)), "{name:?}");
    }
    let mut read = Read(Xlsx::new(Cursor::new(machine.bytes("rooms.priced.xlsx").unwrap())).unwrap());
    assert_eq!(read.column("Rooms", "Room"), texts);
    let links = links_of(&machine.bytes("rooms.priced.xlsx").unwrap());
    // each room has its lines and its plan, and each plan its room
    for (to, least) in [("Lines!A", texts.len()), ("Plans!A", texts.len()), ("Rooms!A", texts.len())] {
        assert!(links.iter().filter(|(place, _)| place.starts_with(to)).count() >= least, "{to}");
    }
}

/// Settings stay the texts that they are, where they were given and where they count; what no formula can hold counts for
/// nothing there.
#[test]
fn hostile_settings_stay_texts() {
    let texts = texts();
    for three in texts.chunks(3).filter(|three| three.len() == 3) {
        let rooms = vec![row(&["Room", "Length", "Width"]), row(&["101", "12'", "10'"])];
        let names = ["Tee section", "Strongback section", "Preferred supplier"];
        let job = names.iter().zip(three).map(|(name, text)| row(&[name, text])).collect();
        let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
            .with("rooms.xlsx", workbook_of(&[("Rooms", rooms), ("Job", job)]))
            .with("yard.xlsx", workbook_of(&[("Prices", vec![row(&["Code", "Item", "Sold by", "Cost"])])]));
        run("hardlid price rooms.xlsx --prices yard.xlsx".split(' '), &machine);
        let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
        all_xml(&bytes);
        links_of(&bytes);
        let mut read = Read(Xlsx::new(Cursor::new(bytes)).unwrap());
        let settings = read.column("Job", "Setting");
        let [given, counts, before] = ["Yours to type in", "Counts as", "When priced"].map(|h| read.column("Job", h));
        for (name, text) in names.iter().zip(three) {
            let at = settings.iter().position(|s| s == name).unwrap();
            assert_eq!((&given[at], &before[at]), (text, text), "{name}");
            let plain = text.chars().count() <= 255 && !text.chars().any(char::is_control);
            let counted = if counts[at] == "Empty" { "" } else { &counts[at] };
            // spaces at the ends do not count
            assert!(!plain || counted.trim() == text.trim(), "{name}: {text:?} counts as {counted:?}");
        }
    }
}

/// Where the links of a workbook lead, and what their cells are said to show. Each leads to a cell by letters and a number on a sheet
/// that we name, and none to a file or an address.
fn links_of(bytes: &[u8]) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for (name, part) in parts(bytes).iter().filter(|(name, _)| name.starts_with("xl/worksheets/")) {
        let text = std::str::from_utf8(part).unwrap();
        assert!(!text.contains("TargetMode") && !text.contains("relationships/hyperlink"), "{name}");
        for tag in text.split("<hyperlink ").skip(1) {
            let tag = tag.split_once("/>").unwrap().0;
            let of = |name: &str| {
                let value = tag.split_once(&format!("{name}=\"")).and_then(|(_, rest)| rest.split('"').next());
                value.unwrap_or("").to_owned()
            };
            let (place, shown) = (of("location"), of("display"));
            let (sheet, cell) = place.split_once('!').unwrap();
            assert!(["Bid", "Rooms", "Lines", "Plans"].contains(&sheet), "{place}");
            let number = cell.trim_start_matches(|c: char| c.is_ascii_uppercase());
            assert!(number.parse::<u32>().is_ok(), "{place}");
            assert!(!tag.contains("r:id"), "{place}");
            if sheet == "Bid" {
                assert_eq!(shown, "on Bid");
            } else if sheet != "Rooms" {
                assert_eq!(shown, place, "a link from a room shows where it leads, and no text of the input");
            }
            out.push((place, shown));
        }
    }
    out
}

/// A name that a sheet cannot have, from the house book and the rooms workbook alike.
#[test]
fn a_sheet_with_a_hostile_name_is_written_under_one_that_opens() {
    for name in ["Op\u{fffe}en\u{ffff}ings", "It's & <more>", "'quoted'", "History", "a]b", "A1"] {
        let house = format!(
            "{HOUSE}rows openings  from \"{name}\"  belong to rooms by \"Room\"\n    around  length  heading \"Around\"\nend\n\
             for openings\n    item trim  \"Trim\"  code \"A\"  need around\nend\n"
        );
        // the sheet's name goes in afterwards, since not every name may be given to one
        let rooms: &[&[&str]] = &[&["Room", "Sort", "Long"], &["1", "A", "10'"]];
        let openings: &[&[&str]] = &[&["Room", "Around"], &["1", "8'"]];
        let bytes = workbook(&[("Rooms", rooms), ("PLACE", openings)]);
        let escaped = name.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        let bytes = with_part(&bytes, "xl/workbook.xml", |part| part.replace("PLACE", &escaped));
        let machine = machine(&["A".to_owned()], "P").with("house.lid", house).with("rooms.xlsx", bytes);
        let (ended, mut read) = price(&machine);
        assert_eq!(ended, Ended::Done, "{name:?}");
        all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
        let sheets = read.0.sheet_names();
        let mut around = |sheet: &String| {
            read.0
                .worksheet_range(sheet)
                .unwrap()
                .rows()
                .flatten()
                .any(|c| matches!(c, Data::String(t) if t == "Around"))
        };
        assert_eq!(sheets.iter().filter(|s| around(s)).count(), 1, "{name:?}: {sheets:?}");
        // 10 ft and 8 ft at 1.00
        let total = read.sheet("Bid");
        assert!(
            total.rows().any(|r| matches!(&r[0], Data::String(t) if t == "Total") && r[2] == Data::Float(18.0)),
            "{name:?}"
        );
    }
}

/// Half a pair of UTF-16 is no letter, and comes back as one that says so; a whole pair is a letter. Neither goes by in
/// silence.
#[test]
fn half_a_letter_is_told_by_its_cell() {
    let rooms = |raw: &str| {
        let rooms: &[&[&str]] =
            &[&["Room", "Sort", "Long", "HEADING"], &["PLACE", "A", "10'", "x"], &["2", "A", "1'", "PLACE"]];
        let bytes = workbook(&[("Rooms", rooms), ("Job", &[&["Project", "PROJECT"], &["JOB", "x"]])]);
        let parts =
            |part: &str| part.replace("PLACE", raw).replace("HEADING", raw).replace("PROJECT", raw).replace("JOB", raw);
        machine(&["A".to_owned()], "P").with("rooms.xlsx", with_part(&bytes, "xl/sharedStrings.xml", parts))
    };
    let machine = rooms("a_xD83D__xDE00_b");
    let (ended, mut read) = price(&machine);
    assert_eq!((ended, read.column("Rooms", "Room")[0].as_str()), (Ended::Done, "a\u{1f600}b"));
    assert!(!read.column("Checks", "Check").iter().any(|c| c == "unreadable letter"));
    for raw in ["a_xD800_b", "a_xDC00_b", "a_xDE00__xD83D_b", "a\u{fffd}b"] {
        let machine = rooms(raw);
        let (ended, mut read) = price(&machine);
        assert_eq!(ended, Ended::Done, "{raw}");
        all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
        let shown = if raw.contains("__") { "a\u{fffd}\u{fffd}b" } else { "a\u{fffd}b" };
        assert_eq!(read.column("Rooms", "Room"), [shown, "2"], "{raw}");
        let (check, what) = (read.column("Checks", "Check"), read.column("Checks", "What is wrong"));
        let told: Vec<&String> =
            check.iter().zip(&what).filter(|(c, _)| *c == "unreadable letter").map(|(_, w)| w).collect();
        assert_eq!(told.len(), 2, "{raw}: {told:?}");
        // the heading and two cells of Rooms; a value and a name of the job
        assert!(told.iter().any(|w| w.starts_with("3 texts have a letter that cannot be read")), "{told:?}");
        assert!(told.iter().any(|w| w.starts_with("2 texts have a letter that cannot be read")), "{told:?}");
    }
}

/// What no cell of ours could hold is refused by its cell, in a room, a heading, the job, a note and a price book.
#[test]
fn a_text_too_long_for_a_cell_is_refused_by_its_cell() {
    let long = |n: usize| "x".repeat(n);
    let rooms: &[&[&str]] = &[&["Room", "Sort", "Long", "HEADING"], &["PLACE", "A", "10'", "x"]];
    let rooms = workbook(&[("Rooms", rooms), ("Job", &[&["Project", "VALUE"], &["NAME", "x"]])]);
    let prices: &[&[&str]] = &[&["Code", "Item", "Sold by", "Cost"], &["A", "ITEM", "ft", "1.00"]];
    let prices = workbook(&[("Prices", prices)]);
    let places = [("PLACE", "A2"), ("HEADING", "D1"), ("VALUE", "B1"), ("NAME", "A2"), ("ITEM", "B2")];
    for (place, cell) in places {
        let with = |text: &str| {
            let put = |bytes: &[u8]| with_part(bytes, "xl/sharedStrings.xml", |part| part.replace(place, text));
            machine(&[], "P").with("rooms.xlsx", put(&rooms)).with("yard.xlsx", put(&prices))
        };
        for text in [long(32_767), "🏗".repeat(16_383)] {
            let machine = with(&text);
            assert_eq!(price(&machine).0, Ended::Done, "{place}");
            all_xml(&machine.bytes("rooms.priced.xlsx").unwrap());
        }
        for text in [long(32_768), "🏗".repeat(16_384)] {
            let machine = with(&text);
            let words = "hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx";
            assert_eq!(run(words.split(' '), &machine), Ended::Failed, "{place}");
            assert_eq!(machine.bytes("rooms.priced.xlsx"), None, "{place}");
            let file = if place == "ITEM" { "yard.xlsx" } else { "rooms.xlsx" };
            let sheet = match place {
                "ITEM" => "Prices",
                "VALUE" | "NAME" => "Job",
                _ => "Rooms",
            };
            let told = open(file, machine.bytes(file).unwrap()).unwrap().grid(sheet).unwrap_err();
            assert_eq!(told.what, format!("The text in {cell} is longer than the 32,767 letters that a cell holds."));
        }
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
