//! Lines of the bid: need, waste, quantity, the row of the price book, and what an estimator typed beside them.

use super::calls::{At, Depth};
use super::fields::{dollars, money};
use super::tell::{MOST_DEPTH, RowOf, Seen, Teller};
use super::{Sort, Told};
use crate::engine::names::value_text;
use crate::notation::tree::{Expr, ItemLine, NeedClause, Node};
use crate::pricing::own::line_of;
use crate::pricing::{Crew, Found, LaborRow, Line, PriceUsed, StatedWaste};
use crate::program::{Check, FieldId, Item, LineKind, Need, Outcome};
use crate::quantity::show::{Style, decimal_text, show};
use crate::quantity::{Dimension, Number, Unit};
use crate::source::{CellPlace, Place, Text};
use std::sync::Arc;

/// An amount of a line as people read it, in the unit that lines of its kind have.
fn amount(n: &Number, unit: &str) -> String {
    format!("{} {unit}", decimal_text(n, 6).text)
}

/// A number that six decimals do not say, as a quotient of whole numbers.
fn quotient(n: &Number) -> Option<String> {
    let (above, below) = n.parts();
    decimal_text(n, 6).rounded.then(|| format!("{}/{}", above.normalize(), below.normalize()))
}

/// Dollars for one unit.
fn dear(n: &Number, unit: &str) -> String {
    format!("{} for one {unit}", money(n))
}

fn percent(n: &Number) -> String {
    show(n, Dimension::NONE, &Style { percent: true, ..Style::default() }).text
}

/// A figure with the cell or line that it stands in.
fn figure(sort: Sort, label: &str, value: String) -> Told {
    let mut told = Told::new(sort, "", label);
    told.value = Some(value);
    told
}

