//! The search.
