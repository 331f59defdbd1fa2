//! Rooms laid out by hand, and laws over random rooms. Figures are from design practice worked out beside each test.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use hardlid::ceiling::layout::{
    AngleKind, BoardBasis, BoardRule, ChannelRule, End, Framing, HangKind, Kind, Layout, Opening, Scheme, SpliceKind,
    Stock, TeesRun, hung_grid_wires, lay_board, lay_out,
};
use hardlid::ceiling::shape::{Corner, Jog, Place, Point, Room, Side, Ticks, Way};
use proptest::prelude::*;

fn ft(n: i64) -> Ticks {
    Ticks::feet(n)
}

fn inches(n: i64) -> Ticks {
    Ticks::inches(n)
}

/// 64ths of an inch.
fn fine(n: i64) -> Ticks {
    Ticks::sixty_fourths(n)
}

fn twenty_by_fourteen() -> Room {
    Room::rectangle(ft(20), ft(14)).unwrap()
}

fn one_strongback() -> Framing {
    Framing { scheme: Scheme::Strongbacks { lines: 1 }, ..Framing::default() }
}

fn plain_layout(framing: &Framing) -> Layout {
    lay_out(&twenty_by_fourteen(), framing, &[]).unwrap()
}

fn of(layout: &Layout, kind: Kind) -> Vec<(Point, Point)> {
    layout.members.iter().filter(|m| m.kind == kind).map(|m| (m.from, m.to)).collect()
}

fn jog(place: Place, width: Ticks, depth: Ticks, way: Way) -> Jog {
    Jog { name: "jog".to_owned(), place, off: Ticks::ZERO, width, depth, way }
}

#[test]
fn fourteen_by_twenty_over_one_strongback() {
    let layout = plain_layout(&one_strongback());
    assert_eq!((layout.tees_run, layout.start), (TeesRun::NorthSouth, Side::West));
    // 20 ft at 24 in.: 10 spaces, 9 tees, at 2 to 18 ft; 14 ft less 1/8 in.
    let places: Vec<Ticks> = of(&layout, Kind::Tee).iter().map(|t| t.0.x).collect();
    assert_eq!(places, (1..=9).map(|k| ft(2 * k)).collect::<Vec<_>>());
    assert_eq!(layout.cut_pieces(Kind::Tee), [(ft(14) - fine(8), 9)]);
    // the strongback at 7 ft; wires at 2, 6, 10, 14, 18 ft, 4 ft of strongback to each
    assert_eq!(of(&layout, Kind::Strongback), [(Point::new(ft(0), ft(7)), Point::new(ft(20), ft(7)))]);
    let wires: Vec<Point> = layout.hangs.iter().map(|h| h.at).collect();
    assert_eq!(wires, [2, 6, 10, 14, 18].map(|x| Point::new(ft(x), ft(7))));
    assert_eq!((layout.most_share(HangKind::Wire), layout.longest_part), (ft(4), ft(7)));
    // each 20 ft wall: 116 in., 120 in., and 4 in. to close; each 14 ft wall: 120 and 48 in.
    assert_eq!(layout.angle_pieces(AngleKind::Tabbed), [(inches(120), 2), (inches(116), 2)]);
    assert_eq!(layout.angle_pieces(AngleKind::Closing), [(inches(4), 2)]);
    assert_eq!(layout.angle_pieces(AngleKind::Plain), [(inches(120), 2), (inches(48), 2)]);
    // 240 / 16 + 1 = 16 and 168 / 16 up + 1 = 12, twice each
    assert_eq!(layout.fasteners(), 56);
    assert!(layout.splices.is_empty() && layout.notes.is_empty());
}

#[test]
fn wires_by_ends_spacing_and_seismic_group() {
    let count = |f: &Framing| plain_layout(f).hang_count(HangKind::Wire);
    assert_eq!(count(&Framing { ends: [End::Fixed; 2], ..one_strongback() }), 4);
    assert_eq!(count(&Framing { spacing: inches(16), ..one_strongback() }), 6);
    assert_eq!(count(&Framing { wire_every: ft(3), ..one_strongback() }), 7);
    // free at the starting wall (2 ft), fixed at the far one: (20 − 2 − 4) / 4 up + 1 = 5: 2, 6, 10, 14, 18
    assert_eq!(count(&Framing { ends: [End::Free, End::Fixed], ..one_strongback() }), 5);
    assert_eq!(plain_layout(&Framing { spacing: inches(16), ..one_strongback() }).count(Kind::Tee), 14);
    let nineteen = Room::rectangle(ft(19), ft(14)).unwrap();
    let layout = lay_out(&nineteen, &Framing { wire_every: ft(3), ..one_strongback() }, &[]).unwrap();
    assert_eq!(layout.hang_count(HangKind::Wire), 7);
}

#[test]
fn a_hung_grid() {
    let layout = plain_layout(&Framing { scheme: Scheme::HungGrid { mains_every: ft(4) }, ..Framing::default() });
    // mains at 4, 8, 12 ft; 5 wires on each
    assert_eq!((layout.count(Kind::Main), layout.hang_count(HangKind::Wire)), (3, 15));
    // 9 lines in 4 bays: 4 ft less half the clearance at the wall, 4, 4, and 2 ft less half the clearance
    assert_eq!(layout.cut_pieces(Kind::CrossTee), [(ft(4), 18), (ft(4) - fine(4), 9), (ft(2) - fine(4), 9)]);
    // two 20 ft walls of two pieces, two 14 ft walls of 120 and 48 in.
    assert_eq!(layout.angle_pieces(AngleKind::Plain), [(ft(10), 6), (inches(48), 2)]);
    assert_eq!(layout.angle_length(AngleKind::Tabbed), Ticks::ZERO);
    // a screw at each end of 9 lines and 3 mains
    assert_eq!(layout.tee_end_screws, 24);
}

