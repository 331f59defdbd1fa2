//! How each item meets each of its codes: worked out once, however many rows need it.

use super::book::{Found, LaborRow, PriceBook, PriceRow, days_text, need_unit};
use super::buying::BuyRule;
use super::cut_rules::parts;
use super::labor_rows::ByRow;
use super::offers::{MOST_LENGTHS, longest, offers};
use super::work::{Hours, How, Labor, Material, Measure};
use crate::engine::input::fold;
use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::program::{Item, LineKind, Need, Schema};
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number, NumberError, Ratio};
use crate::source::CellPlace;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// A code that can serve an item.
#[derive(Clone, Debug)]
pub(crate) struct Ready {
    /// As the price book writes it; as the rule does without one.
    pub code: Arc<str>,
    /// The row of the price book, on the sheet of its kind.
    pub row: Option<u32>,
    /// How its lines are worked out.
    pub how: How,
    /// The rate of the Labor sheet in base units, where the rule states one as well.
    pub other_rate: Option<Number>,
    /// The longest stock on offer in parts of a millimeter, where there is stock.
    pub longest: Option<i64>,
}

impl Ready {
    /// A code that needs no row of the price book.
    pub fn alone(code: Arc<str>, how: How) -> Self {
        Self { code, row: None, how, other_rate: None, longest: None }
    }
}

/// Whether a code can serve an item.
#[derive(Clone, Debug)]
pub(crate) enum Plan {
    /// It can.
    Ready(Arc<Ready>),
    /// It cannot: index of the refusal.
    Refused(usize),
    /// The row's height and difficulty decide.
    ByRow(Arc<ByRow>),
}

/// What an item measures, apart from its code.
#[derive(Clone, Debug)]
pub(crate) struct Measured {
    /// Dimension of its need.
    pub dimension: Dimension,
    /// Factors.
    pub measure: Measure,
    /// Name of the unit that its need is shown in.
    pub unit: Arc<str>,
}

impl Measured {
    /// What an item of the book measures.
    pub fn of(schema: &Schema, item: &Item) -> Self {
        let field = |f| schema.field(f);
        let (dimension, factor) = match item.need {
            Need::Amount(f) | Need::Lump(f) | Need::Pieces { total: f, .. } => {
                (field(f).ty.dimension().unwrap_or(Dimension::NONE), field(f).unit.factor)
            }
            Need::Cut { count, each } => {
                let of = |f| field(f).ty.dimension().unwrap_or(Dimension::NONE);
                (of(count) * of(each), field(count).unit.factor * field(each).unit.factor)
            }
        };
        let (name, shown) = need_unit(dimension);
        let rate = item.rate.map_or(Ratio::from(1), |f| field(f).unit.factor);
        Self { dimension, measure: Measure::new(factor, shown.factor, rate), unit: name.into() }
    }
}

/// Codes that cannot serve, each with one problem for all the rows that need it.
#[derive(Debug, Default)]
pub(crate) struct Refusals {
    /// The problems.
    pub problems: Vec<Problem>,
    /// Whose prices serve.
    pub buying: BuyRule,
    missing: FxHashMap<(LineKind, Box<str>), usize>,
}

/// A need that is hours already.
const HOUR_FOR_HOUR: Hours = Hours::Sheet(Number::ONE, Ratio::new_raw(1, 1));

/// Codes for which a nearest one is looked for; a column of nothing but unknown codes must not take hours.
const NEAREST_LOOKED_FOR: usize = 100;

impl Refusals {
    /// None yet.
    pub fn new(buying: BuyRule) -> Self {
        Self { buying, ..Self::default() }
    }

    fn add(&mut self, problem: Problem) -> Plan {
        self.problems.push(problem);
        Plan::Refused(self.problems.len() - 1)
    }

