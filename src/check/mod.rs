//! The checker: judges a plan from the job and the rows alone.
