//! What the books declare, layer upon layer: names before any of them is worked out.

mod names;

use super::emit::{Emit, Here, NO_KIND};
use super::literals::{example_of, literal_value};
use super::native::Natives;
use super::node::Cause;
use super::schema::{
    BookUsed, Field, FieldId, Input, KindId, LineKind, Parent, Replaced, RowKind, Schema, SiteId, Type, Value,
};
use super::types::{TYPES, read_type};
use crate::notation::tree::{
    Book, CheckLine, Define, Example, Expr, FieldClause, FieldLine, ForLine, Formula, ItemLine, Name, OptionsLine,
    Part, RowsBlock, TableBlock, TypeName,
};
use crate::problem::{Problem, nearest::nearest};
use crate::quantity::Unit;
use crate::quantity::show::Style;
use crate::source::{Span, Text};
use indexmap::IndexMap;
use rustc_hash::FxHashMap;
use std::sync::Arc;

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
    pub formulas: FxHashMap<FieldId, Declared<Formula>>,
    /// Formulas that were replaced, for the check of their type.
    pub replaced_formulas: Vec<(FieldId, Declared<Formula>)>,
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
    /// Names of options in any layer: a lower book's formulas may speak of one that an upper book has dropped.
    pub option_names: Vec<String>,
    pub(super) field_layers: FxHashMap<FieldId, usize>,
}

