//! Plans of rooms: to scale, whole, legible, the same each time. Places are worked out by hand beside each test.
#![allow(clippy::unwrap_used, clippy::float_arithmetic, reason = "a test that cannot go on fails; paper has fractions")]

use hardlid::ceiling::layout::{BoardRule, ChannelRule, Framing, Layout, Opening, Scheme, Stock, lay_board, lay_out};
use hardlid::ceiling::shape::{Corner, Jog, Place, Point, Room, Side, Ticks, Way};
use hardlid::drawing::dims::chains;
use hardlid::drawing::scale::{HEIGHT, Sheet, WIDTH};
use hardlid::drawing::shapes::{Drawing, LEAST_HEIGHT, Shape};
use hardlid::drawing::{CAUTION, Facts, PlanOf, PlanRoom, draw, plan, plan_png, plans_to_files};
use hardlid::quantity::Date;

fn ft(n: i64) -> Ticks {
    Ticks::feet(n)
}

fn facts(room: &str) -> Facts<'_> {
    Facts {
        room,
        job: "East wing rooms.xlsx",
        scheme: "One strongback",
        tees: "tees",
        spacing: Some(ft(2)),
        tab_pitch: Ticks::inches(8),
        joints: &[],
        as_of: Some(Date::constant(2026, 11, 1)),
    }
}

fn rectangle(east: i64, north: i64) -> Room {
    Room::rectangle(ft(east), ft(north)).unwrap()
}

fn one_strongback() -> Framing {
    Framing { scheme: Scheme::Strongbacks { lines: 1 }, ..Framing::default() }
}

fn fourteen_by_twenty() -> (Room, Layout) {
    let room = rectangle(20, 14);
    let layout = lay_out(&room, &one_strongback(), &[]).unwrap();
    (room, layout)
}

/// A room with a corner cut away and a free column.
fn with_jogs() -> (Room, Layout) {
    let of = |place, off, width, depth| Jog { name: "jog".to_owned(), place, off, width, depth, way: Way::In };
    let foot_and_half = Ticks::inches(18);
    let jogs = [
        of(Place::Corner(Corner::NorthEast), Ticks::ZERO, ft(6), ft(5)),
        of(Place::Wall(Side::South, ft(9)), ft(4), foot_and_half, foot_and_half),
    ];
    let room = rectangle(20, 14).with_jogs(&jogs).unwrap();
    let layout = lay_out(&room, &one_strongback(), &[]).unwrap();
    (room, layout)
}

/// Every sort of room and scheme that the tests draw.
fn gallery() -> Vec<(&'static str, Room, Layout)> {
    let of = |name, room: Room, framing: &Framing, openings: &[Opening]| {
        let layout = lay_out(&room, framing, openings).unwrap();
        (name, room, layout)
    };
    let opening = |name: &str, long, wide, at: Option<(i64, i64)>, count| Opening {
        name: name.to_owned(),
        long,
        wide,
        count,
        at: at.map(|(x, y)| Point::new(ft(x), ft(y))),
        heavy: false,
    };
    let lights = [
        opening("light 1", ft(4), ft(2), Some((3, 3)), 1),
        opening("light 2", ft(4), ft(2), Some((12, 3)), 1),
        opening("diffuser", ft(2), ft(2), Some((9, 9)), 1),
        opening("access door", ft(2), ft(2), None, 3),
    ];
    let hung = Framing { scheme: Scheme::HungGrid { mains_every: ft(4) }, ..Framing::default() };
    let channel =
        Framing { scheme: Scheme::Channel(ChannelRule::default()), spacing: Ticks::inches(16), ..Framing::default() };
    let deck = Framing { scheme: Scheme::TightToDeck { mains: 1, clip_every: ft(4) }, ..Framing::default() };
    let ties = Framing { scheme: Scheme::MidSpanTies { each: 1 }, ..Framing::default() };
    let spliced = Framing { stock: Stock { tee: Some(ft(12)), ..Stock::default() }, ..one_strongback() };
    let (jogged, jogged_layout) = with_jogs();
    vec![
        of("closet", rectangle(4, 3), &Framing::default(), &[]),
        of("ordinary", rectangle(20, 14), &one_strongback(), &[]),
        of("corridor", rectangle(80, 6), &Framing { spacing: Ticks::inches(16), ..Framing::default() }, &[]),
        of("tall", rectangle(6, 80), &Framing::default(), &[]),
        ("jogs", jogged, jogged_layout),
        of("hung", rectangle(20, 14), &hung, &[]),
        of("channel", rectangle(36, 24), &channel, &[]),
        of("deck", rectangle(14, 20), &deck, &[]),
        of("ties", rectangle(20, 14), &ties, &[]),
        of("spliced", rectangle(20, 14), &spliced, &[]),
        of("openings", rectangle(20, 14), &one_strongback(), &lights),
        of("hall", rectangle(300, 200), &hung, &[]),
    ]
}

