//! What an estimator types into a priced workbook over what was read, taken over when the bid is priced again.
//!
//! Board is $1 a square foot, wire 50 cents a foot, four wires a room as long as the drop, which the price book's sheet Job
//! gives as 2 ft, and a mark-up of 10%:
//!     101   10 x 8 ft, one layer                          80 sf  $80.00   8 ft of wire  $4.00
//!     102   12 x 10 ft less 2 x 3 ft, two layers         228 sf $228.00   8 ft of wire  $4.00
//! Together $316.00, and with the mark-up $347.60.

use super::common::{self, workbook};
use super::reprice::{self, file, moved};
use super::{hardlid, is, says, sheet, sheet_names};
use calamine::{Data, Range};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::reprice::audit::audit;
use hardlid::reprice::{Asked, Change, Last};
use hardlid::source::column_letters;
use hardlid::system::Memory;
use hardlid::workbook::carried::File;
use hardlid::workbook::variance::{Bid, Done, Effects};

const BOOK: &str = r#"book "Lids by area"  edition "1"
use "hardlid trade"

rows job  from "Job"
    markup  percent  heading "Mark-up"  otherwise 5%
    drop    length   heading "Drop"     otherwise 4'
    board   text     heading "Board"    one of B C  otherwise B
end

rows rooms  from "Rooms"
    id      text    heading "Room"    key
    length  length  heading "Length"  above 0
    width   length  heading "Width"   above 0
    layers  count   heading "Layers"  otherwise 1
end

rows openings  from "Openings"  belong to rooms by "Room"
    long  length  heading "Long"  above 0
    wide  length  heading "Wide"  above 0
end

for rooms
    open  "Open"  =  sum of openings (long * wide)
    net   "Net"   =  length * width - open
    item lid   "Board"  code board  need net * layers
    item wire  "Wire"   code "W"    need 4 * drop
end

for job
    direct  "Direct"  =  sum of lines (cost)
    profit  "Profit"  =  markup * direct
    total   =  direct + profit
end
"#;

fn yard(board: &str) -> Vec<u8> {
    let prices: [&[&str]; 4] = [
        &["Code", "Item", "Sold by", "Cost"],
        &["B", "Board", "sf", board],
        &["C", "Better board", "sf", "2"],
        &["W", "Wire", "lf", "0.5"],
    ];
    workbook(&[("Prices", &prices), ("Job", &[&["Drop", "2'"]])])
}

fn rooms(width: &str) -> Vec<u8> {
    let rooms: [&[&str]; 3] = [
        &["Room", "Length (ft)", "Width (ft)", "Layers", "Remark"],
        &["101", "10", width, "", "north"],
        &["102", "12", "10", "2", ""],
    ];
    let openings: [&[&str]; 2] = [&["Room", "Long (ft)", "Wide (ft)"], &["102", "2", "3"]];
    workbook(&[("Rooms", &rooms), ("Openings", &openings), ("Job", &[&["Mark-up", "10%"]])])
}

const FIRST: &str = "bids/a.priced.xlsx";
const SECOND: &str = "bids/a.priced.rev-2.xlsx";
const THIRD: &str = "bids/a.priced.rev-3.xlsx";
const PRICE: &str = "price bids/a.xlsx --rules lids.lid --prices yard.xlsx";

fn priced() -> Memory {
    let machine = Memory::new(Date::constant(2026, 3, 2))
        .with("bids/a.xlsx", rooms("8"))
        .with("yard.xlsx", yard("1"))
        .with("dearer.xlsx", yard("1.5"))
        .with("lids.lid", BOOK);
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    machine
}

/// A cell by the heading of its column and what stands first in its row, past the number of a room.
fn at(bytes: &[u8], name: &str, heading: &str, row: &str) -> String {
    let range = sheet(bytes, name);
    let start = range.start().unwrap();
    let heads = |r: &&[Data]| r.iter().any(|c| is(c, heading));
    let column = range.rows().find(heads).unwrap().iter().position(|c| is(c, heading)).unwrap();
    let row = range.rows().position(|r| r.iter().take(2).any(|c| is(c, row))).unwrap();
    format!("{}{}", column_letters(u16::try_from(column + start.1 as usize).unwrap()), row + start.0 as usize + 1)
}

