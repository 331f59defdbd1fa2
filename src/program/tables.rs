//! Tables: checked when the book is read, looked up as a tree of sorted keys.

use super::declare::Declared;
use super::literals::example_of;
use super::node::{Branch, Constant, Table, TableKey, TableResult};
use super::resolve::{Resolver, Worth, class_of, worth};
use super::schema::Type;
use super::types::read_type;
use crate::notation::tree::{Expr, Literal, Match, Node, TableBlock, TableColumn, TableRow};
use crate::problem::Problem;
use crate::quantity::{Dimension, Number, Unit};
use crate::source::{Span, Text};
use std::cmp::Ordering;
use std::sync::Arc;

/// The names by which a table is called: its own, or one for each of several results.
#[must_use]
pub fn function_names(table: &TableBlock) -> Vec<String> {
    let results: Vec<&TableColumn> = results_of(table);
    match results.as_slice() {
        [_] | [] => vec![table.name.name.clone()],
        many => many.iter().map(|r| format!("{}_{}", table.name.name, r.name.name)).collect(),
    }
}

/// How a column is matched, as the notation writes it.
#[must_use]
pub fn match_words(how: Match) -> &'static str {
    match how {
        Match::Exact => "exact",
        Match::UpTo => "up to",
        Match::From => "from",
        Match::Between => "between",
    }
}

fn results_of(table: &TableBlock) -> Vec<&TableColumn> {
    table.columns.iter().filter(|c| c.how.is_none()).collect()
}

/// A cell as it is compared and sorted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Number(Number),
    Text(u32),
}

impl Resolver {
    /// The table, and which of its results, that a name calls.
    pub(super) fn table_named(&self, name: &str) -> Option<(String, usize)> {
        // a table's name, or that and a result's: none of the other tables is looked at
        let ends = name.match_indices('_').map(|(at, _)| at).chain([name.len()]);
        ends.filter_map(|end| self.d.tables.get(&name[..end])).find_map(|t| {
            let at = function_names(&t.what).iter().position(|n| n == name)?;
            Some((t.what.name.name.clone(), at))
        })
    }

    /// Checks and compiles every table.
    pub fn all_tables(&mut self) {
        for name in self.d.tables.keys().cloned().collect::<Vec<_>>() {
            self.table(&name);
        }
    }

    /// The index of a compiled table.
    pub(super) fn table(&mut self, name: &str) -> Option<u32> {
        if let Some(done) = self.table_index.get(name) {
            return *done;
        }
        let mut declared = self.d.tables.get(name)?.clone();
        let mut sound = self.defaults_hold(&declared);
        if let Some(old) = self.d.replaced_tables.get(name).cloned() {
            sound &= self.defaults_hold(&old);
            let before = self.d.problems.len();
            self.filled_from(&mut declared, &old);
            // one that does not fit its callers is told, and the one below serves them
            if self.d.problems.len() > before {
                declared = old;
            }
        }
        let made = self.compiled(&declared).filter(|_| sound);
        let index = made.map(|table| {
            self.tables.push(table);
            u32::try_from(self.tables.len() - 1).unwrap_or(u32::MAX)
        });
        self.table_index.insert(name.to_owned(), index);
        index
    }

    /// Whether what stands for a key that is left out is a value of the key's type, called or not; tells where it is not.
    fn defaults_hold(&mut self, declared: &Declared<TableBlock>) -> bool {
        let text = &declared.text;
        let mut sound = true;
        for column in &declared.what.columns {
            let Some(default) = &column.default else { continue };
            // an unknown type is told with the columns
            let Ok((ty, _)) = read_type(&column.ty.text) else { continue };
            let name = &column.name.name;
            let told = match &default.node {
                _ if column.how.is_none() => Some((
                    "wrong default",
                    format!("'{name}' is what the table gives; only a key may be left out."),
                    format!("{name} {}, without 'otherwise'", column.ty.text),
                )),
                Node::Name(word) if ty == Type::Text => Some((
                    "wrong default",
                    format!("What '{name}' is when left out is written in quotes; '{word}' is a name."),
                    format!("otherwise \"{word}\""),
                )),
                _ => match self.constant(text, default) {
                    Some(reg) if stands_for(self.d.emit.constant_of(reg), self.d.emit.node(reg).ty, ty) => None,
                    Some(reg) => {
                        let is = self.d.emit.node(reg).ty.words();
                        let what = format!("What '{name}' is when left out is {is}; the column holds {}.", ty.words());
                        Some(("wrong type", what, example_of(ty).to_owned()))
                    }
                    None => {
                        sound = false;
                        None
                    }
                },
            };
            if let Some((kind, what, fix)) = told {
                self.d.problem(text, default.span, kind, what, fix);
                sound = false;
            }
        }
        sound
    }