    /// A code that no row has: one problem for it, whatever items need it.
    fn missing(&mut self, item: &Item, code: &str, book: &PriceBook) -> Plan {
        let key = (item.what, crate::engine::input::fold(code).into_boxed_str());
        if let Some(at) = self.missing.get(&key) {
            self.problems[*at].places.push(rule_place(item));
            return Plan::Refused(*at);
        }
        let (sheet, other) = match item.what {
            LineKind::Material => ("Prices", book.labor(code)),
            LineKind::Labor => ("Labor", book.price(code)),
        };
        let what = if code.trim().is_empty() {
            format!("{} needs a code, and its code is an empty text.", item.label)
        } else {
            format!("{} needs code {code}, and sheet {sheet} of {} has no row with that code.", item.label, book.file)
        };
        let near = (self.missing.len() < NEAREST_LOOKED_FOR).then(|| match item.what {
            LineKind::Material => book.nearest_price(code),
            LineKind::Labor => book.nearest_labor(code),
        });
        let fix = match (other, near.flatten()) {
            (Found::Missing, Some(near)) => format!("the nearest code there is {near}"),
            (Found::Missing, None) => format!("add a row for it to sheet {sheet}"),
            _ if item.what == LineKind::Material => {
                "it stands on sheet Labor; an item that is bought is looked up on sheet Prices".to_owned()
            }
            _ => "it stands on sheet Prices; work is looked up on sheet Labor".to_owned(),
        };
        let problem = Problem::stop("missing code", what).in_book(&item.text, item.span).fix(fix);
        let plan = self.add(problem);
        self.missing.insert(key, self.problems.len() - 1);
        plan
    }

    /// A refusal, for rows that turn out to need it.
    pub(super) fn refused(&mut self, problem: Problem) -> usize {
        self.problems.push(problem);
        self.problems.len() - 1
    }

    pub(super) fn ready(&mut self, ready: Result<Ready, Box<Problem>>) -> Plan {
        match ready {
            Ok(ready) => Plan::Ready(Arc::new(ready)),
            Err(problem) => self.add(*problem),
        }
    }

    /// A material from the suppliers whose prices serve.
    fn material(&mut self, item: &Item, m: &Measured, code: &str, book: &PriceBook, rows: &[u32]) -> Plan {
        let serving = self.buying.narrowed(book, rows);
        match &self.buying.only {
            Some(only) if serving.is_empty() => {
                let problem = not_sold(item, code, book, rows, only);
                self.add(problem)
            }
            _ => self.ready(material(item, m, book, &serving)),
        }
    }

    /// How a code serves an item, or the problem that it cannot.
    pub fn plan(&mut self, item: &Item, m: &Measured, code: &Arc<str>, book: Option<&PriceBook>) -> Plan {
        let Some(book) = book else {
            let how = match item.what {
                LineKind::Material => Ok(How::Unpriced),
                LineKind::Labor => {
                    let hours = match item.rate {
                        Some(_) => Hours::Rule,
                        None if m.dimension == Dimension::TIME => HOUR_FOR_HOUR,
                        None => Hours::Unknown,
                    };
                    Labor::new(&m.measure, hours, None).map(How::Labor)
                }
            };
            return match how {
                Ok(how) => Plan::Ready(Arc::new(Ready::alone(Arc::clone(code), how))),
                Err(e) => self.add(too_large(item, e)),
            };
        };
        let found = match item.what {
            LineKind::Material => book.price(code),
            LineKind::Labor => book.labor(code),
        };
        match found {
            Found::Missing => self.missing(item, code, book),
            Found::NoneInForce(rows) => self.add(not_in_force(item, code, book, &rows)),
            Found::Several(rows) => self.add(several(item, code, book, &rows)),
            Found::Row(row) if item.what == LineKind::Labor => {
                let ready = labor(item, m, &book.labor[row as usize], book);
                self.ready(ready.map(|ready| Ready { row: Some(row), ..ready }))
            }
            Found::Choices(rows) if item.what == LineKind::Labor => self.by_row(item, m, code, book, &rows),
            Found::Row(row) => self.material(item, m, code, book, &[row]),
            Found::Choices(rows) => self.material(item, m, code, book, &rows),
        }
    }
}

fn rule_place(item: &Item) -> crate::source::Place {
    crate::source::Place::Book { text: Arc::clone(&item.text), span: item.span }
}

