//! What a priced workbook carries so that it can be priced again: the files that it was worked out from, and what was
//! settled when it was written.
//!
//! All of it stands as texts on a sheet that is not shown, because a sheet is what every spreadsheet program keeps.

use super::grid::{Cell, Grid};
use super::open::Book;
use super::typed::Typed;
use crate::pricing::{Own, OwnEntry};
use crate::problem::Problem;
use crate::quantity::spelling::{decimal_of, read_number};
use crate::quantity::{Date, Number};
use crate::source::CellPlace;
use crate::source::digest::digest;
use crate::workbook::variance::{Key, What};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use flate2::Compression;
use flate2::read::{DeflateDecoder, DeflateEncoder};
use serde_json::{Value, json};
use std::io::Read as _;
use std::sync::Arc;

/// The sheet.
pub const SHEET: &str = "Carried";
/// Its headings.
pub const HEADINGS: [&str; 5] = ["What", "Name", "SHA-256", "Written as", "Text"];
/// Most letters of one cell; a file takes as many rows as it needs. A cell holds 32,767.
const PIECE: usize = 32_000;
/// Most bytes of files that a workbook carries.
pub const MOST_CARRIED: usize = 64 << 20;

const ROOMS: &str = "rooms";
const PRICES: &str = "prices";
const RULES: &str = "rules";
const LIBRARY: &str = "library";
const BESIDE: &str = "beside the rules";
const AS_OF: &str = "as of";
const VERSION: &str = "version";
const REVISION: &str = "revision";
const TOTAL: &str = "total in cents";
const OWN: &str = "own figure";
const OWN_MORE: &str = "own figure goes on";
const TYPED: &str = "typed cell";
const TYPED_MORE: &str = "typed cell goes on";
const SUMS: &str = "sums";

const PLAIN: &str = "base64";
const PACKED: &str = "base64 of deflate";

/// A file as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name, without folders; of a file that a rule book names, its path from there.
    pub name: Arc<str>,
    /// What it holds.
    pub bytes: Arc<[u8]>,
    /// SHA-256 of that, in hex.
    pub digest: Arc<str>,
}

impl File {
    /// From its name and what it holds.
    #[must_use]
    pub fn new(name: &str, bytes: impl Into<Arc<[u8]>>) -> Self {
        let bytes = bytes.into();
        Self { name: name.into(), digest: digest(&bytes).into(), bytes }
    }

    /// Its text.
    ///
    /// # Errors
    /// A file that is no text in UTF-8.
    pub fn text(&self) -> Result<&str, Problem> {
        std::str::from_utf8(&self.bytes).map_err(|_| {
            let what = format!("{} is not a text in UTF-8.", self.name);
            Problem::stop("unreadable book", what).in_file(&*self.name).fix("save it as plain text, UTF-8")
        })
    }
}

/// The rooms of a bid.
#[derive(Clone, Debug, PartialEq)]
pub struct Rooms {
    /// Their workbook, as it was when the bid was priced first.
    pub file: File,
    /// What was typed in place of its cells since, in priced workbooks.
    pub typed: Vec<Typed>,
}

impl From<File> for Rooms {
    /// A workbook over which nothing was typed.
    fn from(file: File) -> Self {
        Self { file, typed: Vec::new() }
    }
}

/// What a priced workbook carries.
#[derive(Clone, Debug)]
pub struct Carried {
    /// The rooms workbook, and what was typed over it.
    pub rooms: Rooms,
    /// The price book, where there was one.
    pub prices: Option<File>,
    /// The rule book, where there was one.
    pub rules: Option<File>,
    /// The built-in books of that day that served, lowest layer first, by their names.
    pub library: Vec<File>,
    /// The books and workbooks that the rule book names, by their paths from it.
    pub beside: Vec<File>,
    /// The pricing date.
    pub as_of: Date,
    /// Version of the tool that wrote it.
    pub version: String,
    /// Which pricing of the bid it is, from 1.
    pub revision: u32,
    /// The total in cents; nothing for a bid that was incomplete or had no prices.
    pub total: Option<i64>,
    /// What an estimator had typed beside lines when it was written.
    pub own: Vec<OwnEntry>,
    /// What its items came to.
    pub sums: Sums,
}

/// What the items of a bid came to when it was written, and what they were worked out for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// Cents of each item, by kind, label and code.
    pub items: Vec<(Key, i64)>,
    /// Cents of each part, by its name.
    pub parts: Vec<Named>,
    /// Cents that each alternate adds, by its name.
    pub alternates: Vec<Named>,
    /// A digest of the lines' quantities.
    pub quantities: String,
    /// How many rows were stopped.
    pub stopped: usize,
}