    /// A replacing table must ask the same; a key with a value of its own when left out may be left out of the table,
    /// whose rows then hold for that value alone.
    fn filled_from(&mut self, new: &mut Declared<TableBlock>, old: &Declared<TableBlock>) {
        for column in &old.what.columns {
            let same = new.what.columns.iter().find(|c| c.name.name == column.name.name);
            match (same, column.how, &column.default) {
                (Some(c), how, _) => {
                    if c.ty.text != column.ty.text || c.how.is_some() != how.is_some() {
                        let what =
                            format!("'{}' must be {} as in the table that is replaced.", c.name.name, column.ty.text);
                        self.d.problem(
                            &new.text,
                            c.name.span,
                            "type changed",
                            what,
                            format!("{} {}", column.name.name, column.ty.text),
                        );
                    }
                }
                (None, Some(_), Some(default)) => {
                    let span = new.what.name.span;
                    let key = TableColumn { how: Some(Match::Exact), ..column.clone() };
                    new.what.columns.insert(0, key);
                    for row in &mut new.what.rows {
                        row.cells.insert(0, Expr { node: default.node.clone(), span });
                    }
                }
                (None, ..) => {
                    let what = format!("The replacing table has no column '{}'.", column.name.name);
                    self.d.problem(
                        &new.text,
                        new.what.name.span,
                        "type changed",
                        what,
                        format!("a column {} {}", column.name.name, column.ty.text),
                    );
                }
            }
        }
    }

    fn compiled(&mut self, declared: &Declared<TableBlock>) -> Option<Table> {
        let (block, text) = (&declared.what, &declared.text);
        let mut types = Vec::new();
        for column in &block.columns {
            types.push(self.d.type_of(text, &column.ty));
        }
        let types = types.into_iter().collect::<Option<Vec<_>>>()?;
        if let Some(column) = block.columns.iter().find(|c| block.from_sheet.is_none() && !c.headings.is_empty()) {
            let what =
                format!("The rows of the table {} stand here; '{}' has no heading.", block.name.name, column.name.name);
            let fix = "take 'heading' out, or 'from sheet \"…\" of \"….xlsx\"' in the first line".to_owned();
            self.d.problem(text, column.name.span, "heading without a sheet", what, fix);
            return None;
        }
        if results_of(block).is_empty() || block.columns.iter().all(|c| c.how.is_none()) {
            let what = "A table needs at least one key (exact, up to, from, between) and one result.".to_owned();
            self.d.problem(
                text,
                block.name.span,
                "table without keys",
                what,
                "spacing length, up to | limit length".to_owned(),
            );
            return None;
        }
        for (column, (ty, _)) in block.columns.iter().zip(&types) {
            if column.how.is_some_and(|h| h != Match::Exact) && ty.dimension().is_none() && *ty != Type::Date {
                let what =
                    format!("'{}' is {}; only numbers and dates lie between others.", column.name.name, ty.words());
                self.d.problem(text, column.name.span, "wrong type", what, "exact".to_owned());
                return None;
            }
        }
        if let Some(at) = block.columns.iter().position(|c| c.how == Some(Match::Between))
            && block.columns[at + 1..].iter().any(|c| c.how.is_some())
        {
            let what = "A key that is matched between two rows must be the last key.".to_owned();
            self.d.problem(
                text,
                block.columns[at].name.span,
                "table without keys",
                what,
                "move that column to the right".to_owned(),
            );
            return None;
        }
        if block.columns.iter().any(|c| c.how == Some(Match::Between))
            && let Some((column, (ty, _))) = block
                .columns
                .iter()
                .zip(&types)
                .find(|(c, (ty, _))| c.how.is_none() && ty.dimension().is_none() && *ty != Type::Date)
        {
            let what = format!("Nothing lies between two rows of '{}', which is {}.", column.name.name, ty.words());
            self.d.problem(
                text,
                column.name.span,
                "wrong type",
                what,
                "'up to' or 'from' in place of 'between'".into(),
            );
            return None;
        }
        let (rows, keys) = self.cells(text, block, &types)?;
        Some(self.arranged_table(block, &types, &rows, keys))
    }

