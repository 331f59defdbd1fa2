//! The syntax tree. It is not changed after reading.

use crate::quantity::{Date, Number, Unit};
use crate::source::{CellPlace, Place, Span, Text};
use std::fmt;
use std::sync::Arc;

/// What a failed check does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// The row has no price until it is dealt with.
    Stops,
    /// A warning.
    Warns,
    /// A note.
    Notes,
}

/// Whether something is bought or done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// Bought.
    Material,
    /// Done.
    Labor,
}

/// A name as it stands in the text.
#[derive(Clone, Debug)]
pub struct Name {
    /// The name.
    pub name: String,
    /// Where.
    pub span: Span,
}

/// A value as written.
#[derive(Clone, Debug)]
pub enum Literal {
    /// A number in the unit that it was written in.
    Number {
        /// In that unit.
        value: Number,
        /// The unit, with its name as written; `None` for a plain number.
        unit: Option<(String, Unit)>,
    },
    /// A percent, as its fraction.
    Percent(Number),
    /// A text.
    Text(String),
    /// Yes or no.
    YesNo(bool),
    /// A date.
    Date(Date),
}

/// How children are brought together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum How {
    /// Their sum; of nothing 0.
    Sum,
    /// How many.
    Count,
    /// The least; of nothing missing.
    Least,
    /// The most; of nothing missing.
    Most,
    /// Whether any holds.
    Any,
    /// Whether all hold.
    All,
}

/// An operator between two values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Binary {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
    /// `10% of x`
    Of,
    /// `and`
    And,
    /// `or`
    Or,
}

/// A comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Comparison {
    /// `=` and `is`
    Equal,
    /// `is not`
    NotEqual,
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
}

/// An argument of a call.
#[derive(Clone, Debug)]
pub struct Argument {
    /// Its name, where one is given.
    pub label: Option<Name>,
    /// Its value.
    pub value: Expr,
}

/// An expression, with its place.
#[derive(Clone, Debug)]
pub struct Expr {
    /// What it is.
    pub node: Node,
    /// Where it stands.
    pub span: Span,
}

/// What an expression is.
#[derive(Clone, Debug)]
pub enum Node {
    /// A value as written.
    Literal(Literal),
    /// A name; after `is` it may be a member of a list of words.
    Name(String),
    /// A function or table.
    Call {
        /// Its name.
        name: Name,
        /// What it is given.
        arguments: Vec<Argument>,
    },
    /// `sum of openings (long * wide) where many > 1`
    Aggregate {
        /// How.
        how: How,
        /// Over which children.
        kind: Name,
        /// Of what.
        value: Option<Box<Expr>>,
        /// Over which of them.
        condition: Option<Box<Expr>>,
    },
    /// The opposite of a number.
    Negate(Box<Expr>),
    /// `not`
    Not(Box<Expr>),
    /// Two values and an operator.
    Binary(Binary, Box<Expr>, Box<Expr>),
    /// One comparison or a range, `4" <= x <= 8"`.
    Compare(Box<Expr>, Vec<(Comparison, Expr)>),
    /// `is given`, `is not given`
    Given {
        /// What.
        value: Box<Expr>,
        /// Whether it must be missing.
        negated: bool,
    },
    /// `is one of D E F`
    OneOf {
        /// What.
        value: Box<Expr>,
        /// The words.
        members: Vec<Name>,
        /// Whether it must be none of them.
        negated: bool,
    },
    /// A whole power.
    Power(Box<Expr>, i8),
    /// `A when c, B when d, C otherwise`: values with conditions, then the rest.
    Choice(Vec<(Expr, Expr)>, Box<Expr>),
}