/// The cell to the right of a label: settings and rates.
fn beside(bytes: &[u8], name: &str, label: &str) -> String {
    let range = sheet(bytes, name);
    let start = range.start().unwrap();
    let row = range.rows().position(|r| r[0].to_string().starts_with(label)).unwrap();
    format!("B{}", row + start.0 as usize + 1)
}

/// A workbook with a cell that holds something else, or nothing, as if somebody had typed it and saved.
fn with(bytes: &[u8], name: &str, cell: &str, value: &str) -> Vec<u8> {
    let part = format!("xl/worksheets/sheet{}.xml", sheet_names(bytes).iter().position(|s| s == name).unwrap() + 1);
    common::with_part(bytes, &part, |part| {
        let open = format!("<c r=\"{cell}\"");
        let Some(start) = part.find(&open) else {
            // a cell that held nothing, in a row that holds something
            let digits = cell.find(|c: char| c.is_ascii_digit()).unwrap();
            let row = part.find(&format!("<row r=\"{}\"", &cell[digits..])).unwrap();
            let next =
                ["F", "G", "H"].iter().find_map(|c| part[row..].find(&format!("<c r=\"{c}{}\"", &cell[digits..])));
            let here = row + next.unwrap();
            return format!("{}{}{}", &part[..here], held(cell, "", value), &part[here..]);
        };
        let head = start + part[start..].find('>').unwrap();
        let end = if part[..head].ends_with('/') { head + 1 } else { head + part[head..].find("</c>").unwrap() + 4 };
        let style = part[start..head].find("s=\"").map_or("", |s| {
            let style = &part[start + s..head];
            &style[..style[3..].find('"').unwrap() + 4]
        });
        format!("{}{}{}", &part[..start], held(cell, style, value), &part[end..])
    })
}

fn held(cell: &str, style: &str, value: &str) -> String {
    match value {
        "" => format!("<c r=\"{cell}\" {style}/>"),
        _ if value.parse::<f64>().is_ok() => format!("<c r=\"{cell}\" {style}><v>{value}</v></c>"),
        _ => {
            let text = value.replace('&', "&amp;").replace('<', "&lt;");
            format!("<c r=\"{cell}\" {style} t=\"inlineStr\"><is><t>{text}</t></is></c>")
        }
    }
}

fn asked(prices: Option<File>) -> Asked {
    Asked { as_of: Some(Date::constant(2026, 3, 2)), older_than: None, ..reprice::asked(prices) }
}

/// The bid priced again by the prices that it was priced with, with one cell typed over.
fn typed_over(name: &str, cell: impl Fn(&[u8]) -> String, value: &str) -> (Memory, Bid) {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let machine = machine.with(FIRST, with(&bytes, name, &cell(&bytes), value));
    let all = moved(&machine, &asked(None));
    assert!(all.left_out.is_empty(), "{:?}", all.left_out);
    let bid = all.bids[0].clone();
    assert_eq!(bid.done, Done::Written(SECOND.into()));
    assert_eq!(bid.remarks(), "1 cell that was typed since is taken over");
    let effects = Effects { by_hand: bid.new.unwrap() - bid.old.unwrap(), ..Effects::default() };
    assert_eq!((bid.old, bid.effects()), (Some(34_760), effects));
    (machine, bid)
}

fn cell(bytes: &[u8], name: &str, address: &str) -> Data {
    let digits = address.find(|c: char| c.is_ascii_digit()).unwrap();
    let column = address.bytes().take(digits).fold(0, |n, b| n * 26 + u32::from(b - b'A') + 1) - 1;
    let range: Range<Data> = sheet(bytes, name);
    range.get_value((address[digits..].parse::<u32>().unwrap() - 1, column)).cloned().unwrap_or(Data::Empty)
}

fn width_of_101(bytes: &[u8]) -> String {
    at(bytes, "Rooms", "Width (ft)", "101")
}

