//! One bid: read, worked out as it was and as it is to be, written anew.

use super::effects::{Steps, by_price_alone, split};
use super::family::{Family, revision_of};
use super::last::{Last, Since};
use super::readies::Readies;
use super::rooms;
use super::{Asked, By, revision_path};
use crate::bid::sums::quantities;
use crate::bid::{House, Ready, Rules, Worked};
use crate::pricing::own::LINE_GONE;
use crate::pricing::{OwnEntry, PRICE_MISSING};
use crate::problem::{Problem, Weight};
use crate::quantity::{Date, NumberError};
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::carried::{Carried, File, Rooms, carried_in, is_carried};
use crate::workbook::differences::Difference;
use crate::workbook::open::open;
use crate::workbook::variance::{Aged, Bid, Done, LeftOut, Variance, Within};
use crate::workbook::write::{is_package, variance, written_by_us};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What came of a bid.
#[derive(Debug)]
pub enum Outcome {
    /// It is priced.
    Priced(Box<Bid>),
    /// It is left as it was.
    LeftOut(LeftOut),
    /// It is a workbook that hardlid did not write.
    NotOurs,
    /// It is a variance workbook of an earlier run.
    Variance,
}

impl Outcome {
    /// Puts it where it belongs.
    pub(super) fn tell(self, family: &Family, variance: &mut Variance) {
        match self {
            Self::Priced(bid) => variance.bids.push(*bid),
            Self::LeftOut(left) => variance.left_out.push(left),
            Self::Variance => {}
            Self::NotOurs => variance.passed.extend(family.revisions.first().map(|(_, path)| path.clone())),
        }
    }
}

/// A bid of which nothing came back.
pub(super) fn lost(family: &Family) -> LeftOut {
    let what = "This workbook was not worked on to its end.".to_owned();
    LeftOut {
        path: family.folder.join(&family.stem),
        problems: vec![Problem::stop("not finished", what)],
        added: Vec::new(),
    }
}

/// Prices a bid again.
pub(super) fn price_again(family: &Family, asked: &Asked, readies: &Readies, outside: &dyn Outside) -> Outcome {
    let one = |path: &Path, problems: Vec<Problem>| {
        let named =
            problems.into_iter().map(|p| if !p.places.is_empty() { p } else { p.in_file(path.display().to_string()) });
        Outcome::LeftOut(LeftOut { path: path.to_path_buf(), problems: named.collect(), added: Vec::new() })
    };
    let mut read = ReadOnce { known: Vec::new(), outside };
    let order = newest_first(family, &mut read);
    let mut ours = order.iter();
    let mut is_variance = false;
    let mut next_ours = || loop {
        let (revision, path) = ours.next()?;
        match read.file(path) {
            Ok((bytes, Some(carried))) => return Some(Ok((*revision, path, bytes, Some(carried)))),
            Ok((bytes, None)) if written_by_us(&bytes) || carries(path, &bytes) => {
                return Some(Ok((*revision, path, bytes, None)));
            }
            Ok((bytes, None)) if is_package(&bytes) => is_variance |= variance::written_by_us(&bytes),
            Ok((bytes, None)) => {
                if let Err(problem) = open(&path.display().to_string(), bytes) {
                    return Some(Err((path, problem)));
                }
            }
            Err(problem) => return Some(Err((path, problem))),
        }
    };
    let (revision, path, bytes, carried) = match next_ours() {
        Some(Ok(found)) => found,
        Some(Err((path, problem))) => return one(path, vec![problem]),
        None if is_variance => return Outcome::Variance,
        None => return Outcome::NotOurs,
    };
    let last = match last_of(path, bytes, carried) {
        Ok(last) => last,
        Err(problem) => return one(path, vec![problem]),
    };
    let way = Way { family, asked, readies, outside };
    let result = way.looked_at(path, &last, |look| {
        if !way.is_there(&look)? {
            return way.anew((revision, path), &look);
        }
        let same = || way.moved((revision, path), &look, Done::Same);
        match next_ours() {
            // what an earlier run did is told as if this one had
            Some(Ok((from, before, bytes, carried))) => {
                let old = last_of(before, bytes, carried)?;
                // priced anew from other rooms
                if old.carried.rooms.file.digest != last.carried.rooms.file.digest {
                    return same();
                }
                let done = Done::Already(path.clone());
                let told = way.looked_at(before, &old, |look| way.moved((from, before), &look, done))?;
                // it came about in several runs: what this one asks for is there, and does not tell the way
                if told.new == last.carried.total { Ok(told) } else { same() }
            }
            Some(Err((_, problem))) => Err(problem.into()),
            None => same(),
        }
    });
    match result {
        Ok(bid) => Outcome::Priced(Box::new(bid)),
        Err(Left::Problems(problems)) => one(path, problems),
        Err(Left::Added(added)) => Outcome::LeftOut(LeftOut {
            path: path.clone(),
            problems: vec![has_additions(path, &added, &last.carried.version)],
            added,
        }),
    }
}

