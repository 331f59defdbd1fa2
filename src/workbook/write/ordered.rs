//! What is bought as live formulas: what lines use of a code, and how purchases follow from it.
//!
//! What a cutting plan says is a value; whether the lines that it was made for still use as much stands beside it.

use super::as_read::unless;
use super::layout::{Layout, LineColumn};
use super::{Document, edge};
use crate::pricing::{OrderRow, Packed};
use crate::program::LineKind;
use crate::quantity::Number;
use rustc_hash::FxHashMap;

/// What lines use by now.
pub struct Ordered<'a> {
    /// What lines of the bid use of each code, its letters small, in the one unit that they all have.
    sums: FxHashMap<String, Option<Number>>,
    /// How many rows of the order each code has, and what they use together.
    rows: FxHashMap<&'a str, (usize, Number)>,
    layout: &'a Layout,
}

/// The formulas of a row; nothing where a cell is a value.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct RowLive {
    /// What lines use.
    pub used: Option<String>,
    /// How many purchases that is.
    pub buy: Option<String>,
    /// What is left over of them.
    pub left: Option<String>,
    /// What they weigh.
    pub weight: Option<String>,
    /// Whether lines use as much as when it was priced.
    pub since: Option<String>,
}

impl<'a> Ordered<'a> {
    /// Adds up what lines use. Nothing is live where looking through all lines for each row would keep a worksheet busy.
    pub fn new(doc: &Document<'a>, layout: &'a Layout) -> Option<Self> {
        let (lines, order) = (&doc.priced.lines, &doc.priced.order);
        let looks = (lines.len() as u64).saturating_mul(order.len() as u64);
        if doc.limits.values_only || looks > doc.limits.look_ups {
            return None;
        }
        let (mut sums, mut units): (FxHashMap<String, Option<Number>>, FxHashMap<String, &str>) = Default::default();
        for line in lines.iter().filter(|l| l.kind == LineKind::Material && !l.apart) {
            // a worksheet does not tell large letters from small ones
            let code = line.code.to_lowercase();
            let own = line.own.as_deref().and_then(|own| own.quantity.as_ref());
            let alike = *units.entry(code.clone()).or_insert(&line.unit) == &*line.unit;
            let sum = sums.entry(code).or_insert(Some(Number::ZERO));
            *sum = sum.filter(|_| alike).and_then(|sum| sum.plus(own.unwrap_or(&line.quantity)).ok());
        }
        let mut rows: FxHashMap<&str, (usize, Number)> = FxHashMap::default();
        for row in order {
            let (count, used) = rows.entry(&row.code).or_insert((0, Number::ZERO));
            *count += 1;
            *used = used.plus(&row.used).ok()?;
        }
        Some(Self { sums, rows, layout })
    }

    /// The formulas of a row, whose number on the sheet is `n`, from 1.
    pub fn row(&self, row: &OrderRow, n: u32) -> RowLive {
        let mut out = RowLive::default();
        let Some((count, used)) = self.rows.get(&*row.code) else { return out };
        // lines that are told apart here by more than their code, or that say it in another unit, cannot be added up there
        if self.sums.get(&row.code.to_lowercase()) != Some(&Some(*used)) {
            return out;
        }
        let lines = self.used_by_lines(n);
        let then = float(used);
        match &row.packed {
            Some(packed) if *count == 1 && packed.content > Number::ZERO => {
                out.since = Some(unless(&format!("ABS(C{n}-{then})<0.000001")));
                out.used = Some(lines);
                out.buy = Some(purchases(packed, n));
                out.left = Some(format!("MAX(0,E{n}*{}-C{n})", float(&packed.content)));
                let each = row.weight.and_then(|weight| weight.over(&row.buy).ok());
                out.weight = each.map(|each| format!("E{n}*{}", float(&each)));
            }
            _ => {
                out.since = Some(unless(&format!("ABS({lines}-{then})<0.000001")));
                out.used = Some(lines).filter(|_| *count == 1);
            }
        }
        out
    }

    /// What the lines of a row's code use: an estimator's own quantity goes before ours.
    fn used_by_lines(&self, n: u32) -> String {
        let lines = &self.layout.lines;
        lines.over_sheets(|sheet| {
            let [code, kind, ours, own] =
                [LineColumn::Code, LineColumn::Kind, LineColumn::Quantity, LineColumn::OwnQuantity]
                    .map(|column| lines.range(sheet, column));
            let which = format!("--({code}=$A{n}),--({kind}=\"Material\")");
            format!("SUMPRODUCT({which},--({own}=\"\"),{ours})+SUMPRODUCT({which},{own})")
        })
    }
}

/// Purchases of a row, as the order has them: what is whole within a millionth is whole.
fn purchases(packed: &Packed, n: u32) -> String {
    let content = float(&packed.content);
    let many = if packed.whole { format!("-INT(0.000001-C{n}/{content})") } else { format!("C{n}/{content}") };
    match &packed.least {
        Some(least) => format!("IF(C{n}=0,0,MAX({},{many}))", float(least)),
        None => many,
    }
}

fn float(number: &Number) -> String {
    edge::text(edge::number(number))
}
