//! Weights, limits of load, and the perimeter. The source stands at each test.

use super::{all, hold, worked};

/// ASCE 7-05 C3-1 and 7-16 C3.1-1b, read: gypsum board 0.55 psf for each 1/8 in.; 0.008 kN/m² for each mm.
#[test]
fn board_weights() {
    all(&[
        ("board_weight(thickness: 1/2\", layers: 1) = 2.2 psf", "yes"),
        ("board_weight(thickness: 5/8\", layers: 1) = 2.75 psf", "yes"),
        ("board_weight(thickness: 5/8\", layers: 2) = 5.5 psf", "yes"),
        ("board_weight(thickness: 5/8\", layers: 3) = 8.25 psf", "yes"),
        // the metric figure is the same within its rounding: .008 kPa/mm x 15.875 mm = .127 kPa = 2.65 psf
        ("0.95 <= 0.008 kPa * 15.875 / board_weight(thickness: 5/8\") <= 1.05", "yes"),
        // suspended steel channel 0.10 kN/m² (ASCE 7-16 C3.1-1b, read) is the 2 psf of memory
        ("round_near(0.10 kPa, to: 0.1 psf) = 2.1 psf", "yes"),
        // 2.75 psf at 16 in. o.c. is 3 2/3 plf, at 24 in. 5.5 plf
        ("tee_load(weight: 2.75 psf, spacing: 16\") * 3 = 11 plf", "yes"),
        ("tee_load(weight: 2.75 psf, spacing: 24\") = 5.5 plf", "yes"),
    ]);
    assert!(
        worked("board_weight(thickness: 5/8\", kind: \"cement\")").contains("gypsum_weight has no row for kind cement")
    );
}

/// Insulation handbook, read: ≤ 1.3 psf on 1/2 in. at 24 in. o.c.; ≤ 2.2 psf on 1/2 in. at 16 in. and on 5/8 in.
#[test]
fn insulation_on_the_board() {
    hold(&[
        "insulation_limit(board: 1/2\", spacing: 24\") = 1.3 psf",
        "insulation_limit(board: 1/2\", spacing: 16\") = 2.2 psf",
        "insulation_limit(board: 5/8\", spacing: 16\") = 2.2 psf",
        "insulation_limit(board: 5/8\", spacing: 24\") = 2.2 psf",
        // ASTM C1858-17a, read: dead load of at most 10 psf
        "dead_load_limit(\"gypsum\") = 10 psf",
    ]);
}

/// ASTM C840 and GA-216, from memory, sure: framing across the board 24 in., along it 16 in.; screws 12 in. o.c., 3/8 in.
/// from edges; control joints 30 ft and 900 sf, with relief 50 ft and 2,500 sf.
#[test]
fn board_on_framing() {
    all(&[
        ("board_framing(board: 1/2\")", "2'-0\""),
        ("board_framing(board: 5/8\")", "2'-0\""),
        ("board_framing(board: 5/8\", laid: \"along\")", "1'-4\""),
        // 8 ft less 3/4 in. is 7.94 spaces of 12 in., so 8, 9 screws
        ("line_screws(run: 8', lines: 1)", "9"),
        ("control_joint_every()", "30'-0\""),
        ("control_joint_every(relief: yes)", "50'-0\""),
        ("control_joint_area(relief: no)", "900 sf"),
        ("control_joint_area(relief: yes)", "2,500 sf"),
        ("control_joints(long: 30', wide: 30')", "0\""),
        ("control_joints(long: 30'-1\", wide: 20')", "20'-0\""),
        ("control_joints(long: 50', wide: 50', relief: yes)", "0\""),
    ]);
}

/// Common practice in the trade: tabs 8 in. o.c., the first piece cut 4 in. short; 20 ft of 10 ft stock is 116 in.,
/// 120 in. and 4 in. more.
#[test]
fn pieces_of_tabbed_angle() {
    all(&[
        ("angle_pieces(along: 20', stock: 10')", "3"),
        ("last_angle_piece(along: 20', stock: 10')", "4\""),
        ("116 in + 120 in + 4 in = 20'", "yes"),
        ("angle_stock(along: 20', stock: 10')", "2"),
        // one wall of 116 in. is one piece, one of 236 in. two
        ("angle_pieces(along: 116 in, stock: 10')", "1"),
        ("angle_pieces(along: 236 in, stock: 10')", "2"),
        ("angle_pieces(along: 236.5 in, stock: 10')", "3"),
        // 5 in. past the last tab take a piece of their own from stock
        ("angle_stock(along: 20'-1\", stock: 10')", "3"),
        // 10'-5" of stock has no more whole tabs than 10 ft
        ("usable_angle(10'-5\")", "10'-0\""),
        ("angle_pieces(along: 20', stock: 10'-5\")", "3"),
    ]);
}
