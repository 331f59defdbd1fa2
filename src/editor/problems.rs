//! What is wrong with a book and with those that it uses, in the words of the command line, each in the file it belongs to.

use super::desk::{Pile, Stands};
use crate::bid::checked;
use crate::engine::examples::{own_examples, run_examples};
use crate::problem::{Problem, Weight};
use crate::program::{Program, compile};
use crate::source::{Place, Span, Text};
use gen_lsp_types::{
    Code, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, Location, Message, Position, Range, Uri,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Problems by the address of the file they belong to.
pub(super) type ByFile = BTreeMap<String, Vec<Diagnostic>>;

/// How much of examples is run together with the reading of a book: fields times examples. More waits until nothing else
/// is to be done.
const AT_ONCE: usize = 4_000;

/// What came of a pile.
#[derive(Debug)]
pub(super) struct Came {
    /// Everything that is wrong or worth a second look, but for examples that wait.
    pub(super) problems: Vec<Problem>,
    /// The program, where there is one.
    pub(super) program: Option<Program>,
    /// Whether its examples are still to be run.
    pub(super) waits: bool,
}

/// Compiles a pile, and runs its examples where they are few.
pub(super) fn check(pile: &Pile) -> Came {
    let compiled =
        checked(pile.sources.clone(), pile.problems.clone(), |layers| compile(layers, None, crate::natives()));
    match compiled {
        Err(problems) => Came { problems, program: None, waits: false },
        Ok((mut program, mut problems)) => {
            problems.append(&mut program.hints);
            let examples = own_examples(&program).count();
            let waits = program.schema.fields.len().saturating_mul(examples) > AT_ONCE;
            if !waits {
                problems.extend(run_examples(&program));
            }
            Came { problems, program: Some(program), waits }
        }
    }
}

/// Problems as the protocol tells them. What belongs to no book of the pile is told at the beginning of the uppermost.
pub(super) fn by_file(pile: &Pile, problems: &[Problem]) -> ByFile {
    let mut out = ByFile::new();
    let Some(top) = pile.layers.last() else { return out };
    for problem in problems {
        let mut places = problem.places.iter().map(|place| located(pile, place));
        let first = places.next().flatten();
        let others = places.flatten().chain(first.iter().flat_map(|(_, text, _)| marks(pile, problem, text)));
        let about: Vec<DiagnosticRelatedInformation> =
            others.map(|(says, _, location)| DiagnosticRelatedInformation { location, message: says }).collect();
        let (uri, range, mut message) = match &first {
            Some((_, _, location)) => (location.uri.0.clone(), location.range, problem.what.clone()),
            None => {
                let Stands::At(uri) = &top.stands else { continue };
                let place = problem.places.first().map(whereabouts).unwrap_or_default();
                let start = Position::new(0, 0);
                (uri.clone(), Range::new(start, top.page.line_end(0)), format!("{}{place}", problem.what))
            }
        };
        for line in &problem.working {
            message.push_str("\n  ");
            message.push_str(line);
        }
        if let Some(fix) = &problem.fix {
            message.push_str("\nTry: ");
            message.push_str(fix);
        }
        out.entry(uri).or_default().push(Diagnostic {
            range,
            severity: Some(match problem.weight {
                Weight::Stop => DiagnosticSeverity::Error,
                Weight::Warning => DiagnosticSeverity::Warning,
                Weight::Note => DiagnosticSeverity::Information,
            }),
            code: Some(Code::String(problem.kind.to_owned())),
            source: Some("hardlid".to_owned()),
            message: Message::String(message),
            related_information: (!about.is_empty()).then_some(about),
            ..Diagnostic::default()
        });
    }
    out
}

/// A place in a file of the pile, with words for it.
type Located = (String, Arc<Text>, Location);

fn located(pile: &Pile, place: &Place) -> Option<Located> {
    let Place::Book { text, span } = place else { return None };
    let layer = &pile.layers[pile.layer_of(text)?];
    let Stands::At(uri) = &layer.stands else { return None };
    let location = Location { uri: Uri(uri.clone()), range: layer.page.range(seen(text, *span)) };
    Some((format!("{}, line {}", text.name, text.line(span.start as usize)), Arc::clone(text), location))
}

/// A part that can be seen: what is empty gets the letter before it.
fn seen(text: &Text, span: Span) -> Span {
    if span.start < span.end {
        return span;
    }
    let at = (span.start as usize).min(text.text.len());
    let before = text.text.get(..at).and_then(|t| t.chars().next_back()).filter(|c| *c != '\n');
    Span::new(at - before.map_or(0, char::len_utf8), at)
}

/// The marked parts of a problem's first place.
fn marks(pile: &Pile, problem: &Problem, text: &Arc<Text>) -> Vec<Located> {
    let said = problem.marks.iter().filter(|m| !m.says.is_empty());
    let one = |mark: &crate::problem::Mark| {
        let (_, text, location) = located(pile, &Place::Book { text: Arc::clone(text), span: mark.span })?;
        Some((mark.says.clone(), text, location))
    };
    said.filter_map(one).collect()
}

/// Where something is that is no place in a book of the pile.
fn whereabouts(place: &Place) -> String {
    match place {
        Place::Book { text, span } => format!(" ({}, line {})", text.name, text.line(span.start as usize)),
        Place::Cell(cell) => format!(" ({cell})"),
        Place::File(file) => format!(" ({file})"),
    }
}
