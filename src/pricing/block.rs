//! Lines of one block of rows: no look-ups by name, no words, nothing that other blocks see.

use super::book::StatedWaste;
use super::cut_rules::CutRules;
use super::exact::{Exact, cell};
use super::labor_rows::Working;
use super::long::LongPieces;
use super::plan::{Measured, Plan, Ready};
use super::priced::Line;
use super::work::{Figures, Memo, Worked, fast, slow};
use crate::engine::column::BLOCK;
use crate::engine::{Chunk, Column, Fault};
use crate::program::{Item, KindId, Need};
use crate::quantity::{Number, NumberError, Ratio};
use rustc_hash::FxHashMap;
use std::ops::Range;
use std::sync::Arc;

/// An item with its columns and with a plan for each of its codes.
pub(crate) struct ItemWork<'a> {
    pub item: &'a Item,
    pub index: u32,
    pub when: Option<&'a Column>,
    pub code: &'a Column,
    pub need: (&'a Column, Option<&'a Column>),
    pub waste: Option<&'a Column>,
    /// Base units in one kept unit of the waste column.
    pub waste_factor: Ratio,
    pub rate: Option<&'a Column>,
    /// What hours are multiplied by.
    pub factor: Option<&'a Column>,
    pub factor_unit: Ratio,
    /// By what one of several Labor rows is chosen.
    pub working: Working<'a>,
    pub measured: Measured,
    /// The price book's waste, for items that take it.
    pub waste_default: Option<&'a StatedWaste>,
    /// By the number of the code's text; with the number of the price row that serves.
    pub plans: FxHashMap<u32, (Plan, Option<u32>)>,
    /// Pieces that some stock is too short for, by row.
    pub long: LongPieces,
    /// The house's rules of cutting.
    pub rules: Arc<CutRules>,
}

/// A piece that no stock is long enough for. Lengths in parts of a millimeter.
#[derive(Clone, Debug)]
pub(crate) struct TooLong {
    pub code: Arc<str>,
    pub piece: i64,
    pub longest: i64,
}

/// What is wrong with one row of one item, apart from faults and codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Odd {
    /// A need, a count, a length, a waste or a rate below zero.
    BelowZero,
    /// A figure of more digits than a number holds.
    TooLarge,
}

/// Two stated figures that differ, of which the rule's serves.
#[derive(Clone, Debug)]
pub(crate) struct Differs {
    pub item: u32,
    pub code: Arc<str>,
    /// The rule's figure in base units.
    pub rule: Number,
    /// The price book's figure in base units.
    pub book: Number,
}

/// What a block of rows gives.
#[derive(Default)]
pub(crate) struct Block {
    pub lines: Vec<Line>,
    pub faults: Vec<(u32, Fault)>,
    pub refused: Vec<(u32, usize)>,
    pub odd: Vec<(u32, u32, Odd)>,
    pub long: Vec<(u32, u32, TooLong)>,
    pub wastes: Vec<Differs>,
    pub rates: Vec<Differs>,
}

/// Why a row of an item has no line though it needs one.
#[derive(Clone, Copy)]
enum Stop {
    Fault(Fault),
    Refused(usize),
    Odd(Odd),
    /// Said already.
    TooLong,
}

/// A number in 128 bits where it fits.
#[derive(Clone, Copy)]
enum Value {
    Exact(Exact),
    Plain(Number),
}

impl Value {
    fn of(chunk: &Chunk, row: usize) -> Result<Self, Stop> {
        match cell(chunk, row) {
            Some(exact) => Ok(Self::Exact(exact)),
            None => chunk.number(row).map(Self::Plain).ok_or(Stop::Odd(Odd::TooLarge)),
        }
    }

    fn is_zero(&self) -> bool {
        match self {
            Self::Exact(e) => e.n == 0,
            Self::Plain(n) => n.is_zero(),
        }
    }

