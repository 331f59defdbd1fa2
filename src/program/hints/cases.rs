//! All cases that some conditions tell apart.
//!
//! Conditions look at figures, words and answers. Between two thresholds one figure is as good as any other, so a few of
//! each stand for all, and a condition that holds in each combination of them always holds. Figures are taken to be free
//! of each other: what is found to hold always does, though not everything that always holds is found.

use super::super::node::{Constant, Op, Reg, Scaled};
use super::super::resolve::Resolver;
use super::super::scalar::{compare, holds};
use super::super::schema::Type;
use super::ranges::{Range, range, words};
use super::{Fuel, behind};
use crate::notation::tree::Comparison;
use crate::quantity::unit::Ratio;
use crate::quantity::{Number, Rounding};
use crate::source::texts::fold;
use std::collections::{BTreeMap, BTreeSet};

/// How many combinations are looked at; beyond it nothing is known.
const MOST: usize = 2_000;
/// How deep conditions are followed.
const DEEP: u32 = 200;

/// What a condition looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Looked {
    /// A figure, against thresholds.
    Figure(Reg),
    /// A text, against words.
    Words(Reg),
    /// Yes or no, whatever it comes from.
    Answer(Reg),
}

/// One value of what is looked at.
#[derive(Clone, Debug)]
enum Case {
    Figure(Number),
    Word(String),
    Answer(bool),
}

/// The cases of some conditions.
pub struct Cases<'r> {
    r: &'r Resolver,
    fuel: &'r Fuel,
    figures: BTreeMap<Reg, BTreeSet<Number>>,
    texts: BTreeMap<Reg, BTreeSet<String>>,
    answers: BTreeSet<Reg>,
}

/// For each combination, whether each condition holds; nothing where there are too many.
pub fn all(r: &Resolver, fuel: &Fuel, conditions: &[Reg]) -> Option<Vec<Vec<bool>>> {
    let mut cases = Cases { r, fuel, figures: BTreeMap::new(), texts: BTreeMap::new(), answers: BTreeSet::new() };
    for condition in conditions {
        cases.gather(*condition, DEEP)?;
    }
    let looked = cases.looked();
    fuel.burn_some(looked.iter().map(|(_, values)| values.len()).sum::<usize>() / 4)?;
    let combinations = looked.iter().try_fold(1usize, |all, (_, values)| all.checked_mul(values.len()))?;
    if combinations > MOST {
        return None;
    }
    let mut out = Vec::new();
    for n in 0..combinations {
        fuel.burn_some(looked.len())?;
        let mut rest = n;
        let mut now = BTreeMap::new();
        for (what, values) in &looked {
            now.insert(*what, values[rest % values.len()].clone());
            rest /= values.len();
        }
        out.push(conditions.iter().map(|c| cases.holds(*c, &now)).collect::<Option<Vec<bool>>>()?);
    }
    Some(out)
}

/// Whether a condition always holds, or never.
pub fn always(r: &Resolver, fuel: &Fuel, condition: Reg) -> Option<bool> {
    let all = all(r, fuel, &[condition])?;
    let first = *all.first()?.first()?;
    all.iter().all(|held| held[0] == first).then_some(first)
}