impl Expr {
    /// Calls `f` with each expression that stands directly in this one.
    pub fn parts<'e>(&'e self, f: &mut impl FnMut(&'e Expr)) {
        match &self.node {
            Node::Literal(_) | Node::Name(_) => {}
            Node::Call { arguments, .. } => arguments.iter().for_each(|a| f(&a.value)),
            Node::Aggregate { value, condition, .. } => [value, condition].into_iter().flatten().for_each(|e| f(e)),
            Node::Negate(a) | Node::Not(a) | Node::Power(a, _) => f(a),
            Node::Given { value, .. } | Node::OneOf { value, .. } => f(value),
            Node::Binary(_, a, b) => {
                f(a);
                f(b);
            }
            Node::Compare(first, rest) => {
                f(first);
                rest.iter().for_each(|(_, e)| f(e));
            }
            Node::Choice(arms, otherwise) => {
                for (value, condition) in arms {
                    f(value);
                    f(condition);
                }
                f(otherwise);
            }
        }
    }

    /// Whether something holds of it or of any expression in it.
    pub fn any(&self, holds: &impl Fn(&Expr) -> bool) -> bool {
        let mut found = holds(self);
        self.parts(&mut |e| found = found || e.any(holds));
        found
    }
}

/// How a column of a table is matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Match {
    /// Equal.
    Exact,
    /// The next row at or above.
    UpTo,
    /// The last row at or below.
    From,
    /// On a straight line between the rows on either side.
    Between,
}

/// A type as written.
#[derive(Clone, Debug)]
pub struct TypeName {
    /// The words.
    pub text: String,
    /// Where.
    pub span: Span,
}

/// What an input field accepts, as written.
#[derive(Clone, Debug)]
pub enum FieldClause {
    /// Headings.
    Heading(Vec<String>),
    /// It names a row.
    Key,
    /// A least or greatest value: whether it is the low one, the value, whether the value itself is allowed.
    Limit {
        /// Low rather than high.
        low: bool,
        /// The bound.
        value: Expr,
        /// Whether the bound itself is allowed.
        inclusive: bool,
    },
    /// The texts allowed.
    OneOf(Vec<Name>),
    /// A blank cell is in order.
    MayBeBlank,
    /// What a blank cell stands for.
    Otherwise(Expr),
    /// A blank cell stands for the longest stock of this code on offer.
    StockOf(String, Span),
    /// How it is shown.
    Shown(Shown),
    /// Where it comes from.
    Source(String),
    /// Why hints about it are in order.
    Accepted(Accepted),
    /// What it is.
    Note(String),
}

/// How a formula is shown.
#[derive(Clone, Debug)]
pub enum Shown {
    /// To a step.
    To(Expr),
    /// In a unit.
    In(String, Span),
}

/// `accepted "…"`: why the hints about a statement are in order.
#[derive(Clone, Debug)]
pub struct Accepted {
    /// The reason.
    pub reason: String,
    /// The clause.
    pub span: Span,
}

/// An input field.
#[derive(Clone, Debug)]
pub struct FieldLine {
    /// Its name.
    pub name: Name,
    /// Its type.
    pub ty: TypeName,
    /// What it accepts.
    pub clauses: Vec<FieldClause>,
    /// The whole statement.
    pub span: Span,
}

/// A block `rows … end`.
#[derive(Clone, Debug)]
pub struct RowsBlock {
    /// The kind.
    pub name: Name,
    /// Its sheet.
    pub sheet: Option<String>,
    /// The kind that it belongs to, and headings of the column that says to which row.
    pub belongs: Option<(Name, Vec<String>)>,
    /// Its input fields.
    pub fields: Vec<FieldLine>,
}

/// A column of a table.
#[derive(Clone, Debug)]
pub struct TableColumn {
    /// Its name.
    pub name: Name,
    /// Its type.
    pub ty: TypeName,
    /// How it is matched; `None` for a result.
    pub how: Option<Match>,
    /// Its value when a caller leaves it out.
    pub default: Option<Expr>,
    /// Headings by which a sheet has it; none where its rows stand in a book.
    pub headings: Vec<String>,
}

/// `from sheet "Spans" of "standards.xlsx"`: where the rows of a table stand.
#[derive(Clone, Debug)]
pub struct FromSheet {
    /// The sheet.
    pub sheet: String,
    /// The workbook, by its path from the book.
    pub path: String,
    /// The clause.
    pub span: Span,
}

/// What of a lower layer a table takes the place of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Replaces {
    /// Nothing: it is a table of its own.
    Nothing,
    /// All of a table.
    Table,
    /// The rows with the same keys.
    Rows,
}