#[test]
fn channel_by_the_published_rule() {
    // UFGS 09200A, reckoned in design/5-outside-checks §2: 24 × 36 ft, 9 runners, 10 hangers each; by 42 × 42 in. 8 × 11
    let room = Room::rectangle(ft(36), ft(24)).unwrap();
    let with = |rule: ChannelRule| {
        let f = Framing { scheme: Scheme::Channel(rule), spacing: inches(16), ..Framing::default() };
        lay_out(&room, &f, &[]).unwrap()
    };
    let layout = with(ChannelRule::default());
    assert_eq!((layout.count(Kind::Channel), layout.hang_count(HangKind::Wire)), (9, 90));
    // furring: (432 − 4) / 16 = 26.75: 27 spaces, 28 lines, each 24 ft less 1/2 in. at both ends; a tie at each crossing
    assert_eq!(layout.cut_pieces(Kind::Furring), [(ft(24) - inches(1), 28)]);
    assert_eq!(layout.crossing_ties, 28 * 9);
    assert!(layout.angles.is_empty());
    let by_42 = ChannelRule { channel_every: inches(42), hanger_every: inches(42), ..ChannelRule::default() };
    let layout = with(by_42);
    assert_eq!((layout.count(Kind::Channel), layout.hang_count(HangKind::Wire)), (8, 88));
}

#[test]
fn tight_to_the_deck() {
    let f = Framing { scheme: Scheme::TightToDeck { mains: 1, clip_every: ft(4) }, ..Framing::default() };
    let layout = plain_layout(&f);
    assert_eq!(layout.cut_pieces(Kind::Tee), [(ft(7) - fine(8), 18)]);
    assert_eq!((layout.count(Kind::TabbedMain), layout.hang_count(HangKind::Clip)), (1, 5));
}

#[test]
fn ties_at_mid_span() {
    let f = Framing { scheme: Scheme::MidSpanTies { each: 1 }, ..Framing::default() };
    let layout = plain_layout(&f);
    assert_eq!((layout.hang_count(HangKind::Tie), layout.longest_part), (9, ft(7)));
    assert!(layout.hangs.iter().all(|h| h.at.y == ft(7) && h.share == ft(14)));
    assert_eq!(plain_layout(&Framing { span_limit: Some(ft(14)), ..f }).hang_count(HangKind::Tie), 0);
}

#[test]
fn tees_spliced_over_the_strongback() {
    let stock = Stock { tee: Some(ft(12)), ..Stock::default() };
    let layout = plain_layout(&Framing { stock, ..one_strongback() });
    // south halves at 24 to 216 in. (9), north halves one tab nearer, at 16 to 232 in. (10); each half the run and 12
    // in., less half the clearance
    assert_eq!(layout.cut_pieces(Kind::Tee), [(ft(8) - fine(4), 19)]);
    let tees = of(&layout, Kind::Tee);
    let north: Vec<Ticks> = tees.iter().filter(|t| t.1.y == ft(14)).map(|t| t.0.x).collect();
    assert_eq!(north, (0..10).map(|k| inches(16 + 24 * k)).collect::<Vec<_>>());
    assert!(tees.iter().filter(|t| t.0.y == ft(0)).all(|t| t.1.y == ft(8)));
    assert_eq!((layout.splice_count(SpliceKind::OverStrongback), layout.framing_screws()), (9, 18));
}

#[test]
fn tees_spliced_with_scraps() {
    let stock = Stock { tee: Some(ft(10)), ..Stock::default() };
    let layout = plain_layout(&Framing { stock, ..Framing::default() });
    // 167 7/8 in.: 120 and 47 7/8
    assert_eq!(layout.cut_pieces(Kind::Tee), [(ft(10), 9), (inches(48) - fine(8), 9)]);
    assert_eq!((layout.splice_count(SpliceKind::Scrap), layout.framing_screws()), (9, 36));
}

#[test]
fn strongback_and_channel_laps() {
    let stock = Stock { strongback: Some(ft(12)), ..Stock::default() };
    let layout = plain_layout(&Framing { stock, ..one_strongback() });
    // 20 ft of 12 ft stock, lapped 4 in.: 144 and 100 in., joined around 142 in.
    assert_eq!(layout.cut_pieces(Kind::Strongback), [(inches(144), 1), (inches(100), 1)]);
    assert_eq!(layout.splices[0].at, Point::new(inches(142), ft(7)));
    // clamped and screwed
    assert_eq!(layout.framing_screws(), 1);
    // channel of 16 ft and furring of 12 ft lap, and are tied
    let stock = Stock { channel: Some(ft(16)), furring: Some(ft(12)), ..Stock::default() };
    let tied = plain_layout(&Framing { scheme: Scheme::Channel(ChannelRule::default()), stock, ..Framing::default() });
    assert!(tied.splice_count(SpliceKind::Lap) > 0);
    assert_eq!(tied.framing_screws(), 0);
    assert_eq!(layout.count(Kind::Strongback), 1);
}

/// 20 × 14 ft; a column 24 in. wide and 12 in. deep on the south wall 60 in. from its west end; a jog 39 in. wide and
/// 18 in. deep on the north wall, 133 in. from its west end.
fn column_and_jog() -> Room {
    let on = |side, offset: i64| Place::Wall(side, inches(offset));
    twenty_by_fourteen()
        .with_jogs(&[
            jog(on(Side::South, 60), inches(24), inches(12), Way::In),
            jog(on(Side::North, 133), inches(39), inches(18), Way::In),
        ])
        .unwrap()
}