/// Gathers the declarations of books, lowest layer first.
#[must_use]
pub fn declare(books: &[Book], digests: &[(String, String)], natives: Natives) -> Declarations {
    let mut d = Declarations { natives, ..Declarations::default() };
    d.job = d.add_kind("job", None, true);
    d.lines = d.add_kind("lines", None, false);
    d.declare_lines();
    for (book, (file, digest)) in books.iter().zip(digests) {
        d.schema.books.push(BookUsed {
            title: book.title.clone(),
            edition: book.edition.clone(),
            file: file.clone(),
            digest: digest.clone(),
        });
        d.schema.metric = book.metric;
        d.lower_case(book);
    }
    // row kinds first, in every layer, so that order within a book never matters
    for (layer, book) in books.iter().enumerate() {
        for part in &book.parts {
            if let Part::Rows(block) = part {
                d.rows(&book.text, layer, block);
            }
        }
    }
    for (layer, book) in books.iter().enumerate() {
        for part in &book.parts {
            d.part(&book.text, layer, part);
        }
    }
    d.settle_options();
    d
}

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
        let problem = Problem::stop(kind, what).in_book(text, span);
        self.problems.push(if fix.is_empty() { problem } else { problem.fix(fix) });
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
        let kind = self.schema.kind_named(name).unwrap_or_else(|| self.add_kind(name, None, false));
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
                None => self.unknown_kind(text, parent),
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

    /// A type by its name; an unknown one is a problem.
    pub fn type_of(&mut self, text: &Arc<Text>, name: &TypeName) -> Option<(Type, Option<Unit>)> {
        let read = read_type(&name.text);
        if read.is_err() {
            let near = nearest(&name.text, TYPES.iter().map(|t| t.0))
                .unwrap_or("a type such as length, area, count, text, money or $/ft");
            self.problem(text, name.span, "unknown type", format!("'{}' is not a type.", name.text), near.to_owned());
        }
        read.ok()
    }

    fn input_field(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &FieldLine) {
        let Some((ty, unit)) = self.type_of(text, &line.ty) else { return };
        if let Type::Thing(_) = ty {
            let what =
                format!("{} is worked out; it cannot be read from a cell.", super::operators::capital(&ty.words()));
            return self.problem(text, line.ty.span, "wrong type", what, "a formula in a block 'for'".to_owned());
        }
        let unit = unit.unwrap_or_else(|| Unit::kept(ty.dimension().unwrap_or_default()));
        let name = &line.name.name;
        let id = match self.by_name[kind.0 as usize].get(name).copied() {
            Some(id) if self.field_layers.get(&id) == Some(&layer) => {
                let what = format!("'{name}' is declared twice.");
                return self.problem(
                    text,
                    line.name.span,
                    "name already used",
                    what,
                    "another name, or take one of them out".to_owned(),
                );
            }
            Some(id) if self.schema.field(id).ty != ty => {
                let what = format!(
                    "'{name}' is {} in a lower book and {} here.",
                    self.schema.field(id).ty.words(),
                    ty.words()
                );
                return self.problem(
                    text,
                    line.ty.span,
                    "type changed",
                    what,
                    "the same type as in the lower book".to_owned(),
                );
            }
            Some(id) => id,
            None => self.add_field(kind, name, ty, unit, text, line.span),
        };
        self.field_layers.insert(id, layer);
        let here = Here { kind, text: Arc::clone(text), span: line.span };
        let mut input = Input {
            headings: Vec::new(),
            may_be_blank: false,
            default: None,
            low: None,
            high: None,
            one_of: Vec::new(),
            missing: self.emit.site(&here, Cause::Missing(id)),
            unreadable: self.emit.site(&here, Cause::Unreadable(id)),
        };
        for clause in &line.clauses {
            self.field_clause(text, id, &mut input, clause);
        }
        let own = plain_words(name);
        let label = input.headings.first().cloned().unwrap_or_else(|| own.clone());
        input.headings.push(own);
        if let Some(Value::Text(t)) = &input.default
            && !input.one_of.is_empty()
            && !input.one_of.iter().any(|m| m.eq_ignore_ascii_case(t))
        {
            let what = format!("'{t}' is not one of {}.", input.one_of.join(" "));
            self.problem(text, line.span, "not in the list", what, "one of the words of the list".to_owned());
        }
        let field = &mut self.schema.fields[id.0 as usize];
        field.label = label;
        field.input = Some(input);
        field.text = Arc::clone(text);
        field.span = line.span;
    }

    fn field_clause(&mut self, text: &Arc<Text>, id: FieldId, input: &mut Input, clause: &FieldClause) {
        let ty = self.schema.field(id).ty;
        match clause {
            FieldClause::Heading(headings) => input.headings.extend(headings.iter().cloned()),
            FieldClause::Key => {
                let kind = self.schema.field(id).kind;
                self.schema.kinds[kind.0 as usize].key = Some(id);
            }
            FieldClause::Limit { low, value, inclusive } => {
                if let Some(Value::Number(n)) = self.value_for(text, value, id) {
                    *(if *low { &mut input.low } else { &mut input.high }) = Some((n, *inclusive));
                }
            }
            FieldClause::OneOf(members) if ty == Type::Text => {
                input.one_of.extend(members.iter().map(|m| m.name.clone()))
            }
            FieldClause::OneOf(members) => {
                let what = format!("Only a text can be one of a list of words; this is {}.", ty.words());
                let span = members.first().map_or(Span::default(), |m| m.span);
                self.problem(text, span, "wrong type", what, "from 1 to 3, or the type text".to_owned());
            }
            FieldClause::MayBeBlank => input.may_be_blank = true,
            FieldClause::Otherwise(value) => input.default = self.value_for(text, value, id),
            FieldClause::Shown(shown) => self.shown(text, id, shown),
            FieldClause::Source(s) => self.schema.fields[id.0 as usize].source = Some(s.clone()),
            FieldClause::Note(n) => self.schema.fields[id.0 as usize].note = Some(n.clone()),
        }
    }

    /// How a field is shown.
    pub fn shown(&mut self, text: &Arc<Text>, id: FieldId, shown: &crate::notation::tree::Shown) {
        use crate::notation::tree::Shown;
        let ty = self.schema.field(id).ty;
        match shown {
            Shown::To(step) => {
                if let Some(Value::Number(step)) = self.value_of(text, step, ty)
                    && !step.is_zero()
                {
                    self.schema.fields[id.0 as usize].style.step = Some(step);
                }
            }
            Shown::In(name, span) => match Unit::read(name) {
                Ok(unit) if Some(unit.dimension) == ty.dimension() => {
                    self.schema.fields[id.0 as usize].style.unit = Some((name.clone(), unit));
                }
                Ok(unit) => {
                    let what = format!(
                        "This is {}; it cannot be shown in {name}, which is {}.",
                        ty.words(),
                        unit.dimension.words()
                    );
                    self.problem(text, *span, "wrong unit", what, "a unit of the same kind".to_owned());
                }
                Err(part) => self.problem(
                    text,
                    *span,
                    "unknown unit",
                    format!("'{part}' is not a unit."),
                    "a unit such as in, ft, sf or psf".to_owned(),
                ),
            },
        }
    }

    /// A literal as a value of a field, in base units, that fits the field's own unit as well.
    fn value_for(&mut self, text: &Arc<Text>, expr: &Expr, id: FieldId) -> Option<Value> {
        let (ty, unit) = (self.schema.field(id).ty, self.schema.field(id).unit);
        let value = self.value_of(text, expr, ty)?;
        if matches!(&value, Value::Number(n) if n.scaled(unit.factor.recip()).is_err()) {
            let what = "This number is too large to be worked with.".to_owned();
            self.problem(text, expr.span, "number too large", what, example_of(ty).to_owned());
            return None;
        }
        Some(value)
    }

    /// A literal as a value of a type, in base units; a wrong one is a problem.
    pub fn value_of(&mut self, text: &Arc<Text>, expr: &Expr, ty: Type) -> Option<Value> {
        match literal_value(expr, ty) {
            Ok(value) => Some(value),
            Err(found) => {
                let what = format!("This is {found}; {} is needed.", ty.words());
                self.problem(text, expr.span, "wrong type", what, example_of(ty).to_owned());
                None
            }
        }
    }

    fn part(&mut self, text: &Arc<Text>, layer: usize, part: &Part) {
        match part {
            Part::Use(..) | Part::Rows(_) => {}
            Part::Table(block) => {
                let old =
                    self.replace_named(text, layer, &block.name, block.replace, "table", |d| &mut d.tables, block);
                if let Some(old) = old {
                    self.replaced_tables.entry(block.name.name.clone()).or_insert(old);
                }
            }
            Part::Define(define) => {
                let old = self.replace_named(
                    text,
                    layer,
                    &define.name,
                    define.replace,
                    "definition",
                    |d| &mut d.defines,
                    define,
                );
                if let Some(old) = old {
                    self.replaced_defines.entry(define.name.name.clone()).or_insert(old);
                }
            }
            Part::For(name, lines) => match self.schema.kind_named(&name.name) {
                Some(kind) if kind != self.lines => {
                    lines.iter().for_each(|line| self.for_line(text, layer, kind, line))
                }
                Some(_) => {
                    let what = "Lines are made by the engine; formulas over them stand in 'for job'.".to_owned();
                    self.problem(text, name.span, "unknown rows", what, "for job".to_owned());
                }
                None => self.unknown_kind(text, name),
            },
            Part::Example(example) => {
                self.examples.push(Declared { what: example.clone(), text: Arc::clone(text), layer });
            }
        }
    }

    /// Declares something by name, or replaces it; gives back what it replaced.
    #[allow(clippy::too_many_arguments)]
    fn replace_named<T: Clone>(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        name: &Name,
        replace: bool,
        word: &str,
        map: impl Fn(&mut Self) -> &mut IndexMap<String, Declared<T>>,
        what: &T,
    ) -> Option<Declared<T>> {
        let taken = super::builtin::named(&name.name).is_some()
            || super::native::named(self.natives, &name.name).is_some()
            || (word == "table" && self.defines.contains_key(&name.name))
            || (word == "definition" && self.tables.contains_key(&name.name));
        let old_layer = map(self).get(&name.name).map(|d| d.layer);
        let declared = Declared { what: what.clone(), text: Arc::clone(text), layer };
        match (old_layer, replace) {
            _ if taken => {
                let say = format!("'{}' is already the name of another function.", name.name);
                self.problem(text, name.span, "name already used", say, "another name".to_owned());
                None
            }
            (None, false) => {
                map(self).insert(name.name.clone(), declared);
                None
            }
            (Some(old), true) if old < layer => {
                self.note_replaced(&format!("{word} {}", name.name), old, layer);
                map(self).insert(name.name.clone(), declared)
            }
            (Some(_), _) => {
                let say = format!("There is already a {word} called '{}'.", name.name);
                let fix = if replace {
                    "take one of the two out".to_owned()
                } else {
                    format!("another name, or replace {word} {}", name.name)
                };
                self.problem(text, name.span, "name already used", say, fix);
                None
            }
            (None, true) => {
                let near = nearest(&name.name, map(self).keys().map(String::as_str)).map(str::to_owned);
                let say = format!("No lower book has a {word} called '{}' that could be replaced.", name.name);
                self.problem(
                    text,
                    name.span,
                    "nothing to replace",
                    say,
                    near.unwrap_or_else(|| "leave out 'replace'".to_owned()),
                );
                None
            }
        }
    }

    pub(super) fn note_replaced(&mut self, what: &str, old: usize, new: usize) {
        let title = |b: &BookUsed| format!("{} {}", b.title, b.edition).trim().to_owned();
        if let (Some(from), Some(by)) = (self.schema.books.get(old), self.schema.books.get(new)) {
            let replaced = Replaced { what: what.to_owned(), from: title(from), by: title(by) };
            self.schema.replaced.push(replaced);
        }
    }

    fn for_line(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &ForLine) {
        match line {
            ForLine::Formula(formula) => self.formula(text, layer, kind, formula),
            ForLine::Options(options) => self.options(text, layer, kind, options),
            ForLine::Check(check) => {
                let declared = Declared { what: check.clone(), text: Arc::clone(text), layer };
                let old = self.checks.get(&(kind, check.name.name.clone())).map(|d| d.layer);
                if self.may_declare(text, layer, kind, &check.name, check.replace, "check", old) {
                    self.checks.insert((kind, check.name.name.clone()), declared);
                }
            }
            ForLine::Item(item) => {
                let word = if item.what == LineKind::Labor { "labor" } else { "item" };
                let declared = Declared { what: item.clone(), text: Arc::clone(text), layer };
                let old = self.items.get(&(kind, item.name.name.clone())).map(|d| d.layer);
                if self.may_declare(text, layer, kind, &item.name, item.replace, word, old) {
                    self.items.insert((kind, item.name.name.clone()), declared);
                }
            }
        }
    }

    #[allow(clippy::too_many_arguments)]
    pub(super) fn may_declare(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        kind: KindId,
        name: &Name,
        replace: bool,
        word: &str,
        old: Option<usize>,
    ) -> bool {
        let rows = self.schema.kind(kind).name.clone();
        match (old, replace) {
            (None, false) => true,
            (Some(old), true) if old < layer => {
                self.note_replaced(&format!("{word} {} of {rows}", name.name), old, layer);
                true
            }
            (Some(_), _) => {
                let what = format!("There is already '{word} {}' for {rows}.", name.name);
                let fix = format!("another name, or replace {word} {} where a lower book has it", name.name);
                self.problem(text, name.span, "name already used", what, fix);
                false
            }
            (None, true) => {
                let what = format!("No lower book has '{word} {}' for {rows} that could be replaced.", name.name);
                self.problem(text, name.span, "nothing to replace", what, "leave out 'replace'".to_owned());
                false
            }
        }
    }

    fn formula(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, formula: &Formula) {
        let name = &formula.name;
        let declared = Declared { what: formula.clone(), text: Arc::clone(text), layer };
        let old = self.by_name[kind.0 as usize].get(&name.name).copied();
        let old_layer = old.map(|id| self.field_layers.get(&id).copied().unwrap_or(0));
        if old.is_some() && old == self.schema.options.as_ref().map(|o| o.field) {
            let what = format!("'{}' is the option that a row stands under.", name.name);
            return self.problem(text, name.span, "name already used", what, format!("replace options {}", name.name));
        }
        if let Some(id) = old
            && self.schema.field(id).input.is_some()
        {
            let what = format!("'{}' is already read from the sheet.", name.name);
            return self.problem(
                text,
                name.span,
                "name already used",
                what,
                "another name for what is worked out".to_owned(),
            );
        }
        if !self.may_declare(text, layer, kind, name, formula.replace, "formula", old_layer) {
            return;
        }
        let id = match old {
            Some(id) => {
                if let Some(before) = self.formulas.remove(&id) {
                    self.replaced_formulas.push((id, before));
                }
                id
            }
            None => self.add_field(
                kind,
                &name.name,
                Type::of(crate::quantity::Dimension::NONE),
                Unit::none(),
                text,
                formula.span,
            ),
        };
        self.field_layers.insert(id, layer);
        let field = &mut self.schema.fields[id.0 as usize];
        field.text = Arc::clone(text);
        field.span = formula.span;
        if let Some(label) = &formula.label {
            field.label.clone_from(label);
        }
        field.note.clone_from(&formula.note);
        field.source.clone_from(&formula.source);
        self.formulas.insert(id, declared);
    }
}

/// A site's place for something that stands in no row.
#[must_use]
pub fn nowhere(text: &Arc<Text>, span: Span) -> Here {
    Here { kind: NO_KIND, text: Arc::clone(text), span }
}
