//! What a checked book declares: row kinds, their fields, and what is bought and done for each row.
//!
//! Reading, pricing and writing see a book only through this.

pub use crate::notation::tree::{LineKind, Outcome};
use crate::quantity::show::{Style, show};
use crate::quantity::{Date, Dimension, Number, Unit};
use crate::source::{Span, Text};
use jiff::ToSpan as _;
use std::sync::Arc;

/// Index of a row kind in [`Schema::kinds`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct KindId(pub u32);

/// Index of a field in [`Schema::fields`], over all kinds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FieldId(pub u32);

/// Index of a place in the program where a fault can begin.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SiteId(pub u32);

/// The type of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Type {
    /// A number, a count, a percent, money, or a quantity with a dimension.
    Number {
        /// What it measures.
        dimension: Dimension,
        /// A restriction on plain numbers.
        flavor: Flavor,
    },
    /// A text.
    Text,
    /// Yes or no.
    YesNo,
    /// A date.
    Date,
    /// Something that native functions make and look into.
    Thing(super::native::ThingKind),
}

/// A restriction on plain numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Flavor {
    /// None.
    Plain,
    /// A part of something: only `of` and `*` apply it.
    Percent,
    /// Whole and not below zero.
    Count,
}

impl Type {
    /// A quantity of a dimension.
    #[must_use]
    pub const fn of(dimension: Dimension) -> Self {
        Self::Number { dimension, flavor: Flavor::Plain }
    }

    /// A count.
    pub const COUNT: Self = Self::Number { dimension: Dimension::NONE, flavor: Flavor::Count };
    /// A percent.
    pub const PERCENT: Self = Self::Number { dimension: Dimension::NONE, flavor: Flavor::Percent };

    /// The dimension of a number.
    #[must_use]
    pub fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Number { dimension, .. } => Some(dimension),
            _ => None,
        }
    }

    /// The type in the trade's words: "a length", "a count", "a text".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Number { flavor: Flavor::Percent, .. } => "a percent".to_owned(),
            Self::Number { flavor: Flavor::Count, .. } => "a count".to_owned(),
            Self::Number { dimension, .. } => dimension.words(),
            Self::Text => "a text".to_owned(),
            Self::YesNo => "yes or no".to_owned(),
            Self::Date => "a date".to_owned(),
            Self::Thing(kind) if kind.0.ends_with('s') => kind.0.to_owned(),
            Self::Thing(kind) => format!("a {}", kind.0),
        }
    }
}

/// A value outside the columns: a default, a literal in an example, a cell just read. Numbers are in base units.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number in base units (mm, lb, hr, $; a percent as its fraction).
    Number(Number),
    /// A text.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// A date.
    Date(Date),
}

/// A kind of row: rooms, openings, the job.
#[derive(Clone, Debug)]
pub struct RowKind {
    /// Its name in the book, `rooms`.
    pub name: String,
    /// The sheet it is read from; `None` for kinds that the engine makes (`lines`).
    pub sheet: Option<String>,
    /// The kind that its rows belong to.
    pub parent: Option<Parent>,
    /// Its input fields, in the order declared, then its formulas.
    pub fields: Vec<FieldId>,
    /// The input field that names a row.
    pub key: Option<FieldId>,
    /// Whether it has exactly one row, written as a list of names and values (the job).
    pub single: bool,
}

impl RowKind {
    /// One of its rows, in words: `room`.
    #[must_use]
    pub fn one(&self) -> String {
        self.name.strip_suffix('s').unwrap_or(&self.name).replace('_', " ")
    }

    /// Whether a heading is that of the column which names the row that one of its rows belongs to.
    #[must_use]
    pub fn names_parent(&self, heading: &str) -> bool {
        self.parent.as_ref().is_some_and(|p| p.headings.iter().any(|h| h.eq_ignore_ascii_case(heading)))
    }
}

/// How rows of one kind belong to rows of another.
#[derive(Clone, Debug)]
pub struct Parent {
    /// The kind they belong to.
    pub kind: KindId,
    /// Headings of the column that holds the parent's key.
    pub headings: Vec<String>,
}

