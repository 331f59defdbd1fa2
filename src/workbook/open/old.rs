//! Looks an old binary workbook (`.xls`) over before it is given to its crate, which holds every sheet whole.

use super::{MOST_CELLS_HELD, MOST_SHEETS, Trouble};

/// The first bytes of a compound file.
pub(super) const SIGNATURE: [u8; 8] = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];

/// Sector numbers from here on are marks, not sectors.
const LAST_SECTOR: u32 = 0xFFFF_FFFA;

/// Refuses what is protected, cut short, too large, or no workbook.
pub(super) fn look(bytes: &[u8]) -> Result<(), Trouble> {
    let file = Compound::read(bytes).ok_or_else(|| Trouble::damaged("its directory is broken"))?;
    if file.entry("EncryptedPackage").is_some() {
        return Err(Trouble::protected());
    }
    let Some(stream) = file.stream("Workbook").or_else(|| file.stream("Book")) else {
        return Err(Trouble::not_a_workbook("This file is a document of another kind, not a workbook."));
    };
    let mut starts = Vec::new();
    for (kind, data) in (Records { stream: &stream, at: 0 }) {
        match kind {
            0x2F if data.first_chunk::<2>().is_some_and(|p| *p != [0, 0]) => return Err(Trouble::protected()),
            0x85 => starts.push(u32_at(data, 0).unwrap_or(u32::MAX)),
            0x0A => break,
            _ => {}
        }
    }
    if starts.len() > MOST_SHEETS {
        return Err(Trouble::too_large(format!(
            "This workbook has {} sheets; {MOST_SHEETS} is the limit.",
            starts.len()
        )));
    }
    starts.sort_unstable();
    if starts.windows(2).any(|w| w[0] == w[1]) {
        return Err(Trouble::damaged("two of its sheets are one"));
    }
    let mut cells = 0u64;
    for start in starts {
        cells = cells.saturating_add(extent(&stream, start as usize));
        if cells > MOST_CELLS_HELD {
            return Err(Trouble::too_large(format!("This workbook has more than {MOST_CELLS_HELD} cells.")));
        }
    }
    Ok(())
}

/// Cells in the rectangle that holds every cell of the sheet which starts there.
fn extent(stream: &[u8], start: usize) -> u64 {
    let (mut rows, mut columns) = ((u16::MAX, 0u16), (u16::MAX, 0u16));
    let mut any = false;
    for (kind, data) in (Records { stream, at: start }) {
        match kind {
            0x0A => break,
            0x06 | 0x03..=0x05 | 0xBD | 0xD6 | 0xFD | 0x0203..=0x0206 | 0x027E | 0x0406 => {
                let (Some(row), Some(column)) = (u16_at(data, 0), u16_at(data, 2)) else { continue };
                let last =
                    if kind == 0xBD { u16_at(data, data.len().saturating_sub(2)).unwrap_or(column) } else { column };
                any = true;
                rows = (rows.0.min(row), rows.1.max(row));
                columns = (columns.0.min(column), columns.1.max(column).max(last));
            }
            _ => {}
        }
    }
    if any { (u64::from(rows.1 - rows.0) + 1) * (u64::from(columns.1 - columns.0) + 1) } else { 0 }
}

/// The records of a stream: kind and data.
struct Records<'a> {
    stream: &'a [u8],
    at: usize,
}

impl<'a> Iterator for Records<'a> {
    type Item = (u16, &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let kind = u16_at(self.stream, self.at)?;
        let len = usize::from(u16_at(self.stream, self.at + 2)?);
        let start = self.at + 4;
        let data = self.stream.get(start..start.checked_add(len)?)?;
        self.at = start + len;
        Some((kind, data))
    }
}

fn u16_at(data: &[u8], at: usize) -> Option<u16> {
    data.get(at..)?.first_chunk::<2>().map(|b| u16::from_le_bytes(*b))
}