/// Kinds of problems by which a line has no price.
pub const PRICE_MISSING: &[&str] = &[
    "missing code",
    "no price in force",
    "two prices in force",
    "price row not usable",
    "unit does not fit",
    "not sold by the supplier",
    "stock length not said",
    "too many stock lengths",
    "no labor rate",
];

/// What mends two rows in force at once.
pub const OLDER_ENDS: &str = "give the older row a Through date before the newer one's From";

/// The same for prices, where such rows may be choices.
pub const TOLD_APART: &str = "give the older row a Through date before the newer one's From; rows that are choices each need \
                          a stock length or a supplier of their own, and are sold by the same measure";

/// Days and places of the rows that an item's code leads to.
fn rows_of(item: &Item, book: &PriceBook, rows: &[u32]) -> (Vec<String>, Vec<CellPlace>) {
    let each = rows.iter().map(|i| *i as usize);
    match item.what {
        LineKind::Material => {
            each.map(|i| (days_text(&book.prices[i]), book.prices[i].place.clone())).collect::<Vec<_>>()
        }
        LineKind::Labor => each.map(|i| (days_text(&book.labor[i]), book.labor[i].place.clone())).collect(),
    }
    .into_iter()
    .unzip()
}

fn with_places(mut problem: Problem, item: &Item, places: Vec<CellPlace>) -> Problem {
    problem = problem.in_book(&item.text, item.span);
    for place in places {
        problem = problem.at_cell(place);
    }
    problem
}

fn not_in_force(item: &Item, code: &str, book: &PriceBook, rows: &[u32]) -> Problem {
    let (days, places) = rows_of(item, book, rows);
    let what = format!(
        "{} needs code {code}, and {} has no row for it in force on {}: the rows there are serve {}.",
        item.label,
        book.file,
        book.as_of,
        days.join(", ")
    );
    with_places(Problem::stop("no price in force", what), item, places)
        .fix("add a row for that day, or price as of a day that a row covers")
}

fn several(item: &Item, code: &str, book: &PriceBook, rows: &[u32]) -> Problem {
    let (days, places) = rows_of(item, book, rows);
    let what = format!(
        "{} needs code {code}, and {} has {} rows for it in force on {}: they serve {}.",
        item.label,
        book.file,
        rows.len(),
        book.as_of,
        days.join(", ")
    );
    let fix = if item.what == LineKind::Material { TOLD_APART } else { OLDER_ENDS };
    with_places(Problem::stop("two prices in force", what), item, places).fix(fix)
}

fn too_large(item: &Item, error: NumberError) -> Problem {
    Problem::stop("number too large", format!("The price of {} cannot be worked out: {error}.", item.label))
        .in_book(&item.text, item.span)
}

fn flawed(item: &Item, code: &str, flaw: &super::book::Flaw) -> Box<Problem> {
    let what = format!("{} needs code {code}, which cannot be priced. {}", item.label, flaw.what);
    Box::new(with_places(Problem::stop("price row not usable", what), item, vec![flaw.place.clone()]))
}

/// "by area (square feet)".
fn by(dimension: Dimension) -> String {
    match dimension {
        Dimension::NONE => "by count".to_owned(),
        Dimension::LENGTH => "by length (feet)".to_owned(),
        Dimension::AREA => "by area (square feet)".to_owned(),
        Dimension::VOLUME => "by volume (gallons)".to_owned(),
        Dimension::FORCE => "by weight (pounds)".to_owned(),
        Dimension::TIME => "by hours".to_owned(),
        other => format!("as {}", other.words()),
    }
}

