//! The house's rule of buying, as a job has it: whose prices serve.

use super::book::PriceBook;
use crate::engine::Run;
use crate::engine::input::fold;
use crate::program::{FieldId, Schema};
use std::sync::Arc;

/// Whose prices serve. Of suppliers that are left the cheapest does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BuyRule {
    /// The supplier that goes before the others where it sells a thing.
    pub first: Option<Arc<str>>,
    /// The supplier that alone serves.
    pub only: Option<Arc<str>>,
    /// The item for the difference, where the bid charges what is bought.
    pub charges_bought: Option<u32>,
}

impl BuyRule {
    /// As the books state it; a blank text says nothing.
    #[must_use]
    pub fn of(schema: &Schema, run: &Run) -> Self {
        let text = |field: Option<FieldId>| {
            let field = field?;
            run.columns.get(field.0 as usize)?.as_ref()?;
            run.text(field, 0).ok().map(|t| t.trim()).filter(|t| !t.is_empty()).map(Arc::from)
        };
        let (first, only) = schema.buying.as_ref().map_or((None, None), |b| (text(b.first), text(b.only)));
        let charging = schema.buying.as_ref().and_then(|b| b.charging);
        let holds = |when: Option<FieldId>| {
            when.is_none_or(|f| {
                run.columns.get(f.0 as usize).is_some_and(Option::is_some) && run.yes_no(f, 0).unwrap_or(false)
            })
        };
        Self { first, only, charges_bought: charging.filter(|c| holds(c.when)).map(|c| c.item) }
    }

    /// The rows of a code that may serve; none where the one supplier that may does not sell it. A row whose price is to be
    /// asked for serves only where there is no other, and stops what needs it.
    pub(crate) fn narrowed(&self, book: &PriceBook, rows: &[u32]) -> Vec<u32> {
        let priced = |row: &u32| book.prices.get(*row as usize).is_some_and(|r| !r.on_call);
        let on_offer: Vec<u32> = match &self.only {
            // what the one supplier has no price for is not another's
            Some(_) => rows.to_vec(),
            None => rows.iter().copied().filter(priced).collect(),
        };
        let rows = if on_offer.is_empty() { rows } else { on_offer.as_slice() };
        let from = |name: &str| -> Vec<u32> {
            let same = |row: &u32| {
                let supplier = book.prices.get(*row as usize).and_then(|r| r.supplier.as_deref());
                supplier.is_some_and(|s| fold(s) == fold(name))
            };
            rows.iter().copied().filter(same).collect()
        };
        if let Some(only) = &self.only {
            let theirs = from(only);
            let with_price: Vec<u32> = theirs.iter().copied().filter(priced).collect();
            return if with_price.is_empty() { theirs } else { with_price };
        }
        let first = self.first.as_ref().map_or_else(Vec::new, |first| from(first));
        if first.is_empty() { rows.to_vec() } else { first }
    }

    /// The rule in a sentence; nothing where the cheapest supplier always serves.
    #[must_use]
    pub fn in_words(&self) -> Option<String> {
        match (&self.first, &self.only) {
            (_, Some(only)) => Some(format!("Bought from {only} only.")),
            (Some(first), None) => {
                Some(format!("Bought from {first} where it sells a thing, else where it costs least."))
            }
            (None, None) => None,
        }
    }
}
