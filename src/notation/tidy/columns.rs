//! How wide columns are, so that most rows stand in line and none grows too long by it.

use super::WIDTH;

/// Spaces between two columns.
pub(super) const BETWEEN: usize = 2;
/// A cell that is so much wider than the next one stands out of its column.
const STANDS_OUT: usize = 8;

/// So many cells always stand in their columns: a row too long even so is broken.
const ALWAYS: usize = 3;

/// One row: how wide its cells are (0 where there is none), and what follows them.
#[derive(Clone, Debug, Default)]
pub(super) struct Widths {
    /// Cells of columns.
    pub cells: Vec<usize>,
    /// What follows the last cell.
    pub rest: usize,
}

impl Widths {
    /// Where the row ends when its first `aligned` cells stand in columns that begin at `starts`.
    pub fn end(&self, starts: &[usize], aligned: usize) -> usize {
        let mut end = starts.first().copied().unwrap_or(0);
        for (i, width) in self.cells.iter().enumerate().filter(|(_, w)| **w > 0) {
            let after = if i == 0 { end } else { end + BETWEEN };
            end = width + if i < aligned { after.max(starts[i]) } else { after };
        }
        end + if self.rest > 0 { BETWEEN + self.rest } else { 0 }
    }

    /// How many of its cells can stand in columns, fewer where the row would grow too long; `None` where it must be broken.
    pub fn aligned(&self, starts: &[usize]) -> Option<usize> {
        let most = self.cells.len();
        (ALWAYS.min(most)..=most).rev().find(|aligned| self.end(starts, *aligned) <= WIDTH)
    }
}

/// A column: widths of its cells that others follow, the widest first, and how many of them stand out of it.
struct Column {
    widths: Vec<usize>,
    out: usize,
}

impl Column {
    fn width(&self) -> usize {
        self.widths.get(self.out).copied().unwrap_or(0)
    }

    /// The next narrower width, and how many cells would stand out of that: a third of them may.
    fn narrower(&self) -> Option<(usize, usize)> {
        let width = self.width();
        let out = self.widths.iter().position(|w| *w < width)?;
        (out * 3 <= self.widths.len()).then(|| (self.widths[out], out))
    }
}

/// Where the columns of some rows begin, the first at `indent`.
pub(super) fn starts(rows: &[Widths], indent: usize) -> Vec<usize> {
    let count = rows.iter().map(|r| r.cells.len()).max().unwrap_or(0);
    let mut columns: Vec<Column> = Vec::new();
    for i in 0..count {
        let followed = |row: &&Widths| row.cells.get(i + 1..).is_some_and(|after| after.iter().any(|w| *w > 0));
        let mut widths: Vec<usize> =
            rows.iter().filter(followed).filter_map(|r| r.cells.get(i).copied().filter(|w| *w > 0)).collect();
        widths.sort_unstable_by(|a, b| b.cmp(a));
        let mut column = Column { widths, out: 0 };
        while let Some((next, out)) = column.narrower() {
            if column.width() - next <= STANDS_OUT {
                break;
            }
            column.out = out;
        }
        columns.push(column);
    }
    // where rows grow too long, wide cells stand out one after the other: of all these the columns in which most cells stand
    let mut best = places(&columns, indent);
    let mut least = out_of_line(rows, &best);
    let mut now = best.clone();
    let too_long =
        |row: &Widths, starts: &[usize]| row.end(starts, row.cells.len()) > WIDTH && row.end(starts, 0) <= WIDTH;
    while rows.iter().any(|row| too_long(row, &now)) {
        let wide = columns.iter_mut().filter_map(|c| c.narrower().map(|(next, out)| (c.width() - next, out, c)));
        let Some((_, out, column)) = wide.max_by_key(|(gain, _, _)| *gain) else { break };
        column.out = out;
        now = places(&columns, indent);
        let count = out_of_line(rows, &now);
        if count < least {
            (best, least) = (now.clone(), count);
        }
    }
    best
}

