//! One field: how its cells become values.

use super::tally::Tally;
use super::words::Words;
use crate::engine::column::Holds;
use crate::engine::{ColumnBuilder, RawCell, Texts};
use crate::program::schema::{Limit, beyond};
use crate::program::{Field, Flavor, Input, KindId, Options, Schema, Type, Value};
use crate::quantity::spelling::{
    Spelled, SpellingError, decimal_of, read_date, read_length, read_quantity, read_yes_no,
};
use crate::quantity::{Date, Decimal, Dimension, Number, NumberError, Unit};
use crate::workbook::headings::{HeadingUnit, unit_of};
use crate::workbook::open::serial_date;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// A length above this is worth a second look: 1,000 ft, in mm.
const LONG_MM: i64 = 304_800;

/// Why a cell was refused.
#[derive(Clone, Debug)]
pub(super) struct Refusal {
    pub(super) kind: &'static str,
    pub(super) what: String,
    pub(super) fix: Option<String>,
}

impl Refusal {
    fn new(kind: &'static str, what: String) -> Self {
        Self { kind, what, fix: None }
    }

    fn fix(mut self, fix: impl Into<String>) -> Self {
        self.fix = Some(fix.into());
        self
    }
}

/// A value in the form that its column keeps.
#[derive(Clone, Copy, Debug)]
pub(super) enum Good {
    Number {
        value: Decimal,
        /// A length that is worth a second look.
        long: bool,
    },
    Text(u32),
    YesNo(bool),
}

/// What a cell gave.
#[derive(Clone, Debug)]
pub(super) enum Reading {
    Blank,
    Good {
        value: Good,
        /// A number that the sheet keeps as a text.
        as_text: bool,
    },
    Bad(Arc<Refusal>),
    /// A number whose unit nobody gives.
    Unitless,
}

/// How a number without a unit of its own is read.
#[derive(Clone, Copy, Debug)]
enum Bare {
    /// It is times this, in the unit of the column; as a decimal where that ends.
    Times(Unit, Option<Decimal>),
    /// A part: whether the heading says percent.
    Percent(bool),
    Refused,
}

/// The short way for sound numbers: one product and two comparisons, all in decimals. Whatever is out of the ordinary
/// goes the long way, which finds the words for it.
#[derive(Clone, Copy, Debug)]
struct Quick {
    factor: Decimal,
    low: (Decimal, bool),
    high: (Decimal, bool),
    whole: bool,
}

impl Quick {
    /// Digits of a factor and of a value whose product is exact in 28 digits.
    const FACTOR: i128 = 1_000_000_000_000;
    const VALUE: i128 = 1_000_000_000_000_000;

    fn of(field: &FieldReader<'_>) -> Option<Self> {
        let Bare::Times(_, Some(factor)) = field.bare else { return None };
        let Type::Number { dimension, flavor } = field.field.ty else { return None };
        if factor.mantissa().abs() >= Self::FACTOR || factor.scale() > 12 {
            return None;
        }
        let bound = |limit: &Option<(Number, bool)>, without: Decimal| match limit {
            Some((limit, own)) => limit.exact_decimal().map(|l| (l, *own)),
            None => Some((without, true)),
        };
        let whole = flavor == Flavor::Count;
        let least = if whole || dimension.length > 0 { Decimal::ZERO } else { Decimal::MIN };
        let mut low = bound(&field.low, least)?;
        if whole && low.0 < Decimal::ZERO {
            low = (Decimal::ZERO, true);
        }
        let mut high = bound(&field.high, Decimal::MAX)?;
        if dimension == Dimension::LENGTH {
            let long = in_kept(&LONG_MM.into(), field.field.unit).ok()?.exact_decimal()?;
            if long < high.0 {
                high = (long, true);
            }
        }
        Some(Self { factor, low, high, whole })
    }

    fn read(&self, value: f64) -> Option<Decimal> {
        let value = decimal_of(value)?;
        if value.mantissa().abs() >= Self::VALUE || value.scale() > 12 {
            return None;
        }
        let kept = if self.factor == Decimal::ONE { value } else { value.checked_mul(self.factor)? };
        let above = kept > self.low.0 || (self.low.1 && kept == self.low.0);
        let below = kept < self.high.0 || (self.high.1 && kept == self.high.0);
        (above && below && (!self.whole || kept.is_integer())).then_some(kept)
    }
}