    fn is_negative(&self) -> bool {
        match self {
            Self::Exact(e) => e.n < 0,
            Self::Plain(n) => n.is_negative(),
        }
    }

    fn exact(self) -> Option<Exact> {
        match self {
            Self::Exact(e) => Some(e),
            Self::Plain(_) => None,
        }
    }

    fn plain(self) -> Result<Number, NumberError> {
        match self {
            Self::Exact(e) => e.number().ok_or(NumberError::TooLarge),
            Self::Plain(n) => Ok(n),
        }
    }

    fn times(self, o: Self) -> Result<Self, NumberError> {
        if let (Self::Exact(a), Self::Exact(b)) = (self, o)
            && let Some(product) = a.times(b)
        {
            return Ok(Self::Exact(product));
        }
        Ok(Self::Plain(self.plain()?.times(&o.plain()?)?))
    }

    fn scaled(self, by: Ratio) -> Result<Self, NumberError> {
        if by == Ratio::from(1) { Ok(self) } else { Ok(Self::Plain(self.plain()?.scaled(by)?)) }
    }
}

/// The block of each column that a range of rows lies in.
struct Chunks<'a> {
    work: &'a ItemWork<'a>,
    when: Option<&'a Chunk>,
    code: &'a Chunk,
    need: (&'a Chunk, Option<&'a Chunk>),
    waste: Option<&'a Chunk>,
    rate: Option<&'a Chunk>,
    factor: Option<&'a Chunk>,
    working: (Option<&'a Chunk>, Option<&'a Chunk>),
    memo: Memo,
    /// The last code and its plan: rows of a block mostly share one.
    last: Option<(u32, &'a (Plan, Option<u32>))>,
    waste_told: bool,
    /// The rate last compared with the price book's.
    rate_seen: Option<Exact>,
}

