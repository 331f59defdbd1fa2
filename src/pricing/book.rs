//! The price book as it was read: what each code sells as and costs, labor, crews.

use super::offers;
use super::priced::SaleUnit;
use crate::engine::input::fold;
use crate::problem::nearest::nearest;
use crate::quantity::show::{Style, decimal_text, show};
use crate::quantity::{Date, Dimension, Number, NumberError, Unit};
use crate::source::CellPlace;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// Why a row of the price book cannot price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// A sentence that stands alone.
    pub what: String,
    /// The cell at fault.
    pub place: CellPlace,
}

/// What one pack, carton, roll, bag, pail or sheet holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Pack {
    /// As written: `1000 ea`, `5 gal`.
    pub written: Arc<str>,
    /// How much, in base units (pieces, mm, mm², mm³, lb).
    pub amount: Number,
    /// What it measures.
    pub dimension: Dimension,
}

/// A lower cost from some quantity up.
#[derive(Clone, Debug, PartialEq)]
pub struct Break {
    /// Units of sale from which it holds.
    pub from: Number,
    /// Dollars for one unit of sale.
    pub cost: Number,
}

/// A row of sheet *Prices*.
#[derive(Clone, Debug)]
pub struct PriceRow {
    /// Code, as typed.
    pub code: Arc<str>,
    /// What it is.
    pub item: Arc<str>,
    /// Unit of sale: the cost is for one of these.
    pub sold_by: SaleUnit,
    /// What a pack holds.
    pub pack: Option<Pack>,
    /// Length of a stock piece, in mm.
    pub stock_length: Option<Number>,
    /// Dollars for one unit of sale.
    pub cost: Number,
    /// Costs from some quantity up, the least quantity first.
    pub breaks: Vec<Break>,
    /// The quantity whose break `cost` is; nothing for the first cost.
    pub reached: Option<Number>,
    /// The least that is sold at once, in units of sale.
    pub least: Option<Number>,
    /// First day in force.
    pub from: Option<Date>,
    /// Last day in force.
    pub through: Option<Date>,
    /// Supplier.
    pub supplier: Option<Arc<str>>,
    /// What it is a kind of, as the list puts it: steel, board.
    pub group: Option<Arc<str>>,
    /// Weight of one unit of sale in lb.
    pub weight: Option<Number>,
    /// Whether the list says that its price is to be asked for: it has none, and never prices.
    pub on_call: bool,
    /// Why it cannot price, if it cannot.
    pub flaw: Option<Flaw>,
    /// The cell of its unit of sale; the whole row when the sheet has no such column.
    pub unit_place: CellPlace,
    /// The cell of its cost.
    pub place: CellPlace,
}

/// Hours for one unit of work.
#[derive(Clone, Debug)]
pub struct LaborRate {
    /// Hours for one of `per`.
    pub hours: Number,
    /// The unit, as written and as it measures.
    pub per: SaleUnit,
}

/// A row of sheet *Labor*.
#[derive(Clone, Debug)]
pub struct LaborRow {
    /// Code, as typed.
    pub code: Arc<str>,
    /// What the work is.
    pub work: Arc<str>,
    /// Hours for each unit; `None` where the sheet leaves it to the rule.
    pub rate: Option<LaborRate>,
    /// The height in mm from which the row serves; any where it says nothing.
    pub height: Option<Number>,
    /// The difficulty for which it serves; any that has no row of its own where it says nothing.
    pub difficulty: Option<Arc<str>>,
    /// Index into [`PriceBook::crews`].
    pub crew: Option<u32>,
    /// First day in force.
    pub from: Option<Date>,
    /// Last day in force.
    pub through: Option<Date>,
    /// Why it cannot price, if it cannot.
    pub flaw: Option<Flaw>,
    /// The cell of its hours.
    pub place: CellPlace,
}

/// A week with overtime: hours beyond straight time are paid more than once.
#[derive(Clone, Debug, PartialEq)]
pub struct Overtime {
    /// Hours worked in a week.
    pub worked: Number,
    /// Hours of them that are paid once.
    pub straight: Number,
    /// What each of the others is paid: 1.5 for time and a half.
    pub times: Number,
}