/// Reads the cells of one field.
#[derive(Debug)]
pub(super) struct FieldReader<'a> {
    pub(super) field: &'a Field,
    pub(super) input: &'a Input,
    pub(super) builder: ColumnBuilder,
    pub(super) is_key: bool,
    bare: Bare,
    low: Limit,
    high: Limit,
    quick: Option<Quick>,
    default: Option<Good>,
    one_of: Words,
    cache: FxHashMap<u32, Reading>,
    /// Whether all cells are texts until they are read.
    pub(super) from_text: bool,
    pub(super) as_text: Tally,
    pub(super) unitless: Tally,
    pub(super) long: Tally,
}

/// A reader for each input field of a kind, in the order of its fields.
pub(super) fn readers<'a>(
    schema: &'a Schema,
    kind: KindId,
    from_text: bool,
    texts: &mut Texts,
) -> Vec<FieldReader<'a>> {
    let kind = schema.kind(kind);
    let mut out = Vec::new();
    for id in &kind.fields {
        let field = schema.field(*id);
        if let Some(input) = &field.input {
            let options = schema.options.as_ref().filter(|o| o.named_by == Some(*id));
            let mut reader = FieldReader::new(field, input, options, texts);
            reader.from_text = from_text;
            reader.is_key = kind.key == Some(*id);
            out.push(reader);
        }
    }
    out
}

impl<'a> FieldReader<'a> {
    pub(super) fn new(field: &'a Field, input: &'a Input, options: Option<&Options>, texts: &mut Texts) -> Self {
        let holds = match field.ty {
            Type::Number { .. } | Type::Date | Type::Thing(_) => Holds::Numbers,
            Type::Text => Holds::Texts,
            Type::YesNo => Holds::YesNo,
        };
        // limits and defaults that do not fit the column's unit were refused with the book
        let fitting = |n: &Number| in_kept(n, field.unit).ok();
        let kept = |limit: &Option<(Number, bool)>| limit.and_then(|(n, own)| Some((fitting(&n)?, own)));
        let default = input.default.as_ref().and_then(|value| {
            Some(match value {
                Value::Number(n) => Good::Number { value: fitting(n)?.to_decimal(), long: false },
                Value::Text(text) => Good::Text(texts.intern(text)),
                Value::YesNo(v) => Good::YesNo(*v),
                Value::Date(date) => {
                    Good::Number { value: crate::program::resolve::days_of(*date).into(), long: false }
                }
            })
        });
        let one_of = Words::new(&input.one_of, options, texts);
        let mut reader = Self {
            field,
            input,
            builder: ColumnBuilder::new(holds),
            is_key: false,
            bare: Bare::Refused,
            low: kept(&input.low),
            high: kept(&input.high),
            quick: None,
            default,
            one_of,
            cache: FxHashMap::default(),
            from_text: false,
            as_text: Tally::default(),
            unitless: Tally::default(),
            long: Tally::default(),
        };
        reader.headed(None);
        reader
    }

    /// Whether a row cannot do without it.
    pub(super) fn required(&self) -> bool {
        self.default.is_none() && !self.input.may_be_blank
    }

    /// Sets the unit that the sheet's heading gives; without one the book's serves.
    pub(super) fn headed(&mut self, unit: Option<HeadingUnit>) {
        self.cache.clear();
        self.set_unit(unit);
        self.quick = Quick::of(self);
    }

    fn set_unit(&mut self, unit: Option<HeadingUnit>) {
        let Type::Number { dimension, flavor } = self.field.ty else { return };
        if flavor == Flavor::Percent {
            let own = || self.input.headings.iter().find_map(|h| unit_of(h));
            self.bare = Bare::Percent(unit.or_else(own) == Some(HeadingUnit::Percent));
            return;
        }
        let fits = |u: HeadingUnit| match u {
            HeadingUnit::Unit(unit) if unit.dimension == dimension => Some(unit),
            _ => None,
        };
        let in_book = || self.input.headings.iter().find_map(|h| unit_of(h).and_then(fits));
        let shown = || self.field.style.unit.as_ref().map(|(_, u)| *u).filter(|u| u.dimension == dimension);
        let own = || (dimension.is_none() || dimension == Dimension::MONEY).then(|| Unit { dimension, ..Unit::none() });
        self.bare = match unit.and_then(fits).or_else(in_book).or_else(shown).or_else(own) {
            None => Bare::Refused,
            Some(unit) => {
                let factor = unit.factor / self.field.unit.factor;
                let decimal = Number::of_ratio(factor).ok().and_then(|n| n.exact_decimal());
                Bare::Times(Unit { factor, ..unit }, decimal)
            }
        };
    }

