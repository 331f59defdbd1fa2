//! One statement's text to pest pairs, and pairs to expressions.

use super::split::Section;
use super::tree::{Argument, Binary, Comparison, Expr, How, Literal, Name, Node};
use super::words::syntax_problem;
use crate::problem::{Problem, nearest::nearest};
use crate::quantity::length::MM_PER_INCH;
use crate::quantity::unit::{UNITS, Unit};
use crate::quantity::{Date, Decimal, Dimension, Number};
use crate::source::{Span, Text};
use pest::Parser as _;
use pest::iterators::Pair;
use std::ops::Range;
use std::sync::Arc;

/// The generated parser, in a room of its own because its items have no documents.
#[allow(missing_docs, clippy::pedantic)]
mod generated {
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/notation.pest"]
    pub struct Grammar;
}
pub use generated::{Grammar, Rule};

/// A pair of our grammar.
pub type P<'t> = Pair<'t, Rule>;

/// How many operators one statement may have: the depth of its tree, and so of every walk over it, is bounded.
const MAX_OPERATORS: usize = 400;

/// How deep expressions may stand in each other, by brackets and by `where`.
const MAX_NESTED: usize = 40;
/// How many conditions of choices one statement may have.
const MAX_CONDITIONS: usize = 200;

/// The name that a statement would declare, as far as its first words tell.
fn would_declare(rule: Rule, statement: &str) -> Option<String> {
    let mut words = statement.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|w| !w.is_empty());
    let first = words.by_ref().find(|w| *w != "replace")?;
    let name = match rule {
        Rule::formula_line | Rule::field_line => Some(first),
        Rule::rows_head | Rule::table_head | Rule::define_line | Rule::options_line => words.next(),
        _ => None,
    };
    name.map(str::to_owned)
}

/// Whether a statement's expressions stand too deep in each other to be read by recursion: `where` and a choice's
/// next answer nest without brackets.
#[must_use]
pub fn too_deep(text: &str) -> bool {
    let mut depth = 0usize;
    let peak = text.chars().fold(0, |peak, c| {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        peak.max(depth)
    });
    peak + text.matches("where").count() > MAX_NESTED || text.matches("when").count() > MAX_CONDITIONS
}

/// Steel wire gauges (U.S. steel wire gauge) in inches, read: 8 .1620, 9 .1483, 10 .1350, 12 .1055, 16 .0625, 18 .0475.
const WIRE: &[(&str, &str)] =
    &[("8", "0.1620"), ("9", "0.1483"), ("10", "0.1350"), ("12", "0.1055"), ("16", "0.0625"), ("18", "0.0475")];
/// Sheet gauges in inches of design thickness, as the framing industry's product guide prints them; 20 gauge names two.
const SHEET: &[(&str, &str)] = &[("25", "0.0188"), ("18", "0.0451"), ("16", "0.0566"), ("12", "0.1017")];

/// Where a statement stands in its book; of one that is read as another, the part behind the slip.
#[derive(Debug, Default)]
struct Base {
    start: usize,
    end: usize,
    /// How long the statement is as it is read.
    long: usize,
    /// Up to where it is not as it is written.
    other: usize,
}

impl Base {
    fn place(&self, at: usize) -> usize {
        if at < self.other { self.start } else { (self.end + at).saturating_sub(self.long) }
    }
}

/// Reads statements of one book, gathering problems.
#[derive(Debug)]
pub struct Reader<'b> {
    /// The book's text.
    pub text: &'b Arc<Text>,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
    /// Names that statements would declare which were not understood.
    pub unread: Vec<String>,
    /// Where the statement being read stands.
    base: Base,
    operators: usize,
}

impl<'b> Reader<'b> {
    /// A reader of a text.
    #[must_use]
    pub fn new(text: &'b Arc<Text>) -> Self {
        Self { text, problems: Vec::new(), unread: Vec::new(), base: Base::default(), operators: 0 }
    }

