//! A room given whole: the text of its perimeter, and what a ring of corners must be.

use super::room::{MOST_CORNERS, extent_of, twice_area};
use super::{Point, ShapeFault, Ticks};
use crate::quantity::Ratio;
use crate::quantity::spelling::{Spelled, plain_signs, read_length};

/// The longest text that is read, in bytes.
const LONGEST_TEXT: usize = 50_000;
/// How far off a room may close whose sides at 45° were snapped to ticks: 1/16 in.
const SNAPPED: Ticks = Ticks::sixty_fourths(4);

/// One side as typed.
struct Move {
    east: Ticks,
    north: Ticks,
    /// Whether it was given by a direction at 45°, so that its legs were snapped.
    snapped: bool,
}

/// Reads the text of a perimeter into corners, the first at zero.
pub fn read(text: &str, bare: Option<Ratio>) -> Result<Vec<Point>, ShapeFault> {
    if text.len() > LONGEST_TEXT {
        return Err(ShapeFault::TooMany { what: "letters in its perimeter", count: text.len(), most: LONGEST_TEXT });
    }
    let text: String = text.lines().map(plain_signs).collect::<Vec<_>>().join(";");
    let pieces = || text.split([',', ';']).map(str::trim);
    if pieces().any(|piece| direction_of(piece).is_some()) { moves(&text, bare) } else { points(&text, bare) }
}

/// Whether directions stand before their lengths or after, and which one a piece has.
fn direction_of(piece: &str) -> Option<(bool, [i64; 2])> {
    let word = |c: char| c.is_alphabetic() || c == '-';
    let tail = piece.trim_end_matches(word);
    if let Some(direction) = direction(&piece[tail.len()..]) {
        return Some((false, direction));
    }
    let head = piece.trim_start_matches(word);
    direction(&piece[..piece.len() - head.len()]).map(|d| (true, d))
}

/// East and north of a compass word.
fn direction(word: &str) -> Option<[i64; 2]> {
    Some(match word.to_lowercase().replace('-', "").as_str() {
        "e" | "east" => [1, 0],
        "n" | "north" => [0, 1],
        "w" | "west" => [-1, 0],
        "s" | "south" => [0, -1],
        "ne" | "northeast" => [1, 1],
        "nw" | "northwest" => [-1, 1],
        "se" | "southeast" => [1, -1],
        "sw" | "southwest" => [-1, -1],
        _ => return None,
    })
}

/// `20' E, 14' N, …`
fn moves(text: &str, bare: Option<Ratio>) -> Result<Vec<Point>, ShapeFault> {
    let mut sides: Vec<Move> = Vec::new();
    for piece in whole_pieces(text) {
        let number = sides.len() + 1;
        if number > MOST_CORNERS {
            return Err(ShapeFault::TooMany { what: "corners", count: number, most: MOST_CORNERS });
        }
        sides.push(one_move(&piece, number, bare)?);
    }
    let mut corners = vec![Point::default()];
    for side in &sides {
        let last = corners.last().copied().unwrap_or_default();
        corners.push(Point::new(last.x + side.east, last.y + side.north));
    }
    close(&mut corners, &sides)?;
    Ok(corners)
}

/// Takes the last corner away, which is the first again.
fn close(corners: &mut Vec<Point>, sides: &[Move]) -> Result<(), ShapeFault> {
    let end = corners.pop().unwrap_or_default();
    if end == Point::default() {
        return Ok(());
    }
    match sides.iter().rposition(|s| s.snapped) {
        Some(last) if end.x.0.abs() <= SNAPPED.0 && end.y.0.abs() <= SNAPPED.0 => {
            for corner in corners.iter_mut().skip(last + 1) {
                *corner = Point::new(corner.x - end.x, corner.y - end.y);
            }
            Ok(())
        }
        _ => Err(ShapeFault::DoesNotClose { sides: sides.len(), east: end.x, north: end.y }),
    }
}

/// Pieces between commas and semicolons, put together again where a comma stands within a length: `1,200 mm E`.
fn whole_pieces(text: &str) -> Vec<String> {
    let leads = text.split([',', ';']).find_map(|p| direction_of(p.trim())).is_some_and(|(leads, _)| leads);
    let mut out: Vec<String> = Vec::new();
    let mut open = String::new();
    for group in text.split(';').filter(|g| !g.trim().is_empty()) {
        for piece in group.split(',').filter(|p| !p.trim().is_empty()) {
            let has_direction = direction_of(piece.trim()).is_some();
            match (leads, has_direction, out.last_mut()) {
                (true, false, Some(last)) => *last += &format!(",{piece}"),
                (true, ..) => out.push(piece.trim().to_owned()),
                (false, true, _) => out.push(std::mem::take(&mut open) + piece.trim_end()),
                (false, false, _) => open += &format!("{piece},"),
            }
        }
    }
    if !open.is_empty() {
        out.push(open.trim_end_matches(',').to_owned());
    }
    out
}

