//! The nearest name to one that was not found.

/// The name among `names` that is close enough to `wanted` to be what was meant.
#[must_use]
pub fn nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted_folded = wanted.to_lowercase();
    let limit = wanted.chars().count().div_ceil(3).max(1);
    names
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&wanted_folded, &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= limit || (wanted.len() >= 3 && name.starts_with(&wanted_folded)))
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(b.1)))
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_its_name() {
        let names = ["tee_count", "hanger_count", "tested_span"];
        assert_eq!(nearest("tee_cuont", names), Some("tee_count"));
        assert_eq!(nearest("testedspan", names), Some("tested_span"));
        assert_eq!(nearest("zebra", names), None);
    }
}