/// The workbooks of a bid, the newest first: a first one that was priced anew, from other rooms, after later revisions of it
/// were written, says so.
fn newest_first(family: &Family, read: &mut ReadOnce<'_>) -> Vec<(u32, PathBuf)> {
    let mut order: Vec<(u32, PathBuf)> = family.revisions.iter().rev().cloned().collect();
    if order.len() > 1
        && let Some(first) = order.iter_mut().find(|(revision, _)| *revision == 1)
        && let Some((of_first, rooms)) = read.revision_and_rooms(&first.1)
    {
        if of_first > 1 {
            first.0 = of_first;
        }
        let (first, at_first) = (first.1.clone(), first.0);
        order.sort_by_key(|(revision, _)| std::cmp::Reverse(*revision));
        let mut other_rooms =
            |newest: &Path| read.revision_and_rooms(newest).is_some_and(|(_, of_newest)| of_newest != rooms);
        // priced anew where its later revisions were not in sight
        if at_first == 1 && order.first().is_some_and(|(_, newest)| *newest != first && other_rooms(newest)) {
            order.retain(|(_, path)| *path != first);
            order.insert(0, (1, first));
        }
    }
    order
}

/// Workbooks of a bid, each read once.
struct ReadOnce<'a> {
    /// What was read before its turn came, with what it carries.
    known: Vec<(PathBuf, Vec<u8>, Carried)>,
    outside: &'a dyn Outside,
}

impl ReadOnce<'_> {
    /// The revision that a workbook says it is, and the digest of its rooms; nothing where it does not say.
    fn revision_and_rooms(&mut self, path: &Path) -> Option<(u32, Arc<str>)> {
        if !self.known.iter().any(|(known, ..)| known == path) {
            let bytes = self.outside.read(path, INPUT_LIMIT).ok()?;
            let carried = carried_in(&mut open(&path.display().to_string(), bytes.clone()).ok()?).ok()?;
            self.known.push((path.to_path_buf(), bytes, carried));
        }
        let (.., carried) = self.known.iter().find(|(known, ..)| known == path)?;
        Some((carried.revision, Arc::clone(&carried.rooms.file.digest)))
    }

    /// A workbook, with what it carries where that is known already.
    fn file(&mut self, path: &Path) -> Result<(Vec<u8>, Option<Carried>), Problem> {
        match self.known.iter().position(|(known, ..)| known == path) {
            Some(at) => {
                let (_, bytes, carried) = self.known.swap_remove(at);
                Ok((bytes, Some(carried)))
            }
            None => Ok((self.outside.read(path, INPUT_LIMIT)?, None)),
        }
    }
}

/// Whether a workbook whose properties some program dropped is one of ours all the same.
fn carries(path: &Path, bytes: &[u8]) -> bool {
    is_package(bytes) && open(&path.display().to_string(), bytes.to_vec()).is_ok_and(|book| is_carried(&book))
}

fn last_of(path: &Path, bytes: Vec<u8>, carried: Option<Carried>) -> Result<Last, Problem> {
    Last::of(&path.display().to_string(), bytes, carried)
}

