//! Plans as files, with names that every system takes.

use super::svg_text::OURS;
use super::{PlanOf, plan};
use std::collections::BTreeSet;

/// Longest part of a file name that comes from the room.
const LONGEST: usize = 60;
/// Names that some systems keep for devices.
const KEPT: &[&str] = &["con", "prn", "aux", "nul", "com", "lpt"];

/// Every plan as an SVG file: its name and its text, in order.
///
/// A name is made of letters, digits, spaces, hyphens and underscores of the first room's, and ends in `.svg`. No two
/// are alike, also where large and small letters are one. One is drawn at a time.
pub fn plans_to_files<'p>(plans: &'p [PlanOf<'p>]) -> impl Iterator<Item = (String, String)> + 'p {
    let mut taken = BTreeSet::new();
    plans.iter().map(move |of| {
        let name = of.rooms.first().map_or("", |r| r.name.as_str());
        (file_name(name, &mut taken), plan(of.room, of.layout, &of.facts))
    })
}

/// Whether the bytes of a file are a plan that was written here.
#[must_use]
pub fn is_our_plan(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(500)];
    head.windows(OURS.len()).any(|part| part == OURS.as_bytes())
}

fn file_name(room: &str, taken: &mut BTreeSet<String>) -> String {
    let mut safe = String::new();
    for c in room.chars().take(LONGEST) {
        let c = if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
        if c != '-' || !safe.ends_with('-') {
            safe.push(c);
        }
    }
    let safe = safe.trim_matches('-');
    let device = KEPT.iter().any(|k| safe.to_lowercase().trim_end_matches(|c: char| c.is_ascii_digit()) == *k);
    let base = if safe.is_empty() || device { format!("room-{safe}") } else { safe.to_owned() };
    let base = base.trim_end_matches('-');
    let mut name = format!("{base}.svg");
    let mut n = 2;
    while !taken.insert(name.to_lowercase()) {
        name = format!("{base}-{n}.svg");
        n += 1;
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_differ() {
        let mut taken = BTreeSet::new();
        let mut name = |room: &str| file_name(room, &mut taken);
        assert_eq!(name("104"), "104.svg");
        assert_eq!(name("104"), "104-2.svg");
        assert_eq!(name("../../etc/passwd"), "etc-passwd.svg");
        assert_eq!(name("a\\b:c*?\"<>|"), "a-b-c.svg");
        assert_eq!(name("A-B-C"), "A-B-C-2.svg");
        assert_eq!(name(""), "room.svg");
        assert_eq!(name("..."), "room-2.svg");
        assert_eq!(name("con"), "room-con.svg");
        assert_eq!(name("LPT1"), "room-LPT1.svg");
        assert_eq!(name(&"x".repeat(300)).len(), LONGEST + 4);
    }
}