    /// A heading whose unit measures something else than the field.
    pub(super) fn wrong_unit(&self, unit: Option<HeadingUnit>) -> Option<String> {
        let Type::Number { dimension, flavor } = self.field.ty else { return None };
        match unit? {
            HeadingUnit::Unit(u) if u.dimension != dimension => Some(u.dimension.words()),
            HeadingUnit::Percent if flavor != Flavor::Percent && !dimension.is_none() => Some("a percent".to_owned()),
            _ => None,
        }
    }

    /// Reads a cell. A text is looked at once for each distinct text of the column.
    pub(super) fn read(&mut self, cell: RawCell, texts: &mut Texts) -> Reading {
        match cell {
            RawCell::Empty => Reading::Blank,
            RawCell::Text(id) if self.field.ty == Type::Text && self.one_of.is_empty() => good(Good::Text(id)),
            RawCell::Text(id) => {
                if let Some(known) = self.cache.get(&id) {
                    return known.clone();
                }
                let text = Arc::clone(texts.get(id));
                let reading = self.text(&text, id, texts);
                self.cache.insert(id, reading.clone());
                reading
            }
            RawCell::Percent(v) => self.percent_cell(v, texts),
            RawCell::Number(v) => self.number_cell(v, texts),
            RawCell::YesNo(v) => match self.field.ty {
                Type::YesNo => good(Good::YesNo(v)),
                Type::Text => self.allowed_text(texts.intern(if v { "TRUE" } else { "FALSE" }), texts),
                _ => self.bad("unreadable cell", format!("holds {}", if v { "yes" } else { "no" })),
            },
            RawCell::Date(serial) => self.date_cell(serial, texts),
            RawCell::Error(id) => {
                let text = Arc::clone(texts.get(id));
                let refusal = Refusal::new("error value", format!("{} holds the error {text}.", self.field.label))
                    .fix(format!("correct the formula in the cell; {} is needed", self.field.ty.words()));
                Reading::Bad(Arc::new(refusal))
            }
        }
    }

    fn bad(&self, kind: &'static str, holds: String) -> Reading {
        let what = format!("{} {holds}; {} is needed.", self.field.label, self.field.ty.words());
        Reading::Bad(Arc::new(Refusal::new(kind, what)))
    }

    fn misspelled(&self, text: &str, error: SpellingError) -> Reading {
        let needed = self.field.ty.words();
        let kind = match self.field.ty.dimension() {
            Some(Dimension::LENGTH) => "unreadable length",
            Some(_) => "unreadable number",
            None if self.field.ty == Type::Date => "unreadable date",
            None => "unreadable yes or no",
        };
        let shown: String = text.chars().take(40).collect();
        let what = format!("{} cannot be read as {needed} from “{}”: {}.", self.field.label, shown.trim(), error.what);
        Reading::Bad(Arc::new(Refusal { kind, what, fix: error.fix }))
    }

    fn number_cell(&mut self, value: f64, texts: &mut Texts) -> Reading {
        if let Some(value) = self.quick.as_ref().and_then(|q| q.read(value)) {
            return good(Good::Number { value, long: false });
        }
        match self.field.ty {
            Type::Text => self.allowed_text(texts.intern(&value.to_string()), texts),
            Type::YesNo if value == 0.0 || value.to_bits() == 1.0f64.to_bits() => good(Good::YesNo(value != 0.0)),
            Type::YesNo | Type::Date | Type::Thing(_) => {
                self.bad("unreadable cell", format!("holds the number {value}"))
            }
            Type::Number { .. } => match decimal_of(value) {
                Some(decimal) => self.bare(&decimal.into(), false),
                None => self.too_long(),
            },
        }
    }

    /// A number that its cell shows as a percentage: 0.1 is 10%, whatever the heading says.
    fn percent_cell(&mut self, value: f64, texts: &mut Texts) -> Reading {
        if self.field.ty != Type::PERCENT {
            return self.number_cell(value, texts);
        }
        decimal_of(value).map_or_else(|| self.too_long(), |fraction| self.in_base(&fraction.into()))
    }

    fn date_cell(&mut self, serial: f64, texts: &mut Texts) -> Reading {
        let Some(date) = serial_date(serial) else {
            return self.bad("unreadable date", "holds a time or a date that is not in the calendar".to_owned());
        };
        match self.field.ty {
            Type::Date => self.limited(&Number::from(crate::program::resolve::days_of(date)), false),
            Type::Text if !self.is_key => self.allowed_text(texts.intern(&date.to_string()), texts),
            _ => Reading::Bad(Arc::new(self.turned_into_a_date(date))),
        }
    }