fn has_additions(path: &Path, added: &[Difference], version: &str) -> Problem {
    let count = match added.len() {
        1 => "1 thing".to_owned(),
        n => format!("{n} things"),
    };
    let mut what = format!("{count} that somebody added or changed would be lost, so this workbook is left out.");
    if version != env!("CARGO_PKG_VERSION") {
        let _ =
            write!(what, " Version {version} wrote it, which may have written some of them otherwise than this one.");
    }
    Problem::stop("additions", what)
        .in_file(path.display().to_string())
        .fix("copy them into the rooms workbook or the rules, or price it without them by --without-additions")
}

/// Why a bid is left out.
enum Left {
    Problems(Vec<Problem>),
    Added(Vec<Difference>),
}

impl From<Vec<Problem>> for Left {
    fn from(problems: Vec<Problem>) -> Self {
        Self::Problems(problems)
    }
}

impl From<Problem> for Left {
    fn from(problem: Problem) -> Self {
        Self::Problems(vec![problem])
    }
}

/// A workbook, and what was changed in it.
#[derive(Clone, Copy)]
struct Look<'l, 'r> {
    last: &'l Last,
    since: &'l Since,
    /// The bid as it was written, where it took that to find what was changed.
    as_written: Option<&'l Worked<'r>>,
}

impl Look<'_, '_> {
    /// Whether nobody has typed anything that counts since it was written.
    fn is_as_written(&self) -> bool {
        self.last.same_own() && self.since.typed.is_empty()
    }
}

/// What a bid goes through.
struct Way<'a> {
    family: &'a Family,
    asked: &'a Asked,
    readies: &'a Readies,
    outside: &'a dyn Outside,
}