impl Cases<'_> {
    /// The same condition where a formula stands for it.
    fn seen_through(&self, reg: Reg) -> Reg {
        let mut reg = reg;
        for _ in 0..DEEP {
            match &self.r.d.emit.node(reg).op {
                // of the same row alone: a row above has values of its own
                Op::Field(id) => match behind(self.r, *id) {
                    Some(below) if below != reg => reg = below,
                    _ => break,
                },
                _ => break,
            }
        }
        reg
    }

    fn gather(&mut self, condition: Reg, deep: u32) -> Option<()> {
        self.fuel.burn()?;
        let deep = deep.checked_sub(1)?;
        let condition = self.seen_through(condition);
        match self.r.d.emit.node(condition).op.clone() {
            Op::Constant(_) => {}
            Op::And(a, b) | Op::Or(a, b) => {
                self.gather(a, deep)?;
                self.gather(b, deep)?;
            }
            Op::Not(a) => self.gather(a, deep)?,
            Op::Compare(_, a, b) if a.reg != b.reg => match self.threshold(&a, &b) {
                Some((figure, threshold, _)) => {
                    self.figures.entry(figure).or_default().insert(threshold);
                }
                None => {
                    self.answers.insert(condition);
                }
            },
            Op::Compare(..) => {}
            Op::Same(a, b) => match self.word(a, b) {
                Some((text, word)) => {
                    self.texts.entry(text).or_default().insert(word);
                }
                None => {
                    self.answers.insert(condition);
                }
            },
            _ => {
                self.answers.insert(condition);
            }
        }
        Some(())
    }

    fn number(&self, reg: Reg) -> Option<Number> {
        match self.r.d.emit.constant_of(reg)? {
            Constant::Number(n) => Some(n),
            _ => None,
        }
    }

    /// A figure that is held against a constant: the figure, the constant in its unit, and whether the figure stands left.
    fn threshold(&self, a: &Scaled, b: &Scaled) -> Option<(Reg, Number, bool)> {
        let against = |figure: &Scaled, n: Number| Some((figure.reg, n, figure.by));
        let (figure, n, by, other_by, left) = match (self.number(a.reg), self.number(b.reg)) {
            (None, Some(n)) => against(a, n).map(|(f, n, by)| (f, n, by, b.by, true))?,
            (Some(n), None) => against(b, n).map(|(f, n, by)| (f, n, by, a.by, false))?,
            _ => return None,
        };
        Some((self.seen_through(figure), n.scaled(Ratio::new(other_by, by)).ok()?, left))
    }

    /// A text that is held against a word.
    fn word(&self, a: Reg, b: Reg) -> Option<(Reg, String)> {
        let text = |reg: Reg| match self.r.d.emit.constant_of(reg) {
            Some(Constant::Text(id)) => Some(fold(self.r.d.emit.texts.get(id))),
            _ => None,
        };
        match (text(a), text(b)) {
            (None, Some(word)) => Some((self.seen_through(a), word)),
            (Some(word), None) => Some((self.seen_through(b), word)),
            _ => None,
        }
    }

    /// What is looked at, with values that stand for all.
    fn looked(&self) -> Vec<(Looked, Vec<Case>)> {
        let mut out = Vec::new();
        for (reg, thresholds) in &self.figures {
            let whole = self.r.d.emit.node(*reg).ty == Type::COUNT;
            let figures = figures(thresholds, &range(self.r, self.fuel, *reg), whole);
            out.push((Looked::Figure(*reg), figures.into_iter().map(Case::Figure).collect()));
        }
        for (reg, asked) in &self.texts {
            // a word that no list has stands for every other
            let known = match words(self.r, self.fuel, *reg) {
                Some(known) => known.iter().cloned().map(Case::Word).collect(),
                None => asked.iter().cloned().chain([String::from("\u{0}")]).map(Case::Word).collect(),
            };
            out.push((Looked::Words(*reg), known));
        }
        for reg in &self.answers {
            let cases = match self.answer(*reg) {
                Some(known) => vec![Case::Answer(known)],
                None => vec![Case::Answer(true), Case::Answer(false)],
            };
            out.push((Looked::Answer(*reg), cases));
        }
        out
    }

    /// An answer that is known whatever the rows hold.
    fn answer(&self, reg: Reg) -> Option<bool> {
        match &self.r.d.emit.node(reg).op {
            Op::Given(a) => match &self.r.d.emit.node(*a).op {
                Op::Constant(_) => Some(true),
                Op::Field(id) | Op::Parent(id) => {
                    let input = self.r.d.schema.field(*id).input.as_ref()?;
                    input.default.is_some().then_some(true)
                }
                _ => None,
            },
            Op::Compare(how, a, b) => {
                let scaled = |s: &Scaled| range(self.r, self.fuel, s.reg).scaled(Ratio::from_integer(s.by));
                compared(*how, &scaled(a), &scaled(b))
            }
            Op::Same(a, b) => {
                let (a, b) = (words(self.r, self.fuel, *a)?, words(self.r, self.fuel, *b)?);
                if a.len() == 1 && a == b {
                    return Some(true);
                }
                a.is_disjoint(&b).then_some(false)
            }
            _ => None,
        }
    }

    fn holds(&self, condition: Reg, now: &BTreeMap<Looked, Case>) -> Option<bool> {
        self.fuel.burn()?;
        let condition = self.seen_through(condition);
        match &self.r.d.emit.node(condition).op {
            Op::Constant(_) => match self.r.d.emit.constant_of(condition)? {
                Constant::YesNo(v) => Some(v),
                _ => None,
            },
            Op::And(a, b) => Some(self.holds(*a, now)? && self.holds(*b, now)?),
            Op::Or(a, b) => Some(self.holds(*a, now)? || self.holds(*b, now)?),
            Op::Not(a) => Some(!self.holds(*a, now)?),
            Op::Compare(how, a, b) if a.reg == b.reg => {
                Some(compare(*how, a, b, |_| Number::ONE)).filter(|_| a.by == b.by)
            }
            Op::Compare(how, a, b) => match self.threshold(a, b) {
                Some((figure, threshold, left)) => {
                    let Case::Figure(n) = now.get(&Looked::Figure(figure))? else { return None };
                    let order = if left { n.cmp(&threshold) } else { threshold.cmp(n) };
                    Some(holds(*how, order))
                }
                None => answered(condition, now),
            },
            Op::Same(a, b) => match self.word(*a, *b) {
                Some((text, word)) => match now.get(&Looked::Words(text))? {
                    Case::Word(w) => Some(*w == word),
                    _ => None,
                },
                None => answered(condition, now),
            },
            _ => answered(condition, now),
        }
    }
}

