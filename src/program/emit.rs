//! Makes the nodes of the program: typed, in one unit where two meet, each only once.

use super::node::{Cause, Constant, Node, Op, Phase, Reg, Scaled, Site};
use super::scalar;
use super::schema::{Field, FieldId, Flavor, KindId, SiteId, Type};
use crate::notation::tree::Comparison;
use crate::quantity::number::Rounding;
use crate::quantity::show::usual_unit;
use crate::quantity::unit::common;
use crate::quantity::{Dimension, Number, Unit};
use crate::source::texts::Texts;
use crate::source::{Span, Text};
use num_traits::One as _;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// The kind of nodes that speak of no row: constants.
pub const NO_KIND: KindId = KindId(u32::MAX);
/// How many nodes a book may compile to.
const MAX_NODES: usize = 400_000;
/// What is said of a book with more.
pub const FULL: &str =
    "The formulas of this book come to more than 400,000 steps; each value and each operator is one.";

/// Where the expression stands whose nodes are being made.
#[derive(Clone, Debug)]
pub struct Here {
    /// The kind whose rows it speaks of.
    pub kind: KindId,
    /// The book.
    pub text: Arc<Text>,
    /// Where in it.
    pub span: Span,
}

/// The arena.
#[derive(Debug, Default)]
pub struct Emit {
    /// The nodes; operands come before their users.
    pub nodes: Vec<Node>,
    /// The constants.
    pub constants: Vec<Constant>,
    /// Where faults can begin.
    pub sites: Vec<Site>,
    /// Texts of the book.
    pub texts: Texts,
    by_op: FxHashMap<(KindId, Op), Reg>,
}

/// A refusal in words, without a place.
pub type Refused = String;

impl Emit {
    /// A node.
    #[must_use]
    pub fn node(&self, reg: Reg) -> &Node {
        &self.nodes[reg as usize]
    }

    /// The constant that a node is.
    #[must_use]
    pub fn constant_of(&self, reg: Reg) -> Option<Constant> {
        match self.node(reg).op {
            Op::Constant(c) => Some(self.constants[c as usize]),
            _ => None,
        }
    }

    fn number_of(&self, reg: Reg) -> Option<Number> {
        match self.constant_of(reg)? {
            Constant::Number(n) => Some(n),
            _ => None,
        }
    }

    /// A constant.
    pub fn constant(&mut self, value: Constant, ty: Type, unit: Unit, shown: Option<(String, Unit)>) -> Reg {
        let id = u32::try_from(self.constants.len()).unwrap_or(u32::MAX);
        self.constants.push(value);
        self.place(Node {
            kind: NO_KIND,
            op: Op::Constant(id),
            ty,
            unit,
            shown,
            level: 0,
            phase: Phase::Rows,
            site: None,
            large: None,
        })
    }

    /// A whole number.
    pub fn whole(&mut self, n: i64) -> Reg {
        self.constant(Constant::Number(n.into()), Type::COUNT, Unit::none(), None)
    }

    fn place(&mut self, node: Node) -> Reg {
        let reg = u32::try_from(self.nodes.len()).unwrap_or(u32::MAX);
        self.nodes.push(node);
        reg
    }

    /// A place where a fault can begin.
    pub fn site(&mut self, here: &Here, cause: Cause) -> SiteId {
        let id = SiteId(u32::try_from(self.sites.len()).unwrap_or(u32::MAX));
        self.sites.push(Site { kind: here.kind, cause, node: None, text: Arc::clone(&here.text), span: here.span });
        id
    }

    /// Adds a node unless it is there, or is a constant in disguise.
    ///
    /// # Errors
    /// When the book has become too large.
    pub fn push(&mut self, here: &Here, op: Op, ty: Type, unit: Unit, cause: Option<Cause>) -> Result<Reg, Refused> {
        if let Some(reg) = self.by_op.get(&(here.kind, op.clone())) {
            return Ok(*reg);
        }
        if let Some(constant) = self.folded(&op) {
            return Ok(self.constant(constant, ty, unit, None));
        }
        if self.nodes.len() >= MAX_NODES {
            return Err(FULL.to_owned());
        }
        let (mut level, mut phase) = (0, Phase::Rows);
        op.operands(|r| {
            let n = &self.nodes[r as usize];
            level = level.max(n.level);
            phase = phase.max(n.phase);
        });
        let sums = matches!(cause, Some(Cause::TooLarge));
        let site = cause.map(|cause| self.site(here, cause));
        let large = if sums { site } else { op.can_outgrow().then(|| self.site(here, Cause::TooLarge)) };
        let node = Node { kind: here.kind, op: op.clone(), ty, unit, shown: None, level, phase, site, large };
        let reg = self.place(node);
        for site in [site, large].into_iter().flatten() {
            self.sites[site.0 as usize].node = Some(reg);
        }
        self.by_op.insert((here.kind, op), reg);
        Ok(reg)
    }