impl Overtime {
    /// Hours paid for the hours worked: 40 + 8 at time and a half are 52 paid for 48 worked.
    ///
    /// # Errors
    /// A value too large.
    pub fn paid(&self) -> Result<Number, NumberError> {
        let over = self.worked.minus(&self.straight)?;
        if over.is_negative() { Ok(self.worked) } else { self.straight.plus(&over.times(&self.times)?) }
    }
}

/// A row of sheet *Crews*.
#[derive(Clone, Debug)]
pub struct Crew {
    /// Name, as typed.
    pub name: Arc<str>,
    /// Dollars an hour, without burden.
    pub wage: Number,
    /// Burden as a fraction of the wage.
    pub burden: Number,
    /// Hours of a week that are paid more than once.
    pub overtime: Option<Overtime>,
    /// Why it cannot price, if it cannot.
    pub flaw: Option<Flaw>,
    /// The cell of its wage.
    pub place: CellPlace,
}

/// The waste that the price book's *Job* sheet states for every item.
#[derive(Clone, Debug, PartialEq)]
pub struct StatedWaste {
    /// As a fraction.
    pub fraction: Number,
    /// Its cell.
    pub place: CellPlace,
}

/// A price book, for one pricing date.
#[derive(Clone, Debug)]
pub struct PriceBook {
    /// File name as the user gave it.
    pub file: Arc<str>,
    /// The pricing date: rows in force on it serve.
    pub as_of: Date,
    /// Rows of sheet *Prices*, in sheet order.
    pub prices: Vec<PriceRow>,
    /// Rows of sheet *Labor*, in sheet order.
    pub labor: Vec<LaborRow>,
    /// Rows of sheet *Crews*, in sheet order.
    pub crews: Vec<Crew>,
    /// Waste for every item that states none of its own.
    pub waste: Option<StatedWaste>,
    prices_by_code: FxHashMap<Box<str>, Vec<u32>>,
    labor_by_code: FxHashMap<Box<str>, Vec<u32>>,
}

/// What a code leads to on the pricing date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// The one row in force, sound or not.
    Row(u32),
    /// Several rows in force that are choices: other stock lengths or other suppliers of one thing, other heights or
    /// difficulties of one work.
    Choices(Vec<u32>),
    /// Rows of that code, none in force.
    NoneInForce(Vec<u32>),
    /// More than one row in force, of which nobody can say which serves.
    Several(Vec<u32>),
    /// No row of that code.
    Missing,
}

/// A row that is in force from one day through another.
pub(crate) trait Dated {
    /// First and last day.
    fn days(&self) -> (Option<Date>, Option<Date>);
    /// Code, as typed.
    fn code(&self) -> &Arc<str>;
    /// Where it stands.
    fn place(&self) -> &CellPlace;
    /// What tells it apart from rows that may be in force beside it.
    fn told_apart_by(&self) -> String {
        fold(self.code())
    }
}

impl Dated for PriceRow {
    fn days(&self) -> (Option<Date>, Option<Date>) {
        (self.from, self.through)
    }
    fn code(&self) -> &Arc<str> {
        &self.code
    }
    fn place(&self) -> &CellPlace {
        &self.place
    }
    /// Rows of one code with other stock lengths or other suppliers are choices.
    fn told_apart_by(&self) -> String {
        let stock = self.stock_length.map_or_else(String::new, |mm| decimal_text(&mm, 9).text);
        format!("{}\n{stock}\n{}", fold(&self.code), fold(self.supplier.as_deref().unwrap_or("")))
    }
}

impl Dated for LaborRow {
    fn days(&self) -> (Option<Date>, Option<Date>) {
        (self.from, self.through)
    }
    fn code(&self) -> &Arc<str> {
        &self.code
    }
    fn place(&self) -> &CellPlace {
        &self.place
    }
    /// Rows of one code for other heights or other difficulties stand beside each other.
    fn told_apart_by(&self) -> String {
        let height = self.height.map_or_else(String::new, |mm| decimal_text(&mm, 9).text);
        format!("{}\n{height}\n{}", fold(&self.code), fold(self.difficulty.as_deref().unwrap_or("")))
    }
}

/// Whether a row is in force on a day.
pub(crate) fn in_force(row: &impl Dated, day: Date) -> bool {
    let (from, through) = row.days();
    from.is_none_or(|f| f <= day) && through.is_none_or(|t| day <= t)
}

