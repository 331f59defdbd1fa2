//! Letters drawn with one stroke, in capitals as plans are lettered: the same in every viewer, with no font to carry.
//!
//! A glyph is polylines on a grid six wide and nine tall: two digits to a point, `x` then `y`, blanks between lines.
//! The baseline is `y` = 1, the tops of capitals `y` = 9.

use super::shapes::At;

/// Width of a grid step as a share of the height of a capital; a step upward is an eighth of it.
const ACROSS: f64 = 0.096;
/// Room between letters, in grid steps.
const GAP: f64 = 2.2;
/// Width of a blank, in grid steps.
const BLANK: f64 = 3.6;

/// What is drawn for a letter that has no glyph.
const UNKNOWN: &str = "0109595101 0159";

/// The glyph of a capital, digit or sign.
fn glyph(c: char) -> &'static str {
    match c {
        'A' => "013961 1454",
        'B' => "01094958564505 4564625101",
        'C' => "685929070321516263",
        'D' => "01093967633101",
        'E' => "59090151 0545",
        'F' => "590901 0545",
        'G' => "68592907032151626535",
        'H' => "0109 6169 0565",
        'I' => "0109",
        'J' => "5953412103",
        'K' => "0109 6904 2661",
        'L' => "090151",
        'M' => "0109346961",
        'N' => "01096169",
        'O' => "290703214163674929",
        'P' => "0109495857664505",
        'Q' => "290703214163674929 4361",
        'R' => "0109495857564505 3561",
        'S' => "685919080615556462511102",
        'T' => "0969 3931",
        'U' => "090321416369",
        'V' => "093169",
        'W' => "0921364169",
        'X' => "0169 0961",
        'Y' => "093569 3531",
        'Z' => "09690161",
        '0' => "190802114152584919",
        '1' => "072921 0141",
        '2' => "081949585601 0151",
        '3' => "08194958564525 455452411102",
        '4' => "41490353",
        '5' => "590906465552411102",
        '6' => "584919070211415254451504",
        '7' => "095921",
        '8' => "15060819495856451504021141525445",
        '9' => "021141535849190806154556",
        '\'' => "1906",
        '"' => "0906 2926",
        '-' => "0545",
        '/' => "0149",
        '.' => "0102121101",
        ',' => "121100",
        ':' => "0304141303 0607171606",
        ';' => "0607171606 1300",
        '@' => "4626244447 47446468591908021151",
        '#' => "1129 4159 0666 0464",
        '&' => "611718293948470402113164",
        '(' => "29070321",
        ')' => "09272301",
        '[' | '{' => "29090121",
        ']' | '}' => "09292101",
        '+' => "0545 2723",
        '=' => "0646 0444",
        '×' | '*' => "0347 0743",
        '<' => "470543",
        '>' => "074503",
        '!' => "0904 0102",
        '?' => "081949585634 3433 3231",
        '%' => "0169 0929270709 4363614143",
        '$' => "685919080615556462511102 3930",
        '_' => "0060",
        '|' => "0900",
        '\\' => "0941",
        '~' => "05164556",
        '^' => "072947",
        '`' => "0917",
        '°' => "0929270709",
        '·' | '•' => "0405151404",
        _ => UNKNOWN,
    }
}

/// The letter that a letter with an accent is drawn as. Nothing is lost: the name stands in full on the sheet and in
/// the drawing's title.
fn unaccented(c: char) -> char {
    const PLAIN: &[(char, &str)] = &[
        ('A', "ÀÁÂÃÄÅĀĂĄ"),
        ('C', "ÇĆČ"),
        ('D', "ĎĐ"),
        ('E', "ÈÉÊËĒĖĘĚ"),
        ('G', "ĞĢ"),
        ('I', "ÌÍÎÏĪĮİ"),
        ('L', "ĽŁĻ"),
        ('N', "ÑŃŇŅ"),
        ('O', "ÒÓÔÕÖØŌŐ"),
        ('R', "ŔŘ"),
        ('S', "ŚŞŠȘ"),
        ('T', "ŢŤȚ"),
        ('U', "ÙÚÛÜŪŮŰŲ"),
        ('Y', "ÝŸ"),
        ('Z', "ŹŻŽ"),
    ];
    if c.is_ascii() {
        return c;
    }
    PLAIN.iter().find(|(_, with)| with.contains(c)).map_or(c, |(plain, _)| *plain)
}

/// A text as it is lettered: capitals, and signs that have no glyph spelled by those that have one.
fn spelled(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '½' => out.push_str(" 1/2"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            '‘' | '’' | '′' => out.push('\''),
            '“' | '”' | '″' => out.push('"'),
            '–' | '—' | '‑' | '−' => out.push('-'),
            '…' => out.push_str("..."),
            c if c.is_whitespace() => out.push(' '),
            c if c.is_control() => {}
            c => out.extend(c.to_uppercase().map(unaccented)),
        }
    }
    out
}