    /// Reads a statement by a rule; `None` when it is not understood, which is then a problem.
    pub fn statement(&mut self, rule: Rule, range: &Range<usize>) -> Option<P<'b>> {
        if range.is_empty() {
            return None;
        }
        let text: &'b str = &self.text.text[range.clone()];
        self.base = Base { start: range.start, end: range.end, long: text.len(), other: 0 };
        self.operators = 0;
        if too_deep(text) {
            let what = "The parts of this statement stand too deep in each other.";
            self.problem(
                Span::new(range.start, range.end),
                "statement too large",
                what,
                "give parts of it names of their own, or make a table of a long choice",
            );
            self.unread.extend(would_declare(rule, text));
            return None;
        }
        match Grammar::parse(rule, text) {
            Ok(mut pairs) => {
                let pair = pairs.next()?;
                self.twice(&pair);
                Some(pair)
            }
            Err(error) => {
                self.problems.push(syntax_problem(self.text, range.start, rule, text, &error));
                self.unread.extend(would_declare(rule, text));
                None
            }
        }
    }

    /// Reads the first line of a section by a rule; a misspelt one as what it was meant to be.
    pub fn head(&mut self, rule: Rule, section: &'b Section) -> Option<P<'b>> {
        let Some((slip, text)) = section.slip.as_ref().filter(|_| !section.head.is_empty()) else {
            return self.statement(rule, &section.head);
        };
        let Range { start, end } = section.head;
        self.base = Base { start, end, long: text.len(), other: slip.read.len() };
        self.operators = 0;
        let pair = Grammar::parse(rule, text).ok()?.next()?;
        self.twice(&pair);
        Some(pair)
    }

    /// Takes every name that a section would declare for one that cannot be looked for.
    pub fn lost(&mut self, section: &Section) {
        for range in std::iter::once(&section.head).chain(section.body.iter().flatten()) {
            let words = self.text.text[range.clone()].split(|c: char| !(c.is_alphanumeric() || c == '_'));
            self.unread.extend(words.filter(|w| !w.is_empty()).take(4).map(str::to_owned));
        }
    }

    /// The place of a pair in the book.
    #[must_use]
    pub fn span(&self, pair: &P<'_>) -> Span {
        let s = pair.as_span();
        let trimmed = s.as_str().trim_end().len();
        Span::new(self.base.place(s.start()), self.base.place(s.start() + trimmed))
    }

    /// A name and its place.
    #[must_use]
    pub fn name(&self, pair: &P<'_>) -> Name {
        Name { name: pair.as_str().trim().to_owned(), span: self.span(pair) }
    }

    /// A problem at a place of this book.
    pub fn problem(&mut self, span: Span, kind: &'static str, what: impl Into<String>, fix: impl Into<String>) {
        self.problems.push(Problem::stop(kind, what).in_book(self.text, span).fix(fix));
    }

    /// An expression.
    pub fn expr(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        match pair.as_rule() {
            Rule::expr => self.choice(pair, span),
            Rule::either => self.chain(pair, |_| Binary::Or),
            Rule::both => self.chain(pair, |_| Binary::And),
            Rule::sum => self.chain(pair, |sign| if sign == "+" { Binary::Add } else { Binary::Subtract }),
            Rule::product => self.chain(pair, |sign| match sign {
                "*" | "×" => Binary::Multiply,
                "/" | "÷" => Binary::Divide,
                _ => Binary::Of,
            }),
            Rule::negation | Rule::unary => self.prefixed(pair),
            Rule::comparison => self.comparison(pair),
            Rule::power => self.power(pair),
            Rule::name | Rule::word => Expr { node: Node::Name(pair.as_str().trim().to_owned()), span },
            Rule::aggregate => self.aggregate(pair),
            Rule::call => self.call(pair),
            Rule::signed | Rule::signed_bare | Rule::expected | Rule::table_cell => self.signed(pair),
            _ => {
                let (before, written) = (self.problems.len(), pair.as_str().trim().to_owned());
                let literal = self.literal(pair);
                let unread = self.problems[before..].iter().any(|p| p.kind == "unknown unit");
                Expr { node: if unread { self.unread_value(written) } else { Node::Literal(literal) }, span }
            }
        }
    }

    fn choice(&mut self, pair: P<'_>, span: Span) -> Expr {
        let mut parts = pair.into_inner();
        let Some(first) = parts.next() else { return nothing(span) };
        let first = self.expr(first);
        let Some(condition) = parts.next() else { return first };
        let mut arms = vec![(first, self.expr(condition))];
        let mut rest = parts.next();
        while let Some(more) = rest {
            let mut inner = more.into_inner();
            let Some(value) = inner.next() else { break };
            let value = self.expr(value);
            match inner.next() {
                Some(o) if o.as_rule() == Rule::otherwise => {
                    return Expr { node: Node::Choice(arms, Box::new(value)), span };
                }
                Some(condition) => arms.push((value, self.expr(condition))),
                None => break,
            }
            self.count_operator(span);
            rest = inner.next();
        }
        let what = "This choice does not say what holds when none of its conditions does.";
        self.problem(span, "choice without otherwise", what, "end it with ', … otherwise'");
        let value = Expr { node: arms[0].0.node.clone(), span };
        Expr { node: Node::Choice(arms, Box::new(value)), span }
    }

    fn chain(&mut self, pair: P<'_>, operator: impl Fn(&str) -> Binary) -> Expr {
        let span = self.span(&pair);
        let mut parts = pair.into_inner();
        let Some(first) = parts.next() else { return nothing(span) };
        let mut left = self.expr(first);
        while let Some(next) = parts.next() {
            let (sign, right) = match next.as_rule() {
                Rule::add_sign | Rule::multiply_sign => match parts.next() {
                    Some(right) => (next.as_str().trim().to_owned(), right),
                    None => break,
                },
                _ => (String::new(), next),
            };
            let right = self.expr(right);
            self.count_operator(span);
            let both = left.span.to(right.span);
            left = Expr { node: Node::Binary(operator(&sign), Box::new(left), Box::new(right)), span: both };
        }
        left
    }

    fn prefixed(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut count = 0;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::not_word | Rule::minus => count += 1,
                rule => {
                    let mut out = self.expr(part);
                    // signs cancel in pairs
                    if count > 0 {
                        let negate = |e: Expr| {
                            if rule == Rule::comparison { Node::Not(Box::new(e)) } else { Node::Negate(Box::new(e)) }
                        };
                        out = Expr { node: negate(out), span };
                        if count % 2 == 0 {
                            out = Expr { node: negate(out), span };
                        }
                    }
                    return out;
                }
            }
        }
        nothing(span)
    }

    fn comparison(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut parts = pair.into_inner();
        let Some(first) = parts.next() else { return nothing(span) };
        let mut left = self.expr(first);
        let mut chain = Vec::new();
        while let Some(part) = parts.next() {
            match part.as_rule() {
                Rule::given => {
                    let negated = part.into_inner().next().is_some();
                    left = Expr { node: Node::Given { value: Box::new(left), negated }, span };
                }
                Rule::one_of_test => {
                    let negated = part.clone().into_inner().any(|p| p.as_rule() == Rule::not_word);
                    let members = self.members(part);
                    left = Expr { node: Node::OneOf { value: Box::new(left), members, negated }, span };
                }
                _ => {
                    let how = comparison_of(&part);
                    if let Some(right) = parts.next() {
                        chain.push((how, self.expr(right)));
                        self.count_operator(span);
                    }
                }
            }
        }
        if chain.is_empty() { left } else { Expr { node: Node::Compare(Box::new(left), chain), span } }
    }

    fn power(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut parts = pair.into_inner();
        let Some(base) = parts.next() else { return nothing(span) };
        let base = self.expr(base);
        match parts.next() {
            None => base,
            Some(exponent) => match exponent.as_str().parse::<i8>() {
                Ok(n) if (-6..=6).contains(&n) => Expr { node: Node::Power(Box::new(base), n), span },
                _ => {
                    let at = self.span(&exponent);
                    self.problem(
                        at,
                        "power too large",
                        "A power here is a whole number from -6 to 6.",
                        "multiply it out",
                    );
                    base
                }
            },
        }
    }

    fn aggregate(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut how = How::Sum;
        let mut kind = None;
        let (mut value, mut condition) = (None, None);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::how => {
                    how = match part.as_str().trim() {
                        "count" => How::Count,
                        "least" => How::Least,
                        "most" => How::Most,
                        "any" => How::Any,
                        "all" => How::All,
                        _ => How::Sum,
                    }
                }
                Rule::word => kind = Some(self.name(&part)),
                Rule::expr => value = Some(Box::new(self.expr(part))),
                _ => condition = Some(Box::new(self.expr(part))),
            }
        }
        match kind {
            Some(kind) => Expr { node: Node::Aggregate { how, kind, value, condition }, span },
            None => nothing(span),
        }
    }

    fn call(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut parts = pair.into_inner();
        let Some(name) = parts.next() else { return nothing(span) };
        let name = self.name(&name);
        let mut arguments = Vec::new();
        for argument in parts {
            let mut label = None;
            for part in argument.into_inner() {
                if part.as_rule() == Rule::label {
                    label = Some(self.name(&part));
                } else {
                    arguments.push(Argument { label: label.take(), value: self.expr(part) });
                }
            }
        }
        Expr { node: Node::Call { name, arguments }, span }
    }

    fn signed(&mut self, pair: P<'_>) -> Expr {
        let span = self.span(&pair);
        let mut negative = false;
        for part in pair.into_inner() {
            if part.as_rule() == Rule::minus {
                negative = true;
                continue;
            }
            let inner = self.expr(part);
            return if negative { Expr { node: Node::Negate(Box::new(inner)), span } } else { inner };
        }
        nothing(span)
    }

    /// The words of a list.
    pub fn members(&mut self, pair: P<'_>) -> Vec<Name> {
        let members = pair.into_inner().filter(|p| p.as_rule() == Rule::member).collect::<Vec<_>>();
        members.iter().map(|m| Name { name: unquote(m.as_str().trim()), span: self.span(m) }).collect()
    }

    fn count_operator(&mut self, span: Span) {
        self.operators += 1;
        if self.operators == MAX_OPERATORS + 1 {
            let what = format!("This statement has more than {MAX_OPERATORS} operators.");
            self.problem(span, "statement too large", what, "give parts of it names of their own");
        }
    }

    /// Whether the statement was too large for its tree to be used.
    #[must_use]
    pub fn too_large(&self) -> bool {
        self.operators > MAX_OPERATORS
    }

    fn literal(&mut self, pair: P<'_>) -> Literal {
        let span = self.span(&pair);
        let text = pair.as_str().trim();
        match pair.as_rule() {
            Rule::text => Literal::Text(unquote(text)),
            Rule::yes => Literal::YesNo(true),
            Rule::no => Literal::YesNo(false),
            Rule::date => self.date(text, span),
            Rule::percent => {
                let percent = text.trim_end_matches('%').trim_end();
                Literal::Percent(self.decimal(percent, span).over(&100.into()).unwrap_or(Number::ZERO))
            }
            Rule::length => Literal::Number {
                value: self.length(pair),
                unit: Some(("ft".to_owned(), Unit::kept(Dimension::LENGTH))),
            },
            Rule::unclear_length => self.unclear_length(pair, span),
            Rule::price => self.price(text, span),
            Rule::gauge => self.gauge(text, span),
            Rule::decimal => Literal::Number { value: self.decimal(text, span), unit: None },
            _ => self.quantity(pair),
        }
    }

    fn decimal(&mut self, text: &str, span: Span) -> Number {
        match text.replace(',', "").parse::<Decimal>() {
            Ok(d) if d.scale() <= 20 => d.into(),
            _ => {
                self.problem(
                    span,
                    "number too long",
                    "This number has more digits than the 28 that are kept.",
                    "fewer digits",
                );
                Number::ZERO
            }
        }
    }

    fn date(&mut self, text: &str, span: Span) -> Literal {
        match text.parse::<Date>() {
            Ok(date) => Literal::Date(date),
            Err(_) => {
                self.problem(span, "no such date", format!("There is no day {text}."), "year-month-day, 2026-11-25");
                Literal::Date(Date::default())
            }
        }
    }

    /// A length literal in mm.
    fn length(&mut self, pair: P<'_>) -> Number {
        let span = self.span(&pair);
        let mut inches = Number::ZERO;
        for part in pair.into_inner() {
            let value = match part.as_rule() {
                Rule::feet => {
                    let feet = part.as_str().trim_end_matches(['\'', '′', '’']).to_owned();
                    self.decimal(&feet, span).times(&12.into()).unwrap_or(Number::ZERO)
                }
                Rule::inches => part.into_inner().next().map_or(Number::ZERO, |amount| self.amount(&amount)),
                _ => continue,
            };
            inches = inches.plus(&value).unwrap_or(inches);
        }
        inches.times(&MM_PER_INCH.into()).unwrap_or(Number::ZERO)
    }

    /// A decimal, a fraction, or a whole number and a fraction.
    fn amount(&mut self, pair: &P<'_>) -> Number {
        let span = self.span(pair);
        let text = pair.as_str().trim();
        if let Some((at, sign)) = text.char_indices().find(|(_, c)| "½¼¾⅛⅜⅝⅞".contains(*c)) {
            let eighths = match sign {
                '½' => 4,
                '¼' => 2,
                '¾' => 6,
                '⅛' => 1,
                '⅜' => 3,
                '⅝' => 5,
                _ => 7,
            };
            let part = Number::from_ints(eighths, 8).unwrap_or(Number::ZERO);
            let whole = if at == 0 { Number::ZERO } else { self.decimal(&text[..at], span) };
            return whole.plus(&part).unwrap_or(whole);
        }
        let Some((above, below)) = text.split_once('/') else { return self.decimal(text, span) };
        let (whole, above) = above.rsplit_once([' ', '-']).map_or(("0", above), |(w, a)| (w, a));
        let (whole, above, under) = (self.decimal(whole, span), self.decimal(above, span), self.decimal(below, span));
        match above.over(&under) {
            Ok(part) => whole.plus(&part).unwrap_or(whole),
            Err(_) => {
                self.problem(
                    span,
                    "division by zero",
                    "A fraction with nothing below the bar.",
                    "a number above zero below the bar",
                );
                whole
            }
        }
    }

    fn unclear_length(&mut self, pair: P<'_>, span: Span) -> Literal {
        let text = pair.as_str();
        let joined: String = text.replace(' ', "");
        let joined = if joined.contains("'-") { joined } else { joined.replacen('\'', "'-", 1) };
        let spaced = joined.replacen("'-", "' - ", 1);
        let what = "It is not clear whether this is one length or a difference of two.";
        self.problem(span, "unclear length", what, format!("{joined} for one length, {spaced} for a difference"));
        Literal::Number { value: self.length(pair), unit: Some(("ft".to_owned(), Unit::kept(Dimension::LENGTH))) }
    }

    fn price(&mut self, text: &str, span: Span) -> Literal {
        let (money, per) = text.split_at(text.find(['/', '·']).unwrap_or(text.len()));
        let value = self.decimal(money.trim_start_matches('$'), span);
        let name = format!("${per}");
        let unit = self.unit(&name, span).unwrap_or_else(Unit::dollar);
        Literal::Number { value, unit: Some((name, unit)) }
    }

    fn gauge(&mut self, text: &str, span: Span) -> Literal {
        let mut words = text.split_whitespace();
        let number = words.next().unwrap_or("").trim_end_matches(|c: char| c.is_alphabetic());
        let last = words.next_back().unwrap_or("");
        let table = match last {
            "wire" => WIRE,
            "sheet" => SHEET,
            _ => {
                let what =
                    "A gauge number alone names two sizes: 12 gauge is .1055 in. as wire and .1017 in. as sheet.";
                self.problem(span, "bare gauge", what, format!("{number} ga wire, or {number} ga sheet"));
                WIRE
            }
        };
        let found = table.iter().find(|(n, _)| *n == number).map(|(_, size)| *size);
        if found.is_none() && matches!(last, "wire" | "sheet") {
            let known: Vec<&str> = table.iter().map(|(n, _)| *n).collect();
            let (what, fix) = if (last, number) == ("sheet", "20") {
                (
                    "20 gauge sheet is sold in two thicknesses, .0312 in. (30 mil) and .0346 in. (33 mil).".to_owned(),
                    "the thickness in mils, 33 mil".to_owned(),
                )
            } else {
                (
                    format!("No size is known for {number} gauge {last}."),
                    format!("one of {}, or the size itself, 0.1055 in", known.join(", ")),
                )
            };
            self.problem(span, "unknown gauge", what, fix);
        }
        let inches = self.decimal(found.unwrap_or("0.1"), span);
        let inch = Unit::named("in").unwrap_or_else(|| Unit::kept(Dimension::LENGTH));
        Literal::Number { value: inches, unit: Some(("in".to_owned(), inch)) }
    }

    fn quantity(&mut self, pair: P<'_>) -> Literal {
        let mut value = Number::ZERO;
        let mut unit = None;
        for part in pair.into_inner() {
            if part.as_rule() == Rule::suffix {
                let at = self.span(&part);
                let name = part.as_str().trim();
                unit = self.unit(name, at).map(|u| (name.to_owned(), u));
            } else {
                value = self.amount(&part);
            }
        }
        Literal::Number { value, unit }
    }

    /// What stands for a value of which the unit is not known: a name that could not be read, from which nothing follows.
    fn unread_value(&mut self, written: String) -> Node {
        self.unread.push(written.clone());
        Node::Name(written)
    }

    /// A unit by name; unknown ones are a problem.
    pub fn unit(&mut self, name: &str, span: Span) -> Option<Unit> {
        match Unit::read(name) {
            Ok(unit) => Some(unit),
            Err(part) => {
                let near = nearest(&part, UNITS.iter().flat_map(|u| u.names).copied());
                let fix = match near {
                    _ if ["percent", "percents", "pct"].contains(&part.to_lowercase().as_str()) => {
                        "%, as in 10%".to_owned()
                    }
                    Some(near) => name.replacen(&part, near, 1),
                    None => "a unit such as ft, in, sf, ea, lb, hr, psf".to_owned(),
                };
                self.problem(span, "unknown unit", format!("'{part}' is not a unit."), fix);
                None
            }
        }
    }
}

fn comparison_of(part: &P<'_>) -> Comparison {
    match part.as_str().trim() {
        "=" => Comparison::Equal,
        "<" => Comparison::Less,
        "<=" | "≤" => Comparison::LessOrEqual,
        ">" => Comparison::Greater,
        ">=" | "≥" => Comparison::GreaterOrEqual,
        "≠" => Comparison::NotEqual,
        _ if part.clone().into_inner().next().is_some() => Comparison::NotEqual,
        _ => Comparison::Equal,
    }
}

/// What stands for a part that could not be read; its problem is already told.
fn nothing(span: Span) -> Expr {
    Expr { node: Node::Literal(Literal::Number { value: Number::ZERO, unit: None }), span }
}

/// A text without its quotes and escapes; a bare word as it is.
#[must_use]
pub fn unquote(text: &str) -> String {
    let Some(inner) = text.strip_prefix('"') else { return text.to_owned() };
    let inner = inner.strip_suffix('"').unwrap_or(inner);
    let mut out = String::with_capacity(inner.len());
    let mut chars = inner.chars();
    while let Some(c) = chars.next() {
        out.push(if c == '\\' { chars.next().unwrap_or('\\') } else { c });
    }
    out
}