/// A row of a table.
#[derive(Clone)]
pub struct TableRow {
    /// Its values, one for each column.
    pub cells: Vec<Expr>,
    /// Where it stands in `text`.
    pub span: Span,
    /// What it is written in: a book, or what a sheet holds, a line for each of its rows.
    pub text: Arc<Text>,
    /// Where it stands on a sheet.
    pub on_sheet: Option<OnSheet>,
    /// The book and the source of the block 'replace rows of table' that puts it in place of a row of the table.
    pub upper: Option<Arc<Upper>>,
}

/// What a book says of the rows that it puts in place of a lower table's.
#[derive(Debug)]
pub struct Upper {
    /// The book.
    pub text: Arc<Text>,
    /// Where their figures come from.
    pub source: Option<String>,
}

/// Where a row of a table stands on a sheet.
#[derive(Clone, Debug)]
pub struct OnSheet {
    /// The row.
    pub place: CellPlace,
    /// The first and the last column that the table has of it.
    pub columns: (u16, u16),
}

impl fmt::Debug for TableRow {
    /// Without the whole text that it stands in.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { cells, span, text: _, on_sheet, upper: _ } = self;
        f.debug_struct("TableRow").field("cells", cells).field("span", span).field("on_sheet", on_sheet).finish()
    }
}

impl TableRow {
    /// Where it stands.
    #[must_use]
    pub fn place(&self) -> Place {
        match &self.on_sheet {
            Some(on) => Place::Cell(on.place.clone()),
            None => Place::Book { text: Arc::clone(&self.text), span: self.span },
        }
    }

    /// Where it stands, in words: `on line 14`, `in standards.xlsx, Spans!A5:C5`.
    #[must_use]
    pub fn whereabouts(&self) -> String {
        let Some(OnSheet { place, columns: (first, last) }) = &self.on_sheet else {
            return format!("on line {}", self.text.line(self.span.start as usize));
        };
        let from = CellPlace { column: Some(*first), ..place.clone() };
        let to = CellPlace { column: Some(*last), ..place.clone() };
        if first == last { format!("in {from}") } else { format!("in {from}:{}", to.address()) }
    }

    /// A cell as it is written.
    #[must_use]
    pub fn written(&self, column: usize) -> &str {
        self.cells.get(column).and_then(|e| self.text.text.get(e.span.range())).unwrap_or("").trim()
    }
}

/// A block `table … end`.
#[derive(Clone, Debug)]
pub struct TableBlock {
    /// What it takes the place of.
    pub replaces: Replaces,
    /// Its name.
    pub name: Name,
    /// What it is.
    pub title: Option<String>,
    /// Where its figures come from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// Where its rows stand, where that is not in the book.
    pub from_sheet: Option<FromSheet>,
    /// Its columns.
    pub columns: Vec<TableColumn>,
    /// Its rows; none of a sheet's before the sheet is read.
    pub rows: Vec<TableRow>,
}

/// A parameter of a definition.
#[derive(Clone, Debug)]
pub struct Parameter {
    /// Its name.
    pub name: Name,
    /// Its type.
    pub ty: TypeName,
    /// Its value when a caller leaves it out; may use earlier parameters.
    pub default: Option<Expr>,
}