/// How many cells do not stand where their column begins.
fn out_of_line(rows: &[Widths], starts: &[usize]) -> usize {
    let out = |row: &Widths| {
        let Some(aligned) = row.aligned(starts) else {
            // a row that is broken for its columns alone has no cell in line
            let whole = row.end(starts, 0) <= WIDTH;
            return if whole { row.cells.iter().filter(|w| **w > 0).count() } else { 0 };
        };
        let (mut end, mut count) = (starts.first().copied().unwrap_or(0), 0);
        for (i, width) in row.cells.iter().enumerate().filter(|(_, w)| **w > 0) {
            let after = if i == 0 { end } else { end + BETWEEN };
            let at = if i < aligned { after.max(starts[i]) } else { after };
            count += usize::from(at != starts[i]);
            end = at + width;
        }
        count
    };
    rows.iter().map(out).sum()
}

fn places(columns: &[Column], indent: usize) -> Vec<usize> {
    let mut at = indent;
    let mut out = Vec::with_capacity(columns.len());
    for column in columns {
        out.push(at);
        let width = column.width();
        at += if width > 0 { width + BETWEEN } else { 0 };
    }
    out
}

/// How many characters stand before the point, the foot mark or the unit of a number, and what it is a number of: numbers
/// of one kind are set by their point.
pub(super) fn number(text: &str) -> Option<(usize, String)> {
    let signed = text.strip_prefix('-').unwrap_or(text);
    let bare = signed.strip_prefix('$').unwrap_or(signed);
    let digits = bare.find(|c: char| !(c.is_ascii_digit() || c == ',')).unwrap_or(bare.len());
    let rest = &bare[digits..];
    let fraction = rest.strip_prefix('/').is_some_and(|r| r.starts_with(|c: char| c.is_ascii_digit()));
    if digits == 0 || fraction {
        return None;
    }
    let lead = text.len() - rest.len();
    let money = if bare.len() < signed.len() { "$" } else { "" };
    let after_point = |rest: &str| -> String {
        let rest = rest.strip_prefix('.').map_or(rest, |r| r.trim_start_matches(|c: char| c.is_ascii_digit()));
        rest.to_owned()
    };
    let kind = match after_point(rest) {
        feet if feet.starts_with(['\'', '′', '’']) => "'".to_owned(),
        inches if inches.ends_with(['"', '″', '”']) => "\"".to_owned(),
        unit => format!("{money}{unit}"),
    };
    Some((lead, kind))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(cells: &[usize]) -> Widths {
        Widths { cells: cells.to_vec(), rest: 0 }
    }

    /// 4 + 6 + 2 is 12, and 12 + 10 + 2 is 24.
    #[test]
    fn columns_are_as_wide_as_their_widest_cell_that_another_follows() {
        assert_eq!(starts(&[row(&[6, 10, 3]), row(&[2, 8, 3]), row(&[3, 40, 0])], 4), [4, 12, 24]);
    }

    #[test]
    fn one_wide_cell_of_three_stands_out_of_its_column() {
        assert_eq!(starts(&[row(&[30, 1]), row(&[5, 1]), row(&[4, 1])], 0), [0, 7]);
        assert_eq!(starts(&[row(&[30, 1]), row(&[5, 1])], 0), [0, 32]);
    }

    /// 100 + 2 + 19 is over 120; the row itself, 93 + 2 + 19, is not.
    #[test]
    fn no_row_grows_too_long_by_its_columns() {
        let rows = [row(&[100, 2]), row(&[93, 19]), row(&[92, 2])];
        let starts = starts(&rows, 0);
        assert_eq!(starts, [0, 95]);
        assert_eq!(rows[1].aligned(&starts), Some(2));
    }

    #[test]
    fn numbers_are_set_by_their_point() {
        assert_eq!(number("12.5 sf"), Some((2, " sf".to_owned())));
        assert_eq!(number("-$1,204.85"), Some((7, "$".to_owned())));
        assert_eq!(number("$12/ft"), Some((3, "$/ft".to_owned())));
        assert_eq!(number("10'-3 1/2\""), Some((2, "'".to_owned())));
        assert_eq!(number("1-1/2\""), Some((1, "\"".to_owned())));
        assert_eq!(number("5/8\""), None);
        assert_eq!(number("\"GB-58\""), None);
    }
}
