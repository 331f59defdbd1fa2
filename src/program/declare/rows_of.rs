//! `replace rows of table`: rows that stand in place of those of a lower table with the same keys.

use super::{Declarations, Stand};
use crate::notation::tree::{Expr, TableBlock, TableColumn, TableRow, Upper};
use crate::problem::{Problem, nearest::nearest};
use crate::program::cells::{Cell, cells};
use crate::source::Text;
use std::collections::BTreeMap;
use std::sync::Arc;

impl Declarations {
    pub(super) fn rows_of(&mut self, text: &Arc<Text>, layer: usize, block: &TableBlock) {
        let name = &block.name;
        // rows beside a table of the same book would be a second account of one thing, whichever stands first
        if let Some(own) = self.own_tables.get(&(layer, name.name.clone())) {
            let line = text.line(own.start as usize);
            let what = format!("This book has the table {} itself, in line {line}: its rows stand there.", name.name);
            let fix = format!("put these rows into that table, and take 'replace rows of table {}' out", name.name);
            return self.problem(text, name.span, "rows in two places", what, fix);
        }
        let Some(lower) = self.tables.get(&name.name).filter(|t| t.layer < layer).cloned() else {
            let near = nearest(&name.name, self.tables.keys().map(String::as_str)).map(str::to_owned);
            let what = format!("No lower book has a table called '{}' whose rows could be replaced.", name.name);
            let fix = near.unwrap_or_else(|| "a table of a book that this one uses".to_owned());
            return self.problem(text, name.span, "nothing to replace", what, fix);
        };
        let Some(places) = self.columns_of(text, block, &lower.what) else { return };
        let upper_book = Arc::new(Upper { text: Arc::clone(text), source: block.source.clone() });
        // cells in the order of the lower table's columns
        let arranged = |row: &TableRow| -> TableRow {
            let cell = |(i, column): (usize, &TableColumn)| match places[i] {
                Some(at) => row.cells.get(at).cloned(),
                None => column.default.as_ref().map(|e| Expr { node: e.node.clone(), span: row.span }),
            };
            let cells = lower.what.columns.iter().enumerate().filter_map(cell).collect();
            TableRow { cells, upper: Some(Arc::clone(&upper_book)), ..row.clone() }
        };
        let mut merged = lower.clone();
        let mut upper = lower.what.clone();
        upper.rows = block.rows.iter().map(arranged).collect();
        let keys: Vec<usize> = (0..upper.columns.len()).filter(|i| upper.columns[*i].how.is_some()).collect();
        let of = |all: &[Option<Cell>]| keys.iter().map(|k| all[*k].clone()).collect::<Option<Vec<Cell>>>();
        let there: BTreeMap<Vec<Cell>, usize> =
            cells(&lower.what).iter().enumerate().filter_map(|(at, all)| Some((of(all)?, at))).collect();
        let mut taken: BTreeMap<usize, usize> = BTreeMap::new();
        for (at, (all, row)) in cells(&upper).iter().zip(&upper.rows).enumerate() {
            if block.rows[at].cells.len() != block.columns.len() {
                let (has, columns) = (block.rows[at].cells.len(), block.columns.len());
                let what = format!("This row has {has} values; the table has {columns} columns.");
                let fix = "one value for each column, between bars".to_owned();
                self.problem(&row.text, row.span, "row does not fit", what, fix);
                continue;
            }
            // a cell of another type is told with the table
            let Some(key) = of(all) else {
                merged.what.rows.push(row.clone());
                continue;
            };
            let words = keys.iter().map(|k| {
                let column = &upper.columns[*k];
                let shown = match places[*k] {
                    Some(_) => row.written(*k).to_owned(),
                    None => default_text(&lower.text, column),
                };
                format!("{} {shown}", column.name.name)
            });
            let words = words.collect::<Vec<_>>().join(", ");
            let Some(old) = there.get(&key) else {
                let what = format!("The table {} has no row for {words} that could be replaced.", name.name);
                let fix = format!(
                    "a row that {} has; one more row is 'replace table {}', with all of them",
                    lower.text.name, name.name
                );
                let mut problem = Problem::stop("nothing to replace", what).fix(fix);
                problem.places.push(row.place());
                self.tell(problem);
                continue;
            };
            if let Some(before) = taken.insert(*old, at) {
                let before = upper.rows[before].whereabouts();
                let what = format!("The row for {words} is already replaced {before}.");
                let mut problem = Problem::stop("row given twice", what).fix("one row for each case");
                problem.places.push(row.place());
                self.tell(problem);
                continue;
            }
            let was = lower.what.rows[*old].clone();
            let now = Stand { layer, text: Arc::clone(&row.text), span: row.span };
            let was = Stand { layer: self.layer_of(&was.text).unwrap_or(lower.layer), text: was.text, span: was.span };
            self.note_replaced(&format!("row {words} of table {}", name.name), was, now);
            merged.what.rows[*old] = row.clone();
        }
        self.tables.insert(name.name.clone(), merged);
    }

    /// Where each column of a lower table stands in the rows that replace some of its own; nothing for a key that is left out.
    fn columns_of(&mut self, text: &Arc<Text>, block: &TableBlock, lower: &TableBlock) -> Option<Vec<Option<usize>>> {
        let before = self.problems.len();
        let problem = |d: &mut Self, span, what: String, fix: String| d.problem(text, span, "type changed", what, fix);
        for column in &block.columns {
            let name = &column.name.name;
            let Some(theirs) = lower.columns.iter().find(|c| c.name.name == *name) else {
                let near = nearest(name, lower.columns.iter().map(|c| c.name.name.as_str()));
                let fix =
                    near.map_or_else(|| "the columns of the table whose rows are replaced".to_owned(), str::to_owned);
                problem(self, column.name.span, format!("The table {} has no column '{name}'.", lower.name.name), fix);
                continue;
            };
            if column.ty.text != theirs.ty.text {
                let what = format!("'{name}' must be {} as in the table whose rows are replaced.", theirs.ty.text);
                problem(self, column.ty.span, what, format!("{name} {}", theirs.ty.text));
            } else if column.how.is_some() && column.how != theirs.how {
                let how = theirs.how.map_or("a result", crate::program::tables::match_words);
                let what = format!("'{name}' is {how} in the table whose rows are replaced, and stays so.");
                problem(self, column.name.span, what, format!("{name} {}", theirs.ty.text));
            } else if column.default.is_some() {
                let what = format!("What '{name}' is when left out, the table says whose rows are replaced.");
                problem(self, column.name.span, what, format!("{name} {}, without 'otherwise'", theirs.ty.text));
            }
        }
        let mut out = Vec::new();
        for theirs in &lower.columns {
            let at = block.columns.iter().position(|c| c.name.name == theirs.name.name);
            if at.is_none() && theirs.default.is_none() {
                let what = format!("The rows have no column '{}'.", theirs.name.name);
                problem(self, block.name.span, what, format!("a column {} {}", theirs.name.name, theirs.ty.text));
            }
            out.push(at);
        }
        (self.problems.len() == before).then_some(out)
    }
}

/// What a column is when it is left out, as the book writes it.
fn default_text(text: &Text, column: &TableColumn) -> String {
    let written = column.default.as_ref().and_then(|e| text.text.get(e.span.range())).unwrap_or("");
    written.trim_start_matches("otherwise").trim().to_owned()
}
