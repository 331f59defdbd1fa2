//! The picture of the Bid: where the money goes.

use super::alt_text;
use super::blocks::Share;
use crate::program::LineKind;
use crate::workbook::palette as color;
use rust_xlsxwriter::{
    Chart, ChartAxisTickType, ChartDataLabel, ChartFont, ChartFormat, ChartLine, ChartPatternFill,
    ChartPatternFillType, ChartPoint, ChartSolidFill,
};

/// Bars for the dearest items: material solid, labor striped, so that they differ without color.
///
/// `first` is the row of the first share (from 0), `column` the column of the labels; the costs stand beside them.
pub fn picture(shares: &[Share], first: u32, column: u16, size: (u32, u32)) -> Chart {
    let last = first + u32::try_from(shares.len()).unwrap_or(0).saturating_sub(1);
    let mut chart = Chart::new_bar();
    let edge = || ChartLine::new().set_color(color::INK).set_width(0.75).clone();
    let points: Vec<ChartPoint> = shares
        .iter()
        .map(|share| {
            let mut format = ChartFormat::new();
            format.set_border(&edge());
            match share.kind {
                Some(LineKind::Material) => format.set_solid_fill(ChartSolidFill::new().set_color(color::MATERIAL)),
                Some(LineKind::Labor) => format.set_pattern_fill(
                    ChartPatternFill::new()
                        .set_pattern(ChartPatternFillType::DiagonalStripesWideUpwards)
                        .set_foreground_color(color::LABOR)
                        .set_background_color(color::PAPER),
                ),
                None => format.set_solid_fill(ChartSolidFill::new().set_color(color::OTHER)),
            };
            ChartPoint::new().set_format(&mut format)
        })
        .collect();
    let mut font = ChartFont::new();
    font.set_size(9).set_color(color::INK);
    chart
        .add_series()
        .set_name("Cost")
        .set_categories(("Bid", first, column, last, column))
        .set_values(("Bid", first, column + 1, last, column + 1))
        .set_gap(45)
        .set_format(ChartFormat::new().set_solid_fill(ChartSolidFill::new().set_color(color::MATERIAL)))
        .set_points(&points)
        .set_data_label(ChartDataLabel::new().show_value().set_font(&font).set_num_format("$#,##0"));
    chart.title().set_hidden();
    chart.legend().set_hidden();
    // The bars carry their amounts, so the scale and its lines would only repeat them.
    chart.x_axis().set_hidden(true).set_major_gridlines(false);
    chart.y_axis().set_font(&font).set_reverse();
    chart.y_axis().set_major_tick_type(ChartAxisTickType::None);
    chart.chart_area().set_format(ChartFormat::new().set_no_border());
    chart.set_width(size.0).set_height(size.1);
    let dearest: Vec<&str> = shares.iter().take(3).map(|s| s.label.as_str()).collect();
    let alt = format!("Bars of cost by item and work; the dearest are {}.", dearest.join(", "));
    chart.set_alt_text(alt_text(&alt));
    chart
}
