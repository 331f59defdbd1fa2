//! What a layout holds: counts, lengths, pieces to cut, and what to know of it.

use super::given::{Given, length, needed, of, whole};
use super::laying::{Framed, LAYOUT};
use crate::ceiling::layout::{AngleKind, HangKind, Kind, Layout, OpeningFit, OpeningPiece, SpliceKind, Weight};
use crate::ceiling::shape::Ticks;
use crate::program::native::{COUNT, LENGTH, Native, NativeFault, NativeMade, Pieces, Thing, ThingKind};
use crate::program::schema::Type;
use std::fmt;
use std::sync::Arc;

/// Sentences about a row.
#[derive(Debug)]
struct Sentences(String);

impl Thing for Sentences {}

impl fmt::Display for Sentences {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Members by the words that books use.
const MEMBERS: [(&str, Kind); 7] = [
    ("tee", Kind::Tee),
    ("cross tee", Kind::CrossTee),
    ("main", Kind::Main),
    ("tabbed main", Kind::TabbedMain),
    ("strongback", Kind::Strongback),
    ("channel", Kind::Channel),
    ("furring", Kind::Furring),
];

/// Angle by the words that books use. What closes a bearing wall past its last tab is cut from tabbed angle.
const ANGLES: [(&str, &[AngleKind]); 3] = [
    ("tabbed angle", &[AngleKind::Tabbed, AngleKind::Closing]),
    ("plain angle", &[AngleKind::Plain, AngleKind::Return]),
    ("return angle", &[AngleKind::Return]),
];

const PIECES: &[&str] = &[
    "tee",
    "cross tee",
    "main",
    "tabbed main",
    "strongback",
    "channel",
    "furring",
    "header",
    "trimmer",
    "opening piece",
    "placed opening piece",
    "tabbed angle",
    "plain angle",
    "return angle",
];

const COUNTED: &[&str] = &[
    "tee",
    "cross tee",
    "main",
    "tabbed main",
    "strongback",
    "channel",
    "furring",
    "header",
    "trimmer",
    "opening piece",
    "placed opening piece",
    "tabbed angle",
    "plain angle",
    "return angle",
    "wire",
    "tie",
    "clip",
    "wall fastener",
    "framing screw",
    "tee end screw",
    "placed opening screw",
    "crossing tie",
    "scrap splice",
    "splice over strongback",
    "lap",
    "cut tee",
];

const WEIGHTS: &[&str] = &["warning", "note"];

pub(super) const RECORDS: &[Native] = &[
    Native {
        name: "laid_count",
        parameters: &[needed("layout", LAYOUT), of(COUNTED)],
        result: COUNT,
        summary: "How many of something a layout has.",
        details: "Tees and other members are counted as they lie, however many pieces they are spliced from; angle is \
                  counted in pieces as they are cut. Tee end screws hold ends of tees and mains that lie on plain angle. \
                  Placed openings are those whose position is given.",
        examples: &[(
            "laid_count(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
             supports: 1), of: \"tee\")",
            "9",
        )],
        refused: (
            "laid_count(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\"), of: \
             \"teh\")",
            "is not one of",
        ),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            Ok(whole(counted(layout(given)?, given.text(1).unwrap_or_default())))
        },
    },
    Native {
        name: "laid_pieces",
        parameters: &[needed("layout", LAYOUT), of(PIECES)],
        result: Pieces::TYPE,
        summary: "The pieces of something that a layout has, each as long as it is cut.",
        details: "",
        examples: &[(
            "laid_pieces(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
             supports: 1), of: \"tee\")",
            "9 x 13'-11 7/8\"",
        )],
        refused: ("laid_pieces(14', of: \"tee\")", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            let pieces = pieces(layout(given)?, given.text(1).unwrap_or_default());
            let pieces = pieces.into_iter().map(|(t, n)| (t.to_mm(), n as u64)).collect();
            Ok(NativeMade::Thing(Arc::new(Pieces(pieces))))
        },
    },
    Native {
        name: "laid_length",
        parameters: &[needed("layout", LAYOUT), of(PIECES)],
        result: LENGTH,
        summary: "The pieces of something that a layout has, end to end.",
        details: "",
        examples: &[(
            "laid_length(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
             supports: 1), of: \"strongback\")",
            "20'-0\"",
        )],
        refused: ("laid_length(14', of: \"tee\")", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            let pieces = pieces(layout(given)?, given.text(1).unwrap_or_default());
            let each = |(t, n): (Ticks, usize)| t.0.saturating_mul(i64::try_from(n).unwrap_or(i64::MAX));
            Ok(length(Ticks(pieces.into_iter().map(each).fold(0, i64::saturating_add))))
        },
    },
    Native {
        name: "laid_span",
        parameters: &[needed("layout", LAYOUT)],
        result: LENGTH,
        summary: "The longest part of a tee, cross tee or furring between two supports.",
        details: "",
        examples: &[(
            "laid_span(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
             supports: 1))",
            "7'-0\"",
        )],
        refused: ("laid_span(14')", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(length(layout(Given(given))?.longest_part)),
    },
    Native {
        name: "laid_share",
        parameters: &[needed("layout", LAYOUT)],
        result: LENGTH,
        summary: "The longest length of a strongback, main tee or channel that one wire carries.",
        details: "",
        examples: &[(
            "laid_share(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
             supports: 1))",
            "4'-0\"",
        )],
        refused: ("laid_share(14')", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(length(layout(Given(given))?.most_share(HangKind::Wire))),
    },
    Native {
        name: "laid_trim",
        parameters: &[needed("layout", LAYOUT)],
        result: LENGTH,
        summary: "Flushing trim of all openings: the inside perimeter of each.",
        details: "",
        examples: &[(
            "laid_trim(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\"))",
            "0\"",
        )],
        refused: ("laid_trim(14')", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(length(layout(Given(given))?.opening_trim())),
    },
    Native {
        name: "laid_notes",
        parameters: &[needed("layout", LAYOUT), of(WEIGHTS)],
        result: COUNT,
        summary: "How many warnings, or notes, a layout has.",
        details: "",
        examples: &[(
            "laid_notes(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 20\", supports: \
             1), of: \"warning\")",
            "1",
        )],
        refused: ("laid_notes(14', of: \"note\")", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            Ok(whole(notes(layout(given)?, given.text(1)).count() as u64))
        },
    },
    Native {
        name: "laid_words",
        parameters: &[needed("layout", LAYOUT), of(WEIGHTS)],
        result: Type::Thing(ThingKind("words")),
        summary: "The warnings, or notes, of a layout in words, for the message of a check.",
        details: "",
        examples: &[(
            "laid_words(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 20\", supports: \
             1), of: \"warning\")",
            "Tees at 20\" o.c. do not fall on the tabs, which are 8\" o.c.",
        )],
        refused: ("laid_words(14', of: \"note\")", "layout is needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            let words: Vec<&str> = notes(layout(given)?, given.text(1)).collect();
            Ok(NativeMade::Thing(Arc::new(Sentences(words.join(" ")))))
        },
    },
];

