//! What `pictures` says.

use super::{BAD, CARE, HEAD, styled};
use crate::check::Verdict;
use crate::out::Fault;
use std::path::Path;

/// Which files were made, and of what kind of plan.
pub(in crate::cli) fn shown(dir: &Path, names: &[&str], verdict: &Verdict) -> String {
    let out = dir.join("out");
    let mut names = names.to_vec();
    names.sort_unstable();
    let files: String = names
        .into_iter()
        .map(|name| format!("  {}\n", out.join(name).display()))
        .collect();
    let unsound = if verdict.is_good() {
        String::new()
    } else {
        format!(
            "{} the plan breaks a rule. Don't cut wood by these pictures; see first what is wrong: twinstrake check {}\n",
            styled(CARE, "Look at this:"),
            dir.display()
        )
    };
    format!(
        "{}\n{files}{unsound}The .pdf files are for the printer, A3 on its side: print them at their true size, or fitted to A4.\n",
        styled(HEAD, "Written")
    )
}

/// Pictures that could not be written.
pub(in crate::cli) fn not_shown(fault: &Fault) -> String {
    format!(
        "{} {fault}\nEarlier pictures, if there were any, are as they were.\n",
        styled(BAD, "No picture was written.")
    )
}
