//! Formulas of the rows of each kind, from the steps of a checked program.

use super::lookup::{self, LiveTable};
use super::term::{Fold, Piece, Quantity, Term, Tie, call, joined, quoted, words};
use crate::engine::input::RawColumn;
use crate::engine::{InputTable, Inputs, RawCell, Run};
use crate::notation::tree::{Comparison, How};
use crate::program::native::NativeArgument;
use crate::program::node::{Constant, Op, Scaled};
use crate::program::{Field, FieldId, Flavor, KindId, Need, Program, Segment, Type};
use crate::quantity::number::Rounding;
use crate::quantity::{Decimal, Dimension, Number};
use crate::workbook::headings::{HeadingUnit, unit_of};
use crate::workbook::write::shown;
use rustc_hash::FxHashMap;
use std::cell::RefCell;
use std::collections::BTreeSet;

/// Steps that one formula may take: longer ones are values.
const MOST_STEPS: u32 = 300;

/// What an input cell's own value is where it is not plainly the number that was typed: a length such as 28'-6", a blank
/// that stands for something.
#[derive(Clone, Debug)]
pub struct Helped {
    /// Base units in one of what the helping cell holds.
    pub unit: Number,
    /// What a number that is typed is multiplied by; nothing where none was typed in the column, so that its unit is not
    /// known.
    pub typed: Option<Number>,
}

/// Formulas of the rows of each kind, by field.
#[derive(Debug, Default)]
pub struct RowFormulas {
    of: FxHashMap<FieldId, Vec<Piece>>,
    needs: Vec<Option<Term>>,
    wastes: Vec<Option<Vec<Piece>>>,
    /// Input fields whose values stand beside the cells as they were read.
    pub helped: FxHashMap<FieldId, Helped>,
    /// Tables that formulas look things up in.
    pub tables: Vec<LiveTable>,
    /// What each worked-out field that is a value is worked out from: fields that have cells.
    pub still: FxHashMap<FieldId, Vec<FieldId>>,
}

impl RowFormulas {
    /// The formula of a worked-out field; nothing where it is a value.
    #[must_use]
    pub fn of(&self, field: FieldId) -> Option<&[Piece]> {
        self.of.get(&field).map(Vec::as_slice)
    }

    /// What an item needs of its row, in a unit, by base units in one of it; nothing where no cell changes it.
    #[must_use]
    pub fn need(&self, item: u32, unit: &Number) -> Option<Vec<Piece>> {
        let term = self.needs.get(item as usize)?.as_ref()?;
        if matches!(term, Term::Constant(_)) { None } else { term.clone().pieces_in(unit) }
    }

    /// The share of an item's need that is added for waste; nothing where no cell changes it.
    #[must_use]
    pub fn waste(&self, item: u32) -> Option<&[Piece]> {
        self.wastes.get(item as usize)?.as_deref()
    }

    /// The tables that its formulas look at.
    fn tables_named(&self) -> BTreeSet<u32> {
        let needs = self.needs.iter().flatten().filter_map(Term::pieces);
        let wastes = self.wastes.iter().flatten().map(Vec::as_slice);
        let mut open: Vec<&Piece> = self.of.values().map(Vec::as_slice).chain(needs).chain(wastes).flatten().collect();
        let mut out = BTreeSet::new();
        while let Some(piece) = open.pop() {
            match piece {
                Piece::Key(table, _) | Piece::Result(table, _) | Piece::Row(table) => drop(out.insert(*table)),
                Piece::Fold(fold) => open.extend(fold.value.iter().chain(&fold.condition)),
                Piece::Words(_) | Piece::Cell(_) | Piece::Typed(_) => {}
            }
        }
        out
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.of.is_empty()
    }
}