    /// A parameter of a definition that is checked by itself: like no other node.
    pub fn fresh(&mut self, kind: KindId, ty: Type, unit: Unit) -> Reg {
        let op = Op::Parameter(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX));
        self.place(Node { kind, op, ty, unit, shown: None, level: 0, phase: Phase::Rows, site: None, large: None })
    }

    /// A node that reads a field, of this row or of one it belongs to.
    pub fn field(&mut self, here: &Here, id: FieldId, field: &Field, own: bool, level: u32, phase: Phase) -> Reg {
        let op = if own { Op::Field(id) } else { Op::Parent(id) };
        if let Some(reg) = self.by_op.get(&(here.kind, op.clone())) {
            return *reg;
        }
        let reg = self.place(Node {
            kind: here.kind,
            op: op.clone(),
            ty: field.ty,
            unit: field.unit,
            shown: field.style.unit.clone(),
            level: if own { level } else { level + 1 },
            phase,
            site: None,
            large: None,
        });
        self.by_op.insert((here.kind, op), reg);
        reg
    }

    /// A node that brings children together.
    ///
    /// # Errors
    /// When the book has become too large.
    pub fn fold(
        &mut self,
        here: &Here,
        op: Op,
        ty: Type,
        unit: Unit,
        below: (u32, Phase),
        cause: Option<Cause>,
    ) -> Result<Reg, Refused> {
        let reg = self.push(here, op, ty, unit, cause)?;
        let node = &mut self.nodes[reg as usize];
        (node.level, node.phase) = (below.0 + 1, node.phase.max(below.1));
        Ok(reg)
    }

    /// Folds a step whose operands are all constants.
    fn folded(&mut self, op: &Op) -> Option<Constant> {
        let mut all = true;
        let mut any = false;
        op.operands(|r| {
            any = true;
            all &= matches!(self.nodes[r as usize].op, Op::Constant(_));
        });
        if !any || !all {
            return None;
        }
        let value = |r: Reg| self.number_of(r).unwrap_or(Number::ZERO);
        match op {
            Op::Compare(how, a, b) => Some(Constant::YesNo(scalar::compare(*how, a, b, value))),
            Op::Not(a) => match self.constant_of(*a)? {
                Constant::YesNo(v) => Some(Constant::YesNo(!v)),
                _ => None,
            },
            Op::Count(a) => self.number_of(*a).filter(|n| n.is_whole() && !n.is_negative()).map(Constant::Number),
            _ => scalar::number(op, value)?.ok().map(Constant::Number),
        }
    }

    /// Two operands in one unit, with that unit.
    ///
    /// # Errors
    /// When no whole factors bring them there.
    pub fn align(&mut self, a: Reg, b: Reg) -> Result<(Scaled, Scaled, Unit), Refused> {
        let mut all = self.align_all(&[a, b])?;
        let (b, a) = (all.0.pop(), all.0.pop());
        match (a, b) {
            (Some(a), Some(b)) => Ok((a, b, all.1)),
            _ => Err(units_too_large()),
        }
    }

    /// Any number of operands in one unit, with that unit.
    ///
    /// # Errors
    /// When no whole factors bring them there.
    pub fn align_all(&mut self, regs: &[Reg]) -> Result<(Vec<Scaled>, Unit), Refused> {
        // constants go over to a column's unit where that is exact, so that no work is left for the rows
        let lead = regs.iter().copied().find(|r| self.constant_of(*r).is_none()).or(regs.first().copied());
        let Some(lead) = lead else { return Ok((Vec::new(), Unit::none())) };
        let lead_unit = self.node(lead).unit;
        let regs: Vec<Reg> = regs.iter().map(|r| self.converted(*r, lead_unit).unwrap_or(*r)).collect();
        let mut factor = lead_unit.factor;
        for r in &regs {
            factor = common(factor, self.node(*r).unit.factor).ok_or_else(units_too_large)?;
        }
        let scaled = regs.iter().map(|r| {
            let by = self.node(*r).unit.factor / factor;
            Scaled { reg: *r, by: *by.numer() }
        });
        Ok((scaled.collect(), Unit { dimension: lead_unit.dimension, factor }))
    }

    /// A constant brought to another unit, where the result is a decimal.
    fn converted(&mut self, reg: Reg, unit: Unit) -> Option<Reg> {
        let node = self.node(reg).clone();
        if node.unit == unit {
            return Some(reg);
        }
        let value = self.number_of(reg)?.scaled(node.unit.factor / unit.factor).ok()?;
        value.exact_decimal()?;
        Some(self.constant(Constant::Number(value), node.ty, unit, node.shown))
    }

    /// Sum or difference of numbers of one dimension.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn add(&mut self, here: &Here, a: Reg, b: Reg, subtract: bool) -> Result<Reg, Refused> {
        let shown = self.node(a).shown.clone().or_else(|| self.node(b).shown.clone());
        let flavor = match (self.flavor(a), self.flavor(b)) {
            (Flavor::Percent, _) => Flavor::Percent,
            (Flavor::Count, Flavor::Count) if !subtract => Flavor::Count,
            _ => Flavor::Plain,
        };
        let (x, y, unit) = self.align(a, b)?;
        let op = if subtract { Op::Subtract(x, y) } else { Op::Add(x, y) };
        let ty = Type::Number { dimension: unit.dimension, flavor };
        let reg = self.push(here, op, ty, unit, Some(Cause::TooLarge))?;
        self.keep_shown(reg, shown);
        Ok(reg)
    }

    /// Product.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn multiply(&mut self, here: &Here, a: Reg, b: Reg) -> Result<Reg, Refused> {
        let (na, nb) = (self.node(a), self.node(b));
        let unit = na.unit.times(nb.unit).ok_or_else(units_too_large)?;
        let shown = if nb.unit.dimension.is_none() {
            na.shown.clone().filter(|s| !for_each_piece(s, nb))
        } else if na.unit.dimension.is_none() {
            nb.shown.clone().filter(|s| !for_each_piece(s, na))
        } else {
            spread(na, nb).or_else(|| spread(nb, na))
        };
        let flavor = match (self.flavor(a), self.flavor(b)) {
            (Flavor::Count, Flavor::Count) => Flavor::Count,
            (Flavor::Percent, Flavor::Percent) => Flavor::Percent,
            _ => Flavor::Plain,
        };
        let ty = Type::Number { dimension: unit.dimension, flavor };
        let reg = self.push(here, Op::Multiply(a, b), ty, unit, Some(Cause::TooLarge))?;
        self.keep_shown(reg, shown);
        Ok(reg)
    }

    /// Quotient.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn divide(&mut self, here: &Here, a: Reg, b: Reg) -> Result<Reg, Refused> {
        let (na, nb) = (self.node(a), self.node(b));
        let unit = na.unit.per(nb.unit).ok_or_else(units_too_large)?;
        let shown = if nb.unit.dimension.is_none() { na.shown.clone() } else { spread_over(na, nb) };
        let reg = self.push(here, Op::Divide(a, b), Type::of(unit.dimension), unit, Some(Cause::DivideByZero))?;
        self.keep_shown(reg, shown);
        Ok(reg)
    }

    /// A whole power.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn power(&mut self, here: &Here, a: Reg, n: i8) -> Result<Reg, Refused> {
        let mut out = self.whole(1);
        if n == 0 && self.constant_of(a).is_none() {
            // one, where there is a value at all: a fault of it stays one
            let (one, a) = (Scaled { reg: out, by: 1 }, Scaled { reg: a, by: 1 });
            let same = self.push(here, Op::Compare(Comparison::Equal, a, a), Type::YesNo, Unit::none(), None)?;
            let op = Op::Choose { arms: vec![(same, one)], otherwise: one };
            return self.push(here, op, Type::COUNT, Unit::none(), None);
        }
        for i in 0..n.unsigned_abs() {
            out = match (n > 0, i) {
                (true, 0) => a,
                (true, _) => self.multiply(here, out, a)?,
                (false, _) => self.divide(here, out, a)?,
            };
        }
        Ok(out)
    }

    /// To a whole multiple of a step of the same dimension.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn round(&mut self, here: &Here, how: Rounding, value: Reg, step: Reg) -> Result<Reg, Refused> {
        let (v, s, _) = self.align(value, step)?;
        let (unit, shown) = (self.node(s.reg).unit, self.node(value).shown.clone());
        let whole = self.number_of(step).is_some_and(|n| n.is_whole()) && unit.dimension.is_none();
        let flavor = if whole && self.flavor(value) == Flavor::Count { Flavor::Count } else { Flavor::Plain };
        let ty = Type::Number { dimension: unit.dimension, flavor };
        let reg = self.push(here, Op::Round { how, value: v, step: s }, ty, unit, Some(Cause::DivideByZero))?;
        self.keep_shown(reg, shown);
        Ok(reg)
    }

    /// The lesser or greater of two numbers of one dimension.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn pick(&mut self, here: &Here, least: bool, a: Reg, b: Reg) -> Result<Reg, Refused> {
        let shown = self.node(a).shown.clone();
        let flavor = if self.flavor(a) == self.flavor(b) { self.flavor(a) } else { Flavor::Plain };
        let (x, y, unit) = self.align(a, b)?;
        let reg = self.push(
            here,
            Op::Pick { least, a: x, b: y },
            Type::Number { dimension: unit.dimension, flavor },
            unit,
            None,
        )?;
        self.keep_shown(reg, shown);
        Ok(reg)
    }

    /// Square or cube root; the dimension must have one.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn root(&mut self, here: &Here, n: u32, value: Reg) -> Result<Reg, Refused> {
        let unit = self.node(value).unit;
        let which = if n == 2 { "square" } else { "cube" };
        let dimension = unit
            .dimension
            .root(if n == 2 { 2 } else { 3 })
            .ok_or_else(|| format!("The {which} root of {} has no meaning here.", unit.dimension.words()))?;
        let (kept_in, kept_out) = (Unit::kept(unit.dimension), Unit::kept(dimension));
        let factor = unit.factor / kept_in.factor;
        let op = Op::Root { n, value, up: *factor.numer(), down: *factor.denom() };
        self.push(here, op, Type::of(dimension), kept_out, Some(Cause::NegativeRoot))
    }

    /// The value as a count, checked where it is not one already.
    ///
    /// # Errors
    /// A refusal in words.
    pub fn count(&mut self, here: &Here, value: Reg) -> Result<Reg, Refused> {
        if self.flavor(value) == Flavor::Count {
            return Ok(value);
        }
        // a count is kept in ones: 2 C is 200
        let unit = self.node(value).unit;
        let value = if unit.factor.is_one() {
            value
        } else {
            let to_ones = Unit { dimension: Dimension::NONE, factor: unit.factor.recip() };
            let factor = Number::ONE.scaled(unit.factor).map_err(|e| e.to_string())?;
            let one = self.constant(Constant::Number(factor), Type::of(Dimension::NONE), to_ones, None);
            self.multiply(here, value, one)?
        };
        let unit = self.node(value).unit;
        self.push(here, Op::Count(value), Type::COUNT, unit, Some(Cause::NotACount))
    }

    /// The restriction on a number.
    #[must_use]
    pub fn flavor(&self, reg: Reg) -> Flavor {
        match self.node(reg).ty {
            Type::Number { flavor, .. } => flavor,
            _ => Flavor::Plain,
        }
    }

    /// Remembers the unit in which a value was written, for showing.
    pub fn keep_shown(&mut self, reg: Reg, shown: Option<(String, Unit)>) {
        let node = &mut self.nodes[reg as usize];
        if node.shown.is_none() && shown.as_ref().is_none_or(|(_, u)| u.dimension == node.unit.dimension) {
            node.shown = shown;
        }
    }
}

