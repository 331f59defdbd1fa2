//! Hanging: wires, channel, clips. UFGS 09200A, CBC Standard 25-2 (1998) as quoted, and common practice of the trade.

use super::{all, hold, worked};

/// Common practice in the trade, no source: 14 × 20 ft room; 17 ft and 8'-6" runs at 16 in. o.c.
#[test]
fn support_in_the_middle() {
    all(&[
        // one strongback, tees 24 in. o.c., free ends: wires at 2, 6, 10, 14, 18 ft
        ("hanger_count(along: 20', every: wire_spacing(sdc: \"B\"), first: 24\", last: 24\")", "5"),
        ("hanger_count(along: 20', every: 4')", "4"),
        ("hanger_count(along: 20', every: 4', first: 16\", last: 20' - 14 * 16\")", "6"),
        ("hanger_count(along: 20', every: wire_spacing(sdc: \"D\"), first: 24\", last: 24\")", "7"),
        // 19 ft, tees 24 in., SDC D, both ends free: the last tee is 1 ft from the wall
        ("hanger_count(along: 19', every: 3', first: 24\", last: 1')", "7"),
        // hung grid, mains 4 ft o.c.: 3 mains of 5 wires
        ("grid_mains(across: 14') * grid_wires(along: 20')", "15"),
        ("support_lines(run: 17', limit: tested_span(spacing: 16\"))", "1"),
        ("support_lines(run: 17'-0 1/16\", limit: tested_span(spacing: 16\"))", "2"),
        ("support_lines(run: 8'-6\", limit: tested_span(spacing: 16\"))", "0"),
        ("support_lines(run: 8'-6 1/16\", limit: tested_span(spacing: 16\"))", "1"),
        ("tested_span(spacing: 16\")", "8'-6\""),
        ("tested_span(spacing: 24\")", "7'-6\""),
        // one wire a tee where each is tied at mid-span
        ("tie_count(tees: tee_count(along: 20', spacing: 24\"), run: 14', limit: 8'-6\")", "9"),
    ]);
    assert_eq!(
        worked("tested_span(spacing: 16\", layers: 2)"),
        "The table tested_span has no row for spacing 16\", board 5/8\", layers 2."
    );
}

/// Steel wire gauge, read: 8 ga .1620, 9 .1483, 10 .1350, 12 .1055, 16 .0625, 18 .0475 in.; codes print 12 as 0.106.
#[test]
fn wire_diameters() {
    for (gauge, inches) in
        [(8, "0.1620"), (9, "0.1483"), (10, "0.1350"), (12, "0.1055"), (16, "0.0625"), (18, "0.0475")]
    {
        hold(&[&format!("wire_diameter(gauge: {gauge} ga wire) = {inches} in")]);
    }
    hold(&["round_near(wire_diameter(12 ga wire), to: 0.001 in) = 0.106 in"]);
}

/// SSMA, read: 18 mil = 25 ga .0188 design, 30 mil .0312, 33 mil .0346, 43 = 18 ga .0451, 54 = 16 ga .0566, 97 = 12 ga
/// .1017. 12 gauge is .1055 in. as wire and .1017 in. as sheet: one is not taken for the other.
#[test]
fn sheet_thicknesses() {
    for (gauge, inches) in [
        ("25 ga sheet", "0.0188"),
        ("18 mil", "0.0188"),
        ("30 mil", "0.0312"),
        ("33 mil", "0.0346"),
        ("43 mil", "0.0451"),
        ("18 ga sheet", "0.0451"),
        ("54 mil", "0.0566"),
        ("16 ga sheet", "0.0566"),
        ("97 mil", "0.1017"),
        ("12 ga sheet", "0.1017"),
    ] {
        hold(&[&format!("sheet_thickness(gauge: {gauge}) = {inches} in")]);
    }
    assert!(worked("sheet_thickness(gauge: 12 ga wire)").contains("sheet_thickness has no row for gauge"));
    assert!(worked("wire_diameter(gauge: 12 ga sheet)").contains("wire_diameter has no row for gauge"));
    // minimum thickness is 95 % of design: 18 mil of .0188 in. is .01786
    hold(&["least_thickness(sheet_thickness(25 ga sheet)) = 0.01786 in"]);
}