/// 10 x 9 ft are 10 sf more: $10.00 and 10% of it.
#[test]
fn a_cell_of_a_room() {
    let (machine, bid) = typed_over("Rooms", width_of_101, "9");
    assert_eq!(bid.new, Some(35_860));
    let told: Vec<String> = bid.taken_over.iter().map(ToString::to_string).collect();
    let second = machine.bytes(SECOND).unwrap();
    let address = width_of_101(&second);
    assert_eq!(told, [format!("Rooms {address}: 9, where 8 was written")]);
    assert_eq!(cell(&second, "Rooms", &address), Data::Float(9.0));
    let carried = |path: &str| Last::read(path, machine.bytes(path).unwrap()).unwrap().carried.rooms.file;
    assert!(carried(SECOND) == carried(FIRST), "the rooms workbook stays as it was");
    // it is there now, and a second run tells the same
    let again = moved(&machine, &asked(None));
    assert_eq!(again.bids[0].done, Done::Already(SECOND.into()));
    assert_eq!((again.bids[0].new, again.bids[0].effects()), (bid.new, bid.effects()));
}

/// An opening of 2 x 4 ft takes 2 sf more out of two layers: $4.00 less, and 10% of it.
#[test]
fn a_cell_of_an_opening() {
    let (machine, bid) = typed_over("Openings", |b| at(b, "Openings", "Wide (ft)", "102"), "4");
    assert_eq!(bid.new, Some(34_320));
    let second = machine.bytes(SECOND).unwrap();
    assert_eq!(cell(&second, "Openings", &at(&second, "Openings", "Wide (ft)", "102")), Data::Float(4.0));
}

/// A drop of 3 ft, which the rooms workbook does not name: two rooms with four wires a foot longer, $4.00, and 10% of it.
#[test]
fn a_setting_of_the_job_in_its_unit() {
    let (machine, bid) = typed_over("Job", |b| beside(b, "Job", "Drop"), "3");
    assert_eq!(bid.new, Some(35_200));
    let second = machine.bytes(SECOND).unwrap();
    let address = beside(&second, "Job", "Drop");
    assert_eq!(cell(&second, "Job", &address), Data::Float(3.0));
    let given = format!("a.priced.xlsx, Job!{address}");
    assert!(says(&sheet(&second, "Job"), &given), "where it was typed");
}

/// The same in words of the trade: 2'-6" are 2 ft of wire more in each room, $2.00, and 10% of it.
#[test]
fn a_setting_in_feet_and_inches() {
    let (_, bid) = typed_over("Job", |b| beside(b, "Job", "Drop"), "2'-6\"");
    assert_eq!(bid.new, Some(34_980));
}

/// A blank stands for what the book says, 4 ft, and not for what the price book gives: 8 ft of wire more in each room, $8.00.
#[test]
fn a_setting_that_was_emptied() {
    let (_, bid) = typed_over("Job", |b| beside(b, "Job", "Drop"), "");
    assert_eq!(bid.new, Some(35_640));
}

/// Board C at $2: $308.00 more, and 10% of it. Nothing named a board before.
#[test]
fn a_setting_that_nobody_gave() {
    let (_, bid) = typed_over("Job", |b| beside(b, "Job", "Board"), "C");
    assert_eq!(bid.new, Some(68_640));
}

/// A mark-up of 12.5% on $316.00 is $39.50.
#[test]
fn a_rate_of_the_bid() {
    let (machine, bid) = typed_over("Bid", |b| beside(b, "Bid", "Profit"), "0.125");
    assert_eq!(bid.new, Some(35_550));
    let second = machine.bytes(SECOND).unwrap();
    assert_eq!(cell(&second, "Bid", &beside(&second, "Bid", "Profit")), Data::Float(0.125));
}

/// One layer where two were: 114 sf less, $114.00, and 10% of it.
#[test]
fn a_cell_that_was_emptied() {
    let (machine, bid) = typed_over("Rooms", |b| at(b, "Rooms", "Layers", "102"), "");
    assert_eq!(bid.new, Some(22_220));
    let second = machine.bytes(SECOND).unwrap();
    assert_eq!(cell(&second, "Rooms", &at(&second, "Rooms", "Layers", "102")), Data::Empty);
}

/// Two layers where nothing stood: $80.00 more, and 10% of it.
#[test]
fn a_cell_that_was_blank() {
    let (_, bid) = typed_over("Rooms", |b| at(b, "Rooms", "Layers", "101"), "2");
    assert_eq!(bid.new, Some(43_560));
}

