//! Plans: a drawn plan for each different layout, a printed page each, with the rooms that share it.

use super::layout::Layout;
use super::page::{frame, lines};
use super::{Book, alt_text, link_text, printable, text_of};
use crate::drawing::{Painted, PlanOf, described};
use crate::source::column_letters;
use rust_xlsxwriter::{Image, ObjectMovement, Url, Worksheet, XlsxError};
use std::io::{Cursor, Read as _};
use zip::ZipArchive;

/// The most plans that a workbook holds.
pub const MOST_PLANS: usize = 200;
/// Width of the one column, in characters: a plan's 912 pixels and a little more.
const WIDTH: u32 = 131;
/// Height of a plan in pixels, over two rows, as one row cannot be so tall.
const HALF_HEIGHT: u32 = 302;
/// Rows that a plan takes.
const PLAN_ROWS: u32 = 4;
/// Most bytes of a picture that is looked at.
const LARGEST_PICTURE: u64 = 4 << 20;
/// Longest list of rooms, in characters.
const LONGEST_LIST: usize = 600;

/// The pictures of plans in a workbook that was written before.
#[must_use]
pub fn painted_in(bytes: &[u8]) -> Painted {
    let mut painted = Painted::default();
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else { return painted };
    for at in 0..archive.len() {
        let Ok(part) = archive.by_index(at) else { continue };
        let is_picture = part.name().is_ok_and(|n| n.starts_with("xl/media/") && n.ends_with(".png"));
        if is_picture && part.size() <= LARGEST_PICTURE {
            let mut png = Vec::new();
            if part.take(LARGEST_PICTURE).read_to_end(&mut png).is_ok() {
                painted.take(png);
            }
        }
    }
    painted
}

/// Row of a plan's name on its sheet, from 0: the name, two rows of the picture, the rooms that have it.
pub fn plan_row(plan: u32) -> u32 {
    plan * PLAN_ROWS
}

/// Writes Plans; no sheet where there is nothing to draw.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    if doc.plans.is_empty() {
        return Ok(());
    }
    book.sheet("Plans", 0)?;
    let Book { styles, workbook, layout, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    sheet.set_column_width(0, WIDTH)?;
    sheet.set_landscape();
    frame(sheet, &doc)?;
    let pictures = doc.painting.pictures().iter().map(Option::as_deref).chain(std::iter::repeat(None));
    for ((plan, of), picture) in (0..).zip(doc.plans.iter().take(MOST_PLANS)).zip(pictures) {
        one(sheet, layout, styles, plan_row(plan), (of, picture))?;
    }
    let drawn = u32::try_from(doc.plans.len().min(MOST_PLANS)).unwrap_or(u32::MAX);
    let breaks: Vec<u32> = (1..drawn).map(plan_row).collect();
    let mut row = plan_row(drawn);
    let left = doc.plans.len().saturating_sub(MOST_PLANS);
    if left > 0 {
        let more = if left == 1 { "1 more layout".to_owned() } else { format!("{left} more layouts") };
        let text = format!("… {more}; hardlid price --plans DIR writes all.");
        sheet.write_string_with_format(row, 0, text, &styles.quiet)?;
        row += 1;
    }
    sheet.set_page_breaks(&breaks)?;
    sheet.set_print_area(0, 0, row - 1, 0)?;
    Ok(())
}

/// A plan with its name above it and its rooms below.
fn one(
    sheet: &mut Worksheet,
    layout: &Layout,
    styles: &super::styles::Styles,
    row: u32,
    (of, picture): (&PlanOf<'_>, Option<&[u8]>),
) -> Result<(), XlsxError> {
    let name = of.rooms.first().map_or(of.facts.room, |r| r.name.as_str());
    let target = of.rooms.first().and_then(|r| r.row).zip(layout.root.as_ref());
    match target.filter(|(at, root)| *at < root.rows) {
        Some((at, root)) => {
            let letters = column_letters(0);
            let link = format!("internal:Rooms!{letters}{}", root.row(at) + 1);
            sheet.write_url_with_format(row, 0, Url::new(link).set_text(link_text(name)), &styles.link)?;
        }
        None => {
            sheet.write_string_with_format(row, 0, text_of(name), &styles.section)?;
        }
    }
    for half in [row + 1, row + 2] {
        sheet.set_row_height_pixels(half, HALF_HEIGHT)?;
    }
    match picture {
        Some(bytes) => {
            let image = Image::new_from_buffer(bytes)?
                .set_alt_text(alt_text(&described(of.layout, &of.facts)))
                .set_object_movement(ObjectMovement::MoveButDontSizeWithCells);
            sheet.insert_image(row + 1, 0, &image)?;
        }
        None => {
            sheet.write_string_with_format(row + 1, 0, "There was no memory to draw this plan.", &styles.quiet)?;
        }
    }
    let shared = shared(of);
    let tall = lines(&shared, WIDTH).min(4);
    sheet.set_row_height(row + 3, 14 * tall + 3)?;
    sheet.write_string_with_format(row + 3, 0, text_of(&shared), &styles.quiet_wrapped)?;
    Ok(())
}

/// The rooms that a plan serves.
fn shared(of: &PlanOf<'_>) -> String {
    let count = of.rooms.len();
    if count < 2 {
        return "This room alone has this layout.".to_owned();
    }
    let mut out = format!("{count} rooms have this layout: ");
    for (i, room) in of.rooms.iter().enumerate() {
        if out.len() > LONGEST_LIST {
            out.push_str(&format!(", and {} more", count - i));
            break;
        }
        if i > 0 {
            out.push_str(", ");
        }
        out.extend(printable(&room.name).take(60));
    }
    out.push('.');
    out
}
