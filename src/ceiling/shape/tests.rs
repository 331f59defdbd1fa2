//! Shapes of rooms, and what is said of those that have none.

use super::*;
use crate::quantity::Ratio;

fn ft(n: i64) -> Ticks {
    Ticks::feet(n)
}

fn at(x: i64, y: i64) -> Point {
    Point::new(ft(x), ft(y))
}

fn jog(name: &str, place: Place, width: i64, depth: i64, way: Way) -> Jog {
    Jog { name: name.to_owned(), place, off: Ticks::ZERO, width: ft(width), depth: ft(depth), way }
}

fn sf(room: &Room) -> i64 {
    room.area() / (Ticks::FOOT.0 * Ticks::FOOT.0)
}

fn twenty_by_fourteen() -> Room {
    Room::rectangle(ft(20), ft(14)).unwrap()
}

fn fault(jogs: &[Jog]) -> String {
    twenty_by_fourteen().with_jogs(jogs).unwrap_err().to_string()
}

fn perimeter(text: &str) -> Result<Room, ShapeFault> {
    Room::perimeter(text, None)
}

#[test]
fn a_rectangle_has_its_length_east() {
    let room = twenty_by_fourteen();
    assert_eq!(room.outline(), [at(0, 0), at(20, 0), at(20, 14), at(0, 14)]);
    let sides: Vec<_> = room.walls().map(|w| (w.side.unwrap(), w.length())).collect();
    assert_eq!(sides, [(Side::South, ft(20)), (Side::East, ft(14)), (Side::North, ft(20)), (Side::West, ft(14))]);
    assert_eq!((sf(&room), room.perimeter_length()), (280, ft(68)));
    // 280 sf are 280 × 304.8² mm²
    assert_eq!(room.area_mm2(), "26012851.2".parse::<crate::quantity::Decimal>().unwrap().into());
}

#[test]
fn the_same_room_in_any_spelling() {
    for text in [
        "20' E, 14' N, 20' W, 14' S",
        "14' N, 20' E, 14' S, 20' W",
        "E 20', N 14', W 20', S 14'",
        "20'-0\" east; 168\" north; 20 ft west; 14'-0\" south",
        "10' E, 10' E, 14' N, 20' W, 14' S",
        "0,0; 20',0; 20',14'; 0,14'",
        "(0, 0); (20', 0); (20', 14'); (0, 14'); (0, 0)",
        "0,0\n0,14'\n20',14'\n20',0",
        "6,096 mm E, 4,267.2 mm N, 6,096 mm W, 4,267.2 mm S",
        "5',5'; 25',5'; 25',19'; 5',19'",
    ] {
        assert_eq!(perimeter(text).unwrap().outline(), twenty_by_fourteen().outline(), "{text}");
    }
    let feet = Some(Ratio::new(1524, 5));
    assert_eq!(Room::perimeter("20 E, 14 N, 20 W, 14 S", feet).unwrap().outline(), twenty_by_fourteen().outline());
}

#[test]
fn slanted_sides() {
    // a 3-4-5 corner taken off: 20 × 14 less 3 × 4 / 2 = 274 sf
    let room = perimeter("20' E, 10' N, 3' W + 4' N, 17' W, 14' S").unwrap();
    assert_eq!(sf(&room), 274);
    assert_eq!(room.walls().find(|w| w.side.is_none()).unwrap().length(), ft(5));
    // 5 ft at 45° are 3'-6.43" each way: 20' less that is 16'-5 37/64", to 1/16 in. 16'-5 9/16"
    let room = perimeter("20' E, 10'-5 9/16\" N, 5' NW, 16'-5 9/16\" W, 14' S").unwrap();
    assert!(!room.is_square_cornered());
}

