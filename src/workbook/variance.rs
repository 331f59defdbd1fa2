//! What moved when bids were priced again: the rows of the variance workbook.

use super::differences::Difference;
use crate::problem::Problem;
use crate::quantity::Date;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

/// Why a sum moved, in cents; together the whole difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effects {
    /// New prices of lines that stay, with what follows from the price book beyond the lines.
    pub price: i64,
    /// Other quantities under the old rules: another scheme came cheapest, other breaks of quantity were reached.
    pub quantity: i64,
    /// Other rules.
    pub rules: i64,
    /// What an estimator typed since.
    pub by_hand: i64,
}

impl Effects {
    /// All of them.
    #[must_use]
    pub fn sum(self) -> i64 {
        [self.price, self.quantity, self.rules, self.by_hand].into_iter().fold(0, i64::saturating_add)
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            price: self.price.saturating_add(other.price),
            quantity: self.quantity.saturating_add(other.quantity),
            rules: self.rules.saturating_add(other.rules),
            by_hand: self.by_hand.saturating_add(other.by_hand),
        }
    }

    /// In the order of the columns.
    #[must_use]
    pub fn each(self) -> [i64; 4] {
        [self.price, self.quantity, self.rules, self.by_hand]
    }
}

/// What a sum is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Bought.
    Material,
    /// Done.
    Labor,
    /// Mark-ups and other sums of the bid that are in no line.
    Beyond,
    /// What this version of the tool works out otherwise than the one that wrote the workbook.
    Anew,
}

impl What {
    /// In a word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Labor => "labor",
            Self::Beyond => "beyond lines",
            Self::Anew => "worked out anew",
        }
    }

    /// From its word.
    #[must_use]
    pub fn read(word: &str) -> Option<Self> {
        [Self::Material, Self::Labor, Self::Beyond, Self::Anew].into_iter().find(|what| what.word() == word)
    }
}

/// What a sum is for: its kind, its label and its code.
pub type Key = (What, Arc<str>, Arc<str>);

/// An item of a bid, before and now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// What it is for.
    pub what: What,
    /// The item or work, by its label; empty for what is in no line.
    pub item: Arc<str>,
    /// Its code.
    pub code: Arc<str>,
    /// Cents before.
    pub old: i64,
    /// Cents now.
    pub new: i64,
    /// Why.
    pub effects: Effects,
}

impl Moved {
    /// The item, or what else the sum is.
    #[must_use]
    pub fn label(&self) -> &str {
        match self.what {
            What::Beyond => "Mark-ups and other sums beyond the lines",
            What::Anew => "Worked out otherwise by this version",
            What::Material | What::Labor => &self.item,
        }
    }
}

/// A part of a bid, with its share of the total, or an alternate, with what it adds: before and now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Portion {
    /// Its name.
    pub name: Arc<str>,
    /// Cents before.
    pub old: i64,
    /// Cents now.
    pub new: i64,
    /// Why.
    pub effects: Effects,
}

/// A room that other rules change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Room {
    /// Its name, or its row on the sheet that it was read from.
    pub name: Arc<str>,
    /// Cents of its lines before; nothing where it was stopped or had no prices.
    pub old: Option<i64>,
    /// Cents of its lines now.
    pub new: Option<i64>,
    /// The option that it stood under and stands under, by their labels, where that is another; nothing for a side whose
    /// rules know of no options.
    pub options: Option<[Option<Arc<str>>; 2]>,
    /// Checks and other problems that it has now and had not, each with what follows from it.
    pub fails: Vec<Arc<str>>,
    /// Those that it had and has no more.
    pub holds: Vec<Arc<str>>,
}

impl Room {
    /// By how much it moved, in cents: all that it costs where it has a cost on one side alone.
    #[must_use]
    pub fn by(&self) -> u64 {
        self.new.unwrap_or(0).abs_diff(self.old.unwrap_or(0))
    }
}