impl Teller<'_> {
    /// The line of an item for a row, or why there is none.
    pub fn line(&mut self, item: u32, of: RowOf, depth: Depth) -> Told {
        let schema = self.schema();
        let Some(declared) = schema.items.get(item as usize) else { return Told::new(Sort::Line, "", "") };
        let mut told = Told::new(Sort::Line, &declared.name, &declared.label);
        told.of = self.other_row(of);
        let stated = self.program.item_line(declared);
        if let Some((text, line)) = stated {
            told = told.in_book(text, line.name.span);
            told.instead_of = self.instead_of(text, line.name.span);
        }
        told.source.clone_from(&declared.source);
        let row = u32::try_from(of.1).unwrap_or(u32::MAX);
        let priced = self.priced();
        let line = priced.lines.iter().find(|l| l.item == item && l.of == (of.0, row));
        if let Some(line) = line {
            told.value = Some(line_value(line));
        }
        if !self.seen.insert(Seen::Line(item, of)) {
            told.again = true;
            return told;
        }
        match (line, stated) {
            (Some(line), Some((text, statement))) => {
                if depth == 0 {
                    told.deeper = true;
                } else {
                    self.line_parts(&mut told, line, declared, (text, statement), of, depth - 1);
                }
            }
            // what the bid charges beyond what is used has no statement of an item's kind
            (Some(line), None) => {
                told.says.push("what is bought for the whole job, less what is used of it: see the sheet Order".into());
                told.parts.extend(self.own_of(line));
            }
            (None, stated) => self.no_line(&mut told, declared, stated, of, depth),
        }
        told
    }

    /// Why an item has no line for a row.
    fn no_line(
        &mut self,
        told: &mut Told,
        item: &Item,
        stated: Option<(&Arc<Text>, &ItemLine)>,
        of: RowOf,
        depth: Depth,
    ) {
        let stopped = !self.stops_of(of).is_empty();
        told.state = Some("no line");
        if stopped {
            self.stopped(told, of, depth);
            return;
        }
        let Some((text, statement)) = stated else { return };
        let needed = item.when.map(|when| self.run().yes_no(when, of.1));
        if let (Some(when), Some(condition)) = (item.when, &statement.when) {
            let part = self.clause("Needed", when, condition, text, of, depth);
            if needed == Some(Ok(false)) {
                told.says.push("its condition does not hold here".to_owned());
                told.parts.push(part);
                return;
            }
            told.parts.push(part);
        }
        let need = self.need(item, statement, text, of, depth);
        if need.first().is_some_and(|n| !n.faulty) {
            told.says.push("nothing of it is needed here".to_owned());
        }
        told.parts.extend(need);
    }

    /// Says of a stopped row that it has no lines, with the checks that stop it; where one of them could not be worked out,
    /// with the way to the first cause.
    fn stopped(&mut self, told: &mut Told, of: RowOf, depth: Depth) {
        told.says.push("the row is stopped, so it has no lines".to_owned());
        let (schema, run) = (self.schema(), self.run());
        let stops = |c: &Check| c.outcome == Outcome::Stops && c.kind == of.0;
        let known = |c: &Check| run.columns[c.holds.0 as usize].is_some();
        let checks = schema.checks.iter().enumerate().filter(|(_, c)| stops(c) && known(c));
        let mut way = None;
        for (at, check) in checks {
            match run.yes_no(check.holds, of.1) {
                Ok(true) => {}
                Ok(false) => {
                    let failing = self.check(at, of.1, depth);
                    told.parts.push(failing);
                }
                Err(fault) => {
                    way.get_or_insert((at, fault));
                }
            }
        }
        if let (Some((at, fault)), true) = (way, told.parts.is_empty()) {
            let followed = self.follows.replace(fault);
            let check = self.check(at, of.1, MOST_DEPTH);
            told.parts.push(check);
            self.follows = followed;
        }
    }

    /// A column of an item with the expression that it was made from.
    fn clause(&mut self, label: &str, column: FieldId, e: &Expr, text: &Arc<Text>, of: RowOf, depth: Depth) -> Told {
        let f = self.schema().field(column);
        let mut told = Told::new(Sort::Figure, "", label).in_book(text, e.span);
        let row = self.steps.row_for(column, of);
        let value = self.run().columns[column.0 as usize]
            .is_some()
            .then(|| crate::engine::examples::value_at(self.engine(), column, row));
        self.valued(&mut told, value, f.ty, &f.style);
        self.explain(&mut told, e, &At::of(text, of), depth);
        told
    }

    /// What an item needs for a row.
    fn need(&mut self, item: &Item, line: &ItemLine, text: &Arc<Text>, of: RowOf, depth: Depth) -> Vec<Told> {
        match (item.need, &line.need) {
            (Need::Amount(column), Some(NeedClause::Amount(e))) => {
                vec![self.clause("Need", column, e, text, of, depth)]
            }
            (Need::Lump(column), Some(NeedClause::Lump(e))) => {
                vec![self.clause("Lump sum", column, e, text, of, depth)]
            }
            (Need::Cut { count, each }, Some(NeedClause::Cut(a, b))) => {
                vec![self.clause("Pieces", count, a, text, of, depth), self.clause("Each", each, b, text, of, depth)]
            }
            (Need::Pieces { pieces, .. }, Some(NeedClause::Pieces(e))) => {
                let mut told = Told::new(Sort::Figure, "", "Pieces").in_book(text, e.span);
                told.value = value_text(self.schema(), self.run(), pieces, of.1).map(|t| t.to_string());
                told.faulty = told.value.is_none();
                self.explain(&mut told, e, &At::of(text, of), depth);
                vec![told]
            }
            _ => Vec::new(),
        }
    }

    fn line_parts(
        &mut self,
        told: &mut Told,
        line: &Line,
        item: &Item,
        (text, statement): (&Arc<Text>, &ItemLine),
        of: RowOf,
        depth: Depth,
    ) {
        told.formula =
            text.text.get(statement.span.range()).map(|t| t.split_whitespace().collect::<Vec<_>>().join(" "));
        let quantity = line.own.as_ref().and_then(|own| own.quantity).unwrap_or(line.quantity);
        let unit = &*line.unit;
        let lump = matches!(item.need, Need::Lump(_));
        let used = line.price.and_then(|p| self.priced().prices.get(p as usize));
        let hour = used.filter(|used| used.kind == LineKind::Labor).map(|used| &used.cost);
        told.worked = if lump { Vec::new() } else { sums(line, &quantity, hour) };
        if line.apart {
            told.says.push("it is in an alternate, and in no sum of the bid".to_owned());
        }
        if let (Some(when), Some(condition)) = (item.when, &statement.when) {
            let part = self.clause("Needed", when, condition, text, of, depth);
            told.parts.push(part);
        }
        // a code that the rule works out, by a table or a choice
        if let Some(e) = statement.code.as_ref().filter(|e| !matches!(e.node, Node::Literal(_))) {
            let part = self.clause("Code", item.code, e, text, of, depth);
            told.parts.push(part);
        }
        let need = self.need(item, statement, text, of, depth);
        told.parts.extend(need);
        if !lump {
            let mut total = figure(Sort::Figure, "Quantity", amount(&line.quantity, unit));
            total.exact = quotient(&line.quantity).map(|exact| format!("{exact} {unit}"));
            if !line.waste.is_zero() {
                let waste = percent(&line.waste);
                total.worked.push(format!("{} + {waste} of it for waste", amount(&line.need, unit)));
                total.parts.extend(self.waste(item, statement, text, of, depth));
            }
            told.parts.push(total);
        }
        told.parts.extend(self.own_of(line));
        match (used, line.kind) {
            (Some(used), LineKind::Material) => {
                let part = self.price(line, item, used);
                told.parts.push(part);
            }
            (Some(used), LineKind::Labor) => {
                let parts = self.labor(line, item, (text, statement), used, of, depth);
                told.parts.extend(parts);
            }
            (None, _) if lump => {}
            (None, _) if !self.priced().has_prices => {
                told.says.push("without a price book, costs are blank".to_owned());
            }
            (None, _) => {}
        }
    }

    /// Where the waste of a line is stated.
    fn waste(&mut self, item: &Item, line: &ItemLine, text: &Arc<Text>, of: RowOf, depth: Depth) -> Option<Told> {
        if let (Some(column), Some(e)) = (item.waste, &line.waste) {
            return Some(self.clause("Waste", column, e, text, of, depth));
        }
        let StatedWaste { fraction, place } = self.book()?.waste.as_ref()?;
        let mut told = figure(Sort::Price, "Waste", percent(fraction));
        told.place = Some(Place::Cell(place.clone()));
        told.says.push("the price book's, since the rule states none".to_owned());
        Some(told)
    }

    /// What an estimator typed beside a line, figure by figure.
    fn own_of(&self, line: &Line) -> Vec<Told> {
        let Some(own) = &line.own else { return Vec::new() };
        let (schema, run, inputs) = (self.schema(), self.run(), self.inputs());
        let its = |entry: &&crate::pricing::OwnEntry| {
            line_of(schema, run, inputs, self.priced(), entry).is_some_and(|l| std::ptr::eq(l, line))
        };
        let place = self.worked.own.iter().find(its).map(|entry| entry.place.clone());
        let mut out = Vec::new();
        if let Some(quantity) = &own.quantity {
            let mut told = figure(Sort::Typed, "Own quantity", amount(quantity, &line.unit));
            told.says.push(format!("it wins over the {} worked out", amount(&line.quantity, &line.unit)));
            out.push(told);
        }
        if let Some(cost) = &own.unit_cost {
            let mut told = figure(Sort::Typed, "Own unit cost", dear(cost, &line.unit));
            let ours =
                line.unit_cost.as_ref().map(|ours| format!("it wins over the {} worked out", dear(ours, &line.unit)));
            told.says.extend(ours);
            out.push(told);
        }
        if let Some(note) = &own.note {
            out.push(figure(Sort::Typed, "Own note", note.to_string()));
        }
        // the first of them stands in the cell that is known, the others in its row
        for (at, told) in out.iter_mut().enumerate() {
            told.says.insert(0, "typed by hand on Lines".to_owned());
            told.place =
                place.clone().map(|cell| Place::Cell(if at == 0 { cell } else { CellPlace { column: None, ..cell } }));
        }
        out
    }

    /// The row of the price book that a material is priced by.
    fn price(&self, line: &Line, item: &Item, used: &PriceUsed) -> Told {
        let unit = &*line.unit;
        let cost = line.unit_cost.as_ref().map_or_else(String::new, |c| dear(c, unit));
        let mut told = figure(Sort::Price, "Unit cost", cost);
        told.place = Some(Place::Cell(used.place.clone()));
        let row = self.book().and_then(|b| b.prices.iter().find(|r| r.place == used.place));
        let dimension = Unit::read(unit).map(|u| u.dimension).unwrap_or_default();
        let holds = row.and_then(|r| r.holds(dimension).ok().flatten());
        if let (Some(holds), Ok(shown)) = (holds, Unit::read(unit))
            && let Ok(holds) = holds.scaled(shown.factor.recip())
            && holds != Number::ONE
        {
            told.worked.push(format!("{} / {}", money(&used.cost), amount(&holds, unit)));
        }
        let mut words = vec![format!("{} {}, {} for one {}", used.code, used.item, money(&used.cost), used.sold_by)];
        if let Some(pack) = &used.pack {
            words.push(format!("pack of {pack}"));
        }
        if let Some(mm) = &used.stock_length {
            words.push(format!("stock length {}", show(mm, Dimension::LENGTH, &Style::default()).text));
        }
        if let Some(from) = &used.reached {
            words.push(format!(
                "the cost from {} {} on, which the job reaches",
                decimal_text(from, 6).text,
                used.sold_by
            ));
        }
        words.extend(used.supplier.as_ref().map(|s| format!("supplier {s}")));
        words.push(self.in_force(used));
        told.says.push(words.join("; "));
        if let Some(Found::Choices(rows)) = self.book().map(|b| b.price(&line.code)) {
            told.says.push(format!(
                "{} rows of {} are in force; this one costs least for what is used of {}",
                rows.len(),
                line.code,
                item.label
            ));
        }
        told
    }

    /// The days of a price row, and the day for which it was asked.
    fn in_force(&self, used: &PriceUsed) -> String {
        let days = match (used.from, used.through) {
            (None, None) => "without dates".to_owned(),
            (Some(from), None) => format!("in force from {from}"),
            (None, Some(through)) => format!("in force through {through}"),
            (Some(from), Some(through)) => format!("in force from {from} through {through}"),
        };
        format!("{days}, priced as of {}", self.worked.ready.as_of())
    }

    /// Hours of a work and what one of them costs.
    fn labor(
        &mut self,
        line: &Line,
        item: &Item,
        (text, statement): (&Arc<Text>, &ItemLine),
        used: &PriceUsed,
        of: RowOf,
        depth: Depth,
    ) -> Vec<Told> {
        let unit = &*line.unit;
        let row = self.book().and_then(|b| b.labor.iter().find(|r| r.place == used.place)).cloned();
        let mut out = Vec::new();
        match (item.rate, &statement.rate) {
            (Some(column), Some(e)) => out.push(self.clause("Rate", column, e, text, of, depth)),
            _ => out.extend(row.as_ref().and_then(|row| self.rate(row, used, unit))),
        }
        if let (Some(column), Some(e)) = (item.factor, &statement.factor) {
            out.push(self.clause("Factor", column, e, text, of, depth));
        }
        for (label, column, e) in
            [("Height", item.height, &statement.height), ("Difficulty", item.difficulty, &statement.difficulty)]
        {
            let rows = self.book().map(|b| b.labor(&line.code));
            if let (Some(column), Some(e), Some(Found::Choices(_))) = (column, e, rows) {
                let mut part = self.clause(label, column, e, text, of, depth);
                part.says.push("chooses among the Labor rows of the code".to_owned());
                if part.faulty {
                    (part.faulty, part.state) = (false, Some("not given"));
                }
                out.push(part);
            }
        }
        let crew = row.and_then(|row| self.book()?.crews.get(row.crew? as usize)).cloned();
        out.extend(crew.map(|crew| crew_hour(&crew, used)));
        out
    }

    /// The hours of a Labor row.
    fn rate(&self, row: &LaborRow, used: &PriceUsed, unit: &str) -> Option<Told> {
        let Some(rate) = &row.rate else {
            let mut told = figure(Sort::Price, "Rate", "none".to_owned());
            told.says.push(format!("the need is {unit} already"));
            return Some(told);
        };
        let value = format!("{} hr for one {}", decimal_text(&rate.hours, 6).text, rate.per.name);
        let mut told = figure(Sort::Price, "Rate", value);
        told.place = Some(Place::Cell(row.place.clone()));
        told.says.push(format!("{} {}; {}", used.code, used.item, self.in_force(used)));
        Some(told)
    }

    /// What a row costs: its lines.
    pub fn cost(&mut self, row: usize, depth: Depth) -> Told {
        let mut told = Told::new(Sort::Figure, "cost", "Cost");
        let Some(kind) = self.schema().root_kind() else { return told };
        let priced = self.priced();
        let result = priced.rooms.get(row);
        told.value = result.and_then(|r| r.cost).map(dollars);
        let stopped = result.is_some_and(|r| r.stopped);
        if stopped {
            told.state = Some("stopped");
            self.stopped(&mut told, (kind, row), depth);
            return told;
        }
        if let Some(hours) = result.and_then(|r| r.hours) {
            told.says.push(format!("{} hr", decimal_text(&hours, 4).text));
        }
        if !priced.has_prices {
            told.says.push("without a price book, costs are blank".to_owned());
        }
        if let Some(options) = self.schema().options.as_ref().filter(|o| o.kind == kind) {
            let scheme = self.field(options.field, row, 0);
            told.parts.push(scheme);
        }
        let number = u32::try_from(row).ok();
        let lines: Vec<(u32, RowOf)> = priced
            .lines
            .iter()
            .filter(|l| l.room.is_some() && l.room == number)
            .map(|l| (l.item, (l.of.0, l.of.1 as usize)))
            .collect();
        for (item, of) in lines {
            let line = self.line(item, of, depth.saturating_sub(1));
            told.parts.push(line);
        }
        told
    }
}

