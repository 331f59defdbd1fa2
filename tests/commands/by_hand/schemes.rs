//! One room under each scheme: its lines by hand.

use super::Line;

/// 12 by 7 ft. The run is 7 ft, within 7'-6": tees 24 in. o.c. along 12 ft, 6 spaces, so 5 tees, and nothing above them.
///
/// Board: rows of 48 and 36 in., 12 ft long. A 12 ft sheet covers a row, and one is ripped for the second: 96 sf. Two of
/// 14 ft are 112 sf; of 8, 9 and 10 ft each row takes two, 128 to 160 sf.
pub const WALL_TO_WALL: &[Line] = &[
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
pub const STRONGBACKS: &[Line] = &[
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
pub const TIES: &[Line] = &[
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
pub const HUNG_GRID: &[Line] = &[
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
pub const CHANNEL: &[Line] = &[
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
pub const TIGHT_TO_DECK: &[Line] = &[
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