/// Translates what can be translated; kinds of more rows than `most_rows` are values altogether. Cells that are no plain
/// numbers are helped only in tables of at most `most_helped` rows.
#[must_use]
pub fn row_formulas(
    program: &Program,
    inputs: &Inputs,
    run: &Run,
    (most_rows, most_helped): (usize, usize),
) -> RowFormulas {
    let schema = &program.schema;
    if inputs.tables.iter().any(|t| t.rows > most_rows) {
        return RowFormulas::default();
    }
    let writer = Writer::new(program, inputs, run, most_helped);
    let mut out = RowFormulas::default();
    for table in inputs.tables.iter().filter(|t| t.rows > 0 && !schema.kind(t.kind).single) {
        for id in &schema.kind(table.kind).fields {
            if !writer.stands(*id) {
                continue;
            }
            match writer.formula(*id) {
                Some(pieces) => drop(out.of.insert(*id, pieces)),
                None => drop(out.still.insert(*id, writer.made_from(*id))),
            }
        }
    }
    out.needs = schema.items.iter().map(|item| writer.need(&item.need)).collect();
    out.wastes = schema.items.iter().map(|item| writer.waste(item.waste?)).collect();
    out.tables = out.tables_named().into_iter().filter_map(|t| lookup::table(program, t)).collect();
    out.helped = writer.read.into_inner().into_iter().filter_map(|(f, r)| Some((f, r?.helped?))).collect();
    out
}

/// How an input column reads as a term.
#[derive(Clone, Debug)]
struct Reading {
    term: Term,
    helped: Option<Helped>,
}

struct Writer<'a> {
    program: &'a Program,
    inputs: &'a Inputs,
    run: &'a Run,
    most_helped: usize,
    /// The segment and the step of each worked-out field.
    made: FxHashMap<FieldId, (usize, u32)>,
    /// Worked-out fields that have a cell, by segment and step, the first of each.
    cells: FxHashMap<(usize, u32), FieldId>,
    read: RefCell<FxHashMap<FieldId, Option<Reading>>>,
}

/// A formula in the making: whose it is, how many steps it may still take, and whether it comes to a text, so that a word is
/// to be written as the rules write it.
struct Making {
    field: Option<FieldId>,
    left: u32,
    words: bool,
}

impl<'a> Writer<'a> {
    fn new(program: &'a Program, inputs: &'a Inputs, run: &'a Run, most_helped: usize) -> Self {
        let mut out = Self {
            program,
            inputs,
            run,
            most_helped,
            made: FxHashMap::default(),
            cells: FxHashMap::default(),
            read: RefCell::default(),
        };
        for (at, segment) in program.segments.iter().enumerate() {
            for (field, reg) in &segment.outputs {
                out.made.insert(*field, (at, *reg));
                if out.stands(*field) {
                    out.cells.entry((at, *reg)).or_insert(*field);
                }
            }
        }
        out
    }

