//! Looks a zipped workbook over before anything of it is given to a format crate.

use super::tags::{Tag, TagKind, tags, unescape};
use super::{LARGEST_INFLATED, LARGEST_PART, LARGEST_RATIO, MOST_CELLS_HELD, MOST_SHEETS, Trouble};
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// The most parts in a workbook.
const MOST_PARTS: usize = 20_000;
/// A part is held to [`LARGEST_RATIO`] from this inflated size on.
const RATIO_FROM: u64 = 64 << 20;
/// Deflate cannot make anything more than this many times smaller.
const DEFLATE_LIMIT: u64 = 1032;
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

/// What was seen.
#[derive(Debug)]
pub(super) struct Looked {
    pub(super) kind: Kind,
    /// Sheet names with the number of their hidden rows.
    hidden: Vec<(String, u32)>,
}

impl Looked {
    /// How many rows of the sheet are hidden, where that is known.
    pub(super) fn hidden_rows(&self, sheet: &str) -> Option<u32> {
        self.hidden.iter().find(|(name, _)| name == sheet).map(|(_, rows)| *rows)
    }
}

type Zip<'a> = ZipArchive<Cursor<&'a [u8]>>;

/// Refuses what is protected, cut short, too large, or no workbook.
pub(super) fn look(bytes: &[u8]) -> Result<Looked, Trouble> {
    let mut zip = ZipArchive::new(Cursor::new(bytes))
        .map_err(|_| Trouble::damaged("the directory at its end is missing or broken"))?;
    if zip.len() > MOST_PARTS {
        return Err(Trouble::too_large(format!("This workbook has more than {MOST_PARTS} parts.")));
    }
    let mut sheets = 0usize;
    let mut total = 0u64;
    let mut doubtful = Vec::new();
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
        if stored.saturating_mul(DEFLATE_LIMIT) > LARGEST_PART {
            doubtful.push((index, inflated));
        }
    }
    if sheets > MOST_SHEETS {
        return Err(Trouble::too_large(format!("This workbook has {sheets} sheets; {MOST_SHEETS} is the limit.")));
    }
    for (index, stated) in doubtful {
        as_large_as_stated(&mut zip, index, stated)?;
    }
    let kind = kind_of(&zip)?;
    let hidden = match kind {
        Kind::Xlsx => hidden_rows(&mut zip),
        Kind::Xlsb => Vec::new(),
        Kind::Ods => {
            let content = text_of(&mut zip, "content.xml").ok_or_else(|| Trouble::damaged("its content is missing"))?;
            ods_within_limits(&content)?;
            Vec::new()
        }
    };
    Ok(Looked { kind, hidden })
}

fn bomb(inflated: u64) -> Trouble {
    Trouble::too_large(format!(
        "This workbook comes to {} MB when unpacked, far more than a workbook of its size does; it was not unpacked.",
        inflated >> 20
    ))
}

/// Unpacks a part into nothing, to see that it is not larger than the directory says.
fn as_large_as_stated(zip: &mut Zip<'_>, index: usize, stated: u64) -> Result<(), Trouble> {
    let part = zip.by_index(index).map_err(Trouble::damaged)?;
    let size = std::io::copy(&mut part.take(stated + 1), &mut std::io::sink()).map_err(Trouble::damaged)?;
    if size == stated { Ok(()) } else { Err(Trouble::damaged("a part is not as large as its directory says")) }
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

/// Hidden rows of each sheet. A workbook laid out in an unusual way gives none: they are then not known.
fn hidden_rows(zip: &mut Zip<'_>) -> Vec<(String, u32)> {
    let (Some(book), Some(links)) = (text_of(zip, "xl/workbook.xml"), text_of(zip, "xl/_rels/workbook.xml.rels"))
    else {
        return Vec::new();
    };
    let link = |id: &str| {
        tags(&links)
            .flatten()
            .find(|t| t.local() == "Relationship" && t.attribute("Id") == Some(id))?
            .attribute("Target")
    };
    let sheets: Vec<(String, String)> = tags(&book)
        .flatten()
        .filter(|t| t.local() == "sheet" && t.kind != TagKind::Close)
        .filter_map(|t| {
            let target = link(t.attribute("r:id")?)?;
            let path = target.strip_prefix('/').map_or_else(|| format!("xl/{target}"), str::to_owned);
            Some((unescape(t.attribute("name")?), path))
        })
        .take(MOST_SHEETS)
        .collect();
    sheets.into_iter().filter_map(|(name, path)| Some((name, count_hidden(zip, &path)?))).collect()
}

/// Counts the row tags that hide their row, in a part of any size, a piece at a time.
fn count_hidden(zip: &mut Zip<'_>, path: &str) -> Option<u32> {
    let mut part = zip.by_name(path).ok()?;
    let mut buffer = vec![0u8; 1 << 16];
    let (mut kept, mut count) = (0usize, 0u32);
    loop {
        let read = part.read(&mut buffer[kept..]).ok()?;
        let filled = kept + read;
        let (found, used) = hidden_in(&buffer[..filled], read == 0);
        count = count.saturating_add(found);
        if read == 0 {
            return Some(count);
        }
        buffer.copy_within(used..filled, 0);
        kept = filled - used;
        if kept == buffer.len() {
            kept = 0; // a tag longer than the buffer is no row tag
        }
    }
}

/// Hidden rows in a piece, and how much of it was used up.
fn hidden_in(piece: &[u8], last: bool) -> (u32, usize) {
    const ROW: &[u8] = b"<row ";
    let (mut at, mut count) = (0, 0);
    while let Some(start) = piece[at..].windows(ROW.len()).position(|w| w == ROW).map(|i| at + i) {
        let Some(end) = piece[start..].iter().position(|b| *b == b'>').map(|i| start + i) else {
            return (count, start);
        };
        let tag = &piece[start..end];
        let hides = |w: &[u8]| w.starts_with(b" hidden=\"1\"") || w.starts_with(b" hidden=\"t");
        count += u32::from(tag.windows(11).any(hides));
        at = end;
    }
    let keep = if last { 0 } else { ROW.len() - 1 };
    (count, piece.len().saturating_sub(keep).max(at))
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
