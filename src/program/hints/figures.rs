//! Figures without a source, and one figure written twice in two ways.

use super::super::cells::{Cell, cells};
use super::super::literals::literal_value;
use super::super::schema::{Type, Value};
use super::super::types::read_type;
use super::Looking;
use crate::notation::tree::{
    Book, CuttingLine, Expr, FieldClause, ForLine, ItemLine, Literal, Node, Part, TableBlock, TableRow,
};
use crate::quantity::Dimension;
use crate::source::Span;
use rustc_hash::FxHashMap;

/// A figure that has a name.
struct Named<'b> {
    name: &'b str,
    dimension: Dimension,
    value: Value,
    span: Span,
}

impl Looking<'_> {
    pub(super) fn figures(&mut self, top: &Book) {
        self.sources(top);
        self.twice(top);
    }

    fn no_source(&mut self, span: Span, what: String) {
        self.hint("no source", span, what, "source \"…\", or source practice for common practice");
    }

    /// Tables, and rules that state figures of their own, without a source.
    fn sources(&mut self, top: &Book) {
        for part in top.parts.iter() {
            match part {
                Part::Table(table) if table.source.is_none() => {
                    let what = format!("It is not said where the figures of the table {} come from.", table.name.name);
                    self.no_source(table.name.span, what);
                }
                Part::Define(define) if define.source.is_none() => {
                    self.first_figure_in([&define.body], &format!("the definition {}", define.name.name));
                }
                Part::For(_, lines) => lines.iter().for_each(|line| self.line_source(line)),
                _ => {}
            }
        }
    }

    fn line_source(&mut self, line: &ForLine) {
        match line {
            // a formula that is a figure; what it compares and chooses among is its own working
            ForLine::Formula(f) if f.source.is_none() && is_figure(&f.body) => {
                self.first_figure_in([&f.body], &format!("the formula {}", f.name.name));
            }
            ForLine::Check(c) if c.source.is_none() => {
                self.first_figure_in([&c.condition], &format!("the check {}", c.name.name));
            }
            ForLine::Item(item) if item.source.is_none() => {
                self.first_figure_in(clauses_of(item), &format!("'{}'", item.name.name));
            }
            ForLine::Cutting(CuttingLine { kerf, keep, source: None, .. }) => {
                self.first_figure_in([kerf, keep].into_iter().flatten(), "the rule of cutting");
            }
            _ => {}
        }
    }

    /// One source serves a whole statement, so one hint does.
    fn first_figure_in<'e>(&mut self, parts: impl IntoIterator<Item = &'e Expr>, of: &str) {
        if let Some(span) = parts.into_iter().find_map(first_figure) {
            let written = self.text.text.get(span.range()).unwrap_or("").trim().to_owned();
            self.no_source(span, format!("It is not said where {written} in {of} comes from."));
        }
    }

    /// Settings and tables of the book that give one name two figures.
    fn twice(&mut self, top: &Book) {
        let mut first: FxHashMap<(&str, Dimension), Named<'_>> = FxHashMap::default();
        let mut found = Vec::new();
        for named in named(top) {
            let Some(before) = first.get(&(named.name, named.dimension)) else {
                first.insert((named.name, named.dimension), named);
                continue;
            };
            if before.value != named.value {
                let line = self.text.line(before.span.start as usize);
                let text = |span: Span| self.text.text.get(span.range()).unwrap_or("").trim().to_owned();
                let (here, there) = (text(named.span), text(before.span));
                let what = format!("'{}' is {here} here and {there} on line {line}.", named.name);
                found.push((named.span, what));
            }
        }
        for (span, what) in found {
            self.hint(TWICE, span, what, TWICE_FIX);
        }
        let tables: Vec<&TableBlock> =
            top.parts.iter().filter_map(|p| if let Part::Table(t) = p { Some(t) } else { None }).collect();
        for (here, there) in same_rows(&tables) {
            let what = format!(
                "The table {} says {} for this, and the table {} says {} {}.",
                here.table.name.name,
                here.row.written(here.column),
                there.table.name.name,
                there.row.written(there.column),
                there.row.whereabouts()
            );
            let cell = here.row.cells.get(here.column).map_or(here.row.span, |e| e.span);
            self.hint_of_row(TWICE, here.table, here.row, cell, what, TWICE_FIX);
        }
    }
}

/// The kind of hint about one figure in two places, and what would be right.
const TWICE: &str = "figure written twice";
const TWICE_FIX: &str = "one figure in one place, or two names";

/// Clauses of an item that state figures.
fn clauses_of(item: &ItemLine) -> Vec<&Expr> {
    let splice = item.splice.iter().flat_map(|s| [&s.lap, &s.least, &s.scrap]);
    [&item.waste, &item.rate, &item.factor].into_iter().chain(splice).flatten().collect()
}

/// Whether an expression is a figure alone.
fn is_figure(e: &Expr) -> bool {
    first_figure(e).is_some()
        && matches!(e.node, Node::Literal(_) | Node::Negate(_) | Node::Binary(..))
        && !e.any(&|e| matches!(e.node, Node::Name(_) | Node::Call { .. } | Node::Aggregate { .. }))
}

