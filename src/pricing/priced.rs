//! A priced job: what pricing hands to whoever writes or prints it.

use crate::problem::Problem;
use crate::program::{FieldId, KindId, LineKind, Value};
use crate::quantity::{Date, Number, Unit};
use crate::source::CellPlace;
use std::sync::Arc;

/// A line of the bid: one item or work for one row.
#[derive(Clone, Debug)]
pub struct Line {
    /// Kind and row it is for (the job's own lines: the job, row 0).
    pub of: (KindId, u32),
    /// The root row that it counts toward (an opening's lines count toward its room); `None` for the job.
    pub room: Option<u32>,
    /// Index into the program's items.
    pub item: u32,
    /// Code in the price book.
    pub code: Arc<str>,
    /// Bought or done.
    pub kind: LineKind,
    /// Need without waste, in `unit`.
    pub need: Number,
    /// Waste as a fraction of the need.
    pub waste: Number,
    /// Need with waste, in `unit`.
    pub quantity: Number,
    /// Name of the unit of need and quantity: `ft`, `sf`, `ea`, `gal`.
    pub unit: Arc<str>,
    /// Dollars for one `unit`, exact; `None` without a price book.
    pub unit_cost: Option<Number>,
    /// Cost in whole cents: quantity times unit cost, halves away from zero.
    pub cost: Option<i64>,
    /// Hours (labor).
    pub hours: Option<Number>,
    /// Index into [`Priced::prices`] of the row that priced it.
    pub price: Option<u32>,
    /// Whether it is in an alternate that would add it, and so not in the bid.
    pub apart: bool,
    /// What an estimator typed beside it; cost and hours are reckoned by it, need and quantity stay ours.
    pub own: Option<Box<super::own::Own>>,
}

/// A price or labor row that was used.
#[derive(Clone, Debug)]
pub struct PriceUsed {
    /// Code.
    pub code: Arc<str>,
    /// What it is.
    pub item: Arc<str>,
    /// Bought or done.
    pub kind: LineKind,
    /// Unit of sale as written in the price book.
    pub sold_by: Arc<str>,
    /// What one pack holds, as written.
    pub pack: Option<Arc<str>>,
    /// Stock length in mm.
    pub stock_length: Option<Number>,
    /// Dollars for one unit of sale (material) or for one hour of the crew with burden (labor).
    pub cost: Number,
    /// Hours for one unit of work, and the unit, where a labor row states them.
    pub hours: Option<(Number, Arc<str>)>,
    /// The quantity, in units of sale, whose lower cost this is; nothing for the first cost.
    pub reached: Option<Number>,
    /// First day in force.
    pub from: Option<Date>,
    /// Last day in force.
    pub through: Option<Date>,
    /// Supplier, or the crew.
    pub supplier: Option<Arc<str>>,
    /// Hours paid and hours worked in a week of the crew, where some are overtime.
    pub overtime: Option<(Number, Number)>,
    /// Whether it prices lines; a row that does not is one that something is bought by.
    pub prices_lines: bool,
    /// Whether something is bought by it.
    pub bought: bool,
    /// Where it stands in the price book.
    pub place: CellPlace,
}

/// A row of the order list: one code, of one stock length where there are several, for the whole job in the yard's unit of
/// sale.
#[derive(Clone, Debug)]
pub struct OrderRow {
    /// Code.
    pub code: Arc<str>,
    /// What it is.
    pub item: Arc<str>,
    /// Quantity used by the lines, in `unit`, with waste.
    pub used: Number,
    /// Unit of `used`.
    pub unit: Arc<str>,
    /// How many units of sale are bought: whole pieces, packs or cartons.
    pub buy: Number,
    /// What one of them is: `pieces of 12'-0"`, `carton of 1,000`.
    pub sold_as: String,
    /// What is left over and of use, in `unit`: offcuts long enough to keep, whole pieces, the rest of packs.
    pub left_over: Number,
    /// What else is bought and not used, in `unit`: saw cuts, and offcuts too short to keep.
    pub scrap: Number,
    /// Dollars for one of `buy`.
    pub each: Option<Number>,
    /// Cost of what is bought, in cents.
    pub cost: Option<i64>,
    /// What of that is left over, in cents.
    pub left_cost: Option<i64>,
    /// Weight of what is bought in lb, where the price book gives one.
    pub weight: Option<Number>,
    /// Supplier.
    pub supplier: Option<Arc<str>>,
    /// The row of the price book that it is bought by.
    pub place: Option<CellPlace>,
    /// How `buy` follows from `used`, where no cutting plan says it.
    pub packed: Option<Packed>,
    /// How many of `buy` come with each delivery, the last for what names none; empty where deliveries are not told apart.
    pub deliveries: Vec<Number>,
}

