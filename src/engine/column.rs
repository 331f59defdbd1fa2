//! A column: blocks of 64-bit whole numbers with one decimal scale each, or of exact numbers where those do not fit.

use crate::program::SiteId;
use crate::quantity::{Decimal, Number};

/// Rows in a block. A block of a few columns stays in the first-level cache.
pub const BLOCK: usize = 1024;

/// Why a cell has no value: where in the program the fault began, and at which row of that place's kind.
///
/// Eight bytes; everything else about it is found again from the program when somebody asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Fault {
    /// Where it began.
    pub site: SiteId,
    /// Row of the site's kind, from 0.
    pub row: u32,
}

/// The values of one block.
#[derive(Clone, Debug, PartialEq)]
pub enum Data {
    /// Whole numbers; value = `values[i] / 10^scale`, over `over[i] / 10^over_scale` where there is a bar.
    Fixed {
        /// The whole numbers.
        values: Vec<i64>,
        /// Decimal places.
        scale: u32,
        /// What stands under the bar: each above zero.
        over: Option<(Vec<i64>, u32)>,
    },
    /// Exact numbers.
    Wide(Vec<Number>),
    /// Numbers of texts in the dictionary.
    Text(Vec<u32>),
    /// Yes or no.
    YesNo(Vec<bool>),
}

/// One block of a column. `data` holds one value for each row, or a single value that serves them all.
#[derive(Clone, Debug, PartialEq)]
pub struct Chunk {
    /// The values; those of faulty rows mean nothing.
    pub data: Data,
    /// Faults by row, `None` where the row is sound; absent when all are.
    pub faults: Option<Box<[Option<Fault>]>>,
}

/// A column of a table, in the unit that its field is kept in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Blocks of [`BLOCK`] rows, the last one shorter.
    pub chunks: Vec<Chunk>,
}

impl Data {
    /// How many values are held.
    #[must_use]
    pub fn len(&self) -> usize {
        match self {
            Self::Fixed { values, .. } => values.len(),
            Self::Wide(v) => v.len(),
            Self::Text(v) => v.len(),
            Self::YesNo(v) => v.len(),
        }
    }

    /// Whether none is held.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

impl Chunk {
    /// The index of a row's value: 0 where one value serves all.
    fn at(&self, row: usize) -> usize {
        if self.data.len() == 1 { 0 } else { row }
    }

    /// The fault of a row of this block.
    #[must_use]
    pub fn fault(&self, row: usize) -> Option<Fault> {
        let faults = self.faults.as_ref()?;
        faults[if faults.len() == 1 { 0 } else { row }]
    }

    /// The number of a sound row, in the column's unit; `None` for other data.
    #[must_use]
    pub fn number(&self, row: usize) -> Option<Number> {
        let i = self.at(row);
        match &self.data {
            Data::Fixed { values, scale, over: None } => Some(Decimal::new(values[i], *scale).into()),
            Data::Fixed { values, scale, over: Some((over, over_scale)) } => {
                let under = over[if over.len() == 1 { 0 } else { row }];
                Number::quotient(Decimal::new(values[i], *scale), Decimal::new(under, *over_scale)).ok()
            }
            Data::Wide(v) => Some(v[i]),
            Data::Text(_) | Data::YesNo(_) => None,
        }
    }

    /// The text number of a sound row.
    #[must_use]
    pub fn text(&self, row: usize) -> Option<u32> {
        match &self.data {
            Data::Text(v) => Some(v[self.at(row)]),
            _ => None,
        }
    }

    /// The yes or no of a sound row.
    #[must_use]
    pub fn yes_no(&self, row: usize) -> Option<bool> {
        match &self.data {
            Data::YesNo(v) => Some(v[self.at(row)]),
            _ => None,
        }
    }
}

impl Column {
    /// The block and the row within it.
    #[must_use]
    pub fn locate(&self, row: usize) -> (&Chunk, usize) {
        (&self.chunks[row / BLOCK], row % BLOCK)
    }