    fn field(&self, id: FieldId) -> &'a Field {
        self.program.schema.field(id)
    }

    /// Whether a worked-out field has a column of cells.
    fn stands(&self, id: FieldId) -> bool {
        let field = self.field(id);
        field.input.is_none()
            && !field.hidden
            && !self.program.schema.kind(field.kind).single
            && field.kind != self.program.lines
            && self.run.columns.get(id.0 as usize).is_some_and(Option::is_some)
    }

    /// The formula of a field that has a column, in the unit in which it is shown.
    fn formula(&self, id: FieldId) -> Option<Vec<Piece>> {
        let making = &mut Making { field: Some(id), left: MOST_STEPS, words: self.field(id).ty == Type::Text };
        let (segment, reg) = *self.made.get(&id)?;
        let term = self.step(segment, reg, making)?;
        let field = self.field(id);
        match field.ty {
            Type::Number { .. } => term.pieces_in(&shown_unit(field)?),
            Type::Text => term.text(),
            Type::YesNo => call("IF", [self.yes_no(term)?, vec![words("\"yes\"")], vec![words("\"no\"")]]),
            Type::Date | Type::Thing(_) => None,
        }
    }

    /// Fields with cells that a worked-out field is made from, by way of others that have none.
    fn made_from(&self, id: FieldId) -> Vec<FieldId> {
        let (mut out, mut met) = (BTreeSet::new(), BTreeSet::from([id]));
        let mut open: Vec<FieldId> = vec![id];
        while let Some(id) = open.pop() {
            let Some((segment, reg)) = self.made.get(&id) else { continue };
            let mut seen = BTreeSet::new();
            let mut steps = vec![*reg];
            while let Some(reg) = steps.pop().filter(|_| seen.len() < 10_000) {
                let held = self.cells.get(&(*segment, reg)).copied().filter(|held| !met.contains(held));
                if let Some(held) = held.filter(|held| !matches!(self.field(*held).ty, Type::Thing(_))) {
                    out.insert(held);
                    continue;
                }
                let Some(step) = self.program.segments[*segment].steps.get(reg as usize) else { continue };
                let mut fields = Vec::new();
                match &step.op {
                    Op::Field(field) | Op::Parent(field) => fields.push(*field),
                    Op::Fold { value, condition, .. } => fields.extend([*value, *condition].into_iter().flatten()),
                    Op::Native(_, arguments) => {
                        for argument in arguments {
                            if let NativeArgument::Rows(_, columns) = argument {
                                fields.extend(columns.iter().flatten());
                            }
                        }
                    }
                    _ => {}
                }
                for field in fields.into_iter().filter(|f| met.insert(*f)) {
                    let read = self.field(field).input.is_some();
                    let has_cell = read && (self.column_of(field).is_some() || self.program.schema.is_setting(field));
                    let worked = self.stands(field) && !matches!(self.field(field).ty, Type::Thing(_));
                    if has_cell || worked {
                        out.insert(field);
                    } else {
                        open.push(field);
                    }
                }
                step.op.operands(|r| {
                    if seen.insert(r) {
                        steps.push(r);
                    }
                });
            }
        }
        out.into_iter().collect()
    }

    fn need(&self, need: &Need) -> Option<Term> {
        let making = &mut Making { field: None, left: MOST_STEPS, words: false };
        match need {
            Need::Amount(field) => self.value(*field, making),
            Need::Cut { count, each } => Term::multiplied(self.value(*count, making)?, self.value(*each, making)?),
            Need::Pieces { .. } | Need::Lump(_) => None,
        }
    }

    fn waste(&self, field: FieldId) -> Option<Vec<Piece>> {
        let making = &mut Making { field: None, left: MOST_STEPS, words: false };
        let term = self.value(field, making).filter(|term| !matches!(term, Term::Constant(_)))?;
        term.pieces_in(&Number::ONE)
    }

    fn yes_no(&self, term: Term) -> Option<Vec<Piece>> {
        if let Term::YesNo(pieces) = term { Some(pieces) } else { None }
    }

    /// A field's value as other formulas see it.
    fn value(&self, id: FieldId, making: &mut Making) -> Option<Term> {
        let field = self.field(id);
        if field.kind == self.program.lines {
            return None;
        }
        if self.program.schema.kind(field.kind).single {
            return self.of_job(id, making);
        }
        if let Some(input) = &field.input {
            let term = self.input(id)?;
            return match (term, in_letters(&input.one_of)) {
                (Term::Text(typed), Some(function)) if making.words => call(function, [typed]).map(Term::Text),
                (term, _) => Some(term),
            };
        }
        if self.program.schema.options.as_ref().is_some_and(|o| o.field == id) {
            return self.stands(id).then_some(Term::Option(id));
        }
        if self.stands(id) {
            return cell_of(id, field);
        }
        let (segment, reg) = *self.made.get(&id)?;
        self.step(segment, reg, making)
    }

    /// A value of the job is the same for every row: a setting stands in a cell, and what is worked out from settings is
    /// worked out where it is needed.
    fn of_job(&self, id: FieldId, making: &mut Making) -> Option<Term> {
        let schema = &self.program.schema;
        if schema.is_setting(id) {
            return cell_of(id, self.field(id));
        }
        if let Some((segment, reg)) = self.made.get(&id) {
            return self.step(*segment, *reg, making);
        }
        let changes = schema.names_option(id);
        self.run.columns.get(id.0 as usize)?.as_ref().filter(|_| !changes)?;
        self.constant(id, 0)
    }

    /// A step of a segment; a cell where one holds it.
    fn step(&self, at: usize, reg: u32, making: &mut Making) -> Option<Term> {
        if let Some(id) = self.cells.get(&(at, reg)).filter(|id| making.field != Some(**id)) {
            return cell_of(*id, self.field(*id));
        }
        making.left = making.left.checked_sub(1)?;
        let segment: &Segment = &self.program.segments[at];
        let step = segment.steps.get(reg as usize)?;
        let factor = step.unit.factor;
        // what is worked out for one field must not hand its own cell on to what it is made of
        let of = |r: u32, making: &mut Making| self.step(at, r, making);
        let scaled = |s: &Scaled, making: &mut Making| of(s.reg, making);
        match &step.op {
            Op::Constant(n) => match self.program.constants.get(*n as usize)? {
                Constant::Number(n) if step.ty != Type::Date => n.scaled(factor).ok().map(Term::Constant),
                Constant::Number(_) => None,
                Constant::Text(id) => Some(Term::Words(self.program.texts.get(*id).to_string())),
                Constant::YesNo(v) => Some(truth(*v)),
            },
            Op::Field(id) | Op::Parent(id) => self.value(*id, making),
            Op::Fold { how, kind, value, condition } => self.fold(segment, (*how, *kind), (*value, *condition), making),
            Op::Add(a, b) => Term::added(scaled(a, making)?, scaled(b, making)?, false),
            Op::Subtract(a, b) => Term::added(scaled(a, making)?, scaled(b, making)?, true),
            Op::Multiply(a, b) => Term::multiplied(of(*a, making)?, of(*b, making)?),
            Op::Divide(a, b) => Term::divided(of(*a, making)?, of(*b, making)?),
            Op::Negate(a) => Term::added(Term::Constant(Number::ZERO), of(*a, making)?, true),
            Op::Round { how, value, step } => rounded(*how, scaled(value, making)?, scaled(step, making)?),
            Op::Pick { least, a, b } => Term::picked(scaled(a, making)?, scaled(b, making)?, *least),
            Op::Root { n, value, .. } => {
                let base = of(*value, making)?.pieces_in(&Number::ONE)?;
                let pieces = match n {
                    2 => call("SQRT", [base])?,
                    _ => call("POWER", [base, vec![words("1/3")]])?,
                };
                Some(Term::plain(pieces, Tie::One))
            }
            Op::Compare(how, a, b) => {
                let ty = segment.steps.get(a.reg as usize)?.ty;
                if ty == Type::Date {
                    return None;
                }
                Term::compared(scaled(a, making)?, sign(*how), scaled(b, making)?).map(Term::YesNo)
            }
            Op::Same(a, b) => self.same(of(*a, making)?, of(*b, making)?).map(Term::YesNo),
            // the right one counts only where the left one holds, or does not
            Op::And(a, b) => {
                let (a, b) = (self.yes_no(of(*a, making)?)?, self.yes_no(of(*b, making)?)?);
                call("IF", [a, b, vec![words("FALSE")]]).map(Term::YesNo)
            }
            Op::Or(a, b) => {
                let (a, b) = (self.yes_no(of(*a, making)?)?, self.yes_no(of(*b, making)?)?);
                call("IF", [a, vec![words("TRUE")], b]).map(Term::YesNo)
            }
            Op::Not(a) => call("NOT", [self.yes_no(of(*a, making)?)?]).map(Term::YesNo),
            Op::Given(a) => self.given(segment, *a),
            Op::Choose { arms, otherwise } => {
                let mut chosen = Vec::with_capacity(arms.len());
                for (condition, value) in arms {
                    chosen.push((self.yes_no(of(*condition, making)?)?, scaled(value, making)?));
                }
                Term::chosen(chosen, scaled(otherwise, making)?)
            }
            Op::Count(a) => of(*a, making),
            Op::Lookup { table, result, keys } => {
                let mut asked = Vec::with_capacity(keys.len());
                for key in keys {
                    asked.push(of(*key, making)?);
                }
                lookup::lookup(self.program, (*table, *result), asked)
            }
            Op::Native(..) | Op::Parameter(_) => None,
        }
    }

    /// Whether two texts, or two yes/no values, are the same.
    fn same(&self, a: Term, b: Term) -> Option<Vec<Piece>> {
        match (a, b) {
            (Term::YesNo(a), Term::YesNo(b)) => joined([vec![words("(")], a, vec![words(")=(")], b, vec![words(")")]]),
            (Term::Option(cell), Term::Words(name)) | (Term::Words(name), Term::Option(cell)) => {
                let label = self.program.schema.in_words(cell, &name).to_owned();
                joined([vec![Piece::Cell(cell), words("="), words(quoted(&label)?)]])
            }
            (a, b) => joined([a.text()?, vec![words("=")], b.text()?]),
        }
    }

    /// Whether a cell that was read is not blank.
    fn given(&self, segment: &Segment, reg: u32) -> Option<Term> {
        let (Op::Field(id) | Op::Parent(id)) = segment.steps.get(reg as usize)?.op else { return None };
        let field = self.field(id);
        let input = field.input.as_ref()?;
        if input.default.is_some() || input.stock_of.is_some() {
            return Some(truth(true));
        }
        if self.program.schema.is_setting(id) {
            return joined([vec![Piece::Cell(id), words("<>\"\"")]]).map(Term::YesNo);
        }
        if self.program.schema.kind(field.kind).single {
            return Some(truth(self.run.columns.get(id.0 as usize)?.as_ref()?.fault(0).is_none()));
        }
        match self.column_of(id) {
            Some(_) => joined([vec![Piece::Typed(id), words("<>\"\"")]]).map(Term::YesNo),
            None => Some(truth(false)),
        }
    }

    fn fold(
        &self,
        segment: &Segment,
        (how, kind): (How, KindId),
        (value, condition): (Option<FieldId>, Option<FieldId>),
        making: &mut Making,
    ) -> Option<Term> {
        let belongs = self.program.schema.kind(kind).parent.as_ref().is_some_and(|p| p.kind == segment.kind);
        if !belongs || self.program.schema.kind(segment.kind).single {
            return None;
        }
        let condition = match condition {
            Some(id) => self.yes_no(self.value(id, making)?)?,
            None => Vec::new(),
        };
        let of_all = condition.is_empty();
        let fold = |value| vec![Piece::Fold(Box::new(Fold { how, of: segment.kind, kind, value, condition }))];
        match (how, value) {
            (How::Count, _) => Some(Term::plain(fold(Vec::new()), Tie::One)),
            (How::Sum | How::Least | How::Most, Some(id)) => {
                // the least of those that count would be that of blanks too
                if how != How::Sum && !of_all {
                    return None;
                }
                let unit = shown_unit(self.field(id)).unwrap_or(Number::ONE);
                let value = self.value(id, making)?.pieces_in(&unit)?;
                Some(Term::Number(Quantity::new(fold(value), Tie::One, unit)))
            }
            (How::Any | How::All, Some(id)) => {
                let value = self.yes_no(self.value(id, making)?)?;
                Some(Term::YesNo(fold(value)))
            }
            _ => None,
        }
    }

    /// The table and the column of the sheet that an input field is read from.
    fn column_of(&self, id: FieldId) -> Option<(&'a InputTable, usize)> {
        let kind = self.field(id).kind;
        let table = self.inputs.tables.iter().find(|t| t.kind == kind)?;
        let place = self.place_of(id);
        let at = table.origin.columns.iter().position(|c| c.field.is_some() && c.field == place)?;
        Some((table, at))
    }

    /// The place of an input field among those of its kind.
    fn place_of(&self, id: FieldId) -> Option<usize> {
        let schema = &self.program.schema;
        schema
            .kind(self.field(id).kind)
            .fields
            .iter()
            .filter(|f| schema.field(**f).input.is_some())
            .position(|f| *f == id)
    }

    fn input(&self, id: FieldId) -> Option<Term> {
        if let Some(known) = self.read.borrow().get(&id) {
            return known.as_ref().map(|r| r.term.clone());
        }
        let reading = self.reading(id);
        let term = reading.as_ref().map(|r| r.term.clone());
        self.read.borrow_mut().insert(id, reading);
        term
    }

    fn reading(&self, id: FieldId) -> Option<Reading> {
        let field = self.field(id);
        let kind = field.kind;
        let plainly = |term| Some(Reading { term, helped: None });
        let Some((table, at)) = self.column_of(id) else {
            // no cell holds it: the same for every row
            let rows = self.run.rows_of(kind);
            let term = (rows > 0).then(|| self.constant(id, 0)).flatten()?;
            return plainly(term);
        };
        let cells = &table.origin.columns[at].cells;
        let named = self.program.schema.names_option(id);
        match field.ty {
            Type::Number { .. } => self.number(id, table, &table.origin.columns[at]),
            Type::Text if !named => self.text(id, cells).and_then(plainly),
            Type::YesNo => self.flag(id, cells).and_then(plainly),
            _ => None,
        }
    }

    /// A field's value in a row as the same for all.
    fn constant(&self, id: FieldId, row: usize) -> Option<Term> {
        match self.field(id).ty {
            Type::Number { .. } => self.run.number(&self.program.schema, id, row).ok().map(Term::Constant),
            Type::Text => self.run.text(id, row).ok().map(|t| Term::Words(t.to_string())),
            Type::YesNo => self.run.yes_no(id, row).ok().map(truth),
            Type::Date | Type::Thing(_) => None,
        }
    }

    /// A column of numbers: as typed where each is one, else helped by cells that hold what was read.
    fn number(&self, id: FieldId, table: &InputTable, RawColumn { heading, cells, .. }: &RawColumn) -> Option<Reading> {
        let schema = &self.program.schema;
        let value = |row| self.run.number(schema, id, row).ok();
        let typed = |cell: &RawCell| match cell {
            RawCell::Number(n) | RawCell::Percent(n) => Some(*n),
            // a number that is kept as a text tells the unit too
            RawCell::Text(id) => self.inputs.texts.get(*id).trim().parse::<f64>().ok().filter(|n| n.is_finite()),
            _ => None,
        };
        // base units in one of what was typed, the same in every row
        let mut unit: Option<Number> = None;
        let (mut uniform, mut blanks) = (true, false);
        for (row, cell) in cells.iter().enumerate() {
            match (cell, value(row)) {
                (RawCell::Empty, _) => blanks = true,
                (cell, Some(value)) if typed(cell).is_some() => {
                    let number = typed(cell)?;
                    uniform &= !matches!(cell, RawCell::Text(_));
                    if unit.is_none() && !value.is_zero() {
                        unit = Some(ratio(&value, number)?);
                    }
                    let reads_so = match &unit {
                        Some(unit) => decimal(number)?.times(unit).is_ok_and(|n| n == value),
                        // all of them zero so far
                        None => number == 0.0,
                    };
                    if !reads_so {
                        return None;
                    }
                }
                // texts, and what could not be read
                _ => uniform = false,
            }
        }
        // of a column that is blank, its heading tells what a number in it would be
        let unit = unit.or_else(|| self.bare_unit(id, heading));
        if let (true, Some(unit)) = (uniform, unit)
            && !(blanks && self.field(id).input.as_ref()?.stock_of.is_some())
        {
            let typed = Term::Number(Quantity::new(vec![Piece::Typed(id)], Tie::One, unit));
            if !blanks {
                return Some(Reading { term: typed, helped: None });
            }
            let blank = match cells.iter().position(|c| *c == RawCell::Empty).map(value)? {
                Some(value) => Term::Constant(value).pieces_in(&unit)?,
                None => vec![words("NA()")],
            };
            let is_blank = joined([vec![Piece::Typed(id), words("=\"\"")]])?;
            let pieces = call("IF", [is_blank, blank, vec![Piece::Typed(id)]])?;
            return Some(Reading { term: Term::Number(Quantity::new(pieces, Tie::One, unit)), helped: None });
        }
        if table.rows > self.most_helped {
            return None;
        }
        let helping = shown_unit(self.field(id))?;
        let typed = unit.and_then(|u| u.over(&helping).ok());
        let term = Term::Number(Quantity::new(vec![Piece::Cell(id)], Tie::One, helping));
        Some(Reading { term, helped: Some(Helped { unit: helping, typed }) })
    }

    /// Base units in one of what a bare number in a column is.
    fn bare_unit(&self, id: FieldId, heading: &str) -> Option<Number> {
        let field = self.field(id);
        let (Type::Number { dimension, flavor }, input) = (field.ty, field.input.as_ref()?) else { return None };
        let stated = unit_of(heading).or_else(|| input.headings.iter().find_map(|h| unit_of(h)));
        match (stated, flavor) {
            (Some(HeadingUnit::Percent), Flavor::Percent) => Number::from_ints(1, 100).ok(),
            (_, Flavor::Percent) => None,
            (Some(HeadingUnit::Unit(unit)), _) if unit.dimension == dimension => Number::of_ratio(unit.factor).ok(),
            _ => (dimension.is_none() || dimension == Dimension::MONEY).then_some(Number::ONE),
        }
    }

    /// A column of texts that read as they are typed.
    fn text(&self, id: FieldId, cells: &[RawCell]) -> Option<Term> {
        let input = self.field(id).input.as_ref()?;
        let mut blank = None;
        let mut as_typed = true;
        for (row, cell) in cells.iter().enumerate() {
            match (cell, self.run.text(id, row)) {
                (RawCell::Empty, read) => {
                    let read = read.ok().map(ToString::to_string);
                    if *blank.get_or_insert_with(|| read.clone()) != read {
                        return None;
                    }
                }
                (RawCell::Text(raw), Ok(read)) => {
                    let raw = self.inputs.texts.get(*raw);
                    if !raw.eq_ignore_ascii_case(read) {
                        return None;
                    }
                    as_typed &= **raw == **read;
                }
                _ => return None,
            }
        }
        // one of certain words is that word, however it was typed: where a formula comes to it, it writes it as the rules do
        let typed = vec![Piece::Typed(id)];
        if !as_typed {
            in_letters(&input.one_of)?;
        }
        let Some(blank) = blank else { return Some(Term::Text(typed)) };
        let blank = words(match &blank {
            Some(text) => quoted(text)?,
            None => "NA()".to_owned(),
        });
        let is_blank = joined([vec![Piece::Typed(id), words("=\"\"")]])?;
        call("IF", [is_blank, vec![blank], typed]).map(Term::Text)
    }

    /// A column of yes and no.
    fn flag(&self, id: FieldId, cells: &[RawCell]) -> Option<Term> {
        let mut blank = None;
        for (row, cell) in cells.iter().enumerate() {
            let read = self.run.yes_no(id, row).ok();
            match cell {
                RawCell::Empty => {
                    if *blank.get_or_insert(read) != read {
                        return None;
                    }
                }
                RawCell::YesNo(v) if read == Some(*v) => {}
                RawCell::Text(raw) => {
                    let word = self.inputs.texts.get(*raw);
                    let (yes, no) = (word.eq_ignore_ascii_case("yes"), word.eq_ignore_ascii_case("no"));
                    if !(yes && read == Some(true) || no && read == Some(false)) {
                        return None;
                    }
                }
                _ => return None,
            }
        }
        let cell = || Piece::Typed(id);
        let yes = call("OR", [vec![cell(), words("=\"yes\"")], vec![cell(), words("=TRUE")]])?;
        let pieces = match blank {
            None => yes,
            Some(blank) => {
                let blank = words(match blank {
                    Some(true) => "TRUE",
                    Some(false) => "FALSE",
                    None => "NA()",
                });
                call("IF", [vec![cell(), words("=\"\"")], vec![blank], yes])?
            }
        };
        Some(Term::YesNo(pieces))
    }
}

