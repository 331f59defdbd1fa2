//! What the books declare, layer upon layer: names before any of them is worked out.
//!
//! Here are the kinds of rows; `fields` has what a cell of them may hold, `parts` what else is declared or replaced, and
//! `names` what a name may look like.

mod clashes;
mod fields;
mod names;
mod parts;
mod rows_of;

use super::BookSource;
use super::emit::{Emit, Here, NO_KIND};
use super::native::Natives;
use super::node::Cause;
use super::schema::{BookUsed, Field, FieldId, Input, KindId, Parent, RowKind, Schema, SiteId, Type};
use crate::notation::split::MOST_PROBLEMS;
use crate::notation::tree::{
    BuyingLine, CheckLine, CuttingLine, Define, DividingLine, Example, Formula, ItemLine, Name, OptionsLine, Part,
    Replaces, RowsBlock, TableBlock, TellingLine,
};
use crate::problem::{Problem, Weight, nearest::nearest};
use crate::quantity::Unit;
use crate::quantity::show::Style;
use crate::source::{Span, Text};
use clashes::Clash;
use indexmap::IndexMap;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;
use std::sync::Arc;

/// How many kinds of rows books may read: sheets of a workbook.
const MAX_KINDS: usize = 200;
/// The kind of problem that a limit of the whole book is.
pub(super) const TOO_LARGE: &str = "book too large";

/// Something declared, with the book that declares it and that book's layer.
#[derive(Clone, Debug)]
pub struct Declared<T> {
    /// What.
    pub what: T,
    /// The book's text.
    pub text: Arc<Text>,
    /// Layer, from 0 for the lowest.
    pub layer: usize,
}

/// Where something is declared: in which layer, and its name in that book.
#[derive(Clone, Debug)]
pub(in crate::program) struct Stand {
    pub layer: usize,
    pub text: Arc<Text>,
    pub span: Span,
}

impl<T> Declared<T> {
    /// Where it is declared, by the place of its name.
    pub(in crate::program) fn stand(&self, span: impl Fn(&T) -> Span) -> Stand {
        Stand { layer: self.layer, text: Arc::clone(&self.text), span: span(&self.what) }
    }
}

/// All that the books declare.
#[derive(Debug, Default)]
pub struct Declarations {
    /// Row kinds and fields; formulas' types are filled in later.
    pub schema: Schema,
    /// Nodes, with the sites of blank and unreadable cells.
    pub emit: Emit,
    /// Problems so far.
    pub problems: Vec<Problem>,
    /// Formula of a field.
    pub formulas: FxHashMap<FieldId, Declared<Arc<Formula>>>,
    /// Formulas that were replaced, for the check of their type.
    pub replaced_formulas: Vec<(FieldId, Declared<Arc<Formula>>)>,
    /// Tables by name.
    pub tables: IndexMap<String, Declared<TableBlock>>,
    /// Tables that were replaced, by name, lowest first.
    pub replaced_tables: IndexMap<String, Declared<TableBlock>>,
    /// Functions by name.
    pub defines: IndexMap<String, Declared<Define>>,
    /// Functions that were replaced.
    pub replaced_defines: IndexMap<String, Declared<Define>>,
    /// Checks by kind and name.
    pub checks: IndexMap<(KindId, String), Declared<CheckLine>>,
    /// Items and labor by kind and name.
    pub items: IndexMap<(KindId, String), Declared<ItemLine>>,
    /// Examples.
    pub examples: Vec<Declared<Example>>,
    /// Fields of each kind by name.
    pub by_name: Vec<FxHashMap<String, FieldId>>,
    /// The job.
    pub job: KindId,
    /// The priced lines.
    pub lines: KindId,
    /// Native functions.
    pub natives: Natives,
    /// The options, as the uppermost book states them.
    pub options: Option<Declared<OptionsLine>>,
    /// How pieces are cut, as the uppermost book states it.
    pub cutting: Option<Declared<CuttingLine>>,
    /// What the bid tells, as the uppermost book states it.
    pub telling: Option<Declared<TellingLine>>,
    /// How the bid is divided, as the uppermost book states it.
    pub dividing: Option<Declared<DividingLine>>,
    /// Whose prices serve, as the uppermost book states it.
    pub buying: Option<Declared<BuyingLine>>,
    /// Names of options in any layer: a lower book's formulas may speak of one that an upper book has dropped.
    pub option_names: Vec<String>,
    pub(super) field_layers: FxHashMap<FieldId, usize>,
    /// Where a book has a whole table, by layer and name.
    own_tables: FxHashMap<(usize, String), Span>,
    layers: Vec<Layer>,
    clashes: Vec<Clash>,
    /// Names that stand in statements with mistakes of their own: what speaks of one says nothing new by not finding it.
    pub(super) unread: BTreeSet<String>,
    /// Whether a book that is used is not there.
    pub(super) lacking: bool,
    /// Rows whose parent is not known, whose fields they may speak of.
    pub(super) lost: BTreeSet<KindId>,
    /// Whether something was not told, because it follows from what is.
    pub(super) untold: bool,
}

