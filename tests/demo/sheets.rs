//! Writing plain sheets as people keep them: a title, a line of remarks, a row of headings, rows.

use rust_xlsxwriter::{Color, DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, Worksheet};

/// A cell.
#[derive(Clone, Copy, Debug)]
pub enum Cell {
    /// Nothing.
    Blank,
    /// A text.
    Text(&'static str),
    /// A number.
    Number(f64),
    /// A part, shown as a percent.
    Percent(f64),
    /// Dollars.
    Dollars(f64),
    /// A day: year, month, day.
    Day(u16, u8, u8),
}

pub use Cell::{Blank, Day, Dollars, Number, Percent, Text};

/// A workbook whose bytes depend on its cells alone.
pub fn book(title: &str) -> Workbook {
    let mut workbook = Workbook::new();
    let made = ExcelDateTime::from_ymd(2026, 1, 5).unwrap();
    let properties =
        DocProperties::new().set_title(title).set_comment("Invented, for demonstration.").set_creation_datetime(&made);
    workbook.set_properties(&properties);
    workbook
}

/// A sheet with a merged title and a remark above its headings, and a blank row between.
pub fn titled(sheet: &mut Worksheet, title: &str, remark: &str, widths: &[f64], headings: &[&str]) {
    let last = u16::try_from(widths.len() - 1).unwrap();
    let big = Format::new().set_bold().set_font_size(14);
    let small = Format::new().set_italic().set_font_color(Color::RGB(0x5B_5B_5B));
    sheet.merge_range(0, 0, 0, last, title, &big).unwrap();
    sheet.write_with_format(1, 0, remark, &small).unwrap();
    let head = Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Top)
        .set_border_bottom(FormatBorder::Thin)
        .set_background_color(Color::RGB(0xE4_E8_EA));
    for (column, width) in widths.iter().enumerate() {
        sheet.set_column_width(u16::try_from(column).unwrap(), *width).unwrap();
    }
    for (column, heading) in headings.iter().enumerate() {
        sheet.write_with_format(3, u16::try_from(column).unwrap(), *heading, &head).unwrap();
    }
    sheet.set_freeze_panes(4, 1).unwrap();
}

/// The first row below the headings.
pub const FIRST: u32 = 4;

/// Writes a row.
pub fn row(sheet: &mut Worksheet, at: u32, cells: &[Cell]) {
    for (column, cell) in cells.iter().enumerate() {
        let column = u16::try_from(column).unwrap();
        match cell {
            Blank => {}
            Text(text) => _ = sheet.write(at, column, *text).unwrap(),
            Number(value) => _ = sheet.write(at, column, *value).unwrap(),
            Percent(value) => {
                _ = sheet.write_with_format(at, column, *value, &Format::new().set_num_format("0.00%")).unwrap();
            }
            Dollars(value) => {
                _ = sheet.write_with_format(at, column, *value, &Format::new().set_num_format("$#,##0.00")).unwrap();
            }
            Day(year, month, day) => {
                let day = ExcelDateTime::from_ymd(*year, *month, *day).unwrap();
                _ = sheet.write_with_format(at, column, &day, &Format::new().set_num_format("m/d/yyyy")).unwrap();
            }
        }
    }
}
