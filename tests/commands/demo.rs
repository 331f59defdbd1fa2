//! The priced demo, checked by hand: three rooms, every line of them.
//!
//! Costs for one, from the demo's price book:
//! tee 6.60 / 12 ft = 0.55/ft; tabbed angle 5.90 / 10 ft = 0.59/ft; plain angle 38.50 / 100 ft = 0.385/ft;
//! strongback 512 / 1,000 ft = 0.512/ft; wire 24.50 / 500 ft = 0.049/ft; anchor 58 / 100 = 0.58; framing screw
//! 14.80 / 1,000 = 0.0148; board 412 / 1,000 sf = 0.412/sf; board screw 62 / 5,000 = 0.0124; tape 4.25 / 500 ft =
//! 0.0085/ft; compound 17.10 / 4.5 gal = 3.80/gal; bead 2.35 / 10 ft = 0.235/ft; rated board 438 / 1,000 sf = 0.438/sf;
//! pin 21 / 100 = 0.21.
//! An hour of the framers is 38.50 x 1.42 = 54.67, of the board crew 36.00 x 1.40 = 50.40.
//! Soffit framers work 48 hours a week, 8 of them at time and a half: 52 hours are paid.
//! Wastes are the house rules': tabbed angle 5%, soffit board 15%, nothing else. The yard has sheets of 12 ft alone; they
//! are laid out, and what they waste is bought with them. Compound: 5 gal for 380 ft of joints, 1/76 gal a foot.

use super::{below_headings, hardlid, is, machine, sheet, sheet_names};
use calamine::Data;
use hardlid::command::Ended;

