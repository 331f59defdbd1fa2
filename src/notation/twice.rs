//! Clauses that are given twice: of two only one could hold, and which is not for the reader of a book to guess.

use super::reader::{P, Reader, Rule};
use super::split::before_remark;

/// The words with which a clause begins that may stand once in its statement.
fn once(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::need => "need",
        Rule::cut => "cut",
        Rule::lump => "lump",
        Rule::above => "above",
        Rule::at_least => "at least",
        Rule::below => "below",
        Rule::at_most => "at most",
        Rule::from_to => "from … to",
        Rule::match_how => "",
        Rule::default => "otherwise",
        Rule::may_be_blank => "may be blank",
        Rule::heading => "heading",
        Rule::key => "key",
        Rule::one_of => "one of",
        Rule::stock_of => "stock of",
        Rule::shown_to => "shown to",
        Rule::shown_in => "shown in",
        Rule::source => "source",
        Rule::accepted => "accepted",
        Rule::code => "code",
        Rule::waste => "waste",
        Rule::rate => "rate",
        Rule::factor => "factor",
        Rule::at_height => "height",
        Rule::at_difficulty => "difficulty",
        Rule::only_when => "only when",
        Rule::spliced => "spliced",
        Rule::lap => "lap",
        Rule::least_part => "least",
        Rule::scrap => "scrap",
        Rule::cut_by => "by",
        Rule::kerf => "kerf",
        Rule::keep => "keep",
        Rule::first_from => "first from",
        Rule::only_from => "only from",
        Rule::charging => "charging bought",
        Rule::headings_by => "headings by",
        Rule::codes_by => "codes by",
        Rule::parts_by => "parts by",
        Rule::alternates_by => "alternates by",
        Rule::deducting => "deducting",
        Rule::deliveries_by => "deliveries by",
        Rule::named_by => "named by",
        Rule::showing => "showing",
        _ => return None,
    })
}

/// A clause as it is written, without remarks.
fn bare(clause: &P<'_>) -> String {
    let lines = clause.as_str().lines().map(|line| line[..before_remark(line)].trim()).filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join(" ")
}

/// Which ends of a range a clause sets: the lower, the upper.
fn ends(rule: Rule) -> (bool, bool) {
    match rule {
        Rule::above | Rule::at_least => (true, false),
        Rule::below | Rule::at_most => (false, true),
        Rule::from_to => (true, true),
        _ => (false, false),
    }
}

/// Whether two clauses say the same thing, so that one of them would go unheard.
fn collide(a: Rule, b: Rule) -> bool {
    let amount = |r| matches!(r, Rule::need | Rule::cut | Rule::lump);
    let ((low, high), (other_low, other_high)) = (ends(a), ends(b));
    a == b || (amount(a) && amount(b)) || (low && other_low) || (high && other_high)
}

/// What would be right in place of both.
fn instead(rule: Rule, before: &str, again: &str) -> String {
    let joined = |first: &str, word: &str| {
        let (a, b) = (first.trim_end(), again.trim_start_matches(word).trim());
        let text = |t: &str| t.len() > 1 && t.starts_with('"') && t.ends_with('"');
        let told = a.trim_start_matches(word).trim();
        (text(told) && text(b)).then(|| format!("{word} \"{}; {}\"", &told[1..told.len() - 1], &b[1..b.len() - 1]))
    };
    match rule {
        Rule::heading => format!("{} or {}", before.trim_end(), again.trim_start_matches("heading").trim()),
        Rule::source => joined(before, "source").unwrap_or_else(|| "one source, in quotes, that names both".to_owned()),
        Rule::accepted => {
            joined(before, "accepted").unwrap_or_else(|| "one reason, in quotes, that tells both".to_owned())
        }
        Rule::need | Rule::cut | Rule::lump => "take one of the two out, or make them two lines".to_owned(),
        Rule::only_when => {
            let condition = |clause: &str| format!("({})", clause.trim_start_matches("only when").trim());
            format!("only when {} and {}", condition(before), condition(again))
        }
        Rule::showing => format!("{}, {}", before.trim_end(), again.trim_start_matches("showing").trim()),
        _ => "take one of the two out".to_owned(),
    }
}

impl Reader<'_> {
    /// Tells clauses of a statement that are given twice, or that leave each other nothing to say.
    pub(super) fn twice(&mut self, statement: &P<'_>) {
        let mut seen: Vec<P<'_>> = Vec::new();
        for clause in statement.clone().into_inner() {
            let rule = clause.as_rule();
            if matches!(rule, Rule::column | Rule::spliced) {
                self.twice(&clause);
            }
            let Some(word) = once(rule) else { continue };
            let Some(before) = seen.iter().find(|before| collide(before.as_rule(), rule)) else {
                seen.push(clause);
                continue;
            };
            let first = once(before.as_rule()).unwrap_or_default();
            let written = bare(&clause);
            let what = match (first == word, word) {
                (true, "") => "It is said twice how this column is matched.".to_owned(),
                (true, word) => format!("'{word}' is given twice."),
                (false, word) => format!("'{first}' and '{word}' both say {}.", said_by_both(before.as_rule(), rule)),
            };
            let fix = instead(rule, &bare(before), &written);
            let span = self.span(&clause);
            self.problem(span, "clause given twice", what, fix);
        }
        let found = |rule| seen.iter().find(|clause| clause.as_rule() == rule);
        if statement.as_rule() == Rule::field_line
            && let (Some(blank), Some(default)) = (found(Rule::may_be_blank), found(Rule::default))
        {
            let stands = bare(default);
            let stands = stands.trim_start_matches("otherwise").trim();
            let what = format!("A blank cell is {stands} here, so that the column never is blank.");
            let fix = format!("take out 'may be blank', or 'otherwise {stands}'");
            let span = self.span(blank);
            self.problem(span, "clause given twice", what, fix);
        }
    }
}

/// What two clauses of different words both say.
fn said_by_both(a: Rule, b: Rule) -> &'static str {
    match (ends(a), ends(b)) {
        ((true, _), (true, _)) => "what the least value is",
        ((_, true), (_, true)) => "what the greatest value is",
        _ => "how much is needed",
    }
}
