//! One room under each scheme, and rooms that are no plain rectangles, priced with the built-in ceilings book: every line
//! of material and labor, its quantity and its cost, worked out by hand from the rules of the trade.
//!
//! Where a rule is not the trade's own but a decision of the book, the book's remarks say so. Costs are invented, round
//! ones: see [`PRICES`] and [`LABOR`]. Lengths are reckoned in inches, and a cost is rounded to the cent once, halves up.

use super::{below_headings, hardlid, is, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use rust_xlsxwriter::Workbook;

/// Code, sold by, pack, stock length, cost; and what that makes for one foot, square foot or piece.
const PRICES: &[[&str; 5]] = &[
    ["ST", "ea", "", "12'", "6.00"],       // 0.50 a foot
    ["TA", "ea", "", "10'", "8.00"],       // 0.80 a foot
    ["PA", "ea", "", "10'", "4.00"],       // 0.40 a foot
    ["SB", "ea", "", "16'", "16.00"],      // 1.00 a foot
    ["MT", "ea", "", "12'", "9.60"],       // 0.80 a foot
    ["CT", "ea", "", "4'", "2.40"],        // 0.60 a foot
    ["TM", "ea", "", "12'", "14.40"],      // 1.20 a foot
    ["DC", "ea", "", "", "0.75"],          // 0.75 each
    ["CR", "ea", "", "16'", "11.20"],      // 0.70 a foot
    ["FC", "ea", "", "12'", "4.80"],       // 0.40 a foot
    ["FT", "M", "", "", "50.00"],          // 0.05 each
    ["HW-12", "coil", "500 ft", "", "25"], // 0.05 a foot
    ["WA", "ea", "", "", "0.60"],          // 0.60 each
    ["SF", "M", "", "", "20.00"],          // 0.02 each
    ["PN", "C", "", "", "25.00"],          // 0.25 each
    ["GB-58", "MSF", "", "", "400.00"],    // 0.40 a square foot
    ["SB-114", "M", "", "", "10.00"],      // 0.01 each
    ["JT", "roll", "500 ft", "", "5.00"],  // 0.01 a foot
    ["JC", "pail", "5 gal", "", "20.00"],  // 4.00 a gallon
    ["CJ", "ea", "", "10'", "5.00"],       // 0.50 a foot
    ["CB", "ea", "", "10'", "2.50"],       // 0.25 a foot
    // the same board, sheet by sheet
    ["GB-58-8", "sheet", "4' x 8'", "", "12.80"],
    ["GB-58-10", "sheet", "4' x 10'", "", "16.00"],
    ["GB-58-12", "sheet", "4' x 12'", "", "19.20"],
];

/// Code, hours, for each. The crew is 40.00 with 25% burden: 50.00 an hour.
const LABOR: &[[&str; 3]] = &[
    ["L-TEE", "0.01", "ft"],  // 0.50
    ["L-SB", "0.02", "ft"],   // 1.00
    ["L-TIE", "0.1", "ea"],   // 5.00
    ["L-GRID", "0.03", "sf"], // 1.50
    ["L-CHN", "0.04", "sf"],  // 2.00
    ["L-DECK", "0.05", "ft"], // 2.50
    ["L-OPN", "0.5", "ea"],   // 25.00
    ["L-SOF", "0.2", "ft"],   // 10.00
    ["L-BRD", "0.02", "sf"],  // 1.00
];

/// Room, length, width, perimeter, scheme wanted, drop.
const ROOMS: &[[&str; 6]] = &[
    ["wall to wall", "12'", "7'", "", "wall to wall", ""],
    ["strongbacks", "20'", "14'", "", "strongbacks", ""],
    ["ties", "16'", "12'", "", "ties", ""],
    ["hung grid", "20'", "14'", "", "hung grid", ""],
    ["channel", "20'", "14'", "", "channel", ""],
    ["tight to deck", "16'", "12'", "", "tight to deck", "4\""],
    ["L with column", "", "", "16' E, 4' N, 6'-8\" W, 3' N, 9'-4\" W, 7' S", "wall to wall", ""],
    ["light", "12'", "7'", "", "wall to wall", ""],
    ["soffit", "12'", "7'", "", "wall to wall", ""],
];

/// Room, wall, offset, width, depth: a column 16 in. wide that stands 12 in. into the room.
const JOGS: &[[&str; 5]] = &[["L with column", "south", "5'", "16\"", "12\""]];

/// Room, long (east and west), wide, from west, from south.
const OPENINGS: &[[&str; 5]] = &[["light", "4'", "2'", "3'", "2'-6\""]];

/// Room, run, drop, return, other end.
const SOFFITS: &[[&str; 5]] = &[["soffit", "10'", "12\"", "18\"", "free"]];

/// A line: what it is, how it comes about, its quantity in feet, square feet, gallons or pieces, its cost.
type Line = (&'static str, &'static str, f64, &'static str);

/// 12 by 7 ft. The run is 7 ft, within 7'-6": tees 24 in. o.c. along 12 ft, 6 spaces, so 5 tees, and nothing above them.
///
/// Board: rows of 48 and 36 in., 12 ft long. A 12 ft sheet covers a row, and one is ripped for the second: 96 sf. Two of
/// 14 ft are 112 sf; of 8, 9 and 10 ft each row takes two, 128 to 160 sf.
const WALL_TO_WALL: &[Line] = &[
    ("Span tee", "5 x (84 - 1/8) in. = 419.375 in.", 419.375 / 12.0, "17.47"), // x 0.50 = 17.474
    ("Tabbed angle", "2 x 12 ft", 24.0, "19.20"),
    ("Plain angle", "2 x 7 ft", 14.0, "5.60"),
    ("Fastenings at walls", "12 ft: 9 spaces, 10; 7 ft: 5.25, so 6 spaces, 7; twice", 34.0, "0.68"),
    ("Gypsum board", "2 sheets of 4 x 12 ft", 96.0, "38.40"),
    ("Board screws", "5 tees and 2 walls: 7 lines of 5 (47.25 in.) and 7 of 4 (35.25 in.)", 63.0, "0.63"),
    ("Joint tape", "between rows 12 ft, walls 38 ft", 50.0, "0.50"),
    ("Joint compound", "50 ft x 5/380 gal", 250.0 / 380.0, "2.63"), // 0.657895 x 4 = 2.6316
    ("Frame tees", "419.375 in.", 419.375 / 12.0, "17.47"),
    ("Hang and finish board", "12 x 7 ft", 84.0, "84.00"),
];

/// 20 by 14 ft. 14 ft is over 8'-6" and within twice that: one strongback, parts of 7 ft, tees 24 in. o.c.: 10 spaces, 9
/// tees. Free ends: wires at 2, 6, 10, 14, 18 ft.
///
/// Board: rows of 48, 48, 48 and 24 in. of 10 ft sheets, which leave nothing: 10 + 10 ft; 4 + 10 + 6; 10 + 10; and the
/// 24 in. row, 4 + 10 + 6, as two strips of one sheet. Five whole sheets, one cut to 6 + 4, one ripped: 7, 280 sf.
const STRONGBACKS: &[Line] = &[
    ("Span tee", "9 x (168 - 1/8) in. = 1,510.875 in.", 1510.875 / 12.0, "62.95"), // x 0.50 = 62.953
    ("Tabbed angle", "2 x 20 ft", 40.0, "32.00"),
    ("Plain angle", "2 x 14 ft", 28.0, "11.20"),
    ("Strongback", "240 in. and one lap of 4 in.", 244.0 / 12.0, "20.33"),
    ("Hanger wire", "5 x 18 in.", 7.5, "0.38"), // 0.375
    ("Wire anchor", "5", 5.0, "3.00"),
    ("Fastenings at walls", "20 ft: 15 spaces, 16; 14 ft: 10.5, so 11 spaces, 12; twice", 56.0, "1.12"),
    ("Framing screws", "1 at the lap", 1.0, "0.02"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    // 9 tees and 2 walls, and each joint of ends once more: rows of 12, 13, 12 and 13 lines; 37 x 5 + 13 x 3
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"), // 1.947368 x 4 = 7.7895
    ("Frame tees", "1,510.875 in.", 1510.875 / 12.0, "62.95"),
    ("Hang strongbacks", "20 ft", 20.0, "20.00"),
    ("Hang and finish board", "20 x 14 ft", 280.0, "280.00"),
];

/// 16 by 12 ft. 12 ft is over 8'-6": a tie at the middle of each tee, parts of 6 ft, tees 24 in. o.c.: 8 spaces, 7 tees.
///
/// Board: three rows of 48 in., of 8 ft sheets that leave nothing: 8 + 8 ft; 4 + 8 + 4; 8 + 8: 6 sheets, 192 sf.
const TIES: &[Line] = &[
    ("Span tee", "7 x (144 - 1/8) in. = 1,007.125 in.", 1007.125 / 12.0, "41.96"), // x 0.50 = 41.964
    ("Tabbed angle", "2 x 16 ft", 32.0, "25.60"),
    ("Plain angle", "2 x 12 ft", 24.0, "9.60"),
    ("Hanger wire", "7 x 18 in.", 10.5, "0.53"), // 0.525
    ("Wire anchor", "7", 7.0, "4.20"),
    ("Fastenings at walls", "16 ft: 12 spaces, 13; 12 ft: 9 spaces, 10; twice", 46.0, "0.92"),
    ("Gypsum board", "6 sheets of 4 x 8 ft", 192.0, "76.80"),
    // 7 tees and 2 walls, and each joint of ends once more: rows of 10, 11 and 10 lines
    ("Board screws", "31 lines of 5", 155.0, "1.55"),
    ("Joint tape", "rows 2 x 16 ft, ends 4 + 8 + 4 ft, walls 56 ft", 104.0, "1.04"),
    ("Joint compound", "104 ft x 5/380 gal", 520.0 / 380.0, "5.47"), // 1.368421 x 4 = 5.4737
    ("Frame tees", "1,007.125 in.", 1007.125 / 12.0, "41.96"),
    ("Tie tees to structure", "7", 7.0, "35.00"),
    ("Hang and finish board", "16 x 12 ft", 192.0, "192.00"),
];

/// 20 by 14 ft. Mains at 4, 8 and 12 ft of the 14 ft, each 20 ft less the end clearance. Cross tees on 9 lines 24 in.
/// o.c., in bays of 4, 4, 4 and 2 ft: whole between mains, at a wall short of it by half the clearance. Plain angle all
/// around, and every end that lies on it is screwed. Wires at 2, 6, 10, 14, 18 ft of each main. Board as over strongbacks.
const HUNG_GRID: &[Line] = &[
    ("Main tee", "3 x (240 - 1/8) in. = 719.625 in.", 719.625 / 12.0, "47.98"), // 59.96875 ft x 0.80 = 47.975
    // 47-15/16 + 48 + 48 + 23-15/16 in. on each line
    ("Cross tee", "9 x 167.875 in. = 1,510.875 in.", 1510.875 / 12.0, "75.54"), // 125.90625 ft x 0.60 = 75.544
    ("Plain angle", "2 x 20 ft and 2 x 14 ft", 68.0, "27.20"),
    ("Hanger wire", "3 x 5 x 18 in.", 22.5, "1.13"), // 1.125
    ("Wire anchor", "3 x 5", 15.0, "9.00"),
    ("Fastenings at walls", "20 ft: 15 spaces, 16; 14 ft: 10.5, so 11 spaces, 12; twice", 56.0, "1.12"),
    ("Framing screws", "ends on plain angle: 2 x 9 cross tees, 2 x 3 mains", 24.0, "0.48"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"),
    ("Hang main and cross tees", "20 x 14 ft", 280.0, "420.00"),
    ("Hang and finish board", "20 x 14 ft", 280.0, "280.00"),
];

/// 20 by 14 ft. Runners along the 20 ft, 6 in. off the walls and 36 in. o.c. at most: 156 / 36 is 4.3, so 5 spaces, 6
/// runners. Each is of 16 ft stock lapped 12 in.: 192 + 60 in. Hangers 6 in. from its ends, 48 in. o.c. at most: 228 / 48
/// is 4.75, so 5 spaces, 6. Furring 2 in. off the walls, 24 in. o.c.: 236 / 24 is 9.8, so 10 spaces, 11 lines, each
/// 14 ft less two gaps of 1/2 in., of 12 ft stock lapped 8 in.: 144 + 31 in. No angle. Board as over strongbacks.
const CHANNEL: &[Line] = &[
    ("Cold-rolled channel", "6 x 252 in.", 126.0, "88.20"),
    ("Furring channel", "11 x 175 in. = 1,925 in.", 1925.0 / 12.0, "64.17"), // x 0.40 = 64.167
    ("Furring ties", "6 x 11 crossings, and 2 at each of 6 + 11 laps", 100.0, "5.00"),
    ("Hanger wire", "6 x 6 x 18 in.", 54.0, "2.70"),
    ("Wire anchor", "6 x 6", 36.0, "21.60"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    // 11 lines of furring, and each joint of ends once more: rows of 12, 13, 12 and 13
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"),
    ("Hang channel and furring", "20 x 14 ft", 280.0, "560.00"),
    ("Hang and finish board", "20 x 14 ft", 280.0, "280.00"),
];

/// 16 by 12 ft, 4 in. below a deck of concrete. One tabbed main in the middle, 16 ft less the end clearance, with clips at
/// 2, 6, 10 and 14 ft, each shot to the deck; 7 lines of tees 24 in. o.c., each of two tees of 6 ft less the clearance.
/// Board as under ties.
const TIGHT_TO_DECK: &[Line] = &[
    ("Span tee", "14 x (72 - 1/8) in. = 1,006.25 in.", 1006.25 / 12.0, "41.93"), // x 0.50 = 41.927
    ("Tabbed angle", "2 x 16 ft", 32.0, "25.60"),
    ("Plain angle", "2 x 12 ft", 24.0, "9.60"),
    ("Tabbed main", "192 - 1/8 in.", 191.875 / 12.0, "19.19"), // 15.98958 ft x 1.20 = 19.1875
    ("Deck clip", "16 ft by 4 ft", 4.0, "3.00"),
    ("Fastenings of deck clips", "1 each", 4.0, "1.00"),
    ("Fastenings at walls", "16 ft: 12 spaces, 13; 12 ft: 9 spaces, 10; twice", 46.0, "0.92"),
    ("Gypsum board", "6 sheets of 4 x 8 ft", 192.0, "76.80"),
    ("Board screws", "31 lines of 5", 155.0, "1.55"),
    ("Joint tape", "rows 2 x 16 ft, ends 4 + 8 + 4 ft, walls 56 ft", 104.0, "1.04"),
    ("Joint compound", "104 ft x 5/380 gal", 520.0 / 380.0, "5.47"),
    ("Frame tees", "1,006.25 in.", 1006.25 / 12.0, "41.93"),
    ("Clip tabbed mains", "192 - 1/8 in.", 191.875 / 12.0, "39.97"), // x 2.50 = 39.974
    ("Hang and finish board", "16 x 12 ft", 192.0, "192.00"),
];

/// 16 ft along the south, 4 ft deep at its east end and 7 ft at its west, the step 9'-4" from the west; a column 16 by 12
/// in. on the south wall, from 60 to 76 in. Tees run north and south, 24 in. o.c.: at 24, 48 and 96 in. from wall to wall,
/// 84 in.; at 72 in. from the column, 72 in.; at 120, 144 and 168 in., past the step, 48 in.
///
/// Bearing walls, in inches: south 60, 16 on the column, 116; north 112 and 80: 384. The others: west 84, east 48, the
/// step 36, two sides of the column of 12 each: 192. The ceiling is 16 x 4 + 9 1/3 x 3 less 1 1/3 = 90 2/3 sf, and goes by
/// area: 5% of waste for board, and joints and screws by the thousand square feet.
const L_WITH_COLUMN: &[Line] = &[
    // 3 x 83.875 + 71.875 + 3 x 47.875
    ("Span tee", "467.125 in.", 467.125 / 12.0, "19.46"), // x 0.50 = 19.464
    ("Tabbed angle", "384 in.", 32.0, "25.60"),
    ("Plain angle", "192 in.", 16.0, "6.40"),
    // 60: 5; 16: 2; 116: 9; 112: 8; 80: 6; 84: 7; 48: 4; 36: 4; 12 and 12: 2 and 2
    ("Fastenings at walls", "16 in. o.c. on ten walls", 49.0, "0.98"),
    ("Gypsum board", "90 2/3 sf and 5%", 95.2, "38.08"),
    ("Board screws", "90 2/3, up", 91.0, "0.91"),
    ("Joint tape", "90 2/3 sf x 0.38", 272.0 * 0.38 / 3.0, "0.34"), // 34.453 x 0.01 = 0.3445
    ("Joint compound", "90 2/3 sf x 0.005", 272.0 * 0.005 / 3.0, "1.81"), // 0.453333 x 4 = 1.8133
    ("Frame tees", "467.125 in.", 467.125 / 12.0, "19.46"),
    ("Hang and finish board", "90 2/3 sf", 272.0 / 3.0, "90.67"),
];

/// The room of wall to wall with a light of 48 by 24 in., its long side across the tees from 36 to 84 in., 30 to 54 in.
/// up: it cuts the tees at 48 and 72 in. Two headers from the tee at 24 to that at 96 in., and trimmers on both sides, 12
/// in. from those tees. The sheets are cut for it and save nothing; labor hangs 8 sf less. Scrap serves for the pieces.
const LIGHT: &[Line] = &[
    ("Span tee", "5 x (84 - 1/8) in. = 419.375 in.", 419.375 / 12.0, "17.47"),
    ("Tabbed angle", "2 x 12 ft", 24.0, "19.20"),
    ("Plain angle", "2 x 7 ft", 14.0, "5.60"),
    ("Fastenings at walls", "12 ft: 9 spaces, 10; 7 ft: 5.25, so 6 spaces, 7; twice", 34.0, "0.68"),
    ("Framing screws", "2 headers, 2 trimmers, 2 cut tees, 2 ends each", 12.0, "0.24"),
    ("Gypsum board", "2 sheets of 4 x 12 ft", 96.0, "38.40"),
    ("Board screws", "7 lines of 5 and 7 of 4", 63.0, "0.63"),
    ("Joint tape", "between rows 12 ft, walls 38 ft", 50.0, "0.50"),
    ("Joint compound", "50 ft x 5/380 gal", 250.0 / 380.0, "2.63"),
    ("Plain angle at openings", "2 x (4 + 2) ft", 12.0, "4.80"),
    ("Frame tees", "419.375 in.", 419.375 / 12.0, "17.47"),
    ("Frame openings", "1", 1.0, "25.00"),
    ("Hang and finish board", "84 - 8 sf", 76.0, "76.00"),
];

/// The room of wall to wall with a soffit along its 12 ft wall: 10 ft long, 12 in. down, 18 in. back, its far end free.
/// Tees 24 in. o.c.: 5 spaces, 4 tees and one at each end, 6 pairs. Its faces are 10 x 2.5 = 25 sf, its end 1 x 1.5.
const SOFFIT: &[Line] = &[
    ("Span tee", "5 x (84 - 1/8) in. = 419.375 in.", 419.375 / 12.0, "17.47"),
    ("Tabbed angle", "2 x 12 ft", 24.0, "19.20"),
    ("Plain angle", "2 x 7 ft", 14.0, "5.60"),
    ("Fastenings at walls", "12 ft: 9 spaces, 10; 7 ft: 5.25, so 6 spaces, 7; twice", 34.0, "0.68"),
    ("Gypsum board", "2 sheets of 4 x 12 ft", 96.0, "38.40"),
    ("Board screws", "7 lines of 5 and 7 of 4", 63.0, "0.63"),
    ("Joint tape", "between rows 12 ft, walls 38 ft", 50.0, "0.50"),
    ("Joint compound", "50 ft x 5/380 gal", 250.0 / 380.0, "2.63"),
    ("Frame tees", "419.375 in.", 419.375 / 12.0, "17.47"),
    ("Hang and finish board", "12 x 7 ft", 84.0, "84.00"),
    ("Soffit drop tee", "6 x 12 in.", 6.0, "3.00"),
    ("Soffit return tee", "6 x 18 in.", 9.0, "4.50"),
    ("Tabbed angle at soffit wall", "10 ft", 10.0, "8.00"),
    ("Plain angle at soffit", "at structure and at the foot of the drop, 2 x 10 ft", 20.0, "8.00"),
    ("Plain angle at free ends", "12 + 18 in.", 2.5, "1.00"),
    ("Framing screws at soffit", "head, foot and bend: 3 x 6; at the wall, one end being free: 6", 24.0, "0.48"),
    ("Fastenings at soffit wall", "120 in.: 7.5, so 8 spaces, 9", 9.0, "0.18"),
    ("Fastenings at structure", "9 pins", 9.0, "2.25"),
    ("Soffit board", "26.5 sf and 5%", 27.825, "11.13"),
    ("Board screws at soffit", "26.5, up", 27.0, "0.27"),
    ("Joint tape at soffit", "26.5 sf x 0.38", 10.07, "0.10"),
    ("Joint compound at soffit", "26.5 sf x 0.005", 0.1325, "0.53"),
    ("Corner bead", "10 ft, and 12 + 18 in. at the free end", 12.5, "3.13"), // 3.125
    ("Frame soffit", "10 ft", 10.0, "100.00"),
    ("Hang and finish soffit board", "26.5 sf", 26.5, "26.50"),
];

/// The room over strongbacks, where the house stocks tees of 12 ft: they are spliced over the strongback. The south half
/// has 9 tees, at 24 to 216 in.; the north half lies one tab nearer to the starting wall and is laid out from there, at 16
/// to 232 in., 10 tees. Each is half the run and 12 in., 96 in., less half the end clearance. Two screws a splice.
const SPLICED_OVER_STRONGBACK: &[Line] = &[
    ("Span tee", "19 x (96 - 1/16) in. = 1,822.8125 in.", 1822.8125 / 12.0, "75.95"), // x 0.50 = 75.951
    ("Tabbed angle", "2 x 20 ft", 40.0, "32.00"),
    ("Plain angle", "2 x 14 ft", 28.0, "11.20"),
    ("Strongback", "240 in. and one lap of 4 in.", 244.0 / 12.0, "20.33"),
    ("Hanger wire", "5 x 18 in.", 7.5, "0.38"),
    ("Wire anchor", "5", 5.0, "3.00"),
    ("Fastenings at walls", "20 ft: 15 spaces, 16; 14 ft: 10.5, so 11 spaces, 12; twice", 56.0, "1.12"),
    ("Framing screws", "1 at the lap, 9 x 2 at splices", 19.0, "0.38"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"),
    ("Frame tees", "1,822.8125 in.", 1822.8125 / 12.0, "75.95"),
    ("Hang strongbacks", "20 ft", 20.0, "20.00"),
    ("Hang and finish board", "20 x 14 ft", 280.0, "280.00"),
];

/// The same room with a tie at the middle of each tee, parts of 7 ft: tees of 12 ft stock are spliced with a scrap, four
/// screws a splice.
const SPLICED_WITH_SCRAP: &[Line] = &[
    ("Span tee", "9 x (144 + 23.875) in. = 1,510.875 in.", 1510.875 / 12.0, "62.95"),
    ("Tabbed angle", "2 x 20 ft", 40.0, "32.00"),
    ("Plain angle", "2 x 14 ft", 28.0, "11.20"),
    ("Hanger wire", "9 x 18 in.", 13.5, "0.68"), // 0.675
    ("Wire anchor", "9", 9.0, "5.40"),
    ("Fastenings at walls", "20 ft: 15 spaces, 16; 14 ft: 10.5, so 11 spaces, 12; twice", 56.0, "1.12"),
    ("Framing screws", "9 x 4 at splices", 36.0, "0.72"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"),
    ("Frame tees", "1,510.875 in.", 1510.875 / 12.0, "62.95"),
    ("Tie tees to structure", "9", 9.0, "45.00"),
    ("Hang and finish board", "20 x 14 ft", 280.0, "280.00"),
];

/// A house whose yard tells lengths of sheet apart by code.
const HOUSE: &str = "\
book \"Board by length\"  edition \"1\"
use \"hardlid ceilings\"

replace table board_code  \"Board by kind, thickness and length\"  source \"this house\"
    kind text, exact | thickness length, exact | sheet length, from, otherwise 12' | code text
    regular          | 5/8\"                    | 8'                                | \"GB-58-8\"
    regular          | 5/8\"                    | 10'                               | \"GB-58-10\"
    regular          | 5/8\"                    | 12'                               | \"GB-58-12\"
end
";

fn workbook(sheets: &[(&str, Vec<Vec<&str>>)]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows) {
            for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
                sheet.write_string(row, column, *text).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

fn table<const N: usize>(heads: [&'static str; N], rows: &[[&'static str; N]]) -> Vec<Vec<&'static str>> {
    std::iter::once(&heads).chain(rows).map(|row| row.to_vec()).collect()
}

fn machine() -> Memory {
    let heads = ["Room", "Length", "Width", "Perimeter", "Scheme wanted", "Drop"];
    let rooms = workbook(&[
        ("Rooms", table(heads, ROOMS)),
        ("Jogs", table(["Room", "Wall", "Offset", "Width", "Depth"], JOGS)),
        ("Openings", table(["Room", "Long", "Wide", "From west", "From south"], OPENINGS)),
        ("Soffits", table(["Room", "Run", "Drop", "Return", "Other end"], SOFFITS)),
    ]);
    let spliced = workbook(&[
        (
            "Rooms",
            table(
                heads,
                &[
                    ["over strongback", "20'", "14'", "", "strongbacks", ""],
                    ["scrap", "20'", "14'", "", "ties", ""],
                    ["room for 8 ft", "16'", "12'", "", "ties", ""],
                ],
            ),
        ),
        ("Job", vec![vec!["Tee stock", "12'"]]),
    ]);
    let labor = LABOR.iter().map(|[code, hours, unit]| [*code, *code, *hours, *unit, "Crew"]);
    let labor: Vec<[&str; 5]> = labor.collect();
    let prices: Vec<[&str; 6]> =
        PRICES.iter().map(|[code, by, pack, stock, cost]| [*code, *code, *by, *pack, *stock, *cost]).collect();
    let yard = workbook(&[
        ("Prices", table(["Code", "Item", "Sold by", "Pack", "Stock length", "Cost"], &prices)),
        ("Labor", table(["Code", "Work", "Hours per unit", "Unit", "Crew"], &labor)),
        ("Crews", table(["Crew", "Wage", "Burden"], &[["Crew", "40", "25%"]])),
    ]);
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", rooms)
        .with("spliced.xlsx", spliced)
        .with("yard.xlsx", yard)
        .with("house.lid", HOUSE)
}

/// The lines of a room that come to something: item, quantity, cost.
fn lines_of(bytes: &[u8], wanted: &str) -> Vec<(String, f64, String)> {
    let range = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&range, "Code");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap_or_else(|| panic!("no column {name}"));
    let (room, item) = (column("Room"), column("Item or work"));
    let (quantity, cost) = (column("Quantity with waste"), column("Cost ($)"));
    let number = |cell: &Data| if let Data::Float(v) = cell { *v } else { 0.0 };
    let of_room = rows.into_iter().filter(|row| is(&row[room], wanted) && number(&row[quantity]) != 0.0);
    of_room.map(|row| (row[item].to_string(), number(&row[quantity]), format!("{:.2}", number(&row[cost])))).collect()
}

/// What differs between a room's lines and those worked out by hand.
fn differences(bytes: &[u8], room: &str, by_hand: &[Line]) -> Vec<String> {
    let shown = lines_of(bytes, room);
    let mut wrong = Vec::new();
    for (item, how, quantity, cost) in by_hand {
        match shown.iter().find(|line| line.0 == *item) {
            None => wrong.push(format!("{room}: no {item} ({how})")),
            Some((_, found, money)) if (found - quantity).abs() > 1e-9 || money != cost => {
                wrong.push(format!("{room}: {item} is {found}, ${money}; by hand {quantity}, ${cost} ({how})"));
            }
            Some(_) => {}
        }
    }
    let known = |line: &&(String, f64, String)| !by_hand.iter().any(|(item, ..)| *item == line.0);
    wrong.extend(shown.iter().filter(known).map(|(item, found, _)| format!("{room}: {item}, {found}, is not by hand")));
    if shown.len() > by_hand.len() && wrong.is_empty() {
        wrong.push(format!("{room}: a line is there twice"));
    }
    wrong
}

#[test]
fn every_line_of_a_room_under_each_scheme_is_as_by_hand() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let rooms = [
        ("wall to wall", WALL_TO_WALL),
        ("strongbacks", STRONGBACKS),
        ("ties", TIES),
        ("hung grid", HUNG_GRID),
        ("channel", CHANNEL),
        ("tight to deck", TIGHT_TO_DECK),
        ("L with column", L_WITH_COLUMN),
        ("light", LIGHT),
        ("soffit", SOFFIT),
    ];
    assert_eq!(rooms.len(), ROOMS.len());
    let wrong: Vec<String> = rooms.iter().flat_map(|(room, by_hand)| differences(&bytes, room, by_hand)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn tees_longer_than_the_stock_of_the_house_are_spliced() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price spliced.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("spliced.priced.xlsx").unwrap();
    let rooms = [("over strongback", SPLICED_OVER_STRONGBACK), ("scrap", SPLICED_WITH_SCRAP), ("room for 8 ft", TIES)];
    let wrong: Vec<String> = rooms.iter().flat_map(|(room, by_hand)| differences(&bytes, room, by_hand)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Two rooms of 7 sheets of 10 ft, and one of 6 sheets of 8 ft, at $16.00 and $12.80.
#[test]
fn sheets_are_ordered_by_length_where_codes_tell_them_apart() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price spliced.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let order = sheet(&machine.bytes("spliced.priced.xlsx").unwrap(), "Order");
    let (heads, rows) = below_headings(&order, "Sold as");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let board = rows.iter().filter(|r| r[column("Code")].to_string().starts_with("GB-"));
    let board: Vec<[String; 4]> =
        board.map(|r| ["Code", "Buy", "Left over", "Cost ($)"].map(|name| r[column(name)].to_string())).collect();
    assert_eq!(board, [["GB-58-10", "14", "0", "224"], ["GB-58-8", "6", "0", "76.8"]]);
}