/// A field of a row kind: an input column or a formula.
#[derive(Clone, Debug)]
pub struct Field {
    /// The kind it belongs to.
    pub kind: KindId,
    /// Its name in the book.
    pub name: String,
    /// Its label for sheets; the name in plain words when the book gives none.
    pub label: String,
    /// Its type.
    pub ty: Type,
    /// The unit in which its column is kept; reading converts to it.
    pub unit: Unit,
    /// How it is shown.
    pub style: Style,
    /// What is read; `None` for a formula.
    pub input: Option<Input>,
    /// Whether a person sees it; checks' conditions and items' needs are columns too.
    pub hidden: bool,
    /// A line on what it is.
    pub note: Option<String>,
    /// Where its figure comes from.
    pub source: Option<String>,
    /// The book that declares it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

impl Field {
    /// A value of a number or a date, in base units, as messages speak of it.
    #[must_use]
    pub fn written(&self, base: &Number) -> String {
        match self.ty {
            Type::Date => i32::try_from(base.to_decimal())
                .ok()
                .and_then(|days| Date::constant(1970, 1, 1).checked_add(days.days()).ok())
                .map_or_else(String::new, |d| d.to_string()),
            Type::Number { dimension, flavor } => {
                let style = Style { percent: flavor == Flavor::Percent, ..self.style.clone() };
                show(base, dimension, &style).text
            }
            _ => base.to_decimal().to_string(),
        }
    }
}

/// The least or the greatest value, and whether the value itself is allowed.
pub type Limit = Option<(Number, bool)>;

/// What a value of a type must be and is not, held against the limits of its column: "it must be at most 3".
///
/// The value and the limits are in one unit, which `written` tells numbers in.
pub fn beyond(
    ty: Type,
    (low, high): (&Limit, &Limit),
    value: &Number,
    written: impl Fn(&Number) -> String,
) -> Option<String> {
    if let Type::Number { dimension, flavor } = ty {
        if flavor == Flavor::Count && (value.is_negative() || !value.is_whole()) {
            return Some("a count is whole and not below zero".to_owned());
        }
        if low.is_none() && value.is_negative() && dimension.length > 0 {
            return Some("it may not be below zero".to_owned());
        }
    }
    if let Some((low, own)) = low
        && (value < low || (value == low && !own))
    {
        let word = if *own { "at least" } else { "above" };
        return Some(format!("it must be {word} {}", written(low)));
    }
    if let Some((high, own)) = high
        && (value > high || (value == high && !own))
    {
        let word = if *own { "at most" } else { "below" };
        return Some(format!("it must be {word} {}", written(high)));
    }
    None
}

/// What an input field accepts.
#[derive(Clone, Debug)]
pub struct Input {
    /// Headings that name it, best first; its own name in plain words is the last.
    pub headings: Vec<String>,
    /// Whether a blank cell is in order.
    pub may_be_blank: bool,
    /// What a blank cell stands for.
    pub default: Option<Value>,
    /// The code whose longest stock on offer a blank cell stands for, before `default`.
    pub stock_of: Option<String>,
    /// The least value, and whether the value itself is allowed; base units.
    pub low: Limit,
    /// The greatest value, and whether the value itself is allowed; base units.
    pub high: Limit,
    /// The texts allowed; empty for any.
    pub one_of: Vec<String>,
    /// Where a blank cell's fault begins.
    pub missing: SiteId,
    /// Where an unreadable cell's fault begins.
    pub unreadable: SiteId,
}

/// A part of a check's message.
#[derive(Clone, Debug)]
pub enum MessagePart {
    /// Plain words.
    Words(String),
    /// A field's value.
    Value(FieldId),
}

/// A condition that should hold for each row of a kind.
#[derive(Clone, Debug)]
pub struct Check {
    /// Its name.
    pub name: String,
    /// The kind it speaks of.
    pub kind: KindId,
    /// The yes/no column.
    pub holds: FieldId,
    /// What happens where it does not hold.
    pub outcome: Outcome,
    /// The words for it.
    pub message: Vec<MessagePart>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// The book that states it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// What an item needs.
#[derive(Clone, Copy, Debug)]
pub enum Need {
    /// An amount: a count, a length, an area, a volume, a weight.
    Amount(FieldId),
    /// Pieces to be cut from stock: how many, and how long each is.
    Cut {
        /// How many.
        count: FieldId,
        /// How long each.
        each: FieldId,
    },
    /// Pieces to be cut from stock, each with its own length.
    Pieces {
        /// The pieces, things that are [`Pieces`](super::native::Pieces).
        pieces: FieldId,
        /// Their lengths added up.
        total: FieldId,
    },
    /// A lump sum of money, in the job.
    Lump(FieldId),
}

/// How pieces of an item that are longer than stock are made of parts: lengths of the job; nothing for none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ItemSplice {
    /// How far two parts lie over each other.
    pub lap: Option<FieldId>,
    /// The shortest part.
    pub least: Option<FieldId>,
    /// A piece of the same stock that is laid over each joint.
    pub scrap: Option<FieldId>,
}

/// What is cut together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutBy {
    /// All pieces of a code.
    WholeJob,
    /// The pieces of each root row (room) by themselves.
    Rows,
    /// The pieces of the root rows that have one text in that field (level).
    Field(FieldId),
}

