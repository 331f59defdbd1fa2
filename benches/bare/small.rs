//! Small jobs, with the start of the program: what somebody waits for a page of rooms.

use crate::timed::{Side, against};
use crate::{Result, made};
use std::process::{Command, Stdio};

/// One room and forty rooms through the command, files on disk; start-up alone as the bare side.
pub fn run(runs: usize) -> Result<()> {
    let folder = std::env::temp_dir().join(format!("hardlid-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    let put = |name: &str, bytes: &[u8]| std::fs::write(folder.join(name), bytes);
    put("one.xlsx", &made::workbook(&made::rooms(1))?)?;
    put("forty.xlsx", &made::workbook(&made::rooms(40))?)?;
    put("priced.lid", (made::TWENTY.to_owned() + made::ITEMS).as_bytes())?;
    put("yard.xlsx", &made::prices()?)?;
    let start = |arguments: &[&str]| -> Result<u64> {
        // each run is the first one: an earlier priced workbook would be read for what was typed into it
        std::fs::remove_file(folder.join("out.xlsx")).ok();
        let mut command = Command::new(env!("CARGO_BIN_EXE_hardlid"));
        let status =
            command.args(arguments).current_dir(&folder).stdout(Stdio::null()).stderr(Stdio::null()).status()?;
        Ok(u64::from(status.success()))
    };
    let job = |name: &'static str, file: &'static str, own: bool| {
        Side::new(name, move || {
            let rules: &[&str] = if own { &["--rules", "priced.lid"] } else { &[] };
            start(&[&["price", file, "--prices", "yard.xlsx", "--replace", "-o", "out.xlsx"], rules].concat())
        })
    };
    let sides = vec![
        job("one room", "one.xlsx", true),
        job("40 rooms", "forty.xlsx", true),
        job("40 rooms, built-in book, no prices fit", "forty.xlsx", false),
    ];
    let done = against("small jobs", Side::new("--version", || start(&["--version"])), sides, runs.max(20));
    std::fs::remove_dir_all(&folder)?;
    done
}
