//! A statement's pairs to tokens in groups: nothing is lost between pairs, neither words nor comments.

use super::doc::{Arm, Comment, Doc, Token};
use crate::notation::reader::{Grammar, P, Rule};
use pest::Parser as _;
use std::borrow::Cow;

/// Where in a statement reading stands, and what was met on the way to the next token.
#[derive(Debug)]
pub(super) struct Tokens<'t> {
    text: &'t str,
    at: usize,
    /// Whether a line has ended since the last token.
    fresh_line: bool,
    /// Whether the last token is a number that would take a word after it on its line for its unit.
    bare: bool,
    /// Whether the last token is a unit that with a bracket on its line would be read as a call.
    callable: bool,
    pending: Vec<Comment<'t>>,
    /// All tokens' texts, in order, without spaces.
    pub read: Vec<String>,
}

/// A part of a pair: what rule it was read by, `None` for words and signs that the grammar states itself.
pub(super) type Part<'t> = (Option<Rule>, Doc<'t>);

impl<'t> Tokens<'t> {
    /// At the start of a statement.
    pub fn new(text: &'t str) -> Self {
        Self { text, at: 0, fresh_line: false, bare: false, callable: false, pending: Vec::new(), read: Vec::new() }
    }

    /// Comments after the last token.
    pub fn left(self) -> Vec<Comment<'t>> {
        self.pending
    }

    fn skip(&mut self, end: usize) {
        while self.at < end {
            let rest = &self.text[self.at..end];
            if rest.starts_with("--") {
                let line = rest.find('\n').unwrap_or(rest.len());
                self.pending.push(Comment { text: rest[..line].trim_end(), own_line: self.fresh_line });
                self.at += line;
            } else if let Some(c) = rest.chars().next().filter(|c| c.is_whitespace()) {
                self.fresh_line |= c == '\n';
                self.at += c.len_utf8();
            } else {
                break;
            }
        }
    }

    fn token(&mut self, text: impl Into<Cow<'t, str>>) -> Doc<'t> {
        let text = text.into();
        // what stands before a comma follows it: a line ends after a comma, not before it
        let last = self.text[self.at..].trim().is_empty();
        let before = if text == "," && !last { Vec::new() } else { std::mem::take(&mut self.pending) };
        let word = text.chars().next().is_some_and(char::is_alphabetic);
        let apart = (self.bare && word && Grammar::parse(Rule::stop, &text).is_err()) || (self.callable && text == "(");
        self.read.push(text.split_whitespace().collect());
        self.fresh_line = false;
        self.bare = false;
        self.callable = false;
        Doc::Token(Token { text, before, apart })
    }

    /// Words and signs up to an offset.
    fn until(&mut self, end: usize, out: &mut Vec<Part<'t>>) {
        loop {
            self.skip(end);
            if self.at >= end {
                return;
            }
            let rest = &self.text[self.at..end];
            let word = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
            let first = rest.chars().next().map_or(0, char::len_utf8);
            let sign = if ["<=", ">="].iter().any(|s| rest.starts_with(s)) { 2 } else { first };
            let length = if word > 0 { word } else { sign };
            self.at += length;
            out.push((None, self.token(&rest[..length])));
        }
    }

    /// A value as it is written.
    fn verbatim(&mut self, pair: &P<'t>) -> Doc<'t> {
        let span = pair.as_span();
        self.skip(span.end());
        self.at = span.end();
        let written = span.as_str().trim_end();
        let number = |rule| matches!(rule, Rule::quantity | Rule::bare_unit | Rule::expected_quantity);
        if !number(pair.as_rule()) {
            let percent = pair.as_rule() == Rule::percent && written.contains(' ');
            return if percent { self.token(written.replace(' ', "")) } else { self.token(written) };
        }
        let unit = pair.clone().into_inner().find(|p| p.as_rule() == Rule::suffix);
        let Some(unit) = unit else {
            let token = self.token(written);
            self.bare = pair.as_rule() != Rule::expected_quantity || !self.shows_next();
            return token;
        };
        let amount = written[..unit.as_span().start() - span.start()].trim_end();
        let token = self.token(format!("{amount} {}", unit.as_str().trim_end()));
        self.callable = pair.as_rule() == Rule::expected_quantity;
        token
    }

    /// Whether a name with its '=' or its bracket follows, which no number takes for its unit.
    fn shows_next(&self) -> bool {
        let rest = self.text[self.at..].trim_start();
        let word = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(rest.len());
        rest[word..].trim_start().starts_with(['=', '('])
    }

    /// The parts of a pair, in order.
    pub fn parts(&mut self, pair: P<'t>) -> Vec<Part<'t>> {
        let end = pair.as_span().end();
        let mut out = Vec::new();
        for inner in pair.into_inner().filter(|p| p.as_rule() != Rule::EOI) {
            self.until(inner.as_span().start(), &mut out);
            let rule = inner.as_rule();
            out.push((Some(rule), self.doc(inner)));
        }
        self.until(end, &mut out);
        out
    }

    fn docs(&mut self, pair: P<'t>) -> Vec<Doc<'t>> {
        self.parts(pair).into_iter().map(|(_, doc)| doc).collect()
    }

    /// A pair as a group.
    pub fn doc(&mut self, pair: P<'t>) -> Doc<'t> {
        match pair.as_rule() {
            Rule::text
            | Rule::decimal
            | Rule::percent
            | Rule::date
            | Rule::length
            | Rule::unclear_length
            | Rule::price
            | Rule::quantity
            | Rule::bare_unit
            | Rule::expected_quantity
            | Rule::type_name
            | Rule::unit
            | Rule::slash_unit
            | Rule::exponent => self.verbatim(&pair),
            Rule::expr => self.choice(pair),
            Rule::either | Rule::both | Rule::sum | Rule::product | Rule::comparison => self.chain(pair),
            Rule::power => self.power(pair),
            Rule::unary | Rule::signed | Rule::signed_bare | Rule::expected => self.signed(pair),
            Rule::call => self.call(pair),
            _ => Doc::words(folded(self.docs(pair))),
        }
    }

    fn choice(&mut self, pair: P<'t>) -> Doc<'t> {
        let mut flat = Vec::new();
        self.answers(pair, &mut flat);
        if flat.len() < 2 {
            return Doc::words(flat);
        }
        let mut arms = Vec::new();
        let mut parts = flat.into_iter().peekable();
        while let Some(value) = parts.next() {
            let Some(word) = parts.next() else {
                // not reached: a choice that is read ends with its otherwise
                arms.push(Arm { value, rest: Doc::Words(Vec::new()) });
                break;
            };
            let mut rest = word;
            if rest.is("when")
                && let Some(condition) = parts.next()
            {
                rest = Doc::headed(rest, condition);
            }
            if parts.peek().is_some_and(|p| p.is(",")) {
                rest = Doc::Tight([Some(rest), parts.next()].into_iter().flatten().collect());
            }
            arms.push(Arm { value, rest });
        }
        Doc::Choice(arms)
    }

    /// Answers, conditions and words of a choice in one row.
    fn answers(&mut self, pair: P<'t>, out: &mut Vec<Doc<'t>>) {
        let end = pair.as_span().end();
        for inner in pair.into_inner() {
            let mut words = Vec::new();
            self.until(inner.as_span().start(), &mut words);
            out.extend(words.into_iter().map(|(_, doc)| doc));
            if inner.as_rule() == Rule::more_choice {
                self.answers(inner, out);
            } else {
                out.push(self.doc(inner));
            }
        }
        let mut words = Vec::new();
        self.until(end, &mut words);
        out.extend(words.into_iter().map(|(_, doc)| doc));
    }

    fn chain(&mut self, pair: P<'t>) -> Doc<'t> {
        let factors = matches!(pair.as_rule(), Rule::product | Rule::comparison);
        let mut parts = self.parts(pair).into_iter();
        let Some((_, first)) = parts.next() else { return Doc::Words(Vec::new()) };
        let mut chain = vec![first];
        while let Some((rule, operator)) = parts.next() {
            if matches!(rule, Some(Rule::given | Rule::one_of_test)) {
                chain.push(operator);
            } else if let Some((_, operand)) = parts.next() {
                chain.push(Doc::headed(operator, operand));
            } else {
                chain.push(operator);
            }
        }
        match chain.len() {
            1 => Doc::words(chain),
            _ if factors => Doc::Factors(chain),
            _ => Doc::Chain(chain),
        }
    }

    fn power(&mut self, pair: P<'t>) -> Doc<'t> {
        let written = pair.clone().into_inner().next().is_some_and(|p| {
            !matches!(p.as_rule(), Rule::name | Rule::call | Rule::aggregate | Rule::expr)
                && !p.as_str().trim().is_empty()
        });
        let parts = folded(self.docs(pair));
        // `2 ft ^ 2` is the square of 2 ft, and `2 ft^2` is 2 sf
        if parts.len() > 1 && !written { Doc::Tight(parts) } else { Doc::words(parts) }
    }

    /// Signs before a value; two of them stand apart, or they would begin a comment.
    fn signed(&mut self, pair: P<'t>) -> Doc<'t> {
        let mut parts = self.docs(pair);
        let Some(value) = parts.pop() else { return Doc::Words(parts) };
        match parts.pop() {
            None => value,
            Some(sign) => {
                parts.push(Doc::Tight(vec![sign, value]));
                Doc::words(parts)
            }
        }
    }

    fn call(&mut self, pair: P<'t>) -> Doc<'t> {
        let parts = self.docs(pair);
        bracketed(parts)
    }
}

/// `name ( part , part , )` as one group.
pub(super) fn bracketed(parts: Vec<Doc<'_>>) -> Doc<'_> {
    let mut open = Vec::new();
    let mut inside = Vec::new();
    let mut close = None;
    for part in parts {
        match (part, open.len()) {
            (part, 0 | 1) => open.push(part),
            (Doc::Token(token), _) if token.text == ")" => close = Some(token),
            (part, _) if part.is(",") => with_sign(&mut inside, part),
            (part, _) => inside.push(part),
        }
    }
    match close {
        Some(close) => Doc::Bracket { open: Box::new(Doc::Tight(open)), inside, close },
        None => Doc::Words(open),
    }
}

/// Brackets and what stands in them in one, commas and colons with what stands before them.
pub(super) fn folded(parts: Vec<Doc<'_>>) -> Vec<Doc<'_>> {
    let mut out: Vec<Doc<'_>> = Vec::new();
    let mut open: Option<(Doc<'_>, Vec<Doc<'_>>)> = None;
    for part in parts {
        match (open.take(), part) {
            (None, part) if part.is("(") => open = Some((part, Vec::new())),
            (Some((bracket, inside)), Doc::Token(close)) if close.text == ")" => {
                out.push(Doc::Bracket { open: Box::new(bracket), inside, close });
            }
            (Some((bracket, mut inside)), part) => {
                inside.push(part);
                open = Some((bracket, inside));
            }
            (None, part) if part.is(",") || part.is(":") => with_sign(&mut out, part),
            (None, part) => out.push(part),
        }
    }
    if let Some((bracket, inside)) = open {
        out.push(bracket);
        out.extend(inside);
    }
    out
}

fn with_sign<'t>(parts: &mut Vec<Doc<'t>>, sign: Doc<'t>) {
    match parts.pop() {
        Some(before) => parts.push(Doc::Tight(vec![before, sign])),
        None => parts.push(sign),
    }
}