/// The days of a row in words: `from 2026-01-01 through 2026-06-30`.
pub(crate) fn days_text(row: &impl Dated) -> String {
    match row.days() {
        (None, None) => "always".to_owned(),
        (Some(f), None) => format!("from {f} on"),
        (None, Some(t)) => format!("through {t}"),
        (Some(f), Some(t)) => format!("from {f} through {t}"),
    }
}

/// Pairs of rows that nothing tells apart and that are in force on the same day, in sheet order; a row whose days run
/// backward is never in force.
pub(crate) fn overlaps<T: Dated>(rows: &[T]) -> Vec<(usize, usize)> {
    let forward = |r: &T| !matches!(r.days(), (Some(f), Some(t)) if f > t);
    let mut order: Vec<(String, Option<Date>, usize)> =
        rows.iter().enumerate().filter(|(_, r)| forward(r)).map(|(i, r)| (r.told_apart_by(), r.days().0, i)).collect();
    order.sort();
    let mut out = Vec::new();
    // the row of the code seen so far that stays in force longest
    let mut longest: Option<usize> = None;
    for (n, (code, from, row)) in order.iter().enumerate() {
        if n > 0 && order[n - 1].0 != *code {
            longest = None;
        }
        let through = |i: usize| rows[i].days().1;
        if let Some(before) = longest
            && through(before).is_none_or(|t| from.is_none_or(|f| f <= t))
        {
            out.push((before.min(*row), before.max(*row)));
        }
        if longest.is_none_or(|l| through(l).is_some_and(|t| through(*row).is_none_or(|mine| mine > t))) {
            longest = Some(*row);
        }
    }
    out.sort_unstable();
    out
}

/// A code as it is looked up: spaces and line breaks within it count as one space, as the price book's are read.
fn code_key(code: &str) -> String {
    fold(&code.split_whitespace().collect::<Vec<_>>().join(" "))
}

fn by_code<T: Dated>(rows: &[T]) -> FxHashMap<Box<str>, Vec<u32>> {
    let mut out: FxHashMap<Box<str>, Vec<u32>> = FxHashMap::default();
    for (i, row) in rows.iter().enumerate() {
        out.entry(code_key(row.code()).into_boxed_str()).or_default().push(u32::try_from(i).unwrap_or(u32::MAX));
    }
    out
}

/// What a code leads to. Several rows in force are choices where `choices` says so of them.
fn find<T: Dated>(
    rows: &[T],
    index: &FxHashMap<Box<str>, Vec<u32>>,
    code: &str,
    day: Date,
    choices: impl Fn(&[u32]) -> bool,
) -> Found {
    let Some(of_code) = index.get(code_key(code).as_str()) else { return Found::Missing };
    let serving: Vec<u32> = of_code.iter().copied().filter(|i| in_force(&rows[*i as usize], day)).collect();
    match serving.as_slice() {
        [] => Found::NoneInForce(of_code.clone()),
        [one] => Found::Row(*one),
        several if choices(several) => Found::Choices(serving),
        _ => Found::Several(serving),
    }
}

impl PriceBook {
    /// A price book from its rows.
    #[must_use]
    pub fn new(
        file: Arc<str>,
        as_of: Date,
        prices: Vec<PriceRow>,
        labor: Vec<LaborRow>,
        crews: Vec<Crew>,
        waste: Option<StatedWaste>,
    ) -> Self {
        let (prices_by_code, labor_by_code) = (by_code(&prices), by_code(&labor));
        Self { file, as_of, prices, labor, crews, waste, prices_by_code, labor_by_code }
    }

    /// The row of sheet *Prices* for a code, as an index into `prices`.
    #[must_use]
    pub fn price(&self, code: &str) -> Found {
        find(&self.prices, &self.prices_by_code, code, self.as_of, |rows| offers::are_choices(&self.prices, rows))
    }

    /// The row of sheet *Labor* for a code, as an index into `labor`.
    #[must_use]
    pub fn labor(&self, code: &str) -> Found {
        find(&self.labor, &self.labor_by_code, code, self.as_of, |rows| {
            let mut told: Vec<String> = rows.iter().map(|at| self.labor[*at as usize].told_apart_by()).collect();
            told.sort_unstable();
            told.windows(2).all(|pair| pair[0] != pair[1])
        })
    }