/// A sum in cents by its name.
pub type Named = (Arc<str>, i64);

/// A row of the sheet.
pub type Row = [String; 5];

impl Carried {
    /// The rows of the sheet; nothing where the files are larger than a workbook should carry.
    #[must_use]
    pub fn rows(&self) -> Option<Vec<Row>> {
        let files = std::iter::once((ROOMS, &self.rooms.file))
            .chain(self.prices.iter().map(|f| (PRICES, f)))
            .chain(self.rules.iter().map(|f| (RULES, f)))
            .chain(self.beside.iter().map(|f| (BESIDE, f)))
            .chain(self.library.iter().map(|f| (LIBRARY, f)));
        if files.clone().map(|(_, f)| f.bytes.len()).sum::<usize>() > MOST_CARRIED {
            return None;
        }
        let fact = |what: &str, text: String| [what.to_owned(), String::new(), String::new(), String::new(), text];
        let mut rows = vec![
            fact(AS_OF, self.as_of.to_string()),
            fact(VERSION, self.version.clone()),
            fact(REVISION, self.revision.to_string()),
            fact(TOTAL, self.total.map_or_else(String::new, |c| c.to_string())),
        ];
        let own = self.own.iter().map(|entry| (OWN, OWN_MORE, own_text(entry)));
        let typed = self.rooms.typed.iter().map(|typed| (TYPED, TYPED_MORE, typed.written()));
        for (what, goes_on, text) in own.chain(typed) {
            let (first, mut rest) = piece(&text);
            rows.push(fact(what, first.to_owned()));
            while !rest.is_empty() {
                let (next, more) = piece(rest);
                rows.push(fact(goes_on, next.to_owned()));
                rest = more;
            }
        }
        for (what, file) in files {
            file_rows(what, file, &mut rows);
        }
        file_rows(SUMS, &File::new(SUMS, self.sums.text().into_bytes()), &mut rows);
        Some(rows)
    }
}

impl Sums {
    fn text(&self) -> String {
        let item = |((what, item, code), cents): &(Key, i64)| json!([what.word(), &**item, &**code, cents]);
        let named = |(name, cents): &Named| json!([&**name, cents]);
        json!({
            "items": self.items.iter().map(item).collect::<Vec<_>>(),
            "parts": self.parts.iter().map(named).collect::<Vec<_>>(),
            "alternates": self.alternates.iter().map(named).collect::<Vec<_>>(),
            "quantities": self.quantities,
            "stopped": self.stopped,
        })
        .to_string()
    }

    fn read(text: &str) -> Option<Self> {
        let value: Value = serde_json::from_str(text).ok()?;
        let item = |item: &Value| {
            let word = |at: usize| item.get(at)?.as_str();
            Some(((What::read(word(0)?)?, word(1)?.into(), word(2)?.into()), item.get(3)?.as_i64()?))
        };
        // a workbook that was written before it had them is worked out as it was
        let named = |what: &str| -> Option<Vec<Named>> {
            let one = |named: &Value| Some((named.get(0)?.as_str()?.into(), named.get(1)?.as_i64()?));
            value.get(what)?.as_array()?.iter().map(one).collect()
        };
        Some(Self {
            parts: named("parts")?,
            alternates: named("alternates")?,
            items: value.get("items")?.as_array()?.iter().map(item).collect::<Option<_>>()?,
            quantities: value.get("quantities")?.as_str()?.to_owned(),
            stopped: usize::try_from(value.get("stopped")?.as_u64()?).ok()?,
        })
    }
}

/// A file's rows, as many as its text needs.
fn file_rows(what: &str, file: &File, rows: &mut Vec<Row>) {
    let packed = packed(&file.bytes);
    // a workbook is packed already
    let (how, bytes) = match &packed {
        Some(packed) if packed.len() < file.bytes.len() * 9 / 10 => (PACKED, packed.as_slice()),
        _ => (PLAIN, &*file.bytes),
    };
    let text = STANDARD.encode(bytes);
    let mut rest = text.as_str();
    loop {
        let (piece, more) = piece(rest);
        rows.push([what.to_owned(), file.name.to_string(), file.digest.to_string(), how.to_owned(), piece.to_owned()]);
        rest = more;
        if rest.is_empty() {
            return;
        }
    }
}

