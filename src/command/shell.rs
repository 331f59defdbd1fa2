//! `hardlid shell NAME`

use super::{Arguments as All, Ended, out};
use clap::{CommandFactory as _, ValueEnum};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hardlid shell bash > ~/.local/share/bash-completion/completions/hardlid\n  \
                        hardlid shell zsh > ~/.zfunc/_hardlid\n  hardlid shell fish > ~/.config/fish/completions/hardlid.fish\n  \
                        hardlid shell powershell >> $PROFILE\n\nCommands and options are then completed with the Tab key in every new window.")]
pub struct Arguments {
    /// Which one.
    shell: Shell,
    /// Print JSON: the shell and its text.
    #[arg(long)]
    json: bool,
}

/// The shells that are served.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
}

pub fn run(arguments: &Arguments) -> Ended {
    let (name, shell) = match arguments.shell {
        Shell::Bash => ("bash", clap_complete::Shell::Bash),
        Shell::Zsh => ("zsh", clap_complete::Shell::Zsh),
        Shell::Fish => ("fish", clap_complete::Shell::Fish),
        Shell::Powershell => ("powershell", clap_complete::Shell::PowerShell),
    };
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut All::command(), "hardlid", &mut bytes);
    let text = String::from_utf8_lossy(&bytes);
    if arguments.json {
        out::value(&serde_json::json!({ "shell": name, "text": text }));
    } else {
        out::text(&text);
    }
    Ended::Done
}