fn u32_at(data: &[u8], at: usize) -> Option<u32> {
    data.get(at..)?.first_chunk::<4>().map(|b| u32::from_le_bytes(*b))
}

/// A compound file: streams made of chained sectors.
struct Compound<'a> {
    bytes: &'a [u8],
    sector: usize,
    next: Vec<u32>,
    directory: Vec<u8>,
    small_next: Vec<u32>,
}

/// A stream of the directory.
struct Entry {
    start: u32,
    len: usize,
}

impl<'a> Compound<'a> {
    fn read(bytes: &'a [u8]) -> Option<Self> {
        let sector = match u16_at(bytes, 30)? {
            9 => 512,
            12 => 4096,
            _ => return None,
        };
        let mut file = Self { bytes, sector, next: Vec::new(), directory: Vec::new(), small_next: Vec::new() };
        let mut tables: Vec<u32> = (0..109).filter_map(|i| u32_at(bytes, 76 + i * 4)).collect();
        let mut more = u32_at(bytes, 68)?;
        for _ in 0..=bytes.len() / sector {
            if more >= LAST_SECTOR {
                break;
            }
            let list = file.sector(more)?;
            let numbers = numbers(list);
            let (link, body) = numbers.split_last()?;
            tables.extend_from_slice(body);
            more = *link;
        }
        let most = bytes.len() / sector + 1;
        for table in tables.into_iter().filter(|t| *t < LAST_SECTOR).take(most) {
            let list = numbers(file.sector(table)?);
            file.next.extend(list);
        }
        file.directory = file.chain(u32_at(bytes, 48)?)?;
        let small = u32_at(bytes, 60)?;
        if u32_at(bytes, 64)? > 0 && small < LAST_SECTOR {
            file.small_next = numbers(&file.chain(small)?);
        }
        Some(file)
    }

    fn sector(&self, id: u32) -> Option<&'a [u8]> {
        let start = (id as usize).checked_add(1)?.checked_mul(self.sector)?;
        let end = start.checked_add(self.sector)?.min(self.bytes.len());
        self.bytes.get(start..end)
    }

    fn chain(&self, start: u32) -> Option<Vec<u8>> {
        let mut out = Vec::new();
        let mut id = start;
        for _ in 0..=self.bytes.len() / self.sector {
            if id >= LAST_SECTOR {
                return Some(out);
            }
            out.extend_from_slice(self.sector(id)?);
            id = *self.next.get(id as usize)?;
        }
        None // a chain that bites its tail
    }

    fn entry(&self, name: &str) -> Option<Entry> {
        self.directory.chunks_exact(128).find_map(|e| {
            let len = usize::from(u16_at(e, 64)?);
            let units: Vec<u16> = (0..len.checked_sub(2)?.min(62) / 2).filter_map(|i| u16_at(e, i * 2)).collect();
            let same = String::from_utf16(&units).ok()?.eq_ignore_ascii_case(name);
            same.then_some(Entry { start: u32_at(e, 116)?, len: u32_at(e, 120)? as usize })
        })
    }

    fn stream(&self, name: &str) -> Option<Vec<u8>> {
        let entry = self.entry(name)?;
        if entry.len >= 4096 {
            let mut out = self.chain(entry.start)?;
            out.truncate(entry.len);
            return Some(out);
        }
        let small = self.chain(u32_at(&self.directory, 116)?)?;
        let mut out = Vec::new();
        let mut id = entry.start;
        while id < LAST_SECTOR && out.len() < entry.len {
            let start = (id as usize).checked_mul(64)?;
            out.extend_from_slice(small.get(start..small.len().min(start + 64))?);
            id = *self.small_next.get(id as usize)?;
        }
        out.truncate(entry.len);
        Some(out)
    }
}

fn numbers(bytes: &[u8]) -> Vec<u32> {
    bytes.chunks_exact(4).filter_map(|b| u32_at(b, 0)).collect()
}
