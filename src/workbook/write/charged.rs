//! What the bid charges, in words: used or bought, what is left over, where waste entered.

use super::Document;
use crate::pricing::{BuyRule, Line, beyond_used};
use crate::program::LineKind;
use crate::quantity::show::{Style, show};
use crate::quantity::{Decimal, Dimension, Number};

/// Whether the bid charges what is used or what is bought, and what lies between them; where waste entered.
#[must_use]
pub fn charged(doc: &Document<'_>) -> String {
    let rule = BuyRule::of(doc.schema, doc.run);
    let money = |cents: i64| show(&Number::from(Decimal::new(cents, 2)), Dimension::MONEY, &Style::default()).text;
    let left = doc.priced.order.iter().filter_map(|row| row.left_cost).fold(0i64, i64::saturating_add);
    let beyond = beyond_used(doc.priced).ok().flatten();
    let apart = if doc.priced.order.iter().any(|row| !row.scrap.is_zero()) { ", scrap not counted" } else { "" };
    let Some(beyond) = beyond else {
        return "Bought in whole pieces and packs, so it differs from the bid, which prices what is used.".to_owned();
    };
    // a yard's price for a pack may be less than its pieces come to
    let apart_by = match beyond {
        ..0 => format!("{} less", money(beyond.saturating_neg())),
        0 => "no more".to_owned(),
        _ => format!("{} more", money(beyond)),
    };
    let charges = match rule.charges_bought {
        Some(_) => {
            format!("what is bought: whole pieces and packs cost {apart_by} than what is used, a line of the job")
        }
        None => format!("what is used; whole pieces and packs cost {apart_by}"),
    };
    format!("The bid charges {charges}. Of what is bought {} are left over{apart}.", money(left))
}

/// Where waste entered.
#[must_use]
pub fn waste_entered(doc: &Document<'_>) -> &'static str {
    let material = |l: &&Line| l.kind == LineKind::Material;
    if doc.priced.lines.iter().filter(material).any(|l| !l.waste.is_zero()) {
        "Waste entered once, in the quantities of Lines; no price holds any."
    } else {
        "No waste is added to the quantities of Lines; board that is laid out counts in whole sheets. No price holds any."
    }
}