#[test]
fn a_column_on_one_wall_and_a_jog_on_the_other() {
    let layout = lay_out(&column_and_jog(), &Framing::default(), &[]).unwrap();
    // tees at 24, 48, … 216 in.: at 72 past the column, 168 − 12; at 144 and 168 up to the jog, 168 − 18
    let lengths: Vec<Ticks> = of(&layout, Kind::Tee).iter().map(|t| t.1.y - t.0.y).collect();
    assert_eq!(lengths, [168, 168, 156, 168, 168, 150, 150, 168, 168].map(inches));
    // south: 0–60 is 60 in. after 4 in. cut off; 60–84 begins at a factory end, its tabs at 64, 72, 80; so does 84–240:
    // 120 and 36 in. North: 0–133 is 116 and 17 in.; 133–172 has 1 in. cut off, its tabs at 136 … 168; 172–240 is 68 in.
    let angle: Vec<(i64, i64, i64, usize)> = layout
        .angles
        .iter()
        .filter(|a| a.kind == AngleKind::Tabbed)
        .map(|a| (a.from.x.0 / 8128, a.length.0 / 8128, a.cut_off.0 / 8128, a.tabs))
        .collect();
    let mut sorted = angle.clone();
    sorted.sort_unstable();
    let mut by_hand = vec![
        (0, 60, 4, 7),
        (60, 24, 0, 3),
        (84, 120, 0, 15),
        (204, 36, 0, 4),
        (0, 116, 4, 14),
        (116, 17, 0, 2),
        (133, 39, 1, 5),
        (172, 68, 0, 8),
    ];
    by_hand.sort_unstable();
    assert_eq!(sorted, by_hand);
    assert_eq!(layout.angle_pieces(AngleKind::Return), [(inches(18), 2), (inches(12), 2)]);
    assert_eq!(layout.angle_pieces(AngleKind::Plain), [(inches(120), 2), (inches(48), 2)]);
    // tees: 6 × 168 + 156 + 2 × 150 = 1,464 in., less 9 × 1/8 in.
    assert_eq!(layout.length(Kind::Tee), inches(1464) - fine(72));
}

#[test]
fn a_free_column_parts_a_tee_and_a_strongback() {
    let column = Jog { off: ft(6), ..jog(Place::Wall(Side::South, ft(9)), ft(2), ft(2), Way::In) };
    let room = twenty_by_fourteen().with_jogs(&[column]).unwrap();
    let layout = lay_out(&room, &one_strongback(), &[]).unwrap();
    // the tee at 10 ft in two: 0–6 and 8–14 ft; the strongback at 7 ft in two: 0–9 and 11–20 ft
    let tees = of(&layout, Kind::Tee);
    assert_eq!(tees.len(), 10);
    let at_ten: Vec<_> = tees.iter().filter(|t| t.0.x == ft(10)).map(|t| (t.0.y, t.1.y)).collect();
    assert_eq!(at_ten, [(ft(0), ft(6)), (ft(8), ft(14))]);
    let strongbacks: Vec<_> = of(&layout, Kind::Strongback).iter().map(|s| (s.0.x, s.1.x)).collect();
    assert_eq!(strongbacks, [(ft(0), ft(9)), (ft(11), ft(20))]);
    // each 9 ft part: tees at 2 … 8 ft, or 12 … 18 ft: 1 or 2 ft from its ends; (9 − 3) / 4 up + 1 = 3 wires
    let wires: Vec<Ticks> = layout.hangs.iter().map(|h| h.at.x).collect();
    assert_eq!(wires, [2, 6, 8, 12, 16, 18].map(ft));
}

#[test]
fn counting_from_the_other_wall_and_the_other_way() {
    let room = Room::rectangle(ft(19), ft(14)).unwrap();
    let from = |start| {
        let layout = lay_out(&room, &Framing { start, ..Framing::default() }, &[]).unwrap();
        of(&layout, Kind::Tee).iter().map(|t| t.0.x).collect::<Vec<_>>()
    };
    assert_eq!(from(None), (1..=9).map(|k| ft(2 * k)).collect::<Vec<_>>());
    assert_eq!(from(Some(Side::East)), (1..=9).map(|k| ft(19 - 2 * k)).collect::<Vec<_>>());
    let f = Framing { tees_run: Some(TeesRun::EastWest), ..Framing::default() };
    let layout = lay_out(&room, &f, &[]).unwrap();
    // 14 ft at 24 in.: 6 tees, each 19 ft
    assert_eq!((layout.count(Kind::Tee), layout.along, layout.run), (6, ft(14), ft(19)));
    let wrong = lay_out(&room, &Framing { start: Some(Side::South), ..Framing::default() }, &[]).unwrap();
    assert_eq!(wrong.notes[0].kind, "starting wall");
}

#[test]
fn a_slanted_wall_has_plain_angle_and_screws() {
    // the north-east corner taken off, 4 ft east and 4 ft north: the tee at 18 ft ends on it, at 12 ft, and the one at
    // 16 ft where it begins: two screws
    let room = Room::perimeter("20' E, 10' N, 4' W + 4' N, 16' W, 14' S", None).unwrap();
    let layout = lay_out(&room, &Framing::default(), &[]).unwrap();
    let last = *of(&layout, Kind::Tee).last().unwrap();
    assert_eq!((last.0.x, last.1.y, layout.tee_end_screws), (ft(18), ft(12), 2));
    assert_eq!(layout.notes[0].kind, "slanted wall");
}

#[test]
fn a_tee_at_a_corner_has_no_tab_and_is_screwed() {
    // a jog 8 to 12 ft along the south wall, 18 in. deep, tees at 24 in.: those at 8 and 12 ft lie where the angle of its
    // face ends, before a tab; the one at 10 ft has its tab, 24 in. on
    let jog = |offset| Jog {
        name: "jog".to_owned(),
        place: Place::Wall(Side::South, offset),
        off: Ticks::ZERO,
        width: ft(4),
        depth: Ticks::inches(18),
        way: Way::In,
    };
    let laid = |offset| {
        let room = Room::rectangle(ft(20), ft(14)).unwrap().with_jogs(&[jog(offset)]).unwrap();
        lay_out(&room, &Framing::default(), &[]).unwrap()
    };
    assert_eq!(laid(ft(8)).tee_end_screws, 2);
    // moved by 4 in. no tee is at a corner
    assert_eq!(laid(ft(8) + Ticks::inches(4)).tee_end_screws, 0);
}

