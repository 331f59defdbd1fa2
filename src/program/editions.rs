//! Editions of books: texts that are told apart, and put in order by the numbers in them.

use crate::notation::tree::Editions;
use std::cmp::Ordering;

/// A part of an edition: `2026.1b` has 2026, 1 and b.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Piece {
    /// Digits without zeros before them: no edition is too long to be a number.
    Number(String),
    Word(String),
}

fn pieces(edition: &str) -> Vec<Piece> {
    let mut out: Vec<Piece> = Vec::new();
    let mut fresh = true;
    for c in edition.trim().to_lowercase().chars() {
        match (c.is_ascii_digit(), c.is_alphanumeric(), out.last_mut()) {
            (true, _, Some(Piece::Number(digits))) if !fresh => digits.push(c),
            (true, ..) => out.push(Piece::Number(c.to_string())),
            (false, true, Some(Piece::Word(word))) if !fresh => word.push(c),
            (false, true, _) => out.push(Piece::Word(c.to_string())),
            (false, false, _) => {
                fresh = true;
                continue;
            }
        }
        fresh = false;
    }
    for piece in &mut out {
        if let Piece::Number(digits) = piece {
            *digits = digits.trim_start_matches('0').to_owned();
        }
    }
    // edition 2.0 is edition 2
    while out.len() > 1 && out.last() == Some(&Piece::Number(String::new())) {
        out.pop();
    }
    out
}

/// How two editions stand to each other: part by part, numbers by their size, words by their letters, the one with more
/// parts after the other. Nothing where a number stands against a word.
#[must_use]
pub fn order(a: &str, b: &str) -> Option<Ordering> {
    let (a, b) = (pieces(a), pieces(b));
    for (a, b) in a.iter().zip(&b) {
        let order = match (a, b) {
            (Piece::Number(a), Piece::Number(b)) => a.len().cmp(&b.len()).then_with(|| a.cmp(b)),
            (Piece::Word(a), Piece::Word(b)) => a.cmp(b),
            _ => return None,
        };
        if order.is_ne() {
            return Some(order);
        }
    }
    Some(a.len().cmp(&b.len()))
}

/// Whether an edition is among those that will do; nothing where they cannot be put in order.
#[must_use]
pub fn will_do(wanted: &Editions, edition: &str) -> Option<bool> {
    let at_least = |low: &str| Some(order(edition, low)?.is_ge());
    let at_most = |high: &str| Some(order(edition, high)?.is_le());
    match wanted {
        Editions::Only(only) => Some(order(edition, only) == Some(Ordering::Equal)),
        Editions::Least(low) => at_least(low),
        Editions::Most(high) => at_most(high),
        Editions::Range(low, high) => Some(at_least(low)? && at_most(high)?),
    }
}

/// Editions in words: `edition 2`, `an edition from 2 to 4`.
#[must_use]
pub fn words(wanted: &Editions) -> String {
    match wanted {
        Editions::Only(only) => format!("edition {only}"),
        Editions::Range(low, high) => format!("an edition from {low} to {high}"),
        Editions::Least(low) => format!("edition {low} or a later one"),
        Editions::Most(high) => format!("edition {high} or an earlier one"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn editions_stand_in_the_order_of_their_numbers() {
        let rising = ["1", "2", "2.1", "2.9", "2.10", "2.10a", "2.10b", "3", "10", "2026", "2026.1", "2026-11-02"];
        for (i, a) in rising.iter().enumerate() {
            for (j, b) in rising.iter().enumerate() {
                // 2.10a against 2.10.x is not among them, and 2026-11-02 is 2026, 11, 2: after 2026.1
                assert_eq!(order(a, b), Some(i.cmp(&j)), "{a} {b}");
            }
        }
        assert_eq!(order("2.0", "2"), Some(Ordering::Equal));
        assert_eq!(order("02", "2"), Some(Ordering::Equal));
        assert_eq!(order("Spring 2026", "spring-2026"), Some(Ordering::Equal));
        assert_eq!(order("spring 2026", "2026.1"), None);
        assert_eq!(order("0", "0.1"), Some(Ordering::Less));
    }

    #[test]
    fn what_will_do() {
        let range = Editions::Range("2".into(), "4".into());
        let said = ["1.9", "2", "3.5", "4", "4.1", "five"].map(|e| will_do(&range, e));
        assert_eq!(said, [Some(false), Some(true), Some(true), Some(true), Some(false), None]);
        assert_eq!(will_do(&Editions::Only("2026.1".into()), "2026.10"), Some(false));
        assert_eq!(will_do(&Editions::Only("spring".into()), "2026"), Some(false));
        assert_eq!(will_do(&Editions::Least("3".into()), "3"), Some(true));
        assert_eq!(will_do(&Editions::Most("3".into()), "3.0.1"), Some(false));
    }
}