/// As much of a text as goes into a cell, and the rest. Bytes are at least as many as letters.
fn piece(text: &str) -> (&str, &str) {
    let mut end = text.len().min(PIECE);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    text.split_at(end)
}

fn packed(bytes: &[u8]) -> Option<Vec<u8>> {
    // a zip file begins with these
    if bytes.starts_with(b"PK") {
        return None;
    }
    let mut out = Vec::new();
    DeflateEncoder::new(bytes, Compression::new(6)).read_to_end(&mut out).ok()?;
    Some(out)
}

fn own_text(entry: &OwnEntry) -> String {
    let number = |n: &Option<Number>| n.as_ref().map(|n| n.to_decimal().normalize().to_string());
    let OwnEntry { room, item, code, unit, nth, part, alike, need, own, .. } = entry;
    json!({
        "room": room, "item": item, "code": code, "unit": unit, "nth": nth,
        "part": part, "alike": alike, "need": number(need),
        "quantity": number(&own.quantity), "unit cost": number(&own.unit_cost), "note": own.note.as_deref(),
    })
    .to_string()
}

/// Whether a workbook has the sheet.
#[must_use]
pub fn is_carried(book: &Book) -> bool {
    book.sheet_names().iter().any(|s| &**s == SHEET)
}

/// Reads what a priced workbook carries.
///
/// # Errors
/// A workbook without the sheet; one whose sheet was changed or is damaged.
pub fn carried_in(book: &mut Book) -> Result<Carried, Problem> {
    if !is_carried(book) {
        let what = "This workbook carries nothing to price it again by: it has no sheet Carried.";
        return Err(Problem::stop("nothing carried", what).in_file(Arc::clone(book.file())).fix(
            "price its rooms workbook with this version of hardlid, which lets the priced workbook carry its files",
        ));
    }
    let grid = book.grid(SHEET)?;
    read(&grid).map_err(|(row, what)| {
        let place = CellPlace { file: Arc::clone(&grid.file), sheet: Arc::clone(&grid.sheet), row, column: None };
        Problem::stop("carried files damaged", format!("What this workbook carries was changed or damaged: {what}."))
            .at_cell(place)
            .fix("price its rooms workbook again")
    })
}

/// What is wrong, and the row where.
type Wrong = (u32, String);

/// Pieces of a file while they are put together.
struct Pieces {
    what: String,
    name: String,
    digest: String,
    how: String,
    text: String,
    row: u32,
}

impl Pieces {
    fn file(&self) -> Result<File, Wrong> {
        let wrong = |what: &str| (self.row, format!("{} {what}", self.name));
        let bytes = STANDARD.decode(&self.text).map_err(|_| wrong("is no base64"))?;
        let bytes = match self.how.as_str() {
            PLAIN => bytes,
            PACKED => unpacked(&bytes).ok_or_else(|| wrong("cannot be unpacked"))?,
            _ => return Err(wrong("is written in a way that is not known")),
        };
        let file = File::new(&self.name, bytes);
        if *file.digest == *self.digest { Ok(file) } else { Err(wrong("is not what its SHA-256 says")) }
    }
}

fn unpacked(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    let most = u64::try_from(MOST_CARRIED).ok()?;
    DeflateDecoder::new(bytes).take(most + 1).read_to_end(&mut out).ok()?;
    (out.len() <= MOST_CARRIED).then_some(out)
}

