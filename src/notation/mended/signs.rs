//! Signs and words of sheets and programming languages, and half-written values, as they are written here.

use super::{Change, Wrong, outside_texts, words};
use crate::notation::reader::Rule;
use crate::quantity::Unit;
use std::ops::Range;

/// Signs of elsewhere, and what stands for them.
const SIGNS: [(&str, &str); 8] = [
    ("&&", "and"),
    ("||", "or"),
    ("!=", "is not"),
    ("<>", "is not"),
    ("==", "="),
    (":=", "="),
    ("**", "^"),
    ("!", "not"),
];

/// Signs of limits, and how a column states them.
const LIMITS: [(&str, &str); 6] =
    [(">=", "at least"), ("≥", "at least"), (">", "above"), ("<=", "at most"), ("≤", "at most"), ("<", "below")];

/// A change of one of these kinds where the statement ceases to be understood.
pub(super) fn mended(wrong: &Wrong<'_>) -> Option<Change> {
    let outside = outside_texts(wrong.statement);
    let here = Here { wrong, words: words(&outside), outside: &outside };
    here.limit()
        .or_else(|| here.sign())
        .or_else(|| here.separated())
        .or_else(|| here.decimal())
        .or_else(|| here.feet())
        .or_else(|| here.grouped())
        .or_else(|| here.word())
        .or_else(|| here.wrapped())
}

struct Here<'h> {
    wrong: &'h Wrong<'h>,
    outside: &'h str,
    words: Vec<Range<usize>>,
}