impl Way<'_> {
    fn as_of(&self, carried: &Carried) -> Date {
        self.asked.as_of.unwrap_or(carried.as_of)
    }

    fn prices<'c>(&'c self, carried: &'c Carried) -> Option<&'c File> {
        self.asked.prices.as_ref().or(carried.prices.as_ref())
    }

    /// Today's rules, where they are asked for.
    fn rules_of_today(&self, carried: &Carried) -> Option<Rules> {
        let top = carried.library.last().map_or("hardlid ceilings", |book| &book.name);
        match &self.asked.by {
            By::RulesOfTheDay => None,
            By::BooksOfToday => Some(Rules::of_today(House::carried(carried), top)),
            By::House(house) => Some(Rules::of_today(Some(house.clone()), top)),
        }
    }

    /// As a bid was priced; by the old rules where a change of rules is looked at.
    fn old_ready(&self, carried: &Carried) -> Result<Arc<Ready>, Vec<Problem>> {
        if let Some(old) = &self.asked.instead_of {
            let rules = Rules::of_today(Some(old.clone()), "");
            return self.readies.ready(&rules, carried.prices.as_ref(), carried.as_of, &[]);
        }
        self.ready_of_the_day(carried)
    }

    /// As a bid was priced.
    fn ready_of_the_day(&self, carried: &Carried) -> Result<Arc<Ready>, Vec<Problem>> {
        let rules = Rules::of_the_day(carried).map_err(|p| vec![p])?;
        self.readies.ready(&rules, carried.prices.as_ref(), carried.as_of, &[])
    }

    /// As it was, with the new prices.
    fn prices_ready(&self, carried: &Carried) -> Result<Arc<Ready>, Vec<Problem>> {
        let rules = Rules::of_the_day(carried).map_err(|p| vec![p])?;
        self.readies.ready(&rules, self.prices(carried), self.as_of(carried), &self.asked.changes)
    }

    /// With the new prices and today's rules, where these are asked for.
    fn rules_ready(&self, carried: &Carried) -> Result<Option<Arc<Ready>>, Vec<Problem>> {
        let rules = self.rules_of_today(carried);
        let ready = |rules| self.readies.ready(&rules, self.prices(carried), self.as_of(carried), &self.asked.changes);
        rules.map(ready).transpose()
    }

    /// Looks for what was changed in a workbook that somebody has saved since it was written, and goes on with it.
    fn looked_at<T>(
        &self,
        path: &Path,
        last: &Last,
        go_on: impl FnOnce(Look<'_, '_>) -> Result<T, Left>,
    ) -> Result<T, Left> {
        let carried = &last.carried;
        if last.untouched {
            return go_on(Look { last, since: &Since::nothing(carried), as_written: None });
        }
        let ready = self.ready_of_the_day(carried)?;
        let as_written = work_out(&ready, &carried.rooms, carried.own.clone())?;
        let since = last.since(&path.display().to_string(), &as_written)?;
        go_on(Look { last, since: &since, as_written: Some(&as_written) })
    }

    /// Whether a workbook is what is asked for already.
    fn is_there(&self, look: &Look<'_, '_>) -> Result<bool, Vec<Problem>> {
        let carried = &look.last.carried;
        if self.asked.only_tried() || !look.is_as_written() {
            return Ok(false);
        }
        let digest = |file: Option<&File>| file.map(|f| Arc::clone(&f.digest));
        if digest(self.prices(carried)) != digest(carried.prices.as_ref()) || self.as_of(carried) != carried.as_of {
            return Ok(false);
        }
        let Some(ready) = self.rules_ready(carried)? else { return Ok(true) };
        let digests = |files: &[File]| files.iter().map(|f| Arc::clone(&f.digest)).collect::<Vec<_>>();
        let named = |file: &File| (Arc::clone(&file.name), Arc::clone(&file.digest));
        let beside = |files: &mut dyn Iterator<Item = &File>| files.map(named).collect::<BTreeSet<_>>();
        Ok(digest(ready.rules_file()) == digest(carried.rules.as_ref())
            && beside(&mut ready.beside()) == beside(&mut carried.beside.iter())
            && digests(ready.library()) == digests(&carried.library))
    }

    /// Writes the next revision and tells what moved.
    fn anew(&self, (revision, path): (u32, &PathBuf), look: &Look<'_, '_>) -> Result<Bid, Left> {
        if self.asked.only_tried() {
            return self.moved((revision, path), look, Done::Tried);
        }
        let without = look.since.additions();
        if !without.is_empty() && !self.asked.without_additions {
            return Err(Left::Added(without));
        }
        // a number that some file has is not taken again, whoever wrote it
        let newest = self.family.revisions.last().map_or(revision, |(n, _)| *n).max(revision);
        let next = newest.checked_add(1).ok_or_else(|| too_many(path))?;
        let target = revision_path(self.family, next);
        let mut bid = self.moved((revision, path), look, Done::Written(target))?;
        match without.len() {
            0 => {}
            1 => bid.notes.push("1 thing that somebody added is left behind".to_owned()),
            n => bid.notes.push(format!("{n} things that somebody added are left behind")),
        }
        bid.without = without;
        Ok(bid)
    }

    /// Works a bid out as it was and as it is to be, and writes it where that is asked for.
    fn moved(&self, place: (u32, &Path), look: &Look<'_, '_>, done: Done) -> Result<Bid, Left> {
        let Look { last, since, as_written } = *look;
        let carried = &last.carried;
        if self.asked.instead_of.is_some() {
            return self.other_rules(place, look, done);
        }
        let prices_ready =
            if matches!(done, Done::Same) { self.old_ready(carried)? } else { self.prices_ready(carried)? };
        let by_new_prices = work_out(&prices_ready, &since.rooms, last.own.clone())?;
        if let Some(within) = self.by_price_alone(look, &by_new_prices)? {
            let before = (carried.total, carried.sums.stopped);
            return self.told(place, look, done, before, &by_new_prices, within);
        }
        let old_ready = self.old_ready(carried)?;
        // what is only tried out is laid beside the bid as it stands
        let as_it_stands = self.asked.only_tried() && !look.is_as_written();
        let (rooms, own, stored) =
            if as_it_stands { (&since.rooms, &last.own, None) } else { (&carried.rooms, &carried.own, carried.total) };
        let anew;
        let old = match as_written.filter(|_| !as_it_stands) {
            Some(as_written) => as_written,
            None => {
                anew = work_out(&old_ready, rooms, own.clone())?;
                &anew
            }
        };
        let typed = !as_it_stands && !look.is_as_written();
        let by_hand = typed.then(|| work_out(&old_ready, &since.rooms, last.own.clone())).transpose()?;
        let prices = (!Arc::ptr_eq(&old_ready, &prices_ready)).then_some(&by_new_prices);
        let rules_ready = if matches!(done, Done::Same) { None } else { self.rules_ready(carried)? };
        let rules = rules_ready.as_ref().map(|ready| work_out(ready, &since.rooms, last.own.clone())).transpose()?;
        let steps = Steps { old, by_hand: by_hand.as_ref(), prices, rules: rules.as_ref() };
        let now = rules.as_ref().or(prices).or(by_hand.as_ref()).unwrap_or(old);
        let within = split(&steps, stored).map_err(too_large)?.unwrap_or_default();
        let before = (if as_it_stands { old.priced.total } else { carried.total }, old.priced.stopped);
        self.told(place, look, done, before, now, within)
    }

    /// Works a bid out by the old rules and by the new, with the figures as they stand.
    fn other_rules(&self, place: (u32, &Path), look: &Look<'_, '_>, done: Done) -> Result<Bid, Left> {
        let (carried, rooms, own) = (&look.last.carried, &look.since.rooms, &look.last.own);
        let old_ready = self.old_ready(carried)?;
        let old = work_out(&old_ready, rooms, own.clone())?;
        let rules_ready = self.rules_ready(carried)?;
        let rules = rules_ready.as_ref().map(|ready| work_out(ready, rooms, own.clone())).transpose()?;
        let steps = Steps { old: &old, by_hand: None, prices: None, rules: rules.as_ref() };
        let mut within = split(&steps, None).map_err(too_large)?.unwrap_or_default();
        let before = (old.priced.total, old.priced.stopped);
        let now = rules.as_ref().unwrap_or(&old);
        within.rooms = rooms::changed(&old, now);
        self.told(place, look, done, before, now, within)
    }

    /// What moved, where prices alone did: the bid need not be worked out as it was. Nothing where more may have moved.
    fn by_price_alone(&self, look: &Look<'_, '_>, now: &Worked<'_>) -> Result<Option<Within>, Left> {
        let carried = &look.last.carried;
        let kept = matches!(self.asked.by, By::RulesOfTheDay);
        let told = !carried.sums.quantities.is_empty();
        if !kept || !told || !look.is_as_written() || carried.version != env!("CARGO_PKG_VERSION") {
            return Ok(None);
        }
        if carried.total.is_none() || now.priced.total.is_none() {
            return Ok(Some(Within::default()));
        }
        if carried.sums.quantities != quantities(&now.priced) {
            return Ok(None);
        }
        Ok(Some(by_price_alone(&carried.sums, now).map_err(too_large)?))
    }

    /// Writes a bid where that is asked for, and tells it.
    fn told(
        &self,
        (revision, path): (u32, &Path),
        look: &Look<'_, '_>,
        done: Done,
        (old, old_stopped): (Option<i64>, usize),
        now: &Worked<'_>,
        within: Within,
    ) -> Result<Bid, Left> {
        let gone: Vec<Problem> =
            now.priced.findings.iter().filter(|f| f.problem.kind == LINE_GONE).map(|f| f.problem.clone()).collect();
        let mut notes = self.notes(path);
        match (&done, gone.len()) {
            (_, 0) => {}
            (Done::Written(_), _) => {
                // what stopped rows comes first: their lines are gone because of it
                let why = unpriced(now).into_iter().map(|what| Problem::stop("no price", what));
                return Err(Left::Problems(why.chain(gone).collect()));
            }
            (_, 1) => notes.push("1 figure typed by hand has no line any more".to_owned()),
            (_, n) => notes.push(format!("{n} figures typed by hand have no line any more")),
        }
        if let Done::Written(target) = &done {
            self.write(target, now, look.last)?;
        }
        notes.extend(self.no_settings(&look.last.carried, now));
        let taken_over = match done {
            Done::Written(_) | Done::Already(_) => look.since.typed.clone(),
            Done::Same | Done::Tried => Vec::new(),
        };
        match taken_over.len() {
            0 => {}
            1 => notes.push("1 cell that was typed since is taken over".to_owned()),
            n => notes.push(format!("{n} cells that were typed since are taken over")),
        }
        Ok(Bid {
            path: path.to_path_buf(),
            revision,
            done,
            old,
            new: now.priced.total,
            old_stopped,
            new_stopped: now.priced.stopped,
            within,
            notes,
            unpriced: unpriced(now),
            aged: self.aged(now),
            warned: warned(now),
            taken_over,
            without: Vec::new(),
        })
    }

    fn write(&self, target: &Path, worked: &Worked<'_>, last: &Last) -> Result<(), Left> {
        let revision = revision_of(target).map_or(1, |(_, revision)| revision);
        let written = worked.again(revision, last.painted())?;
        if !written.carries {
            let what = "The rooms workbook and the price book are larger together than a priced workbook carries.";
            return Err(Problem::stop("nothing carried", what).fix("price it from the rooms workbook").into());
        }
        if self.family.out != self.family.folder {
            self.outside.make_folder(&self.family.out)?;
        }
        Ok(self.outside.write_new(target, &written.bytes)?)
    }

    fn notes(&self, path: &Path) -> Vec<String> {
        let open = self.family.open.iter().any(|p| p == path);
        let said = "open in another program, as the lock file beside it says: read as it was last saved";
        if open { vec![said.to_owned()] } else { Vec::new() }
    }

    /// Says where the old price book had settings of the job (mark-ups, for one) and the new one has no sheet for them: they
    /// count as blank.
    fn no_settings(&self, carried: &Carried, now: &Worked<'_>) -> Option<String> {
        let (new, old) = (self.asked.prices.as_ref()?, carried.prices.as_ref()?);
        if new.digest == old.digest {
            return None;
        }
        let schema = &now.ready.program().schema;
        let sheet = schema.kinds.iter().find(|k| k.single && k.sheet.is_some())?.sheet.as_deref()?;
        let has =
            |file: &File| open(&file.name, file.bytes.to_vec()).is_ok_and(|book| book.sheet_named(sheet).is_some());
        (!has(new) && has(old)).then(|| {
            format!(
                "{} has no sheet {sheet}: what the old price book gave there, such as mark-ups, counts as blank",
                new.name
            )
        })
    }

    /// Prices that are older than asked for.
    fn aged(&self, worked: &Worked<'_>) -> Vec<Aged> {
        let Some(older_than) = self.asked.older_than else { return Vec::new() };
        let as_of = worked.ready.as_of();
        let used = worked.priced.prices.iter().filter_map(|price| Some((price, price.from?)));
        used.filter_map(|(price, from)| {
            let days = i64::from(as_of.since(from).ok()?.get_days());
            (days > older_than).then(|| Aged {
                code: Arc::clone(&price.code),
                item: Arc::clone(&price.item),
                supplier: price.supplier.clone(),
                from,
                days,
            })
        })
        .collect()
    }
}