/// The function that writes a word as the rules write it, where they write all of them in small or all in large letters.
pub fn in_letters(words: &[String]) -> Option<&'static str> {
    let all = |letters: fn(&str) -> String| !words.is_empty() && words.iter().all(|w| *w == letters(w));
    if all(str::to_ascii_lowercase) {
        Some("LOWER")
    } else if all(str::to_ascii_uppercase) {
        Some("UPPER")
    } else {
        None
    }
}

/// A worked-out cell as other formulas see it.
fn cell_of(id: FieldId, field: &Field) -> Option<Term> {
    let cell = vec![Piece::Cell(id)];
    match field.ty {
        Type::Number { .. } => Some(Term::Number(Quantity::new(cell, Tie::One, shown_unit(field)?))),
        Type::Text => Some(Term::Text(cell)),
        Type::YesNo => Some(Term::YesNo(vec![Piece::Cell(id), words("=\"yes\"")])),
        Type::Date | Type::Thing(_) => None,
    }
}

fn truth(value: bool) -> Term {
    Term::YesNo(vec![words(if value { "TRUE" } else { "FALSE" })])
}

fn sign(how: Comparison) -> &'static str {
    match how {
        Comparison::Equal => "=",
        Comparison::NotEqual => "<>",
        Comparison::Less => "<",
        Comparison::LessOrEqual => "<=",
        Comparison::Greater => ">",
        Comparison::GreaterOrEqual => ">=",
    }
}

