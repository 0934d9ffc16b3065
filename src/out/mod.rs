//! Files of a plan, written whole or not at all.
//!
//! Decides what stands in `out/` and in which words and digits. It must not know how a plan was found, and writes
//! nothing that the clock has a say in: the same plan gives the same bytes. One file here makes one file there; start
//! with `folder`.

mod choices;
mod colours;
mod courses;
mod folder;
mod form_marks;
mod history;
mod laying_order;
mod mark;
mod need;
mod plan_json;
mod printed;
mod rack;
mod sheet;
mod shown;
mod spares;
mod told;

pub use crate::disk::{Fault, write_all, write_whole};
pub use choices::{MOST, choice_folder, made_earlier, offer, offered};
pub use colours::{Seen, colours_csv, picture_of_strip, write_colours};
pub use courses::{bevels_csv, courses_csv, ends_csv, offsets_csv};
pub use folder::{
    DRAWN_LINES, FILES, LAYING_ORDER, LINES_FILES, NEED_FILE, OFFSETS_FILE, begin, can_write,
    finish, write, write_files, write_lines, write_need,
};
pub use form_marks::form_marks_csv;
pub use history::{earlier_laying_order, keep, number_in_force};
pub use laying_order::laying_order;
pub use mark::side_mark;
pub use need::need_csv;
pub use plan_json::{Again, Made, Mill, Short, Total, gap, number, plan_json};
pub use printed::{
    LABELS_PRINTED, OnWood, PrintedLabel, labels_printed, plan_digest, printed_before,
};
pub use rack::{rack_csv, stack_csv};
pub use sheet::sheet;
use sheet::{in_64ths, with_64ths};
pub use shown::{is_shown, plan_sha256};
pub use spares::{Proven, Spare, no_spare, write_spares};
pub use told::{Left, PlanRecord, told, told_earlier};