    /// Every cell as a constant in base units, and what each row is asked for by; wrong ones are problems.
    fn cells(
        &mut self,
        text: &Arc<Text>,
        block: &TableBlock,
        types: &[(Type, Option<Unit>)],
    ) -> Option<(Vec<Vec<Constant>>, Vec<Keyed>)> {
        let mut out = Vec::new();
        let mut sound = true;
        if block.rows.is_empty() {
            // what keeps a sheet from being read is told already
            if block.from_sheet.is_some() {
                return None;
            }
            let what = format!("The table {} has no rows.", block.name.name);
            self.d.problem(
                text,
                block.name.span,
                "table without rows",
                what,
                "one line for each row, values between bars".to_owned(),
            );
            return None;
        }
        for (n, TableRow { cells, span, text, .. }) in block.rows.iter().enumerate() {
            if cells.len() != types.len() {
                let what = format!("This row has {} values; the table has {} columns.", cells.len(), types.len());
                self.d.problem(
                    text,
                    *span,
                    "row does not fit",
                    what,
                    "one value for each column, between bars".to_owned(),
                );
                sound = false;
                continue;
            }
            let row: Vec<Option<Constant>> =
                cells.iter().zip(types).map(|(cell, (ty, _))| self.cell(text, cell, *ty)).collect();
            match row.into_iter().collect::<Option<Vec<_>>>() {
                Some(row) => out.push((row, n)),
                None => sound = false,
            }
        }
        let keyed = keyed(block);
        let keys: Vec<Keyed> =
            out.iter().map(|(row, n)| (keyed.iter().map(|i| self.key(row[*i])).collect(), *n)).collect();
        self.duplicates(block, &keys);
        sound.then(|| (out.into_iter().map(|(row, _)| row).collect(), keys))
    }

    fn cell(&mut self, text: &Arc<Text>, cell: &Expr, ty: Type) -> Option<Constant> {
        if let (Node::Name(word), Type::Text) = (&cell.node, ty) {
            return Some(Constant::Text(self.d.emit.texts.intern(word)));
        }
        if let (Node::Literal(Literal::Number { value, unit: None }), Type::Text) = (&cell.node, ty) {
            let word = value.to_decimal().to_string();
            return Some(Constant::Text(self.d.emit.texts.intern(&word)));
        }
        if let Node::Name(word) = &cell.node {
            let what = format!("'{word}' is a word; the column holds {}.", ty.words());
            self.d.problem(text, cell.span, "wrong type", what, example_of(ty).to_owned());
            return None;
        }
        // what is written as a value is no step of the book: a table may have many
        let (constant, is, unit) = match &cell.node {
            Node::Literal(literal) => {
                let Worth { value, ty, unit, .. } = worth(&mut self.d.emit.texts, literal);
                (Some(value), ty, unit)
            }
            _ => {
                let reg = self.constant(text, cell)?;
                let node = self.d.emit.node(reg);
                (self.d.emit.constant_of(reg), node.ty, node.unit)
            }
        };
        if !stands_for(constant, is, ty) {
            let what = format!("This is {}; the column holds {}.", is.words(), ty.words());
            self.d.problem(text, cell.span, "wrong type", what, example_of(ty).to_owned());
            return None;
        }
        let factor = unit.factor;
        match constant? {
            Constant::Number(n) => match n.scaled(factor) {
                Ok(n) => Some(Constant::Number(n)),
                Err(_) => {
                    self.number_too_large(text, cell.span);
                    None
                }
            },
            other => Some(other),
        }
    }

    fn number_too_large(&mut self, text: &Arc<Text>, span: Span) {
        let what = "This number is too large to be worked with.".to_owned();
        self.d.problem(text, span, "number too large", what, "a smaller figure".to_owned());
    }

