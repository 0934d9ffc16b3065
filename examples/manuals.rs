//! Writes the man pages and the completions for shells into a folder: `cargo run --features manuals --example manuals
//! -- FOLDER`.
//!
//! They come from what the program itself reads on the command line, so they can't say anything else.

#[path = "../src/cli"]
mod cli {
    #[path = "args/mod.rs"]
    #[allow(
        dead_code,
        unused_imports,
        reason = "only what can be typed matters here, not what is done with it"
    )]
    mod args;

    use clap::CommandFactory;

    pub fn command() -> clap::Command {
        args::Typed::command()
    }
}

use clap_complete::Shell;
use cli::command;
use std::path::PathBuf;
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let folder = env::args_os().nth(1).map(PathBuf::from);
    let folder = folder.ok_or_else(|| io::Error::other("name the folder to write into"))?;
    fs::create_dir_all(&folder)?;
    clap_mangen::generate_to(command(), &folder)?;
    for shell in [Shell::Bash, Shell::Zsh, Shell::Fish] {
        clap_complete::generate_to(shell, &mut command(), "twinstrake", &folder)?;
    }
    Ok(())
}