/// The lines of a range of rows that lies in one block.
pub(crate) fn price_block(works: &[ItemWork<'_>], kind: KindId, range: Range<usize>, skip: &[bool]) -> Block {
    let at = range.start / BLOCK;
    let mut items: Vec<Chunks<'_>> = works.iter().map(|work| Chunks::of(work, at)).collect();
    let mut out = Block::default();
    out.lines.reserve(range.len() * works.len());
    for row in range.filter(|r| !skip[*r]) {
        let start = out.lines.len();
        let mut sound = true;
        let number = u32::try_from(row).unwrap_or(u32::MAX);
        for item in &mut items {
            let stop = match item.line(kind, number, row % BLOCK, &mut out) {
                Ok(line) => {
                    out.lines.extend(line);
                    continue;
                }
                Err(stop) => stop,
            };
            sound = false;
            match stop {
                Stop::Fault(fault) => out.faults.push((number, fault)),
                Stop::Refused(refusal) => out.refused.push((number, refusal)),
                Stop::Odd(odd) => out.odd.push((number, item.work.index, odd)),
                Stop::TooLong => {}
            }
        }
        if !sound {
            out.lines.truncate(start);
        }
    }
    out
}

impl<'a> Chunks<'a> {
    fn of(work: &'a ItemWork<'a>, at: usize) -> Self {
        Self {
            work,
            when: work.when.map(|c| &c.chunks[at]),
            code: &work.code.chunks[at],
            need: (&work.need.0.chunks[at], work.need.1.map(|c| &c.chunks[at])),
            waste: work.waste.map(|c| &c.chunks[at]),
            rate: work.rate.map(|c| &c.chunks[at]),
            factor: work.factor.map(|c| &c.chunks[at]),
            working: work.working.at(at),
            memo: None,
            last: None,
            waste_told: false,
            rate_seen: None,
        }
    }

    fn line(&mut self, kind: KindId, number: u32, row: usize, out: &mut Block) -> Result<Option<Line>, Stop> {
        if let Some(when) = self.when {
            sound([Some(when)], row)?;
            if !when.yes_no(row).unwrap_or(false) {
                return Ok(None);
            }
        }
        let need = self.need(row)?;
        if need.is_zero() {
            return Ok(None);
        }
        sound([self.waste, self.rate, self.factor, Some(self.code)], row)?;
        let lump = matches!(self.work.item.need, Need::Lump(_));
        if need.is_negative() && !lump {
            return Err(Stop::Odd(Odd::BelowZero));
        }
        let (plan, price) = self.plan(row)?;
        let (ready, price) = match plan {
            Plan::Refused(refusal) => return Err(Stop::Refused(*refusal)),
            Plan::Ready(ready) => (ready, *price),
            Plan::ByRow(by) => {
                let at = self.work.working.pick(by, self.working, row).map_err(Stop::Fault)?;
                let at = at.map_err(Stop::Refused)?;
                match &at.plan {
                    Plan::Ready(ready) => (ready, at.price),
                    Plan::Refused(refusal) => return Err(Stop::Refused(*refusal)),
                    Plan::ByRow(_) => return Err(Stop::Odd(Odd::TooLarge)),
                }
            }
        };
        self.fits_stock(number, ready, out)?;
        let too_large = |_| Stop::Odd(Odd::TooLarge);
        let waste = self.waste(row)?;
        let rate = self.rate.map(|c| Value::of(c, row)).transpose()?;
        let factor = self.factor.map(|c| Value::of(c, row)).transpose()?;
        let factor = factor.map(|f| f.scaled(self.work.factor_unit)).transpose().map_err(too_large)?;
        if waste.is_negative() || [rate, factor].into_iter().flatten().any(|v| v.is_negative()) {
            return Err(Stop::Odd(Odd::BelowZero));
        }
        self.compare(ready, waste, rate, out).map_err(too_large)?;
        let worked = self.worked(ready, &Figures { need, waste, rate, factor }).map_err(too_large)?;
        let line = line_of((kind, number), self.work, ready, price, worked);
        if lump { lump_sum(line).map(Some).map_err(too_large) } else { Ok(Some(line)) }
    }

    /// Whether each piece of a row comes out of the longest stock, whole or spliced.
    fn fits_stock(&self, number: u32, ready: &Ready, out: &mut Block) -> Result<(), Stop> {
        let (Some(pieces), Some(longest)) = (self.work.long.get(&number), ready.longest) else { return Ok(()) };
        let (item, rules) = (self.work.index, &self.work.rules);
        let Some(piece) = pieces.iter().copied().find(|piece| !rules.can_cut(item, *piece, longest)) else {
            return Ok(());
        };
        out.long.push((number, item, TooLong { code: Arc::clone(&ready.code), piece, longest }));
        Err(Stop::TooLong)
    }

    /// The need in kept units.
    fn need(&self, row: usize) -> Result<Value, Stop> {
        let too_large = |_| Stop::Odd(Odd::TooLarge);
        sound([Some(self.need.0), self.need.1], row)?;
        let first = Value::of(self.need.0, row)?;
        let Some(each) = self.need.1 else { return Ok(first) };
        let each = Value::of(each, row)?;
        if first.is_negative() || each.is_negative() {
            return Err(Stop::Odd(Odd::BelowZero));
        }
        first.times(each).map_err(too_large)
    }

    /// The rule's waste, or else the price book's.
    fn waste(&self, row: usize) -> Result<Value, Stop> {
        match (self.waste, self.work.waste_default) {
            (Some(chunk), _) => {
                Value::of(chunk, row)?.scaled(self.work.waste_factor).map_err(|_| Stop::Odd(Odd::TooLarge))
            }
            (None, Some(stated)) => {
                Ok(Exact::of_number(&stated.fraction).map_or(Value::Plain(stated.fraction), Value::Exact))
            }
            (None, None) => Ok(Value::Exact(Exact { n: 0, d: 1 })),
        }
    }

    fn plan(&mut self, row: usize) -> Result<&'a (Plan, Option<u32>), Stop> {
        let id = self.code.text(row).ok_or(Stop::Odd(Odd::TooLarge))?;
        if let Some((same, plan)) = self.last
            && same == id
        {
            return Ok(plan);
        }
        let plan = self.work.plans.get(&id).ok_or(Stop::Odd(Odd::TooLarge))?;
        self.last = Some((id, plan));
        Ok(plan)
    }

    /// Notes a rule's figure that is not the price book's; once a block is enough.
    fn compare(
        &mut self,
        ready: &Ready,
        waste: Value,
        rate: Option<Value>,
        out: &mut Block,
    ) -> Result<(), NumberError> {
        let differs = |rule, book| Differs { item: self.work.index, code: Arc::clone(&ready.code), rule, book };
        if let (false, Some(_), Some(stated)) = (self.waste_told, self.waste, self.work.waste_default) {
            let own = waste.plain()?;
            if own != stated.fraction {
                out.wastes.push(differs(own, stated.fraction));
                self.waste_told = true;
            }
        }
        if let (Some(rate), Some(other)) = (rate, ready.other_rate) {
            if rate.exact().is_some() && rate.exact() == self.rate_seen {
                return Ok(());
            }
            let own = rate.plain()?.scaled(self.work.measured.measure.rate_factor)?;
            if own != other && !out.rates.iter().any(|d| d.item == self.work.index && d.code == ready.code) {
                out.rates.push(differs(own, other));
            }
            self.rate_seen = rate.exact();
        }
        Ok(())
    }

    fn worked(&mut self, ready: &Ready, row: &Figures<Value>) -> Result<Worked, NumberError> {
        let measure = &self.work.measured.measure;
        let (rate, factor) = (row.rate, row.factor);
        if let (Some(need), Some(waste)) = (row.need.exact(), row.waste.exact())
            && [rate, factor].into_iter().flatten().all(|v| v.exact().is_some())
        {
            let (rate, factor) = (rate.and_then(Value::exact), factor.and_then(Value::exact));
            let figures = Figures { need, waste, rate, factor };
            if let Some(worked) = fast(measure, &ready.how, &figures, &mut self.memo) {
                return Ok(worked);
            }
        }
        let [rate, factor] = [rate, factor].map(|v| v.map(Value::plain).transpose());
        let row = Figures { need: row.need.plain()?, waste: row.waste.plain()?, rate: rate?, factor: factor? };
        slow(measure, &ready.how, &row)
    }
}

