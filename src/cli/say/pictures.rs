//! What `pictures` says.

use super::Told as _;
use super::{HEAD, styled};
use std::path::Path;

/// Which files were made, and how to print them.
pub(in crate::cli) fn shown(dir: &Path, names: &[&str]) -> String {
    let out = dir.join("out");
    let mut names = names.to_vec();
    names.sort_unstable();
    let files: String = names
        .into_iter()
        .map(|name| format!("  {}\n", out.join(name).told()))
        .collect();
    format!(
        "{}\n{files}The .pdf files are for the printer, A3 on its side: print them at their true size, or fitted to \
        A4.\n",
        styled(HEAD, "Written")
    )
}