fn one_move(piece: &str, number: usize, bare: Option<Ratio>) -> Result<Move, ShapeFault> {
    let place = format!("side {number}");
    let refuse =
        |why: &str| ShapeFault::Unreadable { place: place.clone(), text: piece.trim().to_owned(), why: why.to_owned() };
    let words = || piece.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase);
    if words().any(|w| matches!(w.as_str(), "arc" | "curve" | "curved" | "radius" | "rad" | "r")) {
        return Err(refuse("sides are straight: write a curve as several short ones, such as 2' E + 1' N"));
    }
    let mut out = Move { east: Ticks::ZERO, north: Ticks::ZERO, snapped: false };
    for leg in piece.split('+').map(str::trim) {
        if leg.split_whitespace().filter(|word| direction_of(word).is_some()).count() > 1 {
            return Err(refuse("it has several directions; part sides by commas, 20' E, 14' N"));
        }
        let Some((leads, [east, north])) = direction_of(leg) else {
            return Err(refuse("it has no direction; write a length and N, E, S or W, such as 20' E"));
        };
        let word = |c: char| c.is_alphabetic() || c == '-';
        let length = if leads { leg.trim_start_matches(word) } else { leg.trim_end_matches(word) };
        let mut length = length_of(length.trim(), &place, bare)?;
        if length <= Ticks::ZERO {
            return Err(ShapeFault::NoSize { what: place, size: length });
        }
        if east != 0 && north != 0 {
            out.snapped = true;
            length = at_45(length);
        }
        out.east += length * east;
        out.north += length * north;
    }
    if out.east == Ticks::ZERO && out.north == Ticks::ZERO {
        return Err(ShapeFault::NoSize { what: place, size: Ticks::ZERO });
    }
    Ok(out)
}

/// A leg of a side at 45°: the root of half its square, to the nearest tick.
fn at_45(length: Ticks) -> Ticks {
    let twice = num_integer::sqrt(2 * i128::from(length.0) * i128::from(length.0));
    Ticks(i64::try_from((twice + 1) / 2).unwrap_or(0))
}

fn length_of(text: &str, place: &str, bare: Option<Ratio>) -> Result<Ticks, ShapeFault> {
    let refuse = |why: String| ShapeFault::Unreadable { place: place.to_owned(), text: text.to_owned(), why };
    let mm = match read_length(text).map_err(|e| refuse(e.what))? {
        Spelled::Length(mm) => mm,
        Spelled::Bare(n) if n.is_zero() => n,
        Spelled::Bare(n) => {
            let bare = bare.ok_or_else(|| refuse("it has no unit; write 20' or 20 ft".to_owned()))?;
            n.scaled(bare).map_err(|e| refuse(e.to_string()))?
        }
    };
    Ticks::from_mm(&mm).ok_or_else(|| ShapeFault::TooLong { what: place.to_owned() })
}

/// `0,0; 20',0; 20',14'; 0,14'`
fn points(text: &str, bare: Option<Ratio>) -> Result<Vec<Point>, ShapeFault> {
    let mut corners = Vec::new();
    for piece in text.split(';').map(|p| p.trim().trim_start_matches('(').trim_end_matches(')')) {
        if piece.is_empty() {
            continue;
        }
        let number = corners.len() + 1;
        if number > MOST_CORNERS {
            return Err(ShapeFault::TooMany { what: "corners", count: number, most: MOST_CORNERS });
        }
        corners.push(point(piece, number, bare)?);
    }
    if corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    Ok(corners)
}

/// Two lengths; commas within one of them are told by what can be read.
fn point(piece: &str, number: usize, bare: Option<Ratio>) -> Result<Point, ShapeFault> {
    let place = format!("corner {number}");
    let commas: Vec<usize> = piece.match_indices(',').map(|(at, _)| at).collect();
    let split = |at: usize| {
        let (east, north) = (piece[..at].trim(), piece[at + 1..].trim());
        Ok(Point::new(length_of(east, &place, bare)?, length_of(north, &place, bare)?))
    };
    let why = "it is no point; write its distance east and north, parted by a comma, such as 20',14', and a semicolon \
               between corners, or write sides with their directions, such as 20' E, 14' N";
    match commas.as_slice() {
        [] => Err(ShapeFault::Unreadable { place: place.clone(), text: piece.to_owned(), why: why.to_owned() }),
        [one] => split(*one),
        [first, .., last] if commas.len() <= 3 => {
            let middle = commas.get(1).copied().unwrap_or(*first);
            split(middle).or_else(|_| split(*first)).or_else(|_| split(*last))
        }
        _ => Err(ShapeFault::Unreadable { place: place.clone(), text: piece.to_owned(), why: why.to_owned() }),
    }
}