/// How what is bought follows from what is used.
#[derive(Clone, Debug)]
pub struct Packed {
    /// What one purchase holds, in the unit of what is used.
    pub content: Number,
    /// Whether purchases are whole.
    pub whole: bool,
    /// The least that is sold at once, in purchases.
    pub least: Option<Number>,
}

/// How one code's pieces are cut from its stock: for the whole job, or for one level or room as the rules say.
#[derive(Clone, Debug)]
pub struct CutList {
    /// Code.
    pub code: Arc<str>,
    /// What it is.
    pub item: Arc<str>,
    /// What is cut together: a level, a room; nothing for the whole job.
    pub group: Option<Arc<str>>,
    /// Stock pieces that the plan takes, of whatever length.
    pub used: i64,
    /// Stock pieces that no plan does without; for pieces longer than stock, in the parts that the plan gives.
    pub at_least: i64,
    /// Dollars for the stock pieces, and dollars that no plan does without; where several lengths are on offer.
    pub cost: Option<(Number, Number)>,
    /// How many pieces are longer than stock and spliced from parts.
    pub spliced: i64,
    /// How many joints those have.
    pub joints: i64,
    /// How many of the joints a scrap of the same stock lies over.
    pub scraps: i64,
    /// What is cut from each, longest stock first, then longest pieces.
    pub patterns: Vec<CutPattern>,
}

/// Stock pieces that are cut alike.
#[derive(Clone, Debug)]
pub struct CutPattern {
    /// Length of the stock piece, in mm.
    pub stock: Number,
    /// How many stock pieces.
    pub times: i64,
    /// The pieces cut from each.
    pub pieces: Vec<CutPiece>,
    /// What is left of each, in mm.
    pub offcut: Number,
    /// Whether the offcut is long enough to keep.
    pub kept: bool,
}

/// Pieces of one length in a pattern.
#[derive(Clone, Debug)]
pub struct CutPiece {
    /// Length in mm.
    pub length: Number,
    /// How many from each stock piece.
    pub count: i64,
    /// Rooms (rows of the root kind) that the pieces of all these stock pieces are for.
    pub rooms: Vec<u32>,
}

/// A figure of the job's build-up, in the order that the book states it.
#[derive(Clone, Debug)]
pub struct JobFigure {
    /// The formula or input.
    pub field: FieldId,
    /// Its name in the book.
    pub name: String,
    /// Its label.
    pub label: String,
    /// Its value in base units, or why there is none.
    pub value: Result<Value, String>,
}

/// How a row fared.
#[derive(Clone, Debug, Default)]
pub struct RowResult {
    /// Sum of its lines, in cents; `None` when it is stopped or nothing was priced.
    pub cost: Option<i64>,
    /// Its labor hours.
    pub hours: Option<Number>,
    /// Whether something stops it.
    pub stopped: bool,
    /// How many warnings speak of it.
    pub warnings: u32,
}

/// Figures of a bid worked out for some of its lines alone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    /// Sum of material lines, in cents.
    pub material: i64,
    /// Sum of labor lines, in cents.
    pub labor: i64,
    /// Sum of hours.
    pub hours: Number,
    /// The job's figures in the order of [`Priced::job`]; nothing for one without a number.
    pub job: Vec<Option<Number>>,
    /// The total, in cents.
    pub total: i64,
}

/// A part of a bid, such as a level or a phase.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its name.
    pub name: Arc<str>,
    /// What its lines alone come to.
    pub figures: Figures,
    /// Its share of the total, in cents; all parts together are the total.
    pub price: i64,
}

impl Part {
    /// One of which only the name is known.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self { name: name.into(), figures: Figures::default(), price: 0 }
    }
}

/// An alternate.
#[derive(Clone, Debug)]
pub struct Alternate {
    /// Its name.
    pub name: Arc<str>,
    /// What the bid would come to with it.
    pub figures: Figures,
    /// What it adds to the bid, in cents; below zero where it takes more out.
    pub price: i64,
}

impl Alternate {
    /// One of which only the name is known.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self { name: name.into(), figures: Figures::default(), price: 0 }
    }
}

