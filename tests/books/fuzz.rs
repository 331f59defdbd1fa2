//! Tries random books for a given time, in a process of its own that may fall over:
//!
//! `cargo run --release --example fuzz -- [--seconds 60] [--from 1] [--into target/fuzz]`
//!
//! A book that panics, kills its process, takes more than two seconds of a processor or more than half a gigabyte is kept
//! whole and as small as it fails still; a book that does what none before it did is kept too. `--case FILE` tries one
//! file, `--least FILE` makes one that fails smaller.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, clippy::print_stdout, reason = "a tool of the tests")]

#[path = "../common/mod.rs"]
mod common;

mod case;
mod damage;
mod dice;
mod made;
mod tried;
mod watch;

use case::Case;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// How much of a processor one case may take.
const MOST_TIME: Duration = Duration::from_secs(2);
/// How much memory, in KB.
const MOST_MEMORY: u64 = 512 * 1024;
/// After how much of a processor without a word the process is taken to hang, and after how long on the wall, where other
/// programs may have the processors.
const HANGS: Duration = Duration::from_secs(20);
const STANDS: Duration = Duration::from_secs(900);

fn main() {
    let mut arguments = std::env::args().skip(1);
    let (mut seconds, mut from, mut into) = (60, 1u64, PathBuf::from("target/fuzz"));
    while let Some(argument) = arguments.next() {
        let mut next = || arguments.next().unwrap_or_default();
        match argument.as_str() {
            "--seconds" => seconds = next().parse().unwrap(),
            "--from" => from = next().parse().unwrap(),
            "--into" => into = PathBuf::from(next()),
            "--work" => return work(next().parse().unwrap()),
            "--one" => return one(),
            "--case" => {
                let case = Case::read(&std::fs::read_to_string(next()).unwrap());
                println!("{:#?}", failing(&case));
                println!("{:#?}", watch::watched(&case));
                return;
            }
            "--show" => {
                return println!("{}", tried::case_of(next().parse().unwrap(), &tried::stock(), &corpus()).written());
            }
            "--show-made" => return println!("{}", made::case(&mut dice::Dice(next().parse().unwrap())).written()),
            "--made" => return undamaged(next().parse().unwrap()),
            "--least" => {
                let case = Case::read(&std::fs::read_to_string(next()).unwrap());
                let Some(how) = failing(&case) else { return println!("It does not fail.") };
                return println!("{}", least(case, &how).written());
            }
            other => panic!("what is {other}?"),
        }
    }
    run(Duration::from_secs(seconds), from, &into);
}

/// What undamaged books are refused for, most often first.
fn undamaged(count: u64) {
    let mut told: BTreeMap<String, (usize, u64)> = BTreeMap::new();
    let mut sound = 0;
    for number in 0..count {
        let case = made::case(&mut dice::Dice(number));
        let problems = tried::stops(&case);
        sound += usize::from(problems.is_empty());
        for what in problems {
            told.entry(what).or_insert((0, number)).0 += 1;
        }
    }
    let mut told: Vec<_> = told.into_iter().collect();
    told.sort_by_key(|(_, (count, _))| std::cmp::Reverse(*count));
    for (what, (count, first)) in told.into_iter().take(60) {
        println!("{count:5}  {first:5}  {what}");
    }
    println!("{sound} of {count} are sound");
}

/// The cases that are kept in the repository.
fn corpus() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder).into_iter().flatten().map(|e| e.unwrap().path()).collect();
    files.sort();
    files.iter().map(|f| Case::read(&std::fs::read_to_string(f).unwrap())).collect()
}

/// The most memory since the last time it was asked, in KB (Linux; elsewhere none).
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    std::fs::write("/proc/self/clear_refs", "5").ok();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:")).unwrap_or("0");
    line.trim().trim_end_matches(" kB").parse().unwrap_or(0)
}

