//! Looks a zipped workbook over before anything of it is given to a format crate.

use super::tags::{Tag, TagKind, tags, unescape};
use super::{LARGEST_INFLATED, LARGEST_PART, LARGEST_RATIO, MOST_CELLS_HELD, MOST_SHEETS, Trouble};
use std::io::{Cursor, Read};
use std::sync::Arc;
use zip::ZipArchive;

/// The most parts in a workbook.
const MOST_PARTS: usize = 20_000;
/// A part is held to [`LARGEST_RATIO`] from this inflated size on.
const RATIO_FROM: u64 = 64 << 20;
/// The most spaces that an ods cell may ask for in one tag.
const MOST_SPACES: u64 = 32_767;
/// The most rows that an ods sheet may repeat.
const MOST_ROWS: u64 = super::MOST_ROWS as u64;

/// What a zipped workbook is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Xlsx,
    Xlsb,
    Ods,
}

/// Where the parts of an xlsx lie.
#[derive(Clone, Debug)]
pub(super) struct Parts(Arc<[u8]>);

impl Parts {
    pub(super) fn new(bytes: Arc<[u8]>) -> Self {
        Self(bytes)
    }

    /// Whether the file is so large that threads of its own are worth their while.
    pub(super) fn is_large(&self) -> bool {
        self.0.len() > 1 << 18
    }

    /// How many rows of the sheet are hidden. A workbook laid out in an unusual way gives none: it is then not known.
    pub(super) fn hidden_rows(&self, sheet: &str) -> Option<u32> {
        let mut zip = ZipArchive::new(Cursor::new(&*self.0)).ok()?;
        let path = part_of_sheet(&mut zip, sheet)?;
        count_hidden(&mut zip, &path)
    }
}

type Zip<'a> = ZipArchive<Cursor<&'a [u8]>>;

/// Refuses what is protected, cut short, too large, or no workbook.
///
/// The directory cannot lie: the zip crate stops where a part turns out larger than stated.
pub(super) fn look(bytes: &[u8]) -> Result<Kind, Trouble> {
    let mut zip = ZipArchive::new(Cursor::new(bytes))
        .map_err(|_| Trouble::damaged("the directory at its end is missing or broken"))?;
    if zip.len() > MOST_PARTS {
        return Err(Trouble::too_large(format!("This workbook has more than {MOST_PARTS} parts.")));
    }
    let mut sheets = 0usize;
    let mut total = 0u64;
    for index in 0..zip.len() {
        let part = zip.by_index_raw(index).map_err(Trouble::damaged)?;
        if part.encrypted() {
            return Err(Trouble::protected());
        }
        let name = part.name().map_err(Trouble::damaged)?.to_lowercase();
        let is_sheet = name.contains("worksheets/") && !name.contains("_rels/");
        sheets += usize::from(is_sheet);
        let (inflated, stored) = (part.size(), part.compressed_size());
        total = total.saturating_add(inflated);
        let limit = if is_sheet { LARGEST_INFLATED } else { LARGEST_PART };
        if total > LARGEST_INFLATED || inflated > limit {
            return Err(bomb(total.max(inflated)));
        }
        if inflated > RATIO_FROM && inflated / stored.max(1) > LARGEST_RATIO {
            return Err(bomb(inflated));
        }
    }
    if sheets > MOST_SHEETS {
        return Err(Trouble::too_large(format!("This workbook has {sheets} sheets; {MOST_SHEETS} is the limit.")));
    }
    let kind = kind_of(&zip)?;
    if kind == Kind::Ods {
        let content = text_of(&mut zip, "content.xml").ok_or_else(|| Trouble::damaged("its content is missing"))?;
        ods_within_limits(&content)?;
    }
    Ok(kind)
}

fn bomb(inflated: u64) -> Trouble {
    Trouble::too_large(format!(
        "This workbook comes to {} MB when unpacked, far more than a workbook of its size does; it was not unpacked.",
        inflated >> 20
    ))
}

fn kind_of(zip: &Zip<'_>) -> Result<Kind, Trouble> {
    let has = |name: &str| zip.index_for_name(name).is_some();
    let any = |ending: &str| zip.file_names().flatten().any(|n| n.to_lowercase().ends_with(ending));
    if has("mimetype") && has("content.xml") {
        Ok(Kind::Ods)
    } else if any("workbook.bin") {
        Ok(Kind::Xlsb)
    } else if any("workbook.xml") || (any(".rels") && any("sheet1.xml")) {
        Ok(Kind::Xlsx)
    } else {
        Err(Trouble::not_a_workbook("This file is a zip archive but not a workbook."))
    }
}

fn text_of(zip: &mut Zip<'_>, name: &str) -> Option<String> {
    let mut text = String::new();
    let part = zip.by_name(name).ok()?;
    part.take(LARGEST_PART).read_to_string(&mut text).ok()?;
    Some(text)
}

/// The part that holds a sheet.
fn part_of_sheet(zip: &mut Zip<'_>, sheet: &str) -> Option<String> {
    let (book, links) = (text_of(zip, "xl/workbook.xml")?, text_of(zip, "xl/_rels/workbook.xml.rels")?);
    let named = |t: &Tag<'_>| t.local() == "sheet" && t.attribute("name").is_some_and(|n| unescape(n) == sheet);
    let entry = tags(&book).flatten().find(named)?;
    let id = entry.attribute("r:id")?;
    let link = |t: &Tag<'_>| t.local() == "Relationship" && t.attribute("Id") == Some(id);
    let target = tags(&links).flatten().find(link)?.attribute("Target")?;
    Some(target.strip_prefix('/').map_or_else(|| format!("xl/{target}"), str::to_owned))
}

