//! Where a name is declared, where it is said, and another name for it.

use super::context::meaning_at;
use super::desk::{Pile, Stands};
use super::meaning::{JOB, Meaning, Meanings, Said};
use super::server::View;
use crate::notation::read_book;
use crate::notation::tree::{Book, FieldClause, Part};
use crate::program::declare::plain_words;
use crate::program::library::FILE;
use crate::program::{builtin, native};
use crate::source::{Span, Text};
use gen_lsp_types::{Location, Range, TextEdit, Uri};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The changes of a book: what is written in the place of each part.
type Edits = BTreeMap<Span, (Range, String)>;

/// Why nothing is done, as a sentence.
#[derive(Debug)]
pub(super) struct Refused(pub(super) String);

impl Refused {
    fn because<T>(why: impl Into<String>) -> Result<T, Self> {
        Err(Self(why.into()))
    }
}

/// Where what stands at a byte is declared: as it is in force; from a statement that takes the place of another, that
/// other one.
pub(super) fn definition(view: &View, offset: usize, uri: &dyn Fn(&Stands) -> Option<String>) -> Option<Location> {
    let said = meaning_at(view, offset)?;
    let (book, span) = match said.meaning.clone() {
        Meaning::Book(name) => (book_called(&view.pile, &name)?, Span::default()),
        meaning => {
            let declared = view.meanings().declared(&meaning);
            let here = (view.pile.top(), said.span);
            let below = declared.iter().rev().find(|at| said.declares && **at < here);
            *below.or(declared.last())?
        }
    };
    let layer = &view.pile.layers[book];
    Some(Location { uri: Uri(uri(&layer.stands)?), range: layer.page.range(span) })
}

/// The layer of a book by the name under which it is used.
pub(super) fn book_called(pile: &Pile, name: &str) -> Option<usize> {
    let is = |source: &crate::program::BookSource| match source.file.as_str() {
        FILE => source.book.text.name.eq_ignore_ascii_case(name),
        file => file == name,
    };
    pile.sources.iter().position(is)
}

/// The views in which a meaning is the same as in the first: those that have the book which declares it first.
fn sharing<'v>(view: &'v View, others: &'v [Rc<View>], meaning: &Meaning) -> Vec<&'v View> {
    let first = |view: &'v View| {
        let declared = view.meanings().declared(meaning);
        declared.first().map(|(book, _)| &view.pile.layers[*book].stands)
    };
    let own = first(view);
    let same = others.iter().map(Rc::as_ref).filter(|other| first(other) == own);
    std::iter::once(view).chain(same).collect()
}

/// Every place where what stands at a byte is said.
pub(super) fn references(view: &View, others: &[Rc<View>], offset: usize, declared: bool) -> Vec<Location> {
    let Some(said) = meaning_at(view, offset) else { return Vec::new() };
    let mut out: BTreeMap<(String, Span), Range> = BTreeMap::new();
    for view in sharing(view, others, &said.meaning) {
        for (book, said) in view.meanings().said_of(&said.meaning).filter(|(_, s)| declared || !s.declares) {
            let layer = &view.pile.layers[book];
            if let Stands::At(uri) = &layer.stands {
                out.insert((uri.clone(), said.span), layer.page.range(said.span));
            }
        }
    }
    out.into_iter().map(|((uri, _), range)| Location { uri: Uri(uri), range }).collect()
}

/// The name at a byte, where it may be changed.
pub(super) fn nameable(view: &View, offset: usize) -> Result<(Range, String), Refused> {
    let top = view.pile.top();
    let (Some(said), Some(layer)) = (view.meanings().at(top, offset), view.pile.layers.get(top)) else {
        return Refused::because("No name stands here that could be changed.");
    };
    let name = layer.page.text.text.get(said.span.range()).unwrap_or("").to_owned();
    match &said.meaning {
        Meaning::Function(f) if builtin::named(f).is_some() || native::named(crate::natives(), f).is_some() => {
            return Refused::because(format!("'{f}' is a function of the language and keeps its name."));
        }
        Meaning::Rows(rows) if *rows == JOB || rows == "lines" => {
            return Refused::because(format!("Every book has '{rows}'; it keeps its name."));
        }
        Meaning::Field { rows, .. } if rows == "lines" => {
            return Refused::because(format!("'{name}' is a column of every priced line; it keeps its name."));
        }
        Meaning::Choice(word) | Meaning::Word { word, .. } => {
            let why = "it also stands in workbooks, where nothing would change";
            return Refused::because(format!("'{word}' is a word of a list and keeps its name: {why}."));
        }
        Meaning::Book(book) => return Refused::because(format!("'{book}' is called as its file is.")),
        _ => {}
    }
    let declared = view.meanings().declared(&said.meaning);
    let built_in = declared.iter().find_map(|(book, _)| match &view.pile.layers[*book].stands {
        Stands::BuiltIn(book) => Some(book),
        Stands::At(_) => None,
    });
    if let Some(book) = built_in {
        return Refused::because(format!(
            "'{name}' is a name of the built-in book {book}; it can be replaced, not renamed."
        ));
    }
    if declared.is_empty() {
        return Refused::because(format!("Nothing declares '{name}', so it cannot be renamed."));
    }
    Ok((layer.page.range(said.span), name))
}

