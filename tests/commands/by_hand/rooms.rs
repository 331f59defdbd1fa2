//! Rooms that are no plain rectangle, or that have openings, a soffit, spliced tees: their lines by hand.

use super::Line;

/// 16 ft along the south, 4 ft deep at its east end and 7 ft at its west, the step 9'-4" from the west; a column 16 by 12
/// in. on the south wall, from 60 to 76 in. Tees run north and south, 24 in. o.c.: at 24, 48 and 96 in. from wall to wall,
/// 84 in.; at 72 in. from the column, 72 in.; at 120, 144 and 168 in., past the step, 48 in.
///
/// Bearing walls, in inches: south 60, 16 on the column, 116; north 112 and 80: 384. The others: west 84, east 48, the
/// step 36, two sides of the column of 12 each: 192. The ceiling is 16 x 4 + 9 1/3 x 3 less 1 1/3 = 90 2/3 sf, and goes by
/// area: 5% of waste for board, and joints and screws by the thousand square feet.
pub const L_WITH_COLUMN: &[Line] = &[
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
pub const LIGHT: &[Line] = &[
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
pub const SOFFIT: &[Line] = &[
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

/// The room of wall to wall with a soffit along the whole of its west wall, 7 ft long, 12 in. down, 2 ft back: the ceiling
/// is 10 by 7 ft. Tees 24 in. o.c. from the soffit on: 5 spaces, 4 tees. Board: a 10 ft sheet for each row, 80 sf; of 12 or
/// 14 ft two are 96 or 112 sf, of 8 or 9 ft it takes three. The soffit: 84 in. is 3.5 spaces, 3 tees and one at each end.
pub const SOFFIT_WEST: &[Line] = &[
    ("Span tee", "4 x (84 - 1/8) in. = 335.5 in.", 335.5 / 12.0, "13.98"), // x 0.50 = 13.979
    ("Tabbed angle", "2 x 10 ft", 20.0, "16.00"),
    ("Plain angle", "2 x 7 ft, on the soffit and the east wall", 14.0, "5.60"),
    ("Fastenings at walls", "10 ft: 7.5, so 8 spaces, 9; 7 ft: 5.25, so 6 spaces, 7; twice", 32.0, "0.64"),
    ("Gypsum board", "2 sheets of 4 x 10 ft", 80.0, "32.00"),
    ("Board screws", "4 tees and 2 walls: 6 lines of 5 and 6 of 4", 54.0, "0.54"),
    ("Joint tape", "between rows 10 ft, walls 34 ft", 44.0, "0.44"),
    ("Joint compound", "44 ft x 5/380 gal", 220.0 / 380.0, "2.32"), // 0.578947 x 4 = 2.3158
    ("Frame tees", "335.5 in.", 335.5 / 12.0, "13.98"),
    ("Hang and finish board", "10 x 7 ft", 70.0, "70.00"),
    ("Soffit drop tee", "5 x 12 in.", 5.0, "2.50"),
    ("Soffit return tee", "5 x 2 ft", 10.0, "5.00"),
    ("Tabbed angle at soffit wall", "7 ft", 7.0, "5.60"),
    ("Plain angle at soffit", "2 x 7 ft", 14.0, "5.60"),
    ("Framing screws at soffit", "head, foot and bend: 3 x 5", 15.0, "0.30"),
    ("Fastenings at soffit wall", "84 in.: 5.25, so 6 spaces, 7", 7.0, "0.14"),
    ("Fastenings at structure", "7 pins", 7.0, "1.75"),
    ("Soffit board", "7 x 3 ft and 5%", 22.05, "8.82"),
    ("Board screws at soffit", "21", 21.0, "0.21"),
    ("Joint tape at soffit", "21 sf x 0.38", 7.98, "0.08"),
    ("Joint compound at soffit", "21 sf x 0.005", 0.105, "0.42"),
    ("Corner bead", "7 ft", 7.0, "1.75"),
    ("Frame soffit", "7 ft", 7.0, "70.00"),
    ("Hang and finish soffit board", "21 sf", 21.0, "21.00"),
];

/// 16 by 12 ft, 4 in. below the deck: one strongback, held by clips. 8 spaces of 24 in., 7 tees, the first and the last 2 ft
/// off: 12 ft between at 4 ft, 3 spaces, 4 clips. Board as under ties.
pub const NEAR_THE_DECK: &[Line] = &[
    ("Span tee", "7 x (144 - 1/8) in. = 1,007.125 in.", 1007.125 / 12.0, "41.96"), // x 0.50 = 41.964
    ("Tabbed angle", "2 x 16 ft", 32.0, "25.60"),
    ("Plain angle", "2 x 12 ft", 24.0, "9.60"),
    ("Strongback", "16 ft, one piece of stock", 16.0, "16.00"),
    ("Deck clip", "4", 4.0, "3.00"),
    ("Fastenings of deck clips", "a pin each", 4.0, "1.00"),
    ("Fastenings at walls", "16 ft: 12 spaces, 13; 12 ft: 9 spaces, 10; twice", 46.0, "0.92"),
    ("Gypsum board", "6 sheets of 4 x 8 ft", 192.0, "76.80"),
    ("Board screws", "31 lines of 5", 155.0, "1.55"),
    ("Joint tape", "rows 2 x 16 ft, ends 4 + 8 + 4 ft, walls 56 ft", 104.0, "1.04"),
    ("Joint compound", "104 ft x 5/380 gal", 520.0 / 380.0, "5.47"),
    ("Frame tees", "1,007.125 in.", 1007.125 / 12.0, "41.96"),
    ("Hang strongbacks", "16 ft", 16.0, "16.00"),
    ("Hang and finish board", "16 x 12 ft", 192.0, "192.00"),
];

/// The room over strongbacks, where the house stocks tees of 12 ft: they are spliced over the strongback. The south half
/// has 9 tees, at 24 to 216 in.; the north half lies one tab nearer to the starting wall and is laid out from there, at 16
/// to 232 in., 10 tees. Each is half the run and 12 in., 96 in., less half the end clearance. Two screws a splice.
pub const SPLICED_OVER_STRONGBACK: &[Line] = &[
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
pub const SPLICED_WITH_SCRAP: &[Line] = &[
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

/// 20 by 14 ft in SDC D over one strongback whose ends are fixed: wires from 3 to 17 ft, 168 in. at 36 is 4.7, so 5 spaces, 6
/// of them, 30 in. long. Walls of concrete, deck of metal; headers are bought. Tees 24 in. o.c. as ever.
///
/// A light, 48 in. along the west-east wall and 24 in. along the tees, from 12 in. off the west wall: it cuts the tees at 24
/// and 48 in.; headers from the wall to the tee at 72 in.; trimmers on both sides. A panel of 18 by 48 in. between the tees
/// at 96 and 120 in.: headers of 24 in. and two trimmers; it is flushed with rips, from what is cut out. A grille of 12 in.
/// at the south wall, between the tees at 168 and 192 in.: one header, two trimmers. 8 + 6 + 1 = 15 sf.
pub const LIGHTS: &[Line] = &[
    ("Span tee", "9 x (168 - 1/8) in. = 1,510.875 in.", 1510.875 / 12.0, "62.95"),
    // light 2 x 72 and 2 x 24 in., panel 2 x 24 and 2 x 48, grille 24 and 2 x 12: 384 in., each of 11 pieces less 1/8 in.
    ("Headers and trimmers", "384 - 11 x 1/8 in.", 382.625 / 12.0, "15.94"), // x 0.50 = 15.943
    ("Tabbed angle", "2 x 20 ft", 40.0, "32.00"),
    ("Plain angle", "2 x 14 ft", 28.0, "11.20"),
    ("Strongback", "240 in. and one lap of 4 in.", 244.0 / 12.0, "20.33"),
    ("Hanger wire", "6 x 30 in.", 15.0, "0.75"),
    ("Wire anchor", "6 in metal deck", 6.0, "4.20"),
    ("Fastenings at walls", "pins: 20 ft 16, 14 ft 12, twice; and both ends of the strongback", 58.0, "14.50"),
    // two ends each: light 2 + 2 and 2 cut tees, panel 2 + 2, grille 1 + 2: 12 + 8 + 6; 1 at the lap
    ("Framing screws", "2 x 13 ends, and 1", 27.0, "0.54"),
    ("Gypsum board", "7 sheets of 4 x 10 ft", 280.0, "112.00"),
    ("Board screws", "37 lines of 5 (47.25 in.) and 13 of 3 (23.25 in.)", 224.0, "2.24"),
    ("Joint tape", "rows 3 x 20 ft, ends 4 + 8 + 4 + 4 ft, walls 68 ft", 148.0, "1.48"),
    ("Joint compound", "148 ft x 5/380 gal", 740.0 / 380.0, "7.79"),
    ("Plain angle at openings", "light 12 ft, grille 4 ft", 16.0, "6.40"),
    ("Frame tees", "1,510.875 in.", 1510.875 / 12.0, "62.95"),
    ("Hang strongbacks", "20 ft", 20.0, "20.00"),
    ("Frame openings", "3", 3.0, "75.00"),
    ("Hang and finish board", "280 - 15 sf", 265.0, "265.00"),
];

/// A corridor of 46'-6" by 6 ft: 558 in. at 24 are 23.25, so 24 spaces, 23 tees. A control joint across its middle.
///
/// Board in rows of 48 and 24 in. Of 12 ft sheets: 144 three times and 126 in., 4 sheets; 72, 144 three times and 54 in.:
/// four strips, two from a sheet: 6 sheets, 288 sf. Of 8 ft it is 288 sf too, with more joints; of 9, 10 and 14 ft 324, 320
/// and 336 sf.
pub const CORRIDOR: &[Line] = &[
    ("Span tee", "23 x (72 - 1/8) in. = 1,653.125 in.", 1653.125 / 12.0, "68.88"), // x 0.50 = 68.880
    ("Tabbed angle", "2 x 46.5 ft", 93.0, "74.40"),
    ("Plain angle", "2 x 6 ft", 12.0, "4.80"),
    ("Fastenings at walls", "558 in.: 34.9, so 35 spaces, 36; 72 in.: 4.5, so 5 spaces, 6; twice", 84.0, "1.68"),
    ("Gypsum board", "6 sheets of 4 x 12 ft", 288.0, "115.20"),
    // 23 tees and 2 walls, and 3 and 4 joints of ends
    ("Board screws", "28 lines of 5 (47.25 in.) and 29 of 3 (23.25 in.)", 227.0, "2.27"),
    ("Joint tape", "between rows 46.5 ft, ends 3 x 4 + 4 x 2 ft, walls 105 ft", 171.5, "1.72"), // 1.715
    ("Joint compound", "171.5 ft x 5/380 gal", 857.5 / 380.0, "9.03"),                          // 2.256579 x 4 = 9.0263
    ("Control joint", "once across, 46.5 ft being over 30", 6.0, "3.00"),
    ("Frame tees", "1,653.125 in.", 1653.125 / 12.0, "68.88"),
    ("Hang and finish board", "46.5 x 6 ft", 279.0, "279.00"),
];

/// An L: 20 ft along the south, 8 ft deep in the east, 14 ft in the west, the step 12'-4" (148 in.) from the west. Over one
/// strongback at 7 ft, from wall to wall in front of the step. Tees 24 in. o.c.: 6 of 14 ft, to 144 in.; 3 of 8 ft past it.
///
/// Bearing walls: 240, 148 and 92 in.: 40 ft. The others: 168, 96 and 72 in.: 28 ft. 20 x 8 + 12 1/3 x 6 = 234 sf, by area.
pub const L_OVER_STRONGBACK: &[Line] = &[
    ("Span tee", "6 x (168 - 1/8) and 3 x (96 - 1/8) in. = 1,294.875 in.", 1294.875 / 12.0, "53.95"), // 53.953
    ("Tabbed angle", "480 in.", 40.0, "32.00"),
    ("Plain angle", "336 in.", 28.0, "11.20"),
    ("Strongback", "240 in. and one lap of 4 in.", 244.0 / 12.0, "20.33"),
    ("Hanger wire", "5 x 18 in.", 7.5, "0.38"),
    ("Wire anchor", "5", 5.0, "3.00"),
    // 240: 16; 148: 11; 92: 7; 168: 12; 96: 7; 72: 6
    ("Fastenings at walls", "16 in. o.c. on six walls", 59.0, "1.18"),
    ("Framing screws", "1 at the lap", 1.0, "0.02"),
    ("Gypsum board", "234 sf and 5%", 245.7, "98.28"),
    ("Board screws", "234", 234.0, "2.34"),
    ("Joint tape", "234 sf x 0.38", 88.92, "0.89"),
    ("Joint compound", "234 sf x 0.005", 1.17, "4.68"),
    ("Frame tees", "1,294.875 in.", 1294.875 / 12.0, "53.95"),
    ("Hang strongbacks", "20 ft", 20.0, "20.00"),
    ("Hang and finish board", "234 sf", 234.0, "234.00"),
];