/// A layer, and those that it uses.
#[derive(Debug)]
struct Layer {
    text: Arc<Text>,
    lower: BTreeSet<usize>,
}

/// Gathers the declarations of books, lowest layer first.
#[must_use]
pub fn declare(sources: &[BookSource], natives: Natives) -> Declarations {
    let mut d = Declarations { natives, ..Declarations::default() };
    d.job = d.add_kind("job", None, true);
    d.lines = d.add_kind("lines", None, false);
    d.declare_lines();
    for BookSource { book, file, digest, lower, .. } in sources {
        d.schema.books.push(BookUsed {
            title: book.title.clone(),
            edition: book.edition.clone(),
            file: file.clone(),
            digest: digest.clone(),
        });
        d.layers.push(Layer { text: Arc::clone(&book.text), lower: lower.clone() });
        d.schema.metric = book.metric;
        d.unread.extend(book.unread.iter().cloned());
        d.lacking |= book.lacking;
        d.lower_case(book);
    }
    // row kinds first, in every layer, so that order within a book never matters
    let books = || sources.iter().map(|s| &s.book).enumerate();
    for (layer, book) in books() {
        for part in book.parts.iter() {
            if let Part::Rows(block) = part {
                d.rows(&book.text, layer, block);
            }
            if let Part::Table(block) = part
                && block.replaces != Replaces::Rows
            {
                d.own_tables.entry((layer, block.name.name.clone())).or_insert(block.name.span);
            }
        }
    }
    for (layer, book) in books() {
        for part in book.parts.iter() {
            d.part(&book.text, layer, part);
        }
    }
    d.settle_options();
    d.settle_clashes();
    let sheets = d.tables.values().flat_map(|t| sources[t.layer].sheets.iter().filter(|s| s.table == t.what.name.name));
    d.schema.sheets = sheets.cloned().collect();
    d
}

/// Problems whose place is a name that nothing declares.
const NOT_FOUND: [&str; 4] = ["unknown name", "unknown function", "unknown rows", "nothing to replace"];

/// A name in plain words: `last_tee` is "Last tee".
#[must_use]
pub fn plain_words(name: &str) -> String {
    let spaced = name.replace('_', " ");
    let mut chars = spaced.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + chars.as_str())
}

impl Declarations {
    /// A problem at a place of a book.
    pub fn problem(&mut self, text: &Arc<Text>, span: Span, kind: &'static str, what: String, fix: String) {
        let name = text.text.get(span.range()).unwrap_or("");
        let unread = self.unread.contains(name);
        // a value that could not be read is no name: whatever is said of it follows from that
        if NOT_FOUND.contains(&kind) && (self.lacking || unread) || unread && !name.starts_with(char::is_alphabetic) {
            self.untold = true;
            return;
        }
        let problem = Problem::stop(kind, what).in_book(text, span);
        self.tell(if fix.is_empty() { problem } else { problem.fix(fix) });
    }

    /// Tells that a limit of the whole book is passed, where that first happens.
    pub fn too_large(&mut self, text: &Arc<Text>, span: Span, what: String, fix: &str) {
        if !self.problems.iter().any(|p| p.kind == TOO_LARGE && p.what == what) {
            self.problem(text, span, TOO_LARGE, what, fix.to_owned());
        }
    }

    /// Tells a problem, up to so many: a book with that many is refused, and one more says nothing new.
    pub fn tell(&mut self, problem: Problem) {
        if self.problems.len() < MOST_PROBLEMS || self.problems.last().is_none_or(|p| p.weight != Weight::Stop) {
            self.problems.push(problem);
        }
    }

    fn add_kind(&mut self, name: &str, sheet: Option<String>, single: bool) -> KindId {
        let id = KindId(u32::try_from(self.schema.kinds.len()).unwrap_or(u32::MAX));
        self.schema.kinds.push(RowKind {
            name: name.to_owned(),
            sheet,
            parent: None,
            fields: Vec::new(),
            key: None,
            single,
        });
        self.by_name.push(FxHashMap::default());
        id
    }

    /// The columns of priced lines, which the job's formulas may bring together.
    fn declare_lines(&mut self) {
        let text = Text::new("the engine", "");
        let kinds = vec!["material".to_owned(), "labor".to_owned()];
        for (name, ty, one_of) in [
            ("kind", Type::Text, kinds),
            ("code", Type::Text, Vec::new()),
            ("item", Type::Text, Vec::new()),
            ("cost", Type::of(crate::quantity::Dimension::MONEY), Vec::new()),
            ("hours", Type::of(crate::quantity::Dimension::TIME), Vec::new()),
        ] {
            let lines = self.lines;
            let id =
                self.add_field(lines, name, ty, Unit::kept(ty.dimension().unwrap_or_default()), &text, Span::default());
            let here = Here { kind: lines, text: Arc::clone(&text), span: Span::default() };
            self.schema.fields[id.0 as usize].input = Some(Input {
                headings: vec![plain_words(name)],
                may_be_blank: true,
                default: None,
                stock_of: None,
                low: None,
                high: None,
                one_of,
                missing: self.emit.site(&here, Cause::Missing(id)),
                unreadable: self.emit.site(&here, Cause::Unreadable(id)),
            });
        }
    }