    /// A length such as 10-3 or 5/8 that a spreadsheet took for a day of the year.
    pub(super) fn turned_into_a_date(&self, date: Date) -> Refusal {
        let (month, day) = (date.month(), date.day());
        let label = &self.field.label;
        let name = crate::workbook::open::month_name(month);
        if self.field.ty.dimension() != Some(Dimension::LENGTH) {
            let what =
                format!("{label} holds a date, {name} {day}, {}; {} is needed.", date.year(), self.field.ty.words());
            return Refusal::new("date in place of a value", what)
                .fix("format the cell as text and type the value again");
        }
        let what = format!(
            "{label} holds a date, {name} {day}, {}, where a length is needed: a spreadsheet turns {month}-{day} into a date.",
            date.year()
        );
        let fraction = matches!(day, 2 | 4 | 8 | 16 | 32) && month < day && month % 2 == 1;
        let fix = match (day < 12, fraction) {
            (true, true) => format!("type {month}'-{day}\" or {month}/{day}\", whichever was meant, with its marks"),
            (true, false) => format!("type {month}'-{day}\", with its marks, if that was meant"),
            (false, true) => format!("type {month}/{day}\", with its mark, if that was meant"),
            (false, false) => "type the length with its marks, 10'-3\"".to_owned(),
        };
        Refusal::new("date in place of a length", what).fix(fix)
    }

    fn text(&mut self, text: &str, id: u32, texts: &mut Texts) -> Reading {
        match self.field.ty {
            Type::Thing(_) => self.bad("unreadable cell", "holds what is worked out, not read".to_owned()),
            Type::Text => self.allowed_text(id, texts),
            Type::YesNo => match read_yes_no(text) {
                Ok(v) => good(Good::YesNo(v)),
                Err(e) => self.misspelled(text, e),
            },
            Type::Date => match read_date(text) {
                Ok(date) => self.limited(&Number::from(crate::program::resolve::days_of(date)), false),
                Err(e) => self.misspelled(text, e),
            },
            Type::Number { dimension: Dimension::LENGTH, .. } => match read_length(text) {
                Ok(Spelled::Length(mm)) => self.in_base(&mm),
                Ok(Spelled::Bare(n)) => self.bare(&n, !self.from_text),
                Err(e) => self.misspelled(text, e),
            },
            Type::Number { dimension, flavor } => match read_quantity(text) {
                Err(e) => self.misspelled(text, e),
                Ok(q) if q.percent && flavor == Flavor::Percent => self.in_base(&q.value),
                Ok(q) if q.percent => self.misspelled(text, needs("it is a percent")),
                Ok(q) => match q.unit {
                    None => self.bare(&q.value, !self.from_text),
                    Some(unit) if unit.dimension == dimension && flavor != Flavor::Percent => self.in_base(&q.value),
                    Some(unit) => self.misspelled(text, needs(&format!("it is {}", unit.dimension.words()))),
                },
            },
        }
    }

    fn allowed_text(&self, id: u32, texts: &Texts) -> Reading {
        if self.one_of.is_empty() {
            return good(Good::Text(id));
        }
        if let Some(listed) = self.one_of.find(id, texts) {
            return good(Good::Text(listed));
        }
        let list = self.one_of.all();
        let shown: String = texts.get(id).trim().chars().take(40).collect();
        let refusal =
            Refusal::new("text not in the list", format!("{} is “{shown}”; it may be {list}.", self.field.label));
        Reading::Bad(Arc::new(match self.one_of.nearest(&shown) {
            Some(near) => refusal.fix(format!("“{near}”, if that was meant")),
            None => refusal,
        }))
    }

    /// A number without a unit of its own.
    fn bare(&self, n: &Number, as_text: bool) -> Reading {
        let kept = match self.bare {
            Bare::Refused => return Reading::Unitless,
            Bare::Times(unit, None) => n.scaled(unit.factor),
            Bare::Times(_, Some(factor)) if factor == Decimal::ONE => Ok(*n),
            Bare::Times(_, Some(factor)) => n.times(&factor.into()),
            Bare::Percent(percent) => match self.percent(n, percent) {
                Ok(part) => in_kept(&part, self.field.unit),
                Err(reading) => return reading,
            },
        };
        match kept {
            Ok(kept) => self.limited(&kept, as_text),
            Err(_) => self.too_long(),
        }
    }

