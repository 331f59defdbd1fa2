//! Figures that nobody here made up, through the notation. The source stands beside each.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

#[path = "outside/checks.rs"]
mod checks;
#[path = "outside/hanging.rs"]
mod hanging;
#[path = "outside/loads.rs"]
mod loads;
#[path = "outside/spans.rs"]
mod spans;

use hardlid::engine::examples::{run_examples, value_text, work_out};
use hardlid::notation::read_expression;
use hardlid::problem::render::for_people;
use hardlid::program::{compile, library};
use hardlid::source::Text;

/// Works an expression out under a book's definitions.
fn under(book: &str, expression: &str) -> String {
    let text = Text::new("the expression", expression);
    let expr = read_expression(&text).unwrap_or_else(|p| panic!("{expression}: {}", for_people(&p[0])));
    let (layers, problems) = library::with_layers(&Text::new("the book", book), "the book");
    assert!(problems.is_empty(), "{}", for_people(&problems[0]));
    let (program, _) =
        compile(layers, Some((&text, &expr)), hardlid::natives()).unwrap_or_else(|p| panic!("{}", for_people(&p[0])));
    match work_out(&program) {
        Ok((value, ty, style)) => value_text(&value, ty, &style),
        Err(problem) => problem.what,
    }
}

fn worked(expression: &str) -> String {
    under("use \"hardlid trade\"", expression)
}

/// Each of these holds.
fn hold(equations: &[&str]) {
    for equation in equations {
        assert_eq!(worked(equation), "yes", "{equation}");
    }
}

fn all(checks: &[(&str, &str)]) {
    for (expression, result) in checks {
        assert_eq!(worked(expression), *result, "{expression}");
    }
}

/// Common practice in the trade, no source, through the rows of the built-in ceilings book: 17 ft and 8'-6" runs.
#[test]
fn rooms_of_the_ceilings_book() {
    let book = "use \"hardlid ceilings\"
example \"17 ft\"
    rooms length 30'  width 17'  spaced 16\"
    shows strongbacks = 1  part = 8'-6\"
end
example \"a sixteenth more\"
    rooms length 30'  width 17'-0 1/16\"  spaced 16\"
    shows strongbacks = 2
end
example \"8 ft 6\"
    rooms length 30'  width 8'-6\"
    shows strongbacks = 0  spacing = 16\"  wires = 0
end
example \"a sixteenth more than 8 ft 6\"
    rooms length 30'  width 8'-6 1/16\"
    shows strongbacks = 1
end
example \"24 in. up to 7 ft 6\"
    rooms length 30'  width 7'-6\"
    shows spacing = 24\"
end
";
    let (layers, problems) = library::with_layers(&Text::new("the book", book), "the book");
    assert!(problems.is_empty());
    let (program, _) = compile(layers, None, hardlid::natives()).unwrap();
    let failing = run_examples(&program);
    assert!(failing.is_empty(), "{}", for_people(&failing[0]));
    assert!(program.examples.len() >= 10);
}

/// Dagostino & Peterson, *Estimating in Building Construction*, ch. 16, and p. 199 for studs and track.
#[test]
fn board_and_finish() {
    all(&[
        // for 1,000 sf: 380 lf tape, 5 gal compound, 1,000 screws
        ("joint_tape(1000 sf) = 380'", "yes"),
        ("joint_compound(1000 sf) = 5 gal", "yes"),
        ("board_screws(1000 sf)", "1,000"),
        // Example 16-2: 346 lf × 10 ft, both sides, to the next hundred
        ("346 ft * 10 ft * 2", "6,920 sf"),
        ("round_up(346 ft * 10 ft * 2, to: 100 sf)", "7,000 sf"),
        ("joint_tape(7000 sf) = 2660'", "yes"),
        ("pieces(need: joint_tape(7000 sf) * 110%, stock: 50')", "59"),
        ("joint_compound(7000 sf) = 35 gal", "yes"),
        ("board_screws(7000 sf)", "7,000"),
        // Example 16-3: a ceiling of 24 × 50 ft in sheets of 32 sf, then 5 % waste
        ("pieces(need: 24' * 50', stock: 32 sf)", "38"),
        ("round_up(pieces(need: 24' * 50', stock: 32 sf) * 105%)", "40"),
        ("pieces(need: 1184 sf, stock: 32 sf) + pieces(need: 2384 sf, stock: 32 sf)", "112"),
        ("round_up(112 * 105%)", "118"),
        // sheets for 1,000 sf: 4 x 8 ft 32, 4 x 10 ft 25, 4 x 12 ft 21
        ("pieces(need: 1000 sf, stock: 4' * 8')", "32"),
        ("pieces(need: 1000 sf, stock: 4' * 10')", "25"),
        ("pieces(need: 1000 sf, stock: 4' * 12')", "21"),
        // p. 199: studs + 5 %; track + 8 % in 20 ft
        ("246 + 13 * 3 + 11 * 2 + 4 * 2", "315"),
        ("round_up((246 + 13 * 3 + 11 * 2 + 4 * 2) * 105%)", "331"),
        ("pieces(need: 325'-4\" * 2 * 108%, stock: 20')", "36"),
        ("pieces(need: 20'-8\" * 2 * 108%, stock: 20')", "3"),
        // sheets for 1,000 sf: 4 × 8 ft 32, 4 × 10 ft 25, 4 × 12 ft 21
        ("pieces(need: 1000 sf, stock: 4' * 8')", "32"),
        ("pieces(need: 1000 sf, stock: 4' * 10')", "25"),
        ("pieces(need: 1000 sf, stock: 4' * 12')", "21"),
    ]);
}