/// Counts the row tags that hide their row, in a part of any size, a piece at a time.
fn count_hidden(zip: &mut Zip<'_>, path: &str) -> Option<u32> {
    /// Bytes kept from one piece to the next: a row tag is far shorter.
    const KEPT: usize = 1 << 10;
    let mut part = zip.by_name(path).ok()?;
    let mut buffer = vec![b' '; KEPT + (1 << 16)];
    let mut count = 0u32;
    let mut filled = KEPT;
    loop {
        let read = part.read(&mut buffer[filled..]).ok()?;
        let end = filled + read;
        // the last bytes wait until what follows them is known
        let until = if read == 0 { end } else { end.saturating_sub(HIDDEN.len() + 1) };
        count = count.saturating_add(hidden_in(&buffer[..end], filled.saturating_sub(HIDDEN.len() + 1), until));
        if read == 0 {
            return Some(count);
        }
        buffer.copy_within(end - KEPT..end, 0);
        filled = KEPT;
    }
}

const HIDDEN: &[u8] = b"hidden=\"";

/// Row tags that hide their row, by the place of the attribute between `from` and `until`.
fn hidden_in(piece: &[u8], from: usize, until: usize) -> u32 {
    let mut count = 0;
    let mut at = from;
    // h is rare in a worksheet: figures, cell references and short tags
    while let Some(found) = piece[at..until].iter().position(|b| *b == b'h').map(|i| at + i) {
        at = found + 1;
        let value = piece[found..].strip_prefix(HIDDEN).and_then(|rest| rest.first());
        if matches!(value, Some(b'1' | b't'))
            && let Some(start) = piece[..found].iter().rposition(|b| matches!(b, b'<' | b'>'))
        {
            count += u32::from(piece[start..].starts_with(b"<row "));
        }
    }
    count
}

/// The largest stretch of cells that the tags of an ods ask for, which its crate holds in memory; tags that do not
/// match, which could keep its crate reading for ever; too many sheets.
fn ods_within_limits(content: &str) -> Result<(), Trouble> {
    let mut open: Vec<&str> = Vec::new();
    let mut sheets = 0usize;
    let mut size = OdsSize::default();
    for tag in tags(content) {
        let tag = tag.map_err(|()| Trouble::damaged("its content holds markup that does not belong in a workbook"))?;
        match tag.kind {
            TagKind::Open => open.push(tag.name),
            TagKind::Close if open.pop() != Some(tag.name.trim_end()) => {
                return Err(Trouble::damaged("its content is cut short"));
            }
            _ => {}
        }
        if open.len() > 200 {
            return Err(Trouble::damaged("its content is nested too deeply"));
        }
        sheets += usize::from(tag.name == "table:table" && tag.kind != TagKind::Close);
        size.see(&tag)?;
    }
    if !open.is_empty() {
        return Err(Trouble::damaged("its content is cut short"));
    }
    if sheets > MOST_SHEETS {
        return Err(Trouble::too_large(format!("This workbook has {sheets} sheets; {MOST_SHEETS} is the limit.")));
    }
    Ok(())
}

/// Rows and columns up to the last that holds something, for the sheet that is being looked at.
#[derive(Default)]
struct OdsSize {
    rows: u64,
    used_rows: u64,
    width: u64,
    column: u64,
    repeat: u64,
    row_used: bool,
    total: u64,
}

impl OdsSize {
    fn see(&mut self, tag: &Tag<'_>) -> Result<(), Trouble> {
        let number = |name| tag.attribute(name).map_or(Some(1), |n| n.parse::<u64>().ok()).filter(|n| *n <= 1 << 32);
        let odd = || Trouble::damaged("its content repeats cells an impossible number of times");
        match (tag.name, tag.kind) {
            ("table:table", TagKind::Close) => {
                self.total = self.total.saturating_add(self.used_rows.saturating_mul(self.width));
                *self = Self { total: self.total, ..Self::default() };
                if self.total > MOST_CELLS_HELD {
                    return Err(Trouble::too_large(format!("This workbook has more than {MOST_CELLS_HELD} cells.")));
                }
            }
            ("table:table-row", TagKind::Open | TagKind::Alone) => {
                self.repeat = number("table:number-rows-repeated").ok_or_else(odd)?;
                (self.column, self.row_used) = (0, false);
            }
            ("table:table-row", TagKind::Close) => {
                self.rows = self.rows.saturating_add(self.repeat);
                if self.row_used {
                    self.used_rows = self.rows.min(MOST_ROWS);
                }
            }
            ("table:table-cell" | "table:covered-table-cell", TagKind::Open | TagKind::Alone) => {
                let repeat = number("table:number-columns-repeated").ok_or_else(odd)?;
                self.column = self.column.saturating_add(repeat).min(u64::from(super::MOST_COLUMNS));
                if tag.attributes.contains("value") || tag.attributes.contains("formula") {
                    self.width = self.width.max(self.column);
                    self.row_used = true;
                }
            }
            ("text:s", TagKind::Open | TagKind::Alone) if number("text:c").is_none_or(|n| n > MOST_SPACES) => {
                return Err(odd());
            }
            _ => {}
        }
        Ok(())
    }
}
