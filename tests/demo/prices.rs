//! The price book of an invented yard. Costs, hours and wages are made up; only their units are as yards sell.

use super::sheets::{Blank, Cell, Day, Dollars, FIRST, Number, Percent, Text, book, row, titled};

/// Code, item, sold by, pack, stock length, cost, from, through, weight, note.
const PRICES: &[[Cell; 10]] = &[
    // last year's price of the tee stays in the book; the row in force on the pricing date serves
    [
        Text("ST"),
        Text("Span tee, 18 mil, 12 ft"),
        Text("ea"),
        Blank,
        Text("12'"),
        Dollars(6.24),
        Blank,
        Day(2024, 12, 31),
        Text("4.1 lb"),
        Text("old price"),
    ],
    [
        Text("ST"),
        Text("Span tee, 18 mil, 12 ft"),
        Text("ea"),
        Blank,
        Text("12'"),
        Dollars(6.60),
        Day(2025, 1, 1),
        Blank,
        Text("4.1 lb"),
        Blank,
    ],
    // a shorter length on offer: a dearer foot, which the cutting plan takes where it wastes less
    [
        Text("ST"),
        Text("Span tee, 18 mil, 10 ft"),
        Text("ea"),
        Blank,
        Text("10'"),
        Dollars(5.60),
        Day(2025, 1, 1),
        Blank,
        Text("3.4 lb"),
        Blank,
    ],
    [
        Text("TA"),
        Text("Tabbed angle 1-1/4 in., tabs 8 in. o.c., 10 ft"),
        Text("ea"),
        Blank,
        Text("10'"),
        Dollars(5.90),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("PA"),
        Text("Plain angle 1-1/4 in., 10 ft"),
        Text("CLF"),
        Blank,
        Text("10'"),
        Dollars(38.50),
        Blank,
        Blank,
        Blank,
        Text("by the hundred feet"),
    ],
    [
        Text("SB"),
        Text("Strongback, 1-1/2 in. channel, 16 ft"),
        Text("MLF"),
        Blank,
        Text("16'"),
        Dollars(512.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("MT"),
        Text("Main tee of a hung grid, 12 ft"),
        Text("ea"),
        Blank,
        Text("12'"),
        Dollars(9.40),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [Text("CT"), Text("Cross tee, 4 ft"), Text("ea"), Blank, Text("4'"), Dollars(2.60), Blank, Blank, Blank, Blank],
    [
        Text("TM"),
        Text("Tabbed main, 12 ft"),
        Text("ea"),
        Blank,
        Text("12'"),
        Dollars(11.80),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [Text("DC"), Text("Deck clip"), Text("C"), Blank, Blank, Dollars(58.0), Blank, Blank, Blank, Blank],
    [
        Text("CR"),
        Text("Cold-rolled channel 1-1/2 in., 16 ft"),
        Text("MLF"),
        Blank,
        Text("16'"),
        Dollars(640.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("FC"),
        Text("Furring channel, 12 ft"),
        Text("MLF"),
        Blank,
        Text("12'"),
        Dollars(310.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [Text("FT"), Text("Furring ties"), Text("M"), Blank, Blank, Dollars(46.0), Blank, Blank, Blank, Blank],
    [
        Text("HW-12"),
        Text("Hanger wire, 12 ga wire"),
        Text("coil"),
        Text("500 ft"),
        Blank,
        Dollars(24.50),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("WA"),
        Text("Wire anchor with pin"),
        Text("C"),
        Text("100 ea"),
        Blank,
        Dollars(58.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("SF"),
        Text("Framing screw, sharp point, 7/16 in."),
        Text("M"),
        Text("1,000 ea"),
        Blank,
        Dollars(14.80),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("GB-58"),
        Text("Gypsum board 5/8 in., 4 x 12 ft"),
        Text("MSF"),
        Text("4' x 12'"),
        Blank,
        Dollars(412.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("GB-12"),
        Text("Gypsum board 1/2 in., 4 x 12 ft"),
        Text("MSF"),
        Text("4' x 12'"),
        Blank,
        Dollars(355.0),
        Blank,
        Blank,
        Blank,
        Text("not used on this job"),
    ],
    [
        Text("SB-114"),
        Text("Board screw 1-1/4 in."),
        Text("carton"),
        Text("5000 ea"),
        Blank,
        Dollars(62.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("JT"),
        Text("Joint tape, paper"),
        Text("roll"),
        Text("500 ft"),
        Blank,
        Dollars(4.25),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("JC"),
        Text("Joint compound, ready mixed"),
        Text("pail"),
        Text("4.5 gal"),
        Blank,
        Dollars(17.10),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [Text("CB"), Text("Corner bead, 10 ft"), Text("ea"), Blank, Text("10'"), Dollars(2.35), Blank, Blank, Blank, Blank],
    [
        Text("PN"),
        Text("Powder-driven pin, 3/4 in."),
        Text("C"),
        Text("100 ea"),
        Blank,
        Dollars(21.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("GB-58X"),
        Text("Gypsum board 5/8 in., fire-rated, 4 x 12 ft"),
        Text("MSF"),
        Text("4' x 12'"),
        Blank,
        Dollars(438.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("GB-58M"),
        Text("Gypsum board 5/8 in., moisture-resistant, 4 x 12 ft"),
        Text("MSF"),
        Text("4' x 12'"),
        Blank,
        Dollars(505.0),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("CJ"),
        Text("Control joint, 10 ft"),
        Text("ea"),
        Blank,
        Text("10'"),
        Dollars(3.85),
        Blank,
        Blank,
        Blank,
        Blank,
    ],
    [
        Text("FC-78"),
        Text("Furring channel 7/8 in., 12 ft"),
        Text("ea"),
        Blank,
        Text("12'"),
        Dollars(5.04),
        Blank,
        Blank,
        Blank,
        Text("not used on this job"),
    ],
];

/// Code, work, hours for one unit, unit, crew, height from which the rate holds.
const LABOR: &[[Cell; 6]] = &[
    [Text("L-TEE"), Text("Frame tees"), Number(0.011), Text("ft"), Text("Framers"), Blank],
    [Text("L-TEE"), Text("Frame tees"), Number(0.0135), Text("ft"), Text("Framers"), Text("10'")],
    [Text("L-SB"), Text("Hang strongbacks and wires"), Number(0.02), Text("ft"), Text("Framers"), Blank],
    [Text("L-TIE"), Text("Tie a tee to structure"), Number(0.12), Text("ea"), Text("Framers"), Blank],
    [Text("L-GRID"), Text("Hang main and cross tees"), Number(0.03), Text("sf"), Text("Framers"), Blank],
    [Text("L-CHN"), Text("Hang channel and furring"), Number(0.036), Text("sf"), Text("Framers"), Blank],
    [Text("L-DECK"), Text("Clip tabbed mains to the deck"), Number(0.045), Text("ft"), Text("Framers"), Blank],
    [Text("L-OPN"), Text("Frame an opening"), Number(0.45), Text("ea"), Text("Framers"), Blank],
    [Text("L-SOF"), Text("Frame soffit"), Number(0.16), Text("ft"), Text("Soffit framers"), Blank],
    [Text("L-BRD"), Text("Hang and finish board"), Number(0.017), Text("sf"), Text("Board crew"), Blank],
    [Text("L-TWR"), Text("Move the rolling tower"), Number(0.25), Text("ea"), Text("Framers"), Blank],
    [Text("L-BRD"), Text("Hang and finish board"), Number(0.021), Text("sf"), Text("Board crew"), Text("10'")],
];

/// What a code is a kind of.
fn group(code: &Cell) -> &'static str {
    match code {
        Text("GB-58" | "GB-12" | "GB-58X" | "GB-58M") => "board",
        Text("SF" | "SB-114" | "PN" | "WA" | "FT" | "DC") => "fasteners",
        Text("JT" | "JC" | "CB" | "CJ") => "finishing",
        _ => "steel",
    }
}

/// The price book.
pub fn workbook() -> Vec<u8> {
    let mut book = book("Price list of an invented yard");
    let prices = book.add_worksheet().set_name("Prices").unwrap();
    titled(
        prices,
        "Fernhollow Yard (invented) \u{2013} contractor price list",
        "Invented prices. Delivered to the job, unloaded at the curb.",
        &[9.0, 42.0, 9.0, 11.0, 9.0, 11.0, 11.0, 11.0, 9.0, 22.0, 11.0],
        &["Code", "Item", "Sold by", "Pack", "Stock length", "Cost", "From", "Through", "Weight", "Note", "Group"],
    );
    for (at, cells) in PRICES.iter().enumerate() {
        let group = Text(group(&cells[0]));
        row(prices, FIRST + u32::try_from(at).unwrap(), &[cells.as_slice(), &[group]].concat());
    }
    let labor = book.add_worksheet().set_name("Labor").unwrap();
    titled(
        labor,
        "Production rates (invented)",
        "Hours of one worker for one unit; of two rows of a code the ceiling height decides.",
        &[9.0, 30.0, 12.0, 8.0, 14.0, 12.0],
        &["Code", "Work", "Hours per unit", "Unit", "Crew", "Height from"],
    );
    for (at, cells) in LABOR.iter().enumerate() {
        row(labor, FIRST + u32::try_from(at).unwrap(), cells);
    }
    let crews = book.add_worksheet().set_name("Crews").unwrap();
    titled(
        crews,
        "Crews (invented)",
        "Dollars an hour; hours of a week beyond 40 are paid one and a half times.",
        &[16.0, 11.0, 9.0, 12.0],
        &["Crew", "Wage", "Burden", "Hours a week"],
    );
    row(crews, FIRST, &[Text("Framers"), Dollars(38.50), Percent(0.42), Blank]);
    row(crews, FIRST + 1, &[Text("Board crew"), Dollars(36.0), Percent(0.40), Blank]);
    row(crews, FIRST + 2, &[Text("Soffit framers"), Dollars(38.50), Percent(0.42), Number(48.0)]);
    let job = book.add_worksheet().set_name("Job").unwrap();
    job.set_column_width(0, 18).unwrap();
    for (at, (name, value)) in [
        ("Sales tax", Percent(0.07)),
        ("Freight", Percent(0.02)),
        ("Contingency", Percent(0.0)),
        ("Overhead", Percent(0.10)),
        ("Profit (markup)", Percent(0.08)),
        ("Bond", Percent(0.0)),
        ("Sheet lengths", Text("12'")),
    ]
    .into_iter()
    .enumerate()
    {
        row(job, u32::try_from(at).unwrap(), &[Text(name), value]);
    }
    book.save_to_buffer().unwrap()
}