/// The first figure in an expression: a quantity, money or a percent that is not nought, nor a whole hundred percent, nor
/// what a function is given.
fn first_figure(e: &Expr) -> Option<Span> {
    match &e.node {
        Node::Literal(Literal::Number { value, unit: Some((_, unit)) }) => {
            (!value.is_zero() && !unit.dimension.is_none()).then_some(e.span)
        }
        Node::Literal(Literal::Percent(value)) => {
            (!value.is_zero() && *value != crate::quantity::Number::ONE).then_some(e.span)
        }
        // what stands in a bracket by itself is what is asked, or the step to round to
        Node::Call { arguments, .. } => {
            arguments.iter().filter(|a| !matches!(a.value.node, Node::Literal(_))).find_map(|a| first_figure(&a.value))
        }
        _ => {
            let mut found = None;
            e.parts(&mut |part| found = found.or_else(|| first_figure(part)));
            found
        }
    }
}

/// Named figures of a book: formulas that are one, what a blank cell stands for, what a key of a table is when left out.
fn named(top: &Book) -> Vec<Named<'_>> {
    let mut out = Vec::new();
    let one = |name: &'_ str, ty: Option<Type>, e: &Expr| {
        let ty = ty.or_else(|| literal_type(e))?;
        let value = literal_value(e, ty).ok()?;
        Some((name.to_owned(), ty.dimension()?, value, e.span)).filter(|(_, _, v, _)| matches!(v, Value::Number(_)))
    };
    for part in top.parts.iter() {
        match part {
            Part::Rows(block) => {
                for field in &block.fields {
                    let default = field.clauses.iter().find_map(|c| match c {
                        FieldClause::Otherwise(e) => Some(e),
                        _ => None,
                    });
                    let ty = read_type(&field.ty.text).ok().map(|t| t.0);
                    if let Some((_, dimension, value, span)) = default.and_then(|e| one(&field.name.name, ty, e)) {
                        out.push(Named { name: &field.name.name, dimension, value, span });
                    }
                }
            }
            Part::Table(table) => {
                for column in &table.columns {
                    let ty = read_type(&column.ty.text).ok().map(|t| t.0);
                    if let Some((_, dimension, value, span)) =
                        column.default.as_ref().and_then(|e| one(&column.name.name, ty, e))
                    {
                        out.push(Named { name: &column.name.name, dimension, value, span });
                    }
                }
            }
            Part::For(_, lines) => {
                for line in lines {
                    if let ForLine::Formula(f) = line
                        && let Some((_, dimension, value, span)) = one(&f.name.name, None, &f.body)
                    {
                        out.push(Named { name: &f.name.name, dimension, value, span });
                    }
                }
            }
            Part::Define(_) | Part::Example(_) | Part::Use(_) => {}
        }
    }
    out
}

fn literal_type(e: &Expr) -> Option<Type> {
    match &e.node {
        Node::Literal(Literal::Number { unit, .. }) => {
            Some(Type::of(unit.as_ref().map_or(Dimension::NONE, |(_, u)| u.dimension)))
        }
        Node::Literal(Literal::Percent(_)) => Some(Type::PERCENT),
        Node::Negate(inner) => literal_type(inner),
        _ => None,
    }
}

/// A figure in a table.
#[derive(Clone, Copy)]
struct InTable<'b> {
    table: &'b TableBlock,
    row: &'b TableRow,
    column: usize,
}

/// Results that two tables with the same keys give for the same case in two ways: in the second, and in the first.
fn same_rows<'b>(tables: &[&'b TableBlock]) -> Vec<(InTable<'b>, InTable<'b>)> {
    let mut first: FxHashMap<(String, Vec<Cell>), (Cell, InTable<'b>)> = FxHashMap::default();
    let mut out = Vec::new();
    for table in tables {
        let keys: Vec<usize> = (0..table.columns.len()).filter(|i| table.columns[*i].how.is_some()).collect();
        let asked: Vec<String> =
            keys.iter().map(|k| format!("{} {}", table.columns[*k].name.name, table.columns[*k].ty.text)).collect();
        for (cells, row) in cells(table).iter().zip(&table.rows) {
            let Some(case) = keys.iter().map(|k| cells[*k].clone()).collect::<Option<Vec<Cell>>>() else { continue };
            for (i, column) in table.columns.iter().enumerate().filter(|(_, c)| c.how.is_none()) {
                let Some(value) = &cells[i] else { continue };
                let of = format!("{} gives {} {}", asked.join(", "), column.name.name, column.ty.text);
                let here = InTable { table, row, column: i };
                match first.get(&(of.clone(), case.clone())) {
                    None => drop(first.insert((of, case.clone()), (value.clone(), here))),
                    Some((before, there)) if before != value => out.push((here, *there)),
                    Some(_) => {}
                }
            }
        }
    }
    out
}