impl Here<'_> {
    fn statement(&self) -> &str {
        self.wrong.statement
    }

    /// The change, if it serves.
    fn change(&self, at: Range<usize>, put: &str, what: String, fix: String) -> Option<Change> {
        self.wrong.serves(at.clone(), put).then_some(Change { at, what, fix })
    }

    /// The word where the statement ceases to be understood, and its number.
    fn found(&self) -> Option<(usize, &str)> {
        let at = self.words.iter().position(|w| w.start == self.wrong.at)?;
        Some((at, self.said(at)))
    }

    fn said(&self, number: usize) -> &str {
        self.words.get(number).map_or("", |w| &self.outside[w.clone()])
    }

    /// What stands before a place and after one, up to a space.
    fn before(&self, at: usize) -> Range<usize> {
        let end = self.statement()[..at].trim_end().len();
        let start = self.statement()[..end].rfind([' ', '\n', '\t', '(', ',', '=']).map_or(0, |space| space + 1);
        start..end
    }

    fn after(&self, at: usize) -> Range<usize> {
        let start = self.statement().len() - self.statement()[at..].trim_start().len();
        let long = self.statement()[start..].find([' ', '\n', '\t', ')', ',']);
        start..long.map_or(self.statement().len(), |long| start + long)
    }

    fn sign(&self) -> Option<Change> {
        let at = self.wrong.at;
        let around = |sign: &str| {
            let from = (0..=sign.len()).find_map(|back| {
                let from = at.checked_sub(back)?;
                self.outside.get(from..).filter(|rest| rest.starts_with(sign)).map(|_| from)
            })?;
            (from + sign.len() > at).then_some(from..from + sign.len())
        };
        SIGNS.iter().find_map(|(sign, own)| {
            let range = around(sign)?;
            let what = format!("'{sign}' has no meaning in a book.");
            self.change(range, &format!(" {own} "), what, format!("'{own}' in its place"))
        })
    }

    /// A limit of a column, written as a comparison.
    fn limit(&self) -> Option<Change> {
        if self.wrong.rule != Rule::field_line {
            return None;
        }
        let at = self.wrong.at;
        let rest = self.outside.get(at..)?;
        let (sign, own) = LIMITS.iter().find(|(sign, _)| rest.starts_with(sign))?;
        let value = self.after(at + sign.len());
        let what = format!("A limit of a column is written in words, not with '{sign}'.");
        let fix = format!("{own} {}", self.statement().get(value).unwrap_or("…"));
        self.change(at..at + sign.len(), &format!(" {own} "), what, fix)
    }

    /// A second statement on the line, and the choice of programming languages.
    fn separated(&self) -> Option<Change> {
        let at = self.wrong.at;
        let (what, fix) = match self.outside.as_bytes().get(at)? {
            b';' => ("A statement ends with its line, not with ';'.", "the next statement on a line of its own"),
            b'?' => ("'?' has no meaning in a book.", "a choice: … when …, … otherwise"),
            _ => return None,
        };
        let reads = self.wrong.reads(&self.statement()[..at]);
        reads.then(|| Change { at: at..at + 1, what: what.to_owned(), fix: fix.to_owned() })
    }

    /// `.5`, and a power that is not whole.
    fn decimal(&self) -> Option<Change> {
        let at = self.wrong.at;
        let rest = self.outside.get(at..)?.strip_prefix('.')?;
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        if digits == 0 {
            return None;
        }
        let end = at + 1 + digits;
        if self.statement()[..at].ends_with(|c: char| c.is_ascii_digit()) {
            let lead = self.statement()[..at].trim_end_matches(|c: char| c.is_ascii_digit());
            let power = lead.trim_end().strip_suffix('^')?;
            let of = self.before(power.len());
            let of = &self.statement()[of];
            let root = format!("square_root({of}) for a power of 0.5, or a whole power");
            return self.change(lead.len()..end, "2", "A power is a whole number here.".to_owned(), root);
        }
        let whole = format!("0{}", &self.statement()[at..end]);
        self.change(
            at..end,
            &whole,
            format!("A number does not begin with a point: '{}'.", &self.statement()[at..end]),
            whole.clone(),
        )
    }

    /// `5' 6`: inches without their sign.
    fn feet(&self) -> Option<Change> {
        let end = self.statement()[..self.wrong.at].trim_end().len();
        let inches = self.outside[..end].trim_end_matches(|c: char| c.is_ascii_digit()).len();
        if inches == end {
            return None;
        }
        let feet = self.outside[..inches].trim_end_matches([' ', '-']);
        if !feet.ends_with(['\'', '′', '’']) {
            return None;
        }
        let start = self.before(feet.len()).start;
        let whole = format!("{}-{}\"", &self.statement()[start..feet.len()], &self.statement()[inches..end]);
        let what = format!("'{}' is feet and a number without a sign.", &self.statement()[start..end]);
        self.change(start..end, &whole, what, whole.clone())
    }

    /// `1,000`.
    fn grouped(&self) -> Option<Change> {
        let at = self.wrong.at;
        if !self.outside.get(at..)?.starts_with(',') {
            return None;
        }
        let in_number = |c: char| c.is_ascii_digit() || c == ',';
        let start = self.outside[..at].trim_end_matches(in_number).len();
        let end = self.outside.len() - self.outside[at..].trim_start_matches(in_number).len();
        let written = &self.statement()[start..end];
        let three = |group: &str| group.len() == 3 && group.bytes().all(|b| b.is_ascii_digit());
        if start == at || !written.split(',').skip(1).all(three) {
            return None;
        }
        let whole = written.replace(',', "");
        self.change(start..end, &whole, format!("A number has no commas: '{written}'."), whole.clone())
    }

    /// Words of elsewhere, and words that stand in the wrong place.
    fn word(&self) -> Option<Change> {
        let (number, word) = self.found()?;
        let here = self.words[number].clone();
        let last = number.checked_sub(1).map_or("", |n| self.said(n));
        let next = self.after(here.end);
        match (last, word) {
            (_, "per") => {
                let (amount, unit) = (self.before(here.start), &self.statement()[next.clone()]);
                let whole = format!("{}/{unit}", &self.statement()[amount.clone()]);
                self.change(amount.start..next.end, &whole, "'per' is written as '/'.".to_owned(), whole.clone())
            }
            ("only", "if") => {
                self.change(here, "when", "'only if' is written 'only when'.".to_owned(), "only when".to_owned())
            }
            ("sq" | "square" | "cu" | "cubic", unit) => {
                let start = self.words[number - 1].start;
                let cubic = last.starts_with("cu");
                let short = format!("{}{}", if cubic { 'c' } else { 's' }, unit.chars().next()?);
                let power = format!("{unit}^{}", if cubic { 3 } else { 2 });
                let known = [short, power].into_iter().find(|unit| Unit::read(unit).is_ok())?;
                let what = format!("'{last} {unit}' is no unit.");
                self.change(start..here.end, &known, what, known.clone())
            }
            (_, "to") => {
                let start = self.statement()[..here.start].trim_end().len();
                let value = &self.statement()[next];
                let what = "'to' is an argument with a name.".to_owned();
                self.change(start..here.end, ", to:", what, format!(", to: {value}"))
            }
            (_, "between") => {
                let and = (number + 1..self.words.len()).find(|n| self.said(*n) == "and")?;
                let and = self.words[and].clone();
                let (value, most) = (self.before(here.start), self.after(and.end));
                let least = self.statement()[here.end..and.start].trim();
                let whole =
                    format!("{least} <= {} <= {}", &self.statement()[value.clone()], &self.statement()[most.clone()]);
                let what = "'between' stands in tables alone.".to_owned();
                self.change(value.start..most.end, &whole, what, whole.clone())
            }
            _ if self.statement()[..here.start].trim_end().ends_with(',')
                && self.words[..number].iter().any(|w| &self.outside[w.clone()] == "cut") =>
            {
                let what = "How long each piece is stands after 'each'.".to_owned();
                self.change(here.start..here.start, "each ", what, format!("each {word}"))
            }
            _ => None,
        }
    }

    /// `if … then … else`, `otherwise` before its value, and rows brought together without brackets.
    fn wrapped(&self) -> Option<Change> {
        let at = self.wrong.at;
        let number = self.words.iter().rposition(|w| w.end <= at)?;
        let word = self.words[number].clone();
        let said = self.said(number);
        if said == "if" {
            let of = |wanted: &str| (number + 1..self.words.len()).find(|n| self.said(*n) == wanted);
            let then = self.words[of("then")?].clone();
            let condition = self.statement()[word.end..then.start].trim();
            let (yes, no, end) = match of("else") {
                Some(other) => {
                    let other = self.words[other].clone();
                    let end = self.value_end(other.end);
                    let yes = self.statement()[then.end..other.start].trim();
                    (yes, self.statement()[other.end..end].trim(), end)
                }
                None => {
                    let end = self.value_end(then.end);
                    (self.statement()[then.end..end].trim(), "…", end)
                }
            };
            let whole = format!("{yes} when {condition}, {no} otherwise");
            let served = whole.replace('…', "0");
            let what = "A choice does not begin with 'if'.".to_owned();
            return self.wrong.serves(word.start..end, &served).then_some(Change { at: word, what, fix: whole });
        }
        if said == "otherwise" {
            let end = self.value_end(word.end);
            let value = self.statement()[word.end..end].trim();
            let whole = format!("{value} otherwise");
            let what = "'otherwise' stands after its value.".to_owned();
            return self.wrong.serves(word.start..end, &whole).then_some(Change { at: word, what, fix: whole });
        }
        let hows = ["sum", "least", "most", "any", "all", "count"];
        let how = number.checked_sub(2).map_or("", |n| self.said(n));
        let of = number.checked_sub(1).map_or("", |n| self.said(n));
        if of == "of" && hows.contains(&how) {
            let value = self.after(at);
            let whole = format!("({})", &self.statement()[value.clone()]);
            let what = "What is brought together stands in brackets.".to_owned();
            let fix = format!("{how} of {said} {whole}");
            return self.change(value, &whole, what, fix);
        }
        None
    }

    /// Where a value ends that begins at a place: at a bracket or comma that is not its own, a clause, a text, or the end.
    fn value_end(&self, from: usize) -> usize {
        let mut depth = 0usize;
        let sign = self.outside[from..].char_indices().find_map(|(at, c)| match c {
            '(' => {
                depth += 1;
                None
            }
            ')' if depth == 0 => Some(from + at),
            ')' => {
                depth -= 1;
                None
            }
            ',' if depth == 0 => Some(from + at),
            _ => None,
        });
        let clauses = ["source", "shown", "accepted", "waste", "rate", "only", "code"];
        let clause = self.words.iter().find(|w| w.start >= from && clauses.contains(&&self.outside[(*w).clone()]));
        let end = sign.into_iter().chain(clause.map(|w| w.start)).min().unwrap_or(self.statement().len());
        from + self.statement()[from..end].trim_end().len()
    }
}
