//! Paths that books name: relative to the book, with `/` between folders on every machine.

/// Longest path that a book may name, in bytes.
const LONGEST: usize = 1_000;

/// The path of a file that a book names, where the book has a path itself; both are told from one folder. Parts `.` and
/// `..` are taken out as far as they go.
///
/// # Errors
/// In words, what is wrong with a path that does not begin at the book.
pub fn beside(book: &str, named: &str) -> Result<String, &'static str> {
    let named = named.trim();
    if named.len() > LONGEST {
        return Err("it is longer than a path may be");
    }
    if named.contains('\\') {
        return Err("folders are parted by '/'");
    }
    if named.contains(|c: char| c.is_control()) {
        return Err("it holds a sign that no path holds");
    }
    if named.starts_with('/') || named.contains(':') {
        return Err("it does not begin at the book's own folder");
    }
    let mut out: Vec<&str> = book.split('/').collect();
    out.pop();
    for part in named.split('/') {
        match (part, out.last()) {
            ("" | ".", _) => {}
            ("..", Some(last)) if *last != ".." => drop(out.pop()),
            (part, _) => out.push(part),
        }
    }
    if out.last().is_none_or(|last| *last == "..") { Err("it names a folder") } else { Ok(out.join("/")) }
}

/// A path that leads out of a folder and back into it, told without that way; `folder` is the path of the folder itself, in
/// parts. Another path stays as it is.
#[must_use]
pub fn without_detour(path: &str, folder: &[String]) -> String {
    let mut parts: Vec<&str> = path.split('/').collect();
    let mut up = parts.iter().take_while(|part| **part == "..").count();
    while up > 0 && up <= folder.len() && parts.len() > up + 1 && parts[up] == folder[folder.len() - up] {
        parts.remove(up);
        up -= 1;
        parts.remove(up);
    }
    parts.join("/")
}

/// What a path may be without detours, the fewest taken out first: `../a/x.lid` and `x.lid`.
pub fn detours(path: &str) -> impl Iterator<Item = String> + '_ {
    let parts: Vec<&str> = path.split('/').collect();
    let up = parts.iter().take_while(|part| **part == "..").count();
    let most = up.min(parts.len() - up - 1);
    (0..=most).map(move |out| [&parts[..up - out], &parts[up + out..]].concat().join("/"))
}

/// How a file's name ends, in lower case, without the dot.
#[must_use]
pub fn ending(path: &str) -> String {
    let name = path.rsplit('/').next().unwrap_or("");
    name.rsplit_once('.').map_or_else(String::new, |(_, end)| end.trim().to_lowercase())
}

#[cfg(test)]
mod tests {
    use super::{beside, detours, ending, without_detour};

    #[test]
    fn a_path_begins_at_the_book() {
        let path = |book, named| beside(book, named).unwrap();
        assert_eq!(path("house.lid", "spans.lid"), "spans.lid");
        assert_eq!(path("house.lid", " ./standards//spans.lid "), "standards/spans.lid");
        assert_eq!(path("standards/spans.lid", "tables/tees.xlsx"), "standards/tables/tees.xlsx");
        assert_eq!(path("standards/spans.lid", "../house.lid"), "house.lid");
        assert_eq!(path("house.lid", "../shared/spans.lid"), "../shared/spans.lid");
        assert_eq!(path("../shared/spans.lid", "../../all/x.csv"), "../../all/x.csv");
        assert_eq!(path("a/b.lid", "c/../../b.lid"), "b.lid");
    }

    #[test]
    fn a_way_out_and_back_is_no_part_of_a_path() {
        let folder = ["b".to_owned(), "company".to_owned()];
        let path = |path| without_detour(path, &folder);
        assert_eq!(path("../company/std.lid"), "std.lid");
        assert_eq!(path("../company/x/std.lid"), "x/std.lid");
        assert_eq!(path("../../b/company/std.lid"), "std.lid");
        assert_eq!(path("../../b/other/std.lid"), "../other/std.lid");
        for same in
            ["std.lid", "../std.lid", "../company", "../../company/std.lid", "../../../b/std.lid", "company/std.lid"]
        {
            assert_eq!(path(same), same);
        }
        assert_eq!(detours("../../b/a/x.lid").collect::<Vec<_>>(), ["../../b/a/x.lid", "../a/x.lid", "x.lid"]);
        assert_eq!(detours("../x.lid").collect::<Vec<_>>(), ["../x.lid"]);
        assert_eq!(detours("x.lid").collect::<Vec<_>>(), ["x.lid"]);
    }

    #[test]
    fn a_path_from_elsewhere_is_refused() {
        for named in ["/etc/spans.lid", "C:/spans.lid", "c:spans.lid", "std\\spans.lid", "..", "a/..", "", "x\n.lid"] {
            assert!(beside("house.lid", named).is_err(), "{named}");
        }
        assert!(beside("house.lid", &"x".repeat(1_001)).is_err());
    }

    #[test]
    fn endings_go_without_case() {
        assert_eq!(ending("a.b/Spans.LID"), "lid");
        assert_eq!(ending("a.b/spans"), "");
    }
}