/// The changes, by address, that give what stands at a byte another name.
pub(super) fn rename(
    view: &View,
    others: &[Rc<View>],
    offset: usize,
    new: &str,
) -> Result<BTreeMap<String, Vec<TextEdit>>, Refused> {
    let (_, old) = nameable(view, offset)?;
    let Some(said) = view.meanings().at(view.pile.top(), offset) else {
        return Refused::because("No name stands here that could be changed.");
    };
    let new = new.trim();
    let letters = |c: char| c.is_ascii_alphanumeric() || c == '_';
    if !new.starts_with(|c: char| c.is_ascii_alphabetic()) || !new.chars().all(letters) {
        return Refused::because(format!("'{new}' is no name: a letter comes first, then letters, digits and '_'."));
    }
    if new.contains(|c: char| c.is_uppercase()) {
        return Refused::because(format!("'{new}' has a capital letter; names are lower case."));
    }
    if new == old {
        return Ok(BTreeMap::new());
    }
    let sharing = sharing(view, others, &said.meaning);
    let named = renamed(&said.meaning, &said.meaning, new);
    for view in &sharing {
        taken(view.meanings(), &named)?;
    }
    let mut edits: BTreeMap<String, Edits> = BTreeMap::new();
    for view in &sharing {
        for (book, said) in view.meanings().said_of(&said.meaning) {
            let layer = &view.pile.layers[book];
            if let Stands::At(uri) = &layer.stands {
                let edit = (layer.page.range(said.span), new.to_owned());
                edits.entry(uri.clone()).or_default().insert(said.span, edit);
            }
        }
        for (layer, source) in view.pile.layers.iter().zip(&view.pile.sources) {
            if let (Stands::At(uri), Some((span, heading))) =
                (&layer.stands, heading_kept(&source.book, &said.meaning, new))
            {
                edits.entry(uri.clone()).or_default().insert(span, (layer.page.range(span), heading));
            }
        }
    }
    for view in &sharing {
        if !holds(view, &edits, &said.meaning, new) {
            return Refused::because(format!("Called '{new}', some name would mean something else than it does."));
        }
    }
    let edit = |(range, new_text)| TextEdit { range, new_text };
    Ok(edits.into_iter().map(|(uri, spans)| (uri, spans.into_values().map(edit).collect())).collect())
}

/// The heading that a column goes by while it has none of its own, put after its type: sheets are headed by the old name.
fn heading_kept(book: &Book, meaning: &Meaning, new: &str) -> Option<(Span, String)> {
    let Meaning::Field { rows, name } = meaning else { return None };
    let mut blocks = book.parts.iter().filter_map(|part| match part {
        Part::Rows(block) if block.name.name == *rows => Some(block),
        _ => None,
    });
    let line = blocks.find_map(|block| block.fields.iter().find(|line| line.name.name == *name))?;
    let headed = line.clauses.iter().any(|clause| matches!(clause, FieldClause::Heading(_)));
    let (heading, end) = (plain_words(name), line.ty.span.end);
    (!headed && heading != plain_words(new)).then(|| (Span { start: end, end }, format!(" heading \"{heading}\"")))
}