#[test]
fn a_face_shorter_than_the_least_piece_takes_no_angle() {
    // a jog 1/4 in. deep on the south wall, 100 to 140 in.: its return faces are no pieces; its face and the rest have angle
    let jogged = |offset, width, depth| {
        let jog = jog(Place::Wall(Side::South, offset), width, depth, Way::In);
        let room = Room::rectangle(ft(20), ft(14)).unwrap().with_jogs(&[jog]).unwrap();
        lay_out(&room, &Framing::default(), &[]).unwrap()
    };
    let layout = jogged(inches(100), inches(40), fine(16));
    assert_eq!(layout.angle_length(AngleKind::Return), Ticks::ZERO);
    // two 20 ft walls of 16, less none: 100 + 40 + 100 in. have 8, 4 and 8 screws (7, 3 and 7 spaces), north 16; west and
    // east 12 each
    assert_eq!(layout.fasteners(), 8 + 4 + 8 + 16 + 12 + 12);
    // at half an inch they are pieces, with two screws each
    let layout = jogged(inches(100), inches(40), fine(32));
    assert_eq!(layout.angle_pieces(AngleKind::Return), [(fine(32), 2)]);
    assert_eq!(layout.fasteners(), 60 + 4);
    // a face 1/4 in. wide and 3 in. deep, from 100 in.: no tab falls on it, and none is needed; where one does, at 104 in.,
    // it is kept
    let layout = jogged(inches(100), fine(16), inches(3));
    assert_eq!(layout.walls.iter().filter(|w| w.angle.is_none()).count(), 1);
    let layout = jogged(inches(104) - fine(8), fine(16), inches(3));
    assert!(layout.walls.iter().all(|w| w.angle.is_some()));
}

#[test]
fn near_the_deck_clips_hold_strongbacks_and_tees() {
    let held = |f: Framing| {
        let layout = plain_layout(&f);
        [HangKind::Wire, HangKind::Tie, HangKind::Clip].map(|kind| layout.hang_count(kind))
    };
    // as many as wires: at 2, 6, 10, 14, 18 ft; and one a tee
    assert_eq!(held(Framing { clipped: true, ..one_strongback() }), [0, 0, 5]);
    let ties = Framing { scheme: Scheme::MidSpanTies { each: 1 }, ..Framing::default() };
    assert_eq!(held(Framing { clipped: true, ..ties }), [0, 0, 9]);
    // wires of a hung grid stay wires
    let grid = Framing { scheme: Scheme::HungGrid { mains_every: ft(4) }, ..Framing::default() };
    assert_eq!(held(Framing { clipped: true, ..grid }), [15, 0, 0]);
}

#[test]
fn tees_the_long_way_of_a_leg_are_told() {
    // an L, 40 ft by 6 ft and a leg 6 ft wide, 24 ft long; 8'-6" may be spanned
    let l = Room::perimeter("40' E, 30' N, 6' W, 24' S, 34' W, 6' S", None).unwrap();
    let f = Framing { span_limit: Some(inches(102)), ..one_strongback() };
    let told = |room: &Room, f: &Framing| {
        let layout = lay_out(room, f, &[]).unwrap();
        layout.notes.iter().filter(|n| n.kind == "tees the long way").map(|n| n.text.clone()).next()
    };
    assert!(told(&l, &f).unwrap().starts_with("2 lines of tees run the long way"));
    // not where the way was chosen, nor where no limit is known, nor in an L whose legs are wider than a tee may span
    assert_eq!(told(&l, &Framing { tees_run: Some(TeesRun::NorthSouth), ..f }), None);
    assert_eq!(told(&l, &Framing { span_limit: None, ..f }), None);
    let wide = Room::perimeter("40' E, 30' N, 9' W, 24' S, 31' W, 6' S", None).unwrap();
    assert_eq!(told(&wide, &f), None);
    // nor beside a column that stands 6 ft off a wall in a room 20 ft wide
    let column = Jog { off: ft(6), ..jog(Place::Wall(Side::South, ft(6)), ft(2), ft(2), Way::In) };
    assert_eq!(told(&twenty_by_fourteen().with_jogs(&[column]).unwrap(), &f), None);
}

fn opening(long: Ticks, wide: Ticks, at: Option<Point>) -> Opening {
    Opening { name: "Opening 1".to_owned(), long, wide, count: 1, at, heavy: false }
}

#[test]
fn an_opening_cuts_a_tee() {
    // 48 in. east by 24 in. north from 60 in. east, 24 in. north: the tees at 72 and 96 in. are cut; those at 48 and
    // 120 in. stand beside it, 12 in. off, so there are two trimmers of 24 in. and two headers of 72 in.
    let o = opening(inches(48), inches(24), Some(Point::new(inches(60), inches(24))));
    let layout = lay_out(&twenty_by_fourteen(), &one_strongback(), &[o]).unwrap();
    let fit = &layout.openings[0];
    assert_eq!(fit.cut.iter().map(|c| c.from.x).collect::<Vec<_>>(), [72, 96].map(inches));
    assert_eq!(layout.opening_pieces(), [(inches(72) - fine(8), 2), (inches(24) - fine(8), 2)]);
    // 4 pieces and 2 cut tees, two ends each; 2 × (48 + 24) = 144 in. of trim
    assert_eq!((fit.screws, fit.trim, fit.rips), (12, inches(144), [inches(48), inches(24)]));
    assert!(layout.notes.is_empty());
}

#[test]
fn an_opening_between_two_tees_needs_no_trimmer() {
    let o = opening(inches(24), inches(48), Some(Point::new(inches(48), inches(12))));
    let layout = lay_out(&twenty_by_fourteen(), &one_strongback(), &[o]).unwrap();
    let fit = &layout.openings[0];
    assert_eq!((fit.tees_cut, fit.headers.len(), fit.trimmers.len(), fit.screws), (0, 2, 0, 4));
}