/// An expected line: what it is, its quantity as a ratio of whole numbers, its cents.
type Expected = (&'static str, (i64, i64), i64);

/// 102 Vestibule: 9'-0" by 7'-6", SDC D, no openings.
///
/// The run is 7'-6", within 8'-6": no strongback, so no wires and no anchors. 7'-6" is just what a tee may span at
/// 24 in. o.c.; 9 ft is 4.5 spaces of 24 in., so 5, and 4 tees. Board in rows of 48 and 42 in.: a sheet for each.
const VESTIBULE: &[Expected] = &[
    // 4 x (90 - 1/8) in. = 359.5 in. = 719/24 ft; x 0.55 = 16.477
    ("Span tee", (719, 24), 1648),
    // 2 x 9 = 18 ft, + 5% = 18.9 ft; x 0.59 = 11.151
    ("Tabbed angle", (189, 10), 1115),
    // 2 x 7.5 = 15 ft; x 0.385 = 5.775, a half cent, up
    ("Plain angle", (15, 1), 578),
    // 9 ft at 16 in. is 6.75, so 7 spaces, 8 screws, twice; 7.5 ft is 5.6, so 6 spaces, 7 screws, twice: 30; x 0.0148 = 0.444
    ("Fastenings at walls", (30, 1), 44),
    // 2 sheets of 48 sf; x 0.412 = 39.552
    ("Gypsum board", (96, 1), 3955),
    // 4 tees and 2 walls; 47.25 and 41.25 in. at 12 in. are 4 spaces, 5 screws: 6 x 10; x 0.0124 = 0.744
    ("Board screws", (60, 1), 74),
    // 9 ft between the rows, 33 ft of walls; x 0.0085 = 0.357
    ("Joint tape", (42, 1), 36),
    // 42 / 76 = 0.55263 gal; x 3.80 = 2.10
    ("Joint compound", (21, 38), 210),
    // as they are cut, 719/24 ft; x 0.011 hr x 54.67 = 0.60137 a foot: 18.0160
    ("Frame tees", (719, 24), 1802),
    // 67.5 x 0.017 = 1.1475 hr; x 50.40 = 57.834
    ("Hang and finish board", (135, 2), 5783),
];

/// 114 Electrical: 11 ft by 6'-8", two layers, one access door 24 x 24 in.
///
/// Two layers may span 7'-0" at 16 in. o.c. by the house table: 6'-8" takes no strongback. At 24 in. o.c. they reach
/// only 6'-0", so the tees go at 16 in.: 132 / 16 = 8.25, so 9 spaces, 8 tees. The ceiling is 11 x 6 2/3 = 73 1/3 sf,
/// less the door's 4 sf: a face of 69 1/3 = 208/3 sf, and twice that of board, which is rated: 138 2/3 = 416/3 sf. The door,
/// 24 in. across tees 16 in. apart, cuts one of them: 25-1/4 in. with half a tee on each side is 1.6 spaces, so 2. The
/// sheets, in rows of 48 and 32 in., are cut for the door and save nothing: one for each row and layer.
const ELECTRICAL: &[Expected] = &[
    // 8 x (80 - 1/8) in. = 639 in. = 53.25 ft; x 0.55 = 29.2875
    ("Span tee", (213, 4), 2929),
    // 2 x 11 = 22 ft, + 5% = 23.1 ft; x 0.59 = 13.629
    ("Tabbed angle", (231, 10), 1363),
    // 2 x 80 in. = 13 1/3 ft; x 0.385 = 5.133
    ("Plain angle", (40, 3), 513),
    // 132 / 16 = 8.25, so 9 spaces, 10 screws, twice; 80 / 16 = 5 spaces, 6 screws, twice: 32; x 0.0148 = 0.4736
    ("Fastenings at walls", (32, 1), 47),
    // two headers, two trimmers and one cut tee, two ends each; x 0.0148 = 0.148
    ("Framing screws", (10, 1), 15),
    // 4 sheets of 48 sf; x 0.438 = 84.096
    ("Gypsum board", (192, 1), 8410),
    // 8 tees and 2 walls; 47.25 in. takes 5 screws, 31.25 in. 3 spaces, 4: 90, twice; x 0.0124 = 2.232
    ("Board screws", (180, 1), 223),
    // the last layer alone is taped: 11 ft between the rows, 35 1/3 ft of walls; x 0.0085 = 0.3938
    ("Joint tape", (139, 3), 39),
    // 139/3 / 76 = 0.60965 gal; x 3.80 = 2.3167
    ("Joint compound", (139, 228), 232),
    // 2 x (2 + 2) = 8 ft; x 0.385 = 3.08
    ("Plain angle at openings", (8, 1), 308),
    // as they are cut, 53.25 ft; x 0.60137 = 32.0230
    ("Frame tees", (213, 4), 3202),
    // 1 x 0.45 hr; x 54.67 = 24.6015
    ("Frame openings", (1, 1), 2460),
    // 416/3 x 0.017 = 2.35733 hr; x 50.40 = 118.8096
    ("Hang and finish board", (416, 3), 11881),
];

/// 206 Nurse station: 16'-8" by 11'-6", SDC D, free ends, drop 24 in., four lights 24 x 24 in.; a soffit 16'-8" long,
/// 14 in. down and 2 ft back, one end free.
///
/// The run is 11'-6" (138 in.), over 8'-6" and within twice that: one strongback, halves of 5'-9", tees at 24 in. o.c.:
/// 200 / 24 = 8.3, so 9 spaces, 8 tees, the last 200 - 192 = 8 in. from its wall. Wires go from the first tee to the
/// last, 200 - 24 - 8 = 168 in. at 36 in.: 4.67, so 5 spaces, 6 wires. The ceiling is 16 2/3 x 11.5 = 191 2/3 sf less
/// 16 sf: 175 2/3 = 527/3 sf. 16'-8" is more than the 16 ft of a strongback: 196 in. less the lap by 188 in., so two pieces and
/// one lap of 4 in. Board in rows of 48, 48 and 42 in.: 144 + 56, 72 + 128, and 144 + 56 in.; sheets of 144, of 128, and of
/// 72 + 56 in., and two ripped for the last row: 5. A light, 24 in. across tees 24 in. apart, cuts one tee. The soffit has 8 + 2 = 10 pairs of tees and
/// 200 x (14 + 24) + 14 x 24 = 7,936 sq in. = 496/9 sf of board.
const NURSE_STATION: &[Expected] = &[
    // 8 x (138 - 1/8) in. = 1,103 in. = 91.917 ft; x 0.55 = 50.554
    ("Span tee", (1103, 12), 5055),
    // 2 x 200 in. = 33 1/3 ft, + 5% = 35 ft; x 0.59 = 20.65
    ("Tabbed angle", (35, 1), 2065),
    // 2 x 11.5 = 23 ft; x 0.385 = 8.855, a half cent, up
    ("Plain angle", (23, 1), 886),
    // 200 + 4 in. = 17 ft; x 0.512 = 8.704
    ("Strongback", (17, 1), 870),
    // 6 x 2 = 12 ft; x 0.049 = 0.588
    ("Hanger wire", (12, 1), 59),
    // 6; x 0.58 = 3.48
    ("Wire anchor", (6, 1), 348),
    // 200 / 16 = 12.5, so 13 spaces, 14 screws, twice; 138 / 16 = 8.6, so 9 spaces, 10 screws, twice: 48; x 0.0148 = 0.7104
    ("Fastenings at walls", (48, 1), 71),
    // 4 x 2 x (2 headers + 2 trimmers + 1 cut tee) and one at the lap; x 0.0148 = 0.6068
    ("Framing screws", (41, 1), 61),
    // 5 sheets of 48 sf; x 0.412 = 98.88
    ("Gypsum board", (240, 1), 9888),
    // 8 tees, 2 walls and one joint of ends: 11 lines in each of 3 rows, 5 screws (41.25 in. too); x 0.0124 = 2.046
    ("Board screws", (165, 1), 205),
    // rows 2 x 200 in., ends 48 + 48 + 42, walls 676 in.: 1,214 in. = 607/6 ft; x 0.0085 = 0.8599
    ("Joint tape", (607, 6), 86),
    // 607/6 / 76 = 1.33114 gal; x 3.80 = 5.0583
    ("Joint compound", (607, 456), 506),
    // 4 x 2 x (2 + 2) = 32 ft; x 0.385 = 12.32
    ("Plain angle at openings", (32, 1), 1232),
    // as they are cut, 1,103/12 ft; x 0.60137 = 55.2759
    ("Frame tees", (1103, 12), 5528),
    // 16 2/3 ft; x 0.02 = 1/3 hr; x 54.67 = 18.2233
    ("Hang strongbacks", (50, 3), 1822),
    // 4 x 0.45 = 1.8 hr; x 54.67 = 98.406
    ("Frame openings", (4, 1), 9841),
    // 527/3 x 0.017 = 2.98633 hr, x 1.25 for a finish of level 5 = 3.732917 hr; x 50.40 = 188.139
    ("Hang and finish board", (527, 3), 18814),
    // 10 x 14 in. = 11 2/3 ft; x 0.55 = 6.4167
    ("Soffit drop tee", (35, 3), 642),
    // 10 x 2 = 20 ft; x 0.55 = 11.00
    ("Soffit return tee", (20, 1), 1100),
    // 16 2/3 ft; x 0.59 = 9.8333
    ("Tabbed angle at soffit wall", (50, 3), 983),
    // 2 x 16 2/3 = 33 1/3 ft; x 0.385 = 12.8333
    ("Plain angle at soffit", (100, 3), 1283),
    // 14 + 24 = 38 in. at the free end = 19/6 ft; x 0.385 = 1.2192
    ("Plain angle at free ends", (19, 6), 122),
    // 3 x 10, and 10 at the wall since one end is free; x 0.0148 = 0.592
    ("Framing screws at soffit", (40, 1), 59),
    // 200 / 16 = 12.5, so 13 spaces, 14 screws; x 0.0148 = 0.2072
    ("Fastenings at soffit wall", (14, 1), 21),
    // 14 pins into the concrete of the deck; x 0.21 = 2.94
    ("Fastenings at structure", (14, 1), 294),
    // 496/9 x 1.15 = 63.378 sf = 2852/45; x 0.412 = 26.1116
    ("Soffit board", (2852, 45), 2611),
    // 55.1, up: 56; x 0.0124 = 0.6944
    ("Board screws at soffit", (56, 1), 69),
    // 496/9 x 0.38 = 20.942 ft = 4712/225; x 0.0085 = 0.17801
    ("Joint tape at soffit", (4712, 225), 18),
    // 496/9 x 0.005 = 0.27556 gal = 62/225; x 3.80 = 1.0471
    ("Joint compound at soffit", (62, 225), 105),
    // 200 + 14 + 24 = 238 in. = 19.8333 ft; x 0.235 = 4.6608
    ("Corner bead", (119, 6), 466),
    // 16 2/3 ft; x 0.16 = 2.66667 hr; 38.50 x 52/48 x 1.42 = 59.225833 an hour: 157.9356
    ("Frame soffit", (50, 3), 15794),
    // 496/9 x 0.017 = 0.93689 hr; x 50.40 = 47.2192
    ("Hang and finish soffit board", (496, 9), 4722),
];

/// A line as the workbook shows it.
struct Shown {
    room: String,
    item: String,
    kind: String,
    quantity: f64,
    cost: f64,
}

fn lines(bytes: &[u8]) -> Vec<Shown> {
    let range = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&range, "Code");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap_or_else(|| panic!("no column {name}"));
    let (room, item, kind) = (column("Room"), column("Item or work"), column("Kind"));
    let (quantity, cost) = (column("Quantity with waste"), column("Cost ($)"));
    let number = |cell: &Data| if let Data::Float(v) = cell { *v } else { 0.0 };
    rows.into_iter()
        .filter(|row| row[item] != Data::Empty)
        .map(|row| Shown {
            room: row[room].to_string(),
            item: row[item].to_string(),
            kind: row[kind].to_string(),
            quantity: number(&row[quantity]),
            cost: number(&row[cost]),
        })
        .collect()
}

