//! Formats, each made once.

use crate::workbook::palette as color;
use rust_xlsxwriter::{Format, FormatAlign, FormatBorder, FormatUnderline, Note};

/// Dollars and cents.
pub const MONEY: &str = "$#,##0.00;-$#,##0.00";
/// Dollars for one unit: four places, as the trade's prices by the foot need.
pub const RATE: &str = "$#,##0.0000;-$#,##0.0000";
/// Quantities.
pub const QUANTITY: &str = "#,##0.00";
/// Whole numbers.
pub const WHOLE: &str = "#,##0";
/// Shares of a whole.
pub const PERCENT: &str = "0.0%";
/// Rates that people set: 8.25% keeps its places.
pub const RATE_PERCENT: &str = "0.00%";
/// Dates.
pub const DATE: &str = "mm/dd/yyyy";

/// Formats that more than one sheet uses.
#[derive(Debug)]
pub struct Styles {
    /// A sheet's headings over what was worked out.
    pub heading: Format,
    /// The same over numbers.
    pub heading_right: Format,
    /// Headings over what people typed.
    pub typed_heading: Format,
    /// The same over numbers.
    pub typed_heading_right: Format,
    /// The band above the headings that says where the columns come from.
    pub band: Format,
    /// The same over what people typed.
    pub typed_band: Format,
    /// A thin line under a row.
    pub hairline: Format,
    /// A cell to type in, as a conditional format.
    pub typed: Format,
    /// A date.
    pub date: Format,
    /// A percentage as it was read.
    pub percent: Format,
    /// A quantity that stays as it was priced, among live ones.
    pub still: Format,
    /// A text that stands in place of a number.
    pub fault: Format,
    /// The word for what stops.
    pub stop: Format,
    /// The word for what warns.
    pub warn: Format,
    /// What says that something was changed, and is blank while nothing was.
    pub changed: Format,
    /// Plain text at the top of its row.
    pub text: Format,
    /// Wrapped text.
    pub wrapped: Format,
    /// Words in a table of numbers that wrap, on the last line's level.
    pub order_words: Format,
    /// A link to a cell of this workbook.
    pub link: Format,
    /// A side remark.
    pub quiet: Format,
    /// A side remark that wraps.
    pub quiet_wrapped: Format,
    /// A heading within a sheet.
    pub section: Format,
    /// The label of a total.
    pub total_label: Format,
    /// A total in dollars.
    pub total_money: Format,
    /// A total of quantities.
    pub total_quantity: Format,
}

impl Styles {
    /// All of them.
    #[must_use]
    pub fn new() -> Self {
        let typed_head = typed_head();
        Self {
            heading: head().set_align(FormatAlign::Left).set_indent(1),
            heading_right: head().set_align(FormatAlign::Right),
            typed_heading: typed_head.clone().set_align(FormatAlign::Left).set_indent(1),
            typed_heading_right: typed_head.set_align(FormatAlign::Right),
            band: ink()
                .set_bold()
                .set_indent(1)
                .set_border_bottom(FormatBorder::Thin)
                .set_border_bottom_color(color::HEADING),
            typed_band: ink()
                .set_italic()
                .set_indent(1)
                .set_border_bottom(FormatBorder::Dashed)
                .set_border_bottom_color(color::INK),
            hairline: Format::new().set_border_bottom(FormatBorder::Thin).set_border_bottom_color(color::HAIRLINE),
            typed: Format::new()
                .set_background_color(color::TYPED)
                .set_border(FormatBorder::Dotted)
                .set_border_color(color::TYPED_EDGE),
            percent: ink().set_num_format("0.0#%"),
            date: ink().set_num_format(DATE).set_align(FormatAlign::Left).set_indent(1),
            still: column(QUANTITY).set_background_color(color::STILL),
            fault: Format::new().set_italic().set_font_color(color::STOP).set_align(FormatAlign::Right).set_shrink(),
            stop: Format::new()
                .set_bold()
                .set_font_color(color::PAPER)
                .set_background_color(color::STOP)
                .set_align(FormatAlign::Top)
                .set_align(FormatAlign::Left)
                .set_indent(1),
            warn: ink()
                .set_bold()
                .set_background_color(color::WARN)
                .set_align(FormatAlign::Top)
                .set_align(FormatAlign::Left)
                .set_indent(1),
            changed: Format::new().set_bold().set_font_color(color::STOP).set_align(FormatAlign::Left).set_indent(1),
            text: ink().set_align(FormatAlign::Top).set_align(FormatAlign::Left).set_indent(1),
            wrapped: ink().set_text_wrap().set_align(FormatAlign::Top).set_align(FormatAlign::Left).set_indent(1),
            order_words: Format::new().set_text_wrap().set_align(FormatAlign::Left).set_indent(1),
            link: ink()
                .set_align(FormatAlign::Left)
                .set_indent(1)
                .set_underline(FormatUnderline::Single)
                .set_font_color(color::HEADING)
                .set_align(FormatAlign::Top),
            quiet: Format::new().set_font_color(color::QUIET),
            quiet_wrapped: Format::new()
                .set_font_color(color::QUIET)
                .set_text_wrap()
                .set_align(FormatAlign::Top)
                .set_font_size(9),
            section: ink()
                .set_bold()
                .set_font_size(12)
                .set_border_bottom(FormatBorder::Medium)
                .set_border_bottom_color(color::HEADING),
            total_label: total().set_indent(1),
            total_money: total().set_num_format(MONEY),
            total_quantity: total().set_num_format(QUANTITY),
        }
    }
}

fn ink() -> Format {
    Format::new().set_font_color(color::INK)
}

fn head() -> Format {
    Format::new()
        .set_bold()
        .set_font_color(color::PAPER)
        .set_background_color(color::HEADING)
        .set_text_wrap()
        .set_align(FormatAlign::Bottom)
        .set_border_bottom(FormatBorder::Medium)
        .set_border_bottom_color(color::INK)
}

fn typed_head() -> Format {
    ink()
        .set_italic()
        .set_background_color(color::TYPED_HEADING)
        .set_text_wrap()
        .set_align(FormatAlign::Bottom)
        .set_border_bottom(FormatBorder::Dashed)
        .set_border_bottom_color(color::INK)
}

fn total() -> Format {
    ink()
        .set_bold()
        .set_background_color(color::TOTAL)
        .set_border_top(FormatBorder::Thin)
        .set_border_top_color(color::INK)
        .set_border_bottom(FormatBorder::Double)
        .set_border_bottom_color(color::INK)
}

impl Default for Styles {
    fn default() -> Self {
        Self::new()
    }
}

/// A cell note that holds a whole sentence.
#[must_use]
pub fn note(text: &str) -> Note {
    Note::new(super::text_of(text)).add_author_prefix(false).set_width(260).set_height(90)
}

/// A format whose cells lead somewhere: underlined, in the color of links.
#[must_use]
pub fn linked(format: Format) -> Format {
    format.set_underline(FormatUnderline::Single).set_font_color(color::HEADING)
}

/// A column of one number format; texts stand a little off the numbers before them.
#[must_use]
pub fn column(format: &str) -> Format {
    match format {
        "General" => Format::new().set_align(FormatAlign::Left).set_indent(1),
        _ => Format::new().set_num_format(format),
    }
}