/// What is missing from a row that sells pieces or packs, and what would mend it.
fn misfit(item: &Item, m: &Measured, row: &PriceRow) -> Problem {
    let (code, sold) = (&row.code, &row.sold_by.name);
    let counted = row.sold_by.unit.is_none_or(|u| u.dimension.is_none());
    let says = match (counted, &row.pack, m.dimension) {
        (true, None, Dimension::AREA) => " with no pack that says how many square feet one holds".to_owned(),
        (true, None, Dimension::LENGTH) => " with no stock length that says how many feet one is".to_owned(),
        (true, None, Dimension::VOLUME) => " with no pack that says how many gallons one holds".to_owned(),
        (true, None, Dimension::FORCE) => " with no pack that says how many pounds one holds".to_owned(),
        (_, Some(pack), _) => format!(" in packs of {}", pack.written),
        _ => String::new(),
    };
    let fix = match (counted, m.dimension) {
        (true, Dimension::AREA) => "put what one holds into Pack, such as 32 sf",
        (true, Dimension::LENGTH) => "put the length of a piece into Stock length, such as 12'",
        (true, Dimension::VOLUME) => "put what one holds into Pack, such as 5 gal",
        (true, Dimension::FORCE) => "put what one holds into Pack, such as 50 lb",
        _ => "change the rule's need, or give the code a unit of sale that measures the same",
    };
    let what = format!("{} is needed {}, but {code} is sold by {sold}{says}.", item.label, by(m.dimension));
    with_places(Problem::stop("unit does not fit", what), item, vec![row.unit_place.clone()]).fix(fix)
}

/// A material by the rows of its code that are in force: one, or choices.
fn material(item: &Item, m: &Measured, book: &PriceBook, rows: &[u32]) -> Result<Ready, Box<Problem>> {
    let all: Vec<&PriceRow> = rows.iter().filter_map(|at| book.prices.get(*at as usize)).collect();
    if let Some((row, flaw)) = all.iter().find_map(|row| row.flaw.as_ref().map(|flaw| (row, flaw))) {
        return Err(flawed(item, &row.code, flaw));
    }
    let failed = |e| Box::new(too_large(item, e));
    let offers = offers(book, rows, m.dimension).map_err(failed)?;
    let (serving, on_offer) = match (offers, all.first()) {
        (Some(offers), _) => (offers.serving, offers.rows),
        (None, Some(first)) => return Err(Box::new(misfit(item, m, first))),
        (None, None) => return Err(failed(NumberError::TooLarge)),
    };
    let row = &book.prices[serving as usize];
    if on_offer.len() > 1 && m.dimension != Dimension::LENGTH {
        return Err(Box::new(which_length(item, m, book, &on_offer)));
    }
    if on_offer.len() > MOST_LENGTHS {
        let what = format!(
            "{} has {} stock lengths in force on {}; {MOST_LENGTHS} is the most.",
            row.code,
            on_offer.len(),
            book.as_of
        );
        return Err(Box::new(with_places(
            Problem::stop("too many stock lengths", what),
            item,
            vec![row.place.clone()],
        )));
    }
    let Some(holds) = row.holds(m.dimension).map_err(failed)? else { return Err(Box::new(misfit(item, m, row))) };
    let how = How::Material(Material::new(&m.measure, row.cost, holds).map_err(failed)?);
    let longest = longest(book, &on_offer).and_then(|mm| parts(&mm));
    Ok(Ready { code: Arc::clone(&row.code), row: Some(serving), how, other_rate: None, longest })
}

/// A code that the one supplier that may serve does not sell.
fn not_sold(item: &Item, code: &str, book: &PriceBook, rows: &[u32], only: &str) -> Problem {
    let mut others: Vec<&str> = Vec::new();
    for supplier in rows.iter().filter_map(|at| book.prices.get(*at as usize)?.supplier.as_deref()) {
        if !others.contains(&supplier) {
            others.push(supplier);
        }
    }
    let has = if others.is_empty() { "from nobody by name".to_owned() } else { format!("from {}", others.join(", ")) };
    let what =
        format!("{} needs code {code}, and the job buys from {only} only: {} has it {has}.", item.label, book.file);
    let places = rows.iter().filter_map(|at| book.prices.get(*at as usize)).map(|r| r.place.clone()).collect();
    let suppliers = book.prices.iter().filter_map(|r| r.supplier.as_deref());
    let fix = match nearest(only, suppliers) {
        Some(near) if fold(near) != fold(only) => format!("the nearest supplier there is {near}"),
        _ => format!("a price from {only}, or another supplier in its place"),
    };
    with_places(Problem::stop("not sold by the supplier", what), item, places).fix(fix)
}