/// A bare gauge number is refused, in wire and in sheet.
#[test]
fn a_bare_gauge_is_refused() {
    for expression in ["wire_diameter(gauge: 12 ga)", "sheet_thickness(gauge: 25 ga)"] {
        let text = hardlid::source::Text::new("the expression", expression);
        let refused = hardlid::notation::read_expression(&text).unwrap_err();
        assert!(refused[0].what.contains(".1055 in. as wire and .1017 in. as sheet"), "{expression}");
    }
    // and a plain number is no gauge
    let text = hardlid::source::Text::new("the expression", "wire_diameter(gauge: 12)");
    let expr = hardlid::notation::read_expression(&text).unwrap();
    let (layers, _) = hardlid::program::library::built_in("hardlid trade");
    let refused = hardlid::program::compile(layers, Some((&text, &expr)), hardlid::natives()).unwrap_err();
    assert!(refused[0].what.contains("a length is needed"), "{}", refused[0].what);
}

/// UFGS 09200A, read: hangers ≤ 48 × 36 in. or 42 × 42 in., ≤ 6 in. from a runner's end, first runner ≤ 6 in. from the
/// wall. Reckoned for 24 × 36 ft, runners along 36 ft: 9 × 10 = 90 hangers of 9.6 sf; by 42 × 42 in. 8 × 11 = 88.
#[test]
fn channel_layout() {
    all(&[
        ("channel_runners(24')", "9"),
        ("channel_hangers(36')", "10"),
        ("channel_runners(24') * channel_hangers(36')", "90"),
        ("24' * 36' / 90 = 9.6 sf", "yes"),
        ("channel_runners(across: 24', apart: 42\")", "8"),
        ("channel_hangers(along: 36', every: 42\")", "11"),
        ("channel_runners(across: 24', apart: 42\") * channel_hangers(along: 36', every: 42\")", "88"),
        // laps: 12 in. for 1-1/2 in. channel, 8 in. for 3/4 in.
        ("channel_lap(channel: 1-1/2\")", "1'-0\""),
        ("channel_lap(channel: 3/4\")", "8\""),
        // 36 ft of 16 ft channel lapped 12 in.: 16 + 15 + 5 ft
        ("lap_pieces(run: 36', stock: 16', lap: channel_lap(channel: 1-1/2\"))", "3"),
        // first and last furring ≤ 2 in. from parallel walls: (432 - 4) / 24 is 17.8, 18 spaces; 1/2 in. gap at each end
        ("furring_lines(along: 36', spacing: 24\")", "19"),
        ("furring_length(24')", "23'-11\""),
        // a tie at each crossing, two at each splice: 9 x 19 and 9 x 2 splices
        ("crossing_ties(runners: 9, lines: 19, splices: 18)", "207"),
    ]);
}

/// SSMA Product Technical Guide 2022, read: spans of 087F125-18 at 24 in. o.c. under 4, 6 and 13 psf, single and multiple. Over
/// the published span furring carries the load, 8, 12 and 26 plf, and over an inch more it does not. By hand for 4 psf, in
/// lb/in.: multiple, 253,700 / (1.656 x 61^3) = .675, 8.1 plf, and 62 in. .643, 7.7; single, 81,184 / 49^3 = .690, 8.3, and 50
/// in. .649, 7.8.
#[test]
fn furring_from_runner_to_runner() {
    for (runners, spans) in [("9", [61, 50, 34]), ("2", [49, 43, 33])] {
        for (load, span) in ["8 plf", "12 plf", "26 plf"].into_iter().zip(spans) {
            let carries = |span: i32| format!("furring_load(span: {span}\", runners: {runners}) >= {load}");
            all(&[(&carries(span), "yes"), (&carries(span + 1), "no")]);
        }
    }
}

/// CBC Standard 25-2 (1998) as quoted, read: at most 1 in 6 out of plumb; × √(1 + 1/36) = 1.0138. Connection 100 lb.
#[test]
fn wires() {
    all(&[
        ("round_near(splayed(10') / 10', to: 0.0001)", "1.0138"),
        ("splayed(drop: 3', off: 4 / 3) = 5'", "yes"),
        ("hanger_capacity()", "100 lb"),
        ("hanger_capacity(deck: \"wood\")", "100 lb"),
        // a continuous tee loads a middle support with 10/8 of its share; parts of 8'-6", 4 ft o.c., board alone: 117 lb
        ("round_near(wire_load(weight: board_weight(thickness: 5/8\"), part: 8'-6\", every: 4'), to: 1 lb)", "117 lb"),
        ("wire_load(weight: 2.75 psf, part: 8'-6\", every: 4') <= hanger_capacity()", "no"),
        // 4 ft x 100 / 116.875 = 3.42 ft, down to half feet
        ("closed_spacing(every: 4', weight: 2.75 psf, part: 8'-6\", capacity: hanger_capacity())", "3'-0\""),
    ]);
}