#[test]
fn what_a_perimeter_may_not_be() {
    for (text, said) in [
        (
            "20' E, 14' N, 18' W, 13'-9\" S",
            "The room does not close: side 4 ends 2'-0\" east and 3\" north of corner 1, where side 1 begins.",
        ),
        ("0,0; 20',14'; 20',0; 0,14'", "The room crosses itself: side 1 meets side 3."),
        ("20' E, 5' W, 14' N, 15' W, 14' S", "The room crosses itself: side 1 meets side 2."),
        ("20' E, 0' N, 20' W", "Side 2 is 0\"; it must be above zero."),
        ("0,0; 20',0", "The room has 2 sides and nothing inside; it takes three or more."),
        ("0,0; 20',0; 30',0", "The room has 3 sides and nothing inside; it takes three or more."),
        ("", "The room has 0 sides and nothing inside; it takes three or more."),
        ("20 E, 14' N", "Side 1 cannot be read: ‘20’, it has no unit; write 20' or 20 ft."),
        ("3000' E, 14' N", "Side 1 is longer than 2000'-0\", the most that is laid out."),
    ] {
        assert_eq!(perimeter(text).unwrap_err().to_string(), said, "{text}");
    }
    assert!(
        perimeter("20' E, 14' up").unwrap_err().to_string().starts_with("Side 2 cannot be read: ‘14' up’, it has no")
    );
}

#[test]
fn jogs_columns_and_alcoves() {
    // 280 − 2×1 (pilaster) − 3×4 (corner) − 1×1 (free column) + 4×2 (alcove) = 273 sf
    let room = twenty_by_fourteen()
        .with_jogs(&[
            jog("jog 1", Place::Wall(Side::South, ft(5)), 2, 1, Way::In),
            jog("jog 2", Place::Corner(Corner::NorthEast), 3, 4, Way::In),
            Jog { off: ft(3), ..jog("column", Place::Wall(Side::West, ft(6)), 1, 1, Way::In) },
            jog("alcove", Place::Wall(Side::North, ft(2)), 4, 2, Way::Out),
        ])
        .unwrap();
    assert_eq!(sf(&room), 273);
    assert_eq!(room.columns(), [vec![at(3, 6), at(3, 7), at(4, 7), at(4, 6)]]);
    assert_eq!(room.extent(), [at(0, 0), at(20, 16)]);
    assert_eq!(room.start(Side::North), ft(14));
    // all walls: 68, jog 2, alcove 4, column 4; the corner adds nothing
    assert_eq!(room.perimeter_length(), ft(78));
}

#[test]
fn a_soffit_takes_its_place_from_the_ceiling() {
    // along the whole of the west wall, 2 ft back: 18 x 14 ft, counted from the soffit
    let west = jog("soffit 1", Place::Wall(Side::West, Ticks::ZERO), 14, 2, Way::Soffit);
    let room = twenty_by_fourteen().with_jogs(std::slice::from_ref(&west)).unwrap();
    assert!(room.is_rectangle());
    assert_eq!((sf(&room), room.extent()), (252, [at(2, 0), at(20, 14)]));
    assert_eq!((room.start(Side::West), room.start(Side::East)), (ft(2), ft(20)));
    // with another along the rest of the south wall: 252 less 18 x 3
    let south = jog("soffit 2", Place::Wall(Side::South, ft(2)), 18, 3, Way::Soffit);
    let room = twenty_by_fourteen().with_jogs(&[west, south]).unwrap();
    assert_eq!((sf(&room), room.start(Side::South)), (198, ft(3)));
    // in the middle of a wall the count stays with the wall
    let middle = jog("soffit 1", Place::Wall(Side::West, ft(4)), 6, 2, Way::Soffit);
    let room = twenty_by_fourteen().with_jogs(&[middle]).unwrap();
    assert_eq!((sf(&room), room.start(Side::West)), (268, Ticks::ZERO));
    for (soffit, said) in [
        (
            jog("soffit 1", Place::Wall(Side::West, Ticks::ZERO), 15, 2, Way::Soffit),
            "Soffit 1 is 15'-0\" wide; the room is 14'-0\" there.",
        ),
        (
            jog("soffit 1", Place::Wall(Side::West, ft(1)), 14, 2, Way::Soffit),
            "Soffit 1 goes 1'-0\" past the end of the west wall.",
        ),
        (
            jog("soffit 1", Place::Wall(Side::West, Ticks::ZERO), 14, 20, Way::Soffit),
            "Soffit 1 is 20'-0\" deep; the room is 20'-0\" there.",
        ),
    ] {
        assert_eq!(fault(&[soffit]), said);
    }
}