/// What a width cannot be stops the room, and both the cell that is read and the one that was typed are named.
#[test]
fn what_cannot_be_read_stops_its_row() {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let address = width_of_101(&bytes);
    let machine = machine.with(FIRST, with(&bytes, "Rooms", &address, "wide"));
    let all = moved(&machine, &asked(None));
    assert_eq!((all.bids[0].new, all.bids[0].new_stopped), (None, 1));
    let checks = sheet(&machine.bytes(SECOND).unwrap(), "Checks");
    assert!(says(&checks, "Rooms!C2") && says(&checks, &format!("Rooms!{address}")), "{checks:?}");
}

/// Texts that programs might take for formulas stay texts, in the cell and in what is carried.
#[test]
fn hostile_texts_stay_texts() {
    for text in ["=1+1", "+A1", "-\"a\"", "@SUM(A1)", "\"quoted\""] {
        let (machine, bid) = typed_over("Rooms", |b| at(b, "Rooms", "Remark", "101"), text);
        assert_eq!(bid.new, Some(34_760));
        let second = machine.bytes(SECOND).unwrap();
        assert_eq!(cell(&second, "Rooms", &at(&second, "Rooms", "Remark", "101")), Data::String(text.to_owned()));
        let part =
            format!("xl/worksheets/sheet{}.xml", sheet_names(&second).iter().position(|s| s == "Rooms").unwrap() + 1);
        let rooms = common::parts(&second).into_iter().find(|(name, _)| *name == part).unwrap().1;
        assert!(!String::from_utf8(rooms).unwrap().contains("<f>1+1"));
    }
}

/// Width 9 ft and 12.5%: $326.00 and $40.75, $366.75, by hand $19.15. With board at $1.50: 90 and 228 sf are half a dollar
/// dearer, $159.00, and 12.5% of it, $178.88 to the cent, as $485.00 x 1.125 is $545.625. The third revision at $1 again is
/// what the second would have been.
#[test]
fn later_revisions_keep_what_was_typed() {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let wider = with(&bytes, "Rooms", &width_of_101(&bytes), "9");
    let machine = machine.with(FIRST, with(&wider, "Bid", &beside(&bytes, "Bid", "Profit"), "0.125"));
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    let bid = &all.bids[0];
    assert_eq!((bid.old, bid.new), (Some(34_760), Some(54_563)));
    assert_eq!(bid.effects(), Effects { price: 17_888, quantity: 0, rules: 0, by_hand: 1_915 });
    assert_eq!(bid.remarks(), "2 cells that were typed since are taken over");
    let all = moved(&machine, &asked(Some(file(&machine, "yard.xlsx"))));
    let bid = &all.bids[0];
    assert_eq!((bid.done.clone(), bid.old, bid.new), (Done::Written(THIRD.into()), Some(54_563), Some(36_675)));
    assert_eq!(bid.effects(), Effects { price: -17_888, quantity: 0, rules: 0, by_hand: 0 });
    assert!(bid.taken_over.is_empty() && bid.remarks().is_empty(), "{}", bid.remarks());
    // typed over again, the later wins: 10 ft are another $10.00 and 12.5% of it
    let third = machine.bytes(THIRD).unwrap();
    let machine = machine.with(THIRD, with(&third, "Rooms", &width_of_101(&third), "10"));
    let all = moved(&machine, &asked(Some(file(&machine, "yard.xlsx"))));
    assert_eq!((all.bids[0].old, all.bids[0].new), (Some(36_675), Some(37_800)));
}

/// What is only tried out counts what was typed as it stands: $358.60, and board at 10% more is $31.80 and 10% of it.
#[test]
fn what_if_looks_at_the_bid_as_it_stands() {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let machine = machine.with(FIRST, with(&bytes, "Rooms", &width_of_101(&bytes), "9"));
    let changes = vec![Change::read("B +10%").unwrap()];
    let all = moved(&machine, &Asked { changes, as_of: None, ..asked(None) });
    assert_eq!((all.bids[0].old, all.bids[0].new), (Some(35_860), Some(39_358)));
    assert_eq!(all.bids[0].effects(), Effects { price: 3_498, ..Effects::default() });
}

