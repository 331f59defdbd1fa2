//! Statements to lines: those that stand together share their columns.

use super::WIDTH;
use super::columns::{BETWEEN, Widths, number, starts};
use super::doc::Doc;
use super::print::{Line, Printer, STEP};
use super::statement::{Row, Statement};

/// A cell of a table that is wider does not widen its column.
const CELL: usize = 60;
/// Parts of an example's lines stand in columns when none is so much wider than another.
const ALIKE: usize = 12;
/// A table that would be wider stands without columns.
const TABLE: usize = 2_000;

/// What the statements that stand together have in common.
#[derive(Debug, Default)]
pub(super) struct Shared {
    /// Where columns begin.
    starts: Vec<usize>,
    /// Of an example: where the parts of each line begin.
    parts: Vec<Vec<usize>>,
    /// Of a table: how far each column's numbers reach before their point, where it holds numbers of one kind.
    leads: Vec<Option<usize>>,
}

/// Whether two statements, one after the other, share columns.
pub(super) fn share(a: &Statement<'_>, b: &Statement<'_>) -> bool {
    use Statement::{Cells, Example, Field, Formula, Item};
    matches!(
        (a, b),
        (Field(_), Field(_))
            | (Item(_), Item(_))
            | (Formula(..), Formula(..))
            | (Cells(_), Cells(_))
            | (Example { .. }, Example { .. })
    )
}

/// Whether its columns go on over empty lines and over other statements of its block.
pub(super) fn whole_block(statement: &Statement<'_>) -> bool {
    matches!(statement, Statement::Cells(_) | Statement::Example { .. })
}