/// Corners that make a room.
pub fn checked(corners: Vec<Point>) -> Result<Vec<Point>, ShapeFault> {
    let count = corners.len();
    if count > MOST_CORNERS {
        return Err(ShapeFault::TooMany { what: "corners", count, most: MOST_CORNERS });
    }
    if let Some(far) = corners.iter().position(|p| !p.x.is_in_bounds() || !p.y.is_in_bounds()) {
        return Err(ShapeFault::TooLong { what: format!("the way to corner {}", far + 1) });
    }
    let [low, high] = extent_of(&corners);
    if (high.x - low.x) > Ticks::LONGEST || (high.y - low.y) > Ticks::LONGEST {
        return Err(ShapeFault::TooLong { what: "the room".to_owned() });
    }
    if count < 3 {
        return Err(ShapeFault::NoArea { sides: count });
    }
    if let Some(side) = (0..count).find(|&i| corners[i] == corners[(i + 1) % count]) {
        return Err(ShapeFault::NoSize { what: format!("side {}", side + 1), size: Ticks::ZERO });
    }
    if high.x == low.x || high.y == low.y {
        return Err(ShapeFault::NoArea { sides: count });
    }
    if let Some((side, other)) = first_crossing(&corners) {
        return Err(ShapeFault::CrossesItself { side: side + 1, other: other + 1 });
    }
    if twice_area(&corners) == 0 {
        return Err(ShapeFault::NoArea { sides: count });
    }
    Ok(corners)
}

/// The first two sides that meet where they should not. Sides are looked at from west to east, each only against
/// those that begin before it ends.
fn first_crossing(corners: &[Point]) -> Option<(usize, usize)> {
    let count = corners.len();
    let side = |i: usize| (corners[i], corners[(i + 1) % count]);
    let west = |i: usize| side(i).0.x.min(side(i).1.x);
    let east = |i: usize| side(i).0.x.max(side(i).1.x);
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by_key(|&i| (west(i), i));
    let mut found: Option<(usize, usize)> = None;
    for (at, &i) in order.iter().enumerate() {
        for &j in order[at + 1..].iter().take_while(|&&j| west(j) <= east(i)) {
            let pair = (i.min(j), i.max(j));
            let meet = match (pair.1 - pair.0, pair.1 - pair.0 == count - 1) {
                (1, _) => folds_back(side(pair.0), side(pair.1)),
                (_, true) => folds_back(side(pair.1), side(pair.0)),
                _ => touch(side(i), side(j)),
            };
            if meet && found.is_none_or(|f| pair < f) {
                found = Some(pair);
            }
        }
    }
    found
}

/// Above zero where `c` lies left of the way from `a` to `b`.
fn turn(a: Point, b: Point, c: Point) -> i128 {
    let wide = |t: Ticks| i128::from(t.0);
    (wide(b.x - a.x) * wide(c.y - a.y) - wide(b.y - a.y) * wide(c.x - a.x)).signum()
}

/// Whether the second of two sides in a row goes back over the first.
fn folds_back(first: (Point, Point), second: (Point, Point)) -> bool {
    let wide = |t: Ticks| i128::from(t.0);
    let ahead = wide(first.1.x - first.0.x) * wide(second.1.x - second.0.x)
        + wide(first.1.y - first.0.y) * wide(second.1.y - second.0.y);
    turn(first.0, first.1, second.1) == 0 && ahead < 0
}

/// Whether two sides have a point in common.
fn touch(a: (Point, Point), b: (Point, Point)) -> bool {
    let apart = |p: (Ticks, Ticks), q: (Ticks, Ticks)| p.0.max(p.1) < q.0.min(q.1) || q.0.max(q.1) < p.0.min(p.1);
    if apart((a.0.x, a.1.x), (b.0.x, b.1.x)) || apart((a.0.y, a.1.y), (b.0.y, b.1.y)) {
        return false;
    }
    turn(a.0, a.1, b.0) * turn(a.0, a.1, b.1) <= 0 && turn(b.0, b.1, a.0) * turn(b.0, b.1, a.1) <= 0
}