    /// The fault of a row.
    #[must_use]
    pub fn fault(&self, row: usize) -> Option<Fault> {
        let (chunk, at) = self.locate(row);
        chunk.fault(at)
    }
}

/// What kind of values a builder takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Numbers; dates as days since 1970-01-01.
    Numbers,
    /// Text numbers.
    Texts,
    /// Yes or no.
    YesNo,
}

/// Builds a column cell by cell.
#[derive(Debug)]
pub struct ColumnBuilder {
    holds: Holds,
    chunks: Vec<Chunk>,
    numbers: Vec<Decimal>,
    texts: Vec<u32>,
    yes_no: Vec<bool>,
    faults: Vec<(usize, Fault)>,
    rows: usize,
}

impl ColumnBuilder {
    /// An empty column.
    #[must_use]
    pub fn new(holds: Holds) -> Self {
        Self {
            holds,
            chunks: Vec::new(),
            numbers: Vec::new(),
            texts: Vec::new(),
            yes_no: Vec::new(),
            faults: Vec::new(),
            rows: 0,
        }
    }

    /// A number, in the column's unit.
    pub fn push_number(&mut self, value: Decimal) {
        debug_assert_eq!(self.holds, Holds::Numbers);
        self.numbers.push(value);
        self.step();
    }

    /// A text's number in the dictionary.
    pub fn push_text(&mut self, id: u32) {
        debug_assert_eq!(self.holds, Holds::Texts);
        self.texts.push(id);
        self.step();
    }

    /// Yes or no.
    pub fn push_yes_no(&mut self, value: bool) {
        debug_assert_eq!(self.holds, Holds::YesNo);
        self.yes_no.push(value);
        self.step();
    }

    /// A cell without a value: blank (the field's `missing` site) or unreadable (its `unreadable` site).
    pub fn push_fault(&mut self, site: SiteId) {
        let row = u32::try_from(self.rows).unwrap_or(u32::MAX);
        self.faults.push((self.rows % BLOCK, Fault { site, row }));
        match self.holds {
            Holds::Numbers => self.push_number(Decimal::ZERO),
            Holds::Texts => self.push_text(0),
            Holds::YesNo => self.push_yes_no(false),
        }
    }

    fn step(&mut self) {
        self.rows += 1;
        if self.rows.is_multiple_of(BLOCK) {
            self.flush();
        }
    }

    fn flush(&mut self) {
        let data = match self.holds {
            Holds::Numbers => fixed_or_wide(&self.numbers),
            Holds::Texts => Data::Text(std::mem::take(&mut self.texts)),
            Holds::YesNo => Data::YesNo(std::mem::take(&mut self.yes_no)),
        };
        self.numbers.clear();
        let faults = (!self.faults.is_empty()).then(|| {
            let mut by_row = vec![None; data.len()].into_boxed_slice();
            for (row, fault) in self.faults.drain(..) {
                by_row[row] = Some(fault);
            }
            by_row
        });
        self.chunks.push(Chunk { data, faults });
    }

    /// The finished column.
    #[must_use]
    pub fn finish(mut self) -> Column {
        if !self.rows.is_multiple_of(BLOCK) {
            self.flush();
        }
        Column { chunks: self.chunks }
    }
}

/// A block of decimals at one scale in 64 bits where they fit.
#[must_use]
pub fn fixed_or_wide(numbers: &[Decimal]) -> Data {
    let normal: Vec<Decimal> = numbers.iter().map(Decimal::normalize).collect();
    let scale = normal.iter().map(Decimal::scale).max().unwrap_or(0);
    let fit = |d: &Decimal| {
        let up = 10i128.checked_pow(scale - d.scale())?;
        i64::try_from(d.mantissa().checked_mul(up)?).ok()
    };
    match normal.iter().map(fit).collect::<Option<Vec<i64>>>() {
        Some(values) => Data::Fixed { values, scale, over: None },
        None => Data::Wide(normal.into_iter().map(Number::from).collect()),
    }
}
