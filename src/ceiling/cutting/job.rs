//! What is to be cut, from what, and by which rules.

use std::fmt;

/// Longest length and highest cost, in the caller's units.
pub const MOST_LENGTH: i64 = 1 << 42;

/// Most pieces of one demand, and most stock pieces of one length on offer.
pub const MOST_COUNT: i64 = 1 << 32;

/// A stock length on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its length.
    pub length: i64,
    /// What one piece costs, in the smallest unit that the caller reckons in; above zero.
    pub cost: i64,
    /// Most pieces that can be had; `None` where there are as many as are wanted.
    pub limit: Option<i64>,
}

/// How a piece longer than stock may be made of parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Splice {
    /// How far two parts lie over each other.
    pub lap: i64,
    /// Shortest part.
    pub least: i64,
}

/// Pieces of one length that are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Demand {
    /// Length of a piece.
    pub length: i64,
    /// How many.
    pub count: i64,
    /// How it is spliced where it is longer than every stock; `None` where it must be whole.
    pub splice: Option<Splice>,
}

/// How much work goes into a plan, in counted steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Most different lengths for which patterns are generated; a job of more is cut first fit, longest first.
    pub lengths: usize,
    /// Most rounds of generating patterns.
    pub rounds: usize,
    /// Most roundings of a linear program.
    pub dives: usize,
    /// Most steps of the search that closes a gap.
    pub steps: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Self { lengths: 300, rounds: 1_500, dives: 6, steps: 2_000_000 }
    }
}

/// A job for the saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Stock lengths on offer.
    pub stocks: Vec<Stock>,
    /// Pieces wanted; equal lengths may be given more than once.
    pub demands: Vec<Demand>,
    /// Width of the saw's cut.
    pub kerf: i64,
    /// Least offcut that is kept: one so long is left over, a shorter one is scrap.
    pub keep: i64,
    /// How much work goes into the plan.
    pub effort: Effort,
}

/// Why a job cannot be cut. Numbers `stock` and `demand` count from zero in the order given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutError {
    /// No stock length is on offer.
    NoStock,
    /// A stock length is zero or below.
    StockNotPositive {
        /// Which stock.
        stock: usize,
    },
    /// A stock costs nothing or less.
    CostNotPositive {
        /// Which stock.
        stock: usize,
    },
    /// A limit of stock pieces is below zero.
    LimitBelowZero {
        /// Which stock.
        stock: usize,
    },
    /// A piece has a length of zero or below.
    PieceNotPositive {
        /// Which demand.
        demand: usize,
    },
    /// A count of pieces is below zero.
    CountBelowZero {
        /// Which demand.
        demand: usize,
    },
    /// The saw's cut, the least offcut, a lap or a least part is below zero.
    RuleBelowZero,
    /// A piece is longer than every stock and may not be spliced.
    LongerThanStock {
        /// Which demand.
        demand: usize,
        /// The longest stock.
        longest: i64,
    },
    /// A piece is longer than every stock, and with its lap and least part it cannot be made from parts either.
    CannotSplice {
        /// Which demand.
        demand: usize,
        /// The longest stock.
        longest: i64,
    },
    /// The stock on offer is limited, and no plan was found that makes do with it.
    NotEnoughStock {
        /// Whether it is proved that there is none.
        proved: bool,
    },
    /// A length, cost or count is beyond [`MOST_LENGTH`] or [`MOST_COUNT`], or a total leaves 64 bits.
    TooLarge,
}

impl fmt::Display for CutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoStock => "no stock length is on offer",
            Self::StockNotPositive { .. } => "a stock length is zero or below",
            Self::CostNotPositive { .. } => "a stock piece costs nothing or less",
            Self::LimitBelowZero { .. } => "there are fewer than no stock pieces of a length",
            Self::PieceNotPositive { .. } => "a piece has a length of zero or below",
            Self::CountBelowZero { .. } => "fewer than no pieces are wanted",
            Self::RuleBelowZero => "a saw cut, an offcut, a lap or a part is shorter than nothing",
            Self::LongerThanStock { .. } => "a piece is longer than every stock length and may not be spliced",
            Self::CannotSplice { .. } => "a piece is longer than every stock length, and no parts of it would fit",
            Self::NotEnoughStock { .. } => "the stock pieces on offer are not enough",
            Self::TooLarge => "a length or a count is too large",
        })
    }
}

impl std::error::Error for CutError {}