/// Public rate analyses and cost guides; the source stands at each line. Their currencies are read as dollars.
#[test]
fn labor_and_mark_ups() {
    all(&[
        // Bangladesh PWD schedule breakup 18.7.3.3: 10 × 10 ft ceiling
        ("10' * 10' * 105% * $560/sf", "$58,800.00"),
        ("50' * 105% * $28/ft", "$1,470.00"),
        ("50' * 105% * $24/ft", "$1,260.00"),
        ("4 * 10' * $23/ft", "$920.00"),
        // public rate analysis (India): ceiling with soffit drops; 58.62 m² after rounding
        ("round_near(5.77 m * 8.40 m + 2 * 7.66 m * 0.40 m + 2 * 5.03 m * 0.40 m, to: 0.01 sqm) = 58.62 sqm", "yes"),
        // lecture on Dagostino ch. 7: 170 h for 10,000 sf
        ("10000 sf * 0.017 hr/sf", "170 hr"),
        // UFC 3-700-02A, Example 5-1: 40 h and 8 h at time and a half
        ("(40 hr + 8 hr * 1.5)", "52 hr"),
        ("round_near((52 / 48 - 1) * 100, to: 0.01)", "8.33"),
        // DPWH analysis 801(1)
        ("55 hr * $76.56/hr", "$4,210.80"),
        ("4 * 55 hr * $42.91/hr", "$9,440.20"),
        ("10% of ($4210.80 + $9440.20)", "$1,365.10"),
        ("round_near(12% of $15016.10, to: $0.01)", "$1,801.93"),
        ("round_near(8% of $15016.10, to: $0.01)", "$1,201.29"),
        ("round_near(5% of ($15016.10 + $1801.93 + $1201.29), to: $0.01)", "$900.97"),
        ("$15016.10 + $1801.93 + $1201.29 + $900.97", "$18,920.29"),
        // PWD 32.17: tax of 7.5 % included in the price
        ("round_near(10% of $267.50, to: $0.01)", "$26.75"),
        ("round_near(3.5% of $267.50, to: $0.01)", "$9.36"),
        ("round_near(($267.50 + $26.75 + $9.36) / (100% - 7.5%), to: $0.01)", "$328.23"),
        // a margin of 20 % is a markup of 25 %
        ("20% / (100% - 20%)", "0.25"),
        // from a PWD breakup: 46.865 is 46.87; to the even cent it would be 46.86
        ("round_near($46.865, to: $0.01)", "$46.87"),
        ("round_even($46.865, to: $0.01)", "$46.86"),
        // round once: 1.347 at one place is 1.3, not 1.4 by way of 1.35
        ("round_near(1.347, to: 0.1)", "1.3"),
        ("round_near(round_near(1.347, to: 0.01), to: 0.1)", "1.4"),
    ]);
}

/// NIST SP 811, appendix B: definitions, all exact.
#[test]
fn definitions_of_units() {
    let same = [
        "1 in = 25.4 mm",
        "1 ft = 0.3048 m",
        "1 yd = 0.9144 m",
        "1 mil = 0.0254 mm",
        "1 sf = 0.09290304 sqm",
        "1 sy = 0.83612736 sqm",
        "1 cf = 28.316846592 L",
        "1 cy = 764.554857984 L",
        "1 gal = 3.785411784 L",
        "1 lb = 4.4482216152605 N",
        "1 kip = 4.4482216152605 kN",
        "1 ton = 2000 lb",
        "1 hr = 60 min",
        "1 kPa = 1 kN / 1 sqm",
        "1 MPa = 1 N / (1 mm * 1 mm)",
        "1 psi = 1 lb / 1 in^2",
        "1 ksi = 1000 psi",
        "1 psf = 1 lb / 1 sf",
        "1 plf = 1 lb / 1 ft",
        "1 pcf = 1 lb / 1 cf",
        "12'-7 3/8\" = 151.375 in",
        "12'-7 3/8\" = 3.844925 m",
        "1/64\" = 0.015625 in",
    ];
    hold(&same);
    // 1 psi is 6,894.757 Pa to seven digits (NIST SP 811, appendix B.8)
    assert_eq!(worked("round_near(1 psi, to: 0.001 Pa) = 6894.757 Pa"), "yes");
}