/// What moved within a bid.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Within {
    /// Item by item; empty where either total is missing.
    pub items: Vec<Moved>,
    /// Part by part, where it is divided: together the total, before and now, and effect by effect.
    pub parts: Vec<Portion>,
    /// Alternate by alternate; none is in the total.
    pub alternates: Vec<Portion>,
    /// Rooms that stand otherwise, where rules were laid beside others.
    pub rooms: Vec<Room>,
}

/// What was done to a bid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Done {
    /// A new revision was written here.
    Written(PathBuf),
    /// This revision was there already, from an earlier run.
    Already(PathBuf),
    /// It stood at these prices all along.
    Same,
    /// It was only tried out.
    Tried,
}

/// A price in use that is older than asked for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Aged {
    /// Code.
    pub code: Arc<str>,
    /// What it is.
    pub item: Arc<str>,
    /// Supplier or crew.
    pub supplier: Option<Arc<str>>,
    /// First day in force.
    pub from: Date,
    /// Days from then to the pricing date.
    pub days: i64,
}

/// A bid that was priced again.
#[derive(Clone, Debug)]
pub struct Bid {
    /// The workbook that it was read from.
    pub path: PathBuf,
    /// Which pricing of the bid that is, from 1.
    pub revision: u32,
    /// What was done.
    pub done: Done,
    /// Total before, in cents; nothing where it was incomplete.
    pub old: Option<i64>,
    /// Total now; nothing where it is incomplete.
    pub new: Option<i64>,
    /// Rows that were stopped before.
    pub old_stopped: usize,
    /// Rows that are stopped now.
    pub new_stopped: usize,
    /// What moved within it.
    pub within: Within,
    /// What else is to be said.
    pub notes: Vec<String>,
    /// Why lines have no price.
    pub unpriced: Vec<String>,
    /// Old prices in use.
    pub aged: Vec<Aged>,
    /// What the rules and the price book warn of.
    pub warned: Vec<String>,
    /// Input cells that somebody had typed, which the new workbook shows and carries.
    pub taken_over: Vec<Difference>,
    /// What somebody had added, which is not in the new workbook.
    pub without: Vec<Difference>,
}

impl Bid {
    /// Why the total moved.
    #[must_use]
    pub fn effects(&self) -> Effects {
        self.within.items.iter().fold(Effects::default(), |sum, item| sum.plus(item.effects))
    }

    /// Both totals, where there are both.
    #[must_use]
    pub fn totals(&self) -> Option<(i64, i64)> {
        self.old.zip(self.new)
    }

    /// What was done and what is to be said, in words.
    #[must_use]
    pub fn remarks(&self) -> String {
        let stopped = |n: usize| if n == 1 { "1 row is stopped".to_owned() } else { format!("{n} rows are stopped") };
        let mut all: Vec<String> = match &self.done {
            // a run that goes on where another stopped tells what one run would have told
            Done::Written(_) | Done::Already(_) | Done::Tried => Vec::new(),
            Done::Same => vec!["stood at these prices already".to_owned()],
        };
        match (self.old, self.new) {
            (_, None) if self.new_stopped > 0 => all.push(format!("incomplete: {}", stopped(self.new_stopped))),
            (_, None) => all.push("no prices".to_owned()),
            (None, Some(_)) if self.old_stopped > 0 => {
                all.push(format!("was incomplete before: {}", stopped(self.old_stopped)));
            }
            (None, Some(_)) => all.push("had no prices before".to_owned()),
            (Some(_), Some(_)) => {}
        }
        all.extend(self.notes.iter().cloned());
        all.join("; ")
    }
}

/// A workbook that was left as it is.
#[derive(Clone, Debug)]
pub struct LeftOut {
    /// The workbook.
    pub path: PathBuf,
    /// Why.
    pub problems: Vec<Problem>,
    /// What somebody had added to it that would have been lost.
    pub added: Vec<Difference>,
}