fn read(grid: &Grid) -> Result<Carried, Wrong> {
    let heads = grid.rows.first().map(|row| row.iter().map(text).collect::<Vec<_>>()).unwrap_or_default();
    if heads != HEADINGS {
        return Err((0, "its headings are not those that were written".to_owned()));
    }
    let mut facts: Vec<(u32, String, String)> = Vec::new();
    let mut pieces: Vec<Pieces> = Vec::new();
    for (row, cells) in (1u32..).zip(grid.rows.iter().skip(1)) {
        let at = |column: usize| cells.get(column).map(text).unwrap_or_default();
        let (what, name, digest, how, text) = (at(0), at(1), at(2), at(3), at(4));
        if name.is_empty() {
            match facts.last_mut() {
                Some((_, before, begun))
                    if what == OWN_MORE && before == OWN || what == TYPED_MORE && before == TYPED =>
                {
                    begun.push_str(&text);
                }
                _ if !what.is_empty() => facts.push((row, what, text)),
                _ => {}
            }
            continue;
        }
        match pieces.last_mut().filter(|p| p.what == what && p.name == name && p.digest == digest) {
            Some(before) => before.text.push_str(&text),
            None => pieces.push(Pieces { what, name, digest, how, text, row }),
        }
    }
    let fact = |what: &str| {
        let found = facts.iter().find(|(_, w, _)| w == what);
        found.map(|(row, _, text)| (*row, text.as_str())).ok_or_else(|| (0, format!("it does not say '{what}'")))
    };
    let (date_row, date) = fact(AS_OF)?;
    let (revision_row, revision) = fact(REVISION)?;
    let (total_row, total) = fact(TOTAL)?;
    let mut left = MOST_CARRIED;
    let mut files = |what: &str| {
        let mut out = Vec::new();
        for piece in pieces.iter().filter(|p| p.what == what) {
            let file = piece.file()?;
            left =
                left.checked_sub(file.bytes.len()).ok_or_else(|| (piece.row, "it is larger than may be".to_owned()))?;
            if !out.is_empty() && !matches!(what, LIBRARY | BESIDE) {
                return Err((piece.row, format!("{} is carried twice", piece.what)));
            }
            out.push(file);
        }
        Ok(out)
    };
    // they spare work, and are not needed
    let sums = files(SUMS)?.pop().and_then(|sums| Sums::read(sums.text().ok()?)).unwrap_or_default();
    let place = |row| CellPlace { file: Arc::clone(&grid.file), sheet: Arc::clone(&grid.sheet), row, column: Some(4) };
    let own = facts.iter().filter(|(_, what, _)| what == OWN);
    let typed = facts.iter().filter(|(_, what, _)| what == TYPED).map(|(row, _, text)| {
        Typed::read(text).ok_or_else(|| (*row, "a cell that was typed cannot be read".to_owned()))
    });
    Ok(Carried {
        rooms: Rooms {
            file: files(ROOMS)?.pop().ok_or_else(|| (0, "the rooms workbook is not there".to_owned()))?,
            typed: typed.collect::<Result<_, _>>()?,
        },
        prices: files(PRICES)?.pop(),
        rules: files(RULES)?.pop(),
        library: files(LIBRARY)?,
        beside: files(BESIDE)?,
        as_of: date.parse().map_err(|_| (date_row, format!("'{date}' is no date")))?,
        version: fact(VERSION)?.1.to_owned(),
        revision: revision.parse().map_err(|_| (revision_row, format!("'{revision}' is no revision")))?,
        total: match total {
            "" => None,
            cents => Some(cents.parse().map_err(|_| (total_row, format!("'{cents}' is no sum in cents")))?),
        },
        own: own
            .map(|(row, _, text)| {
                own_entry(text, place(*row)).ok_or_else(|| (*row, "an own figure cannot be read".to_owned()))
            })
            .collect::<Result<_, _>>()?,
        sums,
    })
}

fn own_entry(text: &str, place: CellPlace) -> Option<OwnEntry> {
    let value: Value = serde_json::from_str(text).ok()?;
    let word = |key: &str| value.get(key)?.as_str().map(str::to_owned);
    let number = |key: &str| match value.get(key) {
        Some(Value::String(text)) => read_number(text).ok().map(Some),
        Some(Value::Null) | None => Some(None),
        Some(_) => None,
    };
    Some(OwnEntry {
        room: word("room")?,
        item: word("item")?,
        code: word("code")?,
        unit: word("unit")?,
        nth: u32::try_from(value.get("nth")?.as_u64()?).ok()?,
        // not told by earlier versions
        part: word("part"),
        alike: value.get("alike").and_then(Value::as_u64).and_then(|n| u32::try_from(n).ok()),
        need: number("need")?,
        own: Own { quantity: number("quantity")?, unit_cost: number("unit cost")?, note: word("note").map(Arc::from) },
        place,
    })
}