fn shapes<'d>(drawing: &'d Drawing, class: &str) -> Vec<&'d Shape> {
    drawing.shapes.iter().filter(|s| s.class == class).collect()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.01
}

#[test]
fn a_room_is_drawn_to_scale() {
    let (room, layout) = fourteen_by_twenty();
    let sheet = Sheet::new(&room);
    // 20 × 14 ft at 1/4 in. to the foot is 5 × 3-1/2 in.: 360 × 252 points; at 3/8 in., 540 points, it would not fit
    assert_eq!(sheet.scale.name, "1/4\" = 1'-0\"");
    assert!(close(sheet.extent.width(), 360.0) && close(sheet.extent.height(), 252.0));
    let drawing = draw(&room, &layout, &facts("104"));
    let (x0, y1) = (sheet.extent.x0, sheet.extent.y1);
    // 9 tees at 2, 4, … 18 ft, 18 points to the foot, from wall to wall
    let tees = shapes(&drawing, "tee");
    assert_eq!(tees.len(), 9);
    for (i, tee) in (1..).zip(&tees) {
        let [from, to] = [tee.lines[0][0], tee.lines[0][1]];
        assert!(tee.lines.len() == 1 && close(from.x, x0 + 36.0 * f64::from(i)) && close(to.x, from.x));
        assert!(close(from.y, y1) && close(to.y, y1 - 252.0));
    }
    // the strongback at 7 ft, 126 points up
    let strongbacks = shapes(&drawing, "strongback");
    assert_eq!(strongbacks.len(), 1);
    let middle: f64 = strongbacks[0].lines[0].iter().map(|p| p.y).sum::<f64>() / 4.0;
    assert!(close(middle, y1 - 126.0));
    // wires at 2, 6, 10, 14, 18 ft along it; a wire's first corner is its right one, the seventh its left one
    let wires = shapes(&drawing, "wire");
    let places: Vec<f64> = wires.iter().map(|w| (w.lines[0][0].x + w.lines[0][6].x) / 2.0 - x0).collect();
    assert_eq!(places.len(), 5);
    assert!(places.iter().zip([36.0, 108.0, 180.0, 252.0, 324.0]).all(|(a, b)| close(*a, b)));
    // tabs at 8, 16, … 232 in. on each 20 ft wall: 29 of them, 12 points apart
    let tabs: Vec<f64> = shapes(&drawing, "tab").iter().flat_map(|s| &s.lines).map(|l| l[0].x - x0).collect();
    assert_eq!(tabs.len(), 58);
    assert!(tabs.iter().all(|x| close(x % 12.0, 0.0) || close(x % 12.0, 12.0)));
    // a 20 ft wall has three pieces, a 14 ft wall two
    assert_eq!(shapes(&drawing, "tabbed-angle").len(), 4);
    assert_eq!(shapes(&drawing, "closing-angle").len(), 2);
    assert_eq!(shapes(&drawing, "plain-angle").len(), 4);
}

#[test]
fn the_file_holds_each_member_once() {
    let (room, layout) = fourteen_by_twenty();
    let text = plan(&room, &layout, &facts("104"));
    let count = |class: &str| text.matches(&format!("class=\"{class}\"")).count();
    assert_eq!((count("tee"), count("strongback"), count("wire"), count("wall")), (9, 1, 5, 1));
    assert!(text.contains("viewBox=\"-54 -81 792 612\"") && text.contains("width=\"11in\""));
    // letters are strokes: there is nothing that a viewer would letter in a font of its own
    assert!(!text.contains("<text") && !text.contains("font"));
}