/// Rows that were sorted are no typed cells: the workbook is left as it is.
#[test]
fn sorted_rows_are_not_taken_over() {
    let machine = priced();
    let mut bytes = machine.bytes(FIRST).unwrap();
    let rows = [["102", "12", "10", "2"], ["101", "10", "8", ""]];
    let heads = ["Room", "Length (ft)", "Width (ft)", "Layers"];
    let places = ["101", "102"].map(|room| heads.map(|head| at(&bytes, "Rooms", head, room)));
    for (row, places) in rows.iter().zip(&places) {
        for (value, place) in row.iter().zip(places) {
            bytes = with(&bytes, "Rooms", place, value);
        }
    }
    let machine = machine.with(FIRST, bytes);
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    assert!(all.bids.is_empty());
    let added: Vec<&str> = all.left_out[0].added.iter().map(|d| &*d.cell).collect();
    assert!(added.contains(&&*places[0][0]) && added.contains(&&*places[1][2]), "{added:?}");
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed, "nor are they written over");
}

/// What is no input cell keeps the workbook from being priced, whatever else was typed.
#[test]
fn what_is_no_input_cell_is_an_addition() {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let wider = with(&bytes, "Rooms", &width_of_101(&bytes), "9");
    let dearer = with(&wider, "Prices", "G2", "7");
    let machine = machine.with(FIRST, dearer);
    let all = moved(&machine, &asked(None));
    let told: Vec<String> = all.left_out[0].added.iter().map(ToString::to_string).collect();
    assert_eq!(told, ["Prices G2: 7, where 1 was written"]);
    let all = moved(&machine, &Asked { without_additions: true, ..asked(None) });
    assert_eq!(all.bids[0].new, Some(35_860));
    let remarks = "1 cell that was typed since is taken over; 1 thing that somebody added is left behind";
    assert_eq!(all.bids[0].remarks(), remarks);
}

#[test]
fn nothing_typed_is_written_over() {
    let machine = priced();
    let bytes = machine.bytes(FIRST).unwrap();
    let width = width_of_101(&bytes);
    let kept = |changed: &[u8]| {
        let machine = priced().with(FIRST, changed.to_vec());
        assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
        assert_eq!(machine.bytes(FIRST).unwrap(), changed);
        assert_eq!(hardlid(&machine, &format!("{PRICE} --replace")), Ended::Done);
    };
    kept(&with(&bytes, "Rooms", &width, "9"));
    kept(&with(&bytes, "Bid", &beside(&bytes, "Bid", "Profit"), "0.2"));
    kept(&with(&bytes, "Job", &beside(&bytes, "Job", "Drop"), "3"));
    kept(&with(&bytes, "Prices", "G2", "7"));
    // a remark beside the rows is written over as it always was
    let noted = priced().with(FIRST, with(&bytes, "Bid", "A1", "Bid for the north wing"));
    assert_eq!(hardlid(&noted, PRICE), Ended::Done);
    // the rooms workbook says the same by now
    let copied = priced().with(FIRST, with(&bytes, "Rooms", &width, "9")).with("bids/a.xlsx", rooms("9"));
    assert_eq!(hardlid(&copied, PRICE), Ended::Done);
    // what a later revision carries is kept too, where nobody has saved it since
    let (machine, _) = typed_over("Rooms", width_of_101, "9");
    let machine = machine.with(FIRST, bytes);
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
    assert_eq!(hardlid(&machine.with("bids/a.xlsx", rooms("9")), PRICE), Ended::Done);
}

#[test]
fn an_audit_tells_what_was_typed_now_and_before() {
    let (machine, _) = typed_over("Rooms", width_of_101, "9");
    let first = machine.bytes(FIRST).unwrap();
    let cell = width_of_101(&first);
    let told = |name: &str, bytes: &[u8]| {
        let found = audit(name, bytes).unwrap();
        let cells: Vec<_> = found.cells.iter().map(|c| (c.cell.clone(), c.written.clone(), c.now.clone())).collect();
        assert!(found.differences.is_empty(), "{:?}", found.differences);
        (cells, found.is_changed(), found.carried.total, found.total)
    };
    let since = (format!("Rooms {cell}"), Some("8".to_owned()), "9".to_owned());
    assert_eq!(told(FIRST, &first), (vec![since], true, Some(34_760), Some(35_860)));
    let before = (format!("a.priced.xlsx, Rooms!{cell}"), None, "9".to_owned());
    let second = machine.bytes(SECOND).unwrap();
    assert_eq!(told(SECOND, &second), (vec![before], false, Some(35_860), Some(35_860)));
    assert_eq!(hardlid(&machine, "audit bids/a.priced.rev-2.xlsx"), Ended::Done);
}
