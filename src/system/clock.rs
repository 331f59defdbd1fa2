//! The date.

use crate::quantity::Date;

/// Today's date in the time zone of the machine.
#[must_use]
pub fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}