#[test]
fn openings_without_position_are_counted_by_size() {
    // between two tees there are 24 − 1-1/4 in.: 48 × 22-3/4 fits; 48 × 24 cuts a tee, and both its sides fall between
    let (narrow, wide) = (opening(inches(48), inches(24) - fine(80), None), opening(inches(48), inches(24), None));
    let layout = lay_out(&twenty_by_fourteen(), &one_strongback(), &[narrow, wide]).unwrap();
    let cut: Vec<_> = layout.openings.iter().map(|o| (o.tees_cut, o.headers[0].length, o.trimmers.len())).collect();
    assert_eq!(cut, [(0, inches(24) - fine(8), 0), (1, inches(48) - fine(8), 2)]);
    assert_eq!(layout.notes[0].kind, "opening without position");
}

#[test]
fn openings_that_are_wrong_are_told() {
    let at = |x, y| Some(Point::new(ft(x), ft(y)));
    let named = |name: &str, o: Opening| Opening { name: name.to_owned(), ..o };
    let openings = [
        named("light 1", opening(ft(2), ft(4), at(19, 2))),
        named("light 2", opening(ft(2), ft(4), at(4, 5))),
        named("light 3", opening(ft(2), ft(4), at(5, 8))),
        named("light 4", opening(ft(30), ft(4), None)),
        Opening { heavy: true, ..named("fan", opening(ft(1), ft(1), at(1, 1))) },
    ];
    let layout = lay_out(&twenty_by_fourteen(), &one_strongback(), &openings).unwrap();
    let told: Vec<&str> = layout.notes.iter().map(|n| n.text.as_str()).collect();
    assert_eq!(
        told,
        [
            "light 1 leaves the room.",
            "light 2 crosses a strongback.",
            "light 4, 30'-0\" by 4'-0\", is larger than the room.",
            "fan is heavy: hang it from structure by itself, not from the ceiling.",
            "1 opening has no position: counted by size, where the fewest tees are cut, the longer side along the tees.",
            "light 2 and light 3 overlap.",
        ]
    );
}

#[test]
fn board_of_least_waste() {
    // 20 × 14 ft, tees 24 in. Rows of 4, 4, 4 and 2 ft. In 10 ft sheets (5 spaces): rows 120 + 120; rows begun with half,
    // 48 (2 spaces) + 120 + 72. Whole rows by turns: 5 × 120, and 72 + 48 from one sheet: 6 sheets. The last row, 24 in.,
    // is begun with half: strips 120 and 72 + 48, two from one sheet. 7 sheets, 280 sf: no waste.
    let board = lay_board(&twenty_by_fourteen(), &Framing::default(), &BoardRule::default()).unwrap();
    assert_eq!((board.basis, board.sheet, board.sheets, board.waste), (BoardBasis::LaidOut, ft(10), 7, 0));
    // joints: 3 × 20 ft; ends 4 + 8 + 4 ft, and 2 × 2 ft in the last row; walls 68 ft
    assert_eq!((board.edge_joints, board.end_joints, board.wall_joints), (ft(60), ft(20), ft(68)));
    // on a tee, 48 − 3/4 in. at 12 in.: 5 screws, 3 in the last row. Lines: 9 tees, 2 walls, each joint once more:
    // 12, 13, 12 and 13: 37 × 5 + 13 × 3 = 224
    assert_eq!(board.screws, 224);
    assert_eq!(board.placed.len(), 2 + 3 + 2 + 3);
    assert!(board.control_joints.is_empty());
    let double = BoardRule { layers: 2, ..BoardRule::default() };
    let board = lay_board(&twenty_by_fourteen(), &Framing::default(), &double).unwrap();
    assert_eq!((board.sheets, board.screws, board.edge_joints), (14, 448, ft(60)));
}

#[test]
fn the_last_row_is_ripped_from_cut_offs() {
    // 6 × 5 ft of 12 ft sheets: a row of 72 in., whose cut-off of 72 in. gives the strip of 12
    let rule = BoardRule { lengths: vec![ft(12)], ..BoardRule::default() };
    let sheets = |room: Room, rule: &BoardRule| lay_board(&room, &Framing::default(), rule).unwrap().sheets;
    assert_eq!(sheets(Room::rectangle(ft(6), ft(5)).unwrap(), &rule), 1);
    // 6'-2": the cut-off is 70 in.
    assert_eq!(sheets(Room::rectangle(inches(74), ft(5)).unwrap(), &rule), 2);
    // 20 × 4'-6", tees 24 in.: 144 + 96 in.; the last row of 72 + 144 + 24 in., 6 in. high: the cut-off of 48 in. has 8 strips
    // and gives the 24; the other two, from one sheet
    assert_eq!(sheets(Room::rectangle(ft(20), inches(54)).unwrap(), &rule), 3);
    // of 14 × 20 ft in 10 ft sheets, the piece from 4 to 14 ft of the second row falls out of an opening; one that is
    // 1/64 in. short of it saves nothing
    let hole = |from: Ticks| vec![[Point::new(from, ft(4)), Point::new(ft(14), ft(8))]];
    for (from, left) in [(ft(4), 6), (ft(4) + fine(1), 7)] {
        let rule = BoardRule { lengths: vec![ft(10)], holes: hole(from), ..BoardRule::default() };
        assert_eq!(sheets(twenty_by_fourteen(), &rule), left);
    }
}

#[test]
fn mains_have_the_clearance_of_a_tee() {
    // 20 ft less 1/8 in., of 12 ft stock end to end: 144, and 95-7/8 in.
    let stock = Stock { main: Some(ft(12)), ..Stock::default() };
    let schemes = [Scheme::HungGrid { mains_every: ft(4) }, Scheme::TightToDeck { mains: 3, clip_every: ft(4) }];
    for (scheme, kind) in schemes.into_iter().zip([Kind::Main, Kind::TabbedMain]) {
        let f = Framing { scheme, stock, ..Framing::default() };
        let layout = lay_out(&twenty_by_fourteen(), &f, &[]).unwrap();
        assert_eq!(layout.cut_pieces(kind), [(ft(12), 3), (inches(96) - fine(8), 3)]);
    }
}

