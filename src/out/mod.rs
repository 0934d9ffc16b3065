//! Files of a plan, written whole or not at all.
//!
//! Decides what stands in `out/` and in which words and digits. It must not know how a plan was found, and writes nothing
//! that the clock has a say in: the same plan gives the same bytes. One file here makes one file there; start with
//! `folder`.

mod choices;
mod courses;
mod fault;
mod folder;
mod form_marks;
mod laying_order;
mod mark;
mod need;
mod plan_json;
mod printed;
mod sheet;
mod shown;
mod told;
mod whole;

pub use choices::{MOST, Offered, choice_folder, offer, offered};
pub use courses::{bevels_csv, courses_csv, ends_csv};
pub use fault::Fault;
pub use folder::{FILES, LINES_FILES, NEED_FILE, can_write, write, write_lines, write_need};
pub use form_marks::form_marks_csv;
pub use laying_order::laying_order;
pub use mark::side_mark;
pub use need::need_csv;
pub use plan_json::{Input, Made, Total, gap, plan_json};
pub use printed::{
    LABELS_PRINTED, PrintedLabel, labels_printed, plan_digest, printed_before, write_paper,
};
pub use sheet::sheet;
pub use shown::{is_shown, plan_sha256};
pub use told::{Left, Told, told};
pub use whole::{write_all, write_whole};