fn priced() -> Vec<u8> {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

#[test]
fn three_rooms_come_out_as_by_hand() {
    let all = lines(&priced());
    for (room, expected) in [("102", VESTIBULE), ("114", ELECTRICAL), ("206", NURSE_STATION)] {
        let shown: Vec<&Shown> = all.iter().filter(|l| l.room == room && l.quantity != 0.0).collect();
        let names: Vec<&str> = shown.iter().map(|l| l.item.as_str()).collect();
        assert_eq!(names, expected.iter().map(|e| e.0).collect::<Vec<_>>(), "items of room {room}");
        for (line, (item, (over, under), cents)) in shown.iter().zip(expected) {
            let quantity = f64::from(i32::try_from(*over).unwrap()) / f64::from(i32::try_from(*under).unwrap());
            let off = (line.quantity - quantity).abs();
            assert!(off < 1e-9, "room {room}, {item}: {} is not {quantity}", line.quantity);
            assert_eq!(format!("{:.2}", line.cost), format!("{}.{:02}", cents / 100, cents % 100), "{room}, {item}");
        }
    }
}

/// 102: 16.48 + 11.15 + 5.78 + .44 + 39.55 + .74 + .36 + 2.10 = 76.60 of material, and 18.02 + 57.83 of labor: 152.45.
#[test]
fn a_room_costs_what_its_lines_cost() {
    let range = sheet(&priced(), "Rooms");
    let (heads, rows) = below_headings(&range, "Room name");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let vestibule = rows.iter().find(|r| is(&r[column("Room name")], "Vestibule")).unwrap();
    assert_eq!(vestibule[column("Cost ($)")].to_string(), "152.45");
    // columns that no book names travel through
    assert_eq!(rows[0][column("Remarks")].to_string(), "Soffit over the desk; devices by others");
}

#[test]
fn the_bid_has_a_total_that_foots() {
    let bytes = priced();
    let cents: i64 = lines(&bytes)
        .iter()
        .filter(|l| !l.kind.starts_with("Alternate"))
        .map(|l| format!("{:.2}", l.cost).replace('.', "").parse::<i64>().unwrap())
        .sum();
    let bid = sheet(&bytes, "Bid");
    let figure = |label: &str| {
        let row = bid.rows().find(|r| r.first().is_some_and(|c| is(c, label)));
        let value =
            row.and_then(|r| r.iter().skip(1).find_map(|c| if let Data::Float(v) = c { Some(*v) } else { None }));
        let value = value.unwrap_or_else(|| panic!("no figure {label}"));
        format!("{value:.2}").replace('.', "").parse::<i64>().unwrap()
    };
    assert_eq!(figure("Material") + figure("Labor"), cents);
    // 7% tax and 2% freight on material; 10% overhead on all that; 8% profit on the sum: each half up to the cent
    let of = |percent: i64, cents: i64| (percent * cents + 50) / 100;
    let direct = cents + of(7, figure("Material")) + of(2, figure("Material"));
    let before_profit = direct + of(10, direct);
    assert_eq!(figure("Total"), before_profit + of(8, before_profit));
}

#[test]
fn no_sheet_is_missing() {
    let names = sheet_names(&priced());
    for name in ["Bid", "Rooms", "Openings", "Soffits", "Lines", "Order", "Cuts", "Plans", "Checks", "Prices", "Rules"]
    {
        assert!(names.iter().any(|n| n == name), "{name} is missing from {names:?}");
    }
}