/// A cell's text; a program that saved the workbook may have made numbers of texts that look like them.
fn text(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) | Cell::Error(text) => text.to_string(),
        Cell::Number(n) | Cell::Date(n) => decimal_of(*n).map_or_else(|| n.to_string(), |d| d.to_string()),
        Cell::YesNo(_) | Cell::Empty => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::typed::{Held, Of};

    fn carried() -> Carried {
        let own = Own {
            quantity: Some(read_number("12.5").unwrap()),
            unit_cost: None,
            note: Some("by \"hand\", = 2".into()),
        };
        let place = CellPlace { file: "f".into(), sheet: "Lines".into(), row: 3, column: Some(2) };
        let entry = OwnEntry {
            room: "104".to_owned(),
            item: "Span tee".to_owned(),
            code: "ST-12".to_owned(),
            unit: "ft".to_owned(),
            nth: 1,
            part: Some("openings row 7".to_owned()),
            alike: Some(2),
            need: read_number("10.25").ok(),
            own,
            place,
        };
        // longer than one cell of the sheet
        let typed = Typed {
            of: Of::Cell { sheet: "Rooms".into(), row: 4, column: 2 },
            held: Held::Text("=\"é\"".repeat(9_000).into()),
            at: CellPlace { file: "bid.xlsx".into(), sheet: "Rooms".into(), row: 5, column: Some(3) },
        };
        // a workbook is packed already and goes in as it is, here in more than one piece
        let workbook = [b"PK".as_slice(), &[7; 59_998]].concat();
        Carried {
            rooms: Rooms { file: File::new("rooms.xlsx", workbook), typed: vec![typed] },
            prices: None,
            rules: Some(File::new("house.lid", "book \"House\"\n".repeat(500).into_bytes())),
            library: vec![File::new("hardlid loads", b"a".to_vec()), File::new("hardlid board", b"".to_vec())],
            beside: vec![File::new("../spans.lid", b"b".to_vec()), File::new("spans.xlsx", b"PK c".to_vec())],
            as_of: Date::constant(2026, 11, 2),
            version: "0.1.0".to_owned(),
            revision: 3,
            total: Some(-1205),
            own: vec![entry],
            sums: Sums {
                items: vec![
                    ((What::Material, "Span tee".into(), "ST-12".into()), 1205),
                    ((What::Beyond, "".into(), "".into()), -3),
                ],
                parts: vec![("Level \"1\"".into(), 1300), ("Whole job".into(), -98)],
                alternates: vec![("_x0041_".into(), -7)],
                quantities: "ab".to_owned(),
                stopped: 2,
            },
        }
    }

    fn grid(rows: &[Row]) -> Grid {
        let cells = |row: &[String]| row.iter().map(|t| Cell::Text(t.as_str().into())).collect::<Vec<_>>();
        let head = HEADINGS.map(str::to_owned);
        let rows = std::iter::once(cells(&head)).chain(rows.iter().map(|r| cells(r))).collect();
        Grid { file: "bid.xlsx".into(), sheet: SHEET.into(), rows }
    }

    #[test]
    fn what_is_carried_comes_back() {
        let before = carried();
        let rows = before.rows().unwrap();
        assert!(rows.iter().all(|r| r.iter().all(|t| t.len() <= PIECE)));
        assert_eq!(rows.iter().filter(|r| r[0] == ROOMS).count(), 3, "80,000 letters in pieces of 32,000");
        assert_eq!(rows.iter().find(|r| r[0] == RULES).unwrap()[3], PACKED);
        let after = read(&grid(&rows)).unwrap();
        assert_eq!(after.rooms, before.rooms);
        assert_eq!((after.prices, after.rules), (None, before.rules));
        assert_eq!(after.library, before.library);
        assert_eq!(after.beside, before.beside);
        assert_eq!((after.as_of, after.revision, after.total), (before.as_of, 3, Some(-1205)));
        assert_eq!(after.sums, before.sums);
        let entry = &after.own[0];
        assert_eq!((entry.room.as_str(), entry.nth), ("104", 1));
        assert_eq!(entry.own, before.own[0].own);
        assert_eq!((&entry.part, entry.alike, &entry.need), (&before.own[0].part, Some(2), &before.own[0].need));
    }

    #[test]
    fn a_change_is_found_and_named() {
        let mut rows = carried().rows().unwrap();
        let at = rows.iter().position(|r| r[0] == ROOMS).unwrap();
        rows[at][4].replace_range(0..4, "AAAA");
        let (row, what) = read(&grid(&rows)).unwrap_err();
        assert_eq!(row as usize, at + 1);
        assert_eq!(what, "rooms.xlsx is not what its SHA-256 says");
        let without: Vec<Row> = carried().rows().unwrap().into_iter().filter(|r| r[0] != ROOMS).collect();
        assert_eq!(read(&grid(&without)).unwrap_err().1, "the rooms workbook is not there");
        let undated: Vec<Row> = carried().rows().unwrap().into_iter().filter(|r| r[0] != AS_OF).collect();
        assert_eq!(read(&grid(&undated)).unwrap_err().1, "it does not say 'as of'");
    }

    #[test]
    fn too_much_is_not_carried() {
        let large = Carried { rooms: File::new("rooms.xlsx", vec![0; MOST_CARRIED + 1]).into(), ..carried() };
        assert!(large.rows().is_none());
    }
}