    /// A number in base units.
    fn in_base(&self, n: &Number) -> Reading {
        in_kept(n, self.field.unit).map_or_else(|_| self.too_long(), |kept| self.limited(&kept, false))
    }

    fn too_long(&self) -> Reading {
        self.bad("unreadable number", "holds a number with more digits than can be kept exactly".to_owned())
    }

    /// A bare number in a percent column: .05 is 5% where the heading does not say percent, 5 is 5% where it does. The
    /// other two could be either; a cell that shows a percentage does not come here.
    fn percent(&self, n: &Number, heading: bool) -> Result<Number, Reading> {
        let size = if n.is_negative() { n.negated() } else { *n };
        let unclear = if heading { size < Number::ONE && !n.is_zero() } else { size > Number::ONE };
        if unclear {
            let digits = n.to_decimal();
            let times = n.times(&100.into()).map_or(digits, |h| h.to_decimal().normalize());
            let what = format!("{} is {digits}, which could be {digits}% or {times}%.", self.field.label);
            let fix = format!("type it with its sign: {digits}% or {times}%");
            return Err(Reading::Bad(Arc::new(Refusal::new("unclear percent", what).fix(fix))));
        }
        if heading { n.over(&100.into()).map_err(|_| self.too_long()) } else { Ok(*n) }
    }

    /// A value in the unit of the column, held against the limits of the field.
    fn limited(&self, kept: &Number, as_text: bool) -> Reading {
        if let Some(must) = beyond(self.field.ty, (&self.low, &self.high), kept, |n| self.shown(n)) {
            let what = format!("{} is {}; {must}.", self.field.label, self.shown(kept));
            return Reading::Bad(Arc::new(Refusal::new("value outside its limits", what)));
        }
        let long = self.field.ty.dimension() == Some(Dimension::LENGTH)
            && kept.scaled(self.field.unit.factor).is_ok_and(|mm| mm > Number::from(LONG_MM));
        Reading::Good { value: Good::Number { value: kept.to_decimal(), long }, as_text }
    }

    fn shown(&self, kept: &Number) -> String {
        let base = kept.scaled(self.field.unit.factor);
        base.map_or_else(|_| "a number too large to print".to_owned(), |base| self.field.written(&base))
    }

    /// Puts a value into the column.
    pub(super) fn push(&mut self, value: Good) {
        match value {
            Good::Number { value, .. } => self.builder.push_number(value),
            Good::Text(id) => self.builder.push_text(id),
            Good::YesNo(v) => self.builder.push_yes_no(v),
        }
    }

    /// Puts what a blank cell stands for into the column.
    pub(super) fn push_blank(&mut self) {
        match self.default {
            Some(value) => self.push(value),
            None => self.builder.push_fault(self.input.missing),
        }
    }

    /// Puts the fault of an unreadable cell into the column.
    pub(super) fn push_bad(&mut self) {
        self.builder.push_fault(self.input.unreadable);
    }
}

fn needs(what: &str) -> SpellingError {
    SpellingError { what: what.to_owned(), fix: None }
}

fn good(value: Good) -> Reading {
    Reading::Good { value, as_text: false }
}

/// A value in base units, in the unit of the column.
fn in_kept(base: &Number, unit: Unit) -> Result<Number, NumberError> {
    base.scaled(unit.factor.recip())
}

/// What stands in a cell, as typed.
#[must_use]
pub fn cell_text(cell: RawCell, texts: &Texts) -> String {
    match cell {
        RawCell::Empty => String::new(),
        RawCell::Number(v) | RawCell::Percent(v) => v.to_string(),
        RawCell::Text(id) | RawCell::Error(id) => texts.get(id).to_string(),
        RawCell::YesNo(v) => if v { "TRUE" } else { "FALSE" }.to_owned(),
        RawCell::Date(serial) => serial_date(serial).map_or_else(|| serial.to_string(), |d| d.to_string()),
    }
}

/// The number of a cell's text, for keys: a number is taken as it is written, 101 and not 101.0.
pub(super) fn key_text(cell: RawCell, texts: &mut Texts) -> Option<u32> {
    match cell {
        RawCell::Empty | RawCell::Error(_) | RawCell::Date(_) => None,
        RawCell::Text(id) => Some(id),
        RawCell::Number(_) | RawCell::Percent(_) | RawCell::YesNo(_) => {
            let text = cell_text(cell, texts);
            Some(texts.intern(&text))
        }
    }
}