/// The unit of gallons or liters spread over an area or along a length, `gal/sf`: by its dimension a length or an area,
/// in which nobody states compound.
fn spread_over(volume: &Node, over: &Node) -> Option<(String, Unit)> {
    let (liquid, _) = volume.shown.as_ref().filter(|(name, _)| matches!(name.as_str(), "gal" | "L"))?;
    if !matches!(over.unit.dimension, Dimension::AREA | Dimension::LENGTH) {
        return None;
    }
    let over = over.shown.clone().map_or_else(|| usual_unit(over.unit.dimension, liquid == "L").0, |s| s.0);
    let name = format!("{liquid}/{over}");
    Unit::read(&name).ok().map(|unit| (name, unit))
}

/// The unit of the volume that a rate of volume makes with what it was stated for.
fn spread(size: &Node, rate: &Node) -> Option<(String, Unit)> {
    let (volume, over) = rate.shown.as_ref()?.0.split_once('/')?;
    let (volume, over) = (volume, Unit::read(over).ok()?);
    let unit = Unit::read(volume).ok()?;
    let fits = unit.dimension == Dimension::VOLUME && over.dimension == size.unit.dimension;
    fits.then(|| (volume.to_owned(), unit))
}

/// Whether a rate for each piece (`hr/ea`) meets pieces, and so is a rate no more.
fn for_each_piece((name, _): &(String, Unit), pieces: &Node) -> bool {
    let counts = pieces.shown.is_some() || pieces.ty == Type::COUNT;
    let per_piece = name.rsplit('/').next().and_then(Unit::named).is_some_and(|u| u.dimension.is_none());
    counts && per_piece && name.contains('/')
}

fn units_too_large() -> Refused {
    "These units multiply to a factor too large to work with exactly.".to_owned()
}