#[test]
fn screws_into_furring_are_those_of_its_lines() {
    // 20'-2" by 4 ft: tees 24 in. o.c. would be 10 and two walls; furring 2 in. off its walls, 238 in. at 24: 10 spaces, 11
    let room = Room::rectangle(inches(242), ft(4)).unwrap();
    let screws = |scheme| {
        let rule = BoardRule { lengths: vec![ft(30)], ..BoardRule::default() };
        lay_board(&room, &Framing { scheme, ..Framing::default() }, &rule).unwrap().screws
    };
    assert_eq!(screws(Scheme::WallToWall), 12 * 5);
    assert_eq!(screws(Scheme::Channel(ChannelRule::default())), 11 * 5);
}

#[test]
fn a_nine_foot_sheet_is_trimmed_to_a_tee() {
    // 108 in. reaches the tee at 96 in.; 20 ft: 96, 192, 240, or 48, 144, 240
    let rule = BoardRule { lengths: vec![ft(9)], ..BoardRule::default() };
    let board = lay_board(&twenty_by_fourteen(), &Framing::default(), &rule).unwrap();
    let first_row: Vec<Ticks> = board.placed[..3].iter().map(|s| s.to.x).collect();
    let second_row: Vec<Ticks> = board.placed[3..6].iter().map(|s| s.to.x).collect();
    assert_eq!((first_row, second_row), ([96, 192, 240].map(inches).to_vec(), [48, 144, 240].map(inches).to_vec()));
}

#[test]
fn board_by_area_and_control_joints() {
    // an L of 20 × 14 less 8 × 8: 216 sf. 9 ft sheets of 36 sf are trimmed to 32 sf at 24 in.: 7, 252 sf; 8 ft: 7, 224 sf
    // 12 ft: 4.5, 5, 240 sf; 10 ft: 5.4, 6, 240 sf; 14 ft: 3.9, 4, 224 sf, and fewer joints
    let l = Room::perimeter("20' E, 6' N, 8' W, 8' N, 12' W, 14' S", None).unwrap();
    let board = lay_board(&l, &Framing::default(), &BoardRule::default()).unwrap();
    assert_eq!((board.basis, board.sheet, board.sheets), (BoardBasis::ByArea, ft(14), 4));
    // 100 × 40 ft: 4 fields by 2 at 30 ft, 2 fields by 1 at 50 ft
    let hall = Room::rectangle(ft(100), ft(40)).unwrap();
    let joints = |every| {
        let rule = BoardRule { control_every: every, ..BoardRule::default() };
        lay_board(&hall, &Framing::default(), &rule).unwrap().control_joints.len()
    };
    assert_eq!((joints(ft(30)), joints(ft(50))), (3 + 1, 1));
}

#[test]
fn absurd_figures_end_in_a_fault() {
    let said = |f: Framing| lay_out(&twenty_by_fourteen(), &f, &[]).unwrap_err().to_string();
    let zero = Framing { spacing: Ticks::ZERO, ..Framing::default() };
    assert_eq!(said(zero), "The tee spacing is 0\"; 1\" is the least.");
    let short = Stock { tabbed: inches(4), ..Stock::default() };
    assert_eq!(
        said(Framing { stock: short, ..Framing::default() }),
        "The stock length of tabbed angle is 4\"; 8\" is the least."
    );
    let largest = Room::rectangle(Ticks::LONGEST, Ticks::LONGEST).unwrap();
    let f = Framing {
        scheme: Scheme::HungGrid { mains_every: inches(1) },
        spacing: inches(1),
        wire_every: inches(1),
        ..Framing::default()
    };
    assert_eq!(
        lay_out(&largest, &f, &[]).unwrap_err().to_string(),
        "The room would take more than 200000 wires, the most that is laid out."
    );
}

// ---- laws

/// The trade's formulas, stated again by counting: how many steps of that size cover a length.
fn cover(length: i128, step: i128) -> i128 {
    let mut steps = 0;
    while steps * step < length {
        steps += 1;
    }
    steps
}

/// `hanger_count` of grammar/trade.lid: round_up((along − first − last) / every) + 1, never below 0.
fn hanger_count(along: i128, every: i128, first: i128, last: i128) -> i128 {
    let rest = along - first - last;
    let up = if rest > 0 { cover(rest, every) } else { -((-rest) / every) };
    (up + 1).max(0)
}

fn sixteenths(least: i64, most: i64) -> impl Strategy<Value = Ticks> {
    (least * 16..=most * 16).prop_map(|n| fine(4 * n))
}