/// Base units in one of the unit in which a field's cells stand.
fn shown_unit(field: &Field) -> Option<Number> {
    Number::of_ratio(shown::shown(field, None).factor).ok()
}

/// A value over a number that was typed for it.
fn ratio(value: &Number, typed: f64) -> Option<Number> {
    value.over(&decimal(typed)?).ok()
}

/// A number of a cell as the decimal that it is shown as.
fn decimal(cell: f64) -> Option<Number> {
    cell.to_string().parse::<Decimal>().ok().map(Number::from)
}

/// To whole steps, as our own rounding does it: what lies within a millionth of a step of a whole one is that one, and
/// halves are settled to a billionth of a step, below a hundred millionth of a cent.
fn rounded(how: Rounding, value: Term, step: Term) -> Option<Term> {
    if matches!((&value, &step), (Term::Constant(_), Term::Constant(_))) {
        return None;
    }
    let cents = matches!(&step, Term::Constant(s) if Some(*s) == Number::from_ints(1, 100).ok());
    if cents && how == Rounding::Near {
        let settled = call("ROUND", [value.pieces_in(&Number::ONE)?, vec![words("8")]])?;
        return Some(Term::plain(call("ROUND", [settled, vec![words("2")]])?, Tie::One));
    }
    let steps = Term::divided(value, step.clone())?;
    let (pieces, tie) = match how {
        Rounding::Up => {
            let short = joined([vec![words("0.000001-")], steps.product_in(&Number::ONE)?])?;
            (joined([vec![words("-")], call("INT", [short])?])?, Tie::Sum)
        }
        Rounding::Down => {
            let over = joined([steps.product_in(&Number::ONE)?, vec![words("+0.000001")]])?;
            (call("INT", [over])?, Tie::One)
        }
        Rounding::Near => {
            let settled = call("ROUND", [steps.pieces_in(&Number::ONE)?, vec![words("9")]])?;
            (call("ROUND", [settled, vec![words("0")]])?, Tie::One)
        }
        Rounding::NearEven => return None,
    };
    Term::multiplied(Term::plain(pieces, tie), step)
}