    /// The code of *Prices* that looks most like one that was not found.
    #[must_use]
    pub fn nearest_price(&self, code: &str) -> Option<&str> {
        nearest(code, self.prices.iter().map(|r| &*r.code))
    }

    /// The code of *Labor* that looks most like one that was not found.
    #[must_use]
    pub fn nearest_labor(&self, code: &str) -> Option<&str> {
        nearest(code, self.labor.iter().map(|r| &*r.code))
    }
}

/// What is bought at once: a piece, a pack, or an exact measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// How many units of sale it is.
    pub sale_units: Number,
    /// Whether only whole ones are sold.
    pub whole: bool,
    /// What it is, in words: `pieces of 12'-0"`, `carton of 1,000 ea`, `sf`.
    pub sold_as: String,
}

impl PriceRow {
    /// How much of a dimension one unit of sale holds, in base units; `None` when it cannot be said.
    ///
    /// # Errors
    /// A value too large.
    pub fn holds(&self, wanted: Dimension) -> Result<Option<Number>, NumberError> {
        let (dimension, amount) = match (&self.sold_by.unit, &self.pack) {
            (Some(unit), _) => (unit.dimension, Number::ONE.scaled(unit.factor)?),
            (None, Some(pack)) => (pack.dimension, pack.amount),
            (None, None) => return Ok(None),
        };
        if wanted == dimension {
            return Ok(Some(amount));
        }
        if !dimension.is_none() {
            return Ok(None);
        }
        if let Some(pack) = self.pack.as_ref().filter(|p| p.dimension == wanted) {
            return Ok(Some(amount.times(&pack.amount)?));
        }
        match &self.stock_length {
            Some(stock) if wanted == Dimension::LENGTH => Ok(Some(amount.times(stock)?)),
            _ => Ok(None),
        }
    }

    /// What is bought at once.
    ///
    /// # Errors
    /// A value too large.
    pub fn purchase(&self) -> Result<Purchase, NumberError> {
        let whole = |sale_units, sold_as| Ok(Purchase { sale_units, whole: true, sold_as });
        let stock_text = self.stock_length.as_ref().map(|s| show(s, Dimension::LENGTH, &Style::default()).text);
        let Some(unit) = &self.sold_by.unit else {
            let holds = self.pack.as_ref().map_or_else(String::new, |p| format!(" of {}", p.written));
            return whole(Number::ONE, format!("{}{holds}", self.sold_by.name));
        };
        let factor = Number::ONE.scaled(unit.factor)?;
        if let Some(pack) = self.pack.as_ref().filter(|p| p.dimension == unit.dimension) {
            return whole(pack.amount.over(&factor)?, format!("packs of {}", pack.written));
        }
        if unit.dimension.is_none() {
            let piece = match (&stock_text, &self.pack) {
                (Some(stock), _) => format!("pieces of {stock}"),
                (None, Some(pack)) => format!("pieces of {}", pack.written),
                (None, None) => "pieces".to_owned(),
            };
            return whole(Number::ONE.over(&factor)?, piece);
        }
        if let (Dimension::LENGTH, Some(stock), Some(text)) = (unit.dimension, &self.stock_length, stock_text) {
            return whole(stock.over(&factor)?, format!("pieces of {text}"));
        }
        let (name, shown) = need_unit(unit.dimension);
        Ok(Purchase { sale_units: Number::ONE.scaled(shown.factor)?.over(&factor)?, whole: false, sold_as: name })
    }
}

/// The unit in which needs of a dimension are shown, with its name: `ft`, `sf`, `gal`, `lb`, `hr`, `ea`.
#[must_use]
pub fn need_unit(dimension: Dimension) -> (String, Unit) {
    let name = match dimension {
        Dimension::NONE => "ea",
        Dimension::LENGTH => "ft",
        Dimension::AREA => "sf",
        Dimension::VOLUME => "gal",
        Dimension::FORCE => "lb",
        Dimension::TIME => "hr",
        Dimension::MONEY => "$",
        _ => &dimension.unit_text(),
    };
    (name.to_owned(), Unit::read(name).unwrap_or_else(|_| Unit::kept(dimension)))
}
