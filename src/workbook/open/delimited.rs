//! csv texts: encoding, delimiter, records.

use super::cells::{raw_text, too_wide};
use super::{EachRow, LONGEST_TEXT, MOST_COLUMNS, MOST_ROWS, Trouble};
use crate::engine::{RawCell, Texts};
use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};
use std::ops::ControlFlow;

/// The text of a file that is not a workbook by its bytes: UTF-8 with or without a mark, UTF-16, else windows-1252.
pub(super) fn decode(file: &str, bytes: Vec<u8>) -> Result<String, Trouble> {
    let ending = file.rsplit_once('.').map(|(_, e)| e.to_lowercase()).unwrap_or_default();
    if ["xlsx", "xlsm", "xlsb", "xls", "ods"].contains(&ending.as_str()) {
        let what = if bytes.iter().find(|b| !b.is_ascii_whitespace()) == Some(&b'<') {
            format!("This file is named .{ending} but holds a web page or other markup, not a workbook.")
        } else {
            format!("This file is named .{ending} but is not a workbook, or it was cut short.")
        };
        return Err(Trouble::not_a_workbook(what));
    }
    let encoding = match Encoding::for_bom(&bytes) {
        Some((encoding, _)) => Some(encoding),
        None => wide(&bytes),
    };
    let text = match encoding {
        Some(encoding) => encoding.decode(&bytes).0.into_owned(),
        None => match String::from_utf8(bytes) {
            Ok(text) => text,
            Err(e) => WINDOWS_1252.decode(e.as_bytes()).0.into_owned(),
        },
    };
    if text.contains('\0') {
        return Err(Trouble::not_a_workbook("This file is neither a workbook nor a text."));
    }
    Ok(text)
}

/// UTF-16 without a mark: a zero in every second byte of plain text.
fn wide(bytes: &[u8]) -> Option<&'static Encoding> {
    let head = &bytes[..bytes.len().min(1024)];
    let zeros = |odd: usize| head.iter().skip(odd).step_by(2).filter(|b| **b == 0).count();
    let half = head.len() / 2;
    if half >= 2 && zeros(1) * 4 > half * 3 && zeros(0) * 4 < half {
        Some(UTF_16LE)
    } else if half >= 2 && zeros(0) * 4 > half * 3 && zeros(1) * 4 < half {
        Some(UTF_16BE)
    } else {
        None
    }
}

/// The delimiter that occurs most often outside quotes in the first lines.
fn delimiter(text: &str) -> u8 {
    let mut counts = [(b',', 0usize), (b'\t', 0), (b';', 0), (b'|', 0)];
    let mut quoted = false;
    for line in text.lines().take(20) {
        for byte in line.bytes() {
            if byte == b'"' {
                quoted = !quoted;
            } else if !quoted && let Some(count) = counts.iter_mut().find(|(d, _)| *d == byte) {
                count.1 += 1;
            }
        }
        quoted = false; // an inch mark is not a quote: start each line afresh
    }
    let mut best = counts[0];
    for count in &counts[1..] {
        if count.1 > best.1 {
            best = *count;
        }
    }
    best.0
}

/// Line ends before a record: the crate counts a record from the end of the one before, and passes over blank lines.
fn blank_lines(text: &str, from: u64) -> u64 {
    let rest = usize::try_from(from).ok().and_then(|from| text.as_bytes().get(from..)).unwrap_or(&[]);
    rest.iter().take_while(|b| matches!(b, b'\r' | b'\n')).filter(|b| **b == b'\n').count() as u64
}

/// Hands the records out as rows.
pub(super) fn by_row(text: &str, texts: &mut Texts, each: &mut EachRow<'_>) -> Result<(), Trouble> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter(text))
        .from_reader(text.as_bytes());
    let mut record = csv::StringRecord::new();
    let mut line: Vec<(u16, RawCell)> = Vec::new();
    let mut inside = 0u64; // line ends inside quoted fields: they make no row of a sheet
    let mut least = 0u32;
    loop {
        let more = reader.read_record(&mut record).map_err(Trouble::damaged)?;
        if !more {
            return Ok(());
        }
        let at = record.position().map_or(1, |p| p.line() + blank_lines(text, p.byte()));
        // never above the row before, whatever line ends a field holds
        let row = u32::try_from(at.saturating_sub(1 + inside)).unwrap_or(u32::MAX).max(least);
        least = row.saturating_add(1);
        if row >= MOST_ROWS {
            return Err(Trouble::too_large(format!("This text has more than {MOST_ROWS} rows.")));
        }
        line.clear();
        for (column, field) in record.iter().enumerate() {
            // mostly a quote that was never closed
            if field.len() > LONGEST_TEXT && field.encode_utf16().count() > LONGEST_TEXT {
                let what = format!("A text on line {at} is longer than the 32,767 letters that a cell holds.");
                return Err(
                    Trouble::new("damaged file", what).fix("shorten it, or close the quote that is opened there")
                );
            }
            inside += field.bytes().filter(|b| *b == b'\n').count() as u64;
            let cell = field_cell(field, texts);
            if cell != RawCell::Empty {
                let column = u32::try_from(column).ok().filter(|c| *c < MOST_COLUMNS).ok_or_else(too_wide)?;
                line.push((u16::try_from(column).unwrap_or(u16::MAX), cell));
            }
        }
        if !line.is_empty() && each(row, &line, texts) == ControlFlow::Break(()) {
            return Ok(());
        }
    }
}

/// A field is a number where the number prints as the field again; 007 and 101.0 stay texts as they were written.
fn field_cell(field: &str, texts: &mut Texts) -> RawCell {
    let digits = field.bytes().all(|b| b.is_ascii_digit() || b == b'.' || b == b'-');
    if digits
        && field.len() <= 15
        && let Ok(value) = field.parse::<f64>()
        && value.to_string() == field
    {
        return RawCell::Number(value);
    }
    raw_text(field, texts)
}