/// Tries cases from a number on, until somebody ends it, and says what becomes of each.
fn work(from: u64) {
    let (stock, corpus) = (tried::stock(), corpus());
    let mut out = std::io::stdout().lock();
    for number in from.. {
        if writeln!(out, "begin {number}").and_then(|()| out.flush()).is_err() {
            return;
        }
        let case = tried::case_of(number, &stock, &corpus);
        let watched = watch::watched(&case);
        let how = verdict(&watched, peak());
        let shape: Vec<String> = watched.shape.into_iter().collect();
        let line =
            format!("done {number}\t{}\t{}", how.unwrap_or_default().replace(['\n', '\t'], " "), shape.join("\t"));
        if writeln!(out, "{line}").is_err() {
            return;
        }
    }
}

/// Tries the case on standard input, and prints how it fails.
fn one() {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text).unwrap();
    let watched = watch::watched(&Case::read(&text));
    println!("{}", verdict(&watched, peak()).unwrap_or_default().replace('\n', " "));
}

/// How a case fails: its first panic, or what it took too much of.
fn verdict(watched: &watch::Watched, peak: u64) -> Option<String> {
    if let Some(panic) = watched.panics.first() {
        return Some(format!("panic {}", panic.chars().take(300).collect::<String>()));
    }
    if watched.took > MOST_TIME {
        return Some(format!("slow: {:.1} s", watched.took.as_secs_f64()));
    }
    (peak > MOST_MEMORY).then(|| format!("large: {} MB", peak / 1024))
}

/// What failures of one cause have in common.
fn cause(how: &str) -> String {
    how.split(": ").next().unwrap_or(how).to_owned()
}

/// A process that tries cases.
struct Worker {
    child: Child,
    lines: Receiver<String>,
}

impl Worker {
    fn start(from: u64) -> Self {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--work", &from.to_string()])
            .env("RAYON_NUM_THREADS", "1")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let (to, lines) = channel();
        let out = BufReader::new(child.stdout.take().unwrap());
        std::thread::spawn(move || {
            for line in out.lines().map_while(Result::ok) {
                if to.send(line).is_err() {
                    return;
                }
            }
        });
        Self { child, lines }
    }
}

impl Worker {
    /// The next that it says; a time-out where it works and says nothing.
    fn line(&self) -> Result<String, RecvTimeoutError> {
        let (start, before) = (Instant::now(), processor_of(self.child.id()));
        loop {
            match self.lines.recv_timeout(Duration::from_secs(1)) {
                Err(RecvTimeoutError::Timeout)
                    if processor_of(self.child.id()).saturating_sub(before) < HANGS && start.elapsed() < STANDS => {}
                line => return line,
            }
        }
    }
}

/// Processor time of another process so far.
fn processor_of(process: u32) -> Duration {
    watch::processor_in(&format!("/proc/{process}/stat"))
}