    fn arranged_table(
        &mut self,
        block: &TableBlock,
        types: &[(Type, Option<Unit>)],
        rows: &[Vec<Constant>],
        mut sorted: Vec<Keyed>,
    ) -> Table {
        let keys = keyed(block)
            .iter()
            .map(|i| TableKey {
                name: block.columns[*i].name.name.clone(),
                ty: types[*i].0,
                how: block.columns[*i].how.unwrap_or(Match::Exact),
            })
            .collect::<Vec<_>>();
        let results = (0..block.columns.len())
            .filter(|i| block.columns[*i].how.is_none())
            .map(|i| {
                let (ty, unit) = types[i];
                let unit = unit.unwrap_or_else(|| Unit::kept(ty.dimension().unwrap_or(Dimension::NONE)));
                let kept = |(cells, row): (&Vec<Constant>, &TableRow)| match &cells[i] {
                    Constant::Number(n) => Constant::Number(n.scaled(unit.factor.recip()).unwrap_or_else(|_| {
                        self.number_too_large(&row.text, row.span);
                        Number::ZERO
                    })),
                    c => *c,
                };
                TableResult { ty, unit, values: rows.iter().zip(&block.rows).map(kept).collect() }
            })
            .collect();
        let mut table = Table { name: block.name.name.clone(), keys, branches: vec![Branch::default()], results };
        sorted.sort_by(|a, b| a.0.cmp(&b.0));
        let all: Vec<(&[Key], usize)> = sorted.iter().map(|(k, n)| (k.as_slice(), *n)).collect();
        fill(&mut table.branches, 0, &all);
        table
    }

    fn key(&self, constant: Constant) -> Key {
        match constant {
            Constant::Number(n) => Key::Number(n),
            Constant::Text(t) => Key::Text(self.d.emit.texts.same(t)),
            Constant::YesNo(v) => Key::Number(i64::from(v).into()),
        }
    }

    fn duplicates(&mut self, block: &TableBlock, rows: &[Keyed]) {
        let mut seen: Vec<&Keyed> = rows.iter().collect();
        seen.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(&b.1)));
        for pair in seen.windows(2) {
            if pair[0].0.cmp(&pair[1].0) == Ordering::Equal {
                let (first, second) = (&block.rows[pair[0].1], &block.rows[pair[1].1]);
                let (name, there) = (&block.name.name, first.whereabouts());
                let mut problem =
                    Problem::stop("row given twice", format!("The table {name} already has a row for this, {there}."));
                problem.places.push(second.place());
                self.d.problems.push(problem.fix("one row for each case"));
            }
        }
    }
}

/// What a row is asked for by, and its number.
type Keyed = (Vec<Key>, usize);

/// Whether a constant of one type may stand in a column of another: of its class, or nought where quantities stand.
fn stands_for(constant: Option<Constant>, is: Type, ty: Type) -> bool {
    let zero = matches!(constant, Some(Constant::Number(n)) if n.is_zero());
    class_of(is) == class_of(ty) || (zero && ty.dimension().is_some())
}

/// The columns of a table that tell what is asked.
fn keyed(block: &TableBlock) -> Vec<usize> {
    (0..block.columns.len()).filter(|i| block.columns[*i].how.is_some()).collect()
}

/// Sorted rows below one branch; rows with the same key share the branch under it.
fn fill(branches: &mut Vec<Branch>, at: usize, rows: &[(&[Key], usize)]) {
    let mut start = 0;
    while start < rows.len() {
        let key = &rows[start].0[0];
        let end = start + rows[start..].iter().take_while(|(k, _)| k[0] == *key).count();
        let last = rows[start].0.len() == 1;
        let next = if last {
            rows[start].1
        } else {
            branches.push(Branch::default());
            let new = branches.len() - 1;
            let below: Vec<(&[Key], usize)> = rows[start..end].iter().map(|(k, n)| (&k[1..], *n)).collect();
            fill(branches, new, &below);
            new
        };
        let branch = &mut branches[at];
        match key {
            Key::Number(n) => branch.numbers.push(*n),
            Key::Text(t) => branch.texts.push(*t),
        }
        branch.next.push(u32::try_from(next).unwrap_or(u32::MAX));
        start = end;
    }
}