/// The house's rule of cutting.
#[derive(Clone, Debug)]
pub struct Cutting {
    /// What is cut together.
    pub by: CutBy,
    /// Width of the saw's cut, a length of the job; nothing for none.
    pub kerf: Option<FieldId>,
    /// The least offcut that is kept, a length of the job; nothing where any is.
    pub keep: Option<FieldId>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// The book that states it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// The rule that a bid charges what is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Charging {
    /// Where it holds (a yes/no of the job); everywhere when it says nothing.
    pub when: Option<FieldId>,
    /// The item of the job whose line is the difference from what is used; it needs nothing by itself.
    pub item: u32,
}

/// The house's rule of buying.
#[derive(Clone, Debug)]
pub struct Buying {
    /// The supplier that goes before the others, a text of the job.
    pub first: Option<FieldId>,
    /// The supplier that alone serves, a text of the job.
    pub only: Option<FieldId>,
    /// Whether the bid charges what is bought; `None` where it charges what is used.
    pub charging: Option<Charging>,
    /// A yard's headings and what they are called here.
    pub headings: Vec<(Arc<str>, Arc<str>)>,
    /// A yard's codes and the codes of the rules.
    pub codes: Vec<(Arc<str>, Arc<str>)>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// The book that states it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// How a bid is divided: texts of the root rows.
#[derive(Clone, Debug)]
pub struct Dividing {
    /// The text by which the bid is priced in parts.
    pub parts: Option<FieldId>,
    /// The text that names a row's alternate.
    pub alternates: Option<FieldId>,
    /// The yes or no that says that the alternate takes the row out of the bid.
    pub deducting: Option<FieldId>,
    /// The text by which deliveries are told apart.
    pub deliveries: Option<FieldId>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// The book that states it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// Something bought or done for each row of a kind.
#[derive(Clone, Debug)]
pub struct Item {
    /// Its name in the book.
    pub name: String,
    /// Its label for sheets.
    pub label: String,
    /// Bought or done.
    pub what: LineKind,
    /// The kind it is needed for.
    pub kind: KindId,
    /// Whether it is needed at all (a yes/no column).
    pub when: Option<FieldId>,
    /// Its code in the price book (a text column).
    pub code: FieldId,
    /// What is needed.
    pub need: Need,
    /// Waste stated by the rule, a percent column.
    pub waste: Option<FieldId>,
    /// Hours for each unit of the need, stated by the rule (labor only).
    pub rate: Option<FieldId>,
    /// What hours are multiplied by, a number (labor only).
    pub factor: Option<FieldId>,
    /// The height at which the work is done, a length: which Labor row of its code serves (labor only).
    pub height: Option<FieldId>,
    /// How difficult the work is, a text: likewise (labor only).
    pub difficulty: Option<FieldId>,
    /// How its pieces are spliced where they are longer than every stock; `None` where they must be whole.
    pub splice: Option<ItemSplice>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// The book that states it.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// A book that took part, lowest layer first.
#[derive(Clone, Debug)]
pub struct BookUsed {
    /// Its title.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// Its file name, or "built in".
    pub file: String,
    /// SHA-256 of its text, in hex.
    pub digest: String,
}

/// A sheet that a table is read from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetUsed {
    /// The table.
    pub table: String,
    /// The sheet; empty for a csv text.
    pub sheet: String,
    /// The workbook, by its path from the uppermost book.
    pub file: String,
    /// SHA-256 of the workbook, in hex.
    pub digest: String,
}

/// Something of a lower layer that an upper one replaced.
#[derive(Clone, Debug)]
pub struct Replaced {
    /// What: "table tested_span", "tees of rooms".
    pub what: String,
    /// Title and edition of the book that had it.
    pub from: String,
    /// Title and edition of the book that replaced it.
    pub by: String,
    /// Where it stood.
    pub was: (Arc<Text>, Span),
    /// Where what replaced it stands.
    pub now: (Arc<Text>, Span),
}

/// A table or a definition with a source, as it is in force.
#[derive(Clone, Debug)]
pub struct Cited {
    /// "Table tested_span", "Definition tee_count".
    pub what: String,
    /// The book that states it.
    pub book: String,
    /// Where it comes from.
    pub source: String,
}

/// One of several ways to build a row.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its name in the book.
    pub name: String,
    /// Its label for sheets.
    pub label: String,
    /// Where it may be taken (a yes/no column that no option changes); everywhere when it says nothing.
    pub when: Option<FieldId>,
}

/// Ways to build each row of a kind: the row is worked out and priced under each, and stands under the cheapest whose
/// checks pass, or under the one that the row names.
#[derive(Clone, Debug)]
pub struct Options {
    /// The kind.
    pub kind: KindId,
    /// The text column that holds the name of the option a row stands under.
    pub field: FieldId,
    /// The options; of equals, the one that stands first is taken.
    pub choices: Vec<Choice>,
    /// The input field that names one for a row.
    pub named_by: Option<FieldId>,
    /// What is shown beside each option.
    pub showing: Vec<FieldId>,
    /// The book that states them.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// Everything that a checked book declares.
#[derive(Clone, Debug, Default)]
pub struct Schema {
    /// Row kinds.
    pub kinds: Vec<RowKind>,
    /// Fields of all kinds.
    pub fields: Vec<Field>,
    /// Ways to build a row, where the books state them.
    pub options: Option<Options>,
    /// Checks.
    pub checks: Vec<Check>,
    /// What is bought and done.
    pub items: Vec<Item>,
    /// How pieces are cut from stock, where the books state it.
    pub cutting: Option<Cutting>,
    /// Whose prices serve, where the books state it.
    pub buying: Option<Buying>,
    /// How the bid is divided, where the books state it.
    pub dividing: Option<Dividing>,
    /// Texts of the job and of the root rows that the bid tells, in order.
    pub telling: Vec<FieldId>,
    /// Books that took part.
    pub books: Vec<BookUsed>,
    /// Sheets that tables in force are read from.
    pub sheets: Vec<SheetUsed>,
    /// What replaced what.
    pub replaced: Vec<Replaced>,
    /// Tables and definitions that state where they come from.
    pub cited: Vec<Cited>,
    /// Input fields that some rule looks at, in order.
    pub looked_at: Vec<FieldId>,
    /// Whether lengths are shown in mm and m.
    pub metric: bool,
}

impl Schema {
    /// All kinds, in their order.
    pub fn kind_ids(&self) -> impl Iterator<Item = KindId> + use<> {
        (0..u32::try_from(self.kinds.len()).unwrap_or(u32::MAX)).map(KindId)
    }