/// A check, problem or note, for the Checks sheet.
#[derive(Clone, Debug)]
pub struct Finding {
    /// What it is.
    pub problem: Problem,
    /// Name of the check, or kind of problem.
    pub name: String,
    /// The row that it speaks of.
    pub row: Option<(KindId, u32)>,
    /// The key of that row, as typed.
    pub row_name: Option<Arc<str>>,
}

impl Finding {
    /// One that speaks of the whole job.
    #[must_use]
    pub fn of_no_row(problem: Problem, name: &str) -> Self {
        Self { problem, name: name.to_owned(), row: None, row_name: None }
    }
}

/// How an option fared for a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Its checks hold and it is priced, or there are no prices.
    Passes,
    /// Something stops it: the first reason, as a sentence.
    Fails(String),
    /// The row may not take it; a sentence where that is more than a condition that does not hold.
    NotAllowed(Option<String>),
}

/// One option of one row, worked out and priced.
#[derive(Clone, Debug)]
pub struct Tried {
    /// How it fared.
    pub trial: Trial,
    /// Sum of its lines in cents, where all of them could be priced.
    pub cost: Option<i64>,
    /// Its labor hours.
    pub hours: Option<Number>,
    /// What the book shows beside it, in base units; `None` where it has no value. Empty where the row may not take it.
    pub shown: Vec<Option<Value>>,
}

/// The options of one row, side by side.
#[derive(Clone, Debug)]
pub struct Compared {
    /// Place of the option taken.
    pub taken: u32,
    /// Whether the row names it.
    pub named: bool,
    /// One for each option, in the book's order.
    pub tried: Vec<Tried>,
}

/// A priced job.
#[derive(Clone, Debug, Default)]
pub struct Priced {
    /// Lines in the order of rows, then of items as the book states them. A stopped row has none.
    pub lines: Vec<Line>,
    /// Price rows used, in order of code.
    pub prices: Vec<PriceUsed>,
    /// The order list, in order of code.
    pub order: Vec<OrderRow>,
    /// How pieces are cut from stock, in order of code.
    pub cuts: Vec<CutList>,
    /// The job's build-up.
    pub job: Vec<JobFigure>,
    /// One for each row of the root kind (rooms).
    pub rooms: Vec<RowResult>,
    /// The parts of the bid, in the order met; empty where it is not divided.
    pub parts: Vec<Part>,
    /// What the bid comes to without any lines, beside its parts: sums that the rules state whatever is built.
    pub without_lines: Option<Figures>,
    /// The part of each row of the root kind that has one.
    pub part_of: Vec<Option<u32>>,
    /// The part of rows that name none.
    pub rest_part: Option<u32>,
    /// The part of the job's own lines.
    pub job_part: Option<u32>,
    /// Alternates, in the order met.
    pub alternates: Vec<Alternate>,
    /// The alternate of each row of the root kind that has one, and whether it takes the row out of the bid.
    pub alternate_of: Vec<Option<(u32, bool)>>,
    /// Deliveries, in the order met.
    pub delivery_names: Vec<Arc<str>>,
    /// The delivery of each row of the root kind that has one.
    pub delivery_of: Vec<Option<u32>>,
    /// The options of each row of their kind; empty where the books state none.
    pub compared: Vec<Compared>,
    /// Sum of material lines, in cents.
    pub material: i64,
    /// Sum of labor lines, in cents.
    pub labor: i64,
    /// Sum of hours.
    pub hours: Option<Number>,
    /// Total of the bid in cents; `None` while a row is stopped or costs are blank.
    pub total: Option<i64>,
    /// How many rows are stopped.
    pub stopped: usize,
    /// Whether a price book was given.
    pub has_prices: bool,
    /// What an estimator had typed beside lines that are there no more, by place in what was handed in.
    pub own_left: Vec<u32>,
    /// Every check, problem and note, those that stop first.
    pub findings: Vec<Finding>,
}

impl Priced {
    /// Whether a row of the root kind is in an alternate that would add it, and so not in the bid.
    #[must_use]
    pub fn is_apart(&self, room: usize) -> bool {
        self.alternate_of.get(room).copied().flatten().is_some_and(|(_, deducts)| !deducts)
    }
}

/// What the price book's rows are looked up by.
#[derive(Clone, Debug)]
pub struct SaleUnit {
    /// As written: `MLF`, `carton`.
    pub name: Arc<str>,
    /// The unit it stands for; `None` for a pack word, whose content is the Pack column.
    pub unit: Option<Unit>,
}
