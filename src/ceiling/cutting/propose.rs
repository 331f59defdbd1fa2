//! The linear program over patterns, in binary floats: it proposes and proves nothing.
//!
//! What comes out are whole numbers. Worths are proved by an exact knapsack (`bounds`), shares are rounded to plans that
//! are counted piece by piece. A wrong digit here costs a worse plan or a weaker bound, never a false one.
#![allow(clippy::float_arithmetic, clippy::cast_precision_loss, clippy::cast_possible_truncation)]
#![allow(clippy::cast_sign_loss, reason = "the linear program proposes in floats; nothing is claimed from them")]

use super::bounds::ONE;
use super::shop::{Cut, Shop, UNLIMITED};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, SolveOptions, Variable};

/// A pattern of a stock, as a column of the linear program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Column {
    pub bin: usize,
    pub cut: Cut,
}

/// Parts of one in which a share of a pattern is told.
pub(super) const PARTS: i64 = 1 << 20;

/// A worth or share beyond this is no proposal.
const FAR: f64 = 1e15;

/// What pieces are worth by the patterns known: the linear program's dual, which a new pattern tightens.
pub(super) struct Prices {
    solution: Option<Solution>,
    of: Vec<Variable>,
    scarce: Vec<Option<Variable>>,
}

impl Prices {
    /// With patterns to begin with. `None` where the linear program fails.
    pub fn new(shop: &Shop, columns: &[Column]) -> Option<Self> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let most = shop.counts.iter().copied().max().unwrap_or(1).max(1) as f64;
        let of = shop.counts.iter().map(|n| problem.add_var(*n as f64 / most, (0.0, 4.0))).collect();
        let scarce = shop
            .bins
            .iter()
            .map(|b| (b.limit != UNLIMITED).then(|| problem.add_var(-(b.limit as f64) / most, (0.0, f64::INFINITY))));
        let mut prices = Self { solution: None, of, scarce: scarce.collect() };
        for column in columns {
            let (terms, cost) = prices.row(shop, column);
            problem.add_constraint(terms, ComparisonOp::Le, cost);
        }
        prices.solution = solved(&problem);
        prices.solution.is_some().then_some(prices)
    }

    fn row(&self, shop: &Shop, column: &Column) -> (Vec<(Variable, f64)>, f64) {
        let mut terms: Vec<(Variable, f64)> =
            column.cut.iter().map(|(i, n)| (self.of[*i as usize], *n as f64)).collect();
        if let Some(scarce) = self.scarce[column.bin] {
            terms.push((scarce, -1.0));
        }
        (terms, relative_cost(shop, column.bin))
    }

    /// Takes a pattern in. `None` where the linear program fails.
    pub fn add(&mut self, shop: &Shop, column: &Column) -> Option<()> {
        let (terms, cost) = self.row(shop, column);
        let solution = self.solution.take()?;
        self.solution = solution.add_constraint(terms, ComparisonOp::Le, cost).ok()?.into_solution().ok();
        self.solution.is_some().then_some(())
    }

    /// What a piece of each size is worth: [`ONE`] is the dearest stock.
    pub fn worth(&self) -> Option<Vec<i64>> {
        let solution = self.solution.as_ref()?;
        Some(self.of.iter().map(|v| whole(solution.var_value(*v) * ONE as f64).max(0)).collect())
    }

    /// What one more of each scarce stock is worth; zero for the others.
    pub fn scarcity(&self) -> Option<Vec<i64>> {
        let solution = self.solution.as_ref()?;
        let one = |v: &Variable| whole(solution.var_value(*v) * ONE as f64).max(0);
        Some(self.scarce.iter().map(|v| v.as_ref().map_or(0, one)).collect())
    }
}

/// How often each pattern is cut, in parts of one, so that all that is wanted is cut at least cost. `None` where the
/// linear program fails.
pub(super) fn shares(shop: &Shop, columns: &[Column]) -> Option<Vec<i64>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let variables: Vec<Variable> =
        columns.iter().map(|c| problem.add_var(relative_cost(shop, c.bin), (0.0, f64::INFINITY))).collect();
    let mut rows: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); shop.sizes.len()];
    let mut stock: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); shop.bins.len()];
    for (variable, column) in variables.iter().zip(columns) {
        for (size, n) in &column.cut {
            rows[*size as usize].push((*variable, *n as f64));
        }
        stock[column.bin].push((*variable, 1.0));
    }
    for (row, count) in rows.into_iter().zip(&shop.counts).filter(|(_, n)| **n > 0) {
        problem.add_constraint(row, ComparisonOp::Ge, *count as f64);
    }
    for (row, bin) in stock.into_iter().zip(&shop.bins).filter(|(row, b)| !row.is_empty() && b.limit != UNLIMITED) {
        problem.add_constraint(row, ComparisonOp::Le, bin.limit as f64);
    }
    let solution = solved(&problem)?;
    Some(variables.iter().map(|v| whole(solution.var_value(*v) * PARTS as f64).max(0)).collect())
}

fn solved(problem: &Problem) -> Option<Solution> {
    let mut options = SolveOptions::default();
    options.presolve = false;
    problem.solve_with(options).ok()?.into_solution().ok()
}

/// Cost as a part of the dearest stock's.
fn relative_cost(shop: &Shop, bin: usize) -> f64 {
    let dearest = shop.bins.iter().map(|b| b.cost).max().unwrap_or(1).max(1);
    shop.bins[bin].cost as f64 / dearest as f64
}

fn whole(value: f64) -> i64 {
    if value.is_finite() && value.abs() < FAR { value.round() as i64 } else { 0 }
}