/// What moved, over all bids.
#[derive(Clone, Debug)]
pub struct Variance {
    /// The bids, in order of their names.
    pub bids: Vec<Bid>,
    /// Workbooks that were left as they are.
    pub left_out: Vec<LeftOut>,
    /// Workbooks that hardlid did not write, and so are no bids.
    pub passed: Vec<PathBuf>,
    /// From how many days on a price is told as old; nothing where ages are not asked for.
    pub older_than: Option<i64>,
    /// Changes that were to be tried out and met no price.
    pub unmet: Vec<String>,
}

impl Variance {
    /// Nothing yet.
    #[must_use]
    pub fn new(older_than: Option<i64>) -> Self {
        Self { bids: Vec::new(), left_out: Vec::new(), passed: Vec::new(), older_than, unmet: Vec::new() }
    }

    /// The items that moved over all bids, those that moved the total most first.
    #[must_use]
    pub fn movers(&self) -> Vec<Moved> {
        let mut all: BTreeMap<(What, &str, &str), Moved> = BTreeMap::new();
        for item in self.bids.iter().flat_map(|bid| &bid.within.items) {
            match all.get_mut(&(item.what, &*item.item, &*item.code)) {
                Some(sum) => {
                    sum.old = sum.old.saturating_add(item.old);
                    sum.new = sum.new.saturating_add(item.new);
                    sum.effects = sum.effects.plus(item.effects);
                }
                None => drop(all.insert((item.what, &item.item, &item.code), item.clone())),
            }
        }
        let mut all: Vec<Moved> = all.into_values().filter(|m| m.old != m.new || m.effects.each() != [0; 4]).collect();
        all.sort_by_key(|m| std::cmp::Reverse(m.new.abs_diff(m.old)));
        all
    }

    /// The rooms that stand otherwise, over all bids: those that moved most first, then in the order of the bids.
    #[must_use]
    pub fn rooms(&self) -> Vec<(&Bid, &Room)> {
        let mut all: Vec<_> = self.bids.iter().flat_map(|bid| bid.within.rooms.iter().map(move |r| (bid, r))).collect();
        all.sort_by_key(|(_, room)| std::cmp::Reverse(room.by()));
        all
    }

    /// Why lines have no price, with in how many bids.
    #[must_use]
    pub fn unpriced(&self) -> Vec<(&str, usize)> {
        counted(self.bids.iter().flat_map(|bid| &bid.unpriced))
    }

    /// What rules and price books warn of, with in how many bids.
    #[must_use]
    pub fn warned(&self) -> Vec<(&str, usize)> {
        counted(self.bids.iter().flat_map(|bid| &bid.warned))
    }

    /// Old prices in use, the oldest first, with in how many bids.
    #[must_use]
    pub fn aged(&self) -> Vec<(&Aged, usize)> {
        let mut all: BTreeMap<&Aged, usize> = BTreeMap::new();
        for aged in self.bids.iter().flat_map(|bid| &bid.aged) {
            *all.entry(aged).or_default() += 1;
        }
        let mut all: Vec<_> = all.into_iter().collect();
        all.sort_by_key(|(aged, _)| std::cmp::Reverse(aged.days));
        all
    }

    /// Totals before and now of the bids that have both, and why they moved.
    #[must_use]
    pub fn totals(&self) -> (i64, i64, Effects) {
        let both = self.bids.iter().filter_map(|bid| Some((bid.totals()?, bid.effects())));
        both.fold((0, 0, Effects::default()), |(old, new, effects), ((a, b), e)| {
            (old.saturating_add(a), new.saturating_add(b), effects.plus(e))
        })
    }
}

/// Each text once, with how often it is there.
fn counted<'t>(texts: impl Iterator<Item = &'t String>) -> Vec<(&'t str, usize)> {
    let mut all: BTreeMap<&str, usize> = BTreeMap::new();
    for text in texts {
        *all.entry(text).or_default() += 1;
    }
    all.into_iter().collect()
}
