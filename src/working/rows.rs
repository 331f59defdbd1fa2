//! Rows brought together: which of them count, and what each brings.

use super::calls::{At, Depth};
use super::say::quoted;
use super::tell::{RowOf, Teller, style_of};
use super::{Sort, Told};
use crate::engine::examples::value_at;
use crate::notation::tree::{Expr, How, Node};
use crate::program::node::Op;
use crate::program::{FieldId, KindId, Value};
use crate::quantity::Number;
use crate::source::Place;

/// Rows that are told one by one; of more, how many there are.
const MOST_ROWS: usize = 40;

/// How rows are brought together.
#[derive(Clone, Copy)]
struct Fold {
    kind: KindId,
    value: Option<FieldId>,
    condition: Option<FieldId>,
}

impl Teller<'_> {
    /// Children brought together, row by row; lines of the bid by item.
    pub fn together(&mut self, e: &Expr, at: &At, depth: Depth) -> Told {
        let text = std::sync::Arc::clone(&at.reading.text);
        let words = quoted(e, &text);
        let mut told = Told::new(Sort::Together, "", &words).in_book(&text, e.span);
        let (Some(reg), Node::Aggregate { how, value, condition, .. }) = (self.step(e, at), &e.node) else {
            return told;
        };
        let node = self.steps.node(reg);
        let result = self.steps.value(reg, at.of);
        self.valued(&mut told, result.clone(), node.ty, &style_of(node, self.schema().metric));
        let &Op::Fold { kind, value: column, condition: counted, .. } = &node.op else { return told };
        if !self.on_the_way(result.as_ref()) {
            return told;
        }
        let fold = Fold { kind, value: column, condition: counted };
        if kind == self.program.lines {
            self.lines_together(&mut told, fold);
            return told;
        }
        let rows = self.engine().children(kind, at.of.1);
        let of = self.schema().kind(kind);
        let (name, one) = (of.name.replace('_', " "), of.one());
        let counting: Vec<usize> = rows.iter().copied().filter(|row| self.counts(fold, *row)).collect();
        told.says.push(match (rows.len(), counting.len()) {
            (0, _) => format!("there are no {name} here"),
            (1, 1) => format!("1 {one}"),
            (all, some) if all == some => format!("{all} {name}"),
            (all, some) => format!("{some} of {all} {name} count"),
        });
        if depth == 0 {
            told.deeper = !rows.is_empty();
            return told;
        }
        for row in rows.iter().take(MOST_ROWS) {
            let part = self.one_of((kind, *row), fold, (*how, value.as_deref(), condition.as_deref()), at, depth - 1);
            told.parts.push(part);
        }
        if rows.len() > MOST_ROWS {
            told.says.push(format!("the first {MOST_ROWS} are told"));
        }
        told
    }

    /// Whether a row counts.
    fn counts(&self, fold: Fold, row: usize) -> bool {
        fold.condition
            .is_none_or(|c| self.run().columns[c.0 as usize].is_none() || self.run().yes_no(c, row) == Ok(true))
    }

    fn one_of(
        &mut self,
        of: RowOf,
        fold: Fold,
        (how, value, condition): (How, Option<&Expr>, Option<&Expr>),
        at: &At,
        depth: Depth,
    ) -> Told {
        let mut told = Told::new(Sort::Row, "", &self.row_name(of));
        let place = self.inputs().tables.iter().find(|t| t.kind == of.0 && of.1 < t.rows);
        told.place = place.map(|t| Place::Cell(t.origin.cell(of.1, None)));
        let inside = At { reading: at.reading.clone(), of };
        if !self.counts(fold, of.1) {
            told.state = Some(match fold.condition.map(|c| self.run().yes_no(c, of.1)) {
                Some(Err(_)) => "is not known to count",
                _ => "does not count",
            });
            if let Some(condition) = condition.or(value.filter(|_| how == How::Count)) {
                self.explain(&mut told, condition, &inside, depth);
            }
            return told;
        }
        if let Some(column) = fold.value {
            let f = self.schema().field(column);
            let worked_out = self.run().columns[column.0 as usize].is_some();
            let result = worked_out.then(|| value_at(self.engine(), column, of.1));
            let on_the_way = self.on_the_way(result.as_ref());
            self.valued(&mut told, result, f.ty, &f.style);
            if let Some(e) = value.filter(|_| on_the_way) {
                return self.what_it_brings(told, e, &inside, depth);
            }
        }
        told
    }

    /// What a row brings: of a field by itself, that field's own telling.
    fn what_it_brings(&mut self, mut told: Told, e: &Expr, inside: &At, depth: Depth) -> Told {
        let field = match &e.node {
            Node::Name(name) => {
                self.field_in_reach(name, inside.of).filter(|f| self.schema().field(*f).kind == inside.of.0)
            }
            _ => None,
        };
        let Some(field) = field else {
            self.explain(&mut told, e, inside, depth);
            return told;
        };
        let own = self.field_below(field, inside.of.1, depth);
        Told {
            sort: Sort::Row,
            name: told.name,
            label: told.label,
            of: None,
            value: told.value,
            exact: told.exact,
            ..own
        }
    }

    /// Lines of the bid by item, in the order of the bid.
    fn lines_together(&mut self, told: &mut Told, fold: Fold) {
        let schema = self.schema();
        let lines: Vec<_> = self.priced().lines.iter().filter(|l| !l.apart).collect();
        // lines that stand as columns are those of the bid, in its order
        let mut sums: Vec<(u32, usize, Option<Number>)> = Vec::new();
        for (row, line) in lines.iter().enumerate().take(self.run().rows_of(fold.kind)) {
            if !self.counts(fold, row) {
                continue;
            }
            let value = fold.value.and_then(|c| match value_at(self.engine(), c, row) {
                Ok(Value::Number(n)) => Some(n),
                _ => None,
            });
            match sums.iter_mut().find(|(item, ..)| *item == line.item) {
                Some((_, many, sum)) => {
                    *many += 1;
                    *sum = sum.zip(value).and_then(|(a, b)| a.plus(&b).ok());
                }
                None => sums.push((line.item, 1, value)),
            }
        }
        let many: usize = sums.iter().map(|(_, many, _)| many).sum();
        told.says.push(format!("{many} of {} lines of the bid", lines.len()));
        for (item, many, sum) in sums {
            let Some(item) = schema.items.get(item as usize) else { continue };
            let mut part = Told::new(Sort::Row, &item.name, &item.label);
            if let (Some(sum), Some(column)) = (sum, fold.value) {
                let f = schema.field(column);
                self.valued(&mut part, Some(Ok(Value::Number(sum))), f.ty, &f.style);
            }
            part.says.push(if many == 1 { "1 line".to_owned() } else { format!("{many} lines") });
            told.parts.push(part);
        }
    }
}