    /// Adds a field to a kind.
    pub fn add_field(
        &mut self,
        kind: KindId,
        name: &str,
        ty: Type,
        unit: Unit,
        text: &Arc<Text>,
        span: Span,
    ) -> FieldId {
        let id = FieldId(u32::try_from(self.schema.fields.len()).unwrap_or(u32::MAX));
        self.schema.fields.push(Field {
            kind,
            name: name.to_owned(),
            label: plain_words(name),
            ty,
            unit,
            style: Style { metric: self.schema.metric, percent: ty == Type::PERCENT, ..Style::default() },
            input: None,
            hidden: false,
            note: None,
            source: None,
            text: Arc::clone(text),
            span,
        });
        self.schema.kinds[kind.0 as usize].fields.push(id);
        if !name.is_empty() {
            self.by_name[kind.0 as usize].insert(name.to_owned(), id);
        }
        id
    }

    /// A place for each field where a value too large begins; the first of them.
    pub fn outgrown_sites(&mut self) -> SiteId {
        let first = SiteId(u32::try_from(self.emit.sites.len()).unwrap_or(u32::MAX));
        for (i, field) in self.schema.fields.iter().enumerate() {
            let here = Here { kind: field.kind, text: Arc::clone(&field.text), span: field.span };
            self.emit.site(&here, Cause::Outgrown(FieldId(u32::try_from(i).unwrap_or(u32::MAX))));
        }
        first
    }

    fn rows(&mut self, text: &Arc<Text>, layer: usize, block: &RowsBlock) {
        let name = &block.name.name;
        if name == "lines" {
            let what = "Lines are made by the engine from items and labor; a book cannot declare them.".to_owned();
            return self.problem(text, block.name.span, "name already used", what, "another name".to_owned());
        }
        let known = self.schema.kind_named(name);
        if known.is_none() && self.schema.kinds.len() >= MAX_KINDS {
            // what speaks of these rows says nothing new by not finding them
            self.unread.insert(name.clone());
            let what = format!("These books read more than {MAX_KINDS} kinds of rows.");
            return self.too_large(text, block.name.span, what, "fewer kinds of rows");
        }
        let kind = known.unwrap_or_else(|| self.add_kind(name, None, false));
        if let Some(sheet) = &block.sheet {
            self.schema.kinds[kind.0 as usize].sheet = Some(sheet.clone());
        } else if self.schema.kind(kind).sheet.is_none() && kind != self.job {
            let fix = format!("rows {name} from \"{}\"", plain_words(name));
            self.problem(
                text,
                block.name.span,
                "rows without a sheet",
                format!("It is not said which sheet {name} are read from."),
                fix,
            );
        }
        if let Some((parent, headings)) = &block.belongs {
            match self.schema.kind_named(&parent.name) {
                Some(p) if p != kind && !self.is_below(p, kind) => {
                    self.schema.kinds[kind.0 as usize].parent = Some(Parent { kind: p, headings: headings.clone() });
                }
                Some(_) => {
                    let what =
                        format!("{} cannot belong to {}, which belongs to them.", plain_words(name), parent.name);
                    self.problem(text, parent.span, "rows in a ring", what, "let one of them stand alone".to_owned());
                }
                None => {
                    self.unknown_kind(text, parent);
                    self.unread.insert(name.clone());
                    self.lost.insert(kind);
                }
            }
        }
        for field in &block.fields {
            self.input_field(text, layer, kind, field);
        }
    }

    fn is_below(&self, kind: KindId, above: KindId) -> bool {
        let mut at = Some(kind);
        while let Some(k) = at {
            if k == above {
                return true;
            }
            at = self.schema.kind(k).parent.as_ref().map(|p| p.kind);
        }
        false
    }

    fn unknown_kind(&mut self, text: &Arc<Text>, name: &Name) {
        let near = nearest(&name.name, self.schema.kinds.iter().map(|k| k.name.as_str())).map(str::to_owned);
        let fix = near.unwrap_or_else(|| format!("declare it first: rows {} from \"…\"", name.name));
        self.problem(text, name.span, "unknown rows", format!("No rows are called '{}'.", name.name), fix);
    }
}

/// A site's place for something that stands in no row.
#[must_use]
pub fn nowhere(text: &Arc<Text>, span: Span) -> Here {
    Here { kind: NO_KIND, text: Arc::clone(text), span }
}