    /// A row kind.
    #[must_use]
    pub fn kind(&self, id: KindId) -> &RowKind {
        &self.kinds[id.0 as usize]
    }

    /// Whether rows of a kind are those of another, or belong to them, directly or through others.
    #[must_use]
    pub fn belongs(&self, mut kind: KindId, to: KindId) -> bool {
        while kind != to {
            match &self.kind(kind).parent {
                Some(parent) => kind = parent.kind,
                None => return false,
            }
        }
        true
    }

    /// A field.
    #[must_use]
    pub fn field(&self, id: FieldId) -> &Field {
        &self.fields[id.0 as usize]
    }

    /// Settings of the job: what is read of it that rules work with. Texts and dates that a bid only tells are none.
    pub fn settings(&self) -> impl Iterator<Item = FieldId> + '_ {
        let fields = self.kinds.iter().filter(|k| k.single).flat_map(|k| &k.fields).copied();
        fields.filter(|id| self.is_setting(*id))
    }

    /// Whether a field is a setting of the job.
    #[must_use]
    pub fn is_setting(&self, id: FieldId) -> bool {
        let field = self.field(id);
        let chooses = self.names_option(id);
        let works = match field.ty {
            Type::Number { .. } | Type::YesNo => true,
            Type::Text => self.looked_at.binary_search(&id).is_ok() && !self.telling.contains(&id) && !chooses,
            Type::Date | Type::Thing(_) => false,
        };
        works && field.input.is_some() && self.kind(field.kind).single
    }

    /// Whether a field names the option by which a row is to be built.
    #[must_use]
    pub fn names_option(&self, id: FieldId) -> bool {
        self.options.as_ref().is_some_and(|o| o.named_by == Some(id))
    }

    /// The kind whose rows lines count toward (rooms): the first that is read from a sheet and belongs to no other.
    #[must_use]
    pub fn root_kind(&self) -> Option<KindId> {
        let root = self.kinds.iter().position(|k| k.parent.is_none() && !k.single && k.sheet.is_some());
        root.and_then(|k| u32::try_from(k).ok()).map(KindId)
    }

    /// The kind of that name.
    #[must_use]
    pub fn kind_named(&self, name: &str) -> Option<KindId> {
        self.kinds.iter().position(|k| k.name == name).and_then(|i| u32::try_from(i).ok()).map(KindId)
    }

    /// A text of a field as people read it: the option's label where the field holds or names an option.
    #[must_use]
    pub fn in_words<'t>(&'t self, field: FieldId, text: &'t str) -> &'t str {
        let Some(options) = &self.options else { return text };
        if field != options.field && Some(field) != options.named_by {
            return text;
        }
        let choice = options.choices.iter().find(|c| c.name.eq_ignore_ascii_case(text));
        choice.map_or(text, |c| c.label.as_str())
    }

    /// The field of that name in a kind; hidden ones are not found.
    #[must_use]
    pub fn field_named(&self, kind: KindId, name: &str) -> Option<FieldId> {
        self.kind(kind).fields.iter().copied().find(|f| self.field(*f).name == name && !self.field(*f).hidden)
    }
}
