//! A large worksheet is unpacked and taken apart on a thread of its own, a little ahead of whoever takes its rows.

use super::cells::{self, Styled, Taker};
use super::guard::guarded;
use super::metered::{Metered, Quota};
use super::{EachRow, Trouble};
use crate::engine::Texts;
use calamine::{DataRef, Xlsx};
use std::sync::mpsc::{SyncSender, sync_channel};

/// Cells that are handed over at once.
const CELLS: usize = 4096;
/// Bytes of texts beyond which they are handed over at once.
const BYTES: usize = 1 << 20;
/// Lots that may wait; the reader waits as well when there are more, so memory stays bounded.
const LOTS: usize = 4;

/// Cells in the order of the file; none at its end; or what is wrong with it.
type Lot<'a> = Result<Vec<Styled<'a>>, String>;

/// As [`cells::by_row`], with the reading on another thread. What is handed out is the same.
pub(super) fn by_row<'a>(
    book: &'a mut Xlsx<Metered>,
    sheet: &'a str,
    epoch: f64,
    quota: &'a Quota,
    texts: &mut Texts,
    each: &mut EachRow<'_>,
) -> Result<(), Trouble> {
    let (send, receive) = sync_channel::<Lot<'a>>(LOTS);
    std::thread::scope(|threads| {
        threads.spawn(move || {
            let done = guarded(|| read(book, sheet, quota, &send));
            if done.is_err() {
                // nobody waits any more where this fails
                let _ = send.send(Err(UNREADABLE.to_owned()));
            }
        });
        let mut taker = Taker::new(epoch);
        let mut lot = Vec::new().into_iter();
        // the receiver goes with the closure: a reader that nobody listens to ends
        let next = move |texts: &mut Texts| {
            let cell = match lot.next() {
                Some(cell) => Some(cell),
                None => {
                    lot = receive.recv().unwrap_or_else(|_| Err(UNREADABLE.to_owned()))?.into_iter();
                    lot.next()
                }
            };
            taker.take(Ok::<_, String>(cell), texts)
        };
        // what a row may take is counted where it is read
        cells::by_row(next, &Quota::default(), texts, each)
    })
}

const UNREADABLE: &str = "its cells do not follow the file format";

/// Reads to the end of the sheet, to the first damage, or until nobody listens.
fn read<'a>(book: &'a mut Xlsx<Metered>, sheet: &str, quota: &Quota, send: &SyncSender<Lot<'a>>) {
    let mut reader = match book.worksheet_cells_reader(sheet) {
        Ok(reader) => reader,
        Err(error) => {
            let _ = send.send(Err(error.to_string()));
            return;
        }
    };
    let percents = cells::percents(&reader);
    let mut row = None;
    loop {
        let mut lot = Vec::with_capacity(CELLS);
        let mut bytes = 0;
        let mut end = None;
        while lot.len() < CELLS && bytes < BYTES {
            match cells::next(&mut reader, &percents) {
                Ok(Some((cell, percent))) => {
                    if *cell.get_value() != DataRef::Empty && row != Some(cell.get_position().0) {
                        row = Some(cell.get_position().0);
                        quota.renew();
                    }
                    if let DataRef::String(text) = cell.get_value() {
                        bytes += text.len();
                    }
                    lot.push((cell, percent));
                }
                Ok(None) => end = Some(Ok(Vec::new())),
                Err(error) => end = Some(Err(error.to_string())),
            }
            if end.is_some() {
                break;
            }
        }
        if !lot.is_empty() && send.send(Ok(lot)).is_err() {
            return;
        }
        if let Some(end) = end {
            let _ = send.send(end);
            return;
        }
    }
}