/// A company function.
#[derive(Clone, Debug)]
pub struct Define {
    /// Whether it replaces one of a lower layer.
    pub replace: bool,
    /// Its name.
    pub name: Name,
    /// Its parameters.
    pub parameters: Vec<Parameter>,
    /// The type of its result.
    pub ty: TypeName,
    /// What it works out.
    pub body: Expr,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// A formula.
#[derive(Clone, Debug)]
pub struct Formula {
    /// Whether it replaces one of a lower layer.
    pub replace: bool,
    /// Its name.
    pub name: Name,
    /// Its label.
    pub label: Option<String>,
    /// What it works out.
    pub body: Expr,
    /// How it is shown.
    pub shown: Vec<Shown>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// A check.
#[derive(Clone, Debug)]
pub struct CheckLine {
    /// Whether it replaces one of a lower layer.
    pub replace: bool,
    /// Its name.
    pub name: Name,
    /// What should hold.
    pub condition: Expr,
    /// What happens where it does not.
    pub outcome: Outcome,
    /// The texts for it, as they stand in the book, with `{expressions}` in them; they are read on as one.
    pub message: Vec<Span>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// What is needed, as written.
#[derive(Clone, Debug)]
pub enum NeedClause {
    /// An amount.
    Amount(Expr),
    /// Pieces to be cut: how many, how long each.
    Cut(Expr, Expr),
    /// Pieces to be cut, each with its own length.
    Pieces(Expr),
    /// A lump sum.
    Lump(Expr),
}

/// A clause `spliced`: how a piece longer than stock is made of parts.
#[derive(Clone, Debug)]
pub struct SpliceClause {
    /// How far two parts lie over each other.
    pub lap: Option<Expr>,
    /// The shortest part.
    pub least: Option<Expr>,
    /// A piece that is laid over each joint.
    pub scrap: Option<Expr>,
    /// The clause.
    pub span: Span,
}

/// A line `cutting`: how pieces are cut from stock.
#[derive(Clone, Debug)]
pub struct CuttingLine {
    /// Whether it replaces a lower book's.
    pub replace: bool,
    /// What is cut together; the whole job when it is not said.
    pub by: Option<Name>,
    /// Width of the saw's cut.
    pub kerf: Option<Expr>,
    /// The least offcut that is kept.
    pub keep: Option<Expr>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// A line `buying`: whose prices serve.
#[derive(Clone, Debug)]
pub struct BuyingLine {
    /// Whether it replaces a lower book's.
    pub replace: bool,
    /// The supplier that goes before the others.
    pub first: Option<Expr>,
    /// The supplier that alone serves.
    pub only: Option<Expr>,
    /// Whether the bid charges what is bought, and where: everywhere when no condition is stated.
    pub charging: Option<Option<Expr>>,
    /// The table of a yard's headings.
    pub headings: Option<Name>,
    /// The table of a yard's codes.
    pub codes: Option<Name>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// The whole statement.
    pub span: Span,
}

/// A line `telling`: what the bid tells.
#[derive(Clone, Debug)]
pub struct TellingLine {
    /// Whether it replaces a lower book's.
    pub replace: bool,
    /// Texts of the job and of the rooms.
    pub names: Vec<Name>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// The whole statement.
    pub span: Span,
}

/// A line `dividing`: by what the bid is priced in parts, which rows are alternates, how deliveries are told apart.
#[derive(Clone, Debug)]
pub struct DividingLine {
    /// Whether it replaces a lower book's.
    pub replace: bool,
    /// The text by which the bid is priced in parts.
    pub parts: Option<Name>,
    /// The text that names a row's alternate.
    pub alternates: Option<Name>,
    /// The yes or no that says that the alternate takes the row out of the bid.
    pub deducting: Option<Name>,
    /// The text by which deliveries are told apart.
    pub deliveries: Option<Name>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// The whole statement.
    pub span: Span,
}

/// Something bought or done.
#[derive(Clone, Debug)]
pub struct ItemLine {
    /// Whether it replaces one of a lower layer.
    pub replace: bool,
    /// Bought or done.
    pub what: LineKind,
    /// Its name.
    pub name: Name,
    /// Its label.
    pub label: Option<String>,
    /// Its code in the price book.
    pub code: Option<Expr>,
    /// What is needed.
    pub need: Option<NeedClause>,
    /// Waste.
    pub waste: Option<Expr>,
    /// Hours for each unit.
    pub rate: Option<Expr>,
    /// What hours are multiplied by.
    pub factor: Option<Expr>,
    /// The height at which the work is done.
    pub height: Option<Expr>,
    /// How difficult the work is, a word.
    pub difficulty: Option<Expr>,
    /// Whether it is needed.
    pub when: Option<Expr>,
    /// How its pieces are spliced where they are longer than stock.
    pub splice: Option<SpliceClause>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// One of several ways to build a row.
#[derive(Clone, Debug)]
pub struct OptionPart {
    /// Its name.
    pub name: Name,
    /// Its label.
    pub label: Option<String>,
    /// Where it may be taken; everywhere when it says nothing.
    pub when: Option<Expr>,
}

/// A line `options`: ways to build a row, of which the cheapest that passes is taken.
#[derive(Clone, Debug)]
pub struct OptionsLine {
    /// Whether it replaces one of a lower layer.
    pub replace: bool,
    /// The name under which formulas know the option that a row stands under.
    pub name: Name,
    /// Its label.
    pub label: Option<String>,
    /// The options, in the order in which equals are preferred.
    pub options: Vec<OptionPart>,
    /// The field that names one of them for a row.
    pub named_by: Option<Name>,
    /// What is shown beside each option.
    pub showing: Vec<Name>,
    /// What it is.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Why hints about it are in order.
    pub accepted: Option<Accepted>,
    /// The whole statement.
    pub span: Span,
}

/// A line in a block `for … end`.
#[derive(Clone, Debug)]
#[allow(clippy::large_enum_variant, reason = "a book has few of them, and none is kept apart from its book")]
pub enum ForLine {
    /// A formula; shared, as a book has many.
    Formula(Arc<Formula>),
    /// A check.
    Check(CheckLine),
    /// An item or labor.
    Item(ItemLine),
    /// Ways to build a row.
    Options(OptionsLine),
    /// How pieces are cut from stock.
    Cutting(CuttingLine),
    /// Whose prices serve.
    Buying(BuyingLine),
    /// Parts, alternates, deliveries.
    Dividing(DividingLine),
    /// What the bid tells.
    Telling(TellingLine),
}

/// A row of an example: kind, then fields with values.
#[derive(Clone, Debug)]
pub struct ExampleRow {
    /// The kind.
    pub kind: Name,
    /// Its fields.
    pub values: Vec<(Name, Expr)>,
}

/// What an example should show.
#[derive(Clone, Debug)]
pub struct ExampleShows {
    /// What is worked out.
    pub value: Expr,
    /// What it should be.
    pub expected: Expr,
}

/// A block `example … end`.
#[derive(Clone, Debug)]
pub struct Example {
    /// Its name.
    pub name: String,
    /// Its rows, children after the row that they belong to.
    pub rows: Vec<ExampleRow>,
    /// What it should show.
    pub shows: Vec<ExampleShows>,
    /// Whether a line of it was not understood.
    pub unread: bool,
    /// Its first line.
    pub span: Span,
}

/// Which editions of a used book will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Editions {
    /// This one.
    Only(String),
    /// From the first to the second, both included.
    Range(String, String),
    /// This one and later ones.
    Least(String),
    /// This one and earlier ones.
    Most(String),
}

/// `use "…"  edition "…"`
#[derive(Clone, Debug)]
pub struct UseLine {
    /// A built-in book's name, or a path from the book.
    pub name: String,
    /// The whole statement.
    pub span: Span,
    /// The editions that will do, with the clause that says so; any where nothing is said.
    pub editions: Option<(Editions, Span)>,
}

/// A part of a book.
#[derive(Clone, Debug)]
pub enum Part {
    /// `use "…"`
    Use(UseLine),
    /// `rows … end`
    Rows(RowsBlock),
    /// `table … end`
    Table(TableBlock),
    /// `define …`
    Define(Define),
    /// `for … end`
    For(Name, Vec<ForLine>),
    /// `example … end`
    Example(Example),
}

/// A rule book as read.
#[derive(Clone, Debug)]
pub struct Book {
    /// Its text.
    pub text: Arc<Text>,
    /// Its title; the file name when it gives none.
    pub title: String,
    /// Its edition; empty when it gives none.
    pub edition: String,
    /// The line that says what it is called; empty when there is none.
    pub head: Span,
    /// Whether lengths are shown in mm and m.
    pub metric: bool,
    /// Its parts, in order; shared, since a book is compiled again and again while it is written.
    pub parts: Arc<Vec<Part>>,
    /// Names that stand in statements which were not understood: what speaks of one is not told of it again.
    pub unread: Vec<String>,
    /// Whether it uses a book that is not there, and so may speak of names that nobody knows.
    pub lacking: bool,
}