fn answered(condition: Reg, now: &BTreeMap<Looked, Case>) -> Option<bool> {
    match now.get(&Looked::Answer(condition))? {
        Case::Answer(v) => Some(*v),
        _ => None,
    }
}

/// Whether one range stands to another as asked, whatever is taken from them.
fn compared(how: Comparison, a: &Range, b: &Range) -> Option<bool> {
    let below = |a: &Range, b: &Range| {
        let ((high, reached), (low, low_reached)) = (a.high?, b.low?);
        (high < low || (high == low && !(reached && low_reached))).then_some(true)
    };
    let not_above = |a: &Range, b: &Range| (a.high?.0 <= b.low?.0).then_some(true);
    match how {
        Comparison::Less => below(a, b).or_else(|| not_above(b, a).map(|v| !v)),
        Comparison::LessOrEqual => not_above(a, b).or_else(|| below(b, a).map(|v| !v)),
        Comparison::Greater => below(b, a).or_else(|| not_above(a, b).map(|v| !v)),
        Comparison::GreaterOrEqual => not_above(b, a).or_else(|| below(a, b).map(|v| !v)),
        Comparison::Equal => below(a, b).or_else(|| below(b, a)).map(|v| !v),
        Comparison::NotEqual => below(a, b).or_else(|| below(b, a)),
    }
}

/// Figures that stand for all of a range: the thresholds, and one between each two and beyond them.
fn figures(thresholds: &BTreeSet<Number>, range: &Range, whole: bool) -> Vec<Number> {
    let mut marks: BTreeSet<Number> = thresholds.clone();
    marks.extend([range.low, range.high].into_iter().flatten().map(|(n, _)| n));
    let mut all = marks.clone();
    let mut add = |n: Result<Number, crate::quantity::NumberError>| all.extend(n.ok());
    if whole {
        all = BTreeSet::new();
        for mark in &marks {
            for how in [Rounding::Down, Rounding::Up] {
                let Ok(n) = mark.rounded(&Number::ONE, how) else { continue };
                all.insert(n);
                all.extend(n.plus(&Number::ONE).ok());
                all.extend(n.minus(&Number::ONE).ok());
            }
        }
    } else {
        for (a, b) in marks.iter().zip(marks.iter().skip(1)) {
            add(a.plus(b).and_then(|sum| sum.over(&Number::from(2))));
        }
        let ends = (marks.first().copied(), marks.last().copied());
        if let (Some(first), Some(last)) = ends {
            add(first.minus(&Number::ONE));
            add(last.plus(&Number::ONE));
        }
    }
    let inside: Vec<Number> = all.into_iter().filter(|n| range.holds(n)).collect();
    // a range that holds nothing is one whose ends are not understood
    if inside.is_empty() { marks.into_iter().collect() } else { inside }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn n(text: &str) -> Number {
        Number::from(text.parse::<crate::quantity::Decimal>().unwrap())
    }

    #[test]
    fn a_few_figures_stand_for_all() {
        let thresholds = BTreeSet::from([n("2"), n("5")]);
        let open = Range::default();
        assert_eq!(figures(&thresholds, &open, false), [n("1"), n("2"), n("3.5"), n("5"), n("6")]);
        // above 2 and at most 5: 2 itself is not reached
        let some = Range { low: Some((n("2"), false)), high: Some((n("5"), true)) };
        assert_eq!(figures(&thresholds, &some, false), [n("3.5"), n("5")]);
        assert_eq!(
            figures(&BTreeSet::from([n("1.5")]), &Range { low: Some((n("0"), true)), high: None }, true),
            [n("0"), n("1"), n("2"), n("3")]
        );
    }

    #[test]
    fn ranges_are_compared_by_their_ends() {
        let r =
            |low: &str, high: &str, reached: bool| Range { low: Some((n(low), true)), high: Some((n(high), reached)) };
        assert_eq!(compared(Comparison::Less, &r("0", "3", true), &r("4", "9", true)), Some(true));
        assert_eq!(compared(Comparison::Less, &r("0", "4", true), &r("4", "9", true)), None);
        assert_eq!(compared(Comparison::Less, &r("0", "4", false), &r("4", "9", true)), Some(true));
        assert_eq!(compared(Comparison::LessOrEqual, &r("0", "4", true), &r("4", "9", true)), Some(true));
        assert_eq!(compared(Comparison::Greater, &r("0", "4", true), &r("4", "9", true)), Some(false));
        assert_eq!(compared(Comparison::Equal, &r("0", "3", true), &r("4", "9", true)), Some(false));
        assert_eq!(compared(Comparison::NotEqual, &r("0", "3", true), &r("4", "9", true)), Some(true));
        assert_eq!(compared(Comparison::Equal, &r("0", "5", true), &r("4", "9", true)), None);
    }
}