/// The columns of statements that stand together.
pub(super) fn shared(statements: &[&Statement<'_>], indent: usize) -> Shared {
    match statements.first() {
        Some(Statement::Cells(_)) => return table(statements, indent),
        Some(Statement::Example { .. }) => return example(statements, indent),
        _ => {}
    }
    let widths: Vec<Widths> = statements
        .iter()
        .map(|statement| match statement {
            Statement::Field(row) | Statement::Item(row) => widths(row),
            Statement::Formula(row, _) => {
                let mut widths = widths(row);
                // the sign of equality stands in a column of its own
                widths.cells.push(usize::from(widths.cells.iter().any(|w| *w > 0)));
                widths
            }
            _ => Widths::default(),
        })
        .collect();
    Shared { starts: starts(&widths, indent), ..Shared::default() }
}

/// The lines of an example: their first words in one column, and the parts of lines that follow each other and are alike.
fn example(statements: &[&Statement<'_>], indent: usize) -> Shared {
    let empty: &[Doc<'_>] = &[];
    let lines: Vec<(&[Doc<'_>], &[Doc<'_>], usize)> = statements
        .iter()
        .map(|statement| match statement {
            Statement::Example { word, parts, between } => (word.as_slice(), parts.as_slice(), *between),
            _ => (empty, empty, BETWEEN),
        })
        .collect();
    let words: Vec<Widths> = lines
        .iter()
        .map(|(word, ..)| {
            let word = cell_width(word).unwrap_or(0);
            Widths { cells: vec![word, usize::from(word > 0)], rest: 0 }
        })
        .collect();
    let starts = starts(&words, indent);
    let first = starts.get(1).copied().unwrap_or(indent);
    let text = |word: &[Doc<'_>]| word.first().map(Doc::text);
    // rows are alike when they give the same fields, and all that is shown is alike
    let alike = |a: &(&[Doc<'_>], &[Doc<'_>], usize), b: &(&[Doc<'_>], &[Doc<'_>], usize)| {
        let field = |doc: &Doc<'_>| doc.first().map(|t| t.text.clone().into_owned());
        text(a.0) == text(b.0) && (a.2 != BETWEEN || a.1.iter().map(field).eq(b.1.iter().map(field)))
    };
    let mut parts = Vec::with_capacity(lines.len());
    while parts.len() < lines.len() {
        let rest = &lines[parts.len()..];
        let count = 1 + rest.windows(2).take_while(|pair| alike(&pair[0], &pair[1])).count();
        let columns = in_line(&rest[..count], first);
        parts.extend(std::iter::repeat_n(columns, count));
    }
    Shared { starts, parts, leads: Vec::new() }
}

/// Where the parts of lines begin: in columns as far as those before them are about as wide.
fn in_line(lines: &[(&[Doc<'_>], &[Doc<'_>], usize)], first: usize) -> Vec<usize> {
    let mut starts = vec![first];
    let between = lines.first().map_or(BETWEEN, |line| line.2);
    let widths =
        |line: &&(&[Doc<'_>], &[Doc<'_>], usize)| line.1.iter().map(|p| p.measure()).collect::<Option<Vec<_>>>();
    let rows: Vec<Vec<usize>> = lines.iter().filter_map(|line| widths(&line)).collect();
    for i in 0.. {
        let followed = || rows.iter().filter(|row| row.len() > i + 1).map(|row| row[i]);
        let (Some(most), Some(least)) = (followed().max(), followed().min()) else { break };
        if most > least + ALIKE {
            break;
        }
        starts.push(starts[i] + most + between);
    }
    let last = |row: &Vec<usize>| {
        row.len()
            .checked_sub(1)
            .filter(|last| *last < starts.len())
            .is_none_or(|last| starts[last] + row[last] <= WIDTH)
    };
    if rows.iter().all(last) { starts } else { vec![first] }
}

/// How wide clauses are beside each other.
fn cell_width(cell: &[Doc<'_>]) -> Option<usize> {
    let mut sum = BETWEEN * cell.len().saturating_sub(1);
    for (i, doc) in cell.iter().enumerate() {
        if i > 0 && doc.begins_a_line() {
            return None;
        }
        sum += doc.measure()?;
    }
    Some(sum)
}

/// How wide a row's cells are; none of them where it must be broken anyhow.
fn widths(row: &Row<'_>) -> Widths {
    let cells: Option<Vec<usize>> = row.cells.iter().map(|c| cell_width(c)).collect();
    let later = row.cells.iter().skip(1).chain([&row.rest]);
    if later.flat_map(|cell| cell.first()).any(Doc::begins_a_line) {
        return Widths::default();
    }
    match (cells, cell_width(&row.rest)) {
        (Some(cells), Some(rest)) => Widths { cells, rest },
        _ => Widths::default(),
    }
}

/// The lines of a statement.
///
/// `number` is its place among those that share their columns.
pub(super) fn lines(
    statement: &Statement<'_>,
    number: usize,
    indent: usize,
    shared: &Shared,
    comment: Option<&str>,
) -> Vec<Line> {
    let mut printer = Printer::new(indent);
    match statement {
        Statement::Head(groups) => {
            for (i, group) in groups.iter().enumerate() {
                if i > 0 {
                    printer.space(BETWEEN);
                }
                printer.flat(group);
            }
        }
        Statement::Clauses(row) => {
            printer.fill(&row.rest, indent + STEP, BETWEEN, 0);
            below(&mut printer, row, indent);
        }
        Statement::Field(row) | Statement::Item(row) => {
            in_columns(&mut printer, row, indent, &shared.starts);
            shown(&mut printer, row, indent);
            below(&mut printer, row, indent);
        }
        Statement::Formula(row, body) => {
            printer = formula(&printer, row, body, indent, &shared.starts);
            below(&mut printer, row, indent);
        }
        Statement::Check(row, body) => {
            beside(&mut printer, &row.cells[0]);
            if let [condition, outcome] = body.as_slice() {
                printer.space(BETWEEN);
                printer.lay(condition, outcome.measure().map_or(0, |w| w + BETWEEN));
                printer.space(BETWEEN);
                printer.lay(outcome, 0);
            }
            below(&mut printer, row, indent);
        }
        Statement::Define(row, body) => {
            define(&mut printer, row, body, indent);
            below(&mut printer, row, indent);
        }
        Statement::Options(row, options) => {
            self::options(&mut printer, row, options, indent);
            below(&mut printer, row, indent);
        }
        Statement::Cells(cells) => table_row(&mut printer, cells, shared),
        Statement::Example { word, parts, between } => {
            beside(&mut printer, word);
            let columns = shared.parts.get(number).map_or(&[][..], Vec::as_slice);
            printer.column(columns.first().copied().unwrap_or(0), BETWEEN);
            let at = printer.next();
            let broken = parts.iter().any(|p| p.measure().is_none()) || parts.iter().skip(1).any(Doc::begins_a_line);
            if broken || parts.len() > columns.len() {
                printer.fill(parts, at, *between, 0);
            } else {
                for (part, column) in parts.iter().zip(columns) {
                    printer.column(*column, BETWEEN);
                    printer.lay(part, 0);
                }
            }
        }
    }
    printer.finish(comment)
}

/// Clauses beside each other.
fn beside(printer: &mut Printer, clauses: &[Doc<'_>]) {
    for (i, clause) in clauses.iter().enumerate() {
        if i > 0 {
            printer.space(BETWEEN);
        }
        printer.lay(clause, 0);
    }
}

fn below(printer: &mut Printer, row: &Row<'_>, indent: usize) {
    for clause in &row.below {
        printer.new_line(indent + STEP);
        printer.lay(clause, 0);
    }
}

/// How it is shown, on the line where it fits.
fn shown(printer: &mut Printer, row: &Row<'_>, indent: usize) {
    for shown in &row.shown {
        if printer.height() == 0 && printer.fits(shown, BETWEEN, 0) {
            printer.space(BETWEEN);
        } else {
            printer.new_line(indent + STEP);
        }
        printer.lay(shown, 0);
    }
}

fn in_columns(printer: &mut Printer, row: &Row<'_>, indent: usize, starts: &[usize]) {
    let widths = widths(row);
    let aligned = if widths.cells.is_empty() { None } else { widths.aligned(starts) };
    let (whole, aligned) = (aligned.is_some(), aligned.unwrap_or(starts.len()));
    // where a row is broken, its clauses go on below the first that is not a name, a type or a label
    let mut go_on = indent + 2 * STEP;
    let mut begun = false;
    let mut fits = true;
    for (i, cell) in row.cells.iter().chain([&row.rest]).enumerate() {
        for (j, clause) in cell.iter().enumerate() {
            let rest = i >= row.cells.len();
            if i > 0 || j > 0 {
                let column = if j == 0 && i < aligned { starts.get(i).copied() } else { None };
                printer.column(column.unwrap_or(0), BETWEEN);
                // what follows the need of a broken item stands together below it
                let apart = rest && j == 0 && printer.height() == 0;
                if !whole && i >= 2 && (!fits || apart || goes_below(printer, clause, go_on)) {
                    printer.new_line(go_on);
                } else if i >= 2 && !begun {
                    go_on = printer.next();
                }
                begun |= i >= 2;
            }
            fits = printer.lay(clause, 0);
        }
    }
}

/// Whether a clause of a broken row begins a line: where it does not fit, unless it would be broken there as well.
fn goes_below(printer: &Printer, clause: &Doc<'_>, indent: usize) -> bool {
    let width = clause.measure();
    if width.is_some_and(|w| printer.next() + w <= WIDTH) {
        return false;
    }
    if width.is_some_and(|w| indent + w <= WIDTH) {
        return true;
    }
    let (mut here, mut below) = (printer.clone(), printer.clone());
    here.lay(clause, 0);
    below.new_line(indent);
    below.lay(clause, 0);
    here.widest() > WIDTH.max(below.widest()) || here.height() >= below.height()
}

/// A formula with its body beside its name, or below it where that is too narrow.
fn formula(empty: &Printer, row: &Row<'_>, body: &[Doc<'_>], indent: usize, starts: &[usize]) -> Printer {
    let named = |below: bool| {
        let mut printer = empty.clone();
        beside(&mut printer, &row.cells[0]);
        for label in &row.cells[1] {
            printer.column(starts.get(1).copied().unwrap_or(0), BETWEEN);
            printer.lay(label, 0);
        }
        if below {
            printer.new_line(indent + STEP);
        } else {
            printer.column(starts.get(2).copied().unwrap_or(0), BETWEEN);
        }
        self::body(&mut printer, body);
        shown(&mut printer, row, indent);
        printer
    };
    let aside = named(false);
    if aside.widest() <= WIDTH && aside.height() == 0 {
        return aside;
    }
    let under = named(true);
    let too_wide = aside.widest() > WIDTH && under.widest() < aside.widest();
    if too_wide || (under.widest() <= WIDTH && under.height() < aside.height()) { under } else { aside }
}

/// `=` and what it is equal to; a choice between more than two has a line for each.
fn body(printer: &mut Printer, body: &[Doc<'_>]) {
    if let [sign, value] = body {
        printer.lay(sign, 0);
        printer.space(2);
        if is_long(value) {
            printer.broken(value, 0);
        } else {
            printer.lay(value, 0);
        }
    }
}

fn is_long(value: &Doc<'_>) -> bool {
    matches!(value, Doc::Choice(arms) if arms.len() > 2)
}

fn define(printer: &mut Printer, row: &Row<'_>, body: &[Doc<'_>], indent: usize) {
    beside(printer, &row.cells[0]);
    let width: Option<usize> = body.iter().map(Doc::measure).sum();
    let long = body.iter().any(is_long);
    let one_line = printer.height() == 0 && width.is_some_and(|w| printer.next() + BETWEEN + 2 + w <= WIDTH) && !long;
    if one_line {
        printer.space(BETWEEN);
    } else {
        printer.new_line(indent + STEP);
    }
    self::body(printer, body);
}

fn options(printer: &mut Printer, row: &Row<'_>, options: &[Row<'_>], indent: usize) {
    beside(printer, &row.cells[0]);
    let bare = row.below.is_empty() && options.iter().all(|o| o.cells[1..].iter().all(Vec::is_empty));
    let names: Option<usize> = options.iter().map(|o| cell_width(&o.cells[0]).map(|w| w + 1)).sum();
    if bare && names.is_some_and(|w| printer.next() + w <= WIDTH) {
        for name in options.iter().flat_map(|o| &o.cells[0]) {
            printer.space(1);
            printer.lay(name, 0);
        }
        return;
    }
    let indent = indent + STEP;
    let widths: Vec<Widths> = options.iter().map(widths).collect();
    let starts = starts(&widths, indent);
    for (option, widths) in options.iter().zip(&widths) {
        printer.new_line(indent);
        let aligned = widths.aligned(&starts).unwrap_or(starts.len());
        for (i, clause) in option.cells.iter().enumerate().flat_map(|(i, cell)| cell.iter().map(move |c| (i, c))) {
            if i > 0 {
                printer.column(if i < aligned { starts[i] } else { 0 }, BETWEEN);
            }
            printer.lay(clause, 0);
        }
    }
}

/// The columns of a table, and of which of them the cells are numbers of one kind.
fn table(statements: &[&Statement<'_>], indent: usize) -> Shared {
    let rows: Vec<Vec<(usize, String)>> = statements
        .iter()
        .filter_map(|statement| {
            let Statement::Cells(parts) = statement else { return None };
            let cells = parts.iter().step_by(2);
            if parts.iter().skip(1).any(Doc::begins_a_line) {
                return None;
            }
            cells.map(|cell| cell.measure().map(|w| (w, cell.text()))).collect()
        })
        .collect();
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let (mut starts, mut leads) = (Vec::new(), Vec::new());
    let mut at = indent;
    for i in 0..count {
        let cells = || rows.iter().skip(1).filter_map(|row| row.get(i));
        // the first cell begins its line: were it moved in, the row would go on from the one above
        let numbers: Option<Vec<(usize, String)>> = cells().map(|(_, text)| number(text).filter(|_| i > 0)).collect();
        let lead = numbers
            .filter(|numbers| numbers.windows(2).all(|pair| pair[0].1 == pair[1].1))
            .and_then(|numbers| numbers.iter().map(|(lead, _)| *lead).max());
        let shift = |text: &str| lead.zip(number(text)).map_or(0, |(lead, (own, _))| lead.saturating_sub(own));
        let widths = cells().map(|(width, text)| width + shift(text)).filter(|w| *w <= CELL);
        let head = rows.first().and_then(|row| row.get(i)).map_or(0, |(width, _)| *width);
        starts.push(at);
        leads.push(lead);
        at += widths.chain([head]).max().unwrap_or(0) + 3;
    }
    if at > TABLE { Shared::default() } else { Shared { starts, leads, ..Shared::default() } }
}

fn table_row(printer: &mut Printer, parts: &[Doc<'_>], shared: &Shared) {
    for (i, part) in parts.iter().enumerate() {
        let column = i / 2;
        let bar = i % 2 == 1;
        if bar {
            let next = shared.starts.get(column + 1).map_or(0, |next| next - 2);
            printer.column(next, 1);
        } else if i > 0 {
            printer.space(1);
        }
        let lead = shared.leads.get(column).copied().flatten();
        if let Some((lead, (own, _))) = lead.zip(number(&part.text())).filter(|_| !bar && lead.is_some()) {
            let at = printer.next() + lead.saturating_sub(own);
            if !part.begins_a_line() {
                printer.column(at, 0);
            }
        }
        printer.lay(part, 0);
    }
}