/// The first fault among cells.
fn sound<const N: usize>(chunks: [Option<&Chunk>; N], row: usize) -> Result<(), Stop> {
    match chunks.into_iter().flatten().find_map(|c| c.fault(row)) {
        Some(fault) => Err(Stop::Fault(fault)),
        None => Ok(()),
    }
}

fn line_of(of: (KindId, u32), work: &ItemWork<'_>, ready: &Ready, price: Option<u32>, worked: Worked) -> Line {
    Line {
        of,
        room: None,
        item: work.index,
        code: Arc::clone(&ready.code),
        kind: work.item.what,
        need: worked.need,
        waste: worked.waste,
        quantity: worked.quantity,
        unit: Arc::clone(&work.measured.unit),
        unit_cost: worked.unit_cost,
        cost: worked.cost,
        hours: worked.hours,
        price,
        apart: false,
        own: None,
    }
}

/// The unit of a lump sum.
pub const LUMP_SUM: &str = "lump sum";

/// A lump sum: one of it, at its own money.
fn lump_sum(line: Line) -> Result<Line, NumberError> {
    let money = line.quantity;
    Ok(Line {
        need: Number::ONE,
        waste: Number::ZERO,
        quantity: Number::ONE,
        unit: LUMP_SUM.into(),
        unit_cost: Some(money),
        cost: Some(money.cents()?),
        ..line
    })
}