/// A line's cost, or its hours or quantity where nothing is priced.
pub(super) fn line_value(line: &Line) -> String {
    match (line.cost, &line.hours) {
        (Some(cents), _) => dollars(cents),
        (None, Some(hours)) => amount(hours, "hr"),
        (None, None) => amount(&line.quantity, &line.unit),
    }
}

/// How quantity and unit cost make the cost, and that it is rounded to the cent.
fn sums(line: &Line, quantity: &Number, hour: Option<&Number>) -> Vec<String> {
    let unit = &*line.unit;
    let own = line.own.as_ref().and_then(|own| own.unit_cost);
    let mut out = Vec::new();
    if let Some(hours) = &line.hours {
        out.push(format!("{} take {} hr", amount(quantity, unit), decimal_text(hours, 6).text));
    }
    // labor costs its hours, unless somebody typed what a unit costs
    let of_hours = line.hours.zip(hour.copied()).filter(|_| own.is_none());
    let Some((many, each)) = of_hours.map(|(hours, hour)| ((hours, "hr"), hour)).or_else(|| {
        let cost = own.or(line.unit_cost)?;
        Some(((*quantity, unit), cost))
    }) else {
        return out;
    };
    let exact = many.0.times(&each);
    if let (Ok(exact), Some(cents)) = (&exact, line.cost) {
        let to_the_cent = if exact.exact_decimal().is_some_and(|d| d.normalize().scale() <= 2) {
            String::new()
        } else {
            format!(", to the cent {}", dollars(cents))
        };
        out.push(format!("{} x {} = {}{to_the_cent}", amount(&many.0, many.1), dear(&each, many.1), money(exact)));
    }
    out
}

/// What an hour of a crew costs.
fn crew_hour(crew: &Crew, used: &PriceUsed) -> Told {
    let mut told = figure(Sort::Price, "Hour", format!("{} an hour", money(&used.cost)));
    told.place = Some(Place::Cell(crew.place.clone()));
    let overtime = match &used.overtime {
        Some((paid, worked)) => {
            format!(" x {} hours paid for {} worked", decimal_text(paid, 4).text, decimal_text(worked, 4).text)
        }
        None => String::new(),
    };
    told.worked.push(format!("{} of wage{overtime} + {} of burden", money(&crew.wage), percent(&crew.burden)));
    told.says.push(format!("crew {}", crew.name));
    told
}