/// A need that does not say which of several stock lengths it means.
fn which_length(item: &Item, m: &Measured, book: &PriceBook, rows: &[u32]) -> Problem {
    let each = rows.iter().filter_map(|at| book.prices.get(*at as usize));
    let (lengths, places): (Vec<String>, Vec<CellPlace>) = each
        .map(|row| {
            let text = row.stock_length.map(|mm| show(&mm, Dimension::LENGTH, &Style::default()).text);
            (text.unwrap_or_else(|| "no stock length".to_owned()), row.place.clone())
        })
        .unzip();
    let what = format!(
        "{} is needed {}, and {code} comes in several stock lengths: {}. It is not said which of them is meant.",
        item.label,
        by(m.dimension),
        lengths.join(", "),
        code = rows.first().map_or("it", |at| &*book.prices[*at as usize].code),
    );
    with_places(Problem::stop("stock length not said", what), item, places)
        .fix("state the need as a length, or as pieces to cut, or give each length a code of its own")
}

pub(super) fn labor(item: &Item, m: &Measured, row: &LaborRow, book: &PriceBook) -> Result<Ready, Box<Problem>> {
    if let Some(flaw) = &row.flaw {
        return Err(flawed(item, &row.code, flaw));
    }
    let crew = row.crew.and_then(|c| book.crews.get(c as usize));
    if let Some(flaw) = crew.and_then(|c| c.flaw.as_ref()) {
        return Err(flawed(item, &row.code, flaw));
    }
    let failed = |e| Box::new(too_large(item, e));
    let Some(crew) = crew else {
        let what = format!("{} needs code {}, which has no crew.", item.label, row.code);
        return Err(Box::new(with_places(Problem::stop("price row not usable", what), item, vec![row.place.clone()])));
    };
    let hour = hourly(crew).map_err(failed)?;
    let sheet = row.rate.as_ref().and_then(|r| Some((r, r.per.unit?)));
    let fits = sheet.filter(|(_, per)| per.dimension == m.dimension);
    let hours = match (item.rate, fits) {
        (Some(_), _) => Hours::Rule,
        (None, Some((rate, per))) => Hours::Sheet(rate.hours, per.factor),
        (None, None) if m.dimension == Dimension::TIME && sheet.is_none() => HOUR_FOR_HOUR,
        (None, None) => {
            let what = match sheet {
                Some((rate, _)) => format!(
                    "{} is needed {}, but {} has hours for each {}.",
                    item.label,
                    by(m.dimension),
                    row.code,
                    rate.per.name
                ),
                None => format!("Neither the rule for {} nor sheet Labor states hours for {}.", item.label, row.code),
            };
            let kind = if sheet.is_some() { "unit does not fit" } else { "no labor rate" };
            let problem = with_places(Problem::stop(kind, what), item, vec![row.place.clone()]);
            return Err(Box::new(problem.fix(format!("state hours for one {} of it", m.unit))));
        }
    };
    let other_rate = match (item.rate, fits) {
        (Some(_), Some((rate, per))) => Some(rate.hours.scaled(per.factor.recip()).map_err(failed)?),
        _ => None,
    };
    let how = How::Labor(Labor::new(&m.measure, hours, Some(hour)).map_err(failed)?);
    Ok(Ready { other_rate, ..Ready::alone(Arc::clone(&row.code), how) })
}

/// Dollars for an hour that a crew works, with overtime and burden.
///
/// # Errors
/// A value too large.
pub(crate) fn hourly(crew: &super::book::Crew) -> Result<Number, NumberError> {
    let wage = match &crew.overtime {
        Some(overtime) => crew.wage.times(&overtime.paid()?)?.over(&overtime.worked)?,
        None => crew.wage,
    };
    wage.times(&Number::ONE.plus(&crew.burden)?)
}
