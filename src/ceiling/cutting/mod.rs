//! Cutting plans: which stock pieces to buy and what to cut from each, at least cost, with a proved lower bound.
//!
//! Lengths are whole numbers of whatever unit the caller works in. A plan begins with first fit, longest first
//! (`first_fit`), and bounds from sizes alone (`bounds`). Where they do not meet, patterns are generated column by
//! column (`columns`): a linear program proposes what a piece of each length is worth (`propose`), an exact knapsack
//! finds the pattern worth most (`knapsack`), and the proposed worths, as whole numbers, prove a bound. What the linear
//! program leaves in fractions is rounded, and a search over patterns (`branch`) closes the last gap.
//!
//! Every part is bounded by counted steps ([`Effort`]), never by a clock: one job has one plan on every machine.

mod bounds;
mod branch;
mod columns;
mod first_fit;
mod job;
mod knapsack;
mod plan;
mod propose;
mod shop;

pub use job::{CutError, Demand, Effort, Job, MOST_COUNT, MOST_LENGTH, Splice, Stock};
pub use plan::{AtLeast, Joined, Pattern, Plan, first_fit_plan, plan};
pub use shop::spliced_parts;