#[test]
fn dimensions_say_how_it_is_built() {
    let (room, layout) = fourteen_by_twenty();
    let drawing = draw(&room, &layout, &facts("104"));
    let says = |text: &str| drawing.labels.iter().any(|l| l.text == text);
    // ten spaces of 24 in.; wires 24 in., four times 48 in., 24 in.; the strongback halves 14 ft
    for text in
        ["10 @ 24\" o.c. = 20'-0\"", "4 @ 4'-0\" o.c. = 16'-0\"", "2 @ 7'-0\" o.c. = 14'-0\"", "20'-0\"", "14'-0\""]
    {
        assert!(says(text), "{text}");
    }
    for text in ["104", "Tees", "Wires", "Strongback", "9 tees", "5 wires", "Priced as of 11/1/2026", CAUTION] {
        assert!(says(text), "{text}");
    }
    assert!(says("Scale 1/4\" = 1'-0\" on letter paper"));
    assert!(!drawing.labels.iter().any(|l| l.text.contains("column")), "the legend shows what does not occur");
    assert_eq!(chains(&room, &layout).len(), 5);
}

#[test]
fn nothing_overlaps_or_leaves_the_sheet() {
    for (name, room, layout) in gallery() {
        let drawing = draw(&room, &layout, &facts("Room with a name of some length, level 2"));
        let labels = &drawing.labels;
        for (i, a) in labels.iter().enumerate() {
            let r = a.area;
            assert!(a.height >= LEAST_HEIGHT, "{name}: {} is too small", a.text);
            assert!(r.x0 >= -0.01 && r.y0 >= -0.01 && r.x1 <= WIDTH && r.y1 <= HEIGHT, "{name}: {} leaves", a.text);
            if let Some(b) = labels[i + 1..].iter().find(|b| b.area.meets(&r)) {
                panic!("{name}: \"{}\" and \"{}\" overlap", a.text, b.text);
            }
        }
        for shape in &drawing.shapes {
            let out = shape
                .lines
                .iter()
                .flatten()
                .find(|p| !(-1.0..=WIDTH + 1.0).contains(&p.x) || !(-1.0..=HEIGHT + 1.0).contains(&p.y));
            assert!(out.is_none(), "{name}: {} at {out:?}", shape.class);
        }
    }
}

#[test]
fn a_jog_and_a_column_are_drawn() {
    let (room, layout) = with_jogs();
    let drawing = draw(&room, &layout, &facts("L"));
    let column = shapes(&drawing, "column");
    // 18 in. at 1/4 in. to the foot are 27 points
    let xs: Vec<f64> = column[0].lines[0].iter().map(|p| p.x).collect();
    let (low, high) = (xs.iter().copied().fold(f64::MAX, f64::min), xs.iter().copied().fold(f64::MIN, f64::max));
    assert!(column.len() == 1 && close(high - low, 27.0));
    assert!(shapes(&drawing, "hatching")[0].lines.len() > 5);
    assert_eq!(shapes(&drawing, "wall")[0].lines[0].len(), 6);
    let says = |text: &str| drawing.labels.iter().any(|l| l.text.contains(text));
    assert!(says("Walls") && says("1 column") && says("return face"));
    let tees = layout.members.iter().filter(|m| m.kind == hardlid::ceiling::layout::Kind::Tee).count();
    assert_eq!(shapes(&drawing, "tee").len(), tees);
}

#[test]
fn an_opening_cuts_what_it_cuts() {
    let (_, room, layout) = gallery().into_iter().find(|g| g.0 == "openings").unwrap();
    let drawing = draw(&room, &layout, &facts("O"));
    // the one in the legend is a sample
    assert_eq!(shapes(&drawing, "opening").len(), 3);
    let parts: usize = shapes(&drawing, "tee").iter().map(|t| t.lines.len()).sum();
    let cut: usize = layout.openings.iter().map(|o| o.cut.len()).sum();
    assert!(cut > 0);
    assert_eq!(parts, 9 + cut, "each cut leaves one part more");
}

#[test]
fn openings_are_dimensioned_from_the_walls() {
    let (_, room, layout) = gallery().into_iter().find(|g| g.0 == "openings").unwrap();
    let of = |side| {
        let chain = chains(&room, &layout).into_iter().find(|c| c.word == "Openings" && c.side == side).unwrap();
        chain.stops
    };
    // lights of 4 by 2 ft with their corners 3 and 12 ft east and 3 ft north, a diffuser of 2 by 2 ft 9 and 9 ft off
    assert_eq!(of(Side::South), [0, 3, 7, 9, 11, 12, 16, 20].map(ft));
    assert_eq!(of(Side::West), [0, 3, 5, 9, 11, 14].map(ft));
    let drawing = draw(&room, &layout, &facts("O"));
    assert_eq!(drawing.labels.iter().filter(|l| l.text == "Openings").count(), 2);
}