/// Refuses a name that something else has.
fn taken(meanings: &Meanings, named: &Meaning) -> Result<(), Refused> {
    let already = |name: &str, what: &str| Refused::because(format!("'{name}' is already {what}."));
    match named {
        Meaning::Rows(rows) if meanings.kinds.contains_key(rows) => already(rows, "the name of other rows"),
        Meaning::Field { rows, name } => {
            let above = meanings.reach(rows);
            let below = meanings.kinds.keys().filter(|k| meanings.reach(k).contains(&rows.as_str()));
            let mut near = above.into_iter().chain(below.map(String::as_str));
            let other = near.find(|k| meanings.kinds.get(*k).is_some_and(|k| k.fields.contains_key(name)));
            other.map_or(Ok(()), |rows| already(name, &format!("a name of {rows}")))
        }
        Meaning::Function(name) | Meaning::Table(name) if meanings.is_function(name) => {
            already(name, "the name of another function")
        }
        Meaning::Check { rows, name } if !meanings.declared(named).is_empty() => {
            already(name, &format!("a check of {rows}"))
        }
        Meaning::Item { rows, name } if !meanings.declared(named).is_empty() => {
            already(name, &format!("an item or labor of {rows}"))
        }
        Meaning::Part { of, name } if !meanings.declared(named).is_empty() => already(name, &format!("a name of {of}")),
        _ => Ok(()),
    }
}

/// A meaning after another one has got a new name.
fn renamed(meaning: &Meaning, old: &Meaning, new: &str) -> Meaning {
    let new = || new.to_owned();
    let is = meaning == old;
    // what belongs to a kind, a field, a definition or a table follows its name
    let of_rows = |rows: &String| if *old == Meaning::Rows(rows.clone()) { new() } else { rows.clone() };
    match meaning.clone() {
        Meaning::Rows(_) if is => Meaning::Rows(new()),
        Meaning::Field { rows, name } => Meaning::Field { rows: of_rows(&rows), name: if is { new() } else { name } },
        Meaning::Check { rows, name } => Meaning::Check { rows: of_rows(&rows), name: if is { new() } else { name } },
        Meaning::Item { rows, name } => Meaning::Item { rows: of_rows(&rows), name: if is { new() } else { name } },
        Meaning::Function(_) if is => Meaning::Function(new()),
        Meaning::Table(_) if is => Meaning::Table(new()),
        Meaning::Part { of, name } => {
            let follows = [Meaning::Function(of.clone()), Meaning::Table(of.clone())].contains(old);
            Meaning::Part { of: if follows { new() } else { of }, name: if is { new() } else { name } }
        }
        Meaning::Word { rows, field, word } => {
            let follows = *old == Meaning::Field { rows: rows.clone(), name: field.clone() };
            Meaning::Word { rows: of_rows(&rows), field: if follows { new() } else { field }, word }
        }
        other => other,
    }
}

/// Whether, after the changes, every name of a pile means what it meant, and no mistake is new.
fn holds(view: &View, edits: &BTreeMap<String, Edits>, old: &Meaning, new: &str) -> bool {
    let mut books: Vec<Book> = Vec::new();
    for (layer, source) in view.pile.layers.iter().zip(&view.pile.sources) {
        let changes = match &layer.stands {
            Stands::At(uri) => edits.get(uri),
            Stands::BuiltIn(_) => None,
        };
        let Some(changes) = changes else {
            books.push(source.book.clone());
            continue;
        };
        let mut text = layer.page.text.text.clone();
        for (span, (_, written)) in changes.iter().rev() {
            text.replace_range(span.range(), written);
        }
        let (book, problems) = read_book(&Text::new(layer.page.text.name.as_str(), &text));
        if problems.len() > layer.page.tree().1.len() {
            return false;
        }
        books.push(book);
    }
    let now = Meanings::of(books.iter(), crate::natives());
    let means = |said: &Said| renamed(&said.meaning, old, new);
    let before = view.meanings().said.iter();
    before.zip(&now.said).all(|(before, now)| {
        before.len() == now.len()
            && before.iter().zip(now).all(|(b, n)| means(b) == n.meaning && b.declares == n.declares)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_belongs_to_a_name_follows_it() {
        let field = |rows: &str, name: &str| Meaning::Field { rows: rows.to_owned(), name: name.to_owned() };
        let rows = Meaning::Rows("rooms".to_owned());
        assert_eq!(renamed(&field("rooms", "tees"), &rows, "areas"), field("areas", "tees"));
        assert_eq!(renamed(&field("rooms", "tees"), &field("rooms", "tees"), "main"), field("rooms", "main"));
        assert_eq!(renamed(&field("job", "tees"), &field("rooms", "tees"), "main"), field("job", "tees"));
    }
}