fn layout<'a>(given: Given<'a>) -> Result<&'a Layout, NativeFault> {
    given.thing::<Framed>(0).map(|framed| &framed.layout)
}

fn notes<'a>(layout: &'a Layout, weight: Option<&str>) -> impl Iterator<Item = &'a str> {
    let weight = if weight == Some("warning") { Weight::Warning } else { Weight::Note };
    layout.notes.iter().filter(move |n| n.weight == weight).map(|n| n.text.as_str())
}

fn counted(layout: &Layout, word: &str) -> u64 {
    if let Some((_, kind)) = MEMBERS.iter().find(|(w, _)| *w == word) {
        return layout.count(*kind) as u64;
    }
    let splices = |kind| layout.splice_count(kind) as u64;
    match word {
        "wire" => layout.hang_count(HangKind::Wire) as u64,
        "tie" => layout.hang_count(HangKind::Tie) as u64,
        "clip" => layout.hang_count(HangKind::Clip) as u64,
        "wall fastener" => layout.fasteners(),
        "framing screw" => layout.framing_screws(),
        "tee end screw" => layout.tee_end_screws,
        "placed opening screw" => placed(layout).map(|o| u64::from(o.screws)).sum(),
        "crossing tie" => layout.crossing_ties,
        "scrap splice" => splices(SpliceKind::Scrap),
        "splice over strongback" => splices(SpliceKind::OverStrongback),
        "lap" => splices(SpliceKind::Lap),
        "cut tee" => openings(layout, |o| o.tees_cut as usize),
        _ => pieces(layout, word).iter().map(|(_, n)| *n as u64).sum(),
    }
}

/// A figure of each opening times how many there are of it.
fn openings(layout: &Layout, one: impl Fn(&OpeningFit) -> usize) -> u64 {
    layout.openings.iter().map(|o| one(o) as u64 * u64::from(o.count)).sum()
}

/// Openings whose position was given.
fn placed(layout: &Layout) -> impl Iterator<Item = &OpeningFit> {
    layout.openings.iter().filter(|o| o.corners.is_some())
}

fn pieces(layout: &Layout, word: &str) -> Vec<(Ticks, usize)> {
    if word == "opening piece" {
        return layout.opening_pieces();
    }
    if let Some((_, kinds)) = ANGLES.iter().find(|(w, _)| *w == word) {
        let mut out: Vec<(Ticks, usize)> = kinds.iter().flat_map(|k| layout.angle_pieces(*k)).collect();
        out.sort_unstable_by(|a, b| b.cmp(a));
        return out;
    }
    let of_openings = |pieces: fn(&OpeningFit) -> &[OpeningPiece]| {
        let all = layout.openings.iter().flat_map(|o| pieces(o).iter().map(|p| (p.length, o.count as usize)));
        let mut all: Vec<(Ticks, usize)> = all.collect();
        all.sort_unstable_by(|a, b| b.cmp(a));
        all
    };
    match MEMBERS.iter().find(|(w, _)| *w == word) {
        Some((_, kind)) => layout.cut_pieces(*kind),
        None if word == "header" => of_openings(|o| &o.headers),
        None if word == "trimmer" => of_openings(|o| &o.trimmers),
        None if word == "placed opening piece" => {
            placed(layout).flat_map(|o| o.headers.iter().chain(&o.trimmers).map(|p| (p.length, 1))).collect()
        }
        None => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_is_known() {
        let of_openings = ["opening piece", "placed opening piece", "header", "trimmer"];
        for word in PIECES.iter().filter(|w| !of_openings.contains(w)) {
            assert!(MEMBERS.iter().any(|(w, _)| w == word) || ANGLES.iter().any(|(w, _)| w == word), "{word}");
        }
        for word in PIECES {
            assert!(COUNTED.contains(word), "{word}");
        }
    }
}
