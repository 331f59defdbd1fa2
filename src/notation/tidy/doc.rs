//! What is laid out: tokens with the comments before them, in groups that know where they may be broken.

use std::borrow::Cow;

/// A comment inside a statement.
#[derive(Clone, Debug)]
pub(super) struct Comment<'t> {
    /// From its dashes on, without space at its end.
    pub text: &'t str,
    /// Whether it stands on a line of its own, not at the end of one.
    pub own_line: bool,
}

/// A word, a value or a sign as it stands in the text.
#[derive(Clone, Debug)]
pub(super) struct Token<'t> {
    /// As it is printed.
    pub text: Cow<'t, str>,
    /// Comments between the token before and this one.
    pub before: Vec<Comment<'t>>,
    /// Whether it begins a line, because on the line of the number before it would be read with that.
    pub apart: bool,
}

impl Token<'_> {
    /// Whether it must begin a line.
    fn breaks(&self) -> bool {
        self.apart || !self.before.is_empty()
    }
}

/// Tokens in groups.
#[derive(Clone, Debug)]
pub(super) enum Doc<'t> {
    /// One token.
    Token(Token<'t>),
    /// Parts with a space between.
    Words(Vec<Doc<'t>>),
    /// Parts with nothing between.
    Tight(Vec<Doc<'t>>),
    /// Operands; each after the first begins with its operator, and with a line where the chain is broken.
    Chain(Vec<Doc<'t>>),
    /// Operands that fill lines where they are broken: factors, and both sides of a comparison.
    Factors(Vec<Doc<'t>>),
    /// What stands in brackets, each part with its comma.
    Bracket {
        /// The bracket, with the name before it if there is one.
        open: Box<Doc<'t>>,
        /// The parts.
        inside: Vec<Doc<'t>>,
        /// The closing bracket.
        close: Token<'t>,
    },
    /// Answers with their conditions.
    Choice(Vec<Arm<'t>>),
}

/// One answer of a choice.
#[derive(Clone, Debug)]
pub(super) struct Arm<'t> {
    /// The answer.
    pub value: Doc<'t>,
    /// `when …,` or `otherwise`.
    pub rest: Doc<'t>,
}

impl<'t> Doc<'t> {
    /// How many characters it takes on one line; `None` where it must be broken.
    ///
    /// Comments before its first token come before the whole, and break nothing in it.
    pub fn measure(&self) -> Option<usize> {
        self.width(true)
    }

    fn width(&self, first: bool) -> Option<usize> {
        let sum = |parts: &[Doc<'t>], between: usize| -> Option<usize> {
            let mut sum = between * parts.len().saturating_sub(1);
            for (i, part) in parts.iter().enumerate() {
                sum += part.width(first && i == 0)?;
            }
            Some(sum)
        };
        match self {
            Doc::Token(token) => (first || !token.breaks()).then(|| token.text.chars().count()),
            Doc::Words(parts) | Doc::Chain(parts) | Doc::Factors(parts) => sum(parts, 1),
            Doc::Tight(parts) => sum(parts, 0),
            Doc::Bracket { open, inside, close } => {
                let mut all = open.width(first)?;
                for (i, part) in inside.iter().enumerate() {
                    all += part.width(false)? + usize::from(i > 0);
                }
                (!close.breaks()).then_some(all + 1)
            }
            Doc::Choice(arms) => {
                let mut all = arms.len().saturating_sub(1);
                for (i, arm) in arms.iter().enumerate() {
                    all += arm.value.width(first && i == 0)? + 1 + arm.rest.width(false)?;
                }
                Some(all)
            }
        }
    }

    /// Its first token.
    pub fn first(&self) -> Option<&Token<'t>> {
        match self {
            Doc::Token(token) => Some(token),
            Doc::Words(parts) | Doc::Tight(parts) | Doc::Chain(parts) | Doc::Factors(parts) => parts.first()?.first(),
            Doc::Bracket { open, .. } => open.first(),
            Doc::Choice(arms) => arms.first()?.value.first(),
        }
    }

    fn first_mut(&mut self) -> Option<&mut Token<'t>> {
        match self {
            Doc::Token(token) => Some(token),
            Doc::Words(parts) | Doc::Tight(parts) | Doc::Chain(parts) | Doc::Factors(parts) => {
                parts.first_mut()?.first_mut()
            }
            Doc::Bracket { open, .. } => open.first_mut(),
            Doc::Choice(arms) => arms.first_mut()?.value.first_mut(),
        }
    }

    /// Whether it begins with a comment, or else must begin a line.
    pub fn begins_a_line(&self) -> bool {
        self.first().is_some_and(Token::breaks)
    }

    /// The token, when it is one of this text.
    pub fn is(&self, text: &str) -> bool {
        matches!(self, Doc::Token(token) if token.text == text)
    }

    /// Operator and operand in one; comments in and behind the operator go before it, where a line may end.
    pub fn headed(mut operator: Self, mut operand: Self) -> Self {
        let mut comments = Vec::new();
        operator.take_comments(&mut comments);
        comments.extend(operand.first_mut().map(|token| std::mem::take(&mut token.before)).unwrap_or_default());
        if let Some(sign) = operator.first_mut() {
            sign.before = comments;
        }
        Doc::Words(vec![operator, operand])
    }

    /// Comments of an operator, which is one word or some.
    fn take_comments(&mut self, out: &mut Vec<Comment<'t>>) {
        match self {
            Doc::Token(token) => out.append(&mut token.before),
            Doc::Words(parts) => parts.iter_mut().for_each(|part| part.take_comments(out)),
            _ => {}
        }
    }

    /// Parts as words; one part is itself.
    pub fn words(mut parts: Vec<Self>) -> Self {
        match (parts.len(), parts.pop()) {
            (1, Some(only)) => only,
            (_, Some(last)) => {
                parts.push(last);
                Doc::Words(parts)
            }
            (_, None) => Doc::Words(parts),
        }
    }

    /// Its tokens' texts, in order.
    pub fn text(&self) -> String {
        let mut out = String::new();
        self.add_text(&mut out);
        out
    }

    fn add_text(&self, out: &mut String) {
        let all = |parts: &[Doc<'t>], between: &str, out: &mut String| {
            for (i, part) in parts.iter().enumerate() {
                out.push_str(if i > 0 { between } else { "" });
                part.add_text(out);
            }
        };
        match self {
            Doc::Token(token) => out.push_str(&token.text),
            Doc::Words(parts) | Doc::Chain(parts) | Doc::Factors(parts) => all(parts, " ", out),
            Doc::Tight(parts) => all(parts, "", out),
            Doc::Bracket { open, inside, close } => {
                open.add_text(out);
                all(inside, " ", out);
                out.push_str(&close.text);
            }
            Doc::Choice(arms) => {
                for (i, arm) in arms.iter().enumerate() {
                    out.push_str(if i > 0 { " " } else { "" });
                    arm.value.add_text(out);
                    out.push(' ');
                    arm.rest.add_text(out);
                }
            }
        }
    }
}