#[test]
fn the_same_room_gives_the_same_bytes() {
    let (room, layout) = fourteen_by_twenty();
    assert_eq!(plan(&room, &layout, &facts("104")), plan(&room, &layout, &facts("104")));
    let png = plan_png(&room, &layout, &facts("104")).unwrap();
    assert_eq!(Some(&png), plan_png(&room, &layout, &facts("104")).as_ref());
    // the header of a PNG file: 9-1/2 × 6-1/4 in. at 144 dots are 1,368 × 900; four bits of grey
    assert_eq!(png[16..26], [0, 0, 5, 88, 0, 0, 3, 132, 4, 0]);
    assert!(png.len() < 60_000, "{} bytes", png.len());
}

#[test]
fn hostile_names_stay_texts() {
    let (room, layout) = fourteen_by_twenty();
    let long = "W".repeat(300);
    for name in ["</title><script>&\"'", "../../x\\y", "\u{1}\u{0}\t", "", &long, "Ñandú 10½″ — “A”", "部屋"]
    {
        let text = plan(&room, &layout, &facts(name));
        assert!(!text.contains("<script") && !text.contains('\u{1}'), "{name}");
        let drawing = draw(&room, &layout, &facts(name));
        assert!(drawing.labels.iter().all(|l| l.area.x1 <= WIDTH), "{name}");
    }
    let of = |name: &str| PlanOf {
        rooms: vec![PlanRoom { name: name.to_owned(), row: None }],
        room: &room,
        layout: &layout,
        facts: facts("x"),
    };
    let plans = [of("../a"), of("a"), of("A"), of(&long)];
    let files: Vec<(String, String)> = plans_to_files(&plans).collect();
    let names: Vec<&str> = files.iter().map(|f| f.0.as_str()).collect();
    assert_eq!(names[..3], ["a.svg", "a-2.svg", "A-3.svg"]);
    assert!(files.iter().all(|f| f.0.len() < 80 && f.1.starts_with("<svg")));
}

/// Writes the gallery where `HARDLID_GALLERY` says, to look at.
#[test]
#[ignore = "writes pictures to look at"]
fn pictures() {
    let Some(folder) = option_env!("HARDLID_GALLERY") else { return };
    for (name, room, layout) in gallery() {
        let facts = facts("104 Nurse station");
        #[allow(clippy::disallowed_methods, reason = "a tool for people")]
        {
            let png = plan_png(&room, &layout, &facts).unwrap();
            std::fs::write(format!("{folder}/{name}.png"), png).unwrap();
            std::fs::write(format!("{folder}/{name}.svg"), plan(&room, &layout, &facts)).unwrap();
        }
    }
}

#[test]
fn control_joints_are_drawn_named_and_told() {
    // 40 x 20 ft: two fields of 20 ft along, none across (30 ft, ASTM C840 / GA-216, from memory): one joint at 20 ft
    let room = rectangle(40, 20);
    let layout = lay_out(&room, &one_strongback(), &[]).unwrap();
    let board = lay_board(&room, &one_strongback(), &BoardRule::default()).unwrap();
    assert_eq!(board.control_joints, [[Point::new(ft(20), ft(0)), Point::new(ft(20), ft(20))]]);
    let facts = Facts { joints: &board.control_joints, ..facts("104") };
    let drawing = draw(&room, &layout, &facts);
    let (sheet, joints) = (Sheet::new(&room), shapes(&drawing, "control-joint"));
    let [from, to] = [joints[0].lines[0][0], joints[0].lines[0][1]];
    let middle = f64::midpoint(sheet.extent.x0, sheet.extent.x1);
    assert!(joints.len() == 1 && close(from.x, middle) && close(to.x, middle));
    assert!(close((from.y - to.y).abs(), sheet.extent.height()));
    let says = |text: &str| drawing.labels.iter().any(|l| l.text.contains(text));
    assert!(says("CJ") && says("1 control joint (CJ)"));
    // by 40 x 20 ft beside the legend the words wrap: told whole or in parts
    assert!(says("Control joints north and south"));
    assert!(drawing.description.contains(", 1 control joint."), "{}", drawing.description);
    assert_eq!(shapes(&draw(&room, &layout, &Facts { joints: &[], ..facts }), "control-joint"), [] as [&Shape; 0]);
}
