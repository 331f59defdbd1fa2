//! The date.

use crate::quantity::Date;
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// Where systems of the Unix family keep the rules of their time zone.
const LOCAL: &str = "/etc/localtime";

/// Lets half a second pass.
pub fn wait() {
    std::thread::sleep(std::time::Duration::from_millis(500));
}

/// Today's date in the time zone of the machine.
#[must_use]
pub fn today() -> Date {
    Timestamp::now().to_zoned_datetime(local()).date()
}

/// The machine's time zone. Its rules alone are enough for a date; to find its name, all time zones that the machine
/// knows would be listed first.
#[allow(clippy::disallowed_methods, reason = "system/ is the room that touches files")]
fn local() -> TimeZone {
    let named = std::env::var_os("TZ").is_some();
    let rules = if named { None } else { std::fs::read(LOCAL).ok() };
    rules.and_then(|rules| TimeZone::tzif("local", &rules).ok()).unwrap_or_else(TimeZone::system)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rules_alone_give_the_same_day() {
        let now = Timestamp::now();
        assert_eq!(now.to_zoned_datetime(local()).datetime(), now.to_zoned_datetime(TimeZone::system()).datetime());
    }
}
