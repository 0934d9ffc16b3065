//! What is wrong with the job's files, with the disk, or with us.

use super::TellPath as _;
use super::{BAD, look_at_this, many, styled};
use std::path::Path;
use twinstrake::job::Complaint;
use twinstrake::out::Fault;

/// Every complaint on a line of its own.
pub fn complaints(all: &[Complaint]) -> String {
    all.iter()
        .map(|complaint| format!("{complaint}\n"))
        .collect()
}

/// What closes the complaints of `lay`.
pub fn nothing_written(count: usize) -> String {
    let them = if count == 1 { "it" } else { "them" };
    format!(
        "\nThere {} {} to mend before this boat can be planned. Nothing was written. Mend {them}, and try again.\n",
        if count == 1 { "is" } else { "are" },
        many(count, "thing", "things"),
    )
}

/// Every warning on a line of its own, marked as one.
pub fn warnings(all: &[Complaint]) -> String {
    let label = look_at_this();
    all.iter()
        .map(|warning| format!("{label} {warning}\n"))
        .collect()
}

/// A file that could not be written.
pub fn fault(fault: &Fault) -> String {
    format!(
        "{} {fault}\nAn earlier plan, if there was one, is as it was.\n",
        styled(BAD, "No plan was written.")
    )
}

/// A file that could not be written, where no plan was to be written anyway.
pub fn unwritten(fault: &Fault) -> String {
    format!("{} {fault}\n", styled(BAD, "Nothing was written."))
}

/// A plan that was being written when something cut it short, and that can't be written to its end here.
pub fn cut_short(dir: &Path, fault: &Fault) -> String {
    format!(
        "{} the writing of a plan into {} was cut short, so its files belong to two plans; and it can't be brought to \
        its end: {fault}\n\
         Once that is mended, the next lay ends it.\n",
        styled(BAD, "Look at this:"),
        dir.join("out").told()
    )
}

/// A slip of ours.
pub fn bug(what: &str) -> String {
    format!(
        "{} {what}.\nPlease keep the job folder as it is and send it with this message to whoever looks after the \
        program.\n",
        styled(BAD, "This is a bug in twinstrake, not in your job:")
    )
}
