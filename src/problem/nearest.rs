//! The nearest name to one that was not found.

/// The name among `names` that is close enough to `wanted` to be what was meant.
#[must_use]
pub fn nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted_folded = wanted.to_lowercase();
    // of a single letter every other is as near
    let letters = wanted.chars().count();
    let limit = letters.div_ceil(3).max(1);
    names
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&wanted_folded, &name.to_lowercase()), name))
        .filter(|(distance, name)| {
            (*distance <= limit && *distance < letters) || (wanted.len() >= 3 && name.starts_with(&wanted_folded))
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(b.1)))
        .map(|(_, name)| name)
}

/// Names that look like one that was not found, the likest first: a slip of the whole name, then of one of its words,
/// then names that hold it.
#[must_use]
pub fn alike<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>, most: usize) -> Vec<&'a str> {
    let wanted = wanted.trim().to_lowercase().replace([' ', '-'], "_");
    let letters = wanted.chars().count();
    let limit = letters.div_ceil(3).max(1);
    let slip = |name: &str| Some(strsim::damerau_levenshtein(&wanted, name)).filter(|d| *d <= limit);
    let mut found: Vec<(usize, &str)> = names
        .into_iter()
        .filter_map(|name| {
            let folded = name.to_lowercase();
            let word = || folded.split('_').filter(|w| w.chars().count() >= 3).filter_map(&slip).min();
            let holds = letters >= 3 && folded.contains(&wanted);
            let score = match (slip(&folded), word(), holds) {
                (Some(whole), ..) => 3 * whole,
                (None, Some(word), _) => 3 * word + 1,
                (None, None, true) => 5,
                _ => return None,
            };
            Some((score, name))
        })
        .collect();
    found.sort_unstable();
    found.dedup_by(|a, b| a.1 == b.1);
    found.into_iter().map(|(_, name)| name).take(most).collect()
}

#[cfg(test)]
mod tests {
    use super::{alike, nearest};

    #[test]
    fn names_alike_come_likest_first() {
        let names = ["hanger_capacity", "hanger_count", "tee_count", "tested_span", "hang", "span_limit", "hr"];
        // one letter off 'hang' (two of 'hanger', in the two others)
        assert_eq!(alike("hangr", names, 5), ["hang", "hanger_capacity", "hanger_count"]);
        assert_eq!(alike("Hanger count", names, 1), ["hanger_count"]);
        // 'hang' is three letters off: without s, h for p, and a g
        assert_eq!(alike("span", names, 5), ["span_limit", "tested_span"]);
        assert!(alike("zebra", names, 5).is_empty());
    }

    #[test]
    fn a_slip_finds_its_name() {
        let names = ["tee_count", "hanger_count", "tested_span"];
        assert_eq!(nearest("tee_cuont", names), Some("tee_count"));
        assert_eq!(nearest("testedspan", names), Some("tested_span"));
        assert_eq!(nearest("zebra", names), None);
        assert_eq!(nearest("G", ["A", "B"]), None);
        assert_eq!(nearest("g", ["A", "G"]), Some("G"));
    }
}