/// Width of a glyph in grid steps.
fn steps(c: char) -> f64 {
    if c == ' ' {
        return BLANK;
    }
    let (mut most, mut is_x) = (b'0', true);
    for byte in glyph(c).bytes() {
        if byte != b' ' && is_x {
            most = most.max(byte);
        }
        is_x = byte == b' ' || !is_x;
    }
    f64::from(most - b'0') + GAP
}

/// Width of a text in grid steps, with the room after its last letter, on top of that of what stands before it.
fn steps_after(before: f64, text: &str) -> f64 {
    spelled(text).chars().map(steps).fold(before, |sum, more| sum + more)
}

/// Width of a text whose capitals are `height` tall, in the same unit.
#[must_use]
pub fn width(text: &str, height: f64) -> f64 {
    in_height(steps_after(0.0, text), height)
}

/// So many grid steps, without the room after the last letter, as a width.
fn in_height(steps: f64, height: f64) -> f64 {
    (steps - GAP).max(0.0) * ACROSS * height
}

/// The strokes of a text whose capitals are `height` tall. `at` is the left end of its baseline; `up` is the way up.
/// Upright text has `up` = (0, -1), as `y` runs down on a sheet; text that reads upward has (-1, 0).
#[must_use]
pub fn strokes(text: &str, at: At, height: f64, up: (f64, f64)) -> Vec<Vec<At>> {
    let right = (-up.1, up.0);
    let (step, rise) = (ACROSS * height, height / 8.0);
    let mut out = Vec::new();
    let mut pen = 0.0;
    for c in spelled(text).chars() {
        if c != ' ' {
            for line in glyph(c).split(' ') {
                let digit = |b: u8| f64::from(b.saturating_sub(b'0'));
                let place = |p: &[u8; 2]| {
                    let (x, y) = ((pen + digit(p[0])) * step, (digit(p[1]) - 1.0) * rise);
                    At { x: at.x + x * right.0 + y * up.0, y: at.y + x * right.1 + y * up.1 }
                };
                out.push(line.as_bytes().as_chunks().0.iter().map(place).collect());
            }
        }
        pen += steps(c);
    }
    out
}

/// A text cut to a width, ending in dots where something is left out.
#[must_use]
pub fn fitted(text: &str, height: f64, most: f64) -> String {
    if width(text, height) <= most {
        return text.to_owned();
    }
    let room = most - width("...", height) - GAP * ACROSS * height;
    let mut out = String::new();
    let mut used = 0.0;
    for c in text.chars() {
        used += spelled(c.encode_utf8(&mut [0; 4])).chars().map(steps).sum::<f64>() * ACROSS * height;
        if used > room {
            break;
        }
        out.push(c);
    }
    format!("{}...", out.trim_end())
}

/// A text on lines of at most a width, broken between words; a longer word is cut. What goes beyond `most` lines ends
/// in dots.
#[must_use]
pub fn wrapped(text: &str, height: f64, width_of_line: f64, most: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    // of the last line
    let mut steps = 0.0;
    for word in text.split_whitespace() {
        let full = out.len() == most;
        let longer = steps_after(steps + BLANK, word);
        match out.last_mut() {
            Some(line) if in_height(longer, height) <= width_of_line => {
                line.push(' ');
                line.push_str(word);
                steps = longer;
            }
            Some(line) if full => {
                let all = format!("{line} {word}...");
                *line = fitted(&all, height, width_of_line);
                return out;
            }
            _ => {
                let line = fitted(word, height, width_of_line);
                steps = steps_after(0.0, &line);
                out.push(line);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_printable_sign_has_a_glyph_on_the_grid() {
        for c in (' '..='~').filter(|c| !c.is_ascii_lowercase() && *c != ' ') {
            assert_ne!(glyph(c), UNKNOWN, "{c}");
            for line in glyph(c).split(' ') {
                assert!(line.len() % 2 == 0 && line.len() >= 4, "{c}: {line}");
                assert!(line.bytes().step_by(2).all(|x| x <= b'6'), "{c}: {line}");
            }
        }
    }

    #[test]
    fn texts_keep_to_their_width() {
        let long = "Corridor with a name that nobody would letter on a plan";
        assert!(width(&fitted(long, 5.0, 60.0), 5.0) <= 60.0);
        let lines = wrapped(long, 5.0, 60.0, 3);
        assert_eq!(lines.len(), 3);
        assert!(lines.iter().all(|l| width(l, 5.0) <= 60.0) && lines[2].ends_with("..."));
        assert_eq!(spelled("Baño 10½"), "BANO 10 1/2");
        assert_eq!(width("", 5.0).to_bits(), 0.0_f64.to_bits());
    }
}
