//! Changes of prices to try out: `ST-12 +8%`, `group:steel +5%`, `crew:framers +3%`.

use crate::engine::input::fold;
use crate::pricing::PriceBook;
use crate::problem::Problem;
use crate::quantity::spelling::read_number;
use crate::quantity::{Decimal, Number, NumberError};

/// Whose prices change.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Whose {
    /// A code of sheet *Prices*.
    Code(String),
    /// All codes of a group.
    Group(String),
    /// A crew's wage.
    Crew(String),
}

/// A change of prices by so many percent.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    written: String,
    whose: Whose,
    times: Number,
}

impl Change {
    /// Reads `CODE +8%`, `group:NAME -5%` or `crew:NAME +3%`.
    ///
    /// # Errors
    /// A text that is none of these; a price that would fall below zero.
    pub fn read(text: &str) -> Result<Self, Problem> {
        let not_understood = |what: String| {
            let fix =
                "a code or group and a change in percent: \"ST-12 +8%\", \"group:steel -5%\", \"crew:framers +3%\"";
            Problem::stop("change not understood", what).found(text).fix(fix)
        };
        let text = text.trim();
        // 8 % is 8%
        let joined = text.strip_suffix('%').map(|rest| format!("{}%", rest.trim_end()));
        let (whose, percent) = joined
            .as_deref()
            .unwrap_or(text)
            .rsplit_once(char::is_whitespace)
            .ok_or_else(|| not_understood(format!("'{text}' does not say whose price changes by how much.")))?;
        let number = percent.strip_suffix('%').and_then(|p| read_number(p.trim_start_matches('+')).ok());
        let by = number.ok_or_else(|| not_understood(format!("'{percent}' is no change in percent.")))?;
        let hundred = Number::from(Decimal::ONE_HUNDRED);
        let times = hundred.plus(&by).and_then(|sum| sum.over(&hundred));
        let times = times.map_err(|_| not_understood(format!("'{percent}' is too large.")))?;
        if times.is_negative() {
            return Err(not_understood(format!("{percent} would make the price less than nothing.")));
        }
        let whose = whose.trim();
        let whose = match whose.split_once(':').map(|(kind, name)| (fold(kind), fold(name))) {
            Some((kind, name)) if kind == "group" => Whose::Group(name),
            Some((kind, name)) if kind == "crew" => Whose::Crew(name),
            _ => Whose::Code(fold(whose)),
        };
        Ok(Self { written: text.trim().to_owned(), whose, times })
    }

    /// As it was written.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// Changes a price book; how many of its rows.
    pub fn apply(&self, book: &mut PriceBook) -> Result<usize, NumberError> {
        let mut changed = 0;
        if let Whose::Crew(name) = &self.whose {
            for crew in book.crews.iter_mut().filter(|c| fold(&c.name) == *name) {
                crew.wage = crew.wage.times(&self.times)?;
                changed += 1;
            }
            return Ok(changed);
        }
        for row in &mut book.prices {
            let met = match &self.whose {
                Whose::Code(code) => fold(&row.code) == *code,
                Whose::Group(group) => row.group.as_ref().is_some_and(|g| fold(g) == *group),
                Whose::Crew(_) => false,
            };
            if met {
                row.cost = row.cost.times(&self.times)?;
                for at_break in &mut row.breaks {
                    at_break.cost = at_break.cost.times(&self.times)?;
                }
                changed += 1;
            }
        }
        Ok(changed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_is_read() {
        let change = |text: &str| Change::read(text).map(|c| (c.whose, c.times.to_decimal().normalize().to_string()));
        assert_eq!(change("ST-12 +8%").unwrap(), (Whose::Code("st-12".to_owned()), "1.08".to_owned()));
        assert_eq!(change(" group:Light  steel -12.5% ").unwrap().1, "0.875");
        assert_eq!(change("ST-12 +8 %").unwrap().1, "1.08");
        assert_eq!(change("crew:Framers 3%").unwrap(), (Whose::Crew("framers".to_owned()), "1.03".to_owned()));
        for wrong in ["ST-12", "ST-12 8", "ST-12 +x%", "+8%", "", "ST-12 -101%"] {
            assert_eq!(Change::read(wrong).unwrap_err().kind, "change not understood", "{wrong}");
        }
    }
}
