//! Rules and prices made ready once for all the bids that share them.

use super::what_if::Change;
use crate::bid::{Ready, Rules};
use crate::problem::Problem;
use crate::quantity::Date;
use crate::workbook::carried::File;
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

type Made = Arc<OnceLock<Result<Arc<Ready>, Vec<Problem>>>>;

/// Most that are kept: memory does not grow with the number of bids.
const MOST: usize = 16;

/// Those that served last, the latest last.
#[derive(Debug, Default)]
pub struct Readies {
    kept: Mutex<Vec<(String, Made)>>,
    /// Changes that met a price in some book.
    met: Mutex<BTreeSet<String>>,
}

impl Readies {
    /// Rules with prices for a date, changed as asked.
    ///
    /// # Errors
    /// Every mistake of the books; a file that is no price book.
    pub fn ready(
        &self,
        rules: &Rules,
        prices: Option<&File>,
        as_of: Date,
        changes: &[Change],
    ) -> Result<Arc<Ready>, Vec<Problem>> {
        let mut key = format!("{}\n{as_of}", rules.key());
        if let Some(prices) = prices {
            // the name is said on what is written
            key.push_str(&format!("\n{} {}", prices.name, prices.digest));
        }
        for change in changes {
            key.push('\n');
            key.push_str(change.written());
        }
        let made = self.made(key);
        made.get_or_init(|| self.make(rules, prices, as_of, changes).map(Arc::new)).clone()
    }

    /// The place of a key, where another thread may be making it just now.
    fn made(&self, key: String) -> Made {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (key, made) = match kept.iter().position(|(k, _)| *k == key) {
            Some(at) => kept.remove(at),
            None => (key, Made::default()),
        };
        if kept.len() == MOST {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&made)));
        made
    }

    /// Whether a change met a price in any book that served.
    pub fn was_met(&self, change: &Change) -> bool {
        self.met.lock().unwrap_or_else(PoisonError::into_inner).contains(change.written())
    }

    fn make(
        &self,
        rules: &Rules,
        prices: Option<&File>,
        as_of: Date,
        changes: &[Change],
    ) -> Result<Ready, Vec<Problem>> {
        let mut ready = Ready::new(rules, prices, as_of)?;
        for change in changes {
            let Some(book) = ready.book_mut() else { continue };
            match change.apply(book) {
                Ok(0) => {}
                Ok(_) => {
                    let mut met = self.met.lock().unwrap_or_else(PoisonError::into_inner);
                    met.insert(change.written().to_owned());
                }
                Err(_) => {
                    let what = format!("'{}' makes prices too large to work with.", change.written());
                    return Err(vec![Problem::stop("number too large", what)]);
                }
            }
        }
        Ok(ready)
    }
}