#[test]
fn what_a_jog_may_not_be() {
    let south = |offset: i64| Place::Wall(Side::South, ft(offset));
    for (jogs, said) in [
        (vec![jog("jog 1", south(3), 21, 1, Way::In)], "Jog 1 is 21'-0\" wide; the room is 20'-0\" there."),
        (vec![jog("jog 1", south(3), 2, 14, Way::In)], "Jog 1 is 14'-0\" deep; the room is 14'-0\" there."),
        (vec![jog("jog 1", south(19), 2, 1, Way::In)], "Jog 1 goes 1'-0\" past the end of the south wall."),
        (vec![jog("jog 1", south(-1), 2, 1, Way::Out)], "Jog 1 goes 1'-0\" past the end of the south wall."),
        (vec![jog("jog 1", south(3), -2, 1, Way::In)], "The width of jog 1 is -2'-0\"; it must be above zero."),
        (vec![jog("jog 1", south(3), 2, 0, Way::In)], "The depth of jog 1 is 0\"; it must be above zero."),
        (
            vec![jog("jog 1", south(3), 2, 2, Way::In), jog("jog 2", south(4), 2, 1, Way::In)],
            "Jog 1 and jog 2 overlap.",
        ),
        (
            vec![jog("jog 1", south(3), 2, 7, Way::In), jog("jog 2", Place::Wall(Side::North, ft(3)), 2, 7, Way::In)],
            "The jogs and columns cut the room into 2 parts.",
        ),
        (
            vec![jog("jog 1", Place::Numbered(5, ft(1)), 1, 1, Way::In)],
            "Jog 1 is on side 5; the room has sides 1 to 4.",
        ),
    ] {
        assert_eq!(fault(&jogs), said);
    }
    let l = perimeter("20' E, 6' N, 8' W, 8' N, 12' W, 14' S").unwrap();
    let north = |p: Place| l.clone().with_jogs(&[jog("jog 1", p, 2, 1, Way::In)]);
    assert_eq!(
        north(Place::Wall(Side::North, ft(1))).unwrap_err().to_string(),
        "Jog 1 is on the north wall, and the room has 2 there: write the number of the side, one of 3, 5."
    );
    // side 3 runs west from 20' to 12'; the offset is from its west end
    let room = north(Place::Numbered(3, ft(1))).unwrap();
    assert!(room.outline().contains(&at(13, 5)) && room.outline().contains(&at(15, 5)));
    let deep = l.clone().with_jogs(&[jog("jog 1", Place::Numbered(3, ft(1)), 2, 7, Way::In)]);
    assert_eq!(deep.unwrap_err().to_string(), "Jog 1 leaves the room.");
}

#[test]
fn places_as_they_are_typed() {
    let wall = |side| Some(Place::Wall(side, ft(2)));
    for (text, place) in [
        ("N", wall(Side::North)),
        ("south wall", wall(Side::South)),
        ("NE", Some(Place::Corner(Corner::NorthEast))),
        ("South-West corner", Some(Place::Corner(Corner::SouthWest))),
        ("side 3", Some(Place::Numbered(3, ft(2)))),
        ("4", Some(Place::Numbered(4, ft(2)))),
        ("0", None),
        ("left", None),
        ("", None),
    ] {
        assert_eq!(Place::read(text, ft(2)), place, "{text}");
    }
}

#[test]
fn sides_keep_their_numbers_in_a_room_typed_clockwise() {
    // clockwise: side 1 is the west wall, side 2 the north one
    let room = perimeter("14' N, 20' E, 14' S, 20' W").unwrap();
    let room = room.with_jogs(&[jog("jog 1", Place::Numbered(2, ft(4)), 2, 1, Way::In)]).unwrap();
    assert!(room.outline().contains(&at(4, 13)) && room.outline().contains(&at(6, 13)));
}