fn too_large(_: NumberError) -> Left {
    Problem::stop("number too large", "What moved is too large to work with.").into()
}

fn too_many(path: &Path) -> Problem {
    Problem::stop("too many revisions", "There is no number left for another revision.".to_owned())
        .in_file(path.display().to_string())
}

fn work_out<'r>(ready: &'r Ready, rooms: &Rooms, own: Vec<OwnEntry>) -> Result<Worked<'r>, Vec<Problem>> {
    let inputs = ready.inputs(rooms)?;
    Ok(ready.work_out(rooms, inputs, own))
}

/// What the rules and the price book warn of, each once.
fn warned(worked: &Worked<'_>) -> Vec<String> {
    each_once(worked.ready.told().iter().filter(|p| p.weight != Weight::Note))
}

/// Why lines have no price, each reason once.
fn unpriced(worked: &Worked<'_>) -> Vec<String> {
    // the price book's own warnings have such kinds too, and may be of codes that this bid has not
    let stops = worked.priced.findings.iter().map(|f| &f.problem).filter(|p| p.weight == Weight::Stop);
    each_once(stops.filter(|p| PRICE_MISSING.contains(&p.kind)))
}

/// What problems say, each once, in their order.
fn each_once<'p>(problems: impl Iterator<Item = &'p Problem>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for problem in problems {
        if !out.contains(&problem.what) {
            out.push(problem.what.clone());
        }
    }
    out
}