fn end() -> impl Strategy<Value = End> {
    prop_oneof![Just(End::Free), Just(End::Fixed)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    /// The counts of the layout and those of the formulas of grammar/trade.lid.
    #[test]
    fn rectangles_agree_with_the_formulas(
        a in sixteenths(30, 700),
        b in sixteenths(30, 700),
        spacing in prop_oneof![Just(inches(16)), Just(inches(24))],
        every in prop_oneof![Just(ft(3)), Just(ft(4))],
        ends in (end(), end()),
        lines in 0_u32..4,
    ) {
        let room = Room::rectangle(a, b).unwrap();
        let (run, along) = (i128::from(a.min(b).0), i128::from(a.max(b).0));
        let (s, e) = (i128::from(spacing.0), i128::from(every.0));
        let f = Framing {
            scheme: Scheme::Strongbacks { lines },
            spacing,
            wire_every: every,
            ends: [ends.0, ends.1],
            ..Framing::default()
        };
        let layout = lay_out(&room, &f, &[]).unwrap();
        let tees = (cover(along, s) - 1).max(0);
        prop_assert_eq!(layout.count(Kind::Tee) as i128, tees);
        let first = if ends.0 == End::Free { s } else { e };
        let last = if ends.1 == End::Free { along - tees * s } else { e };
        let wires = i128::from(lines) * hanger_count(along, e, first, last);
        prop_assert_eq!(layout.hang_count(HangKind::Wire) as i128, wires);
        let angle = layout.angle_length(AngleKind::Tabbed) + layout.angle_length(AngleKind::Closing);
        prop_assert_eq!(i128::from(angle.0), 2 * along);
        // a rest of less than 1/2 in. after whole pieces of 10 ft is left open
        let rest = run % (120 * 8128);
        let open = if run > 120 * 8128 && rest < 4064 { rest } else { 0 };
        prop_assert_eq!(i128::from(layout.angle_length(AngleKind::Plain).0), 2 * (run - open));
        let screws = 2 * (cover(along, 16 * 8128) + 1) + 2 * (cover(run, 16 * 8128) + 1);
        prop_assert_eq!(i128::from(layout.fasteners()), screws);
        prop_assert_eq!(i128::from(layout.length(Kind::Tee).0), tees * (run - 8 * 127));
        // a wire never stands farther from its neighbor than asked, nor from a wall than its end allows
        for hang in &layout.hangs {
            prop_assert!(hang.at.x >= Ticks::ZERO && hang.at.y >= Ticks::ZERO && hang.at.x <= a && hang.at.y <= b);
        }

        let grid = Framing { scheme: Scheme::HungGrid { mains_every: ft(4) }, wire_every: ft(4), ..f };
        let layout = lay_out(&room, &grid, &[]).unwrap();
        let mains = cover(run, 48 * 8128) - 1;
        prop_assert_eq!(layout.count(Kind::Main) as i128, mains);
        prop_assert_eq!(layout.hang_count(HangKind::Wire) as i128, mains * cover(along, 48 * 8128));
        let wires = hung_grid_wires(&room, &grid, ft(4), ft(4)).unwrap();
        prop_assert_eq!(wires, layout.hang_count(HangKind::Wire) as u64);
        // a last bay that is no wider than the clearance at the wall, 1/16 in., takes no cross tee
        let bays = mains + i128::from(run - mains * 48 * 8128 > 4 * 127);
        prop_assert_eq!(layout.count(Kind::CrossTee) as i128, tees * bays);
    }
}

/// A random room: a rectangle of at least 12 by 9 ft with jogs on its long walls, a free column, a corner cut.
fn jogged() -> impl Strategy<Value = (Ticks, Ticks, Vec<Jog>)> {
    let slot = || (any::<bool>(), 0_i64..16 * 20, 1_i64..16 * 20, 1_i64..16 * 30);
    (sixteenths(144, 400), sixteenths(108, 300), proptest::collection::vec(slot(), 6), any::<bool>()).prop_map(
        |(length, width, slots, corner)| {
            let third = Ticks(length.0 / 3 / 508 * 508);
            let mut jogs = Vec::new();
            // in each third of the room one jog on either wall, so that none overlap
            for (i, (there, offset, wide, deep)) in slots.into_iter().enumerate() {
                if !there {
                    continue;
                }
                let side = if i % 2 == 0 { Side::South } else { Side::North };
                let k = i64::try_from(i / 2).unwrap();
                let place = Place::Wall(side, third * k + fine(4 * offset) + inches(2));
                let way = if i == 3 { Way::Out } else { Way::In };
                let off = if i == 4 { inches(9) } else { Ticks::ZERO };
                jogs.push(Jog {
                    name: format!("jog {i}"),
                    place,
                    off,
                    width: fine(4 * wide),
                    depth: fine(4 * deep),
                    way,
                });
            }
            if corner {
                jogs.push(Jog { ..jog(Place::Corner(Corner::NorthEast), inches(1), inches(7), Way::In) });
            }
            (length, width, jogs)
        },
    )
}

/// What a jog takes, as west, south, east, north, in a rectangle of that size.
fn taken(jog: &Jog, length: Ticks, width: Ticks) -> [Ticks; 4] {
    match jog.place {
        Place::Wall(Side::South, at) => [at, jog.off, at + jog.width, jog.off + jog.depth],
        Place::Wall(_, at) if jog.way == Way::Out => [at, width, at + jog.width, width + jog.depth],
        Place::Wall(_, at) => [at, width - jog.off - jog.depth, at + jog.width, width - jog.off],
        _ => [length - jog.width, width - jog.depth, length, width],
    }
}

/// Where a room is clear along a north-south line: its own length, with alcoves, less jogs that it touches.
fn clear_by_hand(x: Ticks, width: Ticks, jogs: &[(Way, [Ticks; 4])]) -> Vec<(Ticks, Ticks)> {
    let mut clear = vec![(Ticks::ZERO, width)];
    for &(way, [west, south, east, north]) in jogs {
        if way == Way::Out && west < x && x < east {
            clear.last_mut().unwrap().1 = north;
        }
        if way == Way::In && west <= x && x <= east {
            clear = clear
                .into_iter()
                .flat_map(|(a, b)| [(a, b.min(south)), (a.max(north), b)])
                .filter(|(a, b)| a < b)
                .collect();
        }
    }
    clear
}

/// Tabs of a piece of angle as the factory made them, 4 in. from its end and 8 in. apart, put where it is cut and fixed.
fn tabs_of(from: Ticks, length: Ticks, cut_off: Ticks) -> Vec<Ticks> {
    let factory_end = from - cut_off;
    let tabs = (0..).map(|k| factory_end + inches(4 + 8 * k)).take_while(|t| *t < from + length);
    tabs.filter(|t| *t > from).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3_000))]

    #[test]
    fn tabs_line_up_and_tees_stay_clear((length, width, jogs) in jogged(), sixteen in any::<bool>()) {
        let Ok(room) = Room::rectangle(length, width).unwrap().with_jogs(&jogs) else { return Ok(()) };
        let spacing = inches(if sixteen { 16 } else { 24 });
        let f = Framing { spacing, tees_run: Some(TeesRun::NorthSouth), ..Framing::default() };
        let layout = lay_out(&room, &f, &[]).unwrap();
        let taken: Vec<(Way, [Ticks; 4])> = jogs.iter().map(|j| (j.way, taken(j, length, width))).collect();

        // the area that is left
        let each = |t: &[Ticks; 4]| (t[2] - t[0]).0 * (t[3] - t[1]).0;
        let sign = |way: Way| if way == Way::In { -1 } else { 1 };
        let area = length.0 * width.0 + taken.iter().map(|(w, t)| sign(*w) * each(t)).sum::<i64>();
        prop_assert_eq!(room.area(), area);

        // every tee, and no other: each line worked out from the jogs alone
        let mut by_hand = Vec::new();
        let mut x = spacing;
        while x < length {
            by_hand.extend(clear_by_hand(x, width, &taken).into_iter().map(|(a, b)| (x, a, b)));
            x += spacing;
        }
        by_hand.retain(|(_, a, b)| *b - *a > fine(8));
        let laid: Vec<_> = of(&layout, Kind::Tee).iter().map(|t| (t.0.x, t.0.y, t.1.y)).collect();
        prop_assert_eq!(&laid, &by_hand);
        let sum: Ticks = by_hand.iter().map(|(_, a, b)| *b - *a - fine(8)).sum();
        prop_assert_eq!(layout.length(Kind::Tee), sum);

        // tabs: all on the pitch from the starting wall, to 1/64 in., and one under both ends of each tee, but where its
        // line runs along the face of a jog, and it ends at the corner
        let mut tabs = std::collections::BTreeSet::new();
        for piece in layout.angles.iter().filter(|a| matches!(a.kind, AngleKind::Tabbed | AngleKind::Closing)) {
            prop_assert!(piece.from.y == piece.to.y && piece.to.x - piece.from.x == piece.length);
            prop_assert!(piece.length + piece.cut_off <= ft(10));
            let own = tabs_of(piece.from.x, piece.length, piece.cut_off);
            prop_assert_eq!(own.len(), piece.tabs);
            for tab in own {
                let off = tab.0.rem_euclid(inches(8).0);
                prop_assert!(off.min(inches(8).0 - off) <= fine(1).0);
                tabs.insert((tab, piece.from.y));
            }
        }
        for (x, from, to) in laid {
            if taken.iter().any(|(_, [west, _, east, _])| x == *west || x == *east) {
                prop_assert!(layout.notes.iter().any(|n| n.kind == "tee at a corner"));
                continue;
            }
            prop_assert!(tabs.contains(&(x, from)) && tabs.contains(&(x, to)), "no tab at {x}");
        }
        // a hung grid's wires, counted without a layout
        let grid = Framing { scheme: Scheme::HungGrid { mains_every: ft(4) }, wire_every: ft(4), ..f };
        let hung = lay_out(&room, &grid, &[]).unwrap().hang_count(HangKind::Wire);
        prop_assert_eq!(hung_grid_wires(&room, &f, ft(4), ft(4)).unwrap(), hung as u64);

        // all of each bearing wall has angle but faces too short for a piece
        let bearing: Ticks = layout.walls.iter().filter(|w| w.angle == Some(AngleKind::Tabbed)).map(|w| w.length).sum();
        let cut = layout.angle_length(AngleKind::Tabbed) + layout.angle_length(AngleKind::Closing);
        prop_assert_eq!(bearing, cut);
    }

    /// Any perimeter, any framing: a layout or a fault.
    #[test]
    fn nothing_panics(
        text in "[0-9NESWnesw',;\"/ .+()ftm-]{0,60}",
        points in proptest::collection::vec((any::<i64>(), any::<i64>()), 0..8),
        near in proptest::collection::vec((-200_000_i64..200_000, -200_000_i64..200_000), 3..9),
        figures in proptest::collection::vec(prop_oneof![any::<i64>(), 0_i64..3_000_000], 16),
        scheme in 0..6,
        lines in prop_oneof![any::<u32>(), 0_u32..5],
    ) {
        let _ = Room::perimeter(&text, None);
        let _ = Place::read(&text, Ticks(figures[0]));
        let t = |i: usize| Ticks(figures[i]);
        let corners = |all: &[(i64, i64)]| all.iter().map(|&(x, y)| Point::new(Ticks(x), Ticks(y))).collect();
        let _ = Room::from_corners(corners(&points));
        let rooms = [Room::from_corners(corners(&near)), Room::rectangle(t(0), t(1)), Room::rectangle(ft(12), ft(9))];
        for room in rooms.into_iter().flatten() {
            let place = if lines % 3 == 0 { Place::Corner(Corner::SouthEast) } else { Place::Wall(Side::West, t(2)) };
            let odd = Jog { off: t(3), ..jog(place, t(4), t(5), if lines % 2 == 0 { Way::In } else { Way::Out }) };
            let room = room.clone().with_jogs(&[odd]).unwrap_or(room);
            let f = Framing {
                scheme: match scheme {
                    0 => Scheme::WallToWall,
                    1 => Scheme::Strongbacks { lines },
                    2 => Scheme::MidSpanTies { each: lines },
                    3 => Scheme::HungGrid { mains_every: t(6) },
                    4 => Scheme::Channel(ChannelRule { channel_every: t(6), furring_edge: t(7), ..ChannelRule::default() }),
                    _ => Scheme::TightToDeck { mains: lines, clip_every: t(6) },
                },
                spacing: t(8),
                pitch: t(9),
                end_clearance: t(10),
                wire_every: t(11),
                span_limit: Some(t(12)),
                stock: Stock { tee: Some(t(13)), tabbed: t(14), ..Stock::default() },
                ..Framing::default()
            };
            let opening = Opening { count: lines, ..opening(t(15), t(12), Some(Point::new(t(11), t(10)))) };
            if let Ok(layout) = lay_out(&room, &f, &[opening.clone(), Opening { at: None, ..opening }]) {
                let _ = (layout.framing_screws(), layout.opening_trim(), layout.opening_pieces());
            }
            let rule = BoardRule { width: t(13), lengths: vec![t(14), t(15)], layers: lines, ..BoardRule::default() };
            let _ = lay_board(&room, &f, &rule);
        }
    }
}