fn run(time: Duration, from: u64, into: &Path) {
    for folder in ["new", "failed"] {
        std::fs::create_dir_all(into.join(folder)).unwrap();
    }
    let (stock, corpus) = (tried::stock(), corpus());
    let start = Instant::now();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut failed: BTreeMap<String, u64> = BTreeMap::new();
    let (mut now, mut count, mut told) = (from, 0u64, Instant::now());
    let mut worker = Worker::start(from);
    while start.elapsed() < time {
        let line = worker.line();
        let mut fails = None;
        match line {
            Ok(line) => {
                if let Some(number) = line.strip_prefix("begin ") {
                    now = number.parse().unwrap();
                } else if let Some(rest) = line.strip_prefix("done ") {
                    count += 1;
                    let mut parts = rest.split('\t').skip(1);
                    let how = parts.next().unwrap_or("");
                    let fresh = parts.filter(|p| seen.insert((*p).to_owned())).count() > 0;
                    if fresh {
                        let case = tried::case_of(now, &stock, &corpus);
                        std::fs::write(into.join(format!("new/{now}.lid")), case.written()).unwrap();
                    }
                    fails = Some(how.to_owned()).filter(|h| !h.is_empty());
                }
            }
            Err(why) => {
                let hangs = why == RecvTimeoutError::Timeout;
                worker.child.kill().ok();
                let status = worker.child.wait().unwrap();
                fails = Some(if hangs { "hangs".to_owned() } else { format!("dies: {status}") });
                worker = Worker::start(now + 1);
            }
        }
        if let Some(how) = fails {
            *failed.entry(cause(&how)).or_default() += 1;
            if failed[&cause(&how)] <= 3 {
                println!("{now}: {how}");
                let case = tried::case_of(now, &stock, &corpus);
                std::fs::write(into.join(format!("failed/{now}.lid")), case.written()).unwrap();
                std::fs::write(into.join(format!("failed/{now}.txt")), how).unwrap();
            }
        }
        if told.elapsed() > Duration::from_secs(60) {
            told = Instant::now();
            println!(
                "{} s: {count} books, {} things that books come to, failed: {failed:?}",
                start.elapsed().as_secs(),
                seen.len()
            );
        }
    }
    worker.child.kill().ok();
    worker.child.wait().ok();
    println!(
        "{} s: {count} books, {} things that books come to, failed: {failed:?}; next: {}",
        start.elapsed().as_secs(),
        seen.len(),
        now + 1
    );
}

/// How a case fails in a process of its own; nothing where it does not.
fn failing(case: &Case) -> Option<String> {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .arg("--one")
        .env("RAYON_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(case.written().as_bytes()).ok();
    let start = Instant::now();
    let status = loop {
        match child.try_wait().unwrap() {
            Some(status) => break status,
            None if processor_of(child.id()) > HANGS || start.elapsed() > STANDS => {
                child.kill().ok();
                child.wait().ok();
                return Some("hangs".to_owned());
            }
            None => std::thread::sleep(Duration::from_millis(2)),
        }
    };
    if !status.success() {
        return Some(format!("dies: {status}"));
    }
    let mut how = String::new();
    child.stdout.take().unwrap().read_to_string(&mut how).ok();
    Some(how.trim().to_owned()).filter(|h| !h.is_empty())
}

/// The case with everything taken out that it fails without.
fn least(case: Case, how: &str) -> Case {
    let wanted = cause(how);
    let still = |case: &Case| failing(case).is_some_and(|h| cause(&h) == wanted);
    let mut case = case;
    let mut at = 0;
    while at < case.shelf.len() {
        let mut fewer = case.clone();
        fewer.shelf.remove(at);
        if still(&fewer) { case = fewer } else { at += 1 }
    }
    for book in 0..=case.shelf.len() {
        let text = if book < case.shelf.len() { case.shelf[book].1.clone() } else { case.top.clone() };
        let with = |text: String| {
            let mut other = case.clone();
            if book < other.shelf.len() {
                other.shelf[book].1 = text
            } else {
                other.top = text
            }
            other
        };
        let lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
        let lines = fewer(lines, &|some| still(&with(some.concat())));
        let words: Vec<String> = damage::words_of(&lines.concat()).into_iter().map(str::to_owned).collect();
        let words = if words.len() < 4_000 { fewer(words, &|some| still(&with(some.concat()))) } else { words };
        case = with(words.concat());
    }
    case
}

/// A list with all taken out that is not needed, by halves, quarters and so on.
fn fewer(mut all: Vec<String>, still: &dyn Fn(&[String]) -> bool) -> Vec<String> {
    let mut size = all.len().div_ceil(2).max(1);
    loop {
        let mut at = 0;
        while at < all.len() {
            let end = (at + size).min(all.len());
            let rest = [&all[..at], &all[end..]].concat();
            if still(&rest) { all = rest } else { at = end }
        }
        if size == 1 {
            return all;
        }
        size = size.div_ceil(2);
    }
}
