//! What a shell completes, and manual pages.

use super::{hardlid, machine};
use hardlid::command::Ended;
use std::io::Write as _;
use std::process::{Command, Stdio};

/// The commands, as the help lists them.
fn commands() -> Vec<String> {
    let help = printed(&["--help"]);
    let listed = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    // a description that goes on in the next line stands further in
    let names: Vec<String> = listed
        .lines()
        .filter(|l| l.starts_with("  ") && !l.starts_with("   "))
        .map(|l| l.split_whitespace().next().unwrap().to_owned())
        .collect();
    assert!(names.len() >= 11 && names.iter().any(|n| n == "price") && names.iter().any(|n| n == "manuals"), "{help}");
    names
}

fn printed(arguments: &[&str]) -> String {
    let ran = Command::new(env!("CARGO_BIN_EXE_hardlid")).args(arguments).output().unwrap();
    assert_eq!(ran.status.code(), Some(0), "{arguments:?}");
    String::from_utf8(ran.stdout).unwrap()
}

#[test]
fn every_command_is_completed_in_every_shell() {
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let text = printed(&["shell", shell]);
        for command in commands() {
            assert!(text.contains(&command), "{shell} does not know {command}");
        }
        assert!(text.contains("as-of") && text.contains("what-if"), "{shell}");
    }
    let json: serde_json::Value = serde_json::from_str(&printed(&["shell", "fish", "--json"])).unwrap();
    assert_eq!(
        (json["shell"].as_str(), json["text"].as_str()),
        (Some("fish"), Some(printed(&["shell", "fish"]).as_str()))
    );
    assert_eq!(hardlid(&machine(), "shell abacus"), Ended::Failed);
    assert_eq!(hardlid(&machine(), "shell"), Ended::Failed);
}

/// In a shell itself, where there is one: what the Tab key finds after `hardlid pri` and after `hardlid price --as`.
#[test]
fn bash_completes_a_command_and_an_option() {
    if Command::new("bash").arg("--version").output().is_err() {
        return;
    }
    for (words, at, wanted) in
        [("hardlid rep", 1, "reprice"), ("hardlid price --as", 2, "--as-of"), ("hardlid shell po", 2, "powershell")]
    {
        let last = words.rsplit(' ').next().unwrap();
        let script = format!(
            "{}\nCOMP_WORDS=({words})\nCOMP_CWORD={at}\n_hardlid hardlid {last} x\necho \"${{COMPREPLY[@]}}\"\n",
            printed(&["shell", "bash"])
        );
        let mut bash = Command::new("bash")
            .args(["--norc", "-s"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        bash.stdin.take().unwrap().write_all(script.as_bytes()).unwrap();
        let ran = bash.wait_with_output().unwrap();
        let found = String::from_utf8(ran.stdout).unwrap();
        assert_eq!(found.trim(), wanted, "{words}: {}", String::from_utf8_lossy(&ran.stderr));
    }
}

fn pages() -> Vec<String> {
    let mut all: Vec<String> = commands().iter().map(|c| format!("man/hardlid-{c}.1")).collect();
    all.push("man/hardlid.1".to_owned());
    all.sort();
    all
}

#[test]
fn there_is_a_page_for_each_command_and_it_is_written_again() {
    let machine = machine();
    for _ in 0..2 {
        assert_eq!(hardlid(&machine, "manuals man"), Ended::Done);
        let names: Vec<String> = machine.names().iter().map(|p| p.display().to_string().replace('\\', "/")).collect();
        let written: Vec<String> = names.into_iter().filter(|n| n.starts_with("man/")).collect();
        assert_eq!(written, pages());
    }
    let page = String::from_utf8(machine.bytes("man/hardlid-price.1").unwrap()).unwrap();
    assert!(page.contains(".TH hardlid-price 1") && page.contains("\\-\\-as\\-of"), "{page}");
    assert!(page.contains("Examples:") && page.contains("pricing date"), "{page}");
    let whole = String::from_utf8(machine.bytes("man/hardlid.1").unwrap()).unwrap();
    assert!(commands().iter().all(|c| whole.contains(&format!("hardlid\\-{c}(1)"))), "{whole}");
    // a page that was written by an older version is ours as well
    let first = page.lines().next().unwrap().to_owned();
    let machine = super::machine().with("man/hardlid-price.1", format!("{first}\n.TH old 1\n"));
    assert_eq!(hardlid(&machine, "manuals man"), Ended::Done);
    assert_eq!(machine.bytes("man/hardlid-price.1").unwrap(), page.as_bytes());
}

#[test]
fn a_page_of_somebody_else_stays_and_nothing_is_written() {
    for foreign in [&b".TH PRICE 1 \"somebody's own\"\n"[..], b"", b"\xff\xfe"] {
        let machine = machine().with("man/hardlid-work.1", foreign);
        assert_eq!(hardlid(&machine, "manuals man"), Ended::Failed);
        assert_eq!(machine.bytes("man/hardlid-work.1").unwrap(), foreign);
        assert!(machine.bytes("man/hardlid.1").is_none() && machine.bytes("man/hardlid-audit.1").is_none());
    }
    // where a folder should be stands a file, or a page's name is a folder's
    assert_eq!(hardlid(&machine(), "manuals rooms.xlsx"), Ended::Failed);
    assert_eq!(hardlid(&machine().with("man/hardlid.1/x", "x"), "manuals man"), Ended::Failed);
}
