//! A form, and where a course crosses it.

use crate::units::{Length, S, X};

/// A form's place in [`super::Hull::forms`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct FormId(pub usize);

/// One of the moulds that the boat is planked over.
#[derive(Clone, PartialEq, Debug)]
pub struct Form {
    /// Its name in the files.
    pub name: String,
    /// Its distance from the bow.
    pub at: X,
}

/// Where a course crosses a form.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Crossing {
    /// The form.
    pub form: FormId,
    /// Where on the skin of the course it lies.
    pub at: S,
    /// The girth that the course covers there: less than a strip's width where it narrows.
    pub width: Length,
    /// How far the section turns from this course to the next one; `None` where only girths are known. Unit: degree.
    pub bevel: Option<f64>,
}
